"""What holds a bent skin round: half rings outside it in two layers with staggered joints, battens along its seams.

The mold parts along the plane through the axis and the length (y = 0) into two shells. Everything is laid out for the
shell behind that plane, where y is above 0; the other one is the same, turned half round. Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import asin, cos, pi, sin, tan

from formwork.errors import StockError
from formwork.geometry.outlines import Outline, Point, box, circle, mirrored, polygon, shifted, turned_by
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Blank, Part, Placement
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.skins import Skin, skin_blank, starts, tangent
from formwork.record import record
from formwork.stock.records import Saw, SheetStock, StickStock

BACK, FRONT = "back shell", "front shell"
SHELLS = (BACK, FRONT)
BEYOND = 0.015
"""How far a ring stands out beyond the battens, so that a strap bears on it, m (ours)."""
_MOST_SEGMENTS = 12
_LEAST_RING = 0.06
_SQUARE = 1e-9


@record
class Rib:
    """One layer of a ring: its two faces, the radii of its hollow edge at both, and of its outer edge."""

    low: float
    high: float
    foot: float
    head: float
    outer: float

    @property
    def thickness(self) -> float:
        """Of the layer."""
        return self.high - self.low

    @property
    def least(self) -> float:
        """Radius of the hollow edge where it is narrower."""
        return min(self.foot, self.head)


@record
class Batten:
    """The stick along a seam: across the parting plane, and out from the skin, m."""

    stick: StickStock
    thick: float
    deep: float


def ribs(
    side: Cone, heights: Sequence[float], thickness: float, batten: Batten
) -> tuple[tuple[Rib, Rib], ...]:
    """Both layers of each ring on the outside of a skin.

    Args:
        side: outer face of the skin.
        heights: of the rings' middles.
        thickness: of the sheet.
        batten: that the rings reach beyond.
    """
    made = []
    for middle in heights:
        low, high = middle - thickness, middle + thickness
        reach = max(side.radius(low), side.radius(high))
        outer = reach + max(_LEAST_RING, batten.deep / cos(side.lean) + BEYOND)
        made.append(
            (
                Rib(low, middle, side.radius(low), side.radius(middle), outer),
                Rib(middle, high, side.radius(middle), side.radius(high), outer),
            )
        )
    return tuple(made)


def segments_of(rib: Rib, thick: float, sheet: SheetStock, saw: Saw, name: str) -> int:
    """In how many segments to cut half a ring so that one of them fits the sheet.

    Raises:
        StockError: where not even a short one does.
    """
    for count in range(1, _MOST_SEGMENTS + 1):
        blanks = [_blank(rib, one, thick, sheet)[0] for one in _cuts(count)]
        if all(_fits(blank, sheet, saw) for blank in blanks):
            return count
    raise StockError(f"{name}: a ring of {2.0 * rib.outer:.2f} m across finds no room on {sheet.name}")


def _fits(blank: Blank, sheet: SheetStock, saw: Saw) -> bool:
    return (
        blank.length <= sheet.length - 2.0 * saw.trim + 1e-9
        and blank.width <= sheet.width - 2.0 * saw.trim + 1e-9
    )


Cut = tuple[float, float]
"""Directions in which a segment of the back shell's half ring begins and ends: 0 and pi are the battens."""


def _cuts(count: int) -> tuple[Cut, ...]:
    return tuple((pi * k / count, pi * (k + 1) / count) for k in range(count))


def layer_parts(rib: Rib, cuts: int, thick: float, sheet: SheetStock, name: str) -> Iterator[Part]:
    """The segments of one layer of the back shell's half ring."""
    for number, cut in enumerate(_cuts(cuts), start=1):
        blank, placement = _blank(rib, cut, thick, sheet)
        foot, head = _plan(rib.foot, rib.outer, cut, thick), _plan(rib.head, rib.outer, cut, thick)
        square = abs(rib.foot - rib.head) < _SQUARE
        yield Part(
            name=name if cuts == 1 else f"{name}, segment {number}",
            role="ring",
            kind="panel",
            stock=sheet.name,
            group=BACK,
            cells=(),
            blank=blank,
            placement=placement,
            prisms=(Prism(foot, rib.thickness, (0.0, 0.0, rib.low), head=None if square else head),),
        )


def _plan(inner: float, outer: float, cut: Cut, thick: float) -> Outline:
    """A segment seen from above; where it meets a batten its end lies along that, else it is radial."""

    def ends(radius: float) -> tuple[float, float]:
        beside = asin(thick / radius)
        first, last = cut
        return (beside if first < _SQUARE else first), (pi - beside if last > pi - _SQUARE else last)

    (i0, i1), (o0, o1) = ends(inner), ends(outer)
    points = (_polar(inner, i0), _polar(outer, o0), _polar(outer, o1), _polar(inner, i1))
    return Outline(points, (0.0, tan((o1 - o0) / 4.0), 0.0, -tan((i1 - i0) / 4.0)))


def _polar(radius: float, angle: float) -> Point:
    return (radius * cos(angle), radius * sin(angle))


def _blank(rib: Rib, cut: Cut, thick: float, sheet: SheetStock) -> tuple[Blank, Placement]:
    """What to cut for a segment, its chord along the grain; drawn on its larger face, the hollow edge bevelled."""
    upward = rib.foot > rib.head
    plan = _plan(rib.least, rib.outer, cut, thick)
    middle = (cut[0] + cut[1]) / 2.0
    lean = abs(rib.head - rib.foot) / rib.thickness
    bevel = asin(lean / (1.0 + lean * lean) ** 0.5)
    return laid(plan, middle, (0.0, 0.0, 0.0, bevel), (rib.low, rib.high), upward, sheet.thickness)


def laid(
    plan: Outline,
    middle: float,
    bevels: tuple[float, ...],
    faces: tuple[float, float],
    upward: bool,
    thickness: float,
    openings: tuple[Outline, ...] = (),
) -> tuple[Blank, Placement]:
    """A level part as a blank: its direction ``middle`` across the grain, drawn on its upper or lower face.

    Args:
        plan: seen from above, about the axis.
        middle: direction that comes to lie across the grain.
        bevels: of the plan's legs.
        faces: heights of its lower and upper face.
        upward: it is drawn on the upper face.
        thickness: of the sheet.
        openings: in it, seen from above.
    """
    turn = pi / 2.0 - middle
    flat, inside = turned_by(plan, turn), [turned_by(one, turn) for one in openings]
    tangent_way, radial = (sin(middle), -cos(middle)), (cos(middle), sin(middle))
    if not upward:
        flat, inside = mirrored(flat), [mirrored(one) for one in inside]
        bevels, tangent_way = bevels[::-1], (-tangent_way[0], -tangent_way[1])
    (x, y), (far, wide) = box(flat)
    moved = shifted(flat, (-x, -y))
    corner = (tangent_way[0] * x + radial[0] * y, tangent_way[1] * x + radial[1] * y)
    blank = Blank(
        far - x,
        wide - y,
        thickness,
        moved.points,
        bevels,
        bulges=moved.bulges if any(moved.bulges) else (),
        openings=tuple(shifted(one, (-x, -y)) for one in inside),
    )
    z, into = (faces[1], -1.0) if upward else (faces[0], 1.0)
    return blank, Placement((*corner, z), (*tangent_way, 0.0), (*radial, 0.0), (0.0, 0.0, into))


def battens(side: Cone, batten: Batten, name: str) -> tuple[Part, Part]:
    """The two battens of the back shell that stand against the parting plane, one at either end of its skin."""
    return _batten(side, batten, 1.0, f"{name}, right"), _batten(side, batten, -1.0, f"{name}, left")


def _batten(side: Cone, batten: Batten, way: float, name: str) -> Part:
    lean = side.lean
    slant, shift = side.slant, batten.deep * tan(lean)
    corners = ((0.0, 0.0), (slant, 0.0), (slant + shift, batten.deep), (shift, batten.deep))
    least = min(0.0, shift)
    outline = tuple((x - least, y) for x, y in corners)
    up: Vec = (way * sin(lean), 0.0, cos(lean))
    off: Vec = (way * cos(lean), 0.0, -sin(lean))
    face = batten.thick if way > 0.0 else 0.0
    foot: Vec = (way * side.foot[0], face, side.foot[1])
    corner = (foot[0] + least * up[0], face, foot[2] + least * up[2])
    blank = Blank(slant + abs(shift), batten.deep, batten.thick, outline, (0.0,) * 4)
    into: Vec = (0.0, -way, 0.0)
    back = batten.thick if way < 0.0 else 0.0
    return Part(
        name=name,
        role="cleat",
        kind="stick",
        stock=batten.stick.name,
        group=BACK,
        cells=(),
        blank=blank,
        placement=Placement(corner, up, off, into),
        prisms=(Prism(polygon(outline), batten.thick, (corner[0], back, corner[2]), up, off),),
    )


def shell_skin(skin: Skin, face: Cone, name: str) -> Iterator[Part]:
    """The panels of the back shell's skin; ``face`` is the piece's side."""
    sweep = pi / skin.panels
    lies = face.moved(skin.sheet.thickness / 2.0)
    for number, start in enumerate(starts(0.0, pi, skin.panels), start=1):
        blank = skin_blank(skin, lies, sweep)
        yield Part(
            name=name if skin.panels == 1 else f"{name}, panel {number}",
            role="skin",
            kind="panel",
            stock=skin.sheet.name,
            group=BACK,
            cells=(),
            blank=blank,
            placement=tangent(face, blank, start + sweep / 2.0, skin.upright, out=True),
            good_face="outline",
            work="bend it into the rings; plane the ends level with the end rings once it is fast",
            turned=(Turned(face.layer(skin.sheet.thickness), (0.0, 0.0), start, sweep),),
        )


def half_round(part: Part) -> Part:
    """A part of the back shell turned half round into the front one."""

    def turned(v: Vec) -> Vec:
        return (-v[0], -v[1], v[2])

    place = part.placement
    return replace(
        part,
        name=part.name.replace(BACK, FRONT),
        group=FRONT,
        placement=Placement(
            turned(place.origin), turned(place.along), turned(place.across), turned(place.into)
        ),
        turned=tuple(replace(body, start=body.start + pi) for body in part.turned),
        prisms=tuple(
            replace(body, origin=turned(body.origin), along=turned(body.along), across=turned(body.across))
            for body in part.prisms
        ),
    )


def ring_disc(side: Cone, low: float, wide: float, sheet: SheetStock, name: str, group: str) -> Part:
    """A ring in one piece inside a skin, cut to its inner face; a whole disc where no opening has room.

    Args:
        side: inner face of the skin.
        low: height of its lower face.
        wide: of the ring.
        sheet: that it is cut from.
        name: of the part.
        group: that it comes off with.
    """
    high = low + sheet.thickness
    foot, head = side.radius(low), side.radius(high)
    least, greatest = min(foot, head), max(foot, head)
    opening = least - wide
    bevel = asin(min(1.0, (greatest - least) / ((greatest - least) ** 2 + sheet.thickness**2) ** 0.5))
    plan = circle((0.0, 0.0), greatest)
    hole = (circle((0.0, 0.0), opening),) if opening > 0.0 else ()
    blank, placement = laid(plan, pi / 2.0, (bevel,) * 4, (low, high), head > foot, sheet.thickness, hole)
    inner = max(0.0, opening)
    profile = polygon(((inner, low), (foot, low), (head, high), (inner, high)))
    return Part(
        name=name,
        role="core rib",
        kind="panel",
        stock=sheet.name,
        group=group,
        cells=(),
        blank=blank,
        placement=placement,
        turned=(Turned(profile),),
    )
