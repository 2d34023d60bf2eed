"""Checks of a wrapped mold against statics by hand, and each of them made to fail."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import pi

import pytest

from formwork.cautions import cautions
from formwork.checks.all import check
from formwork.checks.check import Check, NotChecked
from formwork.molds.wrapped import WrappedMold
from formwork.stock.records import SheetStrength, StickLength, StickStock, StrapStock
from formwork.strength.customary import GRAVITY
from tests.molds.test_wrapped import mold_of, planter, post, strapped
from tests.working import PROSE, faults
from tests.workshop import mix, shop

HEAVY = 848.0
"""Design density of a mix of 800 kg/m3: 48 more, the upper tolerance."""


def found(built: WrappedMold, name: str) -> Check:
    made, _ = check([built])
    return next(one for one in made if one.name.startswith(name))


def test_strap_tension_is_pressure_times_radius_times_height() -> None:
    built = mold_of(post((0.25, 0.0), (0.25, 0.6)), strapped())
    (heights,) = built.heights
    middles = [(low + high) / 2.0 for low, high in pairwise(heights)]
    ends = [0.0, *middles, 0.6]
    by_hand = [HEAVY * GRAVITY * (0.6 - low) * 0.25 * (high - low) for low, high in pairwise(ends)]
    one = found(built, "ring straps")
    assert one.demand == pytest.approx(max(by_hand), rel=1e-6)
    assert one.capacity == 5000.0 and one.ok


def test_a_weak_strap_fails_and_one_without_lashing_takes_a_third_of_its_breaking_force() -> None:
    piece = post((0.3, 0.0), (0.3, 1.2))
    weak = mold_of(piece, strapped(lashing=60.0), density=1800.0, strap="strap 25")
    assert not found(weak, "ring straps").ok and found(weak, "ring straps").remedy
    by_breaking = replace(shop(), straps=(StrapStock("web", None, 3000.0, True, 5.0),))
    assert found(mold_of(piece, by_breaking), "ring straps").capacity == pytest.approx(1000.0)


def test_without_a_strap_what_its_label_must_say_is_told() -> None:
    _, missing = check([mold_of(planter())])
    assert any(one.name == "ring straps" and "N by its label" in one.why for one in missing)


def test_tension_of_the_skin_is_p_r_over_t() -> None:
    built = mold_of(post((0.25, 0.0), (0.25, 0.6)), skin="steel 1")
    one = found(built, "outer skin")
    assert one.demand == pytest.approx(HEAVY * GRAVITY * 0.6 * 0.25 / 0.001 / 1e6, rel=1e-6)
    assert one.capacity == pytest.approx(84.0)


def test_the_screws_at_a_seam_stand_as_close_as_the_pull_asks() -> None:
    built = mold_of(post((0.3, 0.0), (0.3, 1.0)), skin="steel 1")
    one = found(built, "skin seams")
    assert one.ok and one.utilisation > 0.5


def test_a_seam_batten_is_a_beam_from_ring_to_ring() -> None:
    built = mold_of(post((0.3, 0.0), (0.3, 1.0)), skin="steel 1")
    (heights,) = built.heights
    one = found(built, "seam battens: stick bending")
    pulls = [HEAVY * GRAVITY * (1.0 - low) * 0.3 * (high - low) ** 2 / 8.0 for low, high in pairwise(heights)]
    assert one.demand == pytest.approx(max(pulls) / (0.045 * 0.045**2 / 6.0) / 1e6, rel=1e-3)


def test_thin_battens_fail_or_bring_the_rings_closer() -> None:
    thin = StickStock("lath", "softwood", "", 0.022, 0.034, (StickLength(3.0),))
    own = replace(shop(), sticks=(thin,))
    piece = post((0.3, 0.0), (0.3, 1.0))
    assert len(mold_of(piece, own).heights[0]) > len(mold_of(piece).heights[0])


def test_a_skin_known_only_by_its_bending_strength_spans_from_ring_to_ring() -> None:
    sheets = tuple(
        replace(sheet, bend_radius=0.2) if sheet.name == "plywood 12" else sheet for sheet in shop().sheets
    )
    own = replace(shop(), sheets=sheets)
    built = mold_of(post((0.4, 0.0), (0.4, 1.0)), own, skin="plywood 12")
    made, _ = check([built])
    assert any(one.name.startswith("outer skin") for one in made)


def test_a_skin_of_which_nothing_is_known_is_said_not_to_be_checked() -> None:
    _, missing = check([mold_of(planter(), skin="bending plywood 5")])
    why = next(one.why for one in missing if one.name == "outer skin")
    assert "kPa at the foot" in why and "bending plywood" in why


def test_the_lift_of_a_standing_core_is_what_it_displaces() -> None:
    built = mold_of(planter(down="rim"))
    core = built.mold.piece.form.formers[0]
    one = found(built, "core held down")
    assert one.demand == pytest.approx(1.5 * HEAVY * GRAVITY * core.body.volume(), rel=1e-6)


def test_the_shells_of_a_cone_that_narrows_upward_are_lifted() -> None:
    """Cylinder of the foot less the frustum, and the mix under the skin's own edge."""
    built = mold_of(post((0.3, 0.0), (0.2, 0.6)))
    one = found(built, "shells held down")
    frustum = pi * 0.6 / 3.0 * (0.3**2 + 0.3 * 0.2 + 0.2**2)
    thick = built.lined.shell.skin.sheet.thickness
    under = pi * ((0.3 + thick) ** 2 - 0.3**2) * 0.6
    lift = HEAVY * GRAVITY * (pi * 0.3**2 * 0.6 - frustum + under)
    assert one.demand == pytest.approx(1.5 * lift, rel=1e-6)


def test_a_hung_core_lifts_the_shells_by_its_bars() -> None:
    built = mold_of(planter(down="floor"))
    core = built.mold.piece.form.formers[0]
    lift = HEAVY * GRAVITY * core.body.volume()
    assert found(built, "shells held down").demand >= 1.5 * lift
    assert found(built, "core bars: bending").ok


def test_bars_of_laths_fail() -> None:
    thin = StickStock("lath", "softwood", "", 0.02, 0.034, (StickLength(3.0),))
    wide = planter(diameter=1000, base_diameter=900, height=700, down="floor")
    built = mold_of(wide, replace(shop(), sticks=(thin,)), density=1800.0)
    assert not all(one.ok for one in check([built])[0] if one.name.startswith("core bars"))


def test_every_working_can_be_redone() -> None:
    made, _ = check([mold_of(planter(down="floor"), strapped())])
    for one in made:
        assert one.working and one.source
        assert one.name in PROSE or list(faults(one.working)) == []


def test_a_core_that_comes_out_in_parts_has_no_draft_to_check() -> None:
    made, _ = check([mold_of(planter(base_diameter=640, core_draft=0))])
    assert not any(one.name == "draft of core" for one in made)
    assert any(one.name == "draft of core" for one in check([mold_of(planter())])[0])


def test_a_slender_mold_is_said_to_need_props() -> None:
    slim, stout = mold_of(post((0.15, 0.0), (0.15, 1.2))), mold_of(post((0.3, 0.0), (0.3, 1.2)))
    assert any(one.name == "standing plumb" for one in check([slim])[1])
    assert any("Prop the upper ring" in line for line in slim.mold.instructions)
    assert not any(one.name == "standing plumb" for one in check([stout])[1])


def test_heavy_concrete_takes_stouter_battens_and_screws() -> None:
    """A heavy mix 2 m high: 36 kPa at the foot of a pier of 640 across."""
    built = mold_of(post((0.32, 0.0), (0.32, 2.0)), density=1800.0)
    light = mold_of(post((0.25, 0.0), (0.25, 0.6)))
    assert built.lined.shell.batten.deep > light.lined.shell.batten.deep
    made, _ = check([built])
    assert all(one.ok for one in made), [one.name for one in made if not one.ok]


def core_skin(own, **keys):
    """The check of a core's skin in buckling, or why it was not made."""
    made, missing = check([mold_of(planter(down="floor", **keys), own)])
    name = "core skin: buckling between ribs"
    return next((one for one in (*made, *missing) if one.name == name), None)


def test_a_core_skin_whose_stiffness_nobody_gives_is_not_checked_in_buckling() -> None:
    found = core_skin(shop())
    assert isinstance(found, NotChecked)
    assert "bending and modulus" in found.why and "[[sheet]]" in found.why


def test_a_core_skin_that_its_maker_declares_is_checked_and_a_soft_one_fails() -> None:
    stiff = SheetStrength(bending=30e6, bending_across=20e6, modulus=6e9, modulus_across=4e9)
    soft = replace(stiff, modulus=1e8, modulus_across=1e8)
    found = []
    for said, thick in ((stiff, 0.005), (soft, 0.002)):
        sheets = tuple(
            replace(one, strength=said, thickness=thick) if one.material == "bending plywood" else one
            for one in shop().sheets
        )
        found.append(core_skin(replace(shop(), sheets=sheets)))
    held, buckled = found
    assert isinstance(held, Check) and held.ok
    assert isinstance(buckled, Check) and not buckled.ok
    assert "rib" in buckled.remedy
    assert list(faults(held.working)) == []


@pytest.mark.parametrize("polyester", [True, False])
def test_polyester_is_warned_of_where_a_strap_is_woven_of_it(polyester: bool) -> None:
    """Strap makers: polyester is attacked by alkalis, polyamide is not."""
    own = replace(shop(), straps=(StrapStock("web", 20_000.0, None, polyester, 5.0),))
    built = mold_of(planter(), own)
    said = " ".join(cautions(mix(), own.mixer, (built.mold,)))
    assert ("attacks straps of polyester" in said) is polyester
