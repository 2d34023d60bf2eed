"""The most valuable way of cutting one sheet, as many blanks of each kind as one likes, straight through cuts only.

A rectangle is worth its best blank, or what its two sides are worth after a cut; cuts need be tried only where blanks
laid side by side can end. So the worth of every rectangle follows from those of smaller ones, to the whole sheet.
No plan gives a sheet more worth than that, however often the saw turns. Where one kind alone counts, and counts one
each, it is the most that a sheet gives of it, and all of them take no fewer sheets than that leaves.

Source: P. C. Gilmore and R. E. Gomory, The theory and computation of knapsack functions, Operations Research 14 (1966)
1045-1074; where cuts are tried: J. C. Herz, IBM Journal of Research and Development 16 (1972) 462-469 [both from
memory].
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from formwork.cutting.job import Kinds

if TYPE_CHECKING:
    import numpy as np

    Worths = np.ndarray[tuple[int, int], np.dtype[np.float64]]

_MOST_ENDS = 600
"""With more places than these where blanks can end along a side, the worths take too long."""

_KINDS = 6
"""Kinds that are looked at alone, those with most area first."""


def most_worth(kinds: Kinds, values: Sequence[float], length: int, width: int) -> float | None:
    """What one sheet is worth at most; None where there are too many places to cut at.

    Args:
        kinds: the blanks, as many of each as one likes.
        values: of one blank of each kind.
        length: of the sheet, in the same whole numbers.
        width: of the sheet.

    >>> most_worth(Kinds((3, 2), (2, 2), (False, False), (1, 1)), [7.0, 4.0], 5, 4)
    22.0
    """
    lying = [
        (p, q, value)
        for a, b, turns, value in zip(*kinds[:3], values, strict=True)
        for p, q in ([(a, b), (b, a)] if turns else [(a, b)])
        if p <= length and q <= width
    ]
    xs, ys = _ends({p for p, _, _ in lying}, length), _ends({q for _, q, _ in lying}, width)
    return float(_worths(lying, xs, ys)[-1, -1]) if xs and ys else None


def counts_alone(kinds: Kinds, length: int, width: int) -> Iterator[int]:
    """Numbers of sheets that no plan goes below, from each of the main kinds alone.

    Args:
        kinds: the blanks, grown by a kerf.
        length: of the sheet, likewise.
        width: of the sheet.
    """
    areas = [a * b * many for a, b, _, many in zip(*kinds, strict=True)]
    for kind in sorted(range(len(areas)), key=lambda one: -areas[one])[:_KINDS]:
        alone = Kinds(*((column[kind],) for column in kinds))  # type: ignore[arg-type]
        most = most_worth(alone, [1.0], length, width)
        if most:
            yield -(-kinds.wanted[kind] // round(most))


def _worths(lying: Iterable[tuple[int, int, float]], xs: list[int], ys: list[int]) -> Worths:
    """What each rectangle is worth at most, from the lower left end to each."""
    import numpy as np  # noqa: PLC0415 - few jobs need it

    worth = np.zeros((len(xs), len(ys)))
    for p, q, value in lying:
        corner = worth[bisect_left(xs, p) :, bisect_left(ys, q) :]
        np.maximum(corner, value, out=corner)
    along = [(np.array(near, int), np.array(far, int)) for near, far in _pairs(ys)]
    for x, (near, far) in enumerate(_pairs(xs)):
        row = worth[x]
        if near:
            np.maximum(row, (worth[near] + worth[far]).max(axis=0), out=row)
        for y, (below, above) in enumerate(along):
            if len(below):
                row[y] = max(row[y], (row[below] + row[above]).max())
    return worth


def _ends(sizes: set[int], whole: int) -> list[int]:
    """Where blanks of these sizes, side by side, can end, and the whole; nothing where these are too many."""
    reached = {0}
    for size in sorted(sizes):
        for start in sorted(reached):
            end = start + size
            while end <= whole and end not in reached and len(reached) <= _MOST_ENDS:
                reached.add(end)
                end += size
    return sorted((reached | {whole}) - {0}) if len(reached) <= _MOST_ENDS else []


def _pairs(ends: Sequence[int]) -> list[tuple[list[int], list[int]]]:
    """For each end, the cuts that part it in two: places of the ends on both sides, the smaller first."""
    found = []
    for end in ends:
        near = [place for place, at in enumerate(ends) if 2 * at <= end]
        far = [bisect_right(ends, end - ends[place]) - 1 for place in near]
        found.append((near, far))
    return found
