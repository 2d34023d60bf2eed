"""The search to the end: is there a cutting that costs no more than so much?

With safe prices for the parts, every stick wastes its cost less the prices of the parts cut from it, and no stick
wastes less than nothing. A cutting that costs little more than the bound wastes little in all, so patterns that
waste more than that alone are out, and what remains can be searched branch by branch.
"""

from __future__ import annotations

from collections.abc import Sequence

from formwork.cutting.knapsack import best_load
from formwork.cutting.stick_job import Pattern, StickJob
from formwork.cutting.stick_search import Cutting, limits

_NODES = 60_000
"""Branches looked at."""

_EPSILON = 1e-9

Scored = tuple[float, tuple[int, ...], int]
"""What a pattern wastes, its counts taken negative (fullest first), and its stick."""


def cut_within(job: StickJob, prices: Sequence[float], ceiling: float) -> tuple[Cutting | None, bool]:
    """A cutting that costs no more than the ceiling, if the search finds one.

    Args:
        job: sizes, numbers and sticks.
        prices: safe prices of one part of each size.
        ceiling: dearest cost of interest.

    Returns:
        A cutting or None, and whether the search was complete: then None means that there is none.
    """
    search = _Search(job, prices, ceiling)
    found = search.go(list(job.wanted), limits(job), search.slack, 0.0, [])
    return found, search.nodes > 0


class _Search:
    """Depth-first: a stick for the longest part still wanted, in every company that wastes little enough."""

    def __init__(self, job: StickJob, prices: Sequence[float], ceiling: float) -> None:
        self._job, self._prices, self._ceiling = job, prices, ceiling
        self._worth = [self._whole(number) for number in range(len(job.sticks))]
        bound = sum(price * count for price, count in zip(prices, job.wanted, strict=True))
        for stick, worth in zip(job.sticks, self._worth, strict=True):
            bound += (stick.limit or 0) * (stick.cost - worth)
        self.slack = ceiling - bound
        self.nodes = _NODES
        self._density = [price / size for price, size in zip(prices, job.sizes, strict=True)]
        for row in range(len(job.sizes) - 2, -1, -1):
            self._density[row] = max(self._density[row], self._density[row + 1])
        self._failed: dict[tuple[int | None, ...], float] = {}

    def _whole(self, number: int) -> float:
        """What a stick must carry to waste nothing: its cost, or its best load where that is worth more."""
        stick = self._job.sticks[number]
        if stick.limit is None:
            return stick.cost
        return max(stick.cost, best_load(self._job.sizes, self._prices, self._job.wanted, stick.room).ceiling)

    def go(
        self, left: list[int], have: list[int | None], slack: float, spent: float, taken: list[Pattern]
    ) -> Cutting | None:
        """Complete the cutting from what is left, or None."""
        if not any(left):
            return _counted(taken) if spent <= self._ceiling + _EPSILON else None
        state = (*left, *have)
        if self._failed.get(state, -1.0) >= slack:
            return None
        for waste, negative, number in self._patterns(left, have, slack):
            if self.nodes <= 0:
                return None
            pattern = Pattern(number, tuple(-count for count in negative))
            limit = have[number]
            rest = [n - count for n, count in zip(left, pattern.counts, strict=True)]
            after = [*have[:number], None if limit is None else limit - 1, *have[number + 1 :]]
            cost = self._job.sticks[number].cost
            found = self.go(rest, after, slack - waste, spent + cost, [*taken, pattern])
            if found:
                return found
        if self.nodes > 0:
            self._failed[state] = slack
        return None

    def _patterns(self, left: list[int], have: list[int | None], slack: float) -> list[Scored]:
        """Patterns with at least one of the longest size left, least waste first."""
        row = next(index for index, count in enumerate(left) if count)
        size, price = self._job.sizes[row], self._prices[row]
        found: list[Scored] = []
        for number, stick in enumerate(self._job.sticks):
            if have[number] == 0 or stick.room < size or stick.missing:
                continue
            counts = [0] * len(left)
            counts[row] = 1
            left[row] -= 1
            self._grow(
                row, stick.room - size, self._worth[number] - price, slack, counts, left, number, found
            )
            left[row] += 1
        return sorted(found)

    def _grow(
        self,
        row: int,
        room: int,
        waste: float,
        slack: float,
        counts: list[int],
        left: list[int],
        number: int,
        found: list[Scored],
    ) -> None:
        """Add parts of this size and the next ones, as long as the waste can still come down to the slack."""
        self.nodes -= 1
        if self.nodes <= 0:
            return
        if row == len(left):
            if waste <= slack + _EPSILON:
                found.append((max(0.0, waste), tuple(-count for count in counts), number))
            return
        if waste - room * self._density[row] > slack + _EPSILON:
            return
        size, price = self._job.sizes[row], self._prices[row]
        already = counts[row]
        for more in range(min(left[row], room // size), -1, -1):
            counts[row] = already + more
            self._grow(row + 1, room - more * size, waste - more * price, slack, counts, left, number, found)
        counts[row] = already


def _counted(taken: list[Pattern]) -> Cutting:
    cutting: Cutting = {}
    for pattern in taken:
        cutting[pattern] = cutting.get(pattern, 0) + 1
    return cutting
