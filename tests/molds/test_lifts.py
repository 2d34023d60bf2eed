"""Filled in lifts that set, or designed for a heavier mix: the load against triangles worked by hand and plain sums."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import pi
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.errors import GeometryError, RangeError
from formwork.geometry.level_cuts import below
from formwork.geometry.outlines import polygon
from formwork.geometry.turned import Turned
from formwork.molds.bearers import bearers
from formwork.molds.dome.loads import lift, pressure_at, weight_on
from formwork.molds.dome.words import port_heights
from formwork.molds.label import label
from formwork.molds.load import Load, design_density, lifts_in, load_of
from formwork.molds.panels.lift import core_lift, side_lift
from formwork.project.records import MoldOptions
from formwork.shapes import cast_dome, planter
from formwork.strength.pressure import Lift
from formwork.strength.working import given as taken
from tests.checks import test_never_easier_round as round_ones
from tests.checks.test_never_easier import loaded, never_lower
from tests.drawn import Drawn, curved_pieces, parameters, pieces
from tests.molds.test_vibrated import concrete
from tests.workshop import build, mix, shop

G = 9.80665
TALL = {
    "length": 600,
    "width": 600,
    "height": 900,
    "wall": 80,
    "floor": 60,
    "down": "floor",
    "drain_holes": 0,
}
HEIGHTS = st.floats(0.0, 1.0)


def test_each_lift_is_a_triangle_of_its_own() -> None:
    """1000 kg/m3 in three lifts of 0.2 m: 1.961 kPa at the foot of each, 196 N/m on it; in one go 5.884 kPa."""
    load = Load(1000.0, 0.6, lifts=3)
    assert load.lift == pytest.approx(0.2)
    assert load.pressure(0.0) == pytest.approx(1961.33)
    assert load.pressure(0.4) == pytest.approx(1961.33)
    assert load.pressure(0.5) == pytest.approx(980.665)
    assert load.push(0.4, 0.6) == pytest.approx(1000.0 * G * 0.2**2 / 2.0)
    assert load.push(0.0, 0.6) == pytest.approx(1961.33 * 0.4 + 196.133)
    assert replace(load, lifts=1).pressure(0.0) == pytest.approx(5883.99)


@given(start=HEIGHTS, at=HEIGHTS, lifts=st.integers(1, 6))
def test_no_lift_presses_more_anywhere_wherever_it_begins(start: float, at: float, lifts: int) -> None:
    """A second route: the pressure diagram of one lift alone, slid up and down the mold."""
    load = Load(800.0, 1.0, lifts=lifts)
    foot = start * (1.0 - load.lift)
    one = Lift(800.0, foot + load.lift, foot)
    assert one.at(at) <= load.pressure(at) * (1.0 + 1e-9) + 1e-9
    least = Lift(800.0, min(1.0, at + load.lift), at)
    assert least.at(at) == pytest.approx(load.pressure(at), abs=1e-6)


@given(low=HEIGHTS, high=HEIGHTS, lifts=st.integers(1, 6))
def test_push_and_arm_are_the_sums_of_the_pressure(low: float, high: float, lifts: int) -> None:
    load, slices = Load(800.0, 1.0, lifts=lifts), 4000
    low, high = min(low, high), max(low, high)
    places = [low + (high - low) * (k + 0.5) / slices for k in range(slices)]
    summed = sum(load.pressure(z) for z in places) * (high - low) / slices
    assert load.push(low, high) == pytest.approx(summed, rel=1e-5, abs=1e-6)
    whole = [(k + 0.5) / slices for k in range(slices)]
    turning = sum(load.pressure(z) * z for z in whole) / slices
    assert load.arm == pytest.approx(turning / load.push(0.0, 1.0), rel=1e-5)


@given(asked=st.floats(0.05, 3.0), fill=st.floats(0.05, 4.0))
def test_lifts_are_as_few_as_may_be_and_none_higher_than_asked(asked: float, fill: float) -> None:
    count = lifts_in(fill, asked)
    assert fill / count <= asked * (1.0 + 1e-5)
    assert count == 1 or fill / (count - 1) > asked


def test_the_working_ends_in_the_pressure_that_was_used() -> None:
    for load in (Load(848.0, 0.9, lifts=3), load_of(concrete(), 3.6, options=MoldOptions(lift=1.2))):
        for height in (0.0, 0.3, 0.7, 0.85):
            assert load.steps(height)[-1].value == pytest.approx(load.pressure(height) / 1000.0)
            assert load.head_steps(height)[-1].value == pytest.approx(load.head(height) / 1000.0)
            assert load.weight_steps(height)[-1].value == pytest.approx(load.weight(height) / 1000.0)


def test_concrete_that_stiffens_is_judged_by_the_lift_and_pressed_down_by_its_weight() -> None:
    """ACI 347 speaks of what is placed in one go; a base carries rho g h whatever the sides are spared."""
    load = load_of(concrete(), 3.6, options=MoldOptions(lift=1.2))
    assert load.placing is not None
    assert load.placing.height == pytest.approx(1.2)
    assert load.pressure(0.0) <= load.density * G * 1.2
    assert load.weight(0.0) == pytest.approx(load.density * G * 3.6)
    under = bearers(shop().sheets[0], load, "mm")
    assert under == bearers(shop().sheets[0], replace(load, lifts=1, placing=None), "mm")


BODIES = (
    Turned(polygon([(0.0, 0.0), (0.3, 0.0), (0.2, 1.0), (0.0, 1.0)])),
    Turned(polygon([(0.0, 0.0), (0.1, 0.0), (0.3, 0.5), (0.1, 1.0), (0.0, 1.0)])),
)


@given(start=HEIGHTS, lifts=st.integers(1, 6), which=st.integers(0, 1))
def test_no_lift_floats_a_core_harder_than_is_told(start: float, lifts: int, which: int) -> None:
    """Archimedes on what of a core stands in one lift, wherever that begins, cut out of the body by a second route."""
    load, body = Load(800.0, 1.0, lifts=lifts), BODIES[which]
    told = load.buoyed(body.volume(), body.in_plan(), (taken("V", body.volume(), "m3"),))
    foot = start * (1.0 - load.lift)
    displaced = below(body, foot + load.lift) - below(body, foot)
    assert 800.0 * G * displaced <= told.force * (1.0 + 1e-9)
    assert told.force <= 800.0 * G * body.volume() * (1.0 + 1e-9)
    assert told.steps[-1].value == told.force


def test_a_straight_core_is_floated_by_one_lift_exactly() -> None:
    tube = Turned(polygon([(0.0, 0.0), (0.2, 0.0), (0.2, 1.0), (0.0, 1.0)]))
    told = Load(800.0, 1.0, lifts=4).buoyed(tube.volume(), tube.in_plan(), (taken("V", 0.0, "m3"),))
    assert told.force == pytest.approx(800.0 * G * pi * 0.2**2 * 0.25)


def test_sides_that_narrow_upward_are_lifted_by_one_lift() -> None:
    """Rim down, 500 mm wide below and 350 mm above: no window of one lift pushes up with more than is told."""
    keys = {"length": 500, "width": 500, "base_length": 350, "base_width": 350, "height": 450, "wall": 60,
            "floor": 60, "down": "rim", "drain_holes": 0}  # fmt: skip
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys))
    frame, load = built.lined.frame, built.lined.load
    lifts = replace(load, lifts=3)
    whole, one = (side_lift(frame, each, built.mold.parts).force for each in (load, lifts))
    assert 0.0 < one < whole
    height = load.fill
    for foot in (0.0, height / 3.0, 2.0 * height / 3.0):
        a, b = (0.5 - 0.15 * z / height for z in (foot, foot + height / 3.0))
        over = a * a * height / 3.0 - (a * a + a * b + b * b) / 3.0 * height / 3.0
        assert load.density * G * over <= one * (1.0 + 1e-9)


@given(drawn=pieces(), lifts=st.integers(2, 5))
@settings(max_examples=20, deadline=None)
def test_lower_lifts_never_raise_a_percentage(drawn: Drawn, lifts: int) -> None:
    built = build(*drawn)
    load = built.lined.load
    steps = [loaded(built, replace(load, lifts=count)) for count in (1, lifts, lifts + 1)]
    for taller, lower in ((steps[0], steps[1]), (steps[1], steps[2])):
        kept = {name: value for name, value in taller.items() if name in lower}
        never_lower({name: lower[name] for name in kept}, kept)


@given(drawn=pieces())
@settings(max_examples=12, deadline=None)
def test_a_mold_designed_for_lifts_passes_as_one_for_a_single_pour_does(drawn: Drawn) -> None:
    whole = build(*drawn, density=1500.0)
    built = build(*drawn, density=1500.0, lift=whole.lined.load.fill / 2.5)
    assert built.lined.load.lifts == 3
    failed = {one.name.split(":")[0] for one in check([whole])[0] if not one.ok}
    assert {one.name.split(":")[0] for one in check([built])[0] if not one.ok} <= failed


def test_a_tall_mold_takes_fewer_rails_and_the_same_base() -> None:
    whole, lifts = (
        build(planter.SHAPE, parameters(planter.SHAPE, TALL), **more)
        for more in ({"stick": "45x45"}, {"stick": "45x45", "lift": 0.3})
    )
    assert len(lifts.rails) < len(whole.rails)
    assert lifts.bearers == whole.bearers
    hung = [one.name for one in whole.lined.frame.form.formers if one.seat == "hung"]
    assert hung
    for name in hung:
        assert (
            core_lift(lifts.lined.frame, lifts.lined.load, name).force
            < core_lift(whole.lined.frame, whole.lined.load, name).force
        )
    base = [one for one in check([lifts])[0] if one.name == "base between bearers"]
    assert all(isinstance(one, Check) and one.ok for one in base)


def test_the_label_says_what_the_load_is() -> None:
    told = label(Load(848.0, 0.9, lifts=3), "mm", owned=False)
    assert "at most 848 kg/m3, filled at most 900 mm high in lifts of at most 300 mm, each set before" in told
    assert f"{848.0 * G * 0.3 / 1000.0:.3g} kPa at the foot" in told
    assert "full liquid head of one lift" in told
    assert "lift" not in label(Load(848.0, 0.9), "mm", owned=False)


def test_a_heavier_mix_is_designed_for_and_written_on_the_mold() -> None:
    keys = parameters(planter.SHAPE, TALL)
    built = build(planter.SHAPE, keys, design_density=2400.0, stick="45x45")
    assert built.lined.load.density == 2400.0
    assert "at most 2400 kg/m3" in built.mold.instructions[0]
    assert len(built.rails) > len(build(planter.SHAPE, keys, stick="45x45").rails)
    assert any("2400" in line for one in check([built])[0] for line in one.working)


@pytest.mark.parametrize("asked", [800.0, 847.0])
def test_a_mold_is_never_designed_for_less_than_the_mix_may_weigh(asked: float) -> None:
    """The mix of 800 kg/m3 may come out at 848 (ASTM C869 Table 1)."""
    with pytest.raises(RangeError, match=r"mold.design_density: got .* want .*848 kg/m3 or more"):
        design_density(mix(), asked)
    assert design_density(mix(), 848.0) == design_density(mix(), None) == 848.0


def test_a_stiff_shell_has_no_lifts() -> None:
    keys = next(keys for keys in cast_dome.SHAPE.samples if keys.get("placing") == cast_dome.STIFF)
    with pytest.raises(GeometryError, match=r"mold.lift: a stiff mix is built up by hand"):
        build(cast_dome.SHAPE, parameters(cast_dome.SHAPE, keys), method="ribbed", mixed=concrete(), lift=0.5)


def fluid_dome(**options: Any) -> Any:
    keys = next(keys for keys in cast_dome.SHAPE.samples if keys.get("placing") != cast_dome.STIFF)
    return build(cast_dome.SHAPE, parameters(cast_dome.SHAPE, keys), method="ribbed", **options)


def test_a_dome_is_filled_through_ports_at_the_ends_of_its_lifts() -> None:
    """In one go as well no mix falls further than 0.6 m; lifts of 0.4 m end at their own ports."""
    whole, lifted = fluid_dome(), fluid_dome(lift=0.4)
    told = "\n".join(whole.mold.instructions)
    assert "Place the mix in one go" in told
    load = lifted.lined.asked.load
    ends = [load.lift * k for k in range(1, load.lifts)]
    found = port_heights(lifted.form, load)
    assert load.lift <= 0.4
    assert found == pytest.approx(ends)
    ports = (0.0, *port_heights(whole.form, whole.lined.asked.load), whole.form.fill)
    assert max(high - low for low, high in pairwise(ports)) <= 0.6 + 1e-9
    assert "in lifts, each set before the next, that end at" in "\n".join(lifted.mold.instructions)


def test_the_inner_form_of_a_dome_carries_every_lift_and_the_outer_one_is_floated_by_one() -> None:
    whole, lifted = fluid_dome(), fluid_dome(lift=0.4)
    loads = [one.lined.asked.load for one in (whole, lifted)]
    assert pressure_at(lifted.form, loads[1], 0.0) == pressure_at(whole.form, loads[0], 0.0)
    assert weight_on(lifted.form, loads[1]).force == pytest.approx(weight_on(whole.form, loads[0]).force)
    assert lift(whole.form, loads[1]).force < lift(whole.form, loads[0]).force


@given(drawn=curved_pieces(), data=st.data(), lifts=st.integers(2, 5))
@settings(max_examples=20, deadline=None)
def test_lower_lifts_never_raise_a_percentage_of_what_is_round(
    drawn: Drawn, data: st.DataObject, lifts: int
) -> None:
    """By every method but the tube, whose joints are chosen with the mix; the lifts are those of the mold that stands."""
    methods = [method for method in drawn[0].methods if method != "tube"]
    assume(methods)
    built = round_ones.standing(drawn, data.draw(st.sampled_from(methods)))
    assume(built is not None)
    load = round_ones.load_of(built)
    found = [
        round_ones.percents(check([round_ones.loaded(built, replace(load, lifts=count))])[0])
        for count in (1, lifts, lifts + 1)
    ]
    round_ones.never_lower(found[1], found[0])
    round_ones.never_lower(found[2], found[1])
