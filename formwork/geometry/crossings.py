"""Where legs of outlines meet, whether an outline crosses itself, and what lies inside it. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, hypot, pi, sqrt, tan, tau

from formwork.geometry.outlines import Leg, Outline, Point, box, legs
from formwork.record import record

TOUCH = 1e-7
"""Points nearer than this are one point, m."""
_NEIGHBOURS = 1e-4
"""Legs that follow one another may come this near to each other beside their common corner, m: arcs that run on
smoothly from one another do, by the rounding of their corners."""


@record
class Meeting:
    """Two legs of an outline that meet elsewhere than at a common corner: their numbers, and where."""

    one: int
    other: int
    place: Point
    along: bool = False
    """They run on one another, so that a stretch of both is the same."""


def direction(leg: Leg, end: bool = False) -> Point:
    """The way a leg runs at its start, or at its end; a unit vector."""
    if leg.bulge == 0.0:
        return ((leg.end[0] - leg.start[0]) / leg.chord, (leg.end[1] - leg.start[1]) / leg.chord)
    centre = leg.arc().centre
    x, y = leg.end if end else leg.start
    size = hypot(x - centre[0], y - centre[1])
    turn = 1.0 if leg.bulge > 0.0 else -1.0
    return (-turn * (y - centre[1]) / size, turn * (x - centre[0]) / size)


def share_of(leg: Leg, point: Point) -> float | None:
    """How far along a leg a point lies, 0 at its start and 1 at its end; None where it is not on the leg."""
    if leg.bulge == 0.0:
        ux, uy = leg.end[0] - leg.start[0], leg.end[1] - leg.start[1]
        px, py = point[0] - leg.start[0], point[1] - leg.start[1]
        share = (ux * px + uy * py) / leg.chord**2
        off, room = abs(ux * py - uy * px) / leg.chord, TOUCH / leg.chord
    else:
        arc = leg.arc()
        dx, dy = point[0] - arc.centre[0], point[1] - arc.centre[1]
        off, room = abs(hypot(dx, dy) - arc.radius), TOUCH / (arc.radius * abs(arc.sweep))
        turned = ((atan2(dy, dx) - arc.start) * (1.0 if arc.sweep > 0.0 else -1.0)) % tau
        turned = turned - tau if turned > (tau + abs(arc.sweep)) / 2.0 else turned
        share = turned / abs(arc.sweep)
    return share if off <= TOUCH and -room <= share <= 1.0 + room else None


def carriers_meet(one: Leg, other: Leg) -> tuple[Point, ...]:
    """Where the lines or circles that two legs run on meet, on the legs or beyond them; nothing where they are one."""
    if one.bulge == 0.0 and other.bulge == 0.0:
        return _lines(one, other)
    if one.bulge != 0.0 and other.bulge != 0.0:
        a, b = one.arc(), other.arc()
        return _circles(a.centre, a.radius, b.centre, b.radius)
    straight, bent = (one, other) if one.bulge == 0.0 else (other, one)
    return _line_and_circle(straight, bent)


def _lines(one: Leg, other: Leg) -> tuple[Point, ...]:
    (ux, uy), (vx, vy) = direction(one), direction(other)
    det = ux * vy - uy * vx
    if abs(det) < 1e-12:
        return ()
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    along = (dx * vy - dy * vx) / det
    return ((one.start[0] + along * ux, one.start[1] + along * uy),)


def _line_and_circle(straight: Leg, bent: Leg) -> tuple[Point, ...]:
    (ux, uy), arc = direction(straight), bent.arc()
    dx, dy = arc.centre[0] - straight.start[0], arc.centre[1] - straight.start[1]
    middle, off = dx * ux + dy * uy, dx * uy - dy * ux
    if abs(off) > arc.radius + TOUCH:
        return ()
    half = sqrt(max(0.0, arc.radius**2 - off**2))
    return tuple(
        (straight.start[0] + t * ux, straight.start[1] + t * uy) for t in {middle - half, middle + half}
    )


def _circles(p: Point, r: float, q: Point, s: float) -> tuple[Point, ...]:
    dx, dy = q[0] - p[0], q[1] - p[1]
    apart = hypot(dx, dy)
    if apart < TOUCH or apart > r + s + TOUCH or apart < abs(r - s) - TOUCH:
        return ()
    along = (apart**2 + r * r - s * s) / (2.0 * apart)
    up = sqrt(max(0.0, r * r - along**2))
    ux, uy = dx / apart, dy / apart
    return tuple((p[0] + along * ux - h * uy, p[1] + along * uy + h * ux) for h in {up, -up})


def same_carrier(one: Leg, other: Leg) -> bool:
    """Two legs run on one line or one circle."""
    if (one.bulge == 0.0) != (other.bulge == 0.0):
        return False
    if one.bulge == 0.0:
        (ux, uy), (vx, vy) = direction(one), direction(other)
        dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
        return abs(ux * vy - uy * vx) < 1e-9 and abs(ux * dy - uy * dx) < TOUCH
    a, b = one.arc(), other.arc()
    apart = hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1])
    return apart < TOUCH and abs(a.radius - b.radius) < TOUCH


def meet(one: Leg, other: Leg) -> tuple[Point, ...]:
    """Every point that two legs share; of a stretch that they share, its ends."""
    if same_carrier(one, other):
        ends = [p for p in (other.start, other.end) if share_of(one, p) is not None]
        ends += [p for p in (one.start, one.end) if share_of(other, p) is not None]
        return tuple(dict.fromkeys(ends))
    found = [p for p in carriers_meet(one, other) if _on_both(one, other, p)]
    found += [p for p in (one.start, one.end) if share_of(other, p) is not None]
    found += [p for p in (other.start, other.end) if share_of(one, p) is not None]
    return tuple(dict.fromkeys(found))


def _on_both(one: Leg, other: Leg, point: Point) -> bool:
    return share_of(one, point) is not None and share_of(other, point) is not None


def leg_box(leg: Leg) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of a leg, arcs as far as they reach."""
    low, high = box(Outline((leg.start, leg.end), (leg.bulge, 0.0)))
    return (*low, *high)


def near_pairs(some: Sequence[Leg]) -> Iterator[tuple[int, int]]:
    """Every two legs whose boxes touch, by their numbers, the lesser first."""
    boxes = [leg_box(leg) for leg in some]
    order = sorted(range(len(some)), key=lambda i: boxes[i][0])
    for place, i in enumerate(order):
        _, low, right, high = boxes[i]
        for j in order[place + 1 :]:
            if boxes[j][0] > right + TOUCH:
                break
            if boxes[j][1] <= high + TOUCH and boxes[j][3] >= low - TOUCH:
                yield (i, j) if i < j else (j, i)


def crossing(outline: Outline) -> Meeting | None:
    """The first two legs of an outline that meet elsewhere than where one follows the other; None where none do."""
    some = list(legs(outline))
    for i, j in sorted(near_pairs(some)):
        corners = _common_corners(i, j, some)
        places = [p for p in meet(some[i], some[j]) if not any(_near(p, c) for c in corners)]
        if places:
            along = same_carrier(some[i], some[j])
            return Meeting(i, j, _middle(places) if along else places[0], along)
    return None


def _common_corners(i: int, j: int, some: Sequence[Leg]) -> list[Point]:
    """The corners at which one of two legs follows the other."""
    found = [some[i].end] if j == i + 1 else []
    if i == 0 and j == len(some) - 1:
        found.append(some[0].start)
    return found


def _near(p: Point, q: Point) -> bool:
    return hypot(p[0] - q[0], p[1] - q[1]) < _NEIGHBOURS


def _middle(places: Sequence[Point]) -> Point:
    return (sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places))


def first_meeting(one: Outline, other: Outline) -> Point | None:
    """Where two outlines cross or touch; None where they do not."""
    some, more = list(legs(one)), list(legs(other))
    for i, j in near_pairs([*some, *more]):
        if i < len(some) <= j:
            places = meet(some[i], more[j - len(some)])
            if places:
                return places[0]
    return None


def encloses(outline: Outline, point: Point) -> bool:
    """Whether a point lies inside an outline, by the turns of the outline about it; points on it count as outside."""
    turn = 0.0
    for leg in legs(outline):
        if share_of(leg, point) is not None:
            return False
        turn += _turn_about(leg, point)
    return abs(turn) > pi


def _turn_about(leg: Leg, point: Point) -> float:
    """Angle that the way from a point to a leg's runner turns through: of the chord, and round where the arc passes."""
    ax, ay = leg.start[0] - point[0], leg.start[1] - point[1]
    bx, by = leg.end[0] - point[0], leg.end[1] - point[1]
    chord = atan2(ax * by - ay * bx, ax * bx + ay * by)
    if leg.bulge == 0.0:
        return chord
    arc = leg.arc()
    inside = hypot(point[0] - arc.centre[0], point[1] - arc.centre[1]) < arc.radius
    left = chord > 0.0
    between = inside and left != (leg.bulge > 0.0)
    return chord + (tau if leg.bulge > 0.0 else -tau) * between


def cut_leg(leg: Leg, shares: Sequence[float]) -> list[Leg]:
    """A leg in pieces, cut at shares of its length; cuts at its ends or next to one another count once."""
    room = 2.0 * TOUCH / leg.length
    marks = [0.0]
    for share in sorted(shares):
        if share > marks[-1] + room and share < 1.0 - room:
            marks.append(share)
    marks.append(1.0)
    if len(marks) == 2:
        return [leg]
    places = [leg.start, *(point_at(leg, share) for share in marks[1:-1]), leg.end]
    return [
        Leg(a, b, part_bulge(leg, end - start))
        for (a, b), (start, end) in zip(pairwise(places), pairwise(marks), strict=True)
    ]


def point_at(leg: Leg, share: float) -> Point:
    """The point at a share of a leg."""
    if leg.bulge:
        return leg.arc().at(share)
    (ax, ay), (bx, by) = leg.start, leg.end
    return (ax + share * (bx - ax), ay + share * (by - ay))


def part_bulge(leg: Leg, share: float) -> float:
    """The bulge of a share of a leg."""
    return tan(leg.sweep * share / 4.0) if leg.bulge else 0.0
