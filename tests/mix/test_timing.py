"""Time of a pour: against a clock that runs through it, and worked on paper."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import batches, leftover
from formwork.mix.cellular import design
from formwork.mix.ordinary import design_ordinary
from formwork.mix.pour_records import PieceToPour, Times
from formwork.mix.pours import pours
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer, OrdinaryWanted
from formwork.mix.timing import timing

CEMENT = Cement("portland", 3.15, 25.0)
FOAM = Foam(50.0, 0.95, 40.0, output=0.0005)
MIX = design(CellularWanted(600.0, None, 0.5), CEMENT, FOAM)
MIXER = Mixer("drum", "tilting drum", 0.200, "whole drum", 0.062, 0.002)

seconds = st.floats(1.0, 1000.0)
any_times = st.builds(Times, seconds, seconds, seconds, seconds)
any_molds = st.lists(st.floats(0.001, 0.2), min_size=1, max_size=8)


def clock(volume, made, sizes, residue, times):
    """The longest wait of any mold, found by carrying every load to the molds with a clock running."""
    room = [volume * size / sum(sizes) for size in sizes]
    began: list[float | None] = [None] * len(room)
    waits = [0.0] * len(room)
    now, at = 0.0, 0
    for batch in made:
        now += times.mixing
        foam_began = now
        now += (batch.foam_seconds or 0.0) + times.blending + times.placing
        load = batch.volume - residue
        while load > 1e-7 * volume and at < len(room):
            put = min(load, room[at])
            began[at] = foam_began if began[at] is None else began[at]
            waits[at] = now - (began[at] or 0.0)
            load, room[at] = load - put, room[at] - put
            at += room[at] <= 1e-7 * volume
    return now, max(waits)


@settings(max_examples=150, deadline=None)
@given(st.floats(0.01, 0.9), any_molds, any_times)
def test_times_are_those_of_a_running_clock(volume, sizes, times):
    made = batches(volume, MIX, MIXER, FOAM)
    found = timing(volume, made, [(f"mold {n}", size) for n, size in enumerate(sizes)], MIXER.residue, times)
    total, wait = clock(volume, made, sizes, MIXER.residue, times)
    assert found is not None
    assert found.total == pytest.approx(total, rel=1e-9)
    assert found.slowest.seconds == pytest.approx(wait, rel=1e-9)
    assert found.in_time == (found.slowest.seconds <= times.workable)
    assert found.age <= found.slowest.ahead <= found.slowest.seconds <= found.total


def test_a_pour_on_paper():
    """Three loads of 60 L fill molds of 90, 45 and 45 L: the first takes loads 1 and 2, the others one each.

    A load: 4 min of slurry, foam at 0.5 L/s, 2 min of blending, 5 min of placing. The first mold is full after both
    loads' foam, blending and placing and the slurry of the second: 2 f + 14 min + 4 min; with that slurry mixed while
    the first load is placed, 2 f + 14 min.
    """
    made = batches(0.180, MIX, MIXER, FOAM)
    found = timing(0.180, made, [("wall", 0.090), ("step", 0.045), ("step", 0.045)], MIXER.residue, Times())
    foam = 62.0 * MIX.foam_volume / 0.5
    assert found is not None
    assert found.foaming == pytest.approx(foam, rel=1e-12)
    assert (found.slowest.name, found.slowest.first, found.slowest.last) == ("wall", 1, 2)
    assert found.slowest.seconds == pytest.approx(2.0 * foam + 18.0 * 60.0, rel=1e-12)
    assert found.slowest.ahead == pytest.approx(2.0 * foam + 14.0 * 60.0, rel=1e-12)
    assert found.total == pytest.approx(3.0 * (foam + 11.0 * 60.0), rel=1e-12)
    assert not found.in_time


def test_leftover_comes_after_the_last_mold():
    """A mold that the first load fills waits for no other, however much the loads leave over."""
    mixer = replace(MIXER, least=0.060)
    made = batches(0.063, MIX, mixer, FOAM)
    assert len(made) == 2 and leftover(0.063, made, mixer) > 0.05
    found = timing(0.063, made, [("slab", 0.050), ("tile", 0.013)], mixer.residue, Times())
    assert found is not None
    assert (found.slowest.name, found.slowest.first, found.slowest.last) == ("tile", 1, 2)
    alone = timing(0.058, made, [("slab", 0.058)], mixer.residue, Times())
    assert alone is not None and (alone.slowest.first, alone.slowest.last) == (1, 1)


def test_mix_without_foam_is_not_judged_by_it():
    mix = design_ordinary(OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0), CEMENT)
    found = timing(0.5, batches(0.5, mix, MIXER, FOAM), [("slab", 0.5)], MIXER.residue, Times())
    assert found is not None and found.in_time and found.foaming_known and found.foaming == 0.0


def test_output_that_was_not_measured_is_said():
    foam = replace(FOAM, output=None)
    found = timing(0.05, batches(0.05, MIX, MIXER, foam), [("slab", 0.05)], MIXER.residue, Times())
    assert found is not None and not found.foaming_known


def test_pours_carry_the_time_of_their_molds():
    """Seven blocks in gangs of four, 15 L each: a whole gang of 60 L and one of three, 45 L."""
    (pour,) = pours([PieceToPour("block", 7, 2, 4, 0.015)], MIX, MIXER, FOAM, times=Times())
    gangs = [("block", 0.060), ("block", 0.045)]
    assert pour.timing == timing(pour.volume, pour.batches, gangs, MIXER.residue, Times())
    (untimed,) = pours([PieceToPour("block", 7, 2, 4, 0.015)], MIX, MIXER, FOAM)
    assert untimed.timing is None


def test_nothing_takes_no_time_and_what_cannot_be_is_refused():
    assert timing(0.0, (), (), 0.0, Times()) is None
    with pytest.raises(RangeError, match="slab: got a volume of -1"):
        timing(0.1, (), [("slab", -1.0)], 0.0, Times())
    with pytest.raises(RangeError, match="time of placing: got -1"):
        timing(0.1, (), [("slab", 1.0)], 0.0, Times(placing=-1.0))


def test_a_mold_braced_for_rising_concrete_is_not_filled_faster():
    """2.4 m at 2 m an hour are 72 minutes; three batches, 4 min mixed and 5 min placed each, are in after 25."""
    load = replace(batches(0.05, MIX, MIXER, FOAM)[0], foam_volume=0.0, foam_seconds=None, volume=0.06)
    times = Times(mixing=240.0, blending=0.0, placing=300.0)
    molds = [("column", 0.17), ("step", 0.01)]
    took = timing(0.18, [load] * 3, molds, 0.0, times, {"column": 4320.0})
    assert took is not None
    (slow,) = took.slow
    placed = 3 * 300.0 + 2 * 240.0
    assert (slow.name, slow.batches, slow.least, slow.wait) == ("column", 3, 4320.0, 4320.0 - placed)
    assert took.total == 3 * (240.0 + 300.0) + slow.wait
    easy = timing(0.18, [load] * 3, molds, 0.0, times, {"column": 600.0})
    assert easy is not None and easy.slow[0].wait == 0.0 and easy.total == 3 * 540.0
    assert timing(0.18, [load] * 3, molds, 0.0, times).slow == ()  # type: ignore[union-attr]
