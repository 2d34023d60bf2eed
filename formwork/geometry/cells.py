"""Cells: bounded intersections of half-spaces, and what can be cut out of them.

A cell keeps its facets by the signed reference of the plane they lie on (see ``planes``). Cutting a cell by a
plane gives at most two cells; from that one step follow ``minus``, ``meet`` and ``union``, each as disjoint cells,
so that a volume is always a plain sum. All lengths are in m.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import atan2

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, across, cross, dot, length, mean, sub

NEAR = 1e-9
"""A point nearer to a plane than this (m) lies on it."""
_REACH = 64.0
_WALLS = (
    (1.0, 0.0, 0.0),
    (-1.0, 0.0, 0.0),
    (0.0, 1.0, 0.0),
    (0.0, -1.0, 0.0),
    (0.0, 0.0, 1.0),
    (0.0, 0.0, -1.0),
)
_AXIS = {normal: wall for wall, normal in enumerate(_WALLS)}
_RINGS = ((1, 3, 7, 5), (2, 0, 4, 6), (3, 2, 6, 7), (0, 1, 5, 4), (4, 5, 7, 6), (2, 3, 1, 0))
"""Corners of a box, numbered x fastest, round each of its walls, counter-clockwise seen from outside."""

Polygon = tuple[Vec, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A convex body: its facets, each a polygon counter-clockwise from outside, by signed plane reference."""

    facets: dict[int, Polygon]
    _box: list[tuple[Vec, Vec]] = field(default_factory=list, init=False, repr=False, compare=False)

    def points(self) -> tuple[Vec, ...]:
        """Every facet's corners, repeats included."""
        return tuple(p for polygon in self.facets.values() for p in polygon)

    def box(self) -> tuple[Vec, Vec]:
        """Least and greatest corner of the box round the cell, worked out once: every meeting asks for it."""
        if not self._box:
            xs, ys, zs = zip(*self.points(), strict=True)
            self._box.append(((min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))))
        return self._box[0]

    def volume(self) -> float:
        """Volume, m3, by the divergence theorem about the mean of the corners."""
        centre = mean(self.points())
        six = 0.0
        for polygon in self.facets.values():
            first = sub(polygon[0], centre)
            edge = sub(polygon[1], centre)
            for corner in polygon[2:]:
                after = sub(corner, centre)
                six += dot(first, cross(edge, after))
                edge = after
        return six / 6.0

    def in_plan(self) -> float:
        """Area that it covers in plan, m2; no level section of it is larger."""
        return sum(max(0.0, plan_area(polygon)) for polygon in self.facets.values())

    def centroid(self) -> Vec:
        """Centre of volume."""
        centre = mean(self.points())
        six = 0.0
        sums = [0.0, 0.0, 0.0]
        for polygon in self.facets.values():
            first = sub(polygon[0], centre)
            edge = sub(polygon[1], centre)
            for corner in polygon[2:]:
                after = sub(corner, centre)
                part = dot(first, cross(edge, after))
                six += part
                for axis in range(3):
                    sums[axis] += part * (first[axis] + edge[axis] + after[axis]) / 4.0
                edge = after
        return (centre[0] + sums[0] / six, centre[1] + sums[1] / six, centre[2] + sums[2] / six)


def plan_area(polygon: Polygon) -> float:
    """Area of a facet in plan, m2: above 0 where it looks up, below 0 where it looks down."""
    return sum(x0 * y1 - x1 * y0 for (x0, y0, _), (x1, y1, _) in pairwise((*polygon, polygon[0]))) / 2.0


def area(polygon: Polygon) -> float:
    """Area of a plane polygon in space, m2."""
    total = (0.0, 0.0, 0.0)
    for i in range(1, len(polygon) - 1):
        part = cross(sub(polygon[i], polygon[0]), sub(polygon[i + 1], polygon[0]))
        total = (total[0] + part[0], total[1] + part[1], total[2] + part[2])
    return 0.5 * length(total)


def cell(planes: Planes, halves: Iterable[HalfSpace], what: str = "cell") -> Cell | None:
    """The cell that the half-spaces enclose, or None where they enclose nothing.

    Raises:
        GeometryError: if the half-spaces leave a way out to infinity.
    """
    bounds, sides, slanted = _bounds(planes, halves)
    body = _room(bounds, sides)
    for reference in slanted:
        if body is None:
            return None
        body, _ = split(planes, body, reference)
    if body is not None and any(reference in _ROOM_SIDES for reference in body.facets):
        raise GeometryError(f"{what} is not closed: its planes leave a way out")
    return body


_ROOM_BASE = 1_000_000
_ROOM_SIDES = tuple(range(_ROOM_BASE, _ROOM_BASE + 6))


def _bounds(planes: Planes, halves: Iterable[HalfSpace]) -> tuple[list[float], list[int], list[int]]:
    """How far a body may reach along each axis either way, the planes that say so, and the slanted planes.

    Where no plane says so the reach is far larger than any mold, on planes whose numbers no register gives.
    """
    bounds = [_REACH] * 6
    sides = list(_ROOM_SIDES)
    slanted = []
    for half in halves:
        reference = planes.enter(half)
        known = planes.half(reference)
        wall = _AXIS.get(known.normal)
        if wall is None:
            slanted.append(reference)
        elif known.offset < bounds[wall]:
            bounds[wall] = known.offset
            sides[wall] = reference
    return bounds, sides, slanted


def _room(bounds: Sequence[float], sides: Sequence[int]) -> Cell | None:
    """The box with these bounds, in the order of ``_WALLS``, or None where it has no inside."""
    east, west, north, south, top, bottom = bounds
    if east + west <= NEAR or north + south <= NEAR or top + bottom <= NEAR:
        return None
    corners = [(x, y, z) for z in (-bottom, top) for y in (-south, north) for x in (-west, east)]
    return Cell({side: tuple(corners[k] for k in ring) for side, ring in zip(sides, _RINGS, strict=True)})


def split(planes: Planes, body: Cell, reference: int) -> tuple[Cell | None, Cell | None]:
    """Cut a cell by a plane: what lies inside the half-space, and what lies outside; None for nothing.

    A cell that only touches the plane goes whole to its side.
    """
    half = planes.half(reference)
    nx, ny, nz = half.normal
    d = half.offset
    heights = {
        ref: [nx * p[0] + ny * p[1] + nz * p[2] - d for p in polygon] for ref, polygon in body.facets.items()
    }
    spans = {ref: (min(h), max(h)) for ref, h in heights.items()}
    if max(high for _, high in spans.values()) <= NEAR:
        return body, None
    if min(low for low, _ in spans.values()) >= -NEAR:
        return None, body
    inside: dict[int, Polygon] = {}
    outside: dict[int, Polygon] = {}
    rim: list[Vec] = []
    for ref, polygon in body.facets.items():
        lowest, highest = spans[ref]
        if highest < -NEAR:
            inside[ref] = polygon
        elif lowest > NEAR:
            outside[ref] = polygon
        else:
            low, high = _cut(polygon, heights[ref], rim)
            if low and lowest < -NEAR:
                inside[ref] = low
            if high and highest > NEAR:
                outside[ref] = high
    cap = _ring(rim, half.normal)
    if cap:
        inside[reference] = cap
        outside[-reference] = cap[::-1]
    return _whole(inside), _whole(outside)


def _whole(facets: dict[int, Polygon]) -> Cell | None:
    """The cell of these facets, unless too few are left to enclose anything."""
    return Cell(facets) if len(facets) >= 4 else None


def _cut(polygon: Polygon, heights: Sequence[float], rim: list[Vec]) -> tuple[Polygon, Polygon]:
    """Both sides of a polygon cut by a plane; points on the plane are added to ``rim``."""
    low: list[Vec] = []
    high: list[Vec] = []
    for i, point in enumerate(polygon):
        h = heights[i]
        before = heights[i - 1]
        if (before < -NEAR and h > NEAR) or (before > NEAR and h < -NEAR):
            crossed = _between(polygon[i - 1], point, before, h)
            low.append(crossed)
            high.append(crossed)
            rim.append(crossed)
        if h <= NEAR:
            low.append(point)
        if h >= -NEAR:
            high.append(point)
        if -NEAR <= h <= NEAR:
            rim.append(point)
    return tuple(low) if len(low) > 2 else (), tuple(high) if len(high) > 2 else ()


def _between(a: Vec, b: Vec, ha: float, hb: float) -> Vec:
    """Where the edge from a to b crosses the plane; the same point for the edge from b to a."""
    if a > b:
        a, b, ha, hb = b, a, hb, ha
    t = ha / (ha - hb)
    return (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2]))


def _ring(points: list[Vec], normal: Vec) -> Polygon:
    """The convex polygon of scattered points on one plane, counter-clockwise about the normal."""
    corners: list[Vec] = []
    for p in dict.fromkeys(points):
        x, y, z = p
        for q in corners:
            if abs(x - q[0]) + abs(y - q[1]) + abs(z - q[2]) < 2 * NEAR:
                break
        else:
            corners.append(p)
    if len(corners) < 3:
        return ()
    centre = mean(tuple(corners))
    u, v = across(normal)
    corners.sort(key=lambda p: atan2(dot(sub(p, centre), v), dot(sub(p, centre), u)))
    return tuple(corners)


def crossing(planes: Planes, body: Cell, tool: Cell) -> list[int] | None:
    """The tool's planes that run through the body, in their order; None if a plane or a box parts the two."""
    if not _boxes_meet(body, tool):
        return None
    points = set(body.points())
    through = []
    for reference in tool.facets:
        half = planes.half(reference)
        nx, ny, nz = half.normal
        heights = [nx * x + ny * y + nz * z for x, y, z in points]
        if min(heights) >= half.offset - NEAR:
            return None
        if max(heights) > half.offset + NEAR:
            through.append(reference)
    return through


def minus(planes: Planes, body: Cell, tool: Cell) -> list[Cell]:
    """The cell without what it shares with another, as disjoint cells."""
    through = crossing(planes, body, tool)
    if through is None:
        return [body]
    left: list[Cell] = []
    rest: Cell | None = body
    for reference in through:
        if rest is None:
            break
        rest, out = split(planes, rest, reference)
        if out is not None:
            left.append(out)
    return left if rest is not None else [body]


def meet(planes: Planes, body: Cell, tool: Cell) -> Cell | None:
    """What two cells share, or None."""
    through = crossing(planes, body, tool)
    if through is None:
        return None
    rest: Cell | None = body
    for reference in through:
        if rest is None:
            return None
        rest, _ = split(planes, rest, reference)
    return rest


def cut_away(planes: Planes, bodies: Iterable[Cell], tools: Iterable[Cell]) -> list[Cell]:
    """The bodies without any of the tools, as disjoint cells (disjoint if the bodies are)."""
    rest = list(bodies)
    for tool in tools:
        rest = [part for body in rest for part in minus(planes, body, tool)]
    return rest


def union(planes: Planes, bodies: Sequence[Cell]) -> list[Cell]:
    """Cells that may overlap, as disjoint cells that fill the same space."""
    done: list[Cell] = []
    for body in bodies:
        done.extend(cut_away(planes, [body], list(done)))
    return done


def volume(bodies: Iterable[Cell]) -> float:
    """Sum of the volumes of disjoint cells, m3."""
    return sum(body.volume() for body in bodies)


def box_of(bodies: Iterable[Cell]) -> tuple[Vec, Vec]:
    """Least and greatest corner of the box round all the cells."""
    boxes = [body.box() for body in bodies]
    low = tuple(min(b[0][i] for b in boxes) for i in range(3))
    high = tuple(max(b[1][i] for b in boxes) for i in range(3))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def moved(planes: Planes, body: Cell, by: Vec) -> Cell:
    """The cell carried along by a translation (m), its planes entered anew."""
    return Cell(
        {
            planes.enter(planes.half(ref).shifted(by)): tuple(
                (p[0] + by[0], p[1] + by[1], p[2] + by[2]) for p in polygon
            )
            for ref, polygon in body.facets.items()
        }
    )


def _boxes_meet(a: Cell, b: Cell) -> bool:
    (ax, ay, az), (bx, by, bz) = a.box()
    (cx, cy, cz), (dx, dy, dz) = b.box()
    return not (
        ax >= dx - NEAR
        or cx >= bx - NEAR
        or ay >= dy - NEAR
        or cy >= by - NEAR
        or az >= dz - NEAR
        or cz >= bz - NEAR
    )


def support(body: Cell, direction: Vec) -> float:
    """Greatest ``direction . x`` over the cell."""
    return max(dot(direction, p) for p in body.points())


def flat(polygon: Polygon, normal: Vec) -> tuple[tuple[float, float], ...]:
    """A plane polygon in the two axes that ``across`` gives for its normal, m."""
    u, v = across(normal)
    return tuple((dot(p, u), dot(p, v)) for p in polygon)
