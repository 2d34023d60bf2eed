"""The calendar of a job: on which day each pour is made, its molds come off, and its pieces come from under cover.

Days are counted from the day of the first pour, day 1; every day is a working day. Work is done in the shop's hours,
one thing after another: a pour, hours for it to harden, then the molds off, cleaned, oiled and set up for the next
pour. A pour that would not end within the day is begun the next morning, and so is a lift of one; the next lift goes on
when the shop's time for that has passed.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from formwork.errors import RangeError
from formwork.mix.pour_records import Pour, Times
from formwork.record import record

DAY = 86_400.0
"""Seconds in a day."""

_SLACK = 1e-6
"""Seconds by which a day's work may run over, against rounding."""


@record
class PourDay:
    """One pour in the calendar; days are counted from 1.

    Attributes:
        number: of the pour.
        day: on which it is made.
        strip: day on which its molds come off.
        uncovered: day on which its pieces come from under their cover.
        overruns: the pour, or a lift of it, takes longer than a day's work.
        lifts: days on which its lifts are placed; none where all is placed in one go.
    """

    number: int
    day: int
    strip: int
    uncovered: int
    overruns: bool = False
    lifts: tuple[int, ...] = ()


@record
class Calendar:
    """The whole job.

    Attributes:
        pours: each pour, in order.
        cast: day on which the last molds come off.
        done: day on which the last pieces come from under cover.
        curing: the most pieces that are out of their molds and still under cover at once.
        floor: the most floor that such pieces take at once, set down as cast with nothing between them, m2; 0 where no
            piece's is known.
    """

    pours: tuple[PourDay, ...]
    cast: int
    done: int
    curing: int
    floor: float = 0.0


def calendar(
    pours: Sequence[Pour], times: Times, floors: Mapping[str, float] = MappingProxyType({})
) -> Calendar | None:
    """The days of every pour; None where nothing is poured.

    Source: the shop's own times, one after another. The time until molds come off is that of cellular concrete in a
    small shop, 24 to 48 hours (common practice), not one of the stripping times of ordinary concrete.
    Valid: a working day above 0 and not above 24 hours, other times of 0 and more.

    Args:
        pours: in their order, each with its timing.
        times: of the shop.
        floors: what one piece takes of the floor, m2, by its name.

    Raises:
        RangeError: outside the limits, or for a pour without its timing.
    """
    _refuse(pours, times)
    free, rows, off, areas = 0.0, [], [], []
    for pour in pours:
        spells = _spells(pour)
        starts, end = _placed(free, spells, times)
        strip = _working(end + times.strip, times.day)
        uncovered = max(end + times.cover, strip)
        free = _worked(strip, times.turn_round, times.day)
        rows.append(
            PourDay(
                number=pour.number,
                day=_day(starts[0]),
                strip=_day(strip),
                uncovered=_day(uncovered),
                overruns=max(spells) > times.day + _SLACK,
                lifts=tuple(_day(start) for start in starts) if pour.lifts else (),
            )
        )
        off.append((strip, uncovered, sum(count for _, count in pour.pieces)))
        areas.append((strip, uncovered, sum(count * floors.get(name, 0.0) for name, count in pour.pieces)))
    if not rows:
        return None
    most = _most_at_once(off)
    return Calendar(tuple(rows), rows[-1].strip, rows[-1].uncovered, round(most), _most_at_once(areas))


def _spells(pour: Pour) -> list[float]:
    """Time that each lift of a pour takes, s; of a pour in one go that alone."""
    each = [lift.timing for lift in pour.lifts] or [pour.timing]
    return [took.total if took else 0.0 for took in each]


def _placed(free: float, spells: Sequence[float], times: Times) -> tuple[list[float], float]:
    """When each lift is begun, the next one not before the one below has set, and when the last is placed, s."""
    starts: list[float] = []
    for takes in spells:
        starts.append(_morning_or_now(free, takes, times.day))
        end = starts[-1] + takes
        free = end + times.next_lift
    return starts, end


def _day(time: float) -> int:
    return int((time + _SLACK) // DAY) + 1


def _working(time: float, hours: float) -> float:
    """The next moment of work from a time on: that time itself, or the next morning."""
    days, since = divmod(time, DAY)
    return time if since <= hours + _SLACK else (days + 1.0) * DAY


def _morning_or_now(time: float, takes: float, hours: float) -> float:
    """When work that should end within the day begins, from a time on."""
    time = _working(time, hours)
    days, since = divmod(time, DAY)
    return time if since <= _SLACK or since + takes <= hours + _SLACK else (days + 1.0) * DAY


def _worked(time: float, takes: float, hours: float) -> float:
    """When work begun at a time is done, laid down in the evening and taken up in the morning."""
    days, since = divmod(time, DAY)
    left = max(hours - since, 0.0)
    if takes <= left + _SLACK:
        return time + takes
    more, rest = divmod(takes - left, hours)
    return (days + 1.0 + more) * DAY + rest


def _most_at_once(rows: Sequence[tuple[float, float, float]]) -> float:
    """The most between mold and end of cover, of pieces or of floor; rows in the order of both."""
    lying: deque[tuple[float, float]] = deque()
    now = most = 0.0
    for strip, uncovered, pieces in rows:
        while lying and lying[0][0] <= strip:
            now -= lying.popleft()[1]
        if uncovered > strip:
            lying.append((uncovered, pieces))
            now += pieces
        most = max(most, now)
    return most


def _refuse(pours: Sequence[Pour], times: Times) -> None:
    if not 0.0 < times.day <= DAY:
        raise RangeError(f"working day: got {times.day / 3600.0:g} h, want more than 0 and not above 24 h")
    for said in ("strip", "turn_round", "cover", "next_lift"):
        if not 0.0 <= getattr(times, said) < float("inf"):
            raise RangeError(f"time of {said}: got {getattr(times, said):g} s, want 0 or more")
    for pour in pours:
        if pour.timing is None:
            raise RangeError(f"pour {pour.number}: got no time for it, want the shop's times")
