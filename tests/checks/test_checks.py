"""Checks against hand arithmetic, against other routes, and by how they move when the mold is loaded more."""

from __future__ import annotations

from dataclasses import replace
from math import degrees, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.checks.closing import cavity_check
from formwork.checks.coming_off import draft_checks, stripping_check
from formwork.checks.lifting import lift_checks
from formwork.molds.joints import SIDES
from formwork.molds.panelled import Built, panel_section
from formwork.molds.panels.lift import core_lift, lifted, side_lift, weight
from formwork.shapes import block, planter, slab
from formwork.strength.dowels import END_GRAIN, Joint, lateral
from formwork.strength.fasteners import gravity, screw
from formwork.strength.working import Unjudged
from formwork.units.parse import read
from tests.drawn import Drawn, parameters, pieces
from tests.workshop import build

LBF = 4.4482216152605
TAPERED = {
    "length": "20 in", "width": "20 in", "base_length": "14 in", "base_width": "14 in", "height": "18 in",
    "wall": "2 in", "floor": "2 in", "wall_measured": "level",
}  # fmt: skip


def tapered(density: float = 800.0, **keys: object) -> Built:
    return build(planter.SHAPE, parameters(planter.SHAPE, {**TAPERED, **keys}), density=density)


def test_sides_of_a_mold_that_narrows_upward_are_lifted_as_much_as_statics_says() -> None:
    """14 to 20 in square, 18 in high, cast rim down at 60 lb/ft3: 68 lb on the outer form.

    By hand: weight of the mix in the box round the form less the mix in it, 60/1728 (20^2 18 - 5256) = 67.5 lb, printed 68.
    """
    built = tapered(down="rim")
    load = replace(built.lined.load, density=60.0 * 16.018463)
    lift = side_lift(built.lined.frame, load, built.mold.parts)
    assert lift.force / LBF == pytest.approx(60.0 / 1728.0 * (20.0**2 * 18.0 - 5256.0), rel=1e-6)
    assert lift.force / LBF == pytest.approx(68.0, abs=0.51)


def test_sides_pressed_down_by_the_mix_still_carry_the_lift_of_a_core_that_hangs_from_them() -> None:
    """Archimedes: that core is 2882.370 in3, its bars pull at the sides with all of its lift, taken one and a half times."""
    built = tapered(down="floor")
    assert side_lift(built.lined.frame, built.lined.load, built.mold.parts).force < 0.0
    [sides] = [one for one in lift_checks(built) if isinstance(one, Check) and one.name.startswith("sides")]
    space = 2882.370 * 0.0254**3
    assert sides.demand == pytest.approx(1.5 * built.lined.load.density * 9.80665 * space, rel=1e-6)


def test_sides_that_run_past_the_base_are_held_by_screws_across_their_axis_in_its_edges() -> None:
    """Each by the yield modes of its screw with the point in end grain: two thirds of that in side grain."""
    drawn = parameters(planter.SHAPE, {**TAPERED, "down": "floor"})
    built = build(planter.SHAPE, drawn, base="runs past")
    found = lift_checks(built)
    [sides] = [one for one in found if isinstance(one, Check) and one.name.startswith("sides held down")]
    [screws] = [one for one in built.fastenings if one.joint.group == SIDES]
    bite = read(screws.size.split(" x ")[1], "length", None) - screws.joint.through
    wood = gravity(built.lined.frame.stocks.stick.material)
    each = (
        lateral(screw(screws.size), Joint(screws.joint.through, min(bite, 0.05), wood, wood)).value
        * END_GRAIN
    )
    dead = lifted(built.lined.frame, built.lined.load, built.mold.parts, SIDES)[1]
    assert sides.capacity == pytest.approx(dead + screws.count * each)
    assert sides.ok
    assert any(isinstance(one, Check) and one.name.startswith("core held down") for one in found)


@pytest.mark.parametrize("density", [400.0, 800.0, 1200.0, 1800.0])
@pytest.mark.parametrize("down", ["rim", "floor"])
def test_no_joint_is_given_more_fasteners_than_find_room(density: float, down: str) -> None:
    for fastening in tapered(density=density, down=down).fastenings:
        assert fastening.count <= max(fastening.joint.most, fastening.joint.count)


def test_a_core_floats_by_what_it_displaces() -> None:
    """Archimedes: the core of that planter is 2882.370 in3."""
    built = tapered(down="floor")
    lift = core_lift(built.lined.frame, built.lined.load, "core")
    space = 2882.370 * 0.0254**3
    assert lift.force == pytest.approx(built.lined.load.density * 9.80665 * space, rel=1e-6)


@pytest.mark.parametrize("down", ["rim", "floor"])
@pytest.mark.parametrize("density", [500.0, 800.0, 1200.0, 1600.0])
def test_hold_downs_are_designed_for_the_mix(down: str, density: float) -> None:
    built = tapered(density, down=down, height="30 in")
    held = [one for one in lift_checks(built) if isinstance(one, Check)]
    assert held
    assert all(one.ok for one in held)


def test_weight_counts_every_part_by_its_own_stock() -> None:
    built = build(slab.SHAPE, parameters(slab.SHAPE, {"length": 400, "width": 400, "thickness": 50}))
    base = [part for part in built.mold.parts if part.role == "base"]
    density = built.lined.frame.stocks.sheet.density
    blank = base[0].blank
    by_hand = blank.length * blank.width * blank.thickness * density * 9.80665
    assert weight(built.lined.frame, base) == pytest.approx(by_hand, rel=1e-9)


def test_a_cavity_that_differs_fails_and_says_by_how_much() -> None:
    built = tapered()
    larger = replace(built, mold=replace(built.mold, cavity=built.mold.cavity * 1.00001))
    found = cavity_check(larger)
    assert cavity_check(built).ok
    assert not found.ok
    assert found.demand == pytest.approx(1e-5 * built.mold.nominal, rel=1e-3)


def test_a_locked_group_fails_the_stripping_check_with_its_remedy() -> None:
    built = tapered()
    locked = replace(
        built, mold=replace(built.mold, locked=(("core", "core is locked by the piece; more draft"),))
    )
    found = stripping_check(locked)
    assert stripping_check(built).ok
    assert not found.ok
    assert "more draft" in found.remedy


@pytest.mark.parametrize(("draft", "ok"), [("1.5 deg", False), ("2 deg", True), ("6 deg", True)])
def test_too_little_draft_asks_for_a_split_core(draft: str, ok: bool) -> None:
    keys = {
        "length": 500,
        "width": 500,
        "height": 300,
        "wall": 60,
        "floor": 50,
        "drain_holes": 0,
        "core_draft": draft,
    }
    found = draft_checks(build(planter.SHAPE, parameters(planter.SHAPE, keys)))
    assert [one.ok for one in found] == [ok]
    assert found[0].capacity == pytest.approx(degrees(radians(float(draft.split(maxsplit=1)[0]))), rel=1e-6)


def by_name(built: Built) -> dict[str, float]:
    made, _ = check([built])
    return {one.name: one.utilisation for one in made if one.unit in ("MPa", "mm")}


@given(density=st.floats(450.0, 1200.0), more=st.floats(1.01, 1.4))
@settings(max_examples=12, deadline=None)
def test_a_heavier_mix_never_lowers_a_percentage(density: float, more: float) -> None:
    """The mold is the one designed for the heavier mix; the lighter one is then poured into it."""
    heavy = tapered(density * more)
    light = replace(heavy, lined=replace(heavy.lined, load=replace(heavy.lined.load, density=density)))
    before, after = by_name(light), by_name(heavy)
    assert before.keys() == after.keys()
    assert all(after[name] >= before[name] for name in before)


@given(drawn=pieces())
@settings(max_examples=25, deadline=None)
def test_a_designed_mold_passes_its_own_checks(drawn: Drawn) -> None:
    """Or the program says that this stock cannot do it, and what could."""
    made, not_made = check([build(*drawn)])
    assert all(one.ok or one.remedy for one in made)
    assert all(one.ok for one in made if one.name in ("cavity against piece", "comes off in order"))
    assert all(one.why for one in not_made)


def test_every_check_shows_its_working_and_its_source() -> None:
    keys = {"length": 390, "width": 190, "height": 190, "cores": 2, "gang": 2}
    made, not_made = check([build(block.SHAPE, parameters(block.SHAPE, keys)), tapered()])
    for one in made:
        assert one.source
        assert one.working
        assert one.mold
    assert "the piece in use" in {one.name for one in not_made}


def test_a_low_side_stands_free_above_its_one_rail() -> None:
    """Cantilever by hand: M = p l^2 / 6 with l from the rail to the fill plane."""
    built = build(slab.SHAPE, parameters(slab.SHAPE, {"length": 600, "width": 600, "thickness": 80}))
    assert len(built.rails) == 1
    reach = 0.080 - built.lined.frame.stocks.broad
    pressure = built.lined.load.density * 9.80665 * reach
    section = panel_section(built.lined)
    assert not isinstance(section, Unjudged)
    made, _ = check([built])
    bending = next(one for one in made if one.name.startswith("panels:") and "bending" in one.name)
    assert bending.demand * 1e6 == pytest.approx(pressure * reach**2 / 6.0 / section.ks, rel=1e-9)


def test_a_sheet_without_strength_data_is_listed_as_not_checked() -> None:
    built = build(
        slab.SHAPE, parameters(slab.SHAPE, {"length": 600, "width": 600, "thickness": 80}), sheet="MDF 18"
    )
    _, not_made = check([built])
    assert any(one.name == "panels" and "MDF" in one.why for one in not_made)
