"""The core of a round piece: a skin bent round rings, a stepped cap, and bars where it hangs.

The cap lies over the end of the skin and the rib behind it inside the skin, so that the mix finds no straight way in.
Lengths in m.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, inf, pi, sin, sqrt, tau

from formwork.errors import GeometryError
from formwork.geometry.outlines import circle, polygon, rectangle
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.molds.air_hole import AIR_HOLE
from formwork.molds.layers import Layer
from formwork.molds.load import spaced
from formwork.molds.mold import Blank, Part, Placement
from formwork.molds.ring_ribs import covers, laid, ring_disc
from formwork.molds.skins import Cone, Skin, cones, skin_blank, starts, tangent
from formwork.record import record
from formwork.shapes.piece import CurvedFormer, Plug
from formwork.stock.records import SheetStock, StickStock
from formwork.units import show

RIB = 0.06
"""Width of a core's ribs, m: room for screws and for a hand inside (ours)."""
_LEAST_OPENING = 0.03
_BESIDE = 0.012


@record
class RoundCore:
    """A core to be built.

    Attributes:
        former: what it forms.
        face: its side, which the mix touches.
        skin: what is bent round it.
        sheet: that its cap and ribs are cut from.
        bay: greatest distance of two ribs, m.
    """

    former: CurvedFormer
    face: Cone
    skin: Skin
    sheet: SheetStock
    bay: float

    @property
    def hung(self) -> bool:
        """It hangs from bars, its cap below."""
        return self.former.seat == "hung"

    @property
    def inside(self) -> Cone:
        """Inner face of its skin."""
        return self.face.moved(-self.skin.sheet.thickness)

    @property
    def cap(self) -> tuple[float, float]:
        """Heights of the cap's lower and upper face."""
        if self.hung:
            return self.face.foot[1], self.face.foot[1] + self.sheet.thickness
        return self.face.head[1] - self.sheet.thickness, self.face.head[1]

    @property
    def covered(self) -> tuple[float, float]:
        """Heights between which the skin stands."""
        low, high = self.cap
        return (high, self.face.head[1]) if self.hung else (self.face.foot[1], low)

    @property
    def ribs(self) -> tuple[float, ...]:
        """Heights of the ribs' lower faces: one behind the cap, two together at the open end, others between."""
        thick = self.sheet.thickness
        low, high = self.covered
        first, last = (low, high - 2.0 * thick) if self.hung else (low + thick, high - thick)
        between = spaced(first, last, thick, lambda _: self.bay)
        return (*between, high - thick) if self.hung else (low, *between)


def core_side(former: CurvedFormer, name: str, thickness: float) -> Cone:
    """The side of a core.

    Raises:
        GeometryError: where it is no single cylinder or cone, or too low for its cap and ribs.
    """
    if not isinstance(former.body, Turned):
        raise GeometryError(f"{name}: the {former.name} is not round; a bent skin needs a round one")
    found = cones(former.body, name)
    if len(found) != 1:
        raise GeometryError(f"{name}: the side of the {former.name} has a kink; one skin bends to one cone")
    if found[0].height < 4.0 * thickness:
        raise GeometryError(
            f"{name}: the {former.name} is {show.both(found[0].height)} high; cap and ribs of {show.both(thickness)} "
            f"need at least {show.both(4.0 * thickness)}"
        )
    return found[0]


def core_parts(core: RoundCore, plugs: Sequence[Plug]) -> tuple[Part, ...]:
    """Skin, covers of its joints, ribs and cap."""
    name = core.former.name
    made = [*_skin(core)]
    thick, inside = core.sheet.thickness, core.inside
    wide = _rib_width(core)
    for number, low in enumerate(core.ribs, start=1):
        made.append(ring_disc(inside, low, wide, core.sheet, f"{name} rib {number}", name))
    bays = [(low + thick, high) for low, high in pairwise(core.ribs) if high - low > thick + 1e-6]
    joints = [*starts(0.0, tau, core.skin.panels)]
    strips = covers(core.skin, inside, bays, joints, out=False)
    for number, (_, _, part) in enumerate(strips, start=1):
        made.append(replace(part, name=f"{name} cover strip {number}", group=name))
    return (*made, _cap(core, plugs))


def _rib_width(core: RoundCore) -> float:
    """Width of the ribs; so wide that nothing is left open where an opening would be too small for a hand's fingers."""
    narrowest = core.inside.narrowest
    return RIB if narrowest - RIB >= _LEAST_OPENING else inf


def _skin(core: RoundCore) -> Iterator[Part]:
    low, high = core.covered
    face, skin, name = core.face.between(low, high), core.skin, core.former.name
    sweep = tau / skin.panels
    lies = face.moved(-skin.sheet.thickness / 2.0)
    for number, start in enumerate(starts(0.0, tau, skin.panels), start=1):
        blank = skin_blank(skin, lies, sweep)
        yield Part(
            name=f"{name} skin" if skin.panels == 1 else f"{name} skin, panel {number}",
            role="skin",
            kind="panel",
            stock=skin.sheet.name,
            group=name,
            cells=(),
            blank=blank,
            placement=tangent(face, blank, start + sweep / 2.0, skin.upright, out=False),
            good_face="outline",
            work="bend it round the ribs; plane the ends level once it is fast",
            turned=(Turned(face.layer(-skin.sheet.thickness), (0.0, 0.0), start, sweep),),
        )


def _cap(core: RoundCore, plugs: Sequence[Plug]) -> Part:
    low, high = core.cap
    layer = Layer(low, high, core.face.radius(low), core.face.radius(high))
    plan = circle((0.0, 0.0), layer.greatest)
    blank, placement = laid(
        plan, pi / 2.0, (abs(layer.lean),) * 4, (low, high), layer.head > layer.foot, core.sheet.thickness
    )
    place = _air_hole(core, plugs)
    holes: tuple[Round, ...] = ()
    if place is not None:
        holes = (Round((*place, low), (0.0, 0.0, 1.0), high - low, AIR_HOLE / 2.0, AIR_HOLE / 2.0),)
        middle = layer.greatest
        way = placement.along[0]
        blank = replace(blank, holes=((middle + way * place[0], middle + place[1], AIR_HOLE),))
    corners = ((0.0, low), (layer.foot, low), (layer.head, high), (0.0, high))
    return Part(
        name=f"{core.former.name} cap",
        role="core cap",
        kind="panel",
        stock=core.sheet.name,
        group=core.former.name,
        cells=(),
        blank=blank,
        placement=placement,
        holes=holes,
        good_face="any",
        turned=(Turned(polygon(corners)),),
    )


def _air_hole(core: RoundCore, plugs: Sequence[Plug]) -> tuple[float, float] | None:
    """Where the plugged hole has most room inside the rib's opening, away from the drain plugs; None where none has."""
    opening = core.inside.narrowest - _rib_width(core)
    reach = opening - AIR_HOLE / 2.0 - _BESIDE
    if reach < 0.0:
        return None
    tried = [
        (share * reach * cos(turn * pi / 12.0 + 0.1), share * reach * sin(turn * pi / 12.0 + 0.1))
        for share in (0.5, 0.75, 1.0)
        for turn in range(24)
    ]

    def clear(place: tuple[float, float]) -> float:
        return min(
            (
                hypot(place[0] - plug.body.foot[0], place[1] - plug.body.foot[1])
                - max(plug.body.foot_radius, plug.body.head_radius)
                for plug in plugs
            ),
            default=1.0,
        )

    best = max(tried, key=lambda place: round(clear(place), 9))
    return best if clear(best) >= AIR_HOLE / 2.0 + _BESIDE else None


def bars(core: RoundCore, stick: StickStock, outer: float, fill: float) -> tuple[Part, ...]:
    """Two bars over a hung core, lying flat from ring to ring across its ribs.

    Args:
        core: the core.
        stick: that they are cut from.
        outer: outer radius of the mold's upper ring.
        fill: height of the fill plane.
    """
    off = bar_place(core)
    half = sqrt(outer**2 - off**2)
    made = []
    for number, y in enumerate((-off, off), start=1):
        corners = rectangle((-half, y - stick.width / 2.0), (half, y + stick.width / 2.0))
        blank = Blank(
            2.0 * half,
            stick.width,
            stick.thickness,
            rectangle((0.0, 0.0), (2.0 * half, stick.width)).points,
            (0.0,) * 4,
        )
        made.append(
            Part(
                name=f"{core.former.name} bar {number}",
                role="bar",
                kind="stick",
                stock=stick.name,
                group=core.former.name,
                cells=(),
                blank=blank,
                placement=Placement(
                    (-half, y - stick.width / 2.0, fill + stick.thickness),
                    (1.0, 0.0, 0.0),
                    (0.0, 1.0, 0.0),
                    (0.0, 0.0, -1.0),
                ),
                prisms=(Prism(corners, stick.thickness, (0.0, 0.0, fill)),),
            )
        )
    return tuple(made)


def bar_place(core: RoundCore) -> float:
    """How far the middle of a bar lies from the axis."""
    return core.inside.head[0] / 2.0


def bar_ends(core: RoundCore, ring: float) -> tuple[float, float]:
    """Half the span of a bar between the middles of the upper ring, and how far from there the core pulls at it.

    Args:
        core: the core.
        ring: radius of the middle of the mold's upper ring.
    """
    off = bar_place(core)
    middle = core.inside.head[0] - min(RIB, core.inside.head[0]) / 2.0
    half, pull = sqrt(ring**2 - off**2), sqrt(max(0.0, middle**2 - off**2))
    return half, half - pull
