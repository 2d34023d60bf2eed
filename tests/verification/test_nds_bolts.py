"""Bolts in single shear against the National Design Specification's table for sawn lumber, both members loaded across.

Values from memory, not read: two members 1-1/2 in thick of Douglas fir-larch (specific gravity 0.50), both loaded
across their grain, Z_perp: 1/2 in bolt 220 lb, 5/8 in 240 lb, 3/4 in 270 lb (the table rounds to 10 lb).
"""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.bolts import Bolted, bearing_across, bolt_across, yield_modes
from formwork.strength.customary import INCH, LBF, MPA
from tests.verification.agreement import Agreement, Case


def examples() -> list[Case]:
    """Bolt diameter in inches, and pounds."""
    return [
        Case(
            f"{name} in",
            pounds,
            bolt_across(Bolted(diameter * INCH, 1.5 * INCH, 1.5 * INCH, 0.5, wet=False)).value / LBF,
            5.0,
        )
        for name, diameter, pounds in (("1/2", 1 / 2, 220.0), ("5/8", 5 / 8, 240.0), ("3/4", 3 / 4, 270.0))
    ]


def agreements() -> list[Agreement]:
    """Values from memory."""
    return [Agreement("bolts sideways", "NDS table of single shear, **from memory**", tuple(examples()))]


@pytest.mark.parametrize("case", examples(), ids=lambda case: case.name)
def test_table_of_two_members_across_the_grain(case: Case) -> None:
    assert case.agrees, case


@given(side=st.floats(0.009, 0.1), main=st.floats(0.009, 0.1), gravity=st.floats(0.35, 0.7))
def test_members_exchanged_hold_the_same(side: float, main: float, gravity: float) -> None:
    one = bolt_across(Bolted(0.008, side, main, gravity)).value
    assert one == pytest.approx(bolt_across(Bolted(0.008, main, side, gravity)).value)


@given(side=st.floats(0.009, 0.05), main=st.floats(0.009, 0.05))
def test_never_more_than_the_wood_bears_or_the_bolt_bends(side: float, main: float) -> None:
    """Crushing of the thinner member under the whole bolt, and shear of steel at 0.6 of its yield, as bounds."""
    joint = Bolted(0.008, side, main, 0.42)
    held = bolt_across(joint).value
    assert held <= bearing_across(0.42, 0.008) * 0.008 * min(side, main)
    assert held <= 0.6 * 310.0 * MPA * pi / 4.0 * 0.008**2
    assert len(yield_modes(joint)) == 11


def test_outside_the_limits() -> None:
    for joint in (
        Bolted(0.004, 0.02, 0.02, 0.5),
        Bolted(0.008, 0.0, 0.02, 0.5),
        Bolted(0.008, 0.02, 0.02, 0.9),
    ):
        with pytest.raises(RangeError):
            bolt_across(joint)
