"""Sheets seen as bars: a line across a sheet is a stick, and what it meets of the blanks is cut from it.

Every line along a sheet meets blanks whose lengths fit beside each other in the sheet's length. So the widths of
all blanks, each as that many lines of its length, are cut from sticks of the sheet's length; the continuous stick
problem tells how many lines that takes at least, and a sheet has no more lines than its width. The same holds where
the widths are changed by a dual feasible function first, and with length and width exchanged.

Source: A. Caprara and M. Monaci, Bidimensional packing by bilinear programming, Mathematical Programming 118 (2009)
75-108 [from memory].
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil

from formwork.cutting.columns import relax
from formwork.cutting.job import Kinds
from formwork.cutting.stick_job import Stick, StickJob

_FEW_SIZES, _MOST_SIZES = 8, 30
"""Up to so many sizes every function is tried, up to so many the first few; with more it takes too long."""

_FIRST = 1
"""Functions tried with many sizes: the first leaves the widths as they are."""

_SMALL = 1e-6
"""A number of sheets this little above a whole one is the whole one."""

Functions = Sequence[tuple[Sequence[int], int]]
"""Sizes of the blanks changed by each function, and what the whole changes to."""


def bar_counts(kinds: Kinds, length: int, across: Functions) -> Iterator[int]:
    """Numbers of sheets of one size that no plan goes below, one for each function.

    A blank that may turn counts as a square of its lesser side, which it holds however it lies.

    Args:
        kinds: the blanks.
        length: of the sheet, steps.
        across: the widths of the blanks changed by dual feasible functions.
    """
    lengths = [
        min(one, other) if turns else one
        for one, other, turns in zip(kinds.lengths, kinds.widths, kinds.turns, strict=True)
    ]
    most = len(set(lengths))
    for widths, whole in across[: len(across) if most <= _FEW_SIZES else _FIRST * (most <= _MOST_SIZES)]:
        lines: Counter[int] = Counter()
        for size, width, count in zip(lengths, widths, kinds.wanted, strict=True):
            if width:
                lines[size] += width * count
        yield ceil(_least(lines, length) / whole - _SMALL)


def _least(lines: Counter[int], length: int) -> float:
    """Sticks of this length that the lines are cut from, in fractions."""
    sizes = sorted(lines, reverse=True)
    stick = Stick(length, 1.0, None)
    job = StickJob(tuple(sizes), tuple(lines[size] for size in sizes), (), (stick,), (), priced=False)
    return relax(job).least if sizes else 0.0
