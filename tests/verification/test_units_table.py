"""Conversion constants against published tables.

Read: a page of exact volumes in litres ("Those marked with * are exact"), geocities.ws/qxb4tech/volume.html; the
exact masses after NIST Weights and Measures, angelfire.com/whittenwords/measure/capacity01.htm; NIST Handbook 44,
Appendix C, as scanned on yumpu.com (382, units of capacity or volume); theunitconverter.com (density).
From memory, not read: NIST Special Publication 811, Appendix B.8 (force, pressure, density by the gallon, flow).
"""

from __future__ import annotations

import pytest

from formwork.units.parse import read

EXACT_LITRES = {
    "1 ft3": 28.316846592,
    "1 in3": 0.016387064,
    "1 yd3": 764.554857984,
    "1 gal": 3.785411784,
    "1 qt": 0.946352946,
    "1 pt": 0.473176473,
    "1 fl oz": 0.0295735295625,
    "1 mL": 0.001,
    "1 m3": 1000.0,
}
EXACT_GRAMS = {"1 lb": 453.59237, "1 oz": 28.349523125}

SP_811_FROM_MEMORY = [
    ("1 lb", "force", 4.448222),
    ("1 kgf", "force", 9.80665),
    ("1 lb/ft2", "pressure", 47.88026),
    ("1 psi", "pressure", 6894.757),
    ("1 lb/ft3", "density", 16.01846),
    ("1 lb/gal", "density", 119.8264),
    ("1 lb/yd3", "density", 0.5932764),
    ("1 ft3/min", "flow", 4.719474e-4),
    ("1 gal/min", "flow", 6.309020e-5),
    ("1 ton", "mass", 907.1847),
    ("1 ft2", "area", 0.09290304),
    ("1 in2", "area", 6.4516e-4),
    ("1 yd", "length", 0.9144),
    ("1 deg", "angle", 0.01745329),
]


@pytest.mark.parametrize(("written", "litres"), EXACT_LITRES.items())
def test_exact_volumes(written, litres):
    assert read(written, "volume", None) * 1000 == pytest.approx(litres, rel=1e-15)


@pytest.mark.parametrize(("written", "grams"), EXACT_GRAMS.items())
def test_exact_masses(written, grams):
    assert read(written, "mass", None) * 1000 == pytest.approx(grams, rel=1e-15)


def test_handbook_44_gallons_and_cubic_feet():
    assert read("1 gal", "volume", None) == pytest.approx(231 * read("1 in3", "volume", None), rel=1e-15)
    assert read("1 ft3", "volume", None) / read("1 gal", "volume", None) == pytest.approx(7.481, abs=0.0005)


def test_density_as_a_published_converter_prints_it():
    assert read("1 lb/ft3", "density", None) == pytest.approx(16.01846, abs=0.000005)
    assert read("5 lb/ft3", "density", None) == pytest.approx(80.0923, abs=0.00005)


@pytest.mark.parametrize(("written", "kind", "value"), SP_811_FROM_MEMORY)
def test_special_publication_811_from_memory(written, kind, value):
    assert read(written, kind, None) == pytest.approx(value, rel=5.1e-7)


@pytest.mark.parametrize(
    ("written", "kelvin"), [("32 F", 273.15), ("212 F", 373.15), ("0 C", 273.15), ("-40 F", 233.15)]
)
def test_fixed_points_of_the_temperature_scales(written, kelvin):
    assert read(written, "temperature", None) == pytest.approx(kelvin, abs=1e-12)
