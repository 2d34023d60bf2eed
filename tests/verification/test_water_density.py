"""Density of water by temperature.

Read: Engineering ToolBox (lb/ft3 by F), ThoughtCo's list (kg/m3 by C). From memory: ASTM C29, Table 3.
"""

from __future__ import annotations

import pytest

from formwork.errors import RangeError
from formwork.pour.water import water_density

LB_FT3 = 16.018463374


def kelvin(fahrenheit: float) -> float:
    return 273.15 + (fahrenheit - 32.0) / 1.8


@pytest.mark.parametrize(
    ("fahrenheit", "printed"),
    [(32, 62.42), (40, 62.43), (50, 62.41), (60, 62.37), (70, 62.30), (80, 62.22), (90, 62.11)],
)
def test_engineering_toolbox(fahrenheit: float, printed: float) -> None:
    assert water_density(kelvin(fahrenheit)) / LB_FT3 == pytest.approx(printed, abs=0.0051)


def test_engineering_toolbox_at_100_f() -> None:
    # Printed 62.00, in a column whose other figures differ by hundredths: here it can only be a rounded 62.0.
    assert water_density(kelvin(100.0)) / LB_FT3 == pytest.approx(62.0, abs=0.05)


@pytest.mark.parametrize(
    ("celsius", "printed"),
    [(10, 999.7026), (15, 999.1026), (20, 998.2071), (22, 997.7735), (25, 997.0479), (30, 995.6502)],
)
def test_list_of_seven_digits(celsius: float, printed: float) -> None:
    # The list follows an earlier formula than this one; up to 30 C the two differ by less than two parts in a million.
    assert water_density(273.15 + celsius) == pytest.approx(printed, rel=2e-6)


@pytest.mark.parametrize(
    ("fahrenheit", "pounds", "kilograms"),
    [(60, 62.366, 999.01), (65, 62.336, 998.54), (70, 62.301, 997.97), (73.4, 62.274, 997.54), (75, 62.261, 997.32),
     (80, 62.216, 996.59), (85, 62.166, 995.83)],
)  # fmt: skip
def test_astm_c29_table_3_from_memory(fahrenheit: float, pounds: float, kilograms: float) -> None:
    density = water_density(kelvin(fahrenheit))
    assert density / LB_FT3 == pytest.approx(pounds, abs=0.002)
    assert density == pytest.approx(kilograms, abs=0.02)


@pytest.mark.parametrize("celsius", [-1.0, 41.0, float("nan")])
def test_outside_its_limits_it_says_so(celsius: float) -> None:
    with pytest.raises(RangeError, match="temperature of the water"):
        water_density(273.15 + celsius)
