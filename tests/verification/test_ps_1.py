"""US Voluntary Product Standard PS 1, Structural Plywood: thickness by performance category.

Read as published by APA (apawood-europe.org, "Performance Category and Thickness": unsanded, touch-sanded and
overlaid grades), inches and, rounded, millimetres. Tolerance there: 1/32 in up to 13/16, 5 % above.
Metric sanded plywood: a birch plywood maker's data sheet, as summarised when the table was made.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from formwork.stock import catalogue

INCH = 0.0254
PUBLISHED = {
    "1/4": (0.219, 5.56, 0.281, 7.14),
    "11/32": (0.313, 7.94, 0.375, 9.53),
    "3/8": (0.344, 8.73, 0.406, 10.32),
    "7/16": (0.406, 10.32, 0.469, 11.91),
    "15/32": (0.438, 11.11, 0.500, 12.70),
    "1/2": (0.469, 11.91, 0.531, 13.49),
    "19/32": (0.563, 14.29, 0.625, 15.88),
    "5/8": (0.594, 15.08, 0.656, 16.67),
    "23/32": (0.688, 17.46, 0.750, 19.05),
    "3/4": (0.719, 18.26, 0.781, 19.84),
    "13/16": (0.781, 19.84, 0.844, 21.43),
    "7/8": (0.831, 21.11, 0.919, 23.34),
    "1": (0.950, 24.13, 1.050, 26.67),
    "1-1/8": (1.069, 27.15, 1.181, 30.00),
    "1-1/4": (1.188, 30.16, 1.313, 33.34),
}


@pytest.mark.parametrize(("category", "row"), PUBLISHED.items())
def test_thickness_range_in_inches(category, row):
    least, most = catalogue.panel_range(category)
    assert (least / INCH, most / INCH) == pytest.approx((row[0], row[2]), abs=1e-12)


@pytest.mark.parametrize(("category", "row"), PUBLISHED.items())
def test_thickness_range_in_millimetres_as_printed_beside(category, row):
    """The millimetres are of the exact sizes, the inches rounded to a thousandth: 0.0127 mm between them."""
    least, most = catalogue.panel_range(category)
    assert (least * 1000, most * 1000) == pytest.approx((row[1], row[3]), abs=0.0127 + 0.005)


@pytest.mark.parametrize("category", PUBLISHED)
def test_range_is_the_tolerance_of_the_note_about_the_category(category):
    whole, _, part = category.partition("-")
    nominal = float(Fraction(whole) + Fraction(part or 0))
    tolerance = 1 / 32 if nominal <= 13 / 16 else 0.05 * nominal
    least, most = catalogue.panel_range(category)
    assert (least / INCH, most / INCH) == pytest.approx((nominal - tolerance, nominal + tolerance), abs=0.001)


@pytest.mark.parametrize(
    ("nominal", "least", "most"),
    [
        ("12", 11.3, 12.5),
        ("15", 14.2, 15.6),
        ("18", 17.1, 18.7),
        ("21", 20.0, 21.8),
        ("24", 22.9, 24.9),
        ("30", 28.7, 31.1),
    ],
)
def test_metric_sanded_plywood(nominal, least, most):
    found = catalogue.sanded_range(nominal)
    assert (found[0] * 1000, found[1] * 1000) == pytest.approx((least, most), abs=1e-9)


def test_the_inch_yards_plywood_is_the_middle_of_its_category():
    sheets = {sheet.name: sheet for sheet in catalogue.sheets("in")}
    assert sheets["plywood 3/4"].thickness == pytest.approx(0.719 * INCH, abs=1e-9)
    assert sheets["plywood 1/2"].thickness == pytest.approx(0.469 * INCH, abs=1e-9)
