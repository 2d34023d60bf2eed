"""Convex polygons in a plane: area, overlap, width, how near a point in space comes to one. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

from formwork.geometry.cells import Polygon
from formwork.geometry.vectors import Vec, add, cross, dot, length, scale, sub

Spot = tuple[float, float]
Outline = tuple[Spot, ...]


def outline_area(outline: Sequence[Spot]) -> float:
    """Area of a plane polygon, m2, positive where it runs counter-clockwise.

    Source: shoelace formula.

    >>> outline_area(((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)))
    2.0
    """
    twice = 0.0
    x, y = outline[-1]
    for u, v in outline:
        twice += x * v - u * y
        x, y = u, v
    return 0.5 * twice


def overlap(a: Outline, b: Outline) -> Outline:
    """What two convex, counter-clockwise polygons share; empty where they share no area.

    >>> square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    >>> overlap(square, ((1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)))
    ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    """
    rest: Sequence[Spot] = a
    for k, (x2, y2) in enumerate(b):
        x1, y1 = b[k - 1]
        rest = _left_of(rest, x1, y1, x2 - x1, y2 - y1)
        if len(rest) < 3:
            return ()
    return tuple(rest)


def _left_of(points: Sequence[Spot], x: float, y: float, dx: float, dy: float) -> list[Spot]:
    """The part of a convex polygon on the left of a line."""
    sides = [dx * (q - y) - dy * (p - x) for p, q in points]
    if min(sides) >= 0.0:
        return list(points)
    kept: list[Spot] = []
    for i, here in enumerate(points):
        before, s, t = points[i - 1], sides[i - 1], sides[i]
        if (s < 0.0 < t) or (t < 0.0 < s):
            k = s / (s - t)
            kept.append((before[0] + k * (here[0] - before[0]), before[1] + k * (here[1] - before[1])))
        if t >= 0.0:
            kept.append(here)
    return kept


def width(outline: Sequence[Spot]) -> float:
    """Least distance between two parallel lines that hold a convex polygon between them, m.

    >>> width(((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (0.0, 1.0)))
    1.0
    """
    least = float("inf")
    for k, (x2, y2) in enumerate(outline):
        x1, y1 = outline[k - 1]
        size = hypot(x2 - x1, y2 - y1)
        if size < 1e-12:
            continue
        least = min(least, max(((x2 - x1) * (q - y1) - (y2 - y1) * (p - x1)) / size for p, q in outline))
    return least


def hull(spots: Iterable[Spot]) -> Outline:
    """The least convex polygon round some points, counter-clockwise (monotone chain).

    >>> hull(((0.0, 0.0), (1.0, 1.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)))
    ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    """
    order = sorted(set(spots))
    return tuple(_chain(order)[:-1] + _chain(order[::-1])[:-1])


def _chain(spots: Iterable[Spot]) -> list[Spot]:
    """The points that turn left all the way."""
    kept: list[Spot] = []
    for p, q in spots:
        while len(kept) > 1 and (kept[-1][0] - kept[-2][0]) * (q - kept[-2][1]) <= (
            kept[-1][1] - kept[-2][1]
        ) * (p - kept[-2][0]):
            kept.pop()
        kept.append((p, q))
    return kept


def perimeter(outline: Sequence[Spot]) -> float:
    """Length round a polygon, m."""
    return sum(
        hypot(p[0] - q[0], p[1] - q[1]) for p, q in zip(outline, (*outline[1:], outline[0]), strict=True)
    )


def middle(outline: Sequence[Spot]) -> Spot:
    """Centre of area of a polygon, m."""
    x0, y0 = outline[0]
    six = sx = sy = 0.0
    for k in range(1, len(outline) - 1):
        ax, ay = outline[k][0] - x0, outline[k][1] - y0
        bx, by = outline[k + 1][0] - x0, outline[k + 1][1] - y0
        part = ax * by - bx * ay
        six += 3.0 * part
        sx += part * (ax + bx)
        sy += part * (ay + by)
    return x0 + sx / six, y0 + sy / six


def reach(polygon: Polygon, point: Vec) -> float:
    """Distance from a point in space to a convex plane polygon, m."""
    normal = cross(sub(polygon[1], polygon[0]), sub(polygon[2], polygon[0]))
    edges = list(zip(polygon, (*polygon[1:], polygon[0]), strict=True))
    if all(dot(cross(normal, sub(b, a)), sub(point, a)) >= 0.0 for a, b in edges):
        return abs(dot(normal, sub(point, polygon[0]))) / length(normal)
    return min(_from_edge(a, b, point) for a, b in edges)


def _from_edge(a: Vec, b: Vec, point: Vec) -> float:
    run = sub(b, a)
    t = dot(sub(point, a), run) / max(dot(run, run), 1e-30)
    return length(sub(point, add(a, scale(run, min(1.0, max(0.0, t))))))
