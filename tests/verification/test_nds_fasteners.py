"""Nails and screws: published values of withdrawal and of lateral yield.

Sources: National Design Specification Table 12N for 16d common nails as printed in University of Florida lecture notes (ten
values), and its 12d sinker (week 5); Engineering ToolBox (withdrawal of nails and wood screws); Civil Engineering Formulas
ch. 6. Bending yield strengths and root diameters are from memory.
"""

from __future__ import annotations

import pytest

from formwork.errors import RangeError
from formwork.strength.customary import INCH, LBF, PSI
from formwork.strength.dowels import Joint, bearing_strength, lateral, reduction, yield_modes
from formwork.strength.fasteners import (
    Fastener,
    Holding,
    Where,
    gravity,
    nail,
    needed,
    screw,
    shared,
    unit_withdrawal,
    withdrawal,
)
from tests.verification.agreement import Agreement, Case

TABLE_12N = [
    (0.67, 184),
    (0.55, 154),
    (0.50, 141),
    (0.49, 138),
    (0.46, 131),
    (0.43, 122),
    (0.42, 120),
    (0.37, 106),
    (0.36, 104),
    (0.35, 101),
]


def dry(
    side: float, main: float, gravity: float, main_gravity: float | None = None, where: Where = "side grain"
) -> Joint:
    return Joint(side * INCH, main * INCH, gravity, main_gravity or gravity, where, wet=False)


def examples() -> tuple[list[Case], list[Case]]:
    """Sideways: table 12N and the sinker, lb. Pulled out: lb/in, the screw's printed 109 cut down from 109.7."""
    nails = [
        Case(f"16d, G {G:g}", float(Z), lateral(nail("16d"), dry(1.5, 2.0, G)).value / LBF, 1.0)
        for G, Z in TABLE_12N
    ]
    sinker = lateral(nail("12d sinker"), dry(1.5, 1.625, 0.5)).value / LBF
    spike = Fastener("nail", "20d", 0.203 * INCH, 0.203 * INCH, 80e3 * PSI)
    pulled = [
        Case("nail, G 0.45", 38.0, unit_withdrawal(spike, 0.45) * INCH / LBF, 0.5),
        Case("screw #10, G 0.45", 109.0, unit_withdrawal(screw("#10"), 0.45) * INCH / LBF, 1.0),
    ]
    return [*nails, Case("12d sinker", 103.0, sinker, 0.5)], pulled


def agreements() -> list[Agreement]:
    """Both ways of loading."""
    across, along = examples()
    return [
        Agreement("nails sideways", "NDS Table 12N, in University of Florida lecture notes", tuple(across)),
        Agreement("nails and screws pulled out", "Engineering ToolBox (NDS)", tuple(along)),
    ]


@pytest.mark.parametrize(("G", "Z"), TABLE_12N)
def test_16d_common_nail_through_an_inch_and_a_half(G, Z):
    assert lateral(nail("16d"), dry(1.5, 2.0, G)).value / LBF == pytest.approx(Z, abs=1.0)


def test_12d_sinker():
    assert lateral(nail("12d sinker"), dry(1.5, 1.625, 0.5)).value / LBF == pytest.approx(103, abs=0.5)


@pytest.mark.parametrize(("fastener", "Z"), [(nail("8d"), 84), (screw("#8"), 83), (screw("#10"), 99.5)])
def test_three_quarter_plywood_into_spruce(fastener, Z):
    """A second working of the same equations, not a printed table: 0.75 in plywood (G 0.5) into spruce-pine-fir (0.42)."""
    assert lateral(fastener, dry(0.75, 1.75, 0.5, 0.42)).value / LBF == pytest.approx(Z, abs=0.5)


def test_nail_withdrawal():
    """Engineering ToolBox: G 0.45, D 0.203 in: 38 lb/in."""
    spike = Fastener("nail", "20d", 0.203 * INCH, 0.203 * INCH, 80e3 * PSI)
    assert unit_withdrawal(spike, 0.45) * INCH / LBF == pytest.approx(38, abs=0.5)


def test_screw_withdrawal():
    """Engineering ToolBox: G 0.45, No. 10: prints 109 lb/in for 109.7."""
    assert int(unit_withdrawal(screw("#10"), 0.45) * INCH / LBF) == 109


@pytest.mark.parametrize(
    ("size", "row"), [("#8", (82, 117, 141)), ("#10", (96, 135, 164)), ("#12", (109, 154, 186))]
)
def test_screw_withdrawal_by_species(size, row):
    """2850 G^2 D worked by hand for G 0.42, 0.50, 0.55."""
    found = [unit_withdrawal(screw(size), G) * INCH / LBF for G in (0.42, 0.50, 0.55)]
    assert found == pytest.approx(row, abs=0.6)


def test_nothing_holds_in_end_grain_but_a_lag_screw():
    lag = Fastener("lag screw", "1/4", 0.25 * INCH, 0.173 * INCH, 70e3 * PSI)
    end = Holding(0.5, "end grain", wet=False)
    assert withdrawal(nail("8d"), end, INCH).value == 0.0
    assert withdrawal(screw("#8"), end, INCH).value == 0.0
    assert withdrawal(lag, end, INCH).value == pytest.approx(0.75 * unit_withdrawal(lag, 0.5) * INCH)
    with pytest.raises(RangeError):
        needed(100.0, withdrawal(screw("#8"), end, INCH).value)


def test_lag_screw_withdrawal_from_memory():
    """NDS table 12.2A from memory: 1/4 in lag screw, G 0.50: 225 lb/in."""
    lag = Fastener("lag screw", "1/4", 0.25 * INCH, 0.173 * INCH, 70e3 * PSI)
    assert unit_withdrawal(lag, 0.50) * INCH / LBF == pytest.approx(225, abs=0.5)


def test_dowel_bearing_strength_from_memory():
    """NDS table 12.3.3 from memory, rounded to 50 psi: G 0.50 4650, 0.42 3350, 0.55 5550."""
    for G, Fe in ((0.50, 4650), (0.42, 3350), (0.55, 5550)):
        assert bearing_strength(G) / PSI == pytest.approx(Fe, abs=26)


def test_reduction_is_continuous_at_017_in():
    assert reduction(0.17 * INCH) == pytest.approx(2.2)
    assert reduction(0.1700001 * INCH) == pytest.approx(2.2, abs=1e-5)


def test_factors_of_use():
    base = lateral(nail("8d"), dry(0.75, 1.5, 0.5)).value
    joint = Joint(0.75 * INCH, 1.5 * INCH, 0.5, 0.5, "end grain", wet=True, short=True)
    assert lateral(nail("8d"), joint).value == pytest.approx(base * 1.25 * 0.7 * 0.67)


@pytest.mark.parametrize(
    ("side", "main", "under", "point"),
    [(0.8, 1.5, 0.42, 0.55), (1.0, 1.0, 0.5, 0.5), (1.5, 0.9, 0.67, 0.36)],
)
def test_modes_mirror_when_the_members_change_places(side, main, under, point):
    """A dowel does not know which member is called main: I and III change names, II and IV stay. Holds k2 from memory."""
    there = [mode.value for mode in yield_modes(nail("8d"), dry(side, main, under, point))]
    back = [mode.value for mode in yield_modes(nail("8d"), dry(main, side, point, under))]
    assert there == pytest.approx([back[k] for k in (1, 0, 2, 4, 3, 5)], rel=1e-9)


@pytest.mark.parametrize("size", ["#5", "blue", "2 x 20 mm", "9 x 120 mm"])
def test_unknown_screw_refused(size):
    with pytest.raises(RangeError):
        screw(size)


def test_unknown_nail_refused():
    with pytest.raises(RangeError, match="16d"):
        nail("5d")


def test_a_point_too_short_is_refused():
    with pytest.raises(RangeError, match="penetration"):
        yield_modes(nail("16d"), dry(1.5, 0.5, 0.5))


def test_unknown_species_is_the_weak_one():
    assert gravity("some wood") == min(gravity(name) for name in ("spruce-pine-fir", "hem-fir", "oak", ""))


@pytest.mark.parametrize(
    ("text", "mm"), [("4 x 50", 4.0), ("4.5 mm", 4.5), ("5x60 mm", 5.0), ("6 mm x 80 mm", 6.0)]
)
def test_metric_screw_sizes(text, mm):
    assert screw(text).diameter == pytest.approx(mm / 1000)


def test_shared_force():
    capacity = withdrawal(screw("#8"), Holding(0.42), 0.03)
    count = needed(1500.0, capacity.value)
    assert shared("corner screws", 1500.0, count, capacity).ok
    assert not shared("corner screws", 1500.0, count - 1, capacity).ok


def test_an_even_share_needs_no_fastener_more():
    assert needed(3 * 0.1, 0.1) == 3
    assert needed(0.0, 100.0) == 1
