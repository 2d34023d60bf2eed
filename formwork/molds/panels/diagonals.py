"""What the two diagonals of a box of four sides measure, to be told to who squares it. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, dist

from formwork.geometry.cells import Cell
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, dot, sub
from formwork.units import show
from formwork.units.show import UnitSystem

_ON = 1e-6
_EQUAL = 5e-5
"""Diagonals nearer than this are told as one figure."""

Corners = tuple[tuple[float, float], ...]


def corners_at(body: Cell, height: float) -> Corners:
    """The corners of a body at the height of its level foot or head, counter-clockwise, the front left one first."""
    found = sorted({(round(x, 7), round(y, 7)) for x, y, z in body.points() if abs(z - height) < _ON})
    if not found:
        return ()
    x0, y0 = (sum(values) / len(found) for values in zip(*found, strict=True))
    return tuple(sorted(found, key=lambda p: atan2(p[1] - y0, p[0] - x0)))


def diagonals(corners: Corners) -> tuple[float, float] | None:
    """Both diagonals of four corners, that from the front left one first; None for any other number."""
    if len(corners) != 4:
        return None
    return dist(corners[0], corners[2]), dist(corners[1], corners[3])


def beside(boards: Sequence[Cell], corner: tuple[float, float], height: float) -> tuple[float, float]:
    """Where a tape finds a corner that a board stands in: beside the board, at the end of its thickness.

    Args:
        boards: on the sides, against the corner or not.
        corner: of the box.
        height: that is measured at.
    """
    for board in boards:
        level = [(x, y) for x, y, z in board.points() if abs(z - height) < _ON]
        away = sorted((dist(point, corner), point) for point in level)
        if away and away[0][0] < _ON:
            return next(point for size, point in away if size > _ON)
    return corner


def between(
    planes: Planes, corners: Corners, height: float, inside: Sequence[Cell]
) -> tuple[float, float] | None:
    """Both diagonals as a tape measures them between what stands in the corners.

    Args:
        planes: the register of the cells.
        corners: of the box.
        height: that is measured at.
        inside: strips in the corners.
    """
    whole = diagonals(corners)
    if whole is None:
        return None
    tapes = [((*corners[i], height), (*corners[i + 2], height)) for i in (0, 1)]
    first, second = (
        length - sum(_within(planes, body, *tape) for body in inside)
        for length, tape in zip(whole, tapes, strict=True)
    )
    return first, second


def _within(planes: Planes, body: Cell, start: Vec, end: Vec) -> float:
    """Length of a straight line that runs through a cell."""
    low, high, way = 0.0, 1.0, sub(end, start)
    for ref in body.facets:
        half = planes.half(ref)
        depth, rate = half.depth(start), dot(half.normal, way)
        if abs(rate) < 1e-12:
            if depth < 0.0:
                return 0.0
        elif rate > 0.0:
            high = min(high, depth / rate)
        else:
            low = max(low, depth / rate)
    return max(0.0, high - low) * dist(start, end)


def told(found: tuple[float, float] | None, units: UnitSystem) -> str:
    """The figures in words: one where both are equal; nothing where there are none."""
    if found is None:
        return ""
    first, second = (show.length(one, units) for one in found)
    if abs(found[0] - found[1]) < _EQUAL:
        return f"both {first}"
    return f"{first} from front left to back right, {second} from front right to back left"
