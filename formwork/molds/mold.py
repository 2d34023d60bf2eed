"""The mold as built: parts placed in space, what fastens them, what is bought by the piece.

All lengths in m, angles in rad. Parts share the piece's frame: as cast, z up, base of the cavity at z = 0.
"""

from __future__ import annotations

from typing import Literal

from formwork.geometry.cells import Cell
from formwork.geometry.outlines import Outline, Point
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.record import record
from formwork.shapes.piece import Piece

PartKind = Literal["panel", "stick", "pipe", "hardware"]
PartRole = Literal[
    "panel",
    "base",
    "core wall",
    "core cap",
    "core rib",
    "rail",
    "cleat",
    "bar",
    "strip",
    "board",
    "liner",
    "divider",
    "plug",
    "embedded",
    "strut",
    "skin",
    "ring",
    "rib",
    "tube",
    "tie",
    "batten",
    "template",
]


@record
class Blank:
    """What the saw must make of one part.

    Attributes:
        length: along the grain (a stick: along the stick), long points of bevels included.
        width: across it (a stick: the section's greater side as used, after ripping).
        thickness: of the sheet, or the section's lesser side.
        outline: the larger face in its own plane, counter-clockwise seen from that face, grain along x; the blank's
            own lower left corner is the origin, so that every point of the part lies at x and y of 0 or more.
        bevels: for each outline edge k to k + 1, the edge's angle from square; positive where the far face is the
            smaller one (the edge leans inward going away from the outline face).
        holes: round holes through it: x, y, diameter.
        wall: of a pipe, whose width and thickness are its outside diameter; 0 for what is solid.
        bulges: for each outline edge, that of ``geometry.outlines``; empty where all of them are straight.
        openings: what else is cut out of the inside of it, in the same frame, square through.
    """

    length: float
    width: float
    thickness: float
    outline: tuple[Point, ...]
    bevels: tuple[float, ...]
    holes: tuple[tuple[float, float, float], ...] = ()
    wall: float = 0.0
    bulges: tuple[float, ...] = ()
    openings: tuple[Outline, ...] = ()

    @property
    def edge(self) -> Outline:
        """Its outline with its arcs."""
        return Outline(self.outline, self.bulges or (0.0,) * len(self.outline))


@record
class Placement:
    """Where a blank's own frame stands in the mold: ``origin + x * along + y * across + depth * into``.

    The outline face lies at depth 0; the part's thickness goes along ``into``.
    """

    origin: Vec
    along: Vec
    across: Vec
    into: Vec


@record
class Part:
    """One thing cut for the mold.

    Attributes:
        name: what a carpenter calls it, unique in its mold ("front panel").
        role: what it does in the mold.
        kind: cut from a sheet, a stick or a pipe, or bought ready (hardware).
        stock: name of the sheet or stick it is cut from.
        group: parts of one group come off together when the mold is stripped.
        cells: the space it fills.
        rounds: round parts of it (a plug); it fills these besides its cells.
        holes: round holes through it, taken out of its cells.
        turned: bodies turned about an upright axis that it fills besides.
        prisms: bodies with an outline that it fills besides.
        blank: what to cut.
        placement: where the blank stands in the mold.
        good_face: which side of it must be clean: "outline", "far", "both" or "any".
        layers: how many equal layers of the stock are glued up to make it (1 for a plain panel).
        work: what else is done to it at the bench, in words; empty where nothing is.
        spent: every filling takes a new one: it is cut away, or stays in the piece.
    """

    name: str
    role: PartRole
    kind: PartKind
    stock: str
    group: str
    cells: tuple[Cell, ...]
    blank: Blank
    placement: Placement
    rounds: tuple[Round, ...] = ()
    holes: tuple[Round, ...] = ()
    good_face: Literal["outline", "far", "both", "any"] = "any"
    layers: int = 1
    work: str = ""
    turned: tuple[Turned, ...] = ()
    prisms: tuple[Prism, ...] = ()
    spent: bool = False


@record
class Hardware:
    """A thing bought by the piece: what, which size, how many for one mold, and what each joins."""

    item: str
    size: str
    quantity: float
    unit: str
    use: str


@record
class Fixing:
    """The screws, bolts or pins of one kind of joint in one mold.

    Attributes:
        use: what they join, and from where ("lowest rails to base").
        item: screw, bolt or pin.
        size: as printed on the box; empty for pins.
        count: how many in one mold.
        places: at how many equal places they are shared out (four corners, eight rails).
        comes_off: they are undone at every filling.
    """

    use: str
    item: str
    size: str
    count: int
    places: int
    comes_off: bool


@record
class Strip:
    """One step of taking the mold off: the group that leaves, the way it goes, and the least draft on that way."""

    group: str
    way: Vec
    draft: float
    note: str = ""


@record
class Limits:
    """What a mold was built for, as it stands on its label.

    Attributes:
        density: of the heaviest mix.
        height: how high it may be filled, and in what lifts.
        rate: how fast.
        head: what it was braced for.
    """

    density: str
    height: str
    rate: str
    head: str


@record
class AssemblyStep:
    """One step of putting a mold together.

    Attributes:
        text: what to do.
        parts: names of the parts that it puts in their place.
        bench: it is done once, at the bench; the others at every filling.
    """

    text: str
    parts: tuple[str, ...] = ()
    bench: bool = False


@record
class Mold:
    """A mold as designed.

    Attributes:
        name: the piece's name, with " mold".
        method: how it is built ("panelled").
        piece: what it casts, as cast (a gang's piece has several cavities).
        planes: the register that the parts' cells refer to.
        parts: everything cut.
        hardware: everything bought by the piece, for one mold.
        cavity: volume the parts enclose up to the fill plane, m3, computed from the parts alone.
        nominal: volume of the piece(s) to be cast in one filling, m3.
        stripping: the order in which the groups leave.
        locked: groups that cannot leave, each with what would free it.
        wetted: area the mix touches, which takes release agent, m2.
        seams: length of seam to seal, m.
        uses: how many fillings it is built for.
        owned: the shop has it already: nothing is cut or bought for it.
        copies: how many of it are built.
        instructions: where to pour, where the air leaves, what holds the core, how to clean it.
        fixings: where its screws, bolts and pins go; none of a mold the shop owns.
        mass: of its parts put together, hardware left out, kg.
        under: mass of those that leave downward, base and standing cores, kg: what a piece is turned over with.
        setting_out: what is drawn on the base before anything is fastened to it, seen from above: the outline, then
            the holes in it; nothing where the parts themselves show where they go.
        steps: how it is put together, the instructions' numbered lines among them with the parts that they put in
            place.
        lifts: into how many equal lifts a filling is parted, each set before the next goes on.
        limits: what stands on its label.
    """

    name: str
    method: str
    piece: Piece
    planes: Planes
    parts: tuple[Part, ...]
    hardware: tuple[Hardware, ...]
    cavity: float
    nominal: float
    stripping: tuple[Strip, ...]
    locked: tuple[tuple[str, str], ...]
    wetted: float
    seams: float
    uses: int
    owned: bool
    copies: int
    instructions: tuple[str, ...]
    fixings: tuple[Fixing, ...] = ()
    mass: float = 0.0
    under: float = 0.0
    setting_out: tuple[Outline, ...] = ()
    steps: tuple[AssemblyStep, ...] = ()
    lifts: int = 1
    limits: Limits | None = None

    @property
    def lift_tops(self) -> tuple[float, ...]:
        """Heights above the base to which the mold is filled before the mix is left to set, m; the last is left out."""
        return tuple(self.piece.form.fill * number / self.lifts for number in range(1, self.lifts))
