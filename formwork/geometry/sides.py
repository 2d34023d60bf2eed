"""Sides of turned bodies: a path of radius against height, from the foot up. All lengths in m, angles in rad.

A side that keeps rising has one radius at each height but where it runs level, which is a ledge: there it has one
below the ledge and one above it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import asin, atan2, pi, tau

from formwork.errors import GeometryError
from formwork.geometry.outlines import Leg, Outline, Point, flattened, flattened_leg
from formwork.record import record

FINE = 1e-5
"""Arcs are looked at as chords no further from them than this, m."""
_LEVEL = 1e-9
_SAME = 1e-9


@record
class Side:
    """An open path in the half-plane of radius and height.

    Attributes:
        points: its corners (r, z), from the foot up.
        bulges: of the leg from each corner to the next, as an outline has them; above 0 where it bows out to the
            right of one who walks it, away from the axis on the way up.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...]

    @property
    def foot(self) -> float:
        """Height of its first corner."""
        return self.points[0][1]

    @property
    def head(self) -> float:
        """Height of its last corner."""
        return self.points[-1][1]

    @property
    def height(self) -> float:
        """From its first corner to its last."""
        return self.head - self.foot

    def legs(self) -> Iterator[Leg]:
        """Its legs, from the foot up."""
        for (start, end), bulge in zip(pairwise(self.points), self.bulges, strict=True):
            yield Leg(start, end, bulge)

    def fine(self, chord: float = FINE) -> tuple[Point, ...]:
        """Its corners, with points along every arc so that no chord lies further than ``chord`` (m) from it."""
        found = [self.points[0]]
        for leg in self.legs():
            found += flattened_leg(leg, chord)[1:]
        return tuple(found)

    def above(self, z: float) -> float:
        """Radius just above a height.

        Raises:
            GeometryError: where the side does not stand there.
        """
        for leg in self.legs():
            if leg.start[1] <= z + _SAME and leg.end[1] > z + _SAME:
                return _radius(leg, z)
        raise GeometryError(f"the profile does not reach {1000.0 * z:.1f} mm")

    def below(self, z: float) -> float:
        """Radius just below a height.

        Raises:
            GeometryError: as ``above``.
        """
        for leg in self.legs():
            if leg.start[1] < z - _SAME and leg.end[1] >= z - _SAME:
                return _radius(leg, z)
        raise GeometryError(f"the profile does not reach {1000.0 * z:.1f} mm")

    def turned_over(self, height: float) -> Side:
        """The same with what was at ``height`` at 0, from its new foot up."""
        points = tuple((r, height - z) for r, z in reversed(self.points))
        return Side(points, self.bulges[::-1])

    def moved_up(self, by: float) -> Side:
        """The same, higher."""
        return Side(tuple((r, z + by) for r, z in self.points), self.bulges)


def _radius(leg: Leg, z: float) -> float:
    """Radius of a leg that rises, at a height between its ends."""
    (r0, z0), (r1, z1) = leg.start, leg.end
    if leg.bulge == 0.0:
        return r0 + (r1 - r0) * (z - z0) / (z1 - z0)
    if abs(z - z0) < _SAME:
        return r0
    if abs(z - z1) < _SAME:
        return r1
    arc = leg.arc()
    up = asin(max(-1.0, min(1.0, (z - arc.centre[1]) / arc.radius)))
    shares = [((angle - arc.start + pi) % tau - pi) / arc.sweep for angle in (up, pi - up)]
    shares = [share + tau / abs(arc.sweep) if share < -1e-6 else share for share in shares]
    return arc.at(min(shares, key=lambda share: abs(share - 0.5)))[0]


def solid(side: Side) -> Outline:
    """The profile of the body inside a side: from the axis at its foot round to the axis at its head."""
    points, bulges = list(side.points), [*side.bulges, 0.0]
    if side.points[0][0] > 0.0:
        points, bulges = [(0.0, side.foot), *points], [0.0, *bulges]
    if side.points[-1][0] > 0.0:
        points, bulges = [*points, (0.0, side.head)], [*bulges, 0.0]
    return Outline(tuple(points), tuple(bulges))


def side_of(profile: Outline) -> Side:
    """The side of a profile that is closed along the axis, level at foot and head: the way back of ``solid``."""
    order = _from_axis_at_foot(profile)
    points = [profile.points[i] for i in order]
    bulges = [profile.bulges[i] for i in order]
    while len(points) > 2 and points[0][0] < _SAME and abs(points[1][1] - points[0][1]) < _LEVEL:
        points, bulges = points[1:], bulges[1:]
    while len(points) > 2 and points[-1][0] < _SAME and abs(points[-2][1] - points[-1][1]) < _LEVEL:
        points, bulges = points[:-1], bulges[:-1]
    return Side(tuple(points), tuple(bulges[: len(points) - 1]))


def _from_axis_at_foot(profile: Outline) -> list[int]:
    """Numbers of the profile's corners, the lowest one nearest to the axis first."""
    count = len(profile.points)
    low = min(z for _, z in profile.points)
    first = min(
        (i for i in range(count) if profile.points[i][1] < low + _SAME), key=lambda i: profile.points[i][0]
    )
    return [(first + i) % count for i in range(count)]


def turns_down(side: Side) -> Point | None:
    """The first place where a side that should keep rising turns down; None where there is none."""
    return next((low for low, high in pairwise(side.fine()) if high[1] < low[1] - _LEVEL), None)


def narrows(side: Side) -> Point | None:
    """The first place where a side narrows on the way up; None where there is none."""
    return next((low for low, high in pairwise(side.fine()) if high[0] < low[0] - _LEVEL), None)


def widens(side: Side) -> Point | None:
    """The first place where a side widens on the way up; None where there is none."""
    return next((low for low, high in pairwise(side.fine()) if high[0] > low[0] + _LEVEL), None)


def draft(side: Side, up: bool) -> float:
    """Least lean of a side that makes room for what it holds on its way, rad; below 0 where it is locked.

    Args:
        side: of a core or of a piece.
        up: what is inside the side leaves upward, or what is round it downward.
    """
    turn = 1.0 if up else -1.0
    leans = [
        atan2(turn * (high[0] - low[0]), high[1] - low[1])
        for low, high in pairwise(side.fine())
        if high[1] > low[1] + _LEVEL
    ]
    return min(leans, default=pi / 2.0)


def crossing(path: Sequence[Point], closed: bool) -> Point | None:
    """Where a path of straight legs crosses or touches itself; None where it does not.

    Args:
        path: its corners.
        closed: the last corner is joined to the first.
    """
    corners = [*path, path[0]] if closed else list(path)
    legs = list(pairwise(corners))
    order = sorted(range(len(legs)), key=lambda i: min(legs[i][0][0], legs[i][1][0]))
    for place, i in enumerate(order):
        right = max(legs[i][0][0], legs[i][1][0])
        for j in order[place + 1 :]:
            if min(legs[j][0][0], legs[j][1][0]) > right:
                break
            near = abs(i - j) == 1 or (closed and abs(i - j) == len(legs) - 1)
            found = _back_on_itself(legs, min(i, j), max(i, j)) if near else meeting(legs[i], legs[j])
            if found is not None:
                return found
    return None


def _back_on_itself(legs: Sequence[tuple[Point, Point]], first: int, last: int) -> Point | None:
    """The corner between two legs where the second runs back on the first; None where it does not."""
    one, other = (legs[first], legs[last]) if last - first == 1 else (legs[last], legs[first])
    (ax, ay), (bx, by) = one
    cx, cy = other[1]
    turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
    onward = (bx - ax) * (cx - bx) + (by - ay) * (cy - by)
    return one[1] if abs(turn) < 1e-15 and onward < 0.0 else None


def meeting(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point | None:
    """Where two straight legs meet; None where they do not."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    det = ux * vy - uy * vx
    if abs(det) < 1e-15:
        return next((p for p in other if _on(one, p)), None) or next((p for p in one if _on(other, p)), None)
    s = ((cx - ax) * vy - (cy - ay) * vx) / det
    t = ((cx - ax) * uy - (cy - ay) * ux) / det
    within = -_SAME <= s <= 1.0 + _SAME and -_SAME <= t <= 1.0 + _SAME
    return (ax + s * ux, ay + s * uy) if within else None


def _on(leg: tuple[Point, Point], p: Point) -> bool:
    (ax, ay), (bx, by) = leg
    ux, uy, px, py = bx - ax, by - ay, p[0] - ax, p[1] - ay
    size = ux * ux + uy * uy
    return abs(ux * py - uy * px) < _SAME * size**0.5 and -_SAME <= (ux * px + uy * py) / size <= 1.0 + _SAME


def gap(inner: Side, outer: Side) -> tuple[float, Point]:
    """Least distance between two sides, m, and where on the inner one."""
    inside, outside = inner.fine(1e-4), outer.fine(1e-4)
    found = [(_distance(p, leg), p) for p in inside for leg in pairwise(outside)]
    found += [(_distance(q, leg), q) for q in outside for leg in pairwise(inside)]
    return min(found)


def apart(side: Side, other: Side) -> tuple[float, Point]:
    """How far the place of a side that is furthest from another lies from it, m, and that place.

    The level ends of the body inside the other side count as part of it.
    """
    legs = list(pairwise(flattened(solid(other), 1e-4)))
    return max((min(_distance(p, leg) for leg in legs), p) for p in side.fine(1e-4))


def _distance(p: Point, leg: tuple[Point, Point]) -> float:
    (ax, ay), (bx, by) = leg
    ux, uy = bx - ax, by - ay
    size = ux * ux + uy * uy
    share = 0.0 if size == 0.0 else max(0.0, min(1.0, ((p[0] - ax) * ux + (p[1] - ay) * uy) / size))
    return float(((p[0] - ax - share * ux) ** 2 + (p[1] - ay - share * uy) ** 2) ** 0.5)
