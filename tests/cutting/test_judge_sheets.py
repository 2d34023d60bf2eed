"""The judge finds each way in which a sheet plan can be broken."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.cutting.judge import judge_sheets
from formwork.cutting.records import Bound, Cut, Offcut, Placed, SheetLayout, SheetPlan
from formwork.cutting.sheets import nest
from formwork.errors import InternalError
from formwork.stock.records import Saw
from tests.cutting.conftest import CLEAN, SAW, part, ply

PARTS = [part("A1", 0.6, 0.38, 7), part("A2", 0.5, 0.3, 5, may_turn=True), part("A3", 1.1, 0.25, 3)]
STOCK = [ply(price=50.0, limit=3)]
PLAN = nest(PARTS, STOCK, SAW)
LAYOUT = PLAN.layouts[0]


def refuse(plan: SheetPlan, why: str) -> None:
    with pytest.raises(InternalError, match=why):
        judge_sheets(PARTS, STOCK, SAW, 3, plan)


def with_layout(**changes: object) -> SheetPlan:
    return replace(PLAN, layouts=(replace(LAYOUT, **changes), *PLAN.layouts[1:]))  # type: ignore[arg-type]


def with_placed(index: int, **changes: object) -> SheetPlan:
    placed = list(LAYOUT.placed)
    placed[index] = replace(placed[index], **changes)  # type: ignore[arg-type]
    return with_layout(placed=tuple(placed))


def with_cut(index: int, **changes: object) -> SheetPlan:
    cuts = list(LAYOUT.cuts)
    cuts[index] = replace(cuts[index], **changes)  # type: ignore[arg-type]
    return with_layout(cuts=tuple(cuts))


def test_a_sound_plan_passes() -> None:
    judge_sheets(PARTS, STOCK, SAW, 3, PLAN)
    assert LAYOUT.offcuts, "the cases below need an offcut to spoil"


class TestRectangles:
    def test_past_the_sheet(self) -> None:
        last = max(range(len(LAYOUT.placed)), key=lambda index: LAYOUT.placed[index].x)
        refuse(with_placed(last, x=2.4), "trimmed edge or past the sheet")

    def test_into_the_trimmed_edge(self) -> None:
        refuse(with_placed(0, x=0.004), "trimmed edge or past the sheet")

    def test_overlap(self) -> None:
        refuse(with_placed(1, x=LAYOUT.placed[0].x, y=LAYOUT.placed[0].y), "overlap")

    def test_no_room_for_the_saw(self) -> None:
        refuse(
            with_placed(1, x=LAYOUT.placed[1].x - 0.001, y=LAYOUT.placed[1].y),
            "room for the saw|never free|frees",
        )

    def test_thicker_blade(self) -> None:
        with pytest.raises(InternalError):
            judge_sheets(PARTS, STOCK, Saw(0.0031, SAW.trim), 3, PLAN)

    def test_wrong_size(self) -> None:
        refuse(with_placed(0, length=LAYOUT.placed[0].length - 0.001), "wrong size")

    def test_across_the_grain(self) -> None:
        one = next(index for index, placed in enumerate(LAYOUT.placed) if placed.label == "A1")
        placed = LAYOUT.placed[one]
        refuse(with_placed(one, length=placed.width, width=placed.length, turned=True), "across the grain")

    def test_unknown_part(self) -> None:
        refuse(with_placed(0, label="Z9"), "not asked for")

    def test_two_turns_are_not_enough_for_three(self) -> None:
        with pytest.raises(InternalError, match="turn"):
            judge_sheets(PARTS, STOCK, SAW, 1, PLAN)

    def test_a_pinwheel_cannot_be_cut_through(self) -> None:
        # Five rectangles round a middle one: no straight cut crosses the sheet without meeting one of them.
        boxes = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
        parts = [part(f"P{n}", length, width) for n, (_, _, length, width) in enumerate(boxes)]
        placed = tuple(Placed(f"P{n}", *map(float, box), False) for n, box in enumerate(boxes))
        sheet = ply(3.0, 3.0)
        plan = SheetPlan((SheetLayout(sheet, 1, placed, (), ()),), Bound("ply 18", 1, 1, True, "area"))
        with pytest.raises(InternalError, match="cuts that stop short"):
            judge_sheets(parts, [sheet], CLEAN, 9, plan)


class TestCuts:
    def test_a_cut_left_out(self) -> None:
        refuse(with_layout(cuts=LAYOUT.cuts[:-1]), "never free")

    def test_a_cut_too_many(self) -> None:
        again = replace(LAYOUT.cuts[-1], gives=(-1, -1), parts=())
        refuse(with_layout(cuts=(*LAYOUT.cuts, again)), "no piece")

    def test_cuts_in_the_wrong_order(self) -> None:
        refuse(with_layout(cuts=tuple(reversed(LAYOUT.cuts))), "no piece|outside the piece|is next")

    def test_a_fence_off_by_a_little(self) -> None:
        refuse(with_cut(-1, at=LAYOUT.cuts[-1].at + 0.0001), "frees|never free")

    def test_a_fence_outside_the_piece(self) -> None:
        refuse(with_cut(0, at=3.0), "outside the piece")

    def test_a_fence_on_an_end_for_a_rip(self) -> None:
        rip = next(index for index, cut in enumerate(LAYOUT.cuts) if cut.along == "length")
        refuse(with_cut(rip, from_edge="left"), "fence cannot lie")

    def test_wrong_names_of_what_comes_free(self) -> None:
        refuse(with_cut(-1, parts=("A9",)), "frees")

    def test_wrong_number(self) -> None:
        refuse(with_cut(0, gives=(5, -1)), "is next")

    def test_a_part_thrown_away(self) -> None:
        gives = LAYOUT.cuts[-1].gives
        refuse(with_cut(-1, gives=(-1, gives[1])), "throws away|is next")

    def test_an_offcut_that_is_not_there(self) -> None:
        refuse(with_layout(offcuts=(*LAYOUT.offcuts, Offcut(0.1, 0.1, 0.4, 0.4))), "never free an offcut")

    def test_an_offcut_not_shown(self) -> None:
        refuse(with_layout(offcuts=LAYOUT.offcuts[:-1]), "neither part nor offcut")

    def test_a_turn_of_the_saw_too_many_in_the_cut_list_alone(self) -> None:
        # Two strips can be parted in one turn; this list frees the second with three.
        sheet, parts = ply(2.0, 1.0), [part("A1", 1.0, 1.0), part("A2", 0.5, 0.5)]
        placed = (Placed("A1", 0.0, 0.0, 1.0, 1.0, False), Placed("A2", 1.0, 0.0, 0.5, 0.5, False))
        cuts = (
            Cut(0, "width", 1.0, "left", ("A1",), (1, 2)),
            Cut(2, "length", 0.6, "bottom", (), (3, -1)),
            Cut(3, "width", 0.5, "left", (), (4, -1)),
            Cut(4, "length", 0.5, "bottom", ("A2",), (5, -1)),
        )
        plan = SheetPlan((SheetLayout(sheet, 1, placed, cuts, ()),), Bound("ply 18", 1, 1, True, "area"))
        judge_sheets(parts, [sheet], CLEAN, 4, plan)
        judge_sheets(parts, [sheet], CLEAN, 3, plan)  # the fourth only trims the second
        with pytest.raises(InternalError, match="takes turn 4"):
            judge_sheets(parts, [sheet], CLEAN, 2, plan)


class TestNumbers:
    def test_a_part_missing(self) -> None:
        refuse(replace(PLAN, layouts=PLAN.layouts[1:]), "missing")

    def test_a_sheet_too_many(self) -> None:
        refuse(with_layout(count=2), "too many")

    def test_more_sheets_than_there_are(self) -> None:
        short = [replace(STOCK[0], limit=0)]
        plan = replace(PLAN, layouts=tuple(replace(layout, stock=short[0]) for layout in PLAN.layouts))
        with pytest.raises(InternalError, match="more than there are"):
            judge_sheets(PARTS, short, SAW, 3, plan)

    def test_a_sheet_not_in_stock(self) -> None:
        with pytest.raises(InternalError, match="not in stock"):
            judge_sheets(PARTS, [ply(price=51.0)], SAW, 3, PLAN)

    def test_listed_twice(self) -> None:
        refuse(replace(PLAN, layouts=(*PLAN.layouts, LAYOUT)), "listed twice")

    def test_wrong_cost(self) -> None:
        refuse(replace(PLAN, bound=replace(PLAN.bound, used=PLAN.bound.used + 1)), "costs")

    def test_a_bound_above_the_plan(self) -> None:
        refuse(replace(PLAN, bound=replace(PLAN.bound, least=PLAN.bound.used + 1)), "no plan can cost less")

    def test_a_proof_that_is_none(self) -> None:
        refuse(replace(PLAN, bound=replace(PLAN.bound, least=PLAN.bound.used - 1, proven=True)), "proven")
