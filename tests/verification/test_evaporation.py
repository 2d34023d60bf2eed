"""Evaporation from fresh concrete.

Uno, "Plastic shrinkage cracking and evaporation formulas", ACI Materials Journal 95-M34 (1998), and the ACI 305R chart,
as quoted by a ready-mix page; a weather-meter maker's note for the exact metric form. Lerch (PCA, 1957): from memory.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.pour.evaporation import (
    CELLULAR,
    LB_FT2,
    ORDINARY,
    evaporation,
    evaporation_rounded,
    evaporation_us,
    reached,
)

LERCH = [
    (70, 70, 70, 0, 0.015), (70, 70, 70, 5, 0.038), (70, 70, 70, 10, 0.062), (70, 70, 70, 15, 0.085),
    (70, 70, 70, 20, 0.110), (70, 70, 70, 25, 0.135), (70, 70, 90, 10, 0.020), (70, 70, 50, 10, 0.100),
    (70, 70, 30, 10, 0.135), (70, 70, 10, 10, 0.175), (50, 50, 70, 10, 0.026), (60, 60, 70, 10, 0.043),
    (80, 80, 70, 10, 0.077), (90, 90, 70, 10, 0.110), (90, 90, 10, 0, 0.070), (90, 90, 10, 10, 0.336),
    (90, 90, 10, 25, 0.740), (70, 40, 50, 0, 0.035), (70, 40, 50, 10, 0.162), (70, 40, 50, 25, 0.357),
]  # fmt: skip
"""Concrete F, air F, humidity %, wind mph, lb/ft2 an hour: from memory."""


def test_the_charts_own_example() -> None:
    # Air 80 F, 50 %, concrete 87 F, wind 12 mph: about 0.25 lb/ft2/h (1.2 kg/m2/h); read off a chart, two digits.
    assert evaporation_us(87.0, 80.0, 0.50, 12.0) == pytest.approx(0.25, abs=0.01)
    assert evaporation(304.15, 300.15, 0.5, 19.0 / 3.6) == pytest.approx(1.2, abs=0.05)
    # The same by hand from the formulas: 0.2435; rounded metric form 1.1517; exact 1.2034.
    assert evaporation_us(87.0, 80.0, 0.50, 12.0) == pytest.approx(0.2435, abs=5e-5)
    assert evaporation_rounded(31.0, 27.0, 0.5, 19.0) == pytest.approx(1.1517, abs=5e-5)
    assert evaporation(304.15, 300.15, 0.5, 19.0 / 3.6) == pytest.approx(1.2034, abs=5e-5)


@pytest.mark.parametrize(
    ("concrete", "air", "humidity", "wind", "rounded", "exact"),
    [(25, 25, 0.5, 10, 0.4244, 0.4427), (30, 35, 0.2, 20, 1.4247, 1.4866), (20, 20, 0.7, 16, 0.2670, 0.2780),
     (25, 15, 0.6, 15, 0.7953, 0.8307), (20, 10, 0.9, 5, 0.2325, 0.2433)],
)  # fmt: skip
def test_metric_forms_worked_by_hand(concrete, air, humidity, wind, rounded, exact) -> None:
    assert evaporation_rounded(concrete, air, humidity, wind) == pytest.approx(rounded, abs=6e-5)
    assert evaporation(273.15 + concrete, 273.15 + air, humidity, wind / 3.6) == pytest.approx(
        exact, abs=6e-5
    )


@given(
    concrete=st.floats(5.0, 45.0),
    air=st.floats(0.0, 45.0),
    humidity=st.floats(0.0, 1.0),
    wind=st.floats(0.0, 60.0),
)
@settings(max_examples=60)
def test_the_exact_metric_form_as_printed(concrete, air, humidity, wind) -> None:
    # E = 5.275*((Tc + 17.778)^2.5 - r*(Ta + 17.778)^2.5)*(V + 4.02336)*1e-6; its constants are printed to four digits.
    gap = (concrete + 17.778) ** 2.5 - humidity * (air + 17.778) ** 2.5
    printed = max(5.275 * gap * (wind + 4.02336) * 1e-6, 0.0)
    scale = 5.275 * (concrete + 17.778) ** 2.5 * (wind + 4.02336) * 1e-6
    assert evaporation(273.15 + concrete, 273.15 + air, humidity, wind / 3.6) == pytest.approx(
        printed, abs=1e-4 * scale
    )


@pytest.mark.parametrize(("concrete", "air", "humidity", "wind", "table"), LERCH)
def test_lerch_from_memory(concrete, air, humidity, wind, table) -> None:
    # The equation was fitted to this table: within 20 %, or one step of the table's last digit.
    rate = evaporation_us(concrete, air, humidity / 100.0, wind)
    assert rate == pytest.approx(table, rel=0.20, abs=0.0005)


def test_lerch_mostly_within_6_percent() -> None:
    near = [abs(evaporation_us(c, a, r / 100.0, v) / table - 1.0) < 0.07 for c, a, r, v, table in LERCH]
    assert sum(near) > len(near) / 2


def test_never_below_nought() -> None:
    assert evaporation_us(40.0, 90.0, 1.0, 10.0) == 0.0
    assert evaporation_rounded(5.0, 35.0, 1.0, 10.0) == 0.0


def test_thresholds() -> None:
    # ACI 305R-91, 308-92: 0.20 lb/ft2/h (1.0 kg/m2/h); concretes that hardly bleed: 0.10 (0.5).
    assert ORDINARY[0].rate == pytest.approx(0.20 * 4.88243, rel=1e-6)
    assert CELLULAR[-1].rate / LB_FT2 == pytest.approx(0.10)
    assert reached(0.2) is None and reached(0.3) == CELLULAR[0] and reached(0.6) == CELLULAR[1]
    assert reached(0.9, ORDINARY) is None and reached(1.0, ORDINARY) == ORDINARY[0]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        ((70.0, 70.0, 1.1, 5.0), "relative humidity: got 110 %, want 0 to 100 %"),
        ((70.0, 70.0, -0.1, 5.0), "relative humidity: got -10 %"),
        ((170.0, 70.0, 0.5, 5.0), "temperature of the concrete: got 170 F (77 C)"),
        ((70.0, -10.0, 0.5, 5.0), "temperature of the air: got -10 F"),
        ((70.0, 70.0, 0.5, -1.0), "wind: got -1 mph"),
        ((70.0, 70.0, 0.5, float("nan")), "wind: got nan"),
    ],
)
def test_weather_that_cannot_be(call, words) -> None:
    with pytest.raises(RangeError) as told:
        evaporation_us(*call)
    assert words in str(told.value)
