"""Outlines a distance outside or inside another: parallel legs, arcs about the same centres. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan, atan2, ceil, degrees, hypot, sqrt, tan, tau

from formwork.errors import GeometryError
from formwork.geometry.crossings import Meeting, carriers_meet, crossing, cut_leg, direction
from formwork.geometry.outlines import Leg, Outline, Point, area, legs

SMOOTH = 1e-4
"""Legs whose directions differ by less than this at their corner run on smoothly from one another, rad."""
_LEAST = 1e-6
_SAME_BULGE = 1e-9
_MOST_CUTS = 60


class OffsetError(GeometryError):
    """No outline lies at that distance: a leg would close, and which one."""

    def __init__(self, message: str, place: Point) -> None:
        self.place = place
        super().__init__(message)


def turn(before: Leg, after: Leg) -> float:
    """Angle by which an outline turns at the corner between two legs, above 0 to the left, rad.

    >>> round(degrees(turn(Leg((0.0, 0.0), (1.0, 0.0), 0.0), Leg((1.0, 0.0), (1.0, 1.0), 0.0))), 9)
    90.0
    """
    (ux, uy), (vx, vy) = direction(before, end=True), direction(after)
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def right(way: Point) -> Point:
    """What lies to the right of one who walks that way; of an outline run counter-clockwise, its outside."""
    return (way[1], -way[0])


def beside(leg: Leg, distance: float) -> Leg:
    """A leg a distance to the right of another (to its left below 0), from abreast of its start to abreast of its end.

    Raises:
        OffsetError: where an arc's radius comes to nothing.
    """
    ends = [
        _moved(point, right(direction(leg, end)), distance)
        for point, end in ((leg.start, False), (leg.end, True))
    ]
    if leg.bulge == 0.0:
        return Leg(ends[0], ends[1], 0.0)
    radius = leg.arc().radius
    if radius + (distance if leg.bulge > 0.0 else -distance) < _LEAST:
        raise OffsetError(f"an arc of radius {_mm(radius)} would close", leg.arc().at(0.5))
    return Leg(ends[0], ends[1], leg.bulge)


def corner(before: Leg, after: Leg, distance: float, other: float | None = None) -> Point:
    """Where the legs beside two legs meet, one ``distance`` beside the first, the other beside the second.

    Args:
        before: the first leg.
        after: that follows it.
        distance: to the right of the first.
        other: to the right of the second; the same where it is left out.

    Raises:
        OffsetError: where they do not meet.
    """
    second = distance if other is None else other
    angle = turn(before, after)
    n, m = right(direction(before, end=True)), right(direction(after))
    if abs(angle) < SMOOTH and distance == second:
        return _moved(before.end, n, distance)
    if abs(abs(angle) - tau / 2.0) < SMOOTH:
        raise OffsetError("the outline doubles back on itself", before.end)
    guess = _mitre(before.end, n, m, distance, second)
    if before.bulge == 0.0 and after.bulge == 0.0:
        return guess
    places = carriers_meet(beside(before, distance), beside(after, second))
    if not places:
        raise OffsetError(
            f"the legs that meet there at {degrees(abs(angle)):.0f} degrees would no longer meet", before.end
        )
    return min(places, key=lambda p: hypot(p[0] - guess[0], p[1] - guess[1]))


def _mitre(at: Point, n: Point, m: Point, distance: float, other: float) -> Point:
    """Where the lines meet that lie ``distance`` off ``at`` along n and ``other`` along m."""
    det = n[0] * m[1] - n[1] * m[0]
    if abs(det) < SMOOTH:
        return _moved(at, n, distance)
    x = (distance * m[1] - other * n[1]) / det
    y = (n[0] * other - m[0] * distance) / det
    return (at[0] + x, at[1] + y)


def offset(outline: Outline, distance: float) -> Outline:
    """The outline that lies a distance outside another, or inside it (below 0), leg for leg.

    Raises:
        OffsetError: where a leg would close, or the outline would cross itself, saying where.
    """
    if distance == 0.0:
        return outline
    some = list(legs(outline))
    points = [corner(some[i - 1], leg, distance) for i, leg in enumerate(some)]
    ends = [*points[1:], points[0]]
    bulges = [bulge_beside(leg, a, b, distance) for leg, a, b in zip(some, points, ends, strict=True)]
    made = Outline(tuple(points), tuple(bulges))
    met = crossing(made)
    if met is not None:
        raise OffsetError(
            f"parts of it {_mm(2.0 * abs(distance))} or less apart would meet", _seen(met, some)
        )
    return made


def eased(outline: Outline, reach: float) -> Outline:
    """The outline with the ends of arcs that meet a corner cut off as legs of their own.

    Beside it, up to ``reach`` (m) away, only those short legs turn through another angle than on it, so that sections
    between the two, whose arcs change in step, are as good as exact.
    """
    some = list(legs(outline))
    pieces = []
    for i, leg in enumerate(some):
        ends = (turn(some[i - 1], leg), turn(leg, some[(i + 1) % len(some)]))
        cuts = [_end(leg, abs(angle), reach) for angle in ends]
        shares = [cuts[0]] * (cuts[0] > 0.0) + [1.0 - cuts[1]] * (cuts[1] > 0.0)
        pieces += cut_leg(leg, shares)
    return _joined(pieces)


def _end(leg: Leg, angle: float, reach: float) -> float:
    """The share of an arc that is cut off at a corner of that angle; 0 where the outline runs on smoothly."""
    if not leg.bulge or angle < SMOOTH:
        return 0.0
    return min(4.0 * reach * max(1.0, 1.0 / tan(angle / 2.0)) / leg.length, 1.0 / 3.0)


def in_step(some: Sequence[Outline]) -> list[Outline]:
    """Outlines with the same legs, as one beside the other, cut at the same shares of legs that turn differently.

    Between two of them every point moves straight; an arc through the cuts, its bulge changed in step, is then so near
    to that path that the areas of all sections together err by no more than a few parts in ten million.
    """
    room = 1e-8 * abs(area(some[0]))
    rows = list(zip(*(legs(one) for one in some), strict=True))
    counts = [_cuts(row, room) for row in rows]
    cut = [
        [cut_leg(row[k], [i / n for i in range(1, n)]) for row, n in zip(rows, counts, strict=True)]
        for k in range(len(some))
    ]
    return [_joined([leg for pieces in one for leg in pieces]) for one in cut]


def _cuts(row: Sequence[Leg], room: float) -> int:
    """In how many a leg is cut: what an arc errs by goes with the square of its part."""
    sweeps = [leg.sweep for leg in row]
    differs = max(sweeps) - min(sweeps)
    if differs < _SAME_BULGE:
        return 1
    size = max(leg.arc().radius ** 2 * abs(leg.sweep) for leg in row if leg.bulge)
    return min(_MOST_CUTS, ceil(sqrt(size * differs**2 / 48.0 / room)))


def _joined(pieces: Sequence[Leg]) -> Outline:
    return Outline(tuple(leg.start for leg in pieces), tuple(leg.bulge for leg in pieces))


def _seen(met: Meeting, some: list[Leg]) -> Point:
    """A place on the outline itself beside which the one beside it meets itself."""
    return min(
        (some[met.one].start, some[met.one].end, some[met.other].start, some[met.other].end),
        key=lambda p: hypot(p[0] - met.place[0], p[1] - met.place[1]),
    )


def alongside(some: Sequence[Leg], distance: float, first: Point, last: Point) -> tuple[Leg, ...]:
    """The legs a distance to the right of an open chain of legs, from a first to a last point.

    Raises:
        OffsetError: where one of them would close.
    """
    points = [first, *(corner(one, other, distance) for one, other in pairwise(some)), last]
    return tuple(
        Leg(a, b, bulge_beside(leg, a, b, distance))
        for leg, (a, b) in zip(some, pairwise(points), strict=True)
    )


def bulge_beside(leg: Leg, start: Point, end: Point, distance: float) -> float:
    """The bulge of the leg a distance to the right of another, between its own ends.

    Raises:
        OffsetError: where it has come to nothing, or turned round.
    """
    if leg.bulge == 0.0:
        ux, uy = direction(leg)
        if (end[0] - start[0]) * ux + (end[1] - start[1]) * uy < _LEAST:
            raise OffsetError(f"a straight leg of {_mm(leg.chord)} would close", _halfway(leg))
        return 0.0
    arc = beside(leg, distance).arc()
    a, b = (atan2(p[1] - arc.centre[1], p[0] - arc.centre[0]) for p in (start, end))
    sense = 1.0 if leg.bulge > 0.0 else -1.0
    swept = (sense * (b - a)) % tau
    if swept * arc.radius < _LEAST or swept - abs(leg.sweep) > tau / 2.0:
        raise OffsetError(f"an arc of radius {_mm(leg.arc().radius)} would close", leg.arc().at(0.5))
    bulge = sense * tan(swept / 4.0)
    return leg.bulge if abs(swept / 4.0 - abs(atan(leg.bulge))) < _SAME_BULGE else bulge


def _halfway(leg: Leg) -> Point:
    return ((leg.start[0] + leg.end[0]) / 2.0, (leg.start[1] + leg.end[1]) / 2.0)


def _moved(point: Point, way: Point, by: float) -> Point:
    return (point[0] + by * way[0], point[1] + by * way[1])


def _mm(value: float) -> str:
    return f"{value * 1000.0:.1f} mm"
