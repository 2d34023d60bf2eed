"""Sticks: every plan passes the judge, meets an integer program where there is one, and refuses what cannot be cut."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.judge import judge_sticks
from formwork.cutting.records import StickPart, StickPlan
from formwork.cutting.sticks import cut_sticks
from formwork.errors import InternalError, RangeError, StockError
from formwork.stock.records import Saw, StickLength, StickStock

SAW = Saw(kerf=0.003, trim=0.0)
SAWS = st.builds(
    Saw, st.sampled_from([0.0, 0.0008, 0.003175, 0.2]), st.just(0.0), st.sampled_from([0.0, 0.005, 0.0127])
)
LENGTHS = st.integers(60, 2300).map(lambda value: value / 1000) | st.integers(3 * 64, 90 * 64).map(
    lambda value: value / 64 * 0.0254
)
PARTS = st.lists(st.tuples(LENGTHS, st.integers(1, 6)), min_size=1, max_size=8).map(
    lambda found: [StickPart(f"S{number}", *one) for number, one in enumerate(found)]
)
ON_HAND = st.builds(
    StickLength,
    st.integers(200, 2300).map(lambda value: value / 1000),
    st.none(),
    st.sampled_from([1, 2]),
    st.just(True),
)
BOUGHT = st.sampled_from(
    [
        (StickLength(2.4),),
        (StickLength(2.4384, 4.25), StickLength(3.048, 5.6), StickLength(3.6576, 6.4)),
        (StickLength(2.4, 4.0, 3), StickLength(3.0, 5.5)),
    ]
)
STOCK = st.tuples(BOUGHT, st.lists(ON_HAND, max_size=2)).map(lambda found: lumber(*found[0], *found[1]))

FEW = settings(max_examples=60, deadline=None)


def lumber(*lengths: StickLength) -> StickStock:
    return StickStock("2x2", "fir", "2x2", 0.038, 0.038, lengths)


def judged(parts: list[StickPart], stock: StickStock, saw: Saw = SAW) -> StickPlan:
    plan = cut_sticks(parts, stock, saw)
    judge_sticks(parts, stock, saw, plan)
    return plan


class TestAnyJob:
    @FEW
    @given(PARTS, STOCK, SAWS)
    def test_passes_the_judge(self, parts: list[StickPart], stock: StickStock, saw: Saw) -> None:
        plan = judged(parts, stock, saw)
        assert plan.bound.least <= plan.bound.used

    @settings(max_examples=15, deadline=None)
    @given(PARTS, STOCK, SAWS)
    def test_comes_out_the_same_twice(self, parts: list[StickPart], stock: StickStock, saw: Saw) -> None:
        assert cut_sticks(parts, stock, saw) == cut_sticks(parts, stock, saw)

    @settings(max_examples=30, deadline=None)
    @given(PARTS, STOCK, SAWS)
    def test_one_part_more_never_costs_less_than_is_proven_needed_without(
        self, parts: list[StickPart], stock: StickStock, saw: Saw
    ) -> None:
        assert judged(parts, stock, saw).bound.used >= judged(parts[1:], stock, saw).bound.least - 1e-9

    @settings(max_examples=40, deadline=None)
    @given(
        st.lists(
            st.tuples(st.integers(4, 30), st.integers(1, 5)),
            min_size=1,
            max_size=5,
            unique_by=lambda one: one[0],
        ),
        st.sampled_from([((30, 10.0),), ((30, 10.0), (42, 13.0)), ((31, 9.0), (37, 11.0), (52, 15.5))]),
    )
    def test_agrees_with_an_integer_program_over_every_pattern(
        self, wanted: list[tuple[int, int]], sold: tuple[tuple[int, float], ...]
    ) -> None:
        """Route two: every pattern written down, the choice left to scipy's solver of integer programs."""
        best = by_integer_program(wanted, sold)
        parts = [StickPart(f"S{size}", size / 10, count) for size, count in wanted]
        plan = judged(parts, lumber(*(StickLength(size / 10, price) for size, price in sold)), Saw(0.0, 0.0))
        assert plan.bound.least <= best + 1e-6
        assert plan.bound.used >= best - 1e-6
        if plan.bound.proven:
            assert plan.bound.used == pytest.approx(best)


def by_integer_program(wanted: list[tuple[int, int]], sold: tuple[tuple[int, float], ...]) -> float:
    np = pytest.importorskip("numpy")
    optimize = pytest.importorskip("scipy.optimize")
    sizes = [size for size, _ in wanted]
    columns, costs = [], []
    for room, price in sold:
        for pattern in patterns(sizes, room):
            columns.append(pattern)
            costs.append(price)
    enough = optimize.LinearConstraint(np.array(columns).T, lb=[count for _, count in wanted])
    result = optimize.milp(np.array(costs), constraints=enough, integrality=np.ones(len(costs)))
    return float(result.fun)


def patterns(sizes: list[int], room: int) -> Iterator[tuple[int, ...]]:
    if not sizes:
        yield ()
        return
    for count in range(room // sizes[0] + 1):
        for rest in patterns(sizes[1:], room - count * sizes[0]):
            yield (count, *rest)


class TestCountsThatArithmeticGives:
    def test_kerf_is_counted_between_parts_and_not_at_the_end(self) -> None:
        # 4 x 0.5975 + 3 x 0.003 = 2.399 m; 4 x 0.5980 + 3 x 0.003 = 2.401 m.
        assert judged([StickPart("S1", 0.5975, 4)], lumber(StickLength(2.4))).bound.used == 1
        assert judged([StickPart("S1", 0.5980, 4)], lumber(StickLength(2.4))).bound.used == 2

    def test_ends_are_trimmed(self) -> None:
        part = [StickPart("S1", 2.39, 1)]
        plan = judged(part, lumber(StickLength(2.4), StickLength(3.0)), Saw(0.003, 0.0, 0.005))
        assert [layout.length for layout in plan.layouts] == [2.4]
        plan = judged(part, lumber(StickLength(2.4), StickLength(3.0)), Saw(0.003, 0.0, 0.006))
        assert [layout.length for layout in plan.layouts] == [3.0]

    def test_the_offcut_is_what_is_left_after_the_last_kerf(self) -> None:
        (layout,) = judged([StickPart("S1", 1.0, 2)], lumber(StickLength(2.4)), Saw(0.003, 0.0, 0.01)).layouts
        assert layout.offcut == pytest.approx(2.4 - 0.02 - 2 * 1.003)

    def test_an_offcut_on_hand_saves_a_stick(self) -> None:
        stock = lumber(StickLength(2.4, 5.0), StickLength(0.7, None, 1, True))
        plan = judged([StickPart("S1", 2.3, 1), StickPart("S2", 0.6, 1)], stock)
        assert plan.bound.used == 5.0
        assert plan.bound.proven

    def test_an_offcut_that_saves_nothing_is_left_alone(self) -> None:
        stock = lumber(StickLength(2.4, 5.0), StickLength(0.7, None, 1, True))
        plan = judged([StickPart("S1", 1.5, 1), StickPart("S2", 0.6, 1)], stock)
        assert [layout.length for layout in plan.layouts] == [2.4]

    def test_of_equal_costs_the_longest_rest(self) -> None:
        # Five take two sticks: four and one leave 1.9 m in one piece, three and two no more than 1.4 m.
        plan = judged([StickPart("S1", 0.5, 5)], lumber(StickLength(2.4)), Saw(0.0, 0.0))
        assert max(layout.offcut for layout in plan.layouts) == pytest.approx(1.9)

    def test_the_cheaper_of_two_lengths(self) -> None:
        stock = lumber(StickLength(2.4, 4.0), StickLength(4.8, 9.0))
        plan = judged([StickPart("S1", 1.1, 8)], stock)
        assert plan.bound.used == 16.0
        assert plan.bound.proven

    def test_equal_lengths_of_two_molds_share_layouts_under_their_own_labels(self) -> None:
        plan = judged([StickPart("A1", 0.79, 6), StickPart("B1", 0.79, 6)], lumber(StickLength(2.4)))
        assert sum(layout.count for layout in plan.layouts) == 4
        assert {label for layout in plan.layouts for label, _ in layout.cuts} == {"A1", "B1"}

    def test_nothing_to_cut_is_no_stick(self) -> None:
        assert judged([], lumber()).layouts == ()


class TestPlainAnswers:
    def test_a_part_too_long_says_by_how_much(self) -> None:
        with pytest.raises(
            StockError, match=r"S1 \(3000 mm\) is longer than any 2x2.*600 mm too short.*splice"
        ):
            cut_sticks([StickPart("S1", 3.0, 1)], lumber(StickLength(2.4)), SAW)

    def test_a_part_that_the_trim_makes_too_long_says_so(self) -> None:
        with pytest.raises(StockError, match="less trimmed off"):
            cut_sticks([StickPart("S1", 2.395, 1)], lumber(StickLength(2.4)), Saw(0.003, 0.0, 0.005))

    def test_stock_that_runs_out_says_what_is_missing(self) -> None:
        with pytest.raises(
            StockError, match=r"2x2 runs out: 2 x S1 found no stick; 2 more of 2400 mm would do"
        ):
            cut_sticks([StickPart("S1", 2.0, 3)], lumber(StickLength(2.4, limit=1)), SAW)

    def test_a_stick_sold_in_no_length(self) -> None:
        with pytest.raises(StockError, match="no length"):
            cut_sticks([StickPart("S1", 2.0, 3)], lumber(), SAW)

    @pytest.mark.parametrize("saw", [Saw(-0.003, 0.0), Saw(math.nan, 0.0), Saw(0.003, 0.0, -1.0)])
    def test_a_saw_that_cannot_be(self, saw: Saw) -> None:
        with pytest.raises(RangeError, match="saw"):
            cut_sticks([StickPart("S1", 1.0, 1)], lumber(StickLength(2.4)), saw)

    def test_ten_thousand_parts(self) -> None:
        parts = [StickPart(f"S{n}", 0.3 + 0.083 * n, 1000) for n in range(10)]
        start = process_time()
        assert judged(parts, lumber(StickLength(2.4), StickLength(3.6))).bound.used > 0
        assert process_time() - start < 20.0


class TestJudge:
    PARTS = [StickPart("S1", 0.7, 5), StickPart("S2", 0.4, 4)]  # noqa: RUF012 - never changed
    STOCK = lumber(StickLength(2.4, 4.0, 3))
    PLAN = cut_sticks(PARTS, STOCK, SAW)

    def refuse(self, plan: StickPlan, why: str) -> None:
        with pytest.raises(InternalError, match=why):
            judge_sticks(self.PARTS, self.STOCK, SAW, plan)

    def changed(self, **changes: object) -> StickPlan:
        first, *others = self.PLAN.layouts
        return replace(self.PLAN, layouts=(replace(first, **changes), *others))  # type: ignore[arg-type]

    def test_a_sound_plan_passes(self) -> None:
        judge_sticks(self.PARTS, self.STOCK, SAW, self.PLAN)

    def test_more_than_the_stick_holds(self) -> None:
        self.refuse(self.changed(cuts=(("S1", 0.7),) * 4), "takes")

    def test_a_kerf_too_few(self) -> None:
        tight = [StickPart("S1", 0.8, 3)]
        plan = cut_sticks(tight, self.STOCK, Saw(0.0, 0.0))
        with pytest.raises(InternalError, match="takes"):
            judge_sticks(tight, self.STOCK, SAW, plan)

    def test_a_part_missing(self) -> None:
        self.refuse(replace(self.PLAN, layouts=self.PLAN.layouts[1:]), "missing")

    def test_a_stick_too_many(self) -> None:
        self.refuse(self.changed(count=self.PLAN.layouts[0].count + 1), "too many")

    def test_wrong_offcut(self) -> None:
        self.refuse(self.changed(offcut=1.0), "leaves")

    def test_a_length_not_sold(self) -> None:
        first = self.PLAN.layouts[0]
        self.refuse(self.changed(length=3.0, offcut=first.offcut + 0.6), "more than there are")

    def test_more_than_there_are(self) -> None:
        short = lumber(StickLength(2.4, 4.0, 1))
        plan = replace(self.PLAN, layouts=tuple(replace(one, stock=short) for one in self.PLAN.layouts))
        with pytest.raises(InternalError, match="more than there are"):
            judge_sticks(self.PARTS, short, SAW, plan)

    def test_another_stick(self) -> None:
        self.refuse(self.changed(stock=lumber(StickLength(2.4))), "not a stick of this kind")

    def test_wrong_cost(self) -> None:
        self.refuse(replace(self.PLAN, bound=replace(self.PLAN.bound, used=1.0)), "costs")

    def test_a_proof_that_is_none(self) -> None:
        self.refuse(replace(self.PLAN, bound=replace(self.PLAN.bound, proven=True, least=0.0)), "proven")
