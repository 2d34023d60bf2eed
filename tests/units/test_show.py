"""What a person reads: sixteenths that carry, ties that go up, ranges that keep their promise."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.units import show
from formwork.units.parse import read
from formwork.units.table import SI_UNIT

INCH = 0.0254


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (23.622, "23 5/8"),
        (0.5, "1/2"),
        (12.0, "12"),
        (0.0, "0"),
        (11.96875, "12"),
        (11.96874, "11 15/16"),
        (1 / 32, "1/16"),
        (3 / 32, "1/8"),
        (2 + 1 / 32, "2 1/16"),
        (-0.5, "-1/2"),
        (-2.25, "-2 1/4"),
        (-1 / 64, "0"),
    ],
)
def test_nearest_sixteenth_half_up(inches, text):
    assert show.fraction(inches * INCH) == text


@pytest.mark.parametrize(
    ("metres", "options", "text"),
    [
        (0.6, {}, "23 5/8 in"),
        (0.6, {"exact": True}, "23 5/8 in (23.622)"),
        (0.6096, {"exact": True}, "24 in"),
        (0.762, {"feet": True}, "2 ft 6 in"),
        (0.6096, {"feet": True}, "2 ft"),
        (0.5969, {"feet": True}, "23 1/2 in"),
        (1.8287, {"feet": True}, "6 ft"),
        (-0.762, {"feet": True}, "-2 ft 6 in"),
        (0.0005, {}, "0.02 in"),
        (0.0, {}, "0 in"),
    ],
)
def test_lengths_in_inches(metres, options, text):
    assert show.length(metres, "in", **options) == text


@pytest.mark.parametrize(
    ("metres", "options", "text"),
    [
        (0.6, {}, "600 mm"),
        (0.01825, {}, "18.3 mm"),
        (0.0182626, {"exact": True}, "18.26 mm"),
        (0.00025, {}, "0.25 mm"),
        (2.4384, {}, "2438.4 mm"),
        (-0.0179, {}, "-17.9 mm"),
        (0.0, {}, "0 mm"),
    ],
)
def test_lengths_in_millimetres(metres, options, text):
    assert show.length(metres, "mm", **options) == text


@pytest.mark.parametrize(
    ("shown", "text"),
    [
        (show.mass(42.63768278, "in"), "94 lb"),
        (show.mass(42.63768278, "mm"), "42.6 kg"),
        (show.mass(0.1, "in"), "3.53 oz"),
        (show.mass(0.1, "mm"), "100 g"),
        (show.mass(1234.5, "mm"), "1235 kg"),
        (show.volume(0.028316846592, "in"), "1 ft3"),
        (show.volume(0.0472, "mm"), "47.2 L"),
        (show.volume(1.5, "mm"), "1.5 m3"),
        (show.volume(0.0001, "mm"), "100 mL"),
        (show.volume(0.003785411784, "in", liquid=True), "1 gal"),
        (show.volume(0.0002365882365, "in", liquid=True), "8 fl oz"),
        (show.volume(0.0, "mm"), "0 L"),
        (show.density(480.5539012188042, "in"), "30.0 lb/ft3"),
        (show.density(480.5539, "mm"), "481 kg/m3"),
        (show.area(2.97289728, "in"), "32 ft2"),
        (show.area(2.97289728, "mm"), "2.97 m2"),
        (show.pressure(3591.0194, "in"), "75 lb/ft2"),
        (show.pressure(3591.0194, "mm"), "3.59 kPa"),
        (show.force(494.25, "mm"), "494 N"),
        (show.force(1483.0, "mm"), "1.48 kN"),
        (show.force(494.25, "in"), "111 lb"),
        (show.flow(0.005, "mm"), "300 L/min"),
        (show.flow(0.005, "in"), "10.6 ft3/min"),
        (show.temperature(294.2611111, "in"), "70 F"),
        (show.temperature(293.15, "mm"), "20 C"),
        (show.angle(math.radians(44.226)), "44.2 deg"),
        (show.time(90), "90 s"),
        (show.time(600), "10 min"),
        (show.time(36000), "10 h"),
        (show.share(0.05), "5 %"),
        (show.money(12.5, "$"), "$12.50"),
        (show.money(12.5, "EUR"), "EUR 12.50"),
        (show.money(-12.345, "$"), "-$12.35"),
        (show.money(-0.001, "$"), "$0.00"),
        (show.money(1234567.891, "$"), "$1,234,567.89"),
    ],
)
def test_other_quantities(shown, text):
    assert shown == text


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (0.125, 2, "0.13"),
        (2.5, 0, "3"),
        (-2.5, 0, "-3"),
        (1.005, 2, "1.01"),
        (10.0, 2, "10"),
        (-0.001, 2, "0"),
        (100.0, 0, "100"),
    ],
)
def test_plain_numbers_are_rounded_half_up(value, decimals, text):
    assert show.plain(value, decimals) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0123456, "0.0123"),
        (1.2345, "1.23"),
        (123.45, "123"),
        (98765.4, "98765"),
        (0.0, "0"),
        (-4.567, "-4.57"),
    ],
)
def test_three_digits_that_count(value, text):
    assert show.digits(value) == text


@settings(max_examples=300)
@given(st.floats(-30, 30))
def test_shown_sixteenths_are_the_nearest(metres):
    text = show.fraction(metres)
    whole, _, part = (
        text.removeprefix("-").rpartition(" ") if "/" in text else (text.removeprefix("-"), "", "0")
    )
    shown = (Fraction(whole or 0) + Fraction(part)) * (-1 if text.startswith("-") else 1)
    assert abs(float(shown) * INCH - metres) <= INCH / 32 + 1e-9


@settings(max_examples=200)
@given(st.floats(0.0, 30), st.sampled_from(["in", "mm"]))
def test_a_shown_length_reads_back(metres, units):
    tolerance = INCH / 32 if units == "in" else 0.00005
    assert read(show.length(metres, units), "length", None) == pytest.approx(metres, abs=tolerance + 1e-9)
    assert read(show.length(metres, units, feet=True), "length", None) == pytest.approx(
        metres, abs=tolerance + 1e-9
    )


@pytest.mark.parametrize(
    ("least", "most", "kind", "units", "text"),
    [
        (0.025, 0.15, "length", "mm", "25 to 150 mm"),
        (0.025, 0.15, "length", "in", "1 to 5 7/8 in"),
        (0.0005, 0.012, "length", "in", "0.0197 to 0.472 in"),
        (0.0, 0.5, "ratio", "in", "0 to 50 %"),
        (250, 2000, "density", "in", "15.7 to 124 lb/ft3"),
        (273.15, 308.15, "temperature", "mm", "0 to 35 C"),
        (0.0, 0.6, "angle", "mm", "0 to 34.3 deg"),
        (500, 2e6, "pressure", "mm", "0.5 to 2000 kPa"),
        (1e6, 2e9, "pressure", "mm", "1 to 2000 MPa"),
        (1e6, 2e9, "pressure", "in", "146 to 290075 lb/in2"),
    ],
)
def test_ranges(least, most, kind, units, text):
    assert show.span(least, most, kind, units) == text


@settings(max_examples=300)
@given(
    st.sampled_from([kind for kind in SI_UNIT if kind != "temperature"]),
    st.sampled_from(["in", "mm"]),
    st.floats(1e-3, 1e3),
    st.floats(1.5, 1e4),
)
def test_both_ends_of_a_shown_range_are_allowed(kind, units, least, factor):
    first, _, rest = show.span(least, least * factor, kind, units).partition(" to ")
    unit = rest.split()[-1]
    for shown in (f"{first} {unit}", rest):
        assert least * (1 - 1e-6) - 1e-9 <= read(shown, kind, None) <= least * factor * (1 + 1e-6) + 1e-9


@pytest.mark.parametrize("kind", SI_UNIT)
@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_kind_can_be_shown_and_read_back(kind, units):
    value = 300.0 if kind == "temperature" else 0.7
    shown = show.quantity(value, kind, units)
    assert read(shown, kind, None) == pytest.approx(value, rel=0.01)
