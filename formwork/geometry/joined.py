"""From legs in any order, as a drawing holds them, to closed outlines; or the place of what keeps them open.

Places are in m, in the frame of the drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, pi, tan

from formwork.errors import GeometryError
from formwork.geometry.crossings import crossing, encloses, first_meeting
from formwork.geometry.outlines import Leg, Outline, Point, area, legs, reversed_outline
from formwork.record import record

JOINED = 1e-5
"""Ends nearer than this are drawn as one point, m: a hundredth of a millimetre, less than any saw sees."""
SHORTEST = 2e-4
"""Least length of a leg, m."""
FLAT = 1e-5
"""An arc that rises less than this over its chord is drawn straight, m."""
_MOST_TURN = pi + 1e-6
"""Arcs that turn through more than a half turn become two, rad."""


@record
class Flaw:
    """What is wrong with an outline, in words, and at which places of the drawing."""

    what: str
    places: tuple[Point, ...]


class FlawError(GeometryError):
    """An outline that cannot be cast; the flaw says what and where."""

    def __init__(self, flaw: Flaw) -> None:
        self.flaw = flaw
        super().__init__(flaw.what)


def loops(some: Sequence[Leg]) -> tuple[Outline, ...]:
    """The closed outlines that legs make, each counter-clockwise.

    Raises:
        FlawError: where ends stay open, more than two legs meet, or a leg is drawn twice.
    """
    corners = _Corners()
    ends = [(corners.number(leg.start), corners.number(leg.end)) for leg in some]
    _refuse_twice(some, ends, corners)
    at: dict[int, list[int]] = {}
    for i, pair in enumerate(ends):
        for corner in pair:
            at.setdefault(corner, []).append(i)
    _refuse_loose(at, corners)
    left, found = set(range(len(some))), []
    while left:
        found.append(_loop(min(left), some, ends, at, corners, left))
    return tuple(found)


class _Corners:
    """Points welded together: each gets the number of the first one that lies within ``JOINED`` of it."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self._grid: dict[tuple[int, int], list[int]] = {}

    def number(self, point: Point) -> int:
        i, j = (round(value / (2.0 * JOINED)) for value in point)
        around = ((i + di, j + dj) for di in (-1, 0, 1) for dj in (-1, 0, 1))
        for key in around:
            for known in self._grid.get(key, ()):
                if _apart(self.points[known], point) <= JOINED:
                    return known
        self._grid.setdefault((i, j), []).append(len(self.points))
        self.points.append(point)
        return len(self.points) - 1


def _apart(p: Point, q: Point) -> float:
    return hypot(p[0] - q[0], p[1] - q[1])


def _refuse_twice(some: Sequence[Leg], ends: Sequence[tuple[int, int]], corners: _Corners) -> None:
    seen: dict[tuple[tuple[int, int], float], int] = {}
    for i, (leg, (a, b)) in enumerate(zip(some, ends, strict=True)):
        if a == b:
            raise FlawError(Flaw("a leg has no length, at", (leg.start,)))
        key = ((a, b), round(leg.bulge, 6)) if a < b else ((b, a), round(-leg.bulge, 6) + 0.0)
        if key in seen:
            raise FlawError(Flaw("a leg is drawn twice, between", (corners.points[a], corners.points[b])))
        seen[key] = i


def _refuse_loose(at: dict[int, list[int]], corners: _Corners) -> None:
    """Ends that no other leg takes up, the two nearest ones together as a gap; then corners of three legs or more."""
    loose = [corners.points[corner] for corner, some in at.items() if len(some) == 1]
    if loose:
        pairs = [(_apart(p, q), p, q) for i, p in enumerate(loose) for q in loose[i + 1 :]]
        width, p, q = min(pairs)
        what = f"the outline is open: a gap of {width * 1000.0:.4g} mm between"
        raise FlawError(Flaw(what, (p, q)))
    crowded = [corners.points[corner] for corner, some in at.items() if len(some) > 2]
    if crowded:
        raise FlawError(Flaw("more than two legs meet at one point, so it is not clear which way the outline runs, "
                             "at", (min(crowded),)))  # fmt: skip


def _loop(
    first: int,
    some: Sequence[Leg],
    ends: Sequence[tuple[int, int]],
    at: dict[int, list[int]],
    corners: _Corners,
    left: set[int],
) -> Outline:
    points, bulges, here, leg = [], [], ends[first][0], first
    while leg in left:
        left.remove(leg)
        forward = ends[leg][0] == here
        points.append(corners.points[here])
        bulges.append(some[leg].bulge if forward else -some[leg].bulge)
        here = ends[leg][1] if forward else ends[leg][0]
        leg = next((other for other in at[here] if other != leg), leg)
    return sound(Outline(tuple(points), tuple(bulges)))


def sound(outline: Outline) -> Outline:
    """The outline itself, counter-clockwise, arcs of more than a half turn as two.

    Raises:
        FlawError: where it has a leg of no length, crosses itself, or encloses nothing.
    """
    whole = halved(straightened(outline))
    some = list(legs(whole))
    if len(some) < 2 or (len(some) == 2 and not any(whole.bulges)):
        raise FlawError(Flaw("the outline encloses nothing, at", whole.points[:1]))
    for leg in some:
        if leg.chord < SHORTEST:
            raise FlawError(
                Flaw(f"two points lie {leg.chord * 1000.0:.3g} mm apart: the second stands at", (leg.end,))
            )
    met = crossing(whole)
    if met is not None:
        what = (
            "the outline runs back on itself at" if met.along else "the outline crosses or touches itself at"
        )
        raise FlawError(Flaw(what, (met.place,)))
    return whole if area(whole) > 0.0 else reversed_outline(whole)


def straightened(outline: Outline) -> Outline:
    """The outline with arcs flatter than ``FLAT`` drawn straight."""
    bulges = (0.0 if abs(leg.bulge) * leg.chord / 2.0 < FLAT else leg.bulge for leg in legs(outline))
    return Outline(outline.points, tuple(bulges))


def halved(outline: Outline) -> Outline:
    """The outline with every arc of more than a half turn in two."""
    points: list[Point] = []
    bulges: list[float] = []
    for leg in legs(outline):
        points.append(leg.start)
        if abs(leg.sweep) <= _MOST_TURN:
            bulges.append(leg.bulge)
            continue
        bulges += [tan(leg.sweep / 8.0)] * 2
        points.append(leg.arc().at(0.5))
    return Outline(tuple(points), tuple(bulges))


def nested(found: Sequence[Outline]) -> tuple[Outline, tuple[Outline, ...]]:
    """The outline that holds all others, and those others: its holes.

    Raises:
        FlawError: where two cross, none holds all others, or one hole lies in another.
    """
    order = sorted(found, key=area, reverse=True)
    outer, holes = order[0], tuple(order[1:])
    for i, hole in enumerate(holes):
        _refuse_outside(outer, hole)
        for other in holes[:i]:
            place = first_meeting(hole, other)
            if place is not None:
                raise FlawError(Flaw("two holes cross or touch at", (place,)))
            if encloses(other, hole.points[0]):
                raise FlawError(Flaw("a hole lies inside another hole, at", hole.points[:1]))
    return outer, holes


def _refuse_outside(outer: Outline, hole: Outline) -> None:
    place = first_meeting(outer, hole)
    if place is not None:
        raise FlawError(Flaw("a hole crosses or touches the outline at", (place,)))
    if not encloses(outer, hole.points[0]):
        raise FlawError(
            Flaw(
                "a second outline lies beside the first, and one piece has one outline: it stands at",
                hole.points[:1],
            )
        )
