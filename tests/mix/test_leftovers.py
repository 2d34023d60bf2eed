"""Leftover: nothing of it is lost, the preferred molds fill first, and no mold is filled in part."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.cellular import design
from formwork.mix.leftovers import put_away
from formwork.mix.pour_records import LeftoverMold, PieceToPour
from formwork.mix.pours import pours
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer

FOAM = Foam(50.0, 0.95, 40.0)
MIX = design(CellularWanted(600.0, None, 0.5), Cement("portland", 3.15, 25.0), FOAM)

volumes = st.floats(0.0003, 0.02)
shelves = st.lists(st.tuples(volumes, st.integers(1, 5)), max_size=4).map(
    lambda rows: tuple(LeftoverMold(f"mold {n}", *row) for n, row in enumerate(rows))
)


@settings(max_examples=200, deadline=None)
@given(st.floats(0.0, 0.1), shelves, st.floats(0.0, 0.2), st.floats(0.0, 0.3))
def test_what_the_molds_take_and_what_remains_is_the_leftover(leftover, shelf, overfill, loss):
    filled, remains = put_away(leftover, shelf, overfill=overfill, loss=loss)
    size = {mold.name: mold.volume * (1.0 + overfill) / (1.0 - loss) for mold in shelf}
    assert sum(count * size[name] for name, count in filled) + remains == pytest.approx(leftover, abs=1e-9)
    assert remains >= 0.0
    taken = dict(filled)
    for mold in shelf:
        left_empty = taken.get(mold.name, 0) < mold.count
        assert not left_empty or remains < size[mold.name]
        assert taken.get(mold.name, 0) <= mold.count


@settings(max_examples=100, deadline=None)
@given(st.floats(0.001, 0.1), shelves)
def test_a_mold_further_down_never_takes_from_one_above(leftover, shelf):
    whole = put_away(leftover, shelf)[0]
    for length in range(len(shelf)):
        names = {mold.name for mold in shelf[:length]}
        above = put_away(leftover, shelf[:length])[0]
        assert above == tuple(entry for entry in whole if entry[0] in names)


def test_a_leftover_on_paper():
    """7 L: two edgings of 2.5 L, 2 L left; a brick of 1.5 L, 0.5 L left; no peg of 0.6 L."""
    shelf = (LeftoverMold("edging", 0.0025, 3), LeftoverMold("brick", 0.0015, 2), LeftoverMold("peg", 0.0006))
    filled, remains = put_away(0.007, shelf)
    assert filled == (("edging", 2), ("brick", 1))
    assert remains == pytest.approx(0.0005, abs=1e-12)


def test_a_mold_that_is_just_filled_counts():
    """0.3 / 0.1 is 2.9999999999999996 in binary numbers."""
    assert put_away(0.3, (LeftoverMold("tile", 0.1, 5),)) == ((("tile", 3),), 0.0)


def test_the_least_batch_leaves_mix_that_a_pour_puts_away():
    """A slab of 4 L from a mixer that handles no less than 10 L, 1 L of it residue: 5 L are left over."""
    mixer = Mixer("drum", "tilting drum", 0.200, "whole drum", 0.100, 0.001, 0.010)
    (pour,) = pours(
        [PieceToPour("slab", 1, 1, 1, 0.004)],
        MIX,
        mixer,
        FOAM,
        leftover_molds=(LeftoverMold("brick", 0.002, 9),),
    )
    assert pour.leftover == pytest.approx(0.005, rel=1e-9)
    assert pour.put_away == (("brick", 2),)
    assert pour.remains == pytest.approx(0.001, rel=1e-9)


@pytest.mark.parametrize(
    ("leftover", "mold", "said"),
    [
        (-0.001, LeftoverMold("tile", 0.002), "leftover: got -0.001"),
        (0.001, LeftoverMold("tile", 0.0), "tile: got a volume of 0"),
        (0.001, LeftoverMold("tile", 0.001, 0), "tile: got a count of 0"),
    ],
)
def test_molds_that_cannot_be_are_refused(leftover, mold, said):
    with pytest.raises(RangeError, match=said):
        put_away(leftover, (mold,))
