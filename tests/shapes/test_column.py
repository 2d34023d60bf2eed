"""Columns: volumes by other formulas, and a message for what cannot be."""

from __future__ import annotations

from math import pi

import pytest

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.shapes.body import piece_volume
from formwork.shapes.column import SHAPE
from formwork.shapes.piece import curved
from tests.drawn import parameters

INCH, FOOT = 0.0254, 0.3048


def column(**keys):
    (lot,) = SHAPE.lay_out(parameters(SHAPE, keys), "pier")
    return lot.piece


def volume(piece):
    return piece_volume(Planes(), piece)


@pytest.mark.parametrize(
    ("inches", "printed"), [(8, 0.3491), (10, 0.5454), (12, 0.7854), (16, 1.3963), (18, 1.7671), (24, 3.1416)]
)
def test_a_foot_of_column_is_what_sellers_of_tubes_print(inches, printed):
    """Cubic feet to the foot, by inside diameter: sellers' tables."""
    piece = column(diameter=f"{inches} in", height="10 ft")
    assert volume(piece) / FOOT**3 / 10.0 == pytest.approx(printed, abs=0.00005)


def test_a_hole_takes_its_cylinder_out():
    assert volume(column(diameter=300, hole=100, height=1000)) == pytest.approx(
        pi / 4.0 * (0.3**2 - 0.1**2) * 1.0
    )


def test_a_conical_one_is_a_frustum():
    """CRC mensuration formulas: pi h (R2 + R r + r2) / 3."""
    piece = column(diameter=600, top_diameter=400, height=900)
    assert volume(piece) == pytest.approx(pi * 0.9 * (0.09 + 0.06 + 0.04) / 3.0)


def test_a_chamfer_takes_out_what_pappus_says():
    """A triangle of 20 x 20 mm, its centroid a third of its leg inside the face."""
    plain = column(diameter=400, height=500)
    chamfered = column(diameter=400, height=500, chamfer=20)
    triangle = 0.02**2 / 2.0 * 2.0 * pi * (0.2 - 0.02 / 3.0)
    assert volume(plain) - volume(chamfered) == pytest.approx(triangle)


def test_the_chamfer_of_a_leaning_column_lies_against_its_side():
    (strip,) = curved(column(diameter=600, top_diameter=450, height=700, chamfer=25)).formers
    (_, (r1, z1), (r2, z2)) = strip.body.profile.points
    assert (r1 - r2) / (z2 - z1) == pytest.approx(0.075 / 0.7)


def test_it_is_cast_as_it_stands_and_poured_beside_the_hole():
    piece = column(diameter=300, hole=100, height=1000)
    assert not piece.turned_over
    ((x, _, z),) = piece.pour_points
    assert 0.05 < x < 0.15 and 0.0 < z < 1.0


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"diameter": 300, "height": 900, "hole": 260}, "leaves 20 mm"),
        ({"diameter": 300, "height": 900, "hole": 400}, "leaves 0 mm"),
        ({"diameter": 300, "top_diameter": 200, "height": 900, "hole": 180}, "make the hole smaller"),
        ({"diameter": 300, "height": 900, "hole": 200, "chamfer": 30}, "more than a quarter of the wall"),
        (
            {"diameter": 300, "height": 900, "hole": 200, "chamfer": 45, "deep_chamfer": True},
            "nothing of the foot",
        ),
        ({"diameter": 300, "height": 900, "chamfer": 0.2}, "too small to make"),
    ],
)
def test_what_cannot_be_is_refused(keys, said):
    with pytest.raises(GeometryError, match=said):
        column(**keys)


@pytest.mark.parametrize(
    "keys",
    [
        {"diameter": 0, "height": 900},
        {"diameter": -300, "height": 900},
        {"diameter": float("nan"), "height": 900},
        {"diameter": 1e30, "height": 900},
        {"diameter": 300, "height": 0},
        {"diameter": 300},
    ],
)
def test_nonsense_never_gets_as_far(keys):
    with pytest.raises(ValueError):
        parameters(SHAPE, keys)
