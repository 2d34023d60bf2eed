"""Foam before the first batch: what a measure of it weighs, what heavier foam does, the solution for a pour."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import batches, totals
from formwork.mix.cellular import design
from formwork.mix.foam_check import NEAR, foam_check, solution
from formwork.mix.ordinary import design_ordinary
from formwork.mix.records import CellularWanted, Cement, Foam, Mix, Mixer, OrdinaryWanted

CEMENT = Cement("portland", 3.15, 25.0)
MIXER = Mixer("drum", "tilting drum", 0.200, "whole drum", 0.100, 0.002, 0.010)
OUNCE = 0.45359237 / 16.0


def mixed(foam: Foam, wet: float = 600.0) -> Mix:
    return design(CellularWanted(wet, None, 0.5), CEMENT, foam)


def test_three_ounces_a_quart_is_the_foam_of_small_generators():
    """Hobby pages give "approximately 3 ounces per quart", which is 89.9 g/L: 3 oz / 0.946353 L."""
    foam = Foam(89.87, 0.95, 40.0)
    check = foam_check(mixed(foam), foam, "in")
    assert check is not None
    assert check.net / OUNCE == pytest.approx(3.0, abs=5e-4)


def test_a_litre_of_foam_weighs_its_density_in_grams():
    foam = Foam(50.0, 0.95, 40.0)
    check = foam_check(mixed(foam), foam, "mm")
    assert check is not None
    assert (check.net, check.low, check.high) == pytest.approx((0.050, 0.045, 0.055), rel=1e-12)


def test_a_quart_is_a_quarter_of_231_cubic_inches():
    """A US gallon is 231 cubic inches by definition (NIST Handbook 44, appendix C)."""
    foam = Foam(50.0, 1.0, 40.0)
    check = foam_check(mixed(foam), foam, "in")
    assert check is not None
    assert check.volume == pytest.approx(231.0 * 0.0254**3 / 4.0, rel=1e-9)


@settings(max_examples=80, deadline=None)
@given(st.floats(25.0, 100.0), st.floats(0.7, 1.0), st.floats(400.0, 1400.0))
def test_heavier_foam_by_the_parts_of_the_mix(density, survival, wet):
    """The wet density again, from the volumes of cement, waters and air one by one."""
    foam = Foam(density, survival, 40.0)
    mix = mixed(foam, wet)
    check = foam_check(mix, foam, "mm")
    assert check is not None

    def wet_of(volume: float) -> float:
        liquid = (1.0 + NEAR) * density * volume / 1000.0
        air = survival * (volume - liquid)
        solid = mix.cement / 3150.0 + mix.water / 1000.0
        return (mix.cement + mix.water + 1000.0 * liquid) / (solid + liquid + air)

    assert check.wet_by_volume == pytest.approx(wet_of(mix.foam_volume), rel=1e-9)
    assert check.wet_by_weight == pytest.approx(wet_of(mix.foam_volume / (1.0 + NEAR)), rel=1e-9)
    assert check.wet_by_weight > check.wet_by_volume > mix.wet_density


def test_no_foam_no_check_and_no_solution():
    mix = design_ordinary(OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0), CEMENT)
    foam = Foam(50.0, 0.95, 40.0)
    assert foam_check(mix, foam, "mm") is None
    assert solution(batches(0.2, mix, MIXER, foam)) is None
    assert solution(()) is None


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, 0.5), st.floats(5.0, 60.0), st.floats(0.02, 0.9))
def test_solution_is_what_the_batches_and_the_buy_list_count(reserve, dilution, volume):
    foam = Foam(50.0, 0.95, dilution, reserve=reserve)
    made = batches(volume, mixed(foam), MIXER, foam)
    ready, whole = solution(made), totals(made)
    assert ready is not None
    assert ready.volume == pytest.approx(ready.concentrate + ready.water, rel=1e-12)
    assert ready.volume * 1000.0 == pytest.approx(whole.foam_mass * (1.0 + reserve), rel=1e-9)
    assert ready.concentrate * 1000.0 == pytest.approx(whole.concentrate, rel=1e-9)
    assert ready.water / ready.concentrate == pytest.approx(dilution, rel=1e-9)
    assert ready.reserve * 1000.0 == pytest.approx(whole.foam_mass * reserve, rel=1e-9, abs=1e-12)


def test_a_negative_batch_is_refused():
    foam = Foam(50.0, 0.95, 40.0, reserve=-2.0)
    with pytest.raises(RangeError, match="negative"):
        solution(batches(0.05, mixed(Foam(50.0, 0.95, 40.0)), MIXER, foam))
