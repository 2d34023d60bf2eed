"""The profile of a turned piece: corners as a person types them, read as its sides, refused where no mold serves."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, inf, tan
from typing import Annotated

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

from formwork.errors import GeometryError
from formwork.geometry import sides
from formwork.geometry.outlines import Leg, Outline, Point, area, flattened, reversed_outline
from formwork.geometry.sides import Side
from formwork.record import record
from formwork.units import show
from formwork.units.fields import quantity

LEAST_WALL = 0.012
"""Least thickness anywhere between the hollow and the outside, m (ours)."""
SAME = 1e-7
"""Two places of a profile nearer than this are one, m."""
_LEAST_HEIGHT = 0.02
_LEAST_REACH = 0.02

Coordinate = Annotated[float, quantity("length", -4.0, 4.0)]


def _two_or_three(corner: tuple[float, ...]) -> tuple[float, ...]:
    if len(corner) in (2, 3):
        return corner
    raise PydanticCustomError(
        "corner",
        "got {got}, want {want}",
        {
            "got": f"a list of {len(corner)}",
            "want": "[distance from the axis, height], and a third number where an arc leads there",
            "hint": "",
        },
    )


Corner = Annotated[tuple[Coordinate, ...], AfterValidator(_two_or_three)]
Corners = Annotated[tuple[Corner, ...], Field(min_length=2, max_length=200)]


@record
class Sides:
    """A turned piece by its sides.

    Attributes:
        outer: the outside, from the foot to the head.
        hollow: the inside of the hollow, from its lower end to its upper one; None where the piece is solid.
        from_foot: what was taken off every height so that the foot is at 0, m.
    """

    outer: Side
    hollow: Side | None
    from_foot: float = 0.0

    @property
    def height(self) -> float:
        """Overall height, m."""
        return self.outer.head

    @property
    def open_below(self) -> bool:
        """The hollow opens at the foot."""
        return self.hollow is not None and self.hollow.foot < SAME

    @property
    def open_above(self) -> bool:
        """The hollow opens at the head."""
        return self.hollow is not None and self.hollow.head > self.height - SAME

    def turned_over(self) -> Sides:
        """The same upside down."""
        hollow = self.hollow.turned_over(self.height) if self.hollow else None
        return Sides(self.outer.turned_over(self.height), hollow)


Typed = tuple[tuple[float, ...], ...]
"""Corners of the project file: distance from the axis, height, m, and how far the line to it bows out."""


def sides_of(outside: Typed | None, inside: Typed | None, profile: Typed | None, name: str) -> Sides:
    """The sides that the keys of a project file describe, foot at 0.

    Args:
        outside: corners from the foot up.
        inside: corners of the hollow from its lower end up; None where the piece is solid.
        profile: instead of both, the corners all round the cut face.
        name: of the piece.

    Raises:
        GeometryError: where they contradict one another, or the profile crosses the axis or itself, turns down, or
            leaves too thin a wall; it says where.
    """
    found = _on_the_foot(_as_typed(outside, inside, profile, name), name)
    _refuse_thin(found, name)
    return found


def _as_typed(outside: Typed | None, inside: Typed | None, profile: Typed | None, name: str) -> Sides:
    if (profile is None) == (outside is None) or (profile is not None and inside is not None):
        raise GeometryError(
            f"{name}: give either outside, with inside where it is hollow, or profile, the corners all round the cut "
            "face"
        )
    found = (
        _from_profile(profile, name)
        if profile is not None
        else Sides(
            _path(outside or (), f"{name}: outside"),
            _path(inside, f"{name}: inside") if inside else None,
        )
    )
    _refuse_down(found.outer, f"{name}: {'profile' if profile else 'outside'}")
    if found.hollow is not None:
        _refuse_down(found.hollow, f"{name}: {'profile' if profile else 'inside'}")
    return found


def _on_the_foot(found: Sides, name: str) -> Sides:
    by = found.outer.foot
    if max(found.outer.fine())[0] < _LEAST_REACH:
        raise GeometryError(
            f"{name}: outside: it stands at most {show.both(max(found.outer.fine())[0])} from the axis; at least "
            f"{show.both(_LEAST_REACH)} wanted"
        )
    if found.outer.height < _LEAST_HEIGHT:
        raise GeometryError(
            f"{name}: outside: it rises only {show.both(found.outer.height)}; at least {show.both(_LEAST_HEIGHT)} "
            "wanted"
        )
    hollow = found.hollow.moved_up(-by) if found.hollow else None
    moved = Sides(found.outer.moved_up(-by), hollow, by)
    if hollow is not None and not (moved.open_below or moved.open_above):
        raise GeometryError(
            f"{name}: inside: the hollow runs from {_high(hollow.foot + by)} to {_high(hollow.head + by)} and opens "
            f"nowhere, so its core could never come out; let it begin at the foot ({_high(by)}) or end at the top "
            f"({_high(found.outer.head)})"
        )
    return moved


def _path(corners: Sequence[tuple[float, ...]], where: str) -> Side:
    """An open path of corners, refused where it leaves the half-plane.

    Raises:
        GeometryError: where a corner stands twice, or the path crosses the axis or itself.
    """
    if len(corners[0]) == 3 and corners[0][2] != 0.0:
        raise GeometryError(f"{where}: no line leads to its first corner, so nothing there can bow out")
    points, bulges = _corners(corners, where)
    side = Side(points, bulges[1:])
    fine = side.fine()
    _refuse_beyond_axis(fine, where)
    _refuse_crossing(sides.crossing(fine, closed=False), where)
    return side


def _corners(corners: Sequence[tuple[float, ...]], where: str) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Points, and the bulge of the leg that ends in each.

    Raises:
        GeometryError: where two corners fall together, or a leg bows out by half its length or more.
    """
    points = tuple((one[0], one[1]) for one in corners)
    bulges = []
    for number, one in enumerate(corners):
        (x0, y0), (x1, y1) = points[number - 1], points[number]
        chord = float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
        bow = one[2] if len(one) == 3 else 0.0
        if chord < SAME:
            raise GeometryError(
                f"{where}: {at(points[number])} stands there twice, one after the other; leave one of them out"
            )
        if abs(bow) > chord / 2.0 + SAME:
            raise GeometryError(
                f"{where}: the line to {at(points[number])} is {show.both(chord)} long and cannot bow out by "
                f"{show.both(abs(bow))}; at most half its length, which is a half circle"
            )
        bulges.append(2.0 * bow / chord if abs(bow) > SAME else 0.0)
    return points, tuple(bulges)


def _from_profile(corners: Sequence[tuple[float, ...]], name: str) -> Sides:
    """Outside and hollow of a closed profile.

    Raises:
        GeometryError: where it is no sound profile.
    """
    where = f"{name}: profile"
    points, ending = _corners(corners, where)
    outline = Outline(points, (*ending[1:], ending[0]))
    fine = flattened(outline, sides.FINE)
    _refuse_beyond_axis(fine, where)
    _refuse_crossing(sides.crossing(fine, closed=True), where)
    if area(outline) < 0.0:
        outline = reversed_outline(outline)
    return _parted(outline)


def _parted(outline: Outline) -> Sides:
    """Outside: from the lowest corner furthest out to the highest furthest out; hollow: the way back of the rest."""
    low, high = (pick(z for _, z in outline.points) for pick in (min, max))
    every = sorted(range(len(outline.points)), key=lambda i: outline.points[i][0])
    feet = [i for i in every if outline.points[i][1] < low + SAME]
    heads = [i for i in every if outline.points[i][1] > high - SAME]
    outer = _walk(outline, feet[-1], heads[-1])
    back = _walk(outline, heads[0], feet[0])
    hollow = Side(back.points[::-1], tuple(-bulge for bulge in back.bulges[::-1]))
    return Sides(outer, _off_axis(hollow))


def _walk(outline: Outline, first: int, last: int) -> Side:
    """The legs from one corner on to another."""
    count = len(outline.points)
    order = [(first + i) % count for i in range((last - first) % count + 1)]
    return Side(tuple(outline.points[i] for i in order), tuple(outline.bulges[i] for i in order[:-1]))


def _off_axis(hollow: Side) -> Side | None:
    """A hollow's side without what of it runs along the axis; None where that is all of it."""
    points, bulges = list(hollow.points), list(hollow.bulges)
    while len(points) > 1 and max(points[0][0], points[1][0]) < SAME:
        points, bulges = points[1:], bulges[1:]
    while len(points) > 1 and max(points[-1][0], points[-2][0]) < SAME:
        points, bulges = points[:-1], bulges[:-1]
    return Side(tuple(points), tuple(bulges)) if len(points) > 1 else None


def _refuse_beyond_axis(fine: Sequence[Point], where: str) -> None:
    """A side may end on the axis; it may not cross it."""
    worst = min(fine)
    if worst[0] < -SAME:
        raise GeometryError(
            f"{where}: it crosses the axis at {at(worst)}; distances from the axis are 0 or more"
        )


def _refuse_crossing(place: Point | None, where: str) -> None:
    if place is not None:
        raise GeometryError(
            f"{where}: it crosses or touches itself at {at(place)}; mend the corners near there"
        )


def _refuse_down(side: Side, where: str) -> None:
    """A mold of rings, even one parted in two halves, lets go of nothing that reaches down behind itself."""
    place = sides.turns_down(side)
    if place is None:
        return
    arc = next((leg for leg in side.legs() if leg.bulge and sides.turns_down(_alone(leg)) == place), None)
    mend = "keep every height at or above the one before"
    if arc is not None and arc.end[1] > arc.start[1]:
        mend = f"the arc to {at(arc.end)} may bow by at most {show.both(_most_bow(arc))}"
    raise GeometryError(
        f"{where}: at {at(place)} it turns down on its way up: no mold that draws off or parts in two halves lets go "
        f"of what hooks behind itself; {mend}"
    )


def _alone(leg: Leg) -> Side:
    return Side((leg.start, leg.end), (leg.bulge,))


def _most_bow(leg: Leg) -> float:
    """How far a leg may bow out before it runs level at one of its ends, m."""
    lean = atan2(leg.end[1] - leg.start[1], abs(leg.end[0] - leg.start[0]))
    return leg.chord / 2.0 * tan(lean / 2.0)


def _refuse_thin(used: Sides, name: str) -> None:
    if used.hollow is None:
        return
    through = next((place for place in used.hollow.fine(1e-4) if _comes_through(place, used.outer)), None)
    least, place = sides.gap(used.hollow, used.outer)
    if through is not None or least < LEAST_WALL - SAME:
        r, z = through or place
        thick = "comes through the outside" if through else f"is {show.both(least)} from the outside"
        raise GeometryError(
            f"{name}: inside: at {at((r, z + used.from_foot))} the hollow {thick}; at least {show.both(LEAST_WALL)} "
            "of wall wanted"
        )
    floor = min(
        used.hollow.foot if not used.open_below else inf,
        used.height - used.hollow.head if not used.open_above else inf,
    )
    if floor < LEAST_WALL - SAME:
        raise GeometryError(
            f"{name}: inside: the floor is only {show.both(floor)} thick; at least {show.both(LEAST_WALL)} wanted"
        )


def _comes_through(place: Point, outer: Side) -> bool:
    r, z = place
    if not outer.foot - SAME < z < outer.head + SAME:
        return True
    return r > (outer.below(z) if z > SAME else outer.above(0.0)) - SAME


def at(place: Point) -> str:
    """A place of the profile (m) as a person finds it."""
    return f"{show.both(place[0])} from the axis and {_high(place[1])} up"


def _high(z: float) -> str:
    return show.both(z)
