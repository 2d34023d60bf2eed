"""Labels in columns: apart, in order, as level as may be, leaders off the texts."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from formwork.drawings.columns import in_columns, spread

levels = st.lists(st.floats(0.0, 100.0), min_size=1, max_size=30).map(sorted)


@given(levels)
def test_levels_are_spread_by_a_pitch_about_where_they_were(given_levels):
    spaced = spread(given_levels, 10.0)
    assert all(b - a > 10.0 - 1e-9 for a, b in pairwise(spaced))
    assert sum(spaced) == approx(sum(given_levels), abs=1e-6)


def test_levels_with_room_between_them_stay():
    assert spread([0.0, 12.0, 40.0], 10.0) == approx([0.0, 12.0, 40.0])


@given(
    st.lists(st.tuples(st.floats(0.0, 100.0), st.floats(0.0, 60.0)), min_size=15, max_size=30, unique=True)
)
def test_balloons_in_columns_stand_outside_and_apart(points):
    placed = in_columns([[p] for p in points], ((0.0, 0.0), (100.0, 60.0)), 10.0, lambda _point, _place: True)
    assert [point for point, _ in placed] == points
    for i, (_, (x, y)) in enumerate(placed):
        assert x <= -10.0 or x >= 110.0
        assert all(x != u or abs(y - v) > 10.0 - 1e-6 for _, (u, v) in placed[i + 1 :])


def test_what_may_be_named_on_either_side_is_shared_out():
    wanted = [[(10.0, 3.0 * k), (90.0, 3.0 * k)] for k in range(20)]
    placed = in_columns(wanted, ((0.0, 0.0), (100.0, 60.0)), 10.0, lambda _point, _place: True)
    assert sum(x < 0.0 for _, (x, _) in placed) == 10
    assert all((point[0] < 50.0) == (place[0] < 50.0) for point, place in placed)


def test_a_leader_goes_round_a_text():
    wanted = [[(5.0, 4.0 * k)] for k in range(15)]
    placed = in_columns(
        wanted, ((0.0, 0.0), (100.0, 60.0)), 10.0, lambda _point, place: not 20.0 < place[1] < 29.0
    )
    assert all(not 20.0 < y < 29.0 for _, (_, y) in placed)
