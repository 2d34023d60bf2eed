"""Charts of individuals and moving ranges.

Constants for n = 2: read in two published tables (d2 1.1284, D4 3.2665 to four decimals; 2.660, 1.128, 3.267 to three).
The worked example of ten flow rates in the NIST/SEMATECH e-Handbook, 6.3.2.2, is from memory.
Run rules: Western Electric, 1956, and Nelson, 1984, as listed on public pages.
"""

from __future__ import annotations

from math import pi, sqrt

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.pour.control import INDIVIDUALS, RANGES, SIGMA, chart, run_rules

FLOW = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)


def test_constants_of_the_tables() -> None:
    assert pytest.approx((2.660, 1.128, 3.267), abs=5e-4) == (INDIVIDUALS, SIGMA, RANGES)
    assert pytest.approx((1.1284, 3.2665), abs=5e-4) == (SIGMA, RANGES)


def test_constants_follow_from_the_normal_distribution() -> None:
    # Range of two normal values: mean 2/sqrt(pi), standard deviation sqrt(2 - 4/pi).
    d2, d3 = 2.0 / sqrt(pi), sqrt(2.0 - 4.0 / pi)
    assert pytest.approx((3.0 / d2, 1.0 + 3.0 * d3 / d2, d2), abs=2e-3) == (INDIVIDUALS, RANGES, SIGMA)


def test_ten_flow_rates_from_memory() -> None:
    # Mean 50.81, mean range 1.8778, limits 45.8159 and 55.8041 with d2 = 1.128 kept exact; 2.66 is 3/1.128 rounded.
    made = chart(FLOW)
    assert made.mean == pytest.approx(50.81, abs=5e-4)
    assert made.mean_range == pytest.approx(1.8778, abs=5e-5)
    assert made.mean - 3.0 * made.sigma == pytest.approx(45.8159, abs=5e-4)
    assert made.mean + 3.0 * made.sigma == pytest.approx(55.8041, abs=5e-4)
    assert (made.lower, made.upper) == pytest.approx((45.8159, 55.8041), abs=0.002)
    assert made.range_limit == pytest.approx(3.267 * 1.8778, abs=2e-4)
    assert made.signals == ()


@given(values=st.lists(st.floats(300.0, 1600.0), min_size=5, max_size=40))
@settings(max_examples=50)
def test_limits_by_another_route(values) -> None:
    made = chart(values)
    ranges = numpy.abs(numpy.diff(values))
    assert made.ranges == pytest.approx(ranges.tolist())
    assert made.upper == pytest.approx(numpy.mean(values) + 2.66 * ranges.mean())
    assert made.lower == pytest.approx(numpy.mean(values) - 2.66 * ranges.mean())
    far = made.mean + 3.0 * made.sigma
    told = [signal.at for signal in made.signals if signal.rule == "above its limit"]
    assert told == [i for i, x in enumerate(values) if x > far and not (i and values[i - 1] > far)]


def rules(scores) -> list[tuple[int, str]]:
    return [(signal.at, signal.rule) for signal in run_rules(scores, 0.0, 1.0)]


@pytest.mark.parametrize(
    ("scores", "said"),
    [
        ([0.5, -0.5, 3.1, -0.5], [(2, "above its limit")]),
        ([0.5, -0.5, -3.1, 0.5], [(2, "below its limit")]),
        ([0.5, -3.0, 0.5], []),
        ([2.1, 0.0, 2.1], [(2, "two of three more than two sigmas above the mean")]),
        ([2.1, 0.0, 0.0, 2.1], []),
        ([2.1, -2.1, 0.0], []),
        ([-1.1, -1.1, 0.5, -1.1, -1.1], [(4, "four of five more than one sigma below the mean")]),
        ([-1.1, -1.1, 0.5, 0.5, -1.1, -1.1], []),
        ([0.1, 0.2] * 4, [(7, "eight in a row above the mean")]),
        ([0.1, 0.2] * 3 + [0.1, -0.1], []),
        ([0.1, 0.2] * 5, [(7, "eight in a row above the mean")]),
        ([-0.9, -0.5, -0.1, 0.1, 0.3, 0.6], [(5, "six in a row rising")]),
        ([0.9, 0.5, 0.1, -0.1, -0.3, -0.6, -0.9], [(5, "six in a row falling")]),
        ([-0.9, -0.5, -0.1, -0.1, 0.3, 0.6], []),
    ],
)
def test_run_rules(scores, said) -> None:
    assert rules(scores) == said


def test_a_jump_beyond_the_limit_of_ranges_is_told() -> None:
    made = chart([600.0, 601.0] * 6 + [640.0])
    assert any(signal.at == 12 and "a jump" in signal.rule for signal in made.signals)


def test_every_signal_says_its_source() -> None:
    made = chart([600.0, 601.0] * 6 + [640.0])
    assert made.signals and all(signal.source for signal in made.signals)


def test_equal_values_break_no_rule_and_few_make_no_chart() -> None:
    assert chart([600.0] * 20).signals == ()
    with pytest.raises(RangeError, match="got 4 readings, want 5 or more"):
        chart([600.0] * 4)
