"""Ordinary mixes: masses from proportions by a second route, closure of the volume, refusals."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.ordinary import design_ordinary
from formwork.mix.records import Cement, OrdinaryWanted

CEMENT = Cement("portland", 3.15, 25.0)
CONCRETE = OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0)


@settings(max_examples=100, deadline=None)
@given(
    st.floats(0.01, 1000.0),
    st.floats(0.3, 1.0),
    st.floats(0.0, 6.0),
    st.floats(0.0, 6.0),
    st.floats(1500.0, 2600.0),
)
def test_proportions_and_density_are_kept_in_any_unit(
    unit: float, w: float, s: float, g: float, wet: float
) -> None:
    mix = design_ordinary(OrdinaryWanted(wet, unit, w * unit, s * unit, g * unit), CEMENT)
    assert mix.cement + mix.water + mix.sand + mix.gravel == pytest.approx(wet, rel=1e-9)
    assert mix.water == pytest.approx(w * mix.cement, rel=1e-9)
    assert mix.sand == pytest.approx(s * mix.cement, rel=1e-9)
    assert mix.gravel == pytest.approx(g * mix.cement, rel=1e-9)
    assert mix.wet_density - mix.dry_density == pytest.approx(mix.water - 0.2 * mix.cement, rel=1e-9)


def test_air_of_a_plain_concrete_is_what_the_absolute_volumes_leave() -> None:
    mix = design_ordinary(CONCRETE, CEMENT)
    by_hand = 1.0 - (mix.cement / 3150.0 + mix.water / 1000.0 + (mix.sand + mix.gravel) / 2650.0)
    assert mix.air == pytest.approx(by_hand, rel=1e-12)
    assert 0.0 < mix.air < 0.05
    assert mix.warnings == ()
    assert (mix.foam_volume, mix.foam_mass, mix.ash) == (0.0, 0.0, 0.0)


def test_the_edges_of_density_are_taken() -> None:
    for wet in (1000.0, 3000.0):
        assert design_ordinary(replace(CONCRETE, wet_density=wet), CEMENT).wet_density == wet
    for wet in (999.0, 3001.0):
        with pytest.raises(RangeError):
            design_ordinary(replace(CONCRETE, wet_density=wet), CEMENT)


def test_an_eighth_of_air_is_too_much_to_pass_in_silence() -> None:
    airless = 6.5 / (1.0 / 3.15 + 0.5 + 5.0 / 2.65) * 1000.0
    for air, said in ((0.125, True), (0.115, False)):
        mix = design_ordinary(replace(CONCRETE, wet_density=airless * (1.0 - air)), CEMENT)
        assert mix.air == pytest.approx(air, rel=1e-9)
        assert any("too low" in line for line in mix.warnings) is said


def test_working_can_be_worked_again() -> None:
    for line in design_ordinary(CONCRETE, CEMENT).working:
        _, _, numbers, result = line.split(" = ")
        assert re.fullmatch(r"[\d.e+\-*/() ]+", numbers)
        value = eval(numbers, {"__builtins__": {}})
        assert value == pytest.approx(float(result.split()[0]), rel=1e-5)


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        (replace(CONCRETE, wet_density=2600.0), "too high"),
        (replace(CONCRETE, wet_density=1800.0), "too low"),
        (replace(CONCRETE, water=0.8), "weak"),
    ],
)
def test_what_does_not_belong_together_is_said(wanted: OrdinaryWanted, said: str) -> None:
    assert any(said in line for line in design_ordinary(wanted, CEMENT).warnings)


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        (replace(CONCRETE, wet_density=150.0), "fresh density"),
        (replace(CONCRETE, cement=0.0), "cement in the proportions"),
        (replace(CONCRETE, water=0.1), "water in the proportions"),
        (replace(CONCRETE, sand=-1.0), "sand in the proportions"),
        (replace(CONCRETE, gravel=float("nan")), "gravel in the proportions"),
    ],
)
def test_proportions_that_cannot_be_are_refused(wanted: OrdinaryWanted, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        design_ordinary(wanted, CEMENT)
