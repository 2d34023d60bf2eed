"""Stakes and posts in the ground: the International Building Code's formula and table.

Sources: IBC 1807.3.2.1 as printed on a code site; Table 1806.2 (2012) as reprinted in a course on geotechnical earthquake
engineering; a published calculation sheet of a post of 4.5 ft diameter under 30 000 lb: A 13.501 ft, S_1 5.532e4 Pa,
depth 1.509 m (of its constrained case; A and S_1 are those of both cases).
"""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.customary import FOOT, LBF, PSF
from formwork.strength.stakes import (
    BEARING,
    LATERAL,
    SINGLE,
    STEP,
    Stake,
    carried,
    depth_for,
    held_sideways,
    lateral_hold,
)
from tests.verification.agreement import Agreement, Case
from tests.working import faults


def examples() -> list[Case]:
    """The table, psf for each foot, and the sheet's bearing at a third of the depth with its A."""
    rows = [Case(f"{name}, psf/ft", psf, LATERAL[name] * FOOT / PSF, 1e-9) for name, psf in TABLE.items()]
    rows += [Case(f"{name}, psf", psf, BEARING[name] / PSF, 1e-9) for name, psf in CARRIED.items()]
    bearing = SINGLE * 350 * PSF / FOOT * 1.509 / 3.0
    A = 2.34 * 30_000 * LBF / (bearing * 4.5 * FOOT) / FOOT
    return [
        *rows,
        Case("S_1 of the sheet, Pa", 5.532e4, bearing, 30.0),
        Case("A of the sheet, ft", 13.501, A, 0.01),
    ]


TABLE = {"gravel": 200.0, "sand": 150.0, "clay": 100.0}
CARRIED = {"gravel": 3000.0, "sand": 2000.0, "clay": 1500.0}


def agreements() -> list[Agreement]:
    """Table and sheet."""
    return [Agreement("posts in the ground", "IBC Table 1806.2 and a calculation sheet", tuple(examples()))]


@pytest.mark.parametrize("case", examples(), ids=lambda case: case.name)
def test_printed_value(case):
    assert case.agrees, case


@given(
    depth=st.floats(0.2, 1.5),
    height=st.floats(0.0, 1.0),
    side=st.floats(0.02, 0.1),
    ground=st.sampled_from(sorted(TABLE)),
)
def test_the_codes_depth_of_what_a_stake_holds_is_its_depth(depth, height, side, ground):
    """The other way round: d = 0.5 A (1 + sqrt(1 + 4.36 h / A)) as it is printed."""
    stake = Stake(side, side, depth, height)
    A = 2.34 * lateral_hold(stake, ground) / (SINGLE * LATERAL[ground] * depth / 3.0 * side * sqrt(2.0))
    assert 0.5 * A * (1.0 + sqrt(1.0 + 4.36 * height / A)) == pytest.approx(depth, rel=1e-9)


@given(force=st.floats(1.0, 900.0))
def test_the_depth_told_holds_and_a_step_less_does_not(force):
    stake = Stake(0.045, 0.07, 0.0, 0.05)
    depth = depth_for(force, stake, "clay")
    if depth is None:
        assert lateral_hold(Stake(0.045, 0.07, 1.2, 0.05), "clay") < force
        return
    assert held_sideways(force, Stake(0.045, 0.07, depth, 0.05), "clay").ok
    assert depth < 0.3 + 1e-9 or not held_sideways(force, Stake(0.045, 0.07, depth - STEP, 0.05), "clay").ok


def test_what_stands_on_a_plate():
    """5 kN on half a metre square: 20 kPa; clay carries 1500 psf, 71.8 kPa."""
    found = carried(5000.0, 0.25, "clay")
    assert (found.load * 1e3, found.limit * 1e3) == pytest.approx((20.0, 71.82), abs=0.01)
    with pytest.raises(RangeError):
        carried(5000.0, 0.0, "clay")
    with pytest.raises(RangeError, match="gravel"):
        carried(5000.0, 0.25, "mud")


def test_the_working_can_be_redone():
    assert list(faults(held_sideways(120.0, Stake(0.045, 0.045, 0.6, 0.05), "sand").lines)) == []


@pytest.mark.parametrize(
    "stake", [Stake(0.0, 0.1, 0.5, 0.0), Stake(0.04, 0.04, 0.0, 0.0), Stake(0.04, 0.04, 0.5, -1.0)]
)
def test_what_cannot_be_is_refused(stake):
    with pytest.raises(RangeError):
        lateral_hold(stake, "sand")
    with pytest.raises(RangeError, match="gravel, sand, clay"):
        lateral_hold(Stake(0.04, 0.04, 0.5, 0.0), "mud")
