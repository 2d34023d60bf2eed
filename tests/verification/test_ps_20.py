"""US Voluntary Product Standard PS 20, American Softwood Lumber Standard: nominal and minimum dressed dry sizes.

Read as reprinted by the Engineering ToolBox, "Softwood Lumber - Standard Sizes" (engineeringtoolbox.com, d_1270).
"""

from __future__ import annotations

import pytest

from formwork.stock import catalogue

INCH = 0.0254
THICKNESS = {"1": 3 / 4, "1-1/4": 1, "1-1/2": 1.25, "2": 1.5, "2-1/2": 2, "3": 2.5, "3-1/2": 3, "4": 3.5}
WIDTH = {
    "2": 1.5, "3": 2.5, "4": 3.5, "5": 4.5, "6": 5.5, "8": 7.25, "10": 9.25, "12": 11.25, "14": 13.25, "16": 15.25,
}  # fmt: skip


@pytest.mark.parametrize(("nominal", "inches"), THICKNESS.items())
def test_dressed_thickness(nominal, inches):
    assert catalogue.dressed("thickness", nominal) == pytest.approx(inches * INCH, rel=1e-15)


@pytest.mark.parametrize(("nominal", "inches"), WIDTH.items())
def test_dressed_width(nominal, inches):
    assert catalogue.dressed("width", nominal) == pytest.approx(inches * INCH, rel=1e-15)


def test_a_size_the_standard_does_not_have():
    with pytest.raises(KeyError):
        catalogue.dressed("thickness", "7")


@pytest.mark.parametrize(
    ("name", "thickness", "width"),
    [
        ("1x2", 0.75, 1.5),
        ("1x4", 0.75, 3.5),
        ("2x2", 1.5, 1.5),
        ("2x4", 1.5, 3.5),
        ("2x6", 1.5, 5.5),
        ("4x4", 3.5, 3.5),
    ],
)
def test_sticks_of_the_inch_yard_are_dressed_sizes(name, thickness, width):
    stick = next(stick for stick in catalogue.sticks("in") if stick.name == name)
    assert (stick.thickness, stick.width) == pytest.approx((thickness * INCH, width * INCH), rel=1e-15)
