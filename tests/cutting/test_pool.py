"""The choice among sheets seen: never dearer, always whole, within what the shop has."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.cuts import cut_sheet
from formwork.cutting.fill import Filled, Step
from formwork.cutting.job import Kinds, Sheet, sheet_job
from formwork.cutting.judge import judge_sheets
from formwork.cutting.pool import choose_among_seen, key_of, without_excess
from formwork.cutting.records import Bound, SheetPart, SheetPlan
from formwork.cutting.repack import Packer
from formwork.cutting.sheets import KEEP, nest
from formwork.cutting.tree import region
from formwork.stock.records import SheetStock
from tests.cutting.conftest import CLEAN, PARTS, SAW, STOCK, part, ply


class TestAnyJob:
    @settings(max_examples=25, deadline=None)
    @given(PARTS, STOCK)
    def test_never_costs_more_and_gives_every_blank(
        self, parts: list[SheetPart], stock: list[SheetStock]
    ) -> None:
        job = sheet_job(parts, stock, SAW, 3)
        packer = Packer(job.kinds, job.sheets, 3, None, 7)
        limits = [sheet.limit for sheet in job.sheets]
        packed = packer.pack(list(job.kinds.wanted), limits, 1, float("inf")) or []
        chosen = choose_among_seen(packer, packed, limits, 1e-6)
        assert packer.worth(chosen).cost <= packer.worth(packed).cost
        assert packer.contents(chosen) == list(job.kinds.wanted)
        for sheet, limit in enumerate(limits):
            assert sum(one.sheet == sheet for one in chosen) <= limit

    def test_passes_the_judge_where_it_is_used(self) -> None:
        # Parts of many sizes, about two to five to a sheet: the job that repacking alone serves worst.
        parts = [
            part(f"P{n}", 0.5 + 0.037 * (7 * n % 31), 0.3 + 0.023 * (11 * n % 29), may_turn=n % 2 == 0)
            for n in range(70)
        ]
        plans = [nest(parts, [ply()], SAW, effort=effort) for effort in (0.4, 1.0)]
        for plan in plans:
            judge_sheets(parts, [ply()], SAW, 3, plan)
        assert plans[1].bound.used <= plans[0].bound.used

    def test_finds_the_sheets_that_go_together(self) -> None:
        """Forty widths made by cutting twenty sheets in two, among all pairs that fit on a sheet: twenty serve."""
        cuts = [501 + 7 * n + n * n for n in range(20)]
        widths = [width for cut in cuts for width in (cut, 1220 - cut)]
        parts = [part(f"P{n}", 1.0, width / 1000) for n, width in enumerate(widths)]
        job = sheet_job(parts, [ply(1.0, 1.22)], CLEAN, 3)
        packer = Packer(job.kinds, job.sheets, 3, None, 7)
        pairs = [(a, b) for a, b in combinations(range(40), 2) if widths[a] + widths[b] <= 1220]
        packer.seen = {(0, pair): side_by_side(packer, *pair) for pair in pairs}
        alone = [side_by_side(packer, kind) for kind in range(40)]
        assert len(pairs) > 200
        assert len(choose_among_seen(packer, alone, [1 << 60], 1.0)) == 20


def side_by_side(packer: Packer, *kinds: int) -> Filled:
    """Strips along the sheet, one beside the other."""
    steps = tuple(Step(kind, max(0, 2 * number - 1), False, False) for number, kind in enumerate(kinds))
    return Filled(0, 0, steps, sum(packer.areas[kind] for kind in kinds))


class TestExcess:
    KINDS = Kinds((400, 400, 400), (300, 300, 200), (False,) * 3, (1, 1, 1))

    def test_a_blank_on_two_sheets_leaves_one_of_them(self) -> None:
        packer = Packer(self.KINDS, (Sheet(1000, 500, 1.0, 1 << 60),), 3, None, 7)
        full = Filled(0, 0, (Step(0, 0, False, False), Step(1, 2, False, False)), 240_000)
        other = Filled(0, 0, (Step(0, 0, False, False), Step(2, 2, False, False)), 200_000)
        kept = without_excess(packer, [full, other])
        assert packer.contents(kept) == [1, 1, 1]
        assert sorted(key_of(one)[1] for one in kept) == [(0, 2), (1,)]
        assert sum(one.area for one in kept) == 120_000 + 120_000 + 80_000

    @settings(max_examples=30, deadline=None)
    @given(PARTS, st.lists(st.integers(0, 50), min_size=1, max_size=3))
    def test_a_place_kept_empty_can_still_be_cut(self, parts: list[SheetPart], gone: list[int]) -> None:
        """A sheet with gaps is judged as any other, with one part the less for each gap."""
        job = sheet_job(parts, [ply()], SAW, 3)
        packer = Packer(job.kinds, job.sheets, 3, None, 7)
        left = list(job.kinds.wanted)
        (one, *_) = packer.pack(left, [1 << 60], 1, float("inf")) or []
        steps = [
            step._replace(void=number in {place % len(one.steps) for place in gone})
            for number, step in enumerate(one.steps)
        ]
        thinner = one._replace(steps=tuple(steps))
        counts = packer.contents([thinner])
        kept = [
            part(one.label, one.length, one.width, count, one.may_turn)
            for one, count in zip(job.parts, counts, strict=True)
            if count
        ]
        if kept:
            layout = cut_sheet(job.stock[0], region(thinner, job.parts), SAW, KEEP)
            plan = SheetPlan((layout,), Bound("", 1.0, 1.0, True, ""))
            judge_sheets(kept, [ply()], SAW, 3, plan)
