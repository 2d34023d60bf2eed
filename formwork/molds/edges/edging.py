"""The strips that stand round an outline: which legs each follows, what it is cut from, how it meets its neighbours.

Every straight leg is a straight strip. Arcs that run on smoothly from one another are one strip, bent; it is bent no
tighter than its stock bends. Where strips run on smoothly they butt, square across. At a corner a straight strip runs
past, and the other stops against it; two bent strips, very flat and very sharp corners, and inner corners with a bent
strip are mitred. All lengths in m.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import ceil, cos, degrees, hypot, radians, sin
from typing import Literal

from formwork.errors import GeometryError
from formwork.geometry.crossings import carriers_meet, cut_leg, direction
from formwork.geometry.offsets import alongside, beside, corner, right, turn
from formwork.geometry.outlines import Leg, Outline, Point, legs, shifted
from formwork.geometry.prisms import Prism
from formwork.molds.edges.kerfing import Kerfs, merged
from formwork.record import record
from formwork.stock.records import SheetStock, StickStock
from formwork.units import show

SMOOTH = radians(2.0)
"""Legs that turn by less at their corner run on from one another for a strip."""
_LAP = (radians(25.0), radians(155.0))
"""Between these turns two straight strips lap at a corner; flatter or sharper ones are mitred."""
_SHARPEST = radians(170.0)
_SHORTEST = 0.03
_ROOM = 1e-6
_AT_SAW = 0.03
"""Room that the ends of a strip need beyond the outline, m."""

JointKind = Literal["butt", "lap", "lap back", "mitre"]
"""How two strips meet: square across; the first runs past the second, or the second past the first; or mitred."""
Locate = Callable[[Point], str]
"""Says where a point of the mold lies on the good face."""


@record
class Stretch:
    """Legs of the outline that one strip follows, at the foot and at the head."""

    foot: tuple[Leg, ...]
    head: tuple[Leg, ...]

    @property
    def bent(self) -> bool:
        """It follows arcs, or the facets of a kerfed strip."""
        return len(self.foot) > 1 or any(leg.bulge for leg in self.foot)

    @property
    def length(self) -> float:
        """The greater of both, m."""
        return max(sum(leg.length for leg in some) for some in (self.foot, self.head))

    @property
    def middle(self) -> Point:
        """A place about half way along its foot."""
        leg = self.foot[len(self.foot) // 2]
        return leg.arc().at(0.5) if leg.bulge else _between(leg.start, leg.end)

    @property
    def tightest(self) -> Leg:
        """The arc of least radius."""
        arcs = [leg for some in (self.foot, self.head) for leg in some if leg.bulge]
        return min(arcs, key=lambda leg: leg.arc().radius)


@record
class Edge:
    """One strip.

    Attributes:
        name: what a carpenter calls it.
        stretch: the legs it follows.
        stock: what it is cut from.
        thickness: of the strip, m.
        upright: its face grain stands upright: it is bent the easy way.
        limit: least radius its hollow face may have, m; 0 for a straight strip.
        source: who says so.
        kerfs: of a strip that is kerfed, arc by arc.
    """

    name: str
    stretch: Stretch
    stock: SheetStock | StickStock
    thickness: float
    upright: bool = False
    limit: float = 0.0
    source: str = ""
    kerfs: tuple[Kerfs, ...] = ()


def stretches(outside: Prism) -> tuple[Stretch, ...]:
    """The legs of an outline, strip by strip, in the mold's own frame."""
    by = (outside.origin[0], outside.origin[1])
    foot, head = list(legs(shifted(outside.outline, by))), list(legs(shifted(outside.top, by)))
    count = len(foot)
    starts = [i for i in range(count) if not _runs_on(foot[i - 1], foot[i])]
    first = starts[0] if starts else 0
    found: list[list[int]] = []
    for k in range(count):
        i = (first + k) % count
        if found and _runs_on(foot[i - 1], foot[i]):
            found[-1].append(i)
        else:
            found.append([i])
    return tuple(Stretch(tuple(foot[i] for i in some), tuple(head[i] for i in some)) for some in found)


def _runs_on(before: Leg, after: Leg) -> bool:
    """Two arcs that one bent strip follows."""
    return bool(before.bulge) and bool(after.bulge) and abs(turn(before, after)) < SMOOTH


def hollow_radius(stretch: Stretch, thickness: float) -> float:
    """Least radius of the hollow face of a strip bent round a stretch, m: its back where the outline curves inward."""
    return min(
        leg.arc().radius - (thickness if leg.bulge < 0.0 else 0.0)
        for some in (stretch.foot, stretch.head)
        for leg in some
        if leg.bulge
    )


def parted(stretch: Stretch, longest: float) -> tuple[Stretch, ...]:
    """A stretch in equal parts, none longer than a length."""
    count = ceil(stretch.length / longest - 1e-9)
    if count <= 1:
        return (stretch,)
    whole = sum(leg.length for leg in stretch.foot)
    places = [_even(stretch, k * whole / count) for k in range(1, count)]
    feet, heads = _cut(stretch.foot, stretch.foot, places), _cut(stretch.foot, stretch.head, places)
    return tuple(Stretch(foot, head) for foot, head in zip(feet, heads, strict=True))


def _even(stretch: Stretch, place: float) -> float:
    """A place along the foot of a stretch, moved on to the end of a leg that turns further at its head than there."""
    start = 0.0
    for low, high in zip(stretch.foot, stretch.head, strict=True):
        end = start + low.length
        if start < place < end:
            return place if low.bulge == high.bulge else end
        start = end
    return place


def _cut(measured: Sequence[Leg], some: Sequence[Leg], places: Sequence[float]) -> list[tuple[Leg, ...]]:
    """A chain of legs cut at places along another one that has the same legs."""
    groups: list[list[Leg]] = [[]]
    start = 0.0
    for like, leg in zip(measured, some, strict=True):
        end = start + like.length
        inside = [(place - start) / like.length for place in places if start + _ROOM < place < end - _ROOM]
        first, *rest = cut_leg(leg, inside)
        groups[-1].append(first)
        groups += [[piece] for piece in rest]
        if any(abs(place - end) <= _ROOM for place in places):
            groups.append([])
        start = end
    return [tuple(group) for group in groups]


def joint(before: Edge, after: Edge) -> JointKind:
    """How two strips that follow one another meet."""
    first, second = before.stretch.foot[-1], after.stretch.foot[0]
    angle = turn(first, second)
    if abs(angle) < SMOOTH:
        return "butt"
    if not _LAP[0] <= abs(angle) <= _LAP[1] or (before.stretch.bent and after.stretch.bent):
        return "mitre"
    if before.stretch.bent or after.stretch.bent:
        lap: JointKind = "lap back" if before.stretch.bent else "lap"
        return lap if angle > 0.0 else "mitre"
    reach = before.thickness / sin(abs(angle)) + _SHORTEST
    return "lap" if angle > 0.0 or second.chord > reach else "mitre"


Ends = tuple[Point, Point]
"""Where a strip ends: on the face towards the mix, and on its back."""


def meeting(before: Edge, after: Edge, head: bool, lean: float) -> tuple[Ends, Ends]:
    """Where the first of two strips ends and where the second begins, at the foot or at the head.

    Args:
        before: the first strip.
        after: the second.
        head: at the head; else at the foot.
        lean: of the strips, rad.
    """
    one = (before.stretch.head if head else before.stretch.foot)[-1]
    other = (after.stretch.head if head else after.stretch.foot)[0]
    s, t = before.thickness / cos(lean), after.thickness / cos(lean)
    at, angle = one.end, turn(one, other)
    n, m = right(direction(one, end=True)), right(direction(other))
    match joint(before, after):
        case "butt":
            way = _unit((n[0] + m[0], n[1] + m[1]))
            return (at, _moved(at, way, s)), (at, _moved(at, way, t))
        case "mitre":
            if abs(angle) > _SHARPEST:
                raise GeometryError(
                    f"the corner of {180.0 - degrees(abs(angle)):.0f} deg is too sharp for two strips"
                )
            way = _unit((n[0] + m[0], n[1] + m[1]))
            return (at, _on_ray(at, way, one, s, angle)), (at, _on_ray(at, way, other, t, angle))
        case "lap" if angle > 0.0:
            past = corner(one, other, 0.0, t)
            return (past, _moved(past, n, s)), (at, past)
        case "lap back":
            past = corner(one, other, s, 0.0)
            return (at, past), (past, _moved(past, m, t))
        case "lap":
            u, v, k = direction(one, end=True), direction(other), sin(abs(angle))
            stop = _moved(at, v, s / k)
            return (at, stop), (stop, _moved(stop, u, -t / k))


def _on_ray(at: Point, way: Point, leg: Leg, distance: float, angle: float) -> Point:
    """Where the line that halves a corner meets the back of a strip along one of its legs."""
    guess = _moved(at, way, distance / cos(angle / 2.0))
    if not leg.bulge:
        return guess
    places = carriers_meet(Leg(at, guess, 0.0), beside(leg, distance))
    return min(places, key=lambda p: hypot(p[0] - guess[0], p[1] - guess[1]), default=guess)


def body(edges: Sequence[Edge], index: int, fill: float, lean: float) -> Prism:
    """The space a strip fills.

    Raises:
        GeometryError: where it comes to nothing between its neighbours (its name is not said).
    """
    foot, head = (_plan(edges, index, level, lean) for level in (False, True))
    return Prism(foot, fill, head=None if lean == 0.0 else head)


def _plan(edges: Sequence[Edge], index: int, head: bool, lean: float) -> Outline:
    edge = edges[index]
    before, after = edges[index - 1], edges[(index + 1) % len(edges)]
    start = meeting(before, edge, head, lean)[1]
    end = meeting(edge, after, head, lean)[0]
    inner = edge.stretch.head if head else edge.stretch.foot
    if not edge.stretch.bent:
        inner = (Leg(start[0], end[0], 0.0),)
        _refuse_short(inner[0], Leg(start[1], end[1], 0.0))
        outer: tuple[Leg, ...] = (Leg(start[1], end[1], 0.0),)
    else:
        back = merged(inner, edge.stretch.foot)
        outer = alongside(back, edge.thickness / cos(lean), start[1], end[1])
    path = [
        *outer,
        Leg(end[1], end[0], 0.0),
        *(_back(leg) for leg in reversed(inner)),
        Leg(start[0], start[1], 0.0),
    ]
    return Outline(tuple(leg.start for leg in path), tuple(leg.bulge for leg in path))


def _refuse_short(inner: Leg, outer: Leg) -> None:
    u = (inner.end[0] - inner.start[0], inner.end[1] - inner.start[1])
    v = (outer.end[0] - outer.start[0], outer.end[1] - outer.start[1])
    if u[0] * v[0] + u[1] * v[1] <= 0.0 or min(inner.chord, outer.chord) < _SHORTEST / 3.0:
        raise GeometryError(f"too short for a strip between its neighbours ({show.both(inner.chord)})")


def _back(leg: Leg) -> Leg:
    return Leg(leg.end, leg.start, -leg.bulge if leg.bulge else 0.0)


def named(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The strips with names of their own, in order round the mold."""
    return tuple(
        replace(edge, name=f"{_kind(edge)} edge {number}") for number, edge in enumerate(edges, start=1)
    )


def _kind(edge: Edge) -> str:
    if edge.kerfs:
        return "kerfed"
    return "bent" if edge.stretch.bent else "straight"


def pairs(edges: Sequence[Edge]) -> Iterator[tuple[Edge, Edge]]:
    """Every strip with the one that follows it."""
    return ((edge, edges[(i + 1) % len(edges)]) for i, edge in enumerate(edges))


def longest_cut(stock: SheetStock | StickStock, upright: bool, trim: float) -> float:
    """The longest strip that a stock gives, room for its ends taken off, m."""
    if isinstance(stock, StickStock):
        return max(one.length for one in stock.lengths) - _AT_SAW
    return (stock.width if upright else stock.length) - 2.0 * trim - _AT_SAW


def _moved(point: Point, way: Point, by: float) -> Point:
    return (point[0] + by * way[0], point[1] + by * way[1])


def _between(p: Point, q: Point) -> Point:
    return ((p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0)


def _unit(way: Point) -> Point:
    size = hypot(*way)
    return (way[0] / size, way[1] / size)
