"""Braces: statics by a second route, and the column formula where its answer is known without it."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.lumber import Section, Service, adjust, grade_of
from formwork.strength.props import C_SAWN, K_CE, brace_verdicts, stability_factor, thrust


@given(
    push=st.floats(1.0, 5000.0),
    height=st.floats(0.3, 6.0),
    share=st.floats(0.3, 1.0),
    slope=st.floats(0.2, 1.3),
)
@settings(max_examples=40, deadline=None)
def test_moments_about_the_foot_of_the_brace_agree(push, height, share, slope):
    """The mold and its brace as one body: push, foot of the mold, foot of the brace; no force sheet of ours is used."""
    at = share * height
    found = thrust(push, height, at, slope)
    out = at * cos(slope) / sin(slope)
    down_at_mold = push * height / out
    assert found.upright == pytest.approx(down_at_mold)
    assert atan2(found.upright, found.level) == pytest.approx(slope)
    assert hypot(found.upright, found.level) == pytest.approx(found.along)


def test_a_short_stick_loses_nothing_and_a_long_one_carries_what_euler_says():
    assert stability_factor(1e6) == pytest.approx(1.0, abs=1e-6)
    assert stability_factor(1e-6) == pytest.approx(1e-6, rel=1e-5)


@given(ratio=st.floats(0.001, 100.0))
@settings(max_examples=40, deadline=None)
def test_the_factor_is_the_lesser_root(ratio):
    c = stability_factor(ratio)
    assert C_SAWN * c * c - (1.0 + ratio) * c + ratio == pytest.approx(0.0, abs=1e-9 * (1.0 + ratio))
    assert 0.0 < c <= min(1.0, ratio) + 1e-12


def test_euler_with_its_coefficient_is_a_safe_share_of_the_true_load():
    """0.3 E / s^2 against pi^2 E / 12 s^2: the coefficient holds a factor of 2.74 on a mean E (from memory)."""
    assert pi**2 / 12.0 / K_CE == pytest.approx(2.742, abs=0.001)


def test_a_brace_by_hand():
    """45 x 45 mm, 1.8 m long, of the weakest softwood, 600 N along it."""
    section = Section(0.045, 0.045)
    row = grade_of("softwood", 0.045)
    values = adjust(row, section, Service())
    found = thrust(600.0 * cos(radians(45.0)), 1.0, 1.0, radians(45.0))
    slim, squeezed = brace_verdicts(row, values, section, 1.8, found)
    assert slim.load == pytest.approx(40.0) and slim.ok
    assert squeezed.load == pytest.approx(600.0 / 45.0**2)
    euler = 0.3 * values.e / 1e6 / 1600.0
    assert squeezed.limit < min(euler, 0.8 * row.fc / 1e6)
    assert not brace_verdicts(row, values, section, 2.4, found)[0].ok


@pytest.mark.parametrize("wrong", [(-1.0, 1.0, 1.0, 0.8), (1.0, 0.0, 1.0, 0.8), (1.0, 1.0, 1.0, 1.6)])
def test_nonsense_is_refused(wrong):
    with pytest.raises(RangeError):
        thrust(*wrong)
