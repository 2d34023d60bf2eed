"""Ready-bagged mixes by what is printed on their bags, and ordinary concrete whose density nobody measured."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.bagged import design_bagged
from formwork.mix.batches import batches, totals
from formwork.mix.ordinary import design_ordinary
from formwork.mix.records import BaggedWanted, Cement, Foam, Mixer, OrdinaryWanted

LB, FT3, QUART = 0.45359237, 0.3048**3, 0.946352946e-3
BAG = BaggedWanted("concrete mix", 80.0 * LB, 3.0 * QUART * 1000.0, 0.60 * FT3)


def test_a_bag_of_80_pounds_that_yields_six_tenths_of_a_cubic_foot() -> None:
    """80 lb and 3 quarts (6.259 lb) of water in 0.60 ft3: 143.8 lb/ft3; 45 bags make a cubic yard, as such bags say."""
    mix = design_bagged(BAG)
    assert mix.wet_density / LB * FT3 == pytest.approx(143.8, abs=0.05)
    assert 27.0 * FT3 * mix.bags == pytest.approx(45.0)
    assert mix.warnings == () and mix.kind == "ordinary"


@settings(max_examples=100, deadline=None)
@given(st.floats(5.0, 50.0), st.floats(0.06, 0.25), st.floats(1200.0, 2400.0), st.floats(0.01, 3.0))
def test_bags_and_water_are_all_that_goes_in(bag: float, share: float, wet: float, volume: float) -> None:
    mix = design_bagged(BaggedWanted("mortar", bag, share * bag, bag * (1.0 + share) / wet))
    mixer = Mixer("tub", "drill and tub", 0.2, "whole drum", 0.15, 0.0)
    whole = totals(batches(volume, mix, mixer, Foam(50.0, 1.0, 40.0)))
    assert dict(whole.others)["mortar"] + whole.water == pytest.approx(wet * whole.volume, rel=1e-9)
    assert dict(whole.others)["mortar"] / bag <= whole.bags < dict(whole.others)["mortar"] / bag + 1.0 + 1e-6
    assert (whole.cement, whole.foam_volume, whole.concentrate) == (0.0, 0.0, 0.0)


def test_whole_bags_make_what_is_printed_on_them() -> None:
    mixer = Mixer("drum", "tilting drum", 0.2, "whole drum", 2.5 * 0.60 * FT3, 0.0)
    made = batches(3.0 * 0.60 * FT3, design_bagged(BAG), mixer, Foam(50.0, 1.0, 40.0), "whole bags")
    assert [batch.bags for batch in made] == [2.0, 1.0]


def test_a_bag_that_is_misread_is_told() -> None:
    with pytest.raises(RangeError, match="read the bag again"):
        design_bagged(replace(BAG, yields=0.060 * FT3))
    with pytest.raises(RangeError, match="yield of a bag: got 0"):
        design_bagged(replace(BAG, yields=0.0))
    for water in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(RangeError, match="water of a bag"):
            design_bagged(replace(BAG, water=water))
    assert any(
        "is 38 % of the dry mix" in line for line in design_bagged(replace(BAG, water=30.0 * LB)).warnings
    )
    assert any("rounded up" in line for line in design_bagged(replace(BAG, yields=0.55 * FT3)).warnings)


def test_proportions_without_a_density_get_the_usual_air() -> None:
    """1 : 0.5 : 2 : 3 by mass: 6.5/(1/3.15 + 0.5 + 5/2.65)*1000 = 2403.6 kg/m3 without air, 2355.5 with 2 % of it."""
    mix = design_ordinary(OrdinaryWanted(None, 1.0, 0.5, 2.0, 3.0), Cement("portland", 3.15, 25.0))
    assert mix.wet_density == pytest.approx(2355.5, abs=0.1) and mix.air == pytest.approx(0.02)
    assert mix.warnings == ()
