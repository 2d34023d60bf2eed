"""The batch card and the cautions that belong with a mix."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.mix.card import card
from formwork.mix.cautions import cautions
from formwork.mix.design import mix_for
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer, OrdinaryWanted

CEMENT = Cement("portland", 3.15, 42.638)
FOAM = Foam(40.05, 1.0, 40.0)
TUB = Mixer("barrel", "drill and tub", 0.208, "whole drum", 0.160, 0.003)
CELLULAR = CellularWanted(480.554, None, 0.5)
ORDINARY = OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0)


def test_one_94_lb_bag_at_30_lb_ft3_makes_about_5_ft3() -> None:
    # Worked by hand in pounds with water at 62.4 lb/ft3: 5.015 ft3 a bag; in SI with 1000 kg/m3, 0.04 % heavier water.
    made = card(0.135, CELLULAR, CEMENT, FOAM, TUB, split="whole bags")
    assert [batch.bags for batch in made.batches] == [1.0]
    assert made.totals.volume / 0.0283168 == pytest.approx(5.015, rel=1e-3)
    assert made.leftover == pytest.approx(made.totals.volume - 0.003 - 0.135, rel=1e-9)


def test_card_keeps_volume_asked_for_and_mix_to_be_made_apart() -> None:
    made = card(0.300, CELLULAR, CEMENT, FOAM, TUB, overfill=0.05, loss=0.02)
    assert made.volume == 0.300
    assert made.mixed == pytest.approx(0.300 * 1.05 / 0.98, rel=1e-12)
    assert made.totals.volume == pytest.approx(made.mixed + len(made.batches) * 0.003, rel=1e-9)
    assert made.mix == mix_for(CELLULAR, CEMENT, FOAM)


def test_an_ordinary_card_needs_no_foam() -> None:
    made = card(0.1, ORDINARY, CEMENT, replace(FOAM, output=0.001), TUB)
    assert made.mix.kind == "ordinary"
    assert made.totals.foam_mass == made.totals.concentrate == 0.0
    assert made.batches[0].foam_seconds == 0.0
    assert made.batches[0].gravel == pytest.approx(made.batches[0].volume * 2350.0 * 3.0 / 6.5, rel=1e-12)


def test_cautions_follow_the_mix_and_the_mixer() -> None:
    cellular, ordinary = mix_for(CELLULAR, CEMENT, FOAM), mix_for(ORDINARY, CEMENT, FOAM)
    assert any("pressure vessel" in line for line in cautions(cellular))
    assert not any("pressure vessel" in line for line in cautions(ordinary))
    assert any("drill" in line and "both hands" in line for line in cautions(cellular, TUB))
    assert not any("both hands" in line for line in cautions(cellular))
    for mix in (cellular, ordinary):
        lines = " ".join(cautions(mix, TUB))
        for word in ("caustic", "silica", "pulls in", "ground-fault", "safety data sheets"):
            assert word in lines


def test_weights_to_lift_are_those_of_the_mix() -> None:
    light, heavy = cautions(mix_for(CELLULAR, CEMENT, FOAM)), cautions(mix_for(ORDINARY, CEMENT, FOAM))
    assert "A bag of cement weighs 42.6 kg (94 lb): nobody lifts it alone, " in " ".join(light)
    assert "20 L of this mix weigh 9.61 kg, 5 US gal weigh 20.1 lb." in " ".join(light)
    assert "20 L of this mix weigh 47 kg, 5 US gal weigh 98.1 lb." in " ".join(heavy)
    assert not any(
        "nobody lifts" in line for line in cautions(mix_for(CELLULAR, replace(CEMENT, bag=25.0), FOAM))
    )
