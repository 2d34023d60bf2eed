"""Integer programs: sticks without waste, what the solver is asked, and who must never load it."""

from __future__ import annotations

import subprocess
import sys
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.judge import judge_sticks
from formwork.cutting.program import Program, choose
from formwork.cutting.records import StickPart
from formwork.cutting.sticks import cut_sticks
from formwork.stock.records import Saw, StickLength, StickStock

ROOT = Path(__file__).parents[2]
CLEAN = Saw(0.0, 0.0)


def stick(length: float, price: float | None = None) -> StickStock:
    return StickStock("2x2", "fir", "", 0.038, 0.038, (StickLength(length, price),))


@st.composite
def triplets(draw: st.DrawFn) -> list[int]:
    """Lengths made by cutting sticks of 1000 into three: the least number is theirs, and any waste is too much.

    The lengths are drawn as Falkenauer drew his: 380 to 490, then 250 to half of the rest, then what is left.
    Source: E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2 (1996) 5-30
    [from memory].
    """
    lengths: list[int] = []
    for _ in range(draw(st.integers(10, 45))):
        first = draw(st.integers(380, 490))
        second = draw(st.integers(250, (1000 - first) // 2))
        lengths += [first, second, 1000 - first - second]
    return draw(st.permutations(lengths))


class TestTriplets:
    @settings(max_examples=25, deadline=None)
    @given(triplets())
    def test_take_a_third_of_their_number_and_it_is_proven(self, lengths: list[int]) -> None:
        parts = [StickPart(f"T{number}", length / 1000, 1) for number, length in enumerate(lengths)]
        plan = cut_sticks(parts, stick(1.0), CLEAN)
        judge_sticks(parts, stick(1.0), CLEAN, plan)
        if len(set(lengths)) > 25:
            assert plan.bound.used == len(lengths) / 3
            assert plan.bound.proven

    def test_come_out_the_same_twice(self) -> None:
        firsts = range(400, 440)
        lengths = [length for first in firsts for length in (first, 690 - first, 310)]
        parts = [StickPart(f"T{number}", length / 1000, 1) for number, length in enumerate(lengths)]
        assert cut_sticks(parts, stick(1.0), CLEAN) == cut_sticks(parts, stick(1.0), CLEAN)


WAYS = st.lists(
    st.tuples(st.integers(1, 9), st.dictionaries(st.integers(0, 2), st.integers(1, 3), min_size=1)),
    min_size=1,
    max_size=5,
)


def by_trying(program: Program) -> float:
    """The lowest cost by trying every number of every way."""
    best = float("inf")
    for counts in product(range(5), repeat=len(program.costs)):
        reached = [
            sum(held.get(row, 0) * count for held, count in zip(program.holds, counts, strict=True))
            for row in range(len(program.wanted))
        ]
        enough = all(have >= need for have, need in zip(reached, program.wanted, strict=True))
        if enough and all(reached[row] <= limit for row, limit in program.most.items()):
            best = min(best, sum(cost * count for cost, count in zip(program.costs, counts, strict=True)))
    return best


class TestChoice:
    @settings(max_examples=60, deadline=None)
    @given(
        WAYS,
        st.tuples(st.integers(0, 4), st.integers(0, 4), st.integers(0, 4)),
        st.dictionaries(st.integers(0, 2), st.integers(4, 6)),
    )
    def test_agrees_with_trying_everything(
        self, ways: list[tuple[int, dict[int, int]]], wanted: tuple[int, ...], most: dict[int, int]
    ) -> None:
        program = Program([float(cost) for cost, _ in ways], [held for _, held in ways], wanted, most)
        best = by_trying(program)
        taken = choose(program, 1e6, 1000)
        assert (taken is None) == (best == float("inf"))
        if taken is not None:
            cost = sum(cost * count for cost, count in zip(program.costs, taken, strict=True))
            assert cost == pytest.approx(best)
            assert choose(program, best - 1.0, 1000) is None


def test_says_nothing_on_the_terminal() -> None:
    code = (
        "from formwork.cutting.program import Program, choose;"
        "assert choose(Program([1.0], [{0: 2}], [3], {}), 9.0, 10) == [2]"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    assert run.stdout == run.stderr == ""


def test_an_ordinary_plan_never_loads_the_solver() -> None:
    code = (
        "import sys; from formwork.cli import main\n"
        "sys.argv[1:] = ['plan', 'examples/tapered-planter.toml']\n"
        "try: main()\n"
        "except SystemExit as end: assert not end.code, end.code\n"
        "sys.exit('highspy' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False)
    assert run.returncode == 0, run.stderr
