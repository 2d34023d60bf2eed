"""Sheets by their makers' declarations: brought down to what a wet form may use, and never without a source of values."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.birch import birch
from formwork.strength.customary import PSI
from formwork.strength.declared import Declared, declared_section
from formwork.strength.panels import Bay, panel_verdicts
from formwork.strength.spans import DeflectionLimit
from formwork.strength.working import Unjudged, Verdict

PLY = Declared(
    "ply", 0.018, True, bending=60e6, bending_across=45e6, modulus=9e9, modulus_across=6e9, shear=1.8e6
)
BOARD = Declared("board", 0.018, False, bending=20e6, modulus=2.2e9)
BAY = Bay(5000.0, 0.3)


def test_a_birch_panel_so_declared_is_the_birch_panel_of_its_maker():
    """The maker's sheet: 3600 psi dry and 2500 psi wet may be used, 2.33 times that is the strength."""
    declared = replace(PLY, bending=2.33 * 3600 * PSI)
    found = declared_section(declared, "across")
    assert found.fb == pytest.approx(birch(0.018, "across").fb, rel=1e-9)
    assert found.ks == pytest.approx(0.018**2 / 6)


def test_values_of_a_wet_sheet_lose_nothing_but_the_safety():
    wet = declared_section(replace(BOARD, wet=True, safety=2.0), "across")
    assert (wet.fb, wet.e) == (10e6, 2.2e9)
    assert "over a safety of 2" in wet.source


def test_plywood_has_the_value_of_the_way_it_spans_and_board_has_one():
    across, along = (declared_section(PLY, grain) for grain in ("across", "along"))
    assert along.fb / across.fb == pytest.approx(45 / 60)
    assert along.e / across.e == pytest.approx(6 / 9)
    assert declared_section(BOARD, "across") == declared_section(BOARD, "along")


def test_what_is_not_declared_is_named_with_its_key():
    missing = declared_section(replace(PLY, bending_across=None), "along")
    assert isinstance(missing, Unjudged)
    assert "bending_across" in missing.why
    bend, shear, sag = panel_verdicts(
        declared_section(replace(BOARD, modulus=None), "across"), BAY, DeflectionLimit()
    )
    assert isinstance(bend, Verdict)
    assert isinstance(shear, Unjudged)
    assert isinstance(sag, Unjudged)


@given(
    bending=st.floats(1e6, 2e9),
    modulus=st.floats(1e8, 3e11),
    safety=st.floats(1.0, 10.0),
    more=st.floats(1.0, 3.0),
)
@settings(deadline=None, max_examples=60)
def test_more_strength_never_raises_a_percent_and_more_safety_never_lowers_one(
    bending, modulus, safety, more
):
    plain = replace(BOARD, bending=bending, modulus=modulus, shear=bending / 10, safety=safety)
    limit = DeflectionLimit()

    def percents(sheet: Declared) -> list[float]:
        return [one.utilisation for one in panel_verdicts(declared_section(sheet, "across"), BAY, limit)]

    here = percents(plain)
    stronger = percents(
        replace(plain, bending=more * bending, modulus=more * modulus, shear=more * bending / 10)
    )
    safer = percents(replace(plain, safety=more * safety))
    assert all(a <= b * (1 + 1e-9) for a, b in zip(stronger, here, strict=True))
    assert all(a >= b * (1 - 1e-9) for a, b in zip(safer, here, strict=True))


@pytest.mark.parametrize("change", [{"bending": 0.0}, {"modulus": -1.0}, {"safety": 0.9}, {"thickness": 0.0}])
def test_what_cannot_be_is_refused(change):
    with pytest.raises(RangeError):
        declared_section(replace(BOARD, **change), "across")
