"""Bounds: what makes them bounds, and cases whose least number is plain to see."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.bounds import cheapest, least_cost, rows, scaled
from formwork.cutting.job import Kinds, Sheet
from formwork.cutting.repack import Packer

MANY = settings(max_examples=150, deadline=None)


@MANY
@given(st.integers(2, 60), st.lists(st.integers(1, 60), min_size=1, max_size=12))
def test_what_fits_side_by_side_still_fits_when_changed(whole: int, sizes: list[int]) -> None:
    """The definition of a dual feasible function, tried on every pick that fills up one whole."""
    inside = [min(size, whole) for size in sizes]
    for values, full in scaled(inside, whole):
        room, taken = whole, 0
        for size, value in sorted(zip(inside, values, strict=True), key=lambda pair: -pair[1] / pair[0]):
            times = room // size
            room -= times * size
            taken += times * value
        assert taken <= full
        for size, value in zip(inside, values, strict=True):
            assert (whole // size) * value <= full


@MANY
@given(st.integers(2, 40), st.data())
def test_any_pair_that_fits_together_still_fits_when_changed(whole: int, data: st.DataObject) -> None:
    one = data.draw(st.integers(1, whole - 1))
    other = data.draw(st.integers(1, whole - one))
    for (first, second), full in scaled([one, other], whole):
        assert first + second <= full


def kinds(*blanks: tuple[int, int, bool, int]) -> Kinds:
    lengths, widths, turns, wanted = zip(*blanks, strict=True)
    return Kinds(lengths, widths, turns, wanted)


class TestLeastCost:
    def test_over_half_both_ways_cannot_share(self) -> None:
        assert least_cost(kinds((6, 6, True, 7)), [Sheet(10, 10, 1.0, 99)], 7.0).cost == 7

    def test_a_third_and_a_bit_leaves_four_to_a_sheet(self) -> None:
        # Squares of 4 in a sheet of 10: two by two, though 6.25 of them have its area.
        assert least_cost(kinds((4, 4, False, 9)), [Sheet(10, 10, 1.0, 99)], 9.0).cost == 3

    def test_turning_may_help_and_then_the_bound_allows_it(self) -> None:
        # 6 x 5 turned and not: two lie side by side only one way.
        assert least_cost(kinds((6, 5, False, 2)), [Sheet(10, 10, 1.0, 99)], 2.0).cost == 1
        assert least_cost(kinds((5, 4, True, 4)), [Sheet(10, 10, 1.0, 99)], 2.0).cost == 1

    def test_a_pinwheel_is_not_cut_straight_through_and_the_bound_knows(self) -> None:
        # Four of 6 x 4 lie round a middle of 2 x 2, but no straight cut parts them.
        assert least_cost(kinds((6, 4, True, 4)), [Sheet(10, 10, 1.0, 99)], 2.0).cost == 2

    def test_a_sheet_that_takes_no_part_does_not_lower_the_bound(self) -> None:
        sheets = [Sheet(10, 10, 5.0, 99), Sheet(3, 3, 0.0, 99)]
        assert least_cost(kinds((6, 6, True, 2)), sheets, 10.0).cost == 10


class TestCheapest:
    def test_mixes_sizes(self) -> None:
        # 5 + 5 + 2 at 4, 4 and 2: 12 of area for 10; three of 5 would cost 12.
        assert cheapest([Sheet(5, 1, 4.0, 99), Sheet(2, 1, 2.0, 99)], 12, 1) == 10

    def test_keeps_to_limits(self) -> None:
        assert cheapest([Sheet(5, 1, 4.0, 1), Sheet(5, 1, 9.0, 99)], 12, 1) == 22

    @MANY
    @given(
        st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9), st.integers(0, 3)), min_size=1, max_size=4),
        st.integers(1, 30),
        st.integers(0, 4),
    )
    def test_agrees_with_trying_everything(
        self, found: list[tuple[int, int, int]], area: int, count: int
    ) -> None:
        sheets = [Sheet(size, 1, float(cost), limit) for size, cost, limit in found]
        assert cheapest(sheets, area, count) == tried(sheets, area, count)


def tried(sheets: list[Sheet], area: int, count: int) -> float:
    if area <= 0 and count <= 0:
        return 0.0
    if not sheets:
        return float("inf")
    one, *rest = sheets
    size = one.length * one.width
    return min(n * one.cost + tried(rest, area - n * size, count - n) for n in range(one.limit + 1))


class TestBars:
    def test_lines_that_do_not_fill_the_sheet(self) -> None:
        # A line of 10 takes two lengths of 4 or one of 7: 6 x 5 / 2 + 3 x 3 = 24 lines, and a sheet has 10 of them:
        # three sheets, though the area of all is 6 x 20 + 3 x 21 = 183, less than two.
        found = kinds((4, 5, False, 6), (7, 3, False, 3))
        assert max(rows(found, 10, 10)) == 3

    @MANY
    @given(
        st.lists(
            st.tuples(st.integers(1, 20), st.integers(1, 12), st.booleans(), st.integers(1, 4)),
            min_size=1,
            max_size=7,
        )
    )
    def test_no_packing_takes_fewer_sheets_and_the_area_bound_is_no_higher(
        self, blanks: list[tuple[int, int, bool, int]]
    ) -> None:
        found = kinds(*blanks)
        packer = Packer(found, (Sheet(20, 12, 1.0, 1 << 60),), 4, None, 3)
        packed = packer.pack(list(found.wanted), [1 << 60], 3, float("inf")) or []
        packed = packer.improve(packed, [1 << 60], 0.0, 3_000)
        least = max(rows(found, 20, 12))
        assert least <= len(packed)
        if not any(found.turns):
            area = sum(a * b * n for a, b, n in zip(found.lengths, found.widths, found.wanted, strict=True))
            assert least >= -(-area // 240)
