"""The formulas by themselves: edges of what they are valid for, and units that are consistent but not SI."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.absolute_volume import (
    absolute_volume,
    air_content,
    air_dry_density,
    base_water_cement,
    concentrate_in,
    effective_volume,
    foam_needed,
    oven_dry_density,
)

POUND, FOOT = 0.45359237, 0.3048


def test_air_is_counted_on_the_mix_made() -> None:
    # 0.2 m3 of foam of 50 kg/m3 hold 0.19 m3 of air; 90 % of it in half a cubic metre
    assert air_content(0.2, 50.0, 0.9, 0.5) == pytest.approx(0.342, rel=1e-12)


@settings(max_examples=100, deadline=None)
@given(st.floats(0.3, 0.9), st.floats(20.0, 90.0), st.floats(2.0, 6.0), st.floats(0.7, 1.0))
def test_pounds_and_feet_give_what_kilograms_and_metres_give(
    ratio: float, wet: float, foam: float, survival: float
) -> None:
    rho_w, si = 62.4, POUND / FOOT**3
    us = foam_needed(
        1.0 + ratio,
        absolute_volume([(1.0, 3.15)], ratio, rho_w),
        wet,
        foam,
        survival=survival,
        water_density=rho_w,
    )
    volume = absolute_volume([(POUND, 3.15)], ratio * POUND, rho_w * si)
    metric = foam_needed(
        POUND * (1.0 + ratio), volume, wet * si, foam * si, survival=survival, water_density=rho_w * si
    )
    assert metric / FOOT**3 == pytest.approx(us, rel=1e-9)


@settings(max_examples=100, deadline=None)
@given(st.floats(0.3, 0.9), st.floats(300.0, 1500.0), st.floats(25.0, 90.0), st.floats(0.7, 1.0))
def test_base_ratio_is_total_less_the_foams_water(
    base: float, wet: float, foam: float, survival: float
) -> None:
    volume = absolute_volume([(1.0, 3.15)], base)
    total = base + foam * foam_needed(1.0 + base, volume, wet, foam, survival=survival)
    assert base_water_cement(total, wet, [(1.0, 3.15)], foam, survival=survival) == pytest.approx(
        base, rel=1e-6
    )


def test_dry_densities_over_the_volume_they_fill() -> None:
    assert oven_dry_density(100.0, 60.0, 0.5) == pytest.approx(360.0, rel=1e-12)
    assert air_dry_density(oven_dry_density(100.0, 60.0, 0.5)) == pytest.approx(410.0, rel=1e-12)


def test_the_edges_are_valid() -> None:
    assert effective_volume(50.0, 0.005) == pytest.approx(0.05475, rel=1e-12)
    assert concentrate_in(1.0, 0.0) == 1.0
    assert foam_needed(1.5, 1.0e-3, 1500.0, 50.0) == 0.0


def test_too_heavy_a_mix_names_the_heaviest() -> None:
    with pytest.raises(RangeError, match=r"want 1834\.95 or less"):
        base_water_cement(0.5, 2000.0, [(1.0, 3.15)], 50.0)
    with pytest.raises(RangeError, match="want 1500 or less"):
        foam_needed(1.5, 1.0e-3, 1600.0, 50.0)


def test_too_little_total_water_names_what_the_foam_brings() -> None:
    # neat, 200 kg/m3, foam of 100 kg/m3: the foam's own water is worth more than 0.5 of cement
    with pytest.raises(RangeError, match="total water-cement ratio") as refused:
        base_water_cement(0.5, 200.0, [(1.0, 3.15)], 100.0)
    assert "got 0.5" in str(refused.value)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: absolute_volume([(-1.0, 3.15)], 0.5),
        lambda: absolute_volume([(1.0, 0.0)], 0.5),
        lambda: absolute_volume([(1.0, 3.15)], -0.5),
        lambda: effective_volume(1000.0, 1.0),
        lambda: effective_volume(50.0, 0.0),
        lambda: effective_volume(50.0, 1.0001),
        lambda: foam_needed(1.5, 0.0, 600.0, 50.0),
        lambda: foam_needed(1.5, 1.0e-3, 50.0, 50.0),
        lambda: air_content(0.5, 50.0, 1.0, 0.0),
        lambda: oven_dry_density(300.0, 0.0, 0.0),
        lambda: concentrate_in(1.0, -1.0),
        lambda: base_water_cement(0.0, 600.0, [(1.0, 3.15)], 50.0),
    ],
)
def test_outside_its_limits_a_formula_gives_no_number(wrong) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(RangeError):
        wrong()
