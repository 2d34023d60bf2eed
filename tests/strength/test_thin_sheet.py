"""Skins of thin sheet: against a row of 3/8 in plywood that is from memory, and never stiffer than thicker ones."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.customary import FOOT, INCH
from formwork.strength.panels import PanelSection
from formwork.strength.sheets import section_for
from formwork.strength.thin_sheet import skin_section
from formwork.strength.working import Unjudged


def strip(material: str, thickness: float, layers: int = 1) -> PanelSection:
    found = skin_section(material, thickness, layers)
    assert isinstance(found, PanelSection)
    return found


def test_three_eighths_plywood() -> None:
    """Plywood Design Specification, 3/8 in sanded, across the supports: I 0.027 in4, KS 0.125 in3 a foot (from memory)."""
    found = strip("plywood", 3.0 / 8.0 * INCH)
    assert found.inertia * FOOT / INCH**4 == pytest.approx(0.027, rel=0.05)
    assert found.ks * FOOT / INCH**3 == pytest.approx(0.125, rel=0.05)


@given(st.floats(0.003, 0.02), st.floats(0.003, 0.02), st.integers(1, 4))
@settings(max_examples=60, deadline=None)
def test_a_thicker_skin_is_no_weaker(one: float, other: float, layers: int) -> None:
    thin, thick = (strip("plywood", size, layers) for size in sorted((one, other)))
    assert thin.e * thin.inertia <= thick.e * thick.inertia * (1.0 + 1e-9)
    assert thin.fb * thin.ks <= thick.fb * thick.ks * (1.0 + 1e-9)


@given(st.integers(1, 5))
def test_loose_layers_share_the_load(layers: int) -> None:
    one, all_of_them = strip("birch plywood", 0.0065), strip("birch plywood", 0.0065, layers)
    assert all_of_them.ks == pytest.approx(layers * one.ks)
    assert all_of_them.inertia == pytest.approx(layers * one.inertia)
    assert all_of_them.ib_q == pytest.approx(layers * one.ib_q)


def test_what_the_tables_know_is_taken_from_them() -> None:
    assert strip("plywood", 0.018) == section_for("plywood", 0.018, "across")


def test_steel_is_a_homogeneous_sheet() -> None:
    found = strip("sheet steel", 0.001)
    assert found.inertia == pytest.approx(0.001**3 / 12.0)
    assert found.fb == pytest.approx(0.6 * 140e6)


def test_what_nobody_knows_is_not_judged() -> None:
    for material in ("hardboard", "plastic sheet", "bending plywood", "MDF"):
        assert isinstance(skin_section(material, 0.005), Unjudged)


@pytest.mark.parametrize(("thickness", "layers"), [(0.0, 1), (-0.01, 1), (0.006, 0)])
def test_values_out_of_range_are_refused(thickness: float, layers: int) -> None:
    with pytest.raises(RangeError):
        skin_section("plywood", thickness, layers)
