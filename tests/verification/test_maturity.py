"""Maturity, ASTM C1074: three published examples, and the equivalent age formula (from memory)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.pour.maturity import Interval, equivalent_hours, hours_for, nurse_saul, rate

ZERO = 273.15


def test_half_a_day_at_20_and_half_a_day_at_25() -> None:
    # Published: datum 0 C, 240 + 300 = 540 C h.
    assert nurse_saul([Interval(12.0, ZERO + 20.0), Interval(12.0, ZERO + 25.0)]) == pytest.approx(
        540.0, abs=1e-6
    )


def test_28_days_at_15() -> None:
    # Published: datum -11 C, 728 C day.
    assert nurse_saul([Interval(28.0 * 24.0, ZERO + 15.0)], datum=ZERO - 11.0) / 24.0 == pytest.approx(
        728.0, abs=1e-6
    )


def test_3500_c_h_at_23() -> None:
    # Published: datum 0 C, 152 h.
    assert hours_for(3500.0, ZERO + 23.0) == pytest.approx(152.0, abs=0.5)


@pytest.mark.parametrize(("celsius", "factor"), [(10.0, 0.5475), (20.0, 1.0), (23.0, 1.1886), (30.0, 1.7553)])
def test_rates_worked_by_hand_at_q_5000(celsius: float, factor: float) -> None:
    assert rate(ZERO + celsius) == pytest.approx(factor, abs=5e-5)


def test_below_the_datum_nothing_counts() -> None:
    assert nurse_saul([Interval(10.0, ZERO - 5.0), Interval(1.0, ZERO + 10.0)]) == pytest.approx(10.0)
    assert equivalent_hours([Interval(10.0, ZERO - 5.0)]) == 0.0


@given(
    days=st.lists(st.tuples(st.floats(0.1, 24.0), st.floats(-20.0, 45.0)), min_size=1, max_size=8),
    split=st.floats(0.1, 0.9),
)
@settings(max_examples=40)
def test_cutting_an_interval_in_two_changes_nothing(days, split) -> None:
    whole = [Interval(hours, ZERO + degrees) for hours, degrees in days]
    cut = [Interval(part * each.hours, each.temperature) for each in whole for part in (split, 1.0 - split)]
    assert nurse_saul(cut) == pytest.approx(nurse_saul(whole), rel=1e-9, abs=1e-9)
    assert equivalent_hours(cut) == pytest.approx(equivalent_hours(whole), rel=1e-9, abs=1e-9)


def test_what_cannot_be() -> None:
    with pytest.raises(RangeError, match=r"want more than 0\.0 C, below which nothing ripens"):
        hours_for(100.0, ZERO - 1.0)
    with pytest.raises(RangeError, match="got -1 h"):
        nurse_saul([Interval(-1.0, ZERO)])
    with pytest.raises(RangeError, match="want one of weather"):
        equivalent_hours([Interval(1.0, 900.0)])
