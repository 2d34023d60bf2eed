"""The core of a round piece: a skin bent round rings, a stepped cap, and bars where it hangs.

A core that leans too little to be drawn in one piece comes out in three: its ribs, which stringers hold together and
the skin only lies on; the skin, sprung inward at a joint; the cap, whose edge is no higher than its sheet is thick.


The cap lies over the end of the skin and the rib behind it inside the skin, so that the mix finds no straight way in.
Lengths in m.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, inf, pi, radians, sin, sqrt, tau

from formwork.errors import GeometryError
from formwork.geometry.outlines import circle, polygon, rectangle
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.molds.levels import in_proportion, most_of
from formwork.molds.load import spaced
from formwork.molds.mold import Blank, Part, Placement
from formwork.molds.panels.air_hole import AIR_HOLE
from formwork.molds.stacks.layers import Layer
from formwork.molds.wraps.cones import Cone, cones
from formwork.molds.wraps.ring_ribs import laid, ring_disc
from formwork.molds.wraps.skin_covers import covers
from formwork.molds.wraps.skins import Skin, skin_blank, starts, tangent
from formwork.record import record
from formwork.shapes.piece import CurvedFormer, Plug
from formwork.stock.records import SheetStock, StickStock
from formwork.units import show

RIB = 0.06
"""Width of a core's ribs, m: room for screws and for a hand inside (ours)."""
LEAST_DRAFT = radians(2.0)
"""Least lean of a core that is drawn in one piece (common practice, no source)."""
CLEAR = 0.005
"""How far a skin is sprung inward from the concrete to come free of it, m (ours)."""
_LEAST_OPENING = 0.03
_BESIDE = 0.012
_SPRUNG = "bend it round the ribs, plane the ends level; it is not fastened, its joints are taped on the face"


@record
class RoundCore:
    """A core to be built.

    Attributes:
        former: what it forms.
        face: its side, which the mix touches.
        skin: what is bent round it.
        sheet: that its cap and ribs are cut from.
        bay: greatest distance of two ribs, m.
        name: of the piece, for messages.
        asked: ribs between the ends that the person asks for; None where the bay decides.
    """

    former: CurvedFormer
    face: Cone
    skin: Skin
    sheet: SheetStock
    bay: float
    name: str
    asked: int | None = None

    @property
    def hung(self) -> bool:
        """It hangs from bars, its cap below."""
        return self.former.seat == "hung"

    @property
    def draft(self) -> float:
        """Lean of its side from the way it is drawn: above 0 where it comes free at once, rad."""
        return self.face.lean if self.hung else -self.face.lean

    @property
    def apart(self) -> bool:
        """It comes out in ribs, skin and cap."""
        return is_apart(self.former, self.face)

    @property
    def ribs_group(self) -> str:
        """What its ribs and bars come out with."""
        return f"{self.former.name} ribs" if self.apart else self.former.name

    @property
    def skin_group(self) -> str:
        """What its skin comes out with."""
        return f"{self.former.name} skin" if self.apart else self.former.name

    @property
    def cap_group(self) -> str:
        """What its cap comes out with."""
        return f"{self.former.name} cap" if self.apart else self.former.name

    @property
    def groups(self) -> tuple[str, ...]:
        """Everything it comes out in, in that order."""
        return tuple(dict.fromkeys((self.ribs_group, self.skin_group, self.cap_group)))

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
        """Heights of the ribs' lower faces: one behind the cap, two together at the open end, others between.

        Raises:
            GeometryError: where there is no room for as many as the person asks for.
        """
        thick = self.sheet.thickness
        low, high = self.covered
        first, last = (low, high - 2.0 * thick) if self.hung else (low + thick, high - thick)
        between = self._asked(first, last) or spaced(first, last, thick, lambda _: self.bay)
        return (*between, high - thick) if self.hung else (low, *between)

    def _asked(self, first: float, last: float) -> tuple[float, ...]:
        if self.asked is None:
            return ()
        most = most_of(first, last, self.sheet.thickness) - 2
        if self.asked > most:
            raise GeometryError(
                f"{self.name}: mold.core_ribs: got {self.asked}, want at most {max(0, most)}: more find no room in the "
                f"{self.former.name}"
            )
        return in_proportion(first, last, self.sheet.thickness, self.asked + 2, lambda _: self.bay)


def is_apart(former: CurvedFormer, face: Cone) -> bool:
    """Whether a core leans too little to be drawn in one piece."""
    draft = face.lean if former.seat == "hung" else -face.lean
    return -1e-9 <= draft < LEAST_DRAFT - 1e-9


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


def core_parts(core: RoundCore, plugs: Sequence[Plug], stick: StickStock) -> tuple[Part, ...]:
    """Skin, covers of its joints, ribs and cap; stringers where it comes out in parts.

    Args:
        core: the core.
        plugs: of the piece; those on the core stand on its cap.
        stick: for stringers.

    Raises:
        GeometryError: where stringers find no room.
    """
    name = core.former.name
    made = [*_skin(core)]
    thick, inside = core.sheet.thickness, core.inside
    wide = _rib_width(core)
    for number, low in enumerate(core.ribs, start=1):
        made.append(ring_disc(inside, low, wide, core.sheet, f"{name} rib {number}", core.ribs_group))
    if core.apart:
        return (*made, *_stringers(core, stick), _cap(core, plugs))
    bays = [(low + thick, high) for low, high in pairwise(core.ribs) if high - low > thick + 1e-6]
    joints = [*starts(0.0, tau, core.skin.panels)]
    strips = covers(core.skin, inside, bays, joints, out=False)
    for number, (_, _, part) in enumerate(strips, start=1):
        made.append(replace(part, name=f"{name} cover strip {number}", group=name))
    return (*made, _cap(core, plugs))


def _stringers(core: RoundCore, stick: StickStock) -> Iterator[Part]:
    """Two sticks that hold the ribs of a core together, against the edges of their openings."""
    low, high = core.covered
    name, opening = core.former.name, core.inside.narrowest - _rib_width(core)
    if opening < stick.width / 2.0 + stick.thickness:
        raise GeometryError(
            f"{core.name}: the {name} leans less than {show.angle(LEAST_DRAFT)}, so it must come out in parts, and "
            f"its ribs have no room for two sticks of {show.both(stick.thickness)}; give it more draft, or name a "
            "thinner stick"
        )
    far = sqrt(opening**2 - (stick.width / 2.0) ** 2)
    for number, way in enumerate((-1.0, 1.0), start=1):
        ends = sorted((way * far, way * (far - stick.thickness)))
        corners = rectangle((ends[0], -stick.width / 2.0), (ends[1], stick.width / 2.0))
        blank = Blank(
            high - low,
            stick.width,
            stick.thickness,
            rectangle((0.0, 0.0), (high - low, stick.width)).points,
            (0.0,) * 4,
        )
        yield Part(
            name=f"{name} stringer {number}",
            role="core rib",
            kind="stick",
            stock=stick.name,
            group=core.ribs_group,
            cells=(),
            blank=blank,
            placement=Placement(
                (way * far, -way * stick.width / 2.0, low), (0.0, 0.0, 1.0), (0.0, way, 0.0), (-way, 0.0, 0.0)
            ),
            prisms=(Prism(corners, high - low, (0.0, 0.0, low)),),
        )


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
            group=core.skin_group,
            cells=(),
            blank=blank,
            placement=tangent(face, blank, start + sweep / 2.0, skin.upright, out=False),
            good_face="outline",
            work=_SPRUNG if core.apart else "bend it round the ribs; plane the ends level once it is fast",
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
        group=core.cap_group,
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
