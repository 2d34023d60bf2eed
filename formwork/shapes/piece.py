"""The piece as cast: an envelope, the formers that take volume out of it, and what is cast in; frames of pipe.

Frame of reference: as cast, z up, the base of the mold at z = 0, the fill plane level. All lengths in m.
"""

from __future__ import annotations

from typing import Literal

from formwork.errors import GeometryError
from formwork.geometry.meridians import Meridian
from formwork.geometry.planes import HalfSpace
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.record import record

Role = Literal["panel", "base", "fill"]
"""What holds the mix at a face of the envelope: a panel, the base, or nothing (the fill plane, struck off)."""

FormerKind = Literal["core", "strip", "board", "liner", "divider"]
Build = Literal["box", "solid"]
Seat = Literal["base", "hung", "panel", "former"]
View = Literal["top", "front", "side"]


@record
class Face:
    """A face of the envelope: its name, what holds it, and the half-space behind it (the piece's side)."""

    name: str
    role: Role
    half: HalfSpace


@record
class Former:
    """A convex body inside the envelope that the mix flows round.

    Attributes:
        name: what a carpenter calls it, "core", "chamfer strip front left".
        kind: core, strip (chamfer or groove), board (beside a tongue, between feet), liner (under a rim), divider.
        halves: the half-spaces that bound it; sides shared with the envelope are the envelope's own planes.
        build: box (made of panels, hollow inside) or solid (stick or laminated sheet).
        seat: what it is fastened to: the base, bars hung across the top, a panel, or another former.
        on: name of the panel face or former it is fastened to; empty for the base and for bars.
        lead: the face of it that shapes the piece, for a strip or a board; None for a core.
    """

    name: str
    kind: FormerKind
    halves: tuple[HalfSpace, ...]
    build: Build
    seat: Seat
    on: str = ""
    lead: HalfSpace | None = None


@record
class Plug:
    """A round former through the piece: it leaves a drain hole or a sleeve's way."""

    name: str
    body: Round
    seat: Seat
    on: str = ""


@record
class Measure:
    """A dimension worth drawing: the distance between two points of the piece, in the view where it reads best."""

    name: str
    view: View
    start: Vec
    end: Vec


@record
class Embedded:
    """A thing that stays in the piece: bar, mesh, fibres, lifting loop, sleeve.

    Attributes:
        name: what it is and what it is for.
        kind: bar, mesh, fibres, loop, sleeve.
        item: what to buy, in trade words.
        count: how many in one piece.
        length: cut length of each, m; 0 where it has none (fibres).
        width: cut width, m; 0 where it has none.
        diameter: bar or wire diameter, m; 0 where it has none.
        volume: volume all of them displace in one piece, m3.
        mass: mass of all of them in one piece, kg.
        cover: least cover to any face, m.
        spacers: how many spacers (chairs) hold it off the mold.
        metal: bare steel, which porous low-density concrete does not protect.
        pitch: of a mesh, from wire to wire, m; 0 where it has none.
        material: what it is made of, as far as the project says; empty where it says nothing of that.
        lies: which way it lies: length, width or height; flat of mesh that lies on its face; empty of all else.
        walls: over how many walls of the piece all of them are shared out.
        spread: over which bars are shared out square to their way, m; 0 of all else.
    """

    name: str
    kind: Literal["bar", "mesh", "fibres", "loop", "sleeve"]
    item: str
    count: int
    length: float
    width: float
    diameter: float
    volume: float
    mass: float
    cover: float
    spacers: int
    metal: bool
    pitch: float = 0.0
    material: str = ""
    lies: str = ""
    walls: int = 1
    spread: float = 0.0


@record
class Planar:
    """A form that plane faces bound: a convex envelope and the convex formers in it.

    Attributes:
        faces: the envelope's faces, in order round the piece, base and fill last.
        formers: convex bodies taken out of the envelope; they may overlap one another.
    """

    faces: tuple[Face, ...]
    formers: tuple[Former, ...]

    @property
    def fill(self) -> float:
        """Height of the fill plane, m."""
        return next(face.half.offset for face in self.faces if face.role == "fill")

    def face(self, name: str) -> Face:
        """The envelope face of that name.

        Raises:
            KeyError: if there is none.
        """
        for face in self.faces:
            if face.name == name:
                return face
        raise KeyError(name)


@record
class CurvedFormer:
    """A former of a curved form.

    Attributes:
        name: what a carpenter calls it.
        kind: as of a former of a planar form.
        body: the space it fills.
        build: box (a skin on ribs, or a tube; hollow inside) or solid.
        seat: what it is fastened to.
        on: name of the former it is fastened to; empty for the base and for bars.
        takes: concrete it takes out of the piece, m3; None where that is its own volume.
    """

    name: str
    kind: FormerKind
    body: Turned | Prism
    build: Build
    seat: Seat
    on: str = ""
    takes: float | None = None

    @property
    def taken(self) -> float:
        """Concrete it takes out of the piece, m3."""
        return self.body.volume() if self.takes is None else self.takes


@record
class Shell:
    """A dome of one thickness, for molds that are built to its meridian.

    Attributes:
        inside: the meridian of its inside, springing at z = 0 where that is level.
        thickness: square to the inside, m.
        radial: the springing is cut along the normal; else level, at z = 0.
        oculus: radius of the upright hole in its crown, m; 0 where there is none.
        placed: fluid mix between two forms, or stiff mix built up by hand on the inner one.
    """

    inside: Meridian
    thickness: float
    radial: bool
    oculus: float
    placed: Literal["fluid", "stiff"]


@record
class Curved:
    """A form that is turned about an upright axis, or an outline with a height.

    Attributes:
        outside: the envelope.
        formers: bodies taken out of it; no two of them share space inside it.
        fill: height of the fill plane, m.
        shell: of a dome, what its mold is built to; None for everything else.
    """

    outside: Turned | Prism
    formers: tuple[CurvedFormer, ...]
    fill: float
    shell: Shell | None = None


Form = Planar | Curved
"""The geometry of a piece: what encloses it, and what is taken out."""


@record
class Piece:
    """What is cast, as it lies in the mold.

    Attributes:
        name: the project's name for it.
        shape: name of the shape that made it.
        form: its geometry, round holes not taken out.
        plugs: round holes.
        pour_points: one point inside each cavity, well away from every face, where mix is poured.
        turned_over: in use the piece stands the other way up than it was cast.
        measures: dimensions to draw.
        embedded: what stays in it.
        notes: what a reader must know of how its sizes are meant ("wall: square to the outside face").
        cavities: how many equal pieces one filling gives (more than one for a gang).
        holds_soil: in use its hollow is filled with soil.
    """

    name: str
    shape: str
    form: Form
    plugs: tuple[Plug, ...]
    pour_points: tuple[Vec, ...]
    turned_over: bool
    measures: tuple[Measure, ...]
    embedded: tuple[Embedded, ...] = ()
    notes: tuple[str, ...] = ()
    cavities: int = 1
    holds_soil: bool = False


def planar(piece: Piece) -> Planar:
    """The form of a piece that plane faces bound.

    Raises:
        GeometryError: where it is curved.
    """
    if isinstance(piece.form, Planar):
        return piece.form
    raise GeometryError(
        f"{piece.name}: a {piece.shape} has curved sides, and this way of building takes flat ones"
    )


def curved(piece: Piece) -> Curved:
    """The form of a piece that is turned or an outline.

    Raises:
        GeometryError: where it is bounded by plane faces.
    """
    if isinstance(piece.form, Curved):
        return piece.form
    raise GeometryError(
        f"{piece.name}: a {piece.shape} has flat sides, and this way of building takes curved ones"
    )


@record
class Lot:
    """One of the different pieces a shape is made of, and how many of it make one of the shape.

    Attributes:
        piece: as it lies in the mold.
        each: how many go into one of the shape: 1 for a planter, many for the blocks of a wall.
    """

    piece: Piece
    each: int = 1


@record
class Centre:
    """What the stones of an arch are laid on until the last one is in: built and struck, not cast.

    Attributes:
        name: what the project calls it.
        shape: name of the shape that made it.
        soffit: distance from the arch's centre to the middle of each flat soffit, m.
        turn: of one stone with its joint, rad.
        stones: how many.
        bearing: width of a stone at its soffit, m.
        breadth: of the arch through the wall, m.
        volume: of one stone, m3.
    """

    name: str
    shape: str
    soffit: float
    turn: float
    stones: int
    bearing: float
    breadth: float
    volume: float


@record
class Member:
    """Equal pipes of a frame, flattened and bolted at both ends.

    Attributes:
        name: class letter, "A" for the shortest.
        length: along the pipe's centre line from bolt hole to bolt hole, m.
        joins: the pairs of nodes they join, one pair for each pipe.
        bend: angle of each flattened end from the pipe's own line, rad.
        beyond: from a bolt hole to the pipe's end, m.
        flat: length of each flattened end, m.
    """

    name: str
    length: float
    joins: tuple[tuple[int, int], ...]
    bend: float
    beyond: float
    flat: float

    @property
    def cut(self) -> float:
        """Length to cut, m."""
        return self.length + 2.0 * self.beyond


@record
class Bent:
    """Equal lines of pipe, each bent to one radius.

    Attributes:
        name: class letter.
        kind: a rib stands up, a hoop lies level and closes.
        radius: of the pipe's centre line, m.
        sweep: angle it is bent through, rad.
        lines: points along the centre line of each, m, close enough together to draw.
        tail: straight pipe that the bender needs before and after each bend and that comes off afterwards, m.
        marks: where other pipes cross it, along the centre line from its first point, m.
    """

    name: str
    kind: Literal["rib", "hoop"]
    radius: float
    sweep: float
    lines: tuple[tuple[Vec, ...], ...]
    tail: float
    marks: tuple[float, ...] = ()

    @property
    def length(self) -> float:
        """Along the centre line, m."""
        return self.radius * self.sweep


@record
class Hub:
    """Equal nodes of a frame: what they are called, how many pipes meet in each, how many there are."""

    name: str
    ways: int
    count: int


@record
class Frame:
    """What is built of pipe and not cast.

    Attributes:
        name: the project's name for it.
        shape: name of the shape that made it.
        pipe: name of the stock it is built of; empty where the shop's first pipe will do.
        nodes: where pipes meet: z up, the lowest at z = 0, m.
        members: the straight pipes, class by class.
        hubs: the nodes, kind by kind.
        base: the nodes that stand on the ground.
        closest: smallest angle between two straight pipes that meet, rad.
        notes: what a reader must know of how its sizes are meant.
        bent: the bent pipes, class by class; a frame has either these or straight ones.
        crown: radius of the ring that the ribs end on, m; 0 where there is none.
    """

    name: str
    shape: str
    pipe: str
    nodes: tuple[Vec, ...]
    members: tuple[Member, ...]
    hubs: tuple[Hub, ...]
    base: tuple[int, ...]
    closest: float
    notes: tuple[str, ...] = ()
    bent: tuple[Bent, ...] = ()
    crown: float = 0.0
