"""A screw through a thin steel plate: the limit of the yield modes, taken to it by numbers."""

from __future__ import annotations

from math import sqrt

import pytest

from formwork.errors import RangeError
from formwork.strength.dowels import bearing_strength, reduction
from formwork.strength.fasteners import screw
from formwork.strength.thin_plates import STEEL_BEARING, through_plate

MM = 1e-3


def mode_3s(fyb: float, fem: float, fes: float, d: float, ls: float, kd: float) -> float:
    """Mode III_s as the standard has it."""
    re = fem / fes
    k3 = sqrt(2.0 * (1.0 + re) / re + 2.0 * fyb * (2.0 + re) * d**2 / (3.0 * fem * ls**2)) - 1.0
    return k3 * d * ls * fem / ((2.0 + re) * kd)


def test_the_bent_mode_is_what_mode_3s_goes_to() -> None:
    one = screw("5 x 60 mm")
    fem = bearing_strength(0.36)
    found = next(
        step.value for step in through_plate(one, 1.0 * MM, 0.05, 0.36).steps if step.symbol == "Z_IIIs"
    )
    kd = reduction(one.root)
    assert mode_3s(one.fyb, fem, 1e4 * fem, one.root, 1e-7, kd) == pytest.approx(found, rel=1e-3)


def test_a_foil_is_crushed_before_the_screw_bends() -> None:
    one = screw("5 x 60 mm")
    foil = through_plate(one, 0.05 * MM, 0.05, 0.36, wet=False)
    assert foil.value == pytest.approx(one.root * 0.05 * MM * STEEL_BEARING / reduction(one.root))
    assert foil.value < through_plate(one, 1.0 * MM, 0.05, 0.36, wet=False).value


def test_a_thick_plate_and_a_short_point_are_outside_the_formula() -> None:
    one = screw("5 x 60 mm")
    with pytest.raises(RangeError):
        through_plate(one, 3.0 * MM, 0.05, 0.36)
    with pytest.raises(RangeError):
        through_plate(one, 1.0 * MM, 0.005, 0.36)
