"""Jobs so small that every way of cutting can be tried: the second route to the least cost.

Sizes are whole decimetres, so cuts need be tried at whole decimetres only.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.judge import judge_sheets
from formwork.cutting.records import Bound
from formwork.cutting.sheets import nest
from formwork.stock.records import Saw
from tests.cutting.conftest import part, ply

Size = tuple[int, int]
Parts = tuple[Size, ...]
Sheets = tuple[tuple[Size, float], ...]


class EveryWay:
    """All ways of cutting, with or without turning parts, for a saw of this kerf."""

    def __init__(self, turn: bool, kerf: int) -> None:
        self.turn, self.kerf = turn, kerf
        self.fits = cache(self._fits)
        self.least = cache(self._least)

    def _least(self, parts: Parts, turns: int, sheets: Sheets) -> float:
        """Lowest cost: every set of parts on a first sheet of every size, then on the next."""
        if not parts:
            return 0.0
        return min(
            price + self.least(other, turns, sheets)
            for size, price in sheets
            for one, other in halves(parts)
            if one and any(self.fits(one, *size, way, turns) for way in (0, 1))
        )

    def _fits(self, some: Parts, length: int, width: int, way: int, left: int) -> bool:
        """All of these come out of this rectangle, next cut this way, with so many turns of the saw left."""
        if not some or sum(a * b for a, b in some) > length * width:
            return not some
        sizes = {some[0], some[0][::-1]} if self.turn else {some[0]}
        if len(some) == 1 and any(_trimmed_free(size, length, width) for size in sizes):
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


def _trimmed_free(size: Size, length: int, width: int) -> bool:
    """A last cut, which is not counted, makes the part of the rectangle; or none is needed."""
    return (size[0] == length and size[1] <= width) or (size[1] == width and size[0] <= length)


@cache
def halves(parts: Parts) -> list[tuple[Parts, Parts]]:
    """Every way to share parts between two rectangles."""
    every = range(len(parts))
    return [
        (tuple(parts[n] for n in some), tuple(parts[n] for n in every if n not in some))
        for count in range(len(parts) + 1)
        for some in combinations(every, count)
    ]


JOBS = st.tuples(
    st.lists(st.tuples(st.integers(1, 7), st.integers(1, 5)), min_size=2, max_size=5),
    st.booleans(),
    st.integers(2, 4),
    st.integers(0, 1),
)
Job = tuple[list[Size], bool, int, int]


def cost_of(job: Job, sheets: Sheets) -> tuple[float, Bound]:
    """The least cost by trying every way, and what the plan claims."""
    sizes, turn, turns, kerf = job
    least = EveryWay(turn, kerf).least(tuple(sorted(sizes)), turns, sheets)
    parts = [part(f"P{n}", length / 10, width / 10, 1, turn) for n, (length, width) in enumerate(sizes)]
    stock = [ply(length / 10, width / 10, price) for (length, width), price in sheets]
    saw = Saw(kerf / 10, 0.0)
    plan = nest(parts, stock, saw, turns)
    judge_sheets(parts, stock, saw, turns, plan)
    return least, plan.bound


@settings(max_examples=40, deadline=None)
@given(JOBS)
def test_no_way_of_cutting_takes_fewer(job: Job) -> None:
    least, bound = cost_of(job, (((7, 5), 1.0),))
    assert bound.least <= least
    assert bound.used == least


@settings(max_examples=25, deadline=None)
@given(JOBS, st.sampled_from([4.0, 6.0, 7.5]))
def test_no_mix_of_sheets_costs_less(job: Job, price: float) -> None:
    least, bound = cost_of(job, (((7, 5), 10.0), ((4, 5), price)))
    assert bound.least <= least
    assert bound.used == least
