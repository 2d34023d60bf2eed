"""Checks of dome forms: each by a second route or made to fail, and told with what would mend it."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sin

import pytest

from formwork.checks.check import Check, NotChecked
from formwork.checks.ribbed import checks
from formwork.geometry.gores import polygon_share
from formwork.molds.dome.loads import crown_thrust, foot_force, lift, weight_on
from formwork.molds.ribbed import DomeMold
from formwork.shapes.cast_dome import FLUID, STIFF
from tests.molds.test_dome_forms import CLOSED, DOOR, SPHERE, STIFF_ONE, kept, made


def told(built: DomeMold, name: str) -> Check:
    """The check whose name begins so; of several the one nearest to its limit."""
    found = [one for one in checks(built) if isinstance(one, Check) and one.name.startswith(name)]
    return max(found, key=lambda one: one.utilisation)


HEAVY = {"density": 2352.0, "cellular": False}


@pytest.mark.parametrize(
    ("name", "keys", "options", "words"),
    [
        ("skin between ribs", SPHERE, {**HEAVY, "ribs": 20}, "more ribs"),
        (
            "ribs: bending",
            {**SPHERE, "inside_radius": 4000, "thickness": 100},
            {**HEAVY, "ribs": 32},
            "more ribs",
        ),
        ("purlins as rings", SPHERE, {**HEAVY, "stick": "45x45"}, "stouter stick"),
        (
            "striking wedges",
            {**SPHERE, "inside_radius": 4000, "thickness": 100},
            {**HEAVY, "ribs": 20},
            "two pairs",
        ),
        (
            "outer form held down",
            {**SPHERE, "inside_radius": 4000, "thickness": 100},
            {**HEAVY, "ribs": 20},
            "rods",
        ),
        (
            "seams of the outer form",
            {**SPHERE, "inside_radius": 6000, "thickness": 100},
            {**HEAVY, "ribs": 24},
            "bolts",
        ),
    ],
)
def test_what_is_too_weak_fails_and_says_what_would_mend_it(
    name: str, keys: dict[str, object], options: dict[str, object], words: str
) -> None:
    found = told(made(keys, **options), name)
    assert not found.ok
    assert words in found.remedy
    assert found.working and found.source


def test_shallow_ribs_thrust_too_hard_against_the_crown() -> None:
    built = kept("sphere")
    shallow = replace(built, lined=replace(built.lined, form=replace(built.form, depth=0.004)))
    assert told(built, "ribs at the crown").ok
    assert not told(shallow, "ribs at the crown").ok


def test_a_key_rib_without_one_of_its_plies_leaves_too_little_play() -> None:
    built = kept("door")
    fewer = tuple(
        part
        for part in built.mold.parts
        if not (part.group == "inner form key rib 1" and " right ply" in part.name)
    )
    spoiled = replace(built, mold=replace(built.mold, parts=fewer))
    whole, half = (told(one, "key section comes free") for one in (built, spoiled))
    assert whole.ok
    assert half.capacity == pytest.approx(whole.capacity / 2.0)


def test_thrust_of_a_half_sphere_of_even_weight() -> None:
    """An arch of a bay's weight hinged at foot and crown: 2k w R2 (1 - pi / 4), integrated by hand."""
    built = made({**CLOSED, "placing": STIFF})
    form, load = built.form, built.lined.asked.load
    w = load.density * 9.80665 * form.shell.thickness
    wanted = 2.0 * form.half * w * 1.5**2 * (1.0 - pi / 4.0)
    assert crown_thrust(form, load).force == pytest.approx(wanted, rel=0.01)


def test_thrust_of_a_half_sphere_under_even_pressure() -> None:
    """Pressure on a sphere passes its centre: p R3 2k / 2 about the foot, by hand; the mix's grows with depth."""
    built = made(CLOSED)
    form, load = built.form, built.lined.asked.load
    even = replace(load, density=1e-6, fill=1e9)
    wanted = 2.0 * form.half * even.pressure(0.0) * 1.5**3 / 2.0 / 1.5
    assert crown_thrust(form, even).force == pytest.approx(wanted, rel=0.01)


def test_the_mix_stands_in_balance_between_the_forms() -> None:
    """Its weight is what the inner form and the board under it bear, less what the outer form holds down (statics)."""
    built = kept("sphere")
    form, load = built.form, built.lined.asked.load
    (r0, _), (r1, _) = form.foot, form.edge
    on_board = polygon_share(form.count) * pi * (r1 * r1 - r0 * r0) * load.pressure(0.0)
    fluid = load.density * 9.80665 * built.mold.nominal
    assert weight_on(form, load).force + on_board - lift(form, load).force == pytest.approx(fluid, rel=1e-9)


def test_thrust_at_the_foot_is_the_ribs_share_by_its_slope() -> None:
    built = made({**STIFF_ONE, "rise": 900, "inside_radius": 1500})
    form, load = built.form, built.lined.asked.load
    share = load.density * 9.80665 * built.mold.nominal / form.count
    assert foot_force(form, load) == pytest.approx(share / sin(form.shell.inside.springing), rel=1e-9)


def test_what_is_not_checked_says_why() -> None:
    open_dome = [one for one in checks(kept("closed")) if isinstance(one, NotChecked)]
    assert {one.name for one in open_dome} >= {"shell", "ground", "form passes an opening"}
    assert all(one.why for one in open_dome)
    board = made(SPHERE, sheet="MDF 18")
    assert any(isinstance(one, NotChecked) and one.name == "ribs" for one in checks(board))


def test_sections_through_the_door_are_told_with_their_boxes() -> None:
    found = told(kept("door"), "form passes an opening")
    assert found.ok
    assert all("box" in line for line in found.working)
    assert DOOR["placing"] == FLUID
