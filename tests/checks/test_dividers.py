"""Dividers of a gang with one cavity full and the next one empty, against hand arithmetic and by how they move."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.check import Check, NotChecked
from formwork.checks.dividers import divider_checks
from formwork.molds.joints import DIVIDERS
from formwork.molds.panelled import Built
from formwork.molds.panels.dividers import MOST_LAYERS, dividers, level_length
from formwork.shapes import block, planter
from formwork.strength.sheets import section_for
from formwork.strength.working import Unjudged
from tests.drawn import parameters
from tests.workshop import build

G = 9.80665
PLAIN = {"length": 600, "width": 250, "height": 300, "cores": 0, "gang": 4}
LONG = {"length": 800, "width": 300, "height": 400, "wall": 40, "floor": 40, "gang": 2}


def gang(density: float = 600.0, uses: int = 4, **keys: object) -> Built:
    return build(block.SHAPE, parameters(block.SHAPE, {**PLAIN, **keys}), density=density, uses=uses)


def found(built: Built) -> dict[str, Check]:
    made = [one for one in divider_checks(built) if isinstance(one, Check)]
    return {one.name.removeprefix("dividers, one side empty: "): one for one in made}


def test_the_sheet_spans_level_under_the_whole_head() -> None:
    """By hand: a 600 mm strip at the foot of 300 mm of mix, M = p l^2 / 8."""
    built = gang()
    sheet = built.lined.frame.stocks.sheet
    section = section_for(sheet.material, sheet.thickness, "across")
    assert not isinstance(section, Unjudged)
    pressure = built.lined.load.density * G * 0.300
    assert found(built)["panel bending"].demand * 1e6 == pytest.approx(pressure * 0.600**2 / 8.0 / section.ks)


def test_each_end_takes_half_of_the_push() -> None:
    """By hand: half the length, the pressure of the foot over the whole height, shared by the screws of one end."""
    built = gang()
    screws = next(one for one in built.fastenings if one.joint.group == DIVIDERS)
    per_end = screws.count / (2 * 3)
    by_hand = built.lined.load.density * G * 0.300 * 0.600 / 2.0 * 0.300 / per_end
    assert found(built)["screws at its ends"].demand == pytest.approx(by_hand, rel=1e-9)


def test_screws_in_the_edge_of_a_sheet_count_as_in_end_grain() -> None:
    """0.67 of the value in side grain (from memory): the working shows it."""
    assert any("0.67" in line for line in found(gang())["screws at its ends"].working)


@pytest.mark.parametrize("uses", [1, 50])
def test_no_bolt_ends_in_the_edge_of_a_sheet(uses: int) -> None:
    built = gang(uses=uses)
    edges = [one for one in built.fastenings if one.joint.edge]
    assert edges
    assert all(one.item != "bolt" for one in edges)


@pytest.mark.parametrize("density", [600.0, 900.0, 1200.0])
def test_dividers_are_laid_up_until_they_hold_by_themselves(density: float) -> None:
    built = gang(density)
    layers = {part.layers for part in dividers(built.mold.parts)}
    assert layers == {1 if density < 700.0 else 2}
    assert all(one.ok for one in found(built).values())
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)


def test_one_that_no_layers_save_says_how_to_fill() -> None:
    built = build(planter.SHAPE, parameters(planter.SHAPE, LONG), density=1200.0)
    assert {part.layers for part in dividers(built.mold.parts)} == {1}
    failed = [one for one in found(built).values() if not one.ok]
    assert max(one.utilisation for one in failed) > MOST_LAYERS
    assert all("fill the cavities together" in one.remedy for one in failed)


def test_a_mold_with_one_cavity_has_nothing_to_check() -> None:
    assert divider_checks(gang(gang=1)) == ()


def test_a_sheet_nobody_knows_is_listed() -> None:
    built = build(block.SHAPE, parameters(block.SHAPE, PLAIN), sheet="MDF 18")
    assert any(isinstance(one, NotChecked) and "MDF" in one.why for one in divider_checks(built))


@given(
    length=st.integers(250, 700), height=st.integers(100, 350), density=st.floats(400.0, 1500.0),
    more=st.floats(1.01, 1.5),
)  # fmt: skip
@settings(max_examples=15, deadline=None)
def test_a_heavier_mix_or_a_taller_lift_never_lowers_a_percentage(
    length: int, height: int, density: float, more: float
) -> None:
    built = gang(density, length=length, height=height)
    load = built.lined.load
    heavier, taller = replace(load, density=load.density * more), replace(load, fill=load.fill * more)
    before = found(built)
    for worse in (heavier, taller):
        after = found(replace(built, lined=replace(built.lined, load=worse)))
        assert before.keys() == after.keys()
        assert all(after[name].utilisation >= one.utilisation for name, one in before.items())


@given(length=st.integers(250, 650), more=st.floats(1.05, 1.5))
@settings(max_examples=10, deadline=None)
def test_a_longer_divider_is_never_used_less(length: int, more: float) -> None:
    short, long = gang(length=length), gang(length=round(length * more))
    one, other = (next(iter(dividers(built.mold.parts))) for built in (short, long))
    assert level_length(one) < level_length(other)
    if one.layers == other.layers:
        assert found(short)["panel bending"].demand <= found(long)["panel bending"].demand
