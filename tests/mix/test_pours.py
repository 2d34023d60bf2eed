"""Pours: pieces poured are pieces wanted, no mold is filled twice in one pour, and the mix is what they need."""

from __future__ import annotations

from collections import Counter
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import leftover
from formwork.mix.cellular import design
from formwork.mix.pour_records import PieceToPour
from formwork.mix.pours import pours, pours_needed
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer

FOAM = Foam(50.0, 0.95, 40.0)
MIX = design(CellularWanted(600.0, None, 0.5), Cement("portland", 3.15, 25.0), FOAM)
MIXER = Mixer("drum", "tilting drum", 0.200, "whole drum", 0.100, 0.002, 0.010)


def order(name: str) -> st.SearchStrategy[PieceToPour]:
    return st.builds(
        PieceToPour,
        st.just(name),
        st.integers(1, 40),
        st.integers(1, 4),
        st.integers(1, 6),
        st.floats(0.001, 0.05),
    )


orders = st.tuples(order("planter"), order("block"), order("slab"))


@settings(max_examples=60, deadline=None)
@given(orders, st.floats(0.0, 0.2), st.floats(0.0, 0.2))
def test_pieces_poured_are_pieces_wanted(
    wanted: tuple[PieceToPour, ...], overfill: float, loss: float
) -> None:
    made = pours(wanted, MIX, MIXER, FOAM, overfill=overfill, loss=loss)
    poured: Counter[str] = Counter()
    for pour in made:
        poured.update(dict(pour.pieces))
    assert poured == {one.name: one.count for one in wanted}
    assert [pour.number for pour in made] == list(range(1, len(made) + 1))
    assert len(made) == max(ceil(one.count / (one.molds * one.cavities)) for one in wanted)


@settings(max_examples=60, deadline=None)
@given(orders)
def test_no_pour_fills_more_than_the_molds_there_are(wanted: tuple[PieceToPour, ...]) -> None:
    gang = {one.name: one.molds * one.cavities for one in wanted}
    for pour in pours(wanted, MIX, MIXER, FOAM):
        assert pour.pieces
        assert all(0 < count <= gang[name] for name, count in pour.pieces)


@settings(max_examples=60, deadline=None)
@given(orders, st.floats(0.0, 0.2), st.floats(0.0, 0.2))
def test_the_mix_of_all_pours_is_what_the_pieces_need(
    wanted: tuple[PieceToPour, ...], overfill: float, loss: float
) -> None:
    made = pours(wanted, MIX, MIXER, FOAM, overfill=overfill, loss=loss)
    net = sum(one.count * one.volume for one in wanted)
    assert sum(pour.volume for pour in made) * (1.0 - loss) == pytest.approx(net * (1.0 + overfill), rel=1e-9)
    for pour in made:
        out = sum(batch.volume - MIXER.residue for batch in pour.batches)
        assert out == pytest.approx(pour.volume + pour.leftover, rel=1e-8)
        assert pour.leftover == leftover(pour.volume, pour.batches, MIXER)


@settings(max_examples=60, deadline=None)
@given(order("block"))
def test_more_molds_never_take_more_pours(one: PieceToPour) -> None:
    more = PieceToPour(one.name, one.count, one.molds + 1, one.cavities, one.volume)
    assert pours_needed(more) <= pours_needed(one)


def test_last_gang_is_part_filled() -> None:
    made = pours([PieceToPour("block", 30, 1, 12, 0.010)], MIX, MIXER, FOAM)
    assert [pour.pieces for pour in made] == [(("block", 12),), (("block", 12),), (("block", 6),)]
    assert [pour.volume for pour in made] == pytest.approx([0.120, 0.120, 0.060])


def test_a_kind_that_is_finished_is_poured_no_more() -> None:
    made = pours(
        [PieceToPour("planter", 2, 1, 1, 0.030), PieceToPour("slab", 3, 3, 1, 0.010)],
        MIX,
        MIXER,
        FOAM,
        overfill=0.1,
    )
    assert [pour.pieces for pour in made] == [(("planter", 1), ("slab", 3)), (("planter", 1),)]
    assert [pour.volume for pour in made] == pytest.approx([0.066, 0.033])


def test_nothing_to_pour_is_no_pour() -> None:
    assert pours([], MIX, MIXER, FOAM) == ()


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (PieceToPour("slab", 0, 1, 1, 0.01), "slab: got count 0"),
        (PieceToPour("slab", 1, 0, 1, 0.01), "slab: got molds 0"),
        (PieceToPour("slab", 1, 1, 0, 0.01), "slab: got cavities 0"),
        (PieceToPour("slab", 1, 1, 1, 0.0), "slab: got a volume"),
        (PieceToPour("slab", 1_000_000, 1, 1, 0.01), "more molds"),
    ],
)
def test_orders_that_cannot_be_are_refused(one: PieceToPour, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        pours([one], MIX, MIXER, FOAM)


def test_one_name_twice_is_refused() -> None:
    with pytest.raises(RangeError, match="twice"):
        pours([PieceToPour("slab", 1, 1, 1, 0.01)] * 2, MIX, MIXER, FOAM)
