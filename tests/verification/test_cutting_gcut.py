"""The most valuable cutting of one sheet, any number of each blank, straight through cuts: published exact values.

Source: J. E. Beasley, Algorithms for unconstrained two-dimensional guillotine cutting, Journal of the Operational
Research Society 36 (1985) 297-306, problems gcut1, 5 and 9 of OR-Library; exact values as they lie and with turning as
published by G. Cintra (ime.usp.br/~glauber/gcut), read. The other nine problems are measured by the cutting bench.
"""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.job import Kinds
from formwork.cutting.one_sheet import counts_alone, most_worth

GCUT = {
    1: (250, "167 184 114 118 167 152 83 140 70 86 143 166 120 160 66 148 87 141 69 165"),
    5: (500, "198 205 179 155 364 236 272 147 352 145 343 245 132 174 164 250 282 356 342 151"),
    9: (1000, "310 426 673 468 426 463 325 498 555 540 292 455 343 341 362 491 305 688 459 607"),
}
"""Side of the square sheet; lengths and widths of the blanks, each of which is worth its area."""


@pytest.mark.parametrize(
    ("number", "turn", "exact"),
    [(1, False, 56460), (5, False, 246000), (9, False, 971100),
     (1, True, 58136), (5, True, 246000), (9, True, 971100)],
)  # fmt: skip
def test_exact_values(number: int, turn: bool, exact: int) -> None:
    side, sizes = GCUT[number]
    numbers = [int(size) for size in sizes.split()]
    lengths, widths = numbers[::2], numbers[1::2]
    kinds = Kinds(tuple(lengths), tuple(widths), (turn,) * len(lengths), (1,) * len(lengths))
    values = [float(a * b) for a, b in zip(lengths, widths, strict=True)]
    assert most_worth(kinds, values, side, side) == exact


BLANKS = st.lists(
    st.tuples(st.integers(1, 6), st.integers(1, 6), st.booleans(), st.integers(1, 9)), min_size=1, max_size=4
)


@settings(max_examples=60, deadline=None)
@given(BLANKS, st.integers(1, 12), st.integers(1, 10))
def test_trying_every_whole_cut_gives_the_same(
    blanks: list[tuple[int, int, bool, int]], length: int, width: int
) -> None:
    lying = [
        (p, q, value) for a, b, turn, value in blanks for p, q in ({(a, b), (b, a)} if turn else {(a, b)})
    ]

    @cache
    def best(x: int, y: int) -> int:
        alone = max((value for p, q, value in lying if p <= x and q <= y), default=0)
        across = max((best(at, y) + best(x - at, y) for at in range(1, x)), default=0)
        along = max((best(x, at) + best(x, y - at) for at in range(1, y)), default=0)
        return max(alone, across, along)

    columns = tuple(zip(*((a, b, turn, 1) for a, b, turn, _ in blanks), strict=True))
    values = [float(value) for *_, value in blanks]
    assert most_worth(Kinds(*columns), values, length, width) == best(length, width)


def test_a_sheet_gives_no_more_of_one_kind_than_it_holds() -> None:
    """Of 5 by 3 on 11 by 11 seven lie in straight rows: 2 x 3 as they lie, then one turned; so 15 take three sheets."""
    assert list(counts_alone(Kinds((5,), (3,), (True,), (15,)), 11, 11)) == [3]
