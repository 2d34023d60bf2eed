"""Jobs so small that every way of cutting can be tried: the second route to the least number of sheets."""

from __future__ import annotations

from functools import cache
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.judge import judge_sheets
from formwork.cutting.sheets import nest
from formwork.stock.records import Saw
from tests.cutting.conftest import part, ply

Size = tuple[int, int]
Parts = tuple[Size, ...]

LENGTH, WIDTH = 7, 5
"""Of the sheet, in decimetres; parts are whole decimetres, so cuts need be tried at whole decimetres only."""


class EveryWay:
    """All ways of cutting, with or without turning parts, for a saw of this kerf."""

    def __init__(self, turn: bool, kerf: int) -> None:
        self.turn, self.kerf = turn, kerf
        self.fits = cache(self._fits)

    def least(self, parts: Parts, turns: int) -> int:
        """Fewest sheets: every set of parts on the first sheet, then on the next."""
        if not parts:
            return 0
        return min(
            1 + self.least(other, turns)
            for one, other in halves(parts)
            if one and any(self.fits(one, LENGTH, WIDTH, way, turns) for way in (0, 1))
        )

    def _fits(self, some: Parts, length: int, width: int, way: int, left: int) -> bool:
        """All of these come out of this rectangle, next cut this way, with so many turns of the saw left."""
        if not some or sum(a * b for a, b in some) > length * width:
            return not some
        sizes = {some[0], some[0][::-1]} if self.turn else {some[0]}
        if len(some) == 1 and (length, width) in sizes:
            return True
        return left > 0 and (
            self.fits(some, length, width, 1 - way, left - 1) or self._cut(some, length, width, way, left)
        )

    def _cut(self, some: Parts, length: int, width: int, way: int, left: int) -> bool:
        whole = length if way else width
        for at in range(1, whole):
            rest = max(0, whole - at - self.kerf)
            near, far = ((at, width), (rest, width)) if way else ((length, at), (length, rest))
            for one, other in halves(some):
                if self.fits(one, *near, way, left) and self.fits(other, *far, way, left):
                    return True
        return False


def halves(parts: Parts) -> list[tuple[Parts, Parts]]:
    """Every way to share parts between two rectangles."""
    every = range(len(parts))
    return [
        (tuple(parts[n] for n in some), tuple(parts[n] for n in every if n not in some))
        for count in range(len(parts) + 1)
        for some in combinations(every, count)
    ]


@settings(max_examples=50, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 7), st.integers(1, 5)), min_size=2, max_size=5),
    st.booleans(),
    st.integers(2, 4),
    st.integers(0, 1),
)
def test_no_way_of_cutting_takes_fewer(sizes: list[Size], turn: bool, turns: int, kerf: int) -> None:
    least = EveryWay(turn, kerf).least(tuple(sorted(sizes)), turns)
    saw = Saw(kerf / 10, 0.0)
    parts = [part(f"P{n}", length / 10, width / 10, 1, turn) for n, (length, width) in enumerate(sizes)]
    stock = [ply(LENGTH / 10, WIDTH / 10)]
    plan = nest(parts, stock, saw, turns)
    judge_sheets(parts, stock, saw, turns, plan)
    assert plan.bound.least <= least
    assert plan.bound.used == least
