"""Taking edge forms off: which strip leaves when, and which way, once its blocks are unscrewed from the base.

A strip is free along a way that leads away from the piece wherever they touch, and away from every neighbour that still
stands. What is bent thin may besides be sprung open and peeled off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import asin, cos, hypot, pi, sin

from formwork.geometry.crossings import direction
from formwork.geometry.offsets import right
from formwork.geometry.outlines import Leg, Point
from formwork.geometry.vectors import Vec, add, dot, unit
from formwork.molds.edges.edging import Edge, joint, meeting
from formwork.molds.mold import Strip

UP: Vec = (0.0, 0.0, 1.0)
_FREE = -1e-9
_PEEL = "spring it open at one end and peel it off"
_OUT = "unscrew its blocks from the base, pull it straight out with them"
_UP = "unscrew its blocks from the base, slide it up with them"


def strips_off(edges: Sequence[Edge], lean: float) -> tuple[tuple[Strip, ...], tuple[tuple[str, str], ...]]:
    """The order in which the strips leave, and those that cannot.

    Args:
        edges: in order round the mold.
        lean: of the strips outward, going up, rad.
    """
    left, steps = list(range(len(edges))), []
    pieces = [_from_piece(edges, i, lean) for i in left]
    while left:
        found = [(step, i) for i in left if (step := _free(edges, i, left, pieces[i])) is not None]
        if not found:
            break
        step, gone = max(found, key=lambda one: (round(one[0].draft, 6), -one[1]))
        steps.append(step)
        left.remove(gone)
    why = "the piece holds it on two sides: a smaller draft lets it slide up, or part it in two"
    return tuple(steps), tuple((edges[i].name, f"{edges[i].name} is locked: {why}") for i in left)


def _from_piece(edges: Sequence[Edge], index: int, lean: float) -> list[Vec]:
    """Normals from the piece into a leaning strip, each once."""
    level = dict.fromkeys((round(x, 9), round(y, 9)) for x, y in _against_piece(edges, index))
    return [(x * cos(lean), y * cos(lean), -sin(lean)) for x, y in level]


def _free(edges: Sequence[Edge], index: int, left: Sequence[int], piece: Sequence[Vec]) -> Strip | None:
    """A way out for a strip beside those that still stand; None where there is none."""
    others = [(*n, 0.0) for n in _against_neighbours(edges, index, left)]
    best: tuple[float, Vec] | None = None
    for way in _candidates([*piece, *others]):
        if min(dot(n, way) for n in (*piece, *others)) >= _FREE:
            draft = min(dot(n, way) for n in piece)
            if best is None or draft > best[0] + 1e-9:
                best = (draft, way)
    edge = edges[index]
    if best is not None:
        draft, way = best
        return Strip(edge.name, way, asin(max(0.0, min(1.0, draft))), _UP if way == UP else _OUT)
    if edge.stretch.bent:
        return Strip(edge.name, unit((*_normal(_middle(edge)), 0.0)), 0.0, _PEEL)
    return None


def _candidates(normals: Sequence[Vec]) -> Iterator[Vec]:
    """Ways worth trying: along the normals, square to them, along sums of two, and straight up."""
    level = [unit((x, y, 0.0)) for x, y, _ in normals]
    yield from level
    for x, y, _ in level:
        yield (y, -x, 0.0)
        yield (-y, x, 0.0)
    for i, one in enumerate(level):
        for other in level[:i]:
            both = add(one, other)
            if hypot(both[0], both[1]) > 1e-6:
                yield unit(both)
    yield UP


def _middle(edge: Edge) -> Leg:
    return edge.stretch.foot[len(edge.stretch.foot) // 2]


def _normal(leg: Leg) -> Point:
    """Outward at the middle of a leg."""
    if leg.bulge == 0.0:
        return right(direction(leg))
    arc = leg.arc()
    x, y = arc.at(0.5)
    sense = 1.0 if leg.bulge > 0.0 else -1.0
    return (sense * (x - arc.centre[0]) / arc.radius, sense * (y - arc.centre[1]) / arc.radius)


def _against_piece(edges: Sequence[Edge], index: int) -> list[Point]:
    """Level normals, from the piece into a strip, wherever they touch."""
    edge = edges[index]
    found = [
        n
        for leg in edge.stretch.foot
        for n in (right(direction(leg)), _normal(leg), right(direction(leg, end=True)))
    ]
    after = edges[(index + 1) % len(edges)]
    if joint(edge, after) == "lap" and not _convex(edge, after):
        found.append(right(direction(after.stretch.foot[0])))
    return list(dict.fromkeys(found))


def _convex(before: Edge, after: Edge) -> bool:
    (ux, uy), (vx, vy) = direction(before.stretch.foot[-1], end=True), direction(after.stretch.foot[0])
    return ux * vy - uy * vx > 0.0


def _against_neighbours(edges: Sequence[Edge], index: int, left: Sequence[int]) -> Iterator[Point]:
    """Level normals, from the neighbours that still stand into a strip, at their joints."""
    count = len(edges)
    if count == 1:
        return
    before, after = (index - 1) % count, (index + 1) % count
    if before in left:
        x, y = _joint_normal(edges[before], edges[index])
        yield (-x, -y)
    if after in left:
        yield _joint_normal(edges[index], edges[after])


def _joint_normal(before: Edge, after: Edge) -> Point:
    """Normal of the joint between two strips, from the second into the first."""
    kind = joint(before, after)
    if kind == "lap back":
        x, y = right(direction(after.stretch.foot[0]))
        return (-x, -y)
    if kind == "lap":
        x, y = right(direction(before.stretch.foot[-1]))
        return (x, y) if _convex(before, after) else (-x, -y)
    (inner, back), _ = meeting(before, after, False, 0.0)
    x, y = back[0] - inner[0], back[1] - inner[1]
    size = hypot(x, y)
    return (y / size, -x / size) if _ahead(before, (y, -x)) < 0.0 else (-y / size, x / size)


def _ahead(edge: Edge, way: Point) -> float:
    """How far a way leads on beyond the end of a strip."""
    u = direction(edge.stretch.foot[-1], end=True)
    return u[0] * way[0] + u[1] * way[1]


def off_the_piece(cores: Sequence[tuple[str, float]], chamfered: bool) -> tuple[Strip, ...]:
    """What leaves downward when the strips are off: the base with its edge strip, then each core with its lean."""
    down: Vec = (0.0, 0.0, -1.0)
    note = "turn all over and lift it off"
    base = Strip("base", down, pi / 4.0 if chamfered else pi / 2.0, note)
    return (base, *(Strip(name, down, lean, "unscrew it from the base, then turn all over and lift it off")
                    for name, lean in cores))  # fmt: skip
