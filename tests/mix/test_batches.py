"""Batches: nothing is lost between the need, the loads, the residue and the leftover, and the mixer's limits hold."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import Split, batches, leftover, order_volume, totals
from formwork.mix.cellular import design
from formwork.mix.pour_records import Batch
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer

FOAM = Foam(50.0, 0.95, 40.0, 0.001, 0.1)
MIX = design(CellularWanted(600.0, None, 0.5), Cement("portland", 3.15, 25.0), FOAM)
BAG = 25.0 / MIX.cement
SPLITS: tuple[Split, ...] = ("equal", "full", "whole bags")


def drum(usable: float, residue: float = 0.0, least: float = 0.0) -> Mixer:
    return Mixer("drum", "tilting drum", 2.0 * usable, "whole drum", usable, residue, least)


@st.composite
def runs(draw: st.DrawFn) -> tuple[float, Mixer, Split]:
    usable = draw(st.floats(1.1 * BAG, 6.0 * BAG))
    mixer = drum(usable, usable * draw(st.floats(0.0, 0.1)), usable * draw(st.floats(0.0, 0.9)))
    split = draw(st.sampled_from(SPLITS))
    if split == "whole bags":
        assume(-(-mixer.least // BAG) <= usable // BAG)
    return usable * draw(st.floats(0.001, 20.0)), mixer, split


@settings(max_examples=300, deadline=None)
@given(runs())
def test_what_is_made_is_need_residue_and_leftover(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, split = run
    made = batches(volume, MIX, mixer, FOAM, split)
    out = sum(batch.volume for batch in made) - mixer.residue * len(made)
    assert out == pytest.approx(volume + leftover(volume, made, mixer), rel=1e-8)
    assert out >= volume * (1.0 - 1e-8)


@settings(max_examples=300, deadline=None)
@given(runs())
def test_every_batch_is_one_the_mixer_handles(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, split = run
    for batch in batches(volume, MIX, mixer, FOAM, split):
        assert mixer.least * (1.0 - 1e-8) <= batch.volume <= mixer.usable * (1.0 + 1e-8)
        assert batch.volume > mixer.residue


@settings(max_examples=200, deadline=None)
@given(runs())
def test_no_fewer_batches_would_do(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, split = run
    made = batches(volume, MIX, mixer, FOAM, split)
    fullest = mixer.usable if split != "whole bags" else mixer.usable // BAG * BAG
    assert (len(made) - 1) * (fullest - mixer.residue) < volume


@settings(max_examples=200, deadline=None)
@given(runs())
def test_batches_balance_in_mass_and_volume(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, split = run
    for batch in batches(volume, MIX, mixer, FOAM, split):
        mass = batch.cement + batch.water + batch.sand + batch.ash + batch.gravel + batch.foam_mass
        assert mass == pytest.approx(batch.volume * MIX.wet_density, rel=1e-9)
        assert batch.concentrate + batch.dilution_water == pytest.approx(batch.foam_mass, rel=1e-9)
        assert batch.dilution_water == pytest.approx(40.0 * batch.concentrate, rel=1e-9)
        assert batch.foam_seconds == pytest.approx(batch.foam_volume / 0.001, rel=1e-12)
        assert batch.reserve_concentrate == pytest.approx(0.1 * batch.concentrate, rel=1e-9)
        assert batch.reserve_water == pytest.approx(0.1 * batch.dilution_water, rel=1e-9)


@settings(max_examples=200, deadline=None)
@given(runs())
def test_whole_bags_are_whole_and_none_is_opened_in_vain(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, _ = run
    assume(-(-mixer.least // BAG) <= mixer.usable // BAG)
    made = batches(volume, MIX, mixer, FOAM, "whole bags")
    for batch in made:
        assert batch.bags == round(batch.bags) >= 1.0
        assert batch.cement == pytest.approx(batch.bags * 25.0, rel=1e-9)
    needed = (volume + mixer.residue * len(made)) / BAG
    least = max(-(-mixer.least // BAG), 1.0)
    assert sum(batch.bags for batch in made) < max(needed + 1.0, least * len(made) + 0.5)


@settings(max_examples=200, deadline=None)
@given(runs())
def test_equal_batches_are_equal_and_full_ones_full(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, _ = run
    assert len(set(batches(volume, MIX, mixer, FOAM, "equal"))) == 1
    full = batches(volume, MIX, mixer, FOAM, "full")
    assert sum(mixer.least < batch.volume < mixer.usable for batch in full) <= 1
    assert [batch.volume for batch in full] == sorted((batch.volume for batch in full), reverse=True)


@settings(max_examples=200, deadline=None)
@given(runs())
def test_nothing_is_left_over_unless_every_batch_is_the_least(run: tuple[float, Mixer, Split]) -> None:
    volume, mixer, _ = run
    for split in ("equal", "full"):
        made = batches(volume, MIX, mixer, FOAM, split)
        if leftover(volume, made, mixer) > 1e-8 * volume:
            assert all(batch.volume == mixer.least for batch in made)


@settings(max_examples=100, deadline=None)
@given(runs(), st.floats(1.0, 2.0))
def test_more_mix_never_takes_fewer_batches(run: tuple[float, Mixer, Split], more: float) -> None:
    volume, mixer, split = run
    small, large = (batches(v, MIX, mixer, FOAM, split) for v in (volume, volume * more))
    assert len(large) >= len(small)
    assert totals(large).volume >= totals(small).volume * (1.0 - 1e-9)


def volumes(made: tuple[Batch, ...]) -> list[float]:
    return [round(1000.0 * batch.volume, 6) for batch in made]


def test_by_hand_equal() -> None:
    # 200 L through a drum of 60 L that keeps 2 L: 58 L a batch would take 3.4 of them, so four of 50 + 2 L.
    made = batches(0.200, MIX, drum(0.060, 0.002), FOAM, "equal")
    assert volumes(made) == [52.0] * 4
    assert leftover(0.200, made, drum(0.060, 0.002)) == pytest.approx(0.0, abs=1e-12)


def test_by_hand_full() -> None:
    # three of 60 L give 174 L; 26 L remain, and their residue
    made = batches(0.200, MIX, drum(0.060, 0.002), FOAM, "full")
    assert volumes(made) == [60.0, 60.0, 60.0, 28.0]


def test_by_hand_full_with_a_least_batch_that_the_one_before_gives_to() -> None:
    made = batches(0.200, MIX, drum(0.060, 0.002, 0.040), FOAM, "full")
    assert volumes(made) == [60.0, 60.0, 48.0, 40.0]
    assert leftover(0.200, made, drum(0.060, 0.002, 0.040)) == pytest.approx(0.0, abs=1e-12)


def test_by_hand_full_with_a_least_batch_that_leaves_some_over() -> None:
    mixer = drum(0.060, 0.002, 0.055)
    made = batches(0.200, MIX, mixer, FOAM, "full")
    # three batches are too few, and four of the least make 220 L for 208
    assert volumes(made) == [55.0] * 4
    assert leftover(0.200, made, mixer) == pytest.approx(0.012, abs=1e-12)


def test_by_hand_whole_bags_with_a_least_batch() -> None:
    # From three to four bags a batch. Five bags would do, but not in two batches of three or more: six.
    mixer = drum(4.5 * BAG, 0.0, 2.5 * BAG)
    assert [batch.bags for batch in batches(4.9 * BAG, MIX, mixer, FOAM, "whole bags")] == [3.0, 3.0]
    assert [batch.bags for batch in batches(6.9 * BAG, MIX, mixer, FOAM, "whole bags")] == [4.0, 3.0]
    assert [batch.bags for batch in batches(8.9 * BAG, MIX, mixer, FOAM, "whole bags")] == [3.0, 3.0, 3.0]


def test_by_hand_whole_bags() -> None:
    # A 25 kg bag at 600 kg/m3, ratio 0.50, foam of 50 kg/m3 of which 95 % survives, makes 66.533 L.
    assert pytest.approx(66.533, abs=5.1e-4) == 1000.0 * BAG
    mixer = drum(0.200, 0.005)
    made = batches(0.300, MIX, mixer, FOAM, "whole bags")
    # three bags fit (199.6 L, 194.6 L out); 105.4 L and 5 L of residue are left to make: two bags
    assert [batch.bags for batch in made] == [3.0, 2.0]
    assert leftover(0.300, made, mixer) == pytest.approx(5.0 * BAG - 0.010 - 0.300, rel=1e-9)


def test_one_small_pour_makes_the_least_batch() -> None:
    mixer = drum(0.060, 0.002, 0.020)
    for split in ("equal", "full"):
        made = batches(0.005, MIX, mixer, FOAM, split)
        assert volumes(made) == [20.0]
        assert leftover(0.005, made, mixer) == pytest.approx(0.013, abs=1e-12)


def test_totals_are_the_sums_and_bags_are_bought_whole() -> None:
    made = batches(0.200, MIX, drum(0.060, 0.002), FOAM, "full")
    total = totals(made)
    assert total.volume == pytest.approx(0.208)
    assert total.cement == pytest.approx(0.208 * MIX.cement)
    assert total.bags == 4  # 0.208 m3 of 0.066533 m3 a bag: 3.13
    assert total.concentrate == pytest.approx(1.1 * 0.208 * MIX.foam_mass / 41.0)
    assert total.dilution_water == pytest.approx(40.0 * total.concentrate)


def test_bags_are_counted_over_the_whole_run_without_one_for_rounding() -> None:
    thirds = batches(2.0 * BAG, MIX, drum(BAG / 3.0), FOAM, "equal")
    assert len(thirds) == 6
    assert totals(thirds).bags == 2


def test_seconds_are_not_made_up() -> None:
    assert batches(0.01, MIX, drum(0.060), replace(FOAM, output=None))[0].foam_seconds is None


@pytest.mark.parametrize(
    ("overfill", "loss", "factor"), [(0.0, 0.0, 1.0), (0.05, 0.0, 1.05), (0.05, 0.05, 1.05 / 0.95)]
)
def test_what_must_leave_the_mixer(overfill: float, loss: float, factor: float) -> None:
    assert order_volume(0.1, overfill, loss) == pytest.approx(0.1 * factor, rel=1e-12)
    assert order_volume(0.1, overfill, loss) * (1.0 - loss) == pytest.approx(
        0.1 * (1.0 + overfill), rel=1e-12
    )


@pytest.mark.parametrize(("overfill", "loss"), [(-0.1, 0.0), (0.0, 1.0), (0.0, -0.1), (float("nan"), 0.0)])
def test_losses_that_cannot_be_are_refused(overfill: float, loss: float) -> None:
    with pytest.raises(RangeError):
        order_volume(0.1, overfill, loss)


@pytest.mark.parametrize(
    ("volume", "mixer", "split", "said"),
    [
        (0.0, drum(0.060), "equal", "volume of mix"),
        (0.1, drum(0.060, 0.060), "equal", "residue"),
        (0.1, drum(0.060, 0.0, 0.070), "equal", "least batch"),
        (0.1, replace(drum(0.060), rated=0.050), "equal", "usable volume"),
        (0.1, drum(0.0), "equal", "usable volume"),
        (100.0, drum(0.060), "equal", "is a unit wrong"),
        (0.1, drum(0.060), "whole bags", "one bag makes"),
        (0.1, drum(1.5 * BAG, 0.0, 1.2 * BAG), "whole bags", "whole number of bags"),
    ],
)
def test_what_a_mixer_cannot_do_is_refused(volume: float, mixer: Mixer, split: Split, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        batches(volume, MIX, mixer, FOAM, split)


@pytest.mark.parametrize("broken", [float("nan"), float("inf"), -1.0])
@pytest.mark.parametrize("field", ["usable", "residue", "least"])
def test_a_mixer_without_sound_numbers_is_refused(field: str, broken: float) -> None:
    with pytest.raises(RangeError, match="mixer drum"):
        batches(0.1, MIX, replace(drum(0.060), **{field: broken}), FOAM)


@pytest.mark.parametrize("volume", [float("nan"), float("inf"), -1.0])
def test_a_volume_without_sound_number_is_refused(volume: float) -> None:
    with pytest.raises(RangeError, match="volume of mix"):
        batches(volume, MIX, drum(0.060), FOAM)
