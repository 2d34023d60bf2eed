"""Pappus's theorems on bodies of revolution.

Source: Larson & Edwards, Calculus, example on the torus (circle of radius 1 whose centre stands 2 from the axis: 39.5
cubic units); areas and centroids of polygons by the shoelace formula.
"""

from __future__ import annotations

from math import pi

import pytest

from formwork.geometry.outlines import area, circle, perimeter, polygon
from formwork.geometry.turned import Turned
from formwork.shapes.body import curved_volume
from formwork.shapes.piece import Curved
from formwork.shapes.turned import SHAPE

INCH = 0.0254
BOWL = ((0.0, 0.0), (8.0, 0.0), (10.0, 12.0), (9.0, 12.0), (7.2, 1.5), (0.0, 1.5))


def test_the_torus_of_the_textbook() -> None:
    torus = circle((2.0, 0.0), 1.0)
    assert round(Turned(torus).volume(), 1) == 39.5
    assert Turned(torus).volume() == pytest.approx(4.0 * pi**2, rel=1e-12)
    assert 2.0 * pi * 2.0 * perimeter(torus) == pytest.approx(8.0 * pi**2, rel=1e-12)


def test_a_bowl_by_area_and_centroid_worked_by_hand() -> None:
    """Trapezoids of the outside less those of the hollow: area 22.95, centroid 6.193028 from the axis."""
    section = polygon(BOWL)
    assert area(section) == pytest.approx(22.95, abs=5e-3)
    assert Turned(section).volume() == pytest.approx(893.0291, abs=5e-5)
    assert Turned(section).volume() / (2.0 * pi * area(section)) == pytest.approx(6.193028, abs=5e-7)


@pytest.mark.parametrize(
    "keys",
    [{"profile": BOWL}, {"outside": ((8.0, 0.0), (10.0, 12.0)), "inside": ((7.2, 1.5), (9.0, 12.0))}],
)
def test_the_turned_shape_casts_that_bowl(keys: dict[str, object]) -> None:
    found = SHAPE.parameters.model_validate(keys, context={"units": "in"})
    (lot,) = SHAPE.lay_out(found, "bowl")
    form = lot.piece.form
    assert isinstance(form, Curved)
    assert curved_volume(form) / INCH**3 == pytest.approx(893.0291, abs=5e-5)
