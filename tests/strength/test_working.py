"""Every printed step gives, on a calculator, the number that is printed after it."""

from __future__ import annotations

import pytest

from formwork.errors import RangeError
from formwork.strength import beams, panels
from formwork.strength.apa_forms import form_panel
from formwork.strength.bands import Strap, hoop, strap_round_square
from formwork.strength.customary import INCH, PSF
from formwork.strength.dowels import Joint, lateral
from formwork.strength.fasteners import Holding, screw, shared, withdrawal
from formwork.strength.lumber import Section, Service, adjust, grade
from formwork.strength.overhang import Overhang, overhang_verdicts
from formwork.strength.pressure import head_steps
from formwork.strength.sheets import section_for
from formwork.strength.spans import DeflectionLimit
from formwork.strength.uplift import HoldDown, buoyancy_steps, held_down
from formwork.strength.working import Step, Unjudged, step
from tests.working import faults


def panel_steps() -> list[tuple[Step, ...]]:
    bay = panels.Bay(700 * PSF, 12 * INCH, 2, 1.5 * INCH)
    verdicts = panels.panel_verdicts(
        form_panel("Class I", "3/4", "across"), bay, DeflectionLimit(bulge=0.001)
    )
    return [verdict.steps for verdict in verdicts]


def beam_steps() -> list[tuple[Step, ...]]:
    section = Section(1.5 * INCH, 3.5 * INCH, 2)
    values = adjust(grade("hem-fir No.2", section.width), section, Service(short=True))
    run = beams.Run(9000.0, 0.7, 3)
    verdicts = [
        *beams.beam_verdicts(values, section, run, DeflectionLimit()),
        beams.bearing(values, 3000.0, 0.003),
    ]
    return [values.steps, *(verdict.steps for verdict in verdicts)]


def fastener_steps() -> list[tuple[Step, ...]]:
    joint = Joint(0.018, 0.03, 0.5, 0.42, short=True)
    pulled = withdrawal(screw("4.5 x 60 mm"), Holding(0.42), 0.035)
    return [lateral(screw("#8"), joint).steps, shared("corner", 900.0, 4, pulled).steps]


def rim_steps() -> list[tuple[Step, ...]]:
    free = Overhang(4000.0, 0.21)
    verdicts = overhang_verdicts(form_panel("Class I", "3/4", "across"), free, DeflectionLimit())
    return [verdict.steps for verdict in verdicts]


def band_steps() -> list[tuple[Step, ...]]:
    strap = Strap("web", lashing=4000.0)
    verdicts = hoop(strap, 9000.0, 0.21, 0.15), strap_round_square(strap, 9000.0, 0.41, 0.15)
    return [verdict.steps for verdict in verdicts]


def uplift_steps() -> list[tuple[Step, ...]]:
    steps = buoyancy_steps(812.5, 0.0631)
    return [held_down("core", steps[0].value, HoldDown(70.0, 900.0), steps).steps]


def pressure_steps() -> list[tuple[Step, ...]]:
    return [head_steps(812.5, 1.234)]


WORKINGS = [panel_steps, beam_steps, rim_steps, fastener_steps, band_steps, uplift_steps, pressure_steps]


@pytest.mark.parametrize("steps", WORKINGS)
def test_every_line_can_be_redone(steps):
    """Numbers, what each symbol stands for throughout, and units where a symbol was given with one."""
    for working in steps():
        lines = [str(each) for each in working]
        assert list(faults(lines)) == []
    assert any(str(each).count(" = ") == 3 for working in steps() for each in working)


@pytest.mark.parametrize(
    "spoiled",
    [
        ["F = a * b = 2 * 3 = 7 N"],
        ["a = 2 mm", "F = a * b = 3 * 3 = 9 N"],
        ["a = 2 mm", "A = a^2 = 2^2 = 4 mm"],
        ["p = 2 MPa", "s = 3 mm", "F = p * s = 2 * 3 = 6 N"],
        ["the load is carried"],
    ],
)
def test_a_working_that_is_wrong_is_found_out(spoiled):
    assert list(faults(spoiled))


def test_a_symbol_without_a_number_is_refused():
    with pytest.raises(KeyError):
        step("M", "p * l^2", 1.0, "N", p=1.0)


def test_what_no_source_gives_is_not_judged():
    assert isinstance(section_for("melamine board", 0.018, "across"), Unjudged)
    assert isinstance(section_for("plywood", 0.009, "across"), Unjudged)
    sheet = panels.homogeneous("board", 0.018, fb=5e6, e=None, fs=None, source="maker")
    bend, shear, sag = panels.panel_verdicts(sheet, panels.Bay(5000.0, 0.3), DeflectionLimit())
    assert bend.ok
    assert isinstance(shear, Unjudged)
    assert isinstance(sag, Unjudged)


@pytest.mark.parametrize(
    "bay", [panels.Bay(-1.0, 0.3), panels.Bay(1.0, 0.03, support=0.038), panels.Bay(1.0, 0.3, 0)]
)
def test_a_bay_that_cannot_be_is_refused(bay):
    with pytest.raises(RangeError):
        panels.bending(form_panel("Class I", "3/4", "across"), bay)


@pytest.mark.parametrize(
    ("millimetres", "row"),
    [(11.9, "15/32"), (12.0, "15/32"), (17.9, "5/8"), (18.26, "23/32"), (19.05, "3/4"), (40.0, "1-1/8")],
)
def test_plywood_takes_the_row_it_reaches(millimetres, row):
    """Real thickness against the nominal thickness of the rows in millimetres: 11.91, 15.88, 18.26, 19.05, 28.58."""
    section = section_for("plywood", millimetres / 1000, "across")
    assert section.name.startswith(f"plywood, taken as {row} in,")
    assert section.thickness <= millimetres / 1000 + 1e-4


def test_cautious_plywood_is_below_every_class():
    """The least of the table: never stronger or stiffer than any graded panel of the same size."""
    plain = section_for("plywood", 0.75 * INCH, "across")
    for name in ("Class I", "Class II", "Structural I"):
        graded = form_panel(name, "3/4", "across", many_uses=True)
        for value in ("fb", "fs", "e", "ee", "inertia", "ks", "ib_q"):
            assert getattr(plain, value) <= getattr(graded, value)
