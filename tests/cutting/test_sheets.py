"""Sheets: every plan passes the judge, reaches what arithmetic says it must, and refuses what cannot be cut."""

from __future__ import annotations

import math
from itertools import pairwise
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.judge import judge_sheets
from formwork.cutting.records import SheetPart, SheetPlan
from formwork.cutting.sheets import nest
from formwork.errors import RangeError, StockError
from formwork.stock.records import Saw, SheetStock
from tests.cutting.conftest import CLEAN, PARTS, SAW, SAWS, STOCK, part, ply

FEW = settings(max_examples=60, deadline=None)


def judged(
    parts: list[SheetPart], stock: list[SheetStock], saw: Saw = SAW, stages: int = 3, effort: float = 0.1
) -> SheetPlan:
    plan = nest(parts, stock, saw, stages, effort=effort)
    judge_sheets(parts, stock, saw, stages, plan)
    return plan


class TestAnyJob:
    @FEW
    @given(PARTS, STOCK, SAWS, st.integers(2, 4))
    def test_passes_the_judge(
        self, parts: list[SheetPart], stock: list[SheetStock], saw: Saw, stages: int
    ) -> None:
        plan = judged(parts, stock, saw, stages)
        assert plan.bound.least <= plan.bound.used

    @settings(max_examples=15, deadline=None)
    @given(PARTS, STOCK, SAWS)
    def test_comes_out_the_same_twice(
        self, parts: list[SheetPart], stock: list[SheetStock], saw: Saw
    ) -> None:
        assert nest(parts, stock, saw, effort=0.1) == nest(parts, stock, saw, effort=0.1)

    @settings(max_examples=30, deadline=None)
    @given(PARTS, SAWS)
    def test_one_part_more_never_takes_fewer_sheets_than_are_proven_needed_without(
        self, parts: list[SheetPart], saw: Saw
    ) -> None:
        without = judged(parts[1:], [ply()], saw)
        assert judged(parts, [ply()], saw).bound.used >= without.bound.least

    @settings(max_examples=15, deadline=None)
    @given(PARTS, STOCK, SAWS)
    def test_more_work_never_costs_more(
        self, parts: list[SheetPart], stock: list[SheetStock], saw: Saw
    ) -> None:
        costs = [judged(parts, stock, saw, effort=effort).bound.used for effort in (0.0, 0.05, 0.2, 0.6)]
        assert costs == sorted(costs, reverse=True)

    @settings(max_examples=30, deadline=None)
    @given(PARTS)
    def test_area_of_the_parts_is_never_more_than_that_of_the_sheets(self, parts: list[SheetPart]) -> None:
        plan = judged(parts, [ply()], CLEAN)
        area = sum(one.length * one.width * one.quantity for one in parts)
        assert plan.bound.least >= math.ceil(area / (2.44 * 1.22) - 1e-9)

    @settings(max_examples=20, deadline=None)
    @given(PARTS, SAWS)
    def test_cuts_may_start_the_way_the_person_wants(self, parts: list[SheetPart], saw: Saw) -> None:
        clean = Saw(saw.kerf, 0.0)
        for first in ("length", "width"):
            plan = nest(parts, [ply()], clean, first=first, effort=0.1)  # type: ignore[arg-type]
            judge_sheets(parts, [ply()], clean, 3, plan)
            for layout in plan.layouts:
                long_first = [cut.along == first for cut in layout.cuts if cut.piece == 0]
                assert all(long_first) or len(layout.placed) == 1 or _one_strip(layout, first)


def _one_strip(layout: object, first: str) -> bool:
    """One strip as wide as the sheet needs no first cut."""
    placed = layout.placed  # type: ignore[attr-defined]
    widest = max(one.width if first == "length" else one.length for one in placed)
    whole = layout.stock.width if first == "length" else layout.stock.length  # type: ignore[attr-defined]
    return math.isclose(widest, whole)


class TestCountsThatArithmeticGives:
    def test_a_part_as_large_as_the_trimmed_sheet_takes_one_sheet_each(self) -> None:
        plan = judged([part("A1", 2.43, 1.21, 3)], [ply()])
        assert [(layout.count, len(layout.placed)) for layout in plan.layouts] == [(3, 1)]
        assert plan.bound.proven
        assert plan.bound.used == 3

    def test_kerf_is_counted_between_parts_and_not_at_the_edge(self) -> None:
        # Four strips of 302.5 mm and three kerfs of 3.2 mm are 1219.6 mm; four of 302.7 mm are 1220.4 mm.
        saw = Saw(0.0032, 0.0)
        assert judged([part("A1", 2.44, 0.3025, 4)], [ply()], saw).bound.used == 1
        assert judged([part("A1", 2.44, 0.3027, 4)], [ply()], saw).bound.used == 2

    def test_exact_fit_in_sixty_fourths_of_an_inch(self) -> None:
        # 48 in = 2 x 23 61/64 in + 6/64 in kerf.
        inch = 0.0254
        parts = [part("A1", 96 * inch, (23 + 61 / 64) * inch, 2)]
        assert judged(parts, [ply(96 * inch, 48 * inch)], Saw(6 / 64 * inch, 0.0)).bound.used == 1

    def test_grain_locks_what_may_not_turn(self) -> None:
        assert judged([part("A1", 0.6, 1.2, 8, may_turn=False)], [ply(2.4, 1.2)], CLEAN).bound.used == 2
        assert judged([part("A1", 0.6, 0.8, 6, may_turn=False)], [ply(2.4, 1.2)], CLEAN).bound.used == 2
        assert judged([part("A1", 0.6, 0.8, 6, may_turn=True)], [ply(2.4, 1.2)], CLEAN).bound.used == 1

    def test_parts_over_half_in_both_ways_take_a_sheet_each(self) -> None:
        plan = judged([part("A1", 1.3, 0.7, 5, may_turn=True)], [ply()])
        assert plan.bound.used == plan.bound.least == 5
        assert plan.bound.proven

    def test_more_turns_of_the_saw_never_need_a_part_less_well_laid(self) -> None:
        parts = [part("A1", 0.9, 0.35, 6), part("A2", 0.5, 0.3, 9), part("A3", 0.25, 0.45, 10)]
        two, four = (judged(parts, [ply()], stages=stages, effort=1.0) for stages in (2, 4))
        assert four.bound.used <= two.bound.used

    def test_equal_sheets_are_listed_once(self) -> None:
        plan = judged([part("A1", 0.8, 0.4, 90)], [ply()])
        assert [(layout.count, len(layout.placed)) for layout in plan.layouts] == [(10, 9)]

    def test_nothing_to_cut_is_no_sheet(self) -> None:
        assert judged([], [ply()]).layouts == ()
        assert judged([part("A1", 0.5, 0.5, 0)], [ply()]).bound.proven
        assert nest([], [], SAW).bound.used == 0


class TestPricesAndOffcuts:
    def test_two_small_sheets_where_they_are_cheaper_than_a_large_one(self) -> None:
        stock = [ply(2.44, 1.22, 50.0), ply(1.22, 1.22, 20.0)]
        plan = judged([part("A1", 1.2, 1.2, 2)], stock)
        assert plan.bound.used == 40.0
        assert plan.bound.proven

    def test_a_limited_bargain_is_used_up_first(self) -> None:
        stock = [ply(price=50.0), ply(price=30.0, limit=1)]
        plan = judged([part("A1", 2.4, 1.2, 2)], stock)
        assert plan.bound.used == 80.0
        assert plan.bound.proven

    def test_an_offcut_that_saves_a_sheet_is_used(self) -> None:
        stock = [ply(price=50.0), ply(0.7, 0.5, limit=1, offcut=True)]
        plan = judged([part("A1", 2.4, 1.2), part("A2", 0.6, 0.4)], stock)
        assert plan.bound.used == 50.0
        assert {layout.stock.offcut for layout in plan.layouts} == {True, False}

    def test_an_offcut_that_saves_nothing_is_left_alone(self) -> None:
        stock = [ply(price=50.0), ply(0.7, 0.5, limit=1, offcut=True)]
        plan = judged([part("A1", 1.2, 1.2), part("A2", 0.6, 0.4)], stock, effort=1.0)
        assert [layout.stock.offcut for layout in plan.layouts] == [False]

    def test_without_prices_sheets_are_counted(self) -> None:
        stock = [ply(1.22, 1.22), ply(2.44, 1.22)]
        assert judged([part("A1", 1.2, 1.2, 4)], stock, effort=1.0).bound.used == 2

    def test_the_rest_stays_in_one_piece(self) -> None:
        # One part of 600 x 400 leaves at best 2430 x 807 (what is beside its strip, less the kerf) plus an untrimmed edge.
        plan = judged([part("A1", 0.6, 0.4)], [ply()], effort=1.0)
        largest = max(one.length * one.width for one in plan.layouts[0].offcuts)
        assert largest >= 2.43 * 0.807 - 1e-9


class TestCutsAsAPersonMakesThem:
    def test_edges_first_then_rips_then_across(self) -> None:
        plan = judged([part("A1", 0.6, 0.38, 12)], [ply()])
        (layout,) = plan.layouts
        trims = [cut for cut in layout.cuts if cut.gives[1] == -1 and not cut.parts][:2]
        assert [cut.from_edge for cut in trims] == ["top", "right"]
        ways = [cut.along for cut in layout.cuts[2:]]
        assert ways == sorted(ways, key=lambda way: way != ways[0])

    def test_the_fence_stands_at_the_size_of_the_part(self) -> None:
        (layout,) = judged([part("A1", 0.6, 0.38, 12)], [ply()]).layouts
        settings_used = {round(cut.at, 9) for cut in layout.cuts[2:]}
        assert settings_used == {0.6, 0.38}

    def test_no_saw_moves_its_fence_back_and_forth(self) -> None:
        (layout,) = judged([part("A1", 0.6, 0.38, 6), part("A2", 0.5, 0.38, 6)], [ply()], effort=1.0).layouts
        used = [(cut.along, round(cut.at, 9)) for cut in layout.cuts[2:]]
        changes = sum(one != other for one, other in pairwise(used))
        assert changes <= len(set(used)) + 1


class TestPlainAnswers:
    def test_a_part_too_long_says_by_how_much(self) -> None:
        with pytest.raises(
            StockError, match=r"A1 \(2500 mm x 600 mm\) fits no sheet.*70 mm too long.*splice"
        ):
            nest([part("A1", 2.5, 0.6)], [ply()], SAW)

    def test_a_part_that_would_fit_turned_says_so(self) -> None:
        with pytest.raises(StockError, match="turned across the grain it would fit ply 18"):
            nest([part("A1", 0.6, 2.0)], [ply()], SAW)

    def test_a_part_that_would_fit_an_untrimmed_sheet_says_so(self) -> None:
        with pytest.raises(StockError, match="less trimmed off"):
            nest([part("A1", 2.44, 1.22)], [ply()], SAW)

    def test_sizes_are_shown_as_the_person_reads_them(self) -> None:
        with pytest.raises(StockError, match=r"100\.0 in"):
            nest([part("A1", 2.54, 0.6)], [ply()], SAW, show=lambda value: f"{value / 0.0254:.1f} in")

    def test_stock_that_runs_out_says_what_is_missing(self) -> None:
        with pytest.raises(
            StockError,
            match=r"ply 18 runs out: 2 x A1 found no room.*2 more of ply 18 \(2440 mm x 1220 mm\) would do",
        ):
            nest([part("A1", 2.4, 1.2, 3)], [ply(limit=1)], SAW)

    def test_no_stock_at_all(self) -> None:
        with pytest.raises(StockError, match="no sheet to cut it from"):
            nest([part("A1", 1.0, 1.0)], [], SAW)

    @pytest.mark.parametrize(
        "saw", [Saw(-0.003, 0.0), Saw(math.nan, 0.0), Saw(0.003, -0.1), Saw(math.inf, 0.0)]
    )
    def test_a_saw_that_cannot_be(self, saw: Saw) -> None:
        with pytest.raises(RangeError, match="saw"):
            nest([part("A1", 1.0, 1.0)], [ply()], saw)

    @pytest.mark.parametrize(
        "bad", [part("A1", math.nan, 1.0), part("A1", 1.0, 0.0), part("A1", 1.0, 1.0, -1)]
    )
    def test_a_part_that_cannot_be(self, bad: SheetPart) -> None:
        with pytest.raises(RangeError, match="A1"):
            nest([bad], [ply()], SAW)

    def test_one_turn_of_the_saw_frees_nothing(self) -> None:
        with pytest.raises(RangeError, match="stages"):
            nest([part("A1", 1.0, 1.0)], [ply()], SAW, stages=1)

    def test_a_kerf_wider_than_the_parts(self) -> None:
        # Strips of 100 mm and kerfs of 150 mm: 5 strips in 1220 mm (5 x 100 + 4 x 150 = 1100).
        plan = judged([part("A1", 2.44, 0.1, 11)], [ply()], Saw(0.15, 0.0))
        assert plan.bound.used == 3
        assert plan.bound.proven

    def test_ten_thousand_parts(self) -> None:
        parts = [part(f"P{n}", 0.2 + 0.005 * n, 0.15 + 0.004 * n, 500, may_turn=True) for n in range(20)]
        start = process_time()
        plan = judged(parts, [ply()], effort=0.001)
        assert plan.bound.used <= 1.15 * plan.bound.least
        assert process_time() - start < 20.0
