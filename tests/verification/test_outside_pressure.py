"""Rings under pressure from outside: a published worksheet of Roark's Table 35, case 19a.

Source: worksheet of Roark's Formulas for Stress and Strain, Table 35, case 19a (thin tube under uniform lateral pressure,
very long): radius 6.75 in, wall 0.375 in, E 29e6 psi, Poisson's ratio 0.29; the depth of water at which it buckles, at 33 ft
to an atmosphere, is printed as 3048 ft. The isotropic form of the shell formula of NASA SP-8007 is from memory.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.customary import INCH, PSI
from formwork.strength.outside_pressure import Shell, bay_pressure, buckling, ring_pressure
from formwork.strength.thin_sheet import bent_stiffness
from formwork.strength.working import Unjudged
from tests.verification.agreement import Agreement, Case
from tests.working import faults

ATMOSPHERE = 14.6959 * PSI
TUBE = 29e6 * PSI * (0.375 * INCH) ** 3 / 12 / (1 - 0.29**2)


def examples() -> list[Case]:
    """Feet of water."""
    depth = ring_pressure(TUBE, 6.75 * INCH) / ATMOSPHERE * 33.0
    return [Case("depth, ft", 3048.0, depth, 2.0)]


def agreements() -> list[Agreement]:
    """The worksheet."""
    return [
        Agreement(
            "rings pressed from outside", "Roark, Table 35, case 19a, in a worksheet", tuple(examples())
        )
    ]


@pytest.mark.parametrize("case", examples(), ids=lambda case: case.name)
def test_printed_depth(case):
    assert case.agrees, case


def test_equal_stiffness_both_ways_gives_the_form_for_one_material_from_memory():
    """NASA SP-8007: 0.855 E sqrt(gamma) / ((1 - nu^2)^(3/4) (r/t)^(5/2) (l/r)), sqrt(gamma) 0.75."""
    E, t, r, length, nu = 70e9, 0.002, 0.4, 0.5, 0.3
    shell = Shell(E * t**3 / 12 / (1 - nu**2), E * t, r, length, "")
    printed = 0.855 * E * 0.75 / ((1 - nu**2) ** 0.75 * (r / t) ** 2.5 * (length / r))
    assert bay_pressure(shell) == pytest.approx(printed, rel=1e-3)


SKIN = Shell(2.0, 2.8e7, 0.25, 0.25, "birch")


@given(more=st.floats(1.01, 5.0))
def test_more_radius_length_or_pressure_never_helps_and_more_stiffness_never_harms(more: float) -> None:
    here = buckling(SKIN, 5000.0).utilisation
    for harm in ({"radius": SKIN.radius * more}, {"length": SKIN.length * more}):
        assert buckling(replace(SKIN, **harm), 5000.0).utilisation >= here
    for help_ in ({"bend": SKIN.bend * more}, {"stretch": SKIN.stretch * more}):
        assert buckling(replace(SKIN, **help_), 5000.0).utilisation <= here
    assert buckling(SKIN, 5000.0 * more).utilisation > here


def test_the_working_can_be_redone() -> None:
    verdict = buckling(SKIN, 5000.0)
    assert list(faults(verdict.lines)) == []
    assert verdict.steps[-1].value == pytest.approx(verdict.limit)


def test_plywood_is_stiffer_with_its_grain_round_and_nobody_knows_the_stiffness_of_hardboard() -> None:
    weak, stiff = (bent_stiffness("plywood", 0.006, grain_round=way) for way in (False, True))
    assert stiff.bend / weak.bend == pytest.approx(13.5)
    assert stiff.stretch < weak.stretch
    assert isinstance(bent_stiffness("hardboard", 0.003, grain_round=True), Unjudged)


@pytest.mark.parametrize("change", [{"bend": 0.0}, {"radius": -1.0}, {"length": 0.0}, {"stretch": 0.0}])
def test_outside_its_limits_refused(change):
    with pytest.raises(RangeError):
        buckling(replace(SKIN, **change), 1000.0)
