"""Pressure of fresh concrete: values of published lectures and books.

Sources: University of Florida construction lecture notes, week 7 (ACI formulas) and week 8 (column); Peurifoy & Oberlender,
Formwork for Concrete Structures, 4th ed., p. 135, 138, example 9-1; Nunnally, Construction Methods and Management, ch. 12.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.errors import RangeError
from formwork.strength.aci347 import HOUR, Placing, aci_pressure, base_pressure, unit_weight_coefficient
from formwork.strength.customary import FOOT, INCH, PCF, PSF, kelvin_of_fahrenheit
from formwork.strength.pressure import Lift, liquid_head
from tests.verification.agreement import Agreement, Case


def placing(rate, fahrenheit, height=14.0, member="wall", density=150.0) -> Placing:
    return Placing(density * PCF, height * FOOT, rate * FOOT / HOUR, kelvin_of_fahrenheit(fahrenheit), member)


def examples() -> list[Case]:
    """Printed pressures, psf; that example 9-1 is 5 ft/h at 80 F is inferred."""
    fast, column = placing(10, 80, height=15), placing(10, 80, height=20, member="column")
    return [
        Case("full head of a 10 ft column", 1500.0, liquid_head(150 * PCF, 10 * FOOT) / PSF, 1e-6),
        Case("Peurifoy p. 138", 825.0, aci_pressure(placing(6, 80)) / PSF, 0.05),
        Case("Peurifoy example 9-1", 713.0, aci_pressure(placing(5, 80)) / PSF, 0.6),
        Case("Florida week 7, second formula", 1042.5, base_pressure(fast) / PSF, 0.05),
        Case("Florida week 7, full head", 2250.0, liquid_head(fast.density, fast.height) / PSF, 1e-6),
        Case("least pressure", 600.0, aci_pressure(placing(1, 80)) / PSF, 1e-6),
        Case("column, first formula", 150 + 9000 * 10 / 80, base_pressure(column) / PSF, 1e-6),
    ]


def agreements() -> list[Agreement]:
    """The printed pressures."""
    source = "ACI 347 and full head, in Peurifoy & Oberlender, University of Florida, Nunnally"
    return [Agreement("pressure of fresh concrete", source, tuple(examples()))]


@pytest.mark.parametrize("case", examples(), ids=lambda case: case.name)
def test_printed_pressure(case):
    assert case.agrees, case


def test_metric_form_of_the_formula():
    """7.2 + 785 R/(T + 17.8) kPa (17.8 from memory; Nunnally prints 18) agrees to its three digits."""
    case = Placing(2400.0, 3.0, 1.5 / HOUR, 293.15)
    assert aci_pressure(case) == pytest.approx((7.2 + 785 * 1.5 / (20 + 17.8)) * 1e3, rel=1e-3)


def test_high_wall_takes_the_second_formula():
    assert base_pressure(placing(5, 80, height=14.5)) / PSF == pytest.approx(150 + 43400 / 80 + 2800 * 5 / 80)


def test_fast_wall_is_a_liquid():
    assert aci_pressure(placing(16, 80, height=9)) / PSF == pytest.approx(1350, abs=1e-6)


def test_least_pressure_and_that_it_never_exceeds_the_head():
    """600 Cw psf at least, w h at most: note c of the APA pressure table."""
    assert aci_pressure(placing(1, 80)) / PSF == pytest.approx(600)
    assert aci_pressure(placing(1, 80, height=2)) / PSF == pytest.approx(300)


def test_unit_weight_scales_formula_and_least_pressure():
    """Cw of 110 lb/ft3 is 0.879 (from memory)."""
    Cw = 0.5 * (1 + 110 / 145)
    assert aci_pressure(placing(5, 70, density=110)) / PSF == pytest.approx(Cw * (150 + 9000 * 5 / 70))
    assert aci_pressure(placing(1, 80, density=110)) / PSF == pytest.approx(600 * Cw)


@pytest.mark.parametrize(("cement", "Cc"), [("retarded or blended", 1.2), ("blended and retarded", 1.4)])
def test_chemistry_from_memory(cement, Cc):
    """ACI 347R-14, from memory."""
    slow = replace(placing(6, 80), cement=cement)
    assert aci_pressure(slow) / PSF == pytest.approx(825 * Cc)


@pytest.mark.parametrize(("w", "Cw"), [(110, 0.8793103), (145, 1.0), (150, 1.0), (160, 1.1034483)])
def test_unit_weight_coefficient_from_memory(w, Cw):
    """ACI 347R-14, from memory."""
    assert unit_weight_coefficient(w * PCF) == pytest.approx(Cw, abs=1e-6)


@pytest.mark.parametrize(
    "change",
    [{"slump": 7.5 * INCH}, {"density": 800.0}, {"temperature": 270.0}, {"rate": 0.0}, {"height": -1.0}],
)
def test_outside_its_limits_the_formula_refuses(change):
    with pytest.raises(RangeError):
        aci_pressure(replace(placing(5, 70), **change))


def test_a_lift_that_has_set_takes_its_height_out_of_the_head():
    whole, second = Lift(800.0, 1.2), Lift(800.0, 1.2, foot=0.7)
    assert second.at(0.7) == whole.at(0.7) == pytest.approx(800 * 9.80665 * 0.5)
    assert second.at(0.3) == 0.0 < whole.at(0.3)
    assert second.greatest(0.0, 1.2) == second.at(0.7)


@pytest.mark.parametrize("cap", [None, 2000.0, 5000.0, 1e6])
def test_resultant_is_the_area_of_the_pressure_diagram(cap):
    """Independent route: midpoint sum over 20 000 slices."""
    lift, low, high, slices = Lift(1000.0, 1.0, 0.2, cap), 0.1, 0.9, 20000
    width = (high - low) / slices
    summed = sum(lift.at(low + (k + 0.5) * width) for k in range(slices)) * width
    assert lift.resultant(low, high) == pytest.approx(summed, rel=1e-4)
