"""Army and Navy wood form tables as a bound on the strip formulas.

Sources: US Army correspondence courses EN5151 (Table 2, maximum stud spacing for 5-ply sanded plywood by pressure) and EN5466;
US Navy NAVEDTRA 14045 (column yokes). All public domain. Other stresses stand behind these tables than behind APA's, so they
bound ours from both sides and do not reproduce it: Class I, three spans, deflection span/270, 2-in supports.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from formwork.strength.apa_forms import form_panel
from formwork.strength.customary import FOOT, INCH, PCF, PLF, PSF
from formwork.strength.pressure import Lift
from formwork.strength.spanning import max_span
from formwork.strength.spans import DeflectionLimit
from tests.verification.agreement import Agreement, Case

SIZES = ("1/2", "5/8", "3/4", "1")
LOADS = ((410, 18, 615.00), (350, 20, 583.33), (350, 26, 758.33))

STRONG = {
    75: (20, 24, 26, 31),
    100: (18, 22, 24, 29),
    150: (16, 19, 22, 27),
    200: (15, 17, 20, 25),
    300: (13, 15, 17, 22),
    400: (12, 14, 16, 20),
    500: (11, 13, 15, 19),
    600: (10, 12, 14, 17),
    700: (10, 11, 13, 16),
    800: (9, 10, 12, 15),
    1000: (8, 9, 10, 13),
    1500: (5, 7, 9, 9),
    2000: (4, 5, 7, 7),
}
WEAK = {
    75: (13, 18, 23, 30),
    100: (12, 17, 22, 28),
    150: (11, 15, 19, 25),
    200: (10, 13, 17, 24),
    300: (8, 12, 15, 21),
    400: (8, 11, 14, 19),
    500: (7, 10, 13, 18),
    600: (6, 9, 12, 17),
}


def ours(size: str, grain: str, psf: float) -> float:
    section = form_panel("Class I", size, grain)  # type: ignore[arg-type]
    return max_span(section, psf * PSF, 3, DeflectionLimit(1 / 270), 1.5 * INCH).least / INCH


def spacings() -> list[Case]:
    """The army spaces studs at 0.75 to 1.12 times our greatest spacing, whole inches included."""
    return [
        Case(f"{size} in {grain}, {psf} psf", float(spacing), found, 0.25 * found)
        for grain, table in (("across", STRONG), ("along", WEAK))
        for psf, row in table.items()
        for size, spacing in zip(SIZES, row, strict=True)
        for found in (ours(size, grain, psf),)
    ]


def agreements() -> list[Agreement]:
    """The stud spacings bound ours; loads of sticks are printed."""
    shares = [case.printed / case.found for case in spacings()]
    bound = f"a bound, with other stresses behind it: {min(shares):.2f} to {max(shares):.2f} of our greatest spacing"
    loads = [
        Case(f"{psf} psf at {inches} in", plf, psf * PSF * inches * INCH / PLF, 0.005)
        for psf, inches, plf in LOADS
    ]
    return [
        Agreement("stud spacing", "US Army EN5151, Table 2", tuple(spacings()), bound=bound),
        Agreement("load on a stick", "US Army EN5151", tuple(loads)),
    ]


@pytest.mark.parametrize(("grain", "table"), [("across", STRONG), ("along", WEAK)])
def test_stud_spacing(grain, table):
    """The army spaces studs at 0.75 to 1.12 times our greatest spacing, whole inches included."""
    for psf, row in table.items():
        for size, spacing in zip(SIZES, row, strict=True):
            assert 0.75 <= spacing / ours(size, grain, psf) <= 1.12, (psf, size)


def test_light_pressures_never_wider_than_ours():
    for psf, row in STRONG.items():
        if psf <= 400:
            assert all(spacing <= ours(size, "across", psf) for size, spacing in zip(SIZES, row, strict=True))


@pytest.mark.parametrize(
    ("feet", "spacings"),
    [(9, (8, 8, 10, 11, 12, 15, 17, 17, 10)), (15, (8, 8, 8, 9, 9, 9, 10, 12, 13, 15, 18, 20, 21, 20))],
)
def test_column_yokes_widen_upward(feet, spacings):
    """NAVEDTRA 14045: 2x4 yokes on 3/4 in sheathing from the bottom up; the last space is what remains at the top."""
    assert all(low <= high for low, high in pairwise(spacings[:-1]))
    lift = Lift(150 * PCF, feet * FOOT)
    section, limit = form_panel("Class I", "3/4", "across"), DeflectionLimit()
    height, chosen = 0.0, []
    for spacing in spacings[:-1]:
        chosen.append(max_span(section, lift.at(height * INCH), 3, limit, 1.5 * INCH).least)
        height += spacing
    assert all(low < high for low, high in pairwise(chosen))
    assert sum(spacings) == feet * 12


@pytest.mark.parametrize(("psf", "inches", "plf"), LOADS)
def test_uniform_load_on_a_stick(psf, inches, plf):
    """EN5151: load on a stud or wale is pressure times spacing."""
    assert psf * PSF * inches * INCH / PLF == pytest.approx(plf, abs=0.005)
