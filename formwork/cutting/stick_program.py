"""Sticks without waste: every way of cutting one that wastes no more than all sticks together may, and which to take.

Where the parts fill the sticks of the bound to the last, or nearly, few ways of cutting are left of the many that
fit, and choosing among them is a small integer program. That is where rounding and searching do worst.
"""

from __future__ import annotations

from bisect import bisect_left

from formwork.cutting.program import Program, choose
from formwork.cutting.stick_job import Pattern, StickJob
from formwork.cutting.stick_search import Cutting

_MOST_PATTERNS, _MOST_STEPS = 20_000, 400_000
"""Most ways of cutting looked at, and most steps in writing them down: with more, the program would be too large."""

_NODES = 500
"""Branches looked at."""


def cut_without_waste(job: StickJob, ceiling: float) -> Cutting | None:
    """A cutting that costs no more than the ceiling, if one is found; sticks in limited number are not considered.

    Args:
        job: sizes, numbers and sticks.
        ceiling: dearest cost of interest.
    """
    sold = [(number, stick) for number, stick in enumerate(job.sticks) if not stick.missing]
    rate = min(stick.cost / stick.room for _, stick in sold)
    if rate <= 0.0 or any(stick.limit is not None for _, stick in sold):
        return None
    length = sum(size * count for size, count in zip(job.sizes, job.wanted, strict=True))
    patterns: list[Pattern] = []
    writer = _Writer(job)
    for number, stick in sold:
        waste = int((ceiling - rate * length - stick.cost) / rate + stick.room + 1e-6)
        if waste >= 0 and not writer.write(number, stick.room, waste, patterns):
            return None
    return _chosen(job, patterns, ceiling)


def _chosen(job: StickJob, patterns: list[Pattern], ceiling: float) -> Cutting | None:
    holds = [{row: count for row, count in enumerate(one.counts) if count} for one in patterns]
    exact = dict(enumerate(job.wanted))
    taken = choose(Program([job.cost(one) for one in patterns], holds, job.wanted, exact), ceiling, _NODES)
    if taken is None:
        return None
    return {one: count for one, count in zip(patterns, taken, strict=True) if count}


class _Writer:
    """Writes down every way of cutting, longest length first."""

    def __init__(self, job: StickJob) -> None:
        self._sizes, self._wanted = job.sizes, job.wanted
        self._shorter = [-size for size in job.sizes]
        self._steps = _MOST_STEPS

    def write(self, stick: int, room: int, waste: int, patterns: list[Pattern]) -> bool:
        """Add the ways of cutting one stick to the list; False where there are too many of them.

        Args:
            stick: number of the stick.
            room: its length, steps.
            waste: most of it that may be left, steps.
            patterns: the list.
        """
        self._go(0, room, waste, [0] * len(self._sizes), stick, patterns)
        return self._steps > 0 and len(patterns) <= _MOST_PATTERNS

    def _go(
        self, row: int, room: int, waste: int, counts: list[int], stick: int, patterns: list[Pattern]
    ) -> None:
        """Add one more part no longer than the last, as long as the rest can still be filled."""
        if room <= waste:
            patterns.append(Pattern(stick, tuple(counts)))
        shortest = self._sizes[-1]
        row = max(row, bisect_left(self._shorter, -room))
        end = len(self._sizes)
        if room < 2 * shortest:
            end = bisect_left(self._shorter, waste - room + 1)
        while row < end and self._steps > 0 and len(patterns) <= _MOST_PATTERNS:
            self._steps -= 1
            if counts[row] < self._wanted[row]:
                counts[row] += 1
                self._go(row, room - self._sizes[row], waste, counts, stick, patterns)
                counts[row] -= 1
            row += 1
