"""The base between bearers: against the strip formulas by hand, and against the published table of panel pressures."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.checks.base import base_checks
from formwork.checks.check import Check, NotChecked
from formwork.molds.bearers import STEP, Bearers, bearers, setting_down
from formwork.molds.load import PANEL_LIMIT, Load
from formwork.stock.records import SheetStock, SheetStrength
from formwork.strength.customary import INCH, PSF
from formwork.strength.panels import Bay, utilisation
from tests.workshop import shop

PLY = next(sheet for sheet in shop().sheets if sheet.material == "plywood")


@given(density=st.floats(300.0, 2400.0), fill=st.floats(0.05, 2.0))
def test_the_spacing_holds_and_one_step_more_does_not(density: float, fill: float) -> None:
    load = Load(density, fill)
    found = bearers(PLY, load, "mm")
    if not isinstance(found, Bearers):
        return
    assert found.spacing == pytest.approx(round(found.spacing / STEP["mm"]) * STEP["mm"])
    assert utilisation(found.section, found.bay, PANEL_LIMIT) <= 1.0 + 1e-9
    wider = Bay(load.pressure(0.0), found.spacing + STEP["mm"])
    assert found.spacing > 1.14 or utilisation(found.section, wider, PANEL_LIMIT) > 1.0


def test_no_base_is_allowed_more_than_the_published_table_of_three_spans() -> None:
    """APA, Class I 3/4 in, face grain across: 285 psf at 19.2 in and 410 psf at 16 in (l/270), over three spans or more.

    One span sags more than three, so what is told for these pressures is less.
    """
    inch = replace(PLY, thickness=0.75 * INCH)
    for pressure, spacing in ((285.0, 19.2), (410.0, 16.0)):
        found = bearers(inch, Load(pressure * PSF / 9.80665, 1.0), "in")
        assert isinstance(found, Bearers)
        assert found.spacing < spacing * INCH


def test_the_check_passes_at_the_spacing_told_and_shows_the_head() -> None:
    load = Load(848.0, 0.5)
    [found] = base_checks("trough mold", bearers(PLY, load, "mm"), load)
    assert isinstance(found, Check)
    assert found.ok and found.name == "base between bearers"
    assert found.working[0].startswith("P = ")
    assert "face grain" in setting_down(bearers(PLY, load, "mm"), "mm")


@pytest.mark.parametrize(
    ("sheet", "load", "why"),
    [
        (replace(PLY, material="melamine board", grain=False), Load(800.0, 0.5), "all over"),
        (replace(PLY, thickness=0.006), Load(2400.0, 3.0), "all over"),
    ],
)
def test_what_cannot_be_judged_lies_on_the_bench_all_over(sheet: SheetStock, load: Load, why: str) -> None:
    found = base_checks("trough mold", bearers(sheet, load, "mm"), load)
    if isinstance(found[0], NotChecked):
        assert why in found[0].why
        assert why in setting_down(bearers(sheet, load, "mm"), "mm")
    else:
        assert found[0].ok


def test_a_base_without_a_shear_strength_is_still_checked_in_bending_and_bulge() -> None:
    """A board whose maker declares bending and modulus alone."""
    board = replace(
        shop().sheets[0], material="MDF", grain=False, strength=SheetStrength(20e6, modulus=2.2e9)
    )
    load = Load(848.0, 0.4)
    chosen = bearers(board, load, "mm")
    made, missing = base_checks("mold", chosen, load)
    assert isinstance(made, Check) and made.ok
    assert isinstance(missing, NotChecked)
    assert missing.name == "base between bearers: panel shear"
    assert "as shear" in missing.why
