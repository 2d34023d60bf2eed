"""Level sections of bodies that stand side by side: what they enclose between them, exactly. Lengths in m.

Every section is run with its solid on the left. Stretches that two sections share, run both ways, are joints and fall
away; what is left bounds solid on one side and free space on the other. A free space is walked round with the solid on
its left: one that is closed in is run clockwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import atan2, hypot, tau

from formwork.geometry.clearance import reach
from formwork.geometry.crossings import (
    TOUCH,
    cut_leg,
    direction,
    encloses,
    meet,
    near_pairs,
    point_at,
    share_of,
)
from formwork.geometry.outlines import Leg, Outline, Point, area, box, flattened_leg, legs, reversed_outline
from formwork.record import record

_ALIKE = 1e-5
_CLOSED = 1e-9


@record
class Section:
    """A part cut through level: its name, its outline and its openings, all counter-clockwise."""

    name: str
    outline: Outline
    openings: tuple[Outline, ...] = ()


@record
class Free:
    """Free space round a place: its area (m2), or where it leads out.

    Attributes:
        area: None where it is not closed in.
        between: the two parts at the narrowest gap that leads out.
        width: of that gap, m.
        place: of that gap.
    """

    area: float | None
    between: tuple[str, str] = ("", "")
    width: float = 0.0
    place: Point = (0.0, 0.0)


def free_round(sections: Sequence[Section], place: Point) -> Free:
    """The free space between sections that holds a place.

    Args:
        sections: that do not overlap.
        place: in the free space.
    """
    walls = [loop for loop in _loops(_bounds(sections)) if len(loop) > 0]
    rooms = [_outline(loop) for loop in walls]
    closed = [(-area(room), reversed_outline(room)) for room in rooms if area(room) < -(TOUCH**2)]
    holding = [(size, room) for size, room in closed if encloses(room, place)]
    if not holding:
        return _way_out(sections)
    size, room = min(holding, key=lambda one: one[0])
    islands = [one for one in rooms if area(one) > 0.0 and encloses(room, _inside(one))]
    top = [one for one in islands if not any(encloses(o, _inside(one)) for o in islands if o is not one)]
    return Free(size - sum(area(one) for one in top))


def _inside(outline: Outline) -> Point:
    """A point just left of the first leg."""
    leg = next(iter(legs(outline)))
    x, y = (
        leg.arc().at(0.5) if leg.bulge else ((leg.start[0] + leg.end[0]) / 2, (leg.start[1] + leg.end[1]) / 2)
    )
    ux, uy = leg.end[0] - leg.start[0], leg.end[1] - leg.start[1]
    size = hypot(ux, uy)
    return (x - 10.0 * TOUCH * uy / size, y + 10.0 * TOUCH * ux / size)


def _bounds(sections: Iterable[Section]) -> list[Leg]:
    """What parts solid from free space, with the solid on the left."""
    some = [
        leg
        for one in sections
        for path in (one.outline, *(reversed_outline(opening) for opening in one.openings))
        for leg in legs(path)
        if leg.chord > TOUCH
    ]
    pieces = _split(some)
    corners = _Weld()
    ends = [(corners.number(leg.start), corners.number(leg.end)) for leg in pieces]
    left: dict[tuple[int, int], list[Leg]] = {}
    for leg, (a, b) in zip(pieces, ends, strict=True):
        if a == b:
            continue
        facing = left.get((b, a), [])
        twin = next((one for one in facing if abs(one.bulge + leg.bulge) < _ALIKE), None)
        if twin is not None:
            facing.remove(twin)
        else:
            left.setdefault((a, b), []).append(Leg(corners.points[a], corners.points[b], leg.bulge))
    return [leg for legs_there in left.values() for leg in legs_there]


class _Weld:
    """Points nearer than ``TOUCH`` get one number."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self._grid: dict[tuple[int, int], list[int]] = {}

    def number(self, point: Point) -> int:
        i, j = (round(value / (4.0 * TOUCH)) for value in point)
        for key in ((i + di, j + dj) for di in (-1, 0, 1) for dj in (-1, 0, 1)):
            for known in self._grid.get(key, ()):
                x, y = self.points[known]
                if hypot(x - point[0], y - point[1]) <= 2.0 * TOUCH:
                    return known
        self._grid.setdefault((i, j), []).append(len(self.points))
        self.points.append(point)
        return len(self.points) - 1


def _split(some: Sequence[Leg]) -> list[Leg]:
    """Legs cut wherever another one touches or crosses them."""
    cuts: list[list[float]] = [[] for _ in some]
    for i, j in near_pairs(some):
        for place in meet(some[i], some[j]):
            for k in (i, j):
                share = share_of(some[k], place)
                if share is not None:
                    cuts[k].append(share)
    return [piece for leg, shares in zip(some, cuts, strict=True) for piece in cut_leg(leg, shares)]


def _loops(bounds: Sequence[Leg]) -> list[list[Leg]]:
    """Walks round free spaces: at every corner on along the leg that keeps the same free space on the right."""
    out: dict[Point, list[Leg]] = {}
    for leg in bounds:
        out.setdefault(leg.start, []).append(leg)
    left = list(bounds)
    found = []
    while left:
        walk = [left[0]]
        while True:
            left.remove(walk[-1])
            ahead = [leg for leg in out.get(walk[-1].end, ()) if leg in left]
            if not ahead:
                break
            walk.append(min(ahead, key=lambda leg: _turned(walk[-1], leg)))
        found.append(walk if walk[-1].end == walk[0].start else [])
    return found


def _turned(before: Leg, after: Leg) -> float:
    """Angle counter-clockwise from the way back along one leg to the next one."""
    (ux, uy), (vx, vy) = direction(before, end=True), direction(after)
    angle = atan2(-ux * vy + uy * vx, -ux * vx - uy * vy) % tau
    return angle if angle > 1e-9 else angle + tau


def _outline(loop: Sequence[Leg]) -> Outline:
    return Outline(tuple(leg.start for leg in loop), tuple(leg.bulge for leg in loop))


def _way_out(sections: Sequence[Section]) -> Free:
    """The narrowest gap between two parts: most likely the one that leads out."""
    gaps = []
    for i, one in enumerate(sections):
        for other in sections[i + 1 :]:
            width, place = _apart(one, other)
            if width > _CLOSED:
                gaps.append((width, place, (one.name, other.name)))
    if not gaps:
        return Free(None)
    width, place, between = min(gaps)
    return Free(None, between, width, place)


def _apart(one: Section, other: Section) -> tuple[float, Point]:
    mine, theirs = _chords(one), _chords(other)
    found = [reach(leg, chord.start) for chord in mine for leg in theirs]
    found += [reach(leg, chord.start) for chord in theirs for leg in mine]
    return min(found)


def _chords(section: Section) -> list[Leg]:
    points = [p for leg in legs(section.outline) for p in flattened_leg(leg, 1e-4)[:-1]]
    return list(legs(Outline(tuple(points), (0.0,) * len(points))))


def overlapping(one: Outline, other: Outline) -> Point | None:
    """A place where two outlines share space, touching apart; None where they share none."""
    (ax, ay), (bx, by) = box(one)
    (cx, cy), (dx, dy) = box(other)
    if bx < cx or dx < ax or by < cy or dy < ay:
        return None
    pieces = [(leg, other) for leg in _split_of(one, other)] + [(leg, one) for leg in _split_of(other, one)]
    for leg, against in pieces:
        middle = point_at(leg, 0.5)
        if encloses(against, middle):
            return middle
    return next((p for p in (_inside(one),) if encloses(other, p)), None)


def _split_of(one: Outline, other: Outline) -> list[Leg]:
    mine, theirs = list(legs(one)), list(legs(other))
    cuts: list[list[float]] = [[] for _ in mine]
    for i, j in near_pairs([*mine, *theirs]):
        if i < len(mine) <= j:
            for place in meet(mine[i], theirs[j - len(mine)]):
                share = share_of(mine[i], place)
                if share is not None:
                    cuts[i].append(share)
    return [piece for leg, shares in zip(mine, cuts, strict=True) for piece in cut_leg(leg, shares)]
