"""Lumber: worked examples of the University of Florida construction lecture notes and of Peurifoy & Oberlender.

Sources: University of Florida, construction lecture notes on formwork, weeks 6 to 8 (Douglas Fir-Larch No.2, 2x4, wet);
R. L. Peurifoy & G. D. Oberlender, Formwork for Concrete Structures, 4th ed., p. 54. Span formulas of both are printed
with rounded constants (10.95, 13.33, 1.69, 3.23): the tolerance is theirs, 0.2 %.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.errors import RangeError
from formwork.strength.beams import beam_span, bearing
from formwork.strength.customary import FOOT, INCH, LBF, PLF, PSF, PSI
from formwork.strength.lumber import Grade, Section, Service, adjust, flat_factor, grade, size_factor
from formwork.strength.spans import DeflectionLimit
from tests.verification.agreement import Agreement, Case

STUD = Section(1.5 * INCH, 3.5 * INCH)
FLAT = Section(3.5 * INCH, 1.5 * INCH)
SIXTEENTH = DeflectionLimit(fraction=1.0, bulge=INCH / 16)


def spans_in(values, section, plf):
    by_share = beam_span(values, section, plf * PLF, 3, DeflectionLimit())
    by_bulge = beam_span(values, section, plf * PLF, 3, SIXTEENTH)
    return [x / INCH for x in (by_share.bending, by_share.shear, by_share.deflection, by_bulge.deflection)]


def fir() -> Grade:
    return grade("douglas fir-larch No.2", 3.5 * INCH)


@pytest.mark.parametrize(("section", "modulus", "inertia"), [(STUD, 3.0625, 5.359), (FLAT, 1.3125, 0.984)])
def test_section_properties_of_a_2x4(section, modulus, inertia):
    assert section.modulus / INCH**3 == pytest.approx(modulus, abs=5e-5)
    assert section.inertia / INCH**4 == pytest.approx(inertia, abs=5e-4)


LIMITS = ("bending", "shear", "l/360", "1/16 in")


def span_cases(name: str, values, section: Section, plf: float, printed, share: float) -> list[Case]:
    found = spans_in(values, section, plf)
    return [
        Case(f"{name}, {limit}", p, f, share * p) for limit, p, f in zip(LIMITS, printed, found, strict=True)
    ]


def examples() -> list[Case]:
    """Weeks 7 and 8 and Peurifoy p. 54, whose older reference value is 1500 psi and who cuts 1832.8 to 1832."""
    stud = adjust(fir(), STUD, Service(wet=True, short=True, repetitive=True))
    wale = adjust(fir(), replace(STUD, plies=2), Service(wet=True, short=True))
    flat = adjust(fir(), FLAT, Service(wet=True, short=False, repetitive=True))
    old = replace(grade("southern pine No.2", 3.5 * INCH), fb=1500 * PSI)
    pine = adjust(old, STUD, Service(wet=True, short=True, repetitive=True))
    pressed = bearing(stud, 1042.5 * PSF * 0.5 * FOOT * 2 * FOOT, 4.5 * INCH**2)
    return [
        Case("week 7, Fb'", 1649.5, stud.fb / PSI, 0.05),
        Case("week 7, Fv'", 218.25, stud.fv / PSI, 0.005),
        Case("week 7, Fcp'", 418.75, stud.fcp / PSI, 0.005),
        Case("week 7, E'", 1.44e6, stud.e / PSI, 1.0),
        *span_cases("week 7, stud", stud, STUD, 521.25, (34.09, 36.30, 41.50, 35.63), 2e-3),
        Case("week 7, bearing", 231.7, pressed.load * 1e6 / PSI, 0.05),
        Case("week 7, Fb' of a wale", 1434.0, wale.fb / PSI, 0.5),
        *span_cases("week 7, wale", wale, replace(STUD, plies=2), 2085, (22.48, 21.65, 32.94, 29.96), 2e-3),
        Case("week 7, tie", 3336.0, 2085 * PLF * 19.2 * INCH / LBF, 0.5),
        Case("week 8, Fb' flat", 1451.6, flat.fb / PSI, 0.1),
        *span_cases("week 8, flat stud", flat, FLAT, 1125, (14.25, 13.86, 18.25, 19.24), 3e-3),
        Case("p. 54, Fb'", 1832.8, pine.fb / PSI, 0.05),
    ]


def agreements() -> list[Agreement]:
    """The worked examples of lumber."""
    return [Agreement("sticks", "University of Florida, Peurifoy & Oberlender (NDS)", tuple(examples()))]


@pytest.mark.parametrize("case", examples(), ids=lambda case: case.name)
def test_worked_example(case):
    assert case.agrees, case


def test_wet_factor_of_a_weak_section():
    """C_M on bending is 1 where Fb C_F is not above 1150 psi: SPF No.3 2x6, 500 x 1.3 = 650."""
    section = Section(1.5 * INCH, 5.5 * INCH)
    values = adjust(grade("spruce-pine-fir No.3", 5.5 * INCH), section, Service(wet=True))
    assert values.fb / PSI == pytest.approx(650)
    assert values.fv / PSI == pytest.approx(135 * 0.97)


def test_dry_values_are_the_reference_values():
    section = Section(1.5 * INCH, 3.5 * INCH)
    values = adjust(fir(), section, Service(wet=False))
    found = [value / PSI for value in (values.fb, values.fv, values.fcp, values.e)]
    assert found == pytest.approx([900 * 1.5, 180, 625, 1.6e6])


@pytest.mark.parametrize(("width", "psi"), [(3.5, 7.6), (5.5, 6.9), (7.25, 6.4), (9.25, 5.5), (11.25, 5.2)])
def test_southern_pine_by_width(width, psi):
    """Southern Forest Products Association, metric guide: Fb of No.2 in MPa, two digits."""
    assert grade("southern pine No.2", width * INCH).fb / 1e6 == pytest.approx(psi, abs=0.051)


def test_a_board_takes_no_gain_and_a_timber_is_refused():
    board = Section(0.75 * INCH, 3.5 * INCH)
    assert adjust(fir(), board, Service(wet=False)).fb / PSI == pytest.approx(900)
    with pytest.raises(RangeError):
        adjust(fir(), Section(5.5 * INCH, 5.5 * INCH), Service())
    with pytest.raises(RangeError):
        grade("ebony No.1", 0.05)


@pytest.mark.parametrize(
    ("nominal", "width", "C_F"),
    [(4, 3.5, 1.5), (5, 4.5, 1.4), (6, 5.5, 1.3), (8, 7.25, 1.2), (10, 9.25, 1.1), (12, 11.25, 1.0)],
)
def test_size_factor(nominal, width, C_F):
    """NDS Table 4A in a reprint, by nominal width."""
    assert size_factor(width * INCH, "factor") == C_F


@pytest.mark.parametrize(("width", "C_fu"), [(1.5, 1.0), (3.5, 1.1), (5.5, 1.15), (7.25, 1.15), (9.25, 1.2)])
def test_flat_use_factor(width, C_fu):
    """NDS Table 4A in a reprint: 2-in nominal sticks laid flat."""
    assert flat_factor(Section(width * INCH, 1.5 * INCH)) == C_fu
    assert flat_factor(Section(1.5 * INCH, width * INCH)) == 1.0
