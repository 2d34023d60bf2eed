"""What the stock of a shop bears: declared, graded, or by its kind; and the message where nobody says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.molds.strengths import grade_of_stick, gravity_of, section_of, skin_of
from formwork.stock.records import SheetStock, SheetStrength, StickLength, StickStock, StickStrength
from formwork.strength.apa_forms import form_panel
from formwork.strength.customary import INCH
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.sheets import cautious_plywood
from formwork.strength.working import Unjudged

MDF = SheetStock("MDF 18", "MDF", "18 mm", 0.018, True, 2.44, 1.22, grain=False)
PLY = SheetStock("ply", "plywood", "3/4 in", 0.75 * INCH, True, 2.44, 1.22)


def test_a_board_nobody_says_anything_of_names_the_keys_to_fill():
    found = section_of(MDF, "across")
    assert isinstance(found, Unjudged)
    for word in ("bending", "modulus", '[[sheet]] "MDF 18"', "shop file"):
        assert word in found.why


def test_a_declared_board_is_judged_and_a_skin_of_two_layers_bears_twice():
    said = replace(MDF, strength=SheetStrength(bending=20e6, modulus=2.2e9, safety=2.5, wet=True))
    found = section_of(said, "along")
    assert (found.fb, found.e) == (8e6, 2.2e9)
    one, two = skin_of(said, 1), skin_of(said, 2)
    assert two.ks == pytest.approx(2 * one.ks)


@pytest.mark.parametrize("grade", ["Class I", "Class II", "Structural I"])
@pytest.mark.parametrize("grain", ["across", "along"])
def test_a_stamped_sheet_has_the_row_of_its_class(grade, grain):
    assert section_of(replace(PLY, grade=grade), grain) == form_panel(grade, "3/4", grain, many_uses=True)


def test_plywood_that_may_lie_either_way_is_taken_the_weak_way():
    assert section_of(replace(PLY, grain=False), "across") == cautious_plywood(PLY.thickness, "along")


LARCH = StickStock("larch", "larch", "", 0.045, 0.095, (StickLength(3.0),))


def test_a_stick_of_no_known_species_is_the_weakest_until_its_shop_says_more() -> None:
    assert grade_of_stick(LARCH, 0.095).name == "softwood of unknown species and grade"
    assert gravity_of(LARCH) == gravity_of(replace(LARCH, material="softwood"))
    own = replace(LARCH, strength=StickStrength(9e6, 1.2e6, 3.8e6, 11e9), gravity=0.5)
    found = grade_of_stick(own, 0.095)
    assert (found.fb, found.fv, found.fcp, found.e) == (9e6, 1.2e6, 3.8e6, 11e9)
    assert gravity_of(own) == 0.5
    assert (
        grade_of_stick(replace(LARCH, material="Douglas Fir-Larch No.2"), 0.0889).name
        == "douglas fir-larch No.2"
    )


def test_its_own_values_lose_what_wet_wood_loses_and_gain_nothing_by_size() -> None:
    """NDS, from memory: C_M 0.97 of shear, 0.67 across the grain, 0.9 of E; bending 0.85 above 1150 psi."""
    own = replace(LARCH, strength=StickStrength(9e6, 1.2e6, 3.8e6, 11e9))
    values = adjust(grade_of_stick(own, 0.095), Section(0.045, 0.095), Service())
    assert values.fb == pytest.approx(9e6 * 0.85)
    assert (values.fv, values.fcp, values.e) == pytest.approx((1.2e6 * 0.97, 3.8e6 * 0.67, 11e9 * 0.9))
