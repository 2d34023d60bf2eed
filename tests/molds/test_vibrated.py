"""Molds for ordinary concrete that stiffens while they fill: pressure after ACI 347, and its limits enforced."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.errors import RangeError
from formwork.mix.design import mix_for
from formwork.mix.records import Mix, OrdinaryWanted, Vibrated
from formwork.molds.design import brace, line
from formwork.molds.label import label
from formwork.molds.load import Load, load_of, rail_load
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import planter
from formwork.strength.aci347 import HOUR
from formwork.strength.customary import FOOT, INCH, PCF, PSF, kelvin_of_fahrenheit
from tests.drawn import parameters
from tests.workshop import shop


def concrete(rise: float = 6.0, temperature: float = 80.0, slump: float = 4.0, weight: float = 150.0) -> Mix:
    """Of so many lb/ft3, rising so many ft/h, at so many degrees Fahrenheit, of so many inches of slump."""
    vibrated = Vibrated(rise * FOOT / HOUR, kelvin_of_fahrenheit(temperature), slump * INCH, "plain")
    own = shop()
    return mix_for(OrdinaryWanted(weight * PCF, 1.0, 0.5, 2.0, 3.0, vibrated), own.cement, own.foam)


def test_a_wall_of_the_textbook() -> None:
    """Peurifoy & Oberlender p. 138: 6 ft/h at 80 F, 150 lb/ft3: 825 psf; 10 ft/h (University of Florida): 1042.5."""
    assert load_of(concrete(), 12 * FOOT).cap / PSF == pytest.approx(825.0)
    assert load_of(concrete(rise=10.0), 15 * FOOT).cap / PSF == pytest.approx(1042.5)


def test_a_low_form_takes_its_full_head_whatever_the_rate() -> None:
    load = load_of(concrete(), 3 * FOOT)
    assert load.pressure(0.0) / PSF == pytest.approx(450.0)


def test_a_column_is_told_from_a_wall_by_its_broadest_side() -> None:
    """A column takes the first formula at any rate: 150 + 9000 * 10 / 80 psf."""
    assert load_of(concrete(rise=10.0), 15 * FOOT, 1.0).cap / PSF == pytest.approx(
        150.0 + 9000.0 * 10.0 / 80.0
    )


def test_the_working_ends_in_the_pressure_that_was_used() -> None:
    load = load_of(concrete(), 12 * FOOT)
    for height in (0.0, 2.0, 3.0, 3.5):
        assert load.steps(height)[-1].value == pytest.approx(load.pressure(height) / 1000.0)
    assert load.steps(0.0)[-1].formula == "min(P_h, p_A)"
    assert len(Load(2400.0, 1.0).steps(0.0)) == 1


@given(low=st.floats(0.0, 3.0), rise=st.floats(0.0, 0.6))
def test_the_push_is_the_area_of_the_pressure_diagram(low: float, rise: float) -> None:
    load, slices = load_of(concrete(), 12 * FOOT), 2000
    summed = sum(load.pressure(low + rise * (k + 0.5) / slices) for k in range(slices)) * rise / slices
    assert load.push(low, low + rise) == pytest.approx(summed, rel=1e-5, abs=1e-6)


def test_rails_share_the_whole_push() -> None:
    load, heights = load_of(concrete(), 2.4), (0.05, 0.6, 1.2, 1.8, 2.35)
    assert sum(rail_load(load, heights, k) for k in range(5)) == pytest.approx(load.push(0.0, 2.4))


@pytest.mark.parametrize(
    ("mix", "said"),
    [
        (concrete(slump=8.0), "slump"),
        (concrete(temperature=110.0), "temperature"),
        (replace(concrete(), wet_density=1400.0), "density"),
    ],
)
def test_outside_the_limits_of_the_formula_there_is_no_plan(mix: Mix, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        load_of(mix, 3.0)


def built(mix: Mix):
    keys = {"length": 900, "width": 900, "height": 2400, "wall": 90, "floor": 60, "drain_holes": 0}
    order = PieceOrder("tall box", "planter", parameters(planter.SHAPE, keys), 1, 1, MoldOptions())
    return brace(line(order, shop(), mix, "mm")[0])


def test_a_tall_mold_needs_fewer_rails_than_under_the_full_head() -> None:
    slow, full = built(concrete(rise=2.0)), built(replace(concrete(), vibrated=None))
    assert len(slow.rails) < len(full.rails)


def test_the_full_head_in_the_same_mold_never_lowers_a_percentage_and_raises_that_of_the_corners() -> None:
    slow = built(concrete(rise=2.0))
    full_head = replace(slow.lined.load, placing=None, cap=inf)
    under, over = (
        {one.name.split(":")[0]: one.utilisation for one in check([each])[0]}
        for each in (slow, replace(slow, lined=replace(slow.lined, load=full_head)))
    )
    assert all(over[name] >= percent - 1e-9 for name, percent in under.items())
    assert over["corners"] > 1.2 * under["corners"]


def test_the_label_names_the_rate_that_the_bracing_rests_on() -> None:
    said = label(load_of(concrete(), 12 * FOOT), "in", owned=False)
    assert "no faster than 72 in up in an hour" in said
    assert "80 F or warmer" in said and "ACI 347" in said
    assert "at any rate" in label(Load(800.0, 0.5), "in", owned=False)
