"""Does a body that is drawn along a way run into another: quick partings first, the exact sweep where they fail.

Lengths in m.
"""

from __future__ import annotations

from collections.abc import Sequence

from formwork.geometry.cells import NEAR, Cell, cell, meet
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, add, dot, length, scale
from formwork.record import record

SLIVER = 1e-10
"""A smaller shared volume than this (m3, a tenth of a cubic millimetre) is rounding, not a block."""
_LEVEL = 1e-12
_OWN = 2_000_000


@record
class Bulk:
    """A cell made ready for many questions: its corners once each, its faces, the box round it."""

    cell: Cell
    points: tuple[Vec, ...]
    faces: tuple[tuple[Vec, float], ...]
    low: Vec
    high: Vec


@record
class Clash:
    """Where a drawn body runs into another: centre of the shared space, and its volume, m3."""

    at: Vec
    volume: float


def bulk(planes: Planes, body: Cell) -> Bulk:
    """A cell made ready."""
    low, high = body.box()
    halves = [planes.half(reference) for reference in body.facets]
    return Bulk(
        body, tuple(dict.fromkeys(body.points())), tuple((h.normal, h.offset) for h in halves), low, high
    )


def parted(a: Bulk, b: Bulk, way: Vec) -> bool:
    """Whether a box or a face shows at once that ``a``, drawn along the way for ever, never runs into ``b``.

    A false answer proves nothing.
    """
    for k in range(3):
        if way[k] > -_LEVEL and a.low[k] >= b.high[k] - NEAR:
            return True
        if way[k] < _LEVEL and a.high[k] <= b.low[k] + NEAR:
            return True
    return _apart(a.faces, b.points, way, 1.0) or _apart(b.faces, a.points, way, -1.0)


def _apart(faces: Sequence[tuple[Vec, float]], points: Sequence[Vec], way: Vec, sign: float) -> bool:
    """Whether one of the faces has all the points in front of it and the drawing never closes the gap."""
    for normal, offset in faces:
        nx, ny, nz = normal
        if sign * (nx * way[0] + ny * way[1] + nz * way[2]) <= _LEVEL:
            least = offset - NEAR
            if all(nx * x + ny * y + nz * z >= least for x, y, z in points):
                return True
    return False


def swept(body: Bulk, way: Vec, distance: float) -> Cell | None:
    """All the space a cell passes through on its way: its Minkowski sum with a segment.

    Faces that look back stay where they are, faces that look ahead go all the way, and each pair of one that looks
    ahead and one that looks back gives the plane through the edge they have, or would have, in common. The planes
    bear numbers of their own, which no register gives.
    """
    ahead: list[tuple[Vec, float, float]] = []
    back: list[tuple[Vec, float, float]] = []
    halves: list[HalfSpace] = []
    for normal, offset in body.faces:
        rate = dot(normal, way)
        if rate > _LEVEL:
            ahead.append((normal, offset, rate))
            halves.append(HalfSpace(normal, offset + rate * distance))
        else:
            halves.append(HalfSpace(normal, offset))
            if rate < -_LEVEL:
                back.append((normal, offset, rate))
    for n, d, rate in ahead:
        for m, e, fall in back:
            across = add(scale(n, -fall), scale(m, rate))
            size = length(across)
            if size > _LEVEL:
                halves.append(HalfSpace(scale(across, 1.0 / size), (rate * e - fall * d) / size))
    whole = cell(Planes(), halves, "space passed through")
    if whole is None:
        return None
    return Cell({_OWN + k: polygon for k, polygon in enumerate(whole.facets.values())})


def clash(planes: Planes, body: Bulk, others: Sequence[Bulk], way: Vec, distance: float) -> Clash | None:
    """Where a cell drawn along a way runs into disjoint others; None where it runs free."""
    met = [other for other in others if not parted(body, other, way)]
    if not met:
        return None
    path = swept(body, way, distance)
    shared = [
        both for other in met if path is not None and (both := meet(planes, path, other.cell)) is not None
    ]
    sizes = [both.volume() for both in shared]
    if sum(sizes) <= SLIVER:
        return None
    worst = max(range(len(sizes)), key=lambda k: (sizes[k], -k))
    return Clash(shared[worst].centroid(), sum(sizes))
