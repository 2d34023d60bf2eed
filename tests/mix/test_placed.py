"""Pours in lifts: lifts add up to the pour, each is mixed by itself, and the days wait until the one below has set."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.batches import batches, leftover
from formwork.mix.calendar import calendar
from formwork.mix.cellular import design
from formwork.mix.pour_records import LeftoverMold, PieceLift, PieceToPour, Pour, Times
from formwork.mix.pours import pours
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer

HOUR = 3600.0
FOAM = Foam(50.0, 0.95, 40.0)
MIX = design(CellularWanted(600.0, None, 0.5), Cement("portland", 3.15, 25.0), FOAM)
MIXER = Mixer("drum", "tilting drum", 0.200, "whole drum", 0.100, 0.002, 0.010)
THIRDS = (PieceLift(0.2, 0.5), PieceLift(0.4, 0.3), PieceLift(0.6, 0.2))
HALVES = (PieceLift(0.4, 0.4), PieceLift(0.8, 0.6))
TUB = PieceToPour("tub", 4, 2, 1, 0.200, lifts=THIRDS)
POST = PieceToPour("post", 2, 1, 1, 0.080, lifts=HALVES)
SLAB = PieceToPour("slab", 2, 1, 1, 0.030)


@given(overfill=st.floats(0.0, 0.2), loss=st.floats(0.0, 0.2))
@settings(max_examples=30, deadline=None)
def test_lifts_add_up_to_the_pour_in_one_go(overfill: float, loss: float) -> None:
    wanted = (TUB, POST, SLAB)
    whole = tuple(replace(one, lifts=()) for one in wanted)
    parted, once = (pours(each, MIX, MIXER, FOAM, overfill=overfill, loss=loss) for each in (wanted, whole))
    assert [pour.pieces for pour in parted] == [pour.pieces for pour in once]
    for one, other in zip(parted, once, strict=True):
        assert one.volume == pytest.approx(other.volume)
        assert sum(lift.volume for lift in one.lifts) == pytest.approx(other.volume)
        assert other.lifts == ()
    assert [len(pour.lifts) for pour in parted] == [3, 3]


def test_what_each_lift_takes_by_hand() -> None:
    """Two tubs, one post and one slab of 30 L a pour; the slab is struck off with lift 1, post and tub with their last."""
    (first, _) = pours((TUB, POST, SLAB), MIX, MIXER, FOAM, overfill=0.1, loss=0.05)
    takes = (
        2 * 0.200 * 0.5 + 0.080 * 0.4 + 0.030 * 1.1,
        2 * 0.200 * 0.3 + 0.080 * 0.7,
        2 * 0.200 * 0.3,
    )
    assert [lift.volume for lift in first.lifts] == pytest.approx([each / 0.95 for each in takes])
    assert [dict(lift.tops) for lift in first.lifts] == [
        {"tub": 0.2, "post": 0.4},
        {"tub": 0.4, "post": 0.8},
        {"tub": 0.6},
    ]


def test_each_lift_is_mixed_by_itself() -> None:
    """Its batches are those that its volume alone would get, in their order."""
    for pour in pours((TUB, POST), MIX, MIXER, FOAM, overfill=0.03):
        at = 0
        for lift in pour.lifts:
            own = batches(lift.volume, MIX, MIXER, FOAM, "equal")
            assert (lift.first, lift.last) == (at + 1, at + len(own))
            assert pour.batches[at : lift.last] == own
            assert lift.leftover == pytest.approx(leftover(lift.volume, own, MIXER))
            at = lift.last
        assert at == len(pour.batches)
        assert pour.leftover == pytest.approx(sum(lift.leftover for lift in pour.lifts))


def test_leftover_molds_stay_full_while_lifts_set() -> None:
    """A mixer whose least batch is far more than a lift: two bricks there are, and two are filled in the whole pour."""
    small = PieceToPour("tub", 1, 1, 1, 0.006, lifts=THIRDS)
    bricks = LeftoverMold("brick", 0.002, 2)
    (pour,) = pours((small,), MIX, MIXER, FOAM, leftover_molds=(bricks,))
    assert pour.put_away == (("brick", 2),)
    assert [lift.put_away for lift in pour.lifts] == [(("brick", 2),), (), ()]
    assert pour.remains == pytest.approx(pour.leftover - 2 * 0.002)


def test_a_mold_fills_in_time_where_each_of_its_lifts_does() -> None:
    """Three batches in one go take longer than the mix stays workable; one batch a lift does not."""
    times = Times(workable=900.0)
    even = tuple(PieceLift(0.1 * k, 0.25) for k in range(1, 5))
    tub = PieceToPour("tub", 1, 1, 1, 0.330, lifts=even)
    (parted,) = pours((tub,), MIX, MIXER, FOAM, times=times)
    (once,) = pours((replace(tub, lifts=()),), MIX, MIXER, FOAM, times=times)
    assert once.timing is not None
    assert parted.timing is not None
    assert not once.timing.in_time
    assert parted.timing.in_time
    assert all(lift.first == lift.last for lift in parted.lifts)
    assert parted.timing.total == pytest.approx(
        sum(lift.timing.total for lift in parted.lifts if lift.timing)
    )
    assert [lift.timing.slowest.first for lift in parted.lifts if lift.timing] == [1, 2, 3, 4]


def timed(next_lift: float, day: float = 8 * HOUR) -> tuple[tuple[Pour, ...], Times]:
    times = Times(next_lift=next_lift, day=day, strip=48 * HOUR, turn_round=2 * HOUR, cover=0.0)
    return pours((TUB,), MIX, MIXER, FOAM, times=times), times


def test_the_next_lift_waits_for_its_time_and_for_the_morning() -> None:
    """12 h after a morning's lift is night: lifts on days 1, 2, 3, off after 48 h on day 5; the next pour that day."""
    made, times = timed(12 * HOUR)
    found = calendar(made, times)
    assert found is not None
    assert [row.lifts for row in found.pours] == [(1, 2, 3), (5, 6, 7)]
    assert [(row.day, row.strip) for row in found.pours] == [(1, 5), (5, 9)]


def test_lifts_that_set_soon_go_on_the_same_day() -> None:
    made, times = timed(1 * HOUR)
    found = calendar(made, times)
    assert found is not None
    assert found.pours[0].lifts == (1, 1, 1)


@given(waits=st.lists(st.floats(0.0, 60.0), min_size=2, max_size=6))
@settings(max_examples=30, deadline=None)
def test_a_longer_wait_never_ends_sooner(waits: list[float]) -> None:
    ends = []
    for wait in sorted(waits):
        found = calendar(*timed(wait * HOUR))
        assert found is not None
        ends.append(found.cast)
    assert ends == sorted(ends)


def test_a_pour_in_one_go_has_no_lift_days() -> None:
    times = Times()
    found = calendar(pours((SLAB,), MIX, MIXER, FOAM, times=times), times)
    assert found is not None
    assert all(row.lifts == () for row in found.pours)


def test_a_time_between_lifts_below_nothing_is_refused() -> None:
    made, times = timed(HOUR)
    with pytest.raises(RangeError, match="next_lift"):
        calendar(made, replace(times, next_lift=-1.0))


def test_a_lift_that_may_not_rise_fast_takes_its_share_of_the_time() -> None:
    """Three hours for a mold are an hour for each of its three lifts."""
    slow = replace(TUB, count=1, molds=1, least_time=3 * HOUR)
    (pour,) = pours((slow,), MIX, MIXER, FOAM, times=Times())
    assert pour.timing is not None
    assert [one.least for one in pour.timing.slow] == pytest.approx([HOUR, HOUR, HOUR])
