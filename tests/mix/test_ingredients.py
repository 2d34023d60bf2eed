"""Powders, admixtures and fibres: the mix still balances, and each counts as what it is said to."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import batches, totals
from formwork.mix.cellular import design
from formwork.mix.records import CellularWanted, Cement, Foam, Ingredient, Mixer
from tests.mix.test_cellular import assert_working_holds

CEMENT = Cement("portland", 3.15, 25.0)
FOAM = Foam(50.0, 0.95, 40.0)
FUME = Ingredient("silica fume", 0.08, 2.2, "cement")
FLOUR = Ingredient("stone flour", 0.25, 2.7, "filler")
PLASTICISER = Ingredient("plasticiser", 0.01, 1.08, "water")


@st.composite
def asked(draw: st.DrawFn) -> CellularWanted:
    """A mix of cement, perhaps sand, up to three other things and fibres, at a density that foam can give."""
    kinds = draw(st.lists(st.sampled_from(["cement", "filler", "water"]), max_size=3))
    others = tuple(
        Ingredient(f"thing {i}", draw(st.floats(0.001, 0.4)), draw(st.floats(0.8, 5.0)), kind)
        for i, kind in enumerate(kinds)
    )
    return CellularWanted(
        draw(st.floats(400.0, 1200.0)), None, draw(st.floats(0.35, 0.8)), draw(st.sampled_from([0.0, 0.7])),
        others=others, fibres=draw(st.sampled_from([0.0, 0.9, 12.0])), fibre_gravity=draw(st.floats(0.9, 7.85)),
    )  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(asked())
def test_masses_and_volumes_add_up(wanted: CellularWanted) -> None:
    mix = design(wanted, CEMENT, FOAM)
    others = dict(mix.others)
    mass = mix.cement + mix.water + mix.sand + sum(others.values()) + mix.fibres + mix.foam_mass
    assert mass == pytest.approx(wanted.wet_density, rel=1e-9)
    solids = mix.cement / 3.15 + mix.sand / 2.65 + mix.fibres / wanted.fibre_gravity
    solids += sum(others[each.name] / each.gravity for each in wanted.others)
    assert (solids + mix.water + mix.foam_mass) / 1000.0 + mix.air == pytest.approx(1.0, rel=1e-9)
    assert mix.air == pytest.approx(0.95 * 0.95 * mix.foam_volume, rel=1e-9, abs=1e-12)


@settings(max_examples=100, deadline=None)
@given(asked())
def test_what_is_dried_is_what_stays_and_the_water_that_is_bound(wanted: CellularWanted) -> None:
    mix = design(wanted, CEMENT, FOAM)
    stays = {"cement": 1.2, "filler": 1.0, "water": 0.0}
    dry = 1.2 * mix.cement + mix.sand + mix.fibres
    dry += sum(stays[each.counts] * dict(mix.others)[each.name] for each in wanted.others)
    assert mix.dry_density == pytest.approx(dry, rel=1e-9)
    liquid = sum(dict(mix.others)[each.name] for each in wanted.others if each.counts == "water")
    assert mix.water_cement_total == pytest.approx(
        (mix.water + mix.foam_mass + liquid) / mix.cement, rel=1e-9
    )


@settings(max_examples=100, deadline=None)
@given(asked())
def test_asking_for_the_dry_density_comes_back_to_the_wet_one(wanted: CellularWanted) -> None:
    from dataclasses import replace  # noqa: PLC0415 - only here

    by_wet = design(wanted, CEMENT, FOAM)
    by_dry = design(replace(wanted, wet_density=None, dry_density=by_wet.dry_density), CEMENT, FOAM)
    assert by_dry.wet_density == pytest.approx(by_wet.wet_density, rel=1e-9)
    assert by_dry.foam_volume == pytest.approx(by_wet.foam_volume, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(asked(), st.booleans())
def test_every_line_of_working_can_be_worked_again(wanted: CellularWanted, dry: bool) -> None:
    from dataclasses import replace  # noqa: PLC0415 - only here

    mix = design(wanted, CEMENT, FOAM)
    if dry:
        mix = design(replace(wanted, wet_density=None, dry_density=mix.dry_density), CEMENT, FOAM)
    for line in mix.working:
        assert_working_holds(line)


def test_a_powder_of_ash_is_fly_ash() -> None:
    by_key = design(CellularWanted(800.0, None, 0.5, 0.0, 0.5), CEMENT, FOAM)
    by_name = design(CellularWanted(800.0, None, 0.5, others=(Ingredient("pfa", 0.5, 2.2),)), CEMENT, FOAM)
    assert dict(by_name.others)["pfa"] == pytest.approx(by_key.ash, rel=1e-12)
    assert by_name.foam_volume == pytest.approx(by_key.foam_volume, rel=1e-12)
    assert by_name.dry_density == pytest.approx(by_key.dry_density, rel=1e-12)


def test_ash_that_counts_as_cement_is_heavier_when_dry() -> None:
    """Worked on paper at 800 kg/m3, water 0.5, ash 0.5 of specific gravity 2.2, foam of 50 kg/m3 without loss: oven-dry
    654.6 where the ash is inert, 693.1 where it binds a fifth of its mass of water."""
    foam = Foam(50.0, 1.0, 40.0)
    for counts, dry in (("filler", 654.6), ("cement", 693.1)):
        wanted = CellularWanted(800.0, None, 0.5, others=(Ingredient("ash", 0.5, 2.2, counts),))
        assert design(wanted, CEMENT, foam).dry_density == pytest.approx(dry, abs=0.05)


def test_water_to_all_that_counts_as_cement() -> None:
    mix = design(CellularWanted(700.0, None, 0.54, others=(FUME, FLOUR, PLASTICISER)), CEMENT, FOAM)
    assert (mix.water_cement, mix.water_binder) == (0.54, pytest.approx(0.5))


def test_batches_and_totals_take_their_share() -> None:
    mix = design(CellularWanted(700.0, None, 0.5, others=(FUME,), fibres=0.9), CEMENT, FOAM)
    made = batches(0.3, mix, Mixer("drum", "tilting drum", 0.2, "whole drum", 0.1, 0.002), FOAM)
    whole = totals(made)
    assert whole.fibres == pytest.approx(0.9 * whole.volume)
    assert dict(whole.others)["silica fume"] == pytest.approx(0.08 * whole.cement)


def test_a_plasticiser_allows_a_stiff_slurry() -> None:
    stiff, eased = (
        design(CellularWanted(700.0, None, 0.4, others=others), CEMENT, FOAM).warnings
        for others in ((), (PLASTICISER,))
    )
    assert any("is low" in line for line in stiff) and not any("is low" in line for line in eased)
    assert any("try plasticiser with the concentrate" in line for line in eased)


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        (CellularWanted(600.0, None, 0.5, fibres=-1.0), "fibres in a cubic metre: got -1"),
        (CellularWanted(600.0, None, 0.5, fibres=50.0), "want 45.5 kg/m3"),
        (CellularWanted(600.0, None, 0.5, fibres=350.0, fibre_gravity=7.85), "want 300 kg/m3"),
        (CellularWanted(600.0, None, 0.5, fibre_gravity=0.0), "fibre specific gravity: got 0"),
        (CellularWanted(600.0, None, 0.5, others=(Ingredient("slag", -0.1, 2.9),)), "slag over cement: got -0.1"),
        (CellularWanted(600.0, None, 0.5, others=(Ingredient("slag", 0.1, 0.0),)), "slag specific gravity: got 0"),
        (CellularWanted(600.0, None, 0.5, others=(Ingredient("mortar mix", 0.1, 2.6),)), "ready-bagged"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(wanted: CellularWanted, words: str) -> None:
    with pytest.raises(RangeError, match=words):
        design(wanted, CEMENT, FOAM)


def test_a_dose_far_too_large_is_told() -> None:
    wanted = CellularWanted(700.0, None, 0.5, others=(Ingredient("plasticiser", 0.2, 1.08, "water"),))
    assert any("is it the dose on the label?" in line for line in design(wanted, CEMENT, FOAM).warnings)
