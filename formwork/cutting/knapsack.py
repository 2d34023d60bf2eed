"""The most valuable load of one stick: branch and bound over how many of each length it takes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

MOST_NODES = 20_000
"""Branches looked at for one load; beyond that the best one found stands, with a bound above it."""

_MOST_SIZES = 200
"""Most sizes tried in one load; of more, so many evenly from all, and the bound stands above."""

_CLOSE = 1e-12
"""Relative: a load better by no more than this is no better."""


class Load(NamedTuple):
    """A load of one stick.

    Attributes:
        value: of the load.
        counts: how many of each length.
        ceiling: no load is worth more; equal to the value where the search was complete.
    """

    value: float
    counts: tuple[int, ...]
    ceiling: float


def best_load(
    sizes: Sequence[int],
    values: Sequence[float],
    most: Sequence[int],
    room: int,
    nodes: int = MOST_NODES,
    above: float = 0.0,
) -> Load:
    """The most valuable load that fits.

    Args:
        sizes: of the lengths, steps.
        values: of one of each; those worth nothing are left out.
        most: how many of each may be taken.
        room: length to fill, steps.
        nodes: branches to look at.
        above: only a load worth more than this is of interest; where there is none, the empty load comes back, with
            this as its ceiling.
    """
    order = [
        index for index, value in enumerate(values) if value > 0.0 and most[index] and sizes[index] <= room
    ]
    order.sort(key=lambda index: (-values[index] / sizes[index], -sizes[index]))
    whole = room * values[order[0]] / sizes[order[0]] if order else 0.0
    complete = len(order) <= _MOST_SIZES
    order = order if complete else order[:: -(-len(order) // _MOST_SIZES)]
    search = _Search(
        [sizes[index] for index in order],
        [values[index] for index in order],
        [most[index] for index in order],
        nodes,
        above,
    )
    search.go(0, room, 0.0)
    counts = [0] * len(sizes)
    for index, count in zip(order, search.best, strict=False):
        counts[index] = count
    ceiling = search.value if complete and search.nodes > 0 else max(search.value, whole)
    return Load(search.value if search.best else 0.0, tuple(counts), ceiling)


class _Search:
    """Depth-first, densest length first, as many as fit first."""

    def __init__(
        self, sizes: list[int], values: list[float], most: list[int], nodes: int, above: float
    ) -> None:
        self._sizes, self._values, self._most = sizes, values, most
        self._least = sizes[:]
        for index in range(len(sizes) - 2, -1, -1):
            self._least[index] = min(sizes[index], self._least[index + 1])
        self._taken = [0] * len(sizes)
        self.nodes = nodes
        self.value = above
        self.best: list[int] = []

    def go(self, index: int, room: int, value: float) -> None:
        """Choose how many of this length, then of the next."""
        self.nodes -= 1
        if value > self.value * (1.0 + _CLOSE):
            self.value, self.best = value, self._taken[:index]
        if index == len(self._sizes) or room < self._least[index] or self.nodes <= 0:
            return
        size, worth = self._sizes[index], self._values[index]
        for count in range(min(self._most[index], room // size), -1, -1):
            rest, so_far = room - count * size, value + count * worth
            if so_far + self.ceiling(index + 1, rest) <= self.value * (1.0 + _CLOSE):
                if count * size == room:
                    continue
                if so_far + rest * worth / size <= self.value * (1.0 + _CLOSE):
                    return
                continue
            self._taken[index] = count
            self.go(index + 1, rest, so_far)
        self._taken[index] = 0

    def ceiling(self, index: int, room: int) -> float:
        """What the room may be worth at the density of the next length that fits it."""
        if index < len(self._sizes) and room >= self._least[index]:
            return room * self._values[index] / self._sizes[index]
        return 0.0
