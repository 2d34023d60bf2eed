"""The calendar: against a clock that ticks through the job by the minute, and worked on paper."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.calendar import calendar
from formwork.mix.part_filled import PartFilled, part_filled
from formwork.mix.pour_records import MoldFill, PieceToPour, Pour, Times, Timing

HOUR = 3600.0


def pour(number: int, minutes: float, pieces: int = 1) -> Pour:
    took = Timing(60.0, 0.0, True, 60.0 * minutes, 0.0, MoldFill("slab", 1, 1, 0.0, 0.0), in_time=True)
    return Pour(number, (("slab", pieces),), 0.1, (), timing=took)


def days_by_the_minute(minutes: list[int], strip: int, turn: int, hours: int) -> list[tuple[int, int]]:
    """Day of each pour and of its stripping, minute by minute: nobody works outside the first minutes of a day.

    A pour is begun when the molds are ready and it ends within the day, or else as the first work of a day.
    """
    found: list[tuple[int, int]] = []
    now = 0
    for takes in minutes:
        while now % 1440 and now % 1440 + takes > hours:
            now += 1
        began = now
        now += takes + strip
        while now % 1440 > hours:
            now += 1
        found.append((began // 1440 + 1, now // 1440 + 1))
        left = turn
        while left:
            now += 1
            left -= 0 < (now % 1440 or 1440) <= hours
    return found


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.integers(5, 400), min_size=1, max_size=6),
    st.integers(600, 4000),
    st.integers(0, 900),
    st.integers(60, 1440),
)
def test_days_are_those_of_a_clock(minutes, strip, turn, hours):
    times = Times(strip=60.0 * strip, turn_round=60.0 * turn, day=60.0 * hours, cover=0.0)
    found = calendar([pour(n, takes) for n, takes in enumerate(minutes, start=1)], times)
    assert found is not None
    assert [(row.day, row.strip) for row in found.pours] == days_by_the_minute(minutes, strip, turn, hours)
    assert found.cast == found.done == found.pours[-1].strip


def test_a_job_on_paper():
    """Pours of 1 h, 48 h to strip, 2 h to turn round, 8 h a day, 7 days of film.

    Pour 1 at hour 0 of day 1, off at hour 1 of day 3, ready at hour 3: pour 2 then, off at hour 4 of day 5, ready at
    6: pour 3 then, off at hour 7 of day 7; the turn-round takes its last hour and one of day 8: pour 4 on day 8.
    """
    found = calendar([pour(n, 60, pieces=2) for n in range(1, 5)], Times())
    assert found is not None
    assert [row.day for row in found.pours] == [1, 3, 5, 8]
    assert [row.strip for row in found.pours] == [3, 5, 7, 10]
    assert [row.uncovered for row in found.pours] == [8, 10, 12, 15]
    assert (found.cast, found.done) == (10, 15)
    assert (
        found.curing == 6
    )  # on day 7 those of pours 1, 2 and 3; those of pour 1 are free when pour 4 is stripped


def test_pieces_under_film_take_their_floor():
    """Slabs of 0.25 m2 each, of one kind: the floor is that of the pieces that lie there."""
    times = Times(strip=86_400.0, turn_round=0.0, cover=604_800.0)
    days = calendar([pour(number, 10.0, pieces=2) for number in range(1, 21)], times, {"slab": 0.25})
    assert days is not None and days.floor == pytest.approx(0.25 * days.curing)
    assert calendar([pour(1, 10.0)], times).floor == 0.0


def test_a_pour_longer_than_a_day_is_said_and_begun_in_the_morning():
    found = calendar([pour(1, 30), pour(2, 600)], replace(Times(), strip=24 * HOUR))
    assert found is not None
    assert [(row.day, row.overruns) for row in found.pours] == [(1, False), (3, True)]


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 12), st.floats(6.0, 100.0), st.floats(0.0, 60.0))
def test_longer_hardening_never_ends_sooner(number, strip, more):
    pours = [pour(n, 45) for n in range(1, number + 1)]
    days = [calendar(pours, replace(Times(), strip=HOUR * hours)) for hours in (strip, strip + more)]
    assert days[0] is not None and days[1] is not None
    assert days[0].cast <= days[1].cast and days[0].done <= days[1].done


def test_the_default_is_that_of_cellular_concrete():
    """24 to 48 hours, common practice without a source; wall forms of ordinary concrete are off after 12 hours."""
    assert 24 * HOUR <= Times().strip <= 48 * HOUR


def test_nothing_poured_has_no_days_and_what_cannot_be_is_refused():
    assert calendar([], Times()) is None
    with pytest.raises(RangeError, match="working day: got 0 h"):
        calendar([pour(1, 60)], replace(Times(), day=0.0))
    with pytest.raises(RangeError, match="time of cover: got -1"):
        calendar([pour(1, 60)], replace(Times(), cover=-1.0))
    with pytest.raises(RangeError, match="pour 1: got no time"):
        calendar([replace(pour(1, 60), timing=None)], Times())


def test_the_last_gang_is_blanked_and_molds_without_pieces_stand_idle():
    """Thirty blocks in three gangs of eight: pour 1 casts 24, pour 2 six in one mold, two gangs idle."""
    order = PieceToPour("block", 30, 3, 8, 0.01)
    pours = [Pour(1, (("block", 24),), 0.24, ()), Pour(2, (("block", 6),), 0.06, ())]
    assert part_filled(pours, [order]) == (PartFilled(2, "block", 6, 8, 2),)


@settings(max_examples=80, deadline=None)
@given(st.integers(1, 100), st.integers(1, 6), st.integers(1, 12))
def test_cavities_filled_and_blank_and_idle_are_all_there_are(count, molds, cavities):
    poured = min(count, molds * cavities)
    found = part_filled(
        [Pour(1, (("block", poured),), 1.0, ())], [PieceToPour("block", count, molds, cavities, 0.1)]
    )
    if not found:
        assert poured == molds * cavities
    for one in found:
        assert (molds - one.idle - 1) * cavities + one.filled == poured
        assert 1 <= one.filled <= cavities and 0 <= one.idle < molds
