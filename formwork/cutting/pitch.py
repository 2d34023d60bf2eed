"""How far one shape must be shifted past another to lie clear of it for good.

Two shapes come nearer than a gap to one another where the difference of a point of each is nearer than the gap to the
shift. The differences of two straight edges fill a parallelogram; so the greatest shift at which they still are too
near is read off the parallelograms of all pairs, grown by the gap: in closed form, no search, nothing to step over.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, inf, sqrt

from formwork.geometry.outlines import Point

Edge = tuple[Point, Point]


def least_shift(first: Sequence[Point], second: Sequence[Point], gap: float) -> float:
    """The least shift of a shape along y from which on it stays a gap or more from another.

    The last to come near are edges that face upward on the shape that stays and downward on the other.

    Args:
        first: corners of the closed shape that stays, counter-clockwise, m.
        second: corners of the one that is shifted, likewise.
        gap: least distance between them, m.

    Returns:
        The shift, m; minus infinity where no shift along y brings them nearer than the gap.

    >>> square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    >>> least_shift(square, square, 0.25)
    1.25
    """
    lower = sorted((a[0], b[0], (a, b)) for a, b in _edges(second) if a[0] <= b[0])
    found = -inf
    for a, b in _edges(first):
        if a[0] >= b[0]:
            for least, most, other in lower:
                if least > a[0] + gap:
                    break
                if most >= b[0] - gap:
                    found = max(found, _shift((a, b), other, gap))
    return found


def _edges(corners: Sequence[Point]) -> Iterator[Edge]:
    yield from zip(corners, (*corners[1:], corners[0]), strict=True)


def _shift(one: Edge, other: Edge, gap: float) -> float:
    """The greatest shift at which two edges are no further apart than the gap."""
    (a, b), (c, d) = one, other
    corners = [(p[0] - q[0], p[1] - q[1]) for p, q in ((a, c), (b, c), (b, d), (a, d))]
    round_corners = (y + sqrt(gap * gap - x * x) for x, y in corners if abs(x) <= gap)
    along_sides = (_over(p, q, gap) for p, q in _edges(corners))
    return max(-inf, *round_corners, *along_sides)


def _over(p: Point, q: Point, gap: float) -> float:
    """Height at x = 0 of a line from p to q that is moved upward by the gap, square to itself."""
    run, rise = q[0] - p[0], q[1] - p[1]
    length = hypot(run, rise)
    if length == 0.0:
        return -inf
    off = (
        (-rise / length * gap, run / length * gap)
        if run >= 0.0
        else (rise / length * gap, -run / length * gap)
    )
    start = p[0] + off[0]
    if min(start, start + run) > 0.0 or max(start, start + run) < 0.0 or run == 0.0:
        return -inf
    return p[1] + off[1] - start / run * rise
