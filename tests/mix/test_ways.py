"""What a mixer handles of a mix, and the ways to cut a pour into batches."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import batch_sizes
from formwork.mix.cellular import design
from formwork.mix.mixers import handled
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer
from formwork.mix.ways import settled, ways

CEMENT = Cement("portland", 3.15, 25.0)
FOAM = Foam(50.0, 1.0, 40.0)
MIX = design(CellularWanted(600.0, None, 0.5), CEMENT, FOAM)
DRUM = Mixer("drum", "tilting drum", 0.2, "whole drum", 0.1, 0.0)


def test_slurry_that_paddles_reach_sets_the_least_batch() -> None:
    """25 kg of cement make 20.437 L of slurry and 66.324 L of mix (worked on paper): so 10 L of slurry are 32.45 L of it."""
    least, most = handled(replace(DRUM, least_slurry=0.010), MIX)
    assert (least * 1000.0, most) == (pytest.approx(10.0 * 66.324 / 20.437, rel=1e-4), 0.1)
    assert batch_sizes(0.005, MIX, replace(DRUM, least_slurry=0.010), "equal") == [least]


def test_a_second_tub_holds_the_finished_mix_and_the_mixer_its_slurry() -> None:
    """A mixer that turns out 30 L of slurry: 97.36 L of mix; the tub, 150 L, is not full; one of 80 L would be."""
    small = replace(DRUM, usable=0.030)
    assert handled(replace(small, tub=0.15), MIX)[1] * 1000.0 == pytest.approx(
        30.0 * 66.324 / 20.437, rel=1e-4
    )
    assert handled(replace(small, tub=0.08), MIX)[1] == 0.08
    assert handled(small, MIX)[1] == 0.030


def test_a_batch_that_is_tipped_by_hand_weighs_no_more_than_is_said() -> None:
    least, most = handled(replace(DRUM, heaviest=30.0), MIX)
    assert (least, most * 600.0) == (0.0, pytest.approx(30.0))
    assert all(
        size * 600.0 <= 30.0 + 1e-9 for size in batch_sizes(0.3, MIX, replace(DRUM, heaviest=30.0), "equal")
    )


@pytest.mark.parametrize(
    ("mixer", "words"),
    [
        (replace(DRUM, least_slurry=0.2), "as the least slurry"),
        (replace(DRUM, least_slurry=0.05), "its paddles reach no less than 50 L"),
        (replace(DRUM, least=0.09, heaviest=30.0), "a batch weighs no more than 30 kg"),
        (replace(DRUM, residue=0.06, heaviest=30.0), "that stay in it"),
        (replace(DRUM, tub=-1.0), "second tub"),
        (replace(DRUM, tub=float("nan")), "second tub"),
        (replace(DRUM, heaviest=-1.0), "heaviest"),
        (replace(DRUM, tub=0.05, residue=0.06), "residue"),
    ],
)
def test_mixers_that_cannot_make_this_mix_are_refused(mixer: Mixer, words: str) -> None:
    with pytest.raises(RangeError, match=words):
        handled(mixer, MIX)


def test_half_bags_and_whole_bags_with_a_weighed_rest() -> None:
    """A bag makes 66.324 L, half of one 33.162 L (no residue): 200 L are three bags and 1.03 L, or seven half bags."""
    bag = 25.0 / MIX.cement
    assert bag * 1000.0 == pytest.approx(66.324, abs=5e-4)
    halves = batch_sizes(0.2, MIX, DRUM, "half bags")
    assert [round(2 * size / bag, 9) for size in halves] == [3.0, 3.0, 1.0]
    rest = batch_sizes(0.2, MIX, DRUM, "bags and a rest")
    assert rest == pytest.approx([bag, bag, bag, 0.2 - 3 * bag])


def test_the_best_way_is_taken_where_it_is_asked_for() -> None:
    """Two bags' worth in a mixer of one bag: whole bags leave as little as equal batches, and nothing is weighed."""
    bag = 1.0 / MIX.bags
    one_bag = replace(DRUM, usable=1.2 * bag)
    found = ways(2.0 * bag, MIX, one_bag, "best")
    assert (found[0].split, found[0].chosen, found[0].leftover) == (
        "whole bags",
        True,
        pytest.approx(0.0, abs=1e-12),
    )
    assert settled("best", found) == "whole bags" and settled("full", found) == "full"
    assert settled("best", ways(1.5 * bag, MIX, one_bag, "best")) == "equal"
    assert settled("best", ()) == "equal"


@settings(max_examples=150, deadline=None)
@given(
    volume=st.floats(0.02, 2.0), usable=st.floats(0.07, 0.2), residue=st.floats(0.0, 0.005),
    least=st.floats(0.0, 0.05), chosen=st.sampled_from(["equal", "whole bags", "full", "bags and a rest"]),
)  # fmt: skip
def test_every_way_gives_enough_and_the_best_leaves_least(volume, usable, residue, least, chosen) -> None:
    mixer = replace(DRUM, usable=usable, residue=residue, least=least)
    found = ways(volume, MIX, mixer, chosen)
    assert [way.best for way in found] == [True, *[False] * (len(found) - 1)]
    assert len({tuple(way.sizes) for way in found}) == len(found)
    if "bags" not in chosen or usable * MIX.cement >= 25.0:
        assert sum(way.chosen for way in found) <= 1
    for way in found:
        out = sum(count * (size - residue) for count, size in way.sizes)
        assert out - volume == pytest.approx(way.leftover, abs=1e-9)
        assert way.leftover >= found[0].leftover - 1e-5 * volume
        assert all(least - 1e-12 <= size <= usable * (1 + 1e-9) for _, size in way.sizes)
        assert way.bags == pytest.approx([size * MIX.cement / 25.0 for _, size in way.sizes], abs=1e-8)
