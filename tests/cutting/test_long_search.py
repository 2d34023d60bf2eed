"""The long search: compiled and as it stands it is the same, what it gives is whole, and longer is never worse."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting import long_search, refilling
from formwork.cutting.fill import Filled, spots_of
from formwork.cutting.job import sheet_job
from formwork.cutting.judge import judge_sheets
from formwork.cutting.records import SheetPart
from formwork.cutting.repack import Packer
from formwork.cutting.sheets import nest
from formwork.stock.records import SheetStock
from tests.cutting.conftest import PARTS, SAW, STOCK, part, ply


def never() -> bool:
    return False


def packed(parts: list[SheetPart], stock: list[SheetStock]) -> tuple[Packer, list[Filled], list[int]]:
    job = sheet_job(parts, stock, SAW, 3)
    packer = Packer(job.kinds, job.sheets, 3, None, 7)
    limits = [sheet.limit for sheet in job.sheets]
    first = packer.pack(list(job.kinds.wanted), limits, 1, float("inf")) or []
    packer.trims = True
    return packer, first, limits


def many_parts() -> list[SheetPart]:
    """Sizes that seldom go together: about two to five to a sheet."""
    return [
        part(f"P{n}", 0.5 + 0.037 * (7 * n % 31), 0.3 + 0.023 * (11 * n % 29), may_turn=n % 2 == 0)
        for n in range(70)
    ]


class TestCompiled:
    def test_finds_the_same_as_it_stands(self) -> None:
        """A few thousand fits, every sheet and step compared; one kind of sheet and several with prices."""
        for stock in ([ply()], [ply(price=50.0, limit=4), ply(1.22, 1.22, 28.0), ply(3.05, 1.52, 90.0)]):
            packer, first, limits = packed(many_parts(), stock)
            found = []
            for module in (long_search.loaded(), refilling):
                room = long_search._room(packer, first, limits, long_search._shape(packer, first))
                number = module.improve(room, len(first), -1.0, 20_000, True)
                found.append((long_search._filled(room, number), int(room.state[1])))
            assert found[0] == found[1]
            assert found[0][0] != first


def test_without_the_compiler_the_quick_search_is_all(monkeypatch) -> None:
    packer, first, limits = packed(many_parts(), [ply()])
    monkeypatch.setattr(long_search, "loaded", lambda: None)
    assert long_search.search_long(packer, first, limits, -1.0, 5, never) == first


class TestAnyJob:
    @settings(max_examples=25, deadline=None)
    @given(PARTS, STOCK, st.integers(0, 3))
    def test_gives_every_blank_within_the_stock_and_never_costs_more(
        self, parts: list[SheetPart], stock: list[SheetStock], turns: int
    ) -> None:
        packer, first, limits = packed(parts, stock)
        better = long_search.search_long(packer, first, limits, -1.0, turns, never)
        assert packer.worth(better).cost <= packer.worth(first).cost
        assert packer.contents(better) == list(packer.kinds.wanted)
        for sheet, limit in enumerate(limits):
            assert sum(one.sheet == sheet for one in better) <= limit
        for one in better:
            size = packer.sheets[one.sheet].length, packer.sheets[one.sheet].width
            free = sum(x * y for x, y, *_ in spots_of(packer.kinds, one, size, 99))
            assert free + one.area == size[0] * size[1], "blanks and rests make up the sheet"


def test_longer_is_never_worse_and_passes_the_judge() -> None:
    parts = many_parts()
    plans = [nest(parts, [ply()], SAW, effort=effort) for effort in (0.05, 0.4, 1.0, 2.0)]
    for plan in plans:
        judge_sheets(parts, [ply()], SAW, 3, plan)
    assert all(more.bound.used <= less.bound.used for less, more in pairwise(plans))
    assert plans[-1].bound.used < plans[0].bound.used


def test_an_end_that_is_asked_for_comes_before_the_next_turn() -> None:
    packer, first, limits = packed(many_parts(), [ply()])
    asked = []

    def soon() -> bool:
        asked.append(True)
        return len(asked) > 2

    best = long_search.search_long(packer, first, limits, -1.0, 1000, soon)
    assert len(asked) == 3
    assert packer.contents(best) == list(packer.kinds.wanted)


def test_sheets_beyond_whole_numbers_of_64_bits_are_left_as_they_are() -> None:
    packer, first, limits = packed([part("P", 3.0, 2.0, 9)], [ply(20.0, 20.0)])
    assert long_search.search_long(packer, first, limits, -1.0, 1, never) == first
