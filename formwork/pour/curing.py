"""When to strip, how long to keep covered, and what heat, cold and wind ask for.

The times of ordinary concrete do not hold for cellular concrete, whose surfactant slows setting; each has its own here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from formwork.errors import RangeError
from formwork.pour.maturity import FREEZING, Interval, equivalent_hours, rate
from formwork.record import record
from formwork.units import show
from formwork.units.show import UnitSystem

STRIP = 24.0
"""Least age of cellular concrete at stripping, equivalent hours at 20 C and by the clock (common practice: 24 to 48 h,
longer below 15 C)."""
STRIP_WITH_CARE = 48.0
"""The same for light mixes, thin walls, and what is lifted at once."""
STRIP_ORDINARY = 12.0
"""Wall forms of ordinary concrete: hours at 10 C or more, added up (ACI 347R-94, as quoted in a trade magazine)."""
WARM = FREEZING + 10.0
"""K. Colder hours do not count for curing (UFGS 03300N: keep at 10 C or more)."""
COVERED = 7.0 * 24.0
"""Hours under cover, at 10 C or more (ACI 308, from memory; 7 days damp in a general masonry handbook)."""
PROTECT_BELOW = FREEZING + 4.0
"""K. Colder air asks for protection (UFGS 03300N, 40 F)."""
NO_POUR_BELOW = FREEZING + 5.0
"""K. Below it nothing is poured without heating (common practice)."""
HOTTEST = FREEZING + 35.0
"""K. Hottest concrete at discharge (ACI 301-20 and 305.1-14, 95 F, as quoted)."""
FROST_DAYS = 3.0
"""Days that concrete is kept from freezing at least (ACI 306.1-90, 3.4.4, as quoted by ACI)."""
COOLING_HOUR, COOLING_DAY = 3.0, 10.0
"""Fastest cooling at the end of protection, C in an hour and in a day (UFGS 03300N)."""

_FAR = 24.0 * 120.0
"""Hours after which what is not reached is not going to be."""


@record
class Schedule:
    """When things may be done, in hours from the pour; None where it is never warm enough.

    Attributes:
        strip: earliest, sturdy pieces.
        strip_with_care: light mixes, thin walls, pieces lifted at once; for ordinary concrete the same as ``strip``.
        uncover: end of curing under cover.
        recorded: hours that the temperatures are known for.
        equivalent: equivalent hours at 20 C so far.
    """

    strip: float | None
    strip_with_care: float | None
    uncover: float | None
    recorded: float
    equivalent: float


def schedule(intervals: Sequence[Interval], *, ordinary: bool = False) -> Schedule:
    """When to strip and uncover, the last day's temperatures going on after the record's end.

    Source: the times named at the top of this file; their scaling by temperature is the maturity of ASTM C1074, an
    estimate until it is tried on the person's own mix.
    Valid: at least one interval, in the order of time from the pour.

    Args:
        intervals: from the pour on.
        ordinary: ordinary concrete, not cellular.

    Raises:
        RangeError: outside the limits.

    >>> schedule([Interval(1.0, 293.15)]).strip_with_care
    48.0
    """
    recorded = sum(each.hours for each in intervals)
    if not recorded > 0.0:
        raise RangeError("temperatures: got none, want at least one hour of them")
    if ordinary:
        strip = care = _reach(intervals, _warm, STRIP_ORDINARY)
    else:
        strip = _at_least(_reach(intervals, rate, STRIP), STRIP)
        care = _at_least(_reach(intervals, rate, STRIP_WITH_CARE), STRIP)
    uncover = _reach(intervals, _warm, COVERED)
    return Schedule(strip, care, uncover, recorded, equivalent_hours(intervals))


def frost(intervals: Sequence[Interval]) -> float | None:
    """Hours from the pour to the first frost within the days that concrete must be kept from it; None without one.

    Source: ACI 306.1-90, 3.4.4, as quoted by ACI.

    Args:
        intervals: from the pour on.
    """
    passed = 0.0
    for each in intervals:
        if passed < FROST_DAYS * 24.0 and each.temperature <= FREEZING:
            return passed
        passed += each.hours
    return None


def fastest_cooling(intervals: Sequence[Interval]) -> tuple[float, float]:
    """Greatest fall of temperature within an hour and within a day, C.

    Source: definition; within a span the temperatures at the middles of its intervals are compared.

    Args:
        intervals: from the pour on.
    """
    middles: list[tuple[float, float]] = []
    passed = 0.0
    for each in intervals:
        middles.append((passed + each.hours / 2.0, each.temperature))
        passed += each.hours
    return _greatest_fall(middles, 1.0), _greatest_fall(middles, 24.0)


def heat_and_cold(air: float, concrete: float, units: UnitSystem) -> tuple[str, ...]:
    """What the temperatures of air and concrete ask for; empty where they ask for nothing.

    Source: the limits named at the top of this file.

    Args:
        air: K.
        concrete: K.
        units: of the person.
    """
    said = []
    if concrete > HOTTEST:
        said.append(
            f"Concrete of {_shown(concrete, units)} is hotter than {_shown(HOTTEST, units)} (ACI 305.1-14, as quoted): "
            "cool water, shaded materials, or the cool of the morning."
        )
    if air < NO_POUR_BELOW:
        said.append(
            f"Air of {_shown(air, units)}: nothing is poured below {_shown(NO_POUR_BELOW, units)} without heating "
            "(common practice); bring materials to 15 to 25 C (60 to 77 F) first."
        )
    if air < PROTECT_BELOW:
        said.append(
            f"Below {_shown(PROTECT_BELOW, units)} it is protected: blankets, a heated tent; keep the concrete at "
            f"{_shown(WARM, units)} or more while it cures (UFGS 03300N), and from freezing for 3 days at least (ACI "
            "306.1-90)."
        )
        said.append(
            "Take protection off slowly: no more than 3 C (5 F) of cooling an hour, 10 C (18 F) a day (UFGS 03300N)."
        )
    return tuple(said)


def _shown(temperature: float, units: UnitSystem) -> str:
    return show.temperature(temperature, units)


def _warm(temperature: float) -> float:
    """An hour at 10 C and more counts whole, a colder one not at all."""
    return 1.0 if temperature >= WARM - 1e-9 else 0.0


def _at_least(hours: float | None, least: float) -> float | None:
    return None if hours is None else max(hours, least)


def _reach(intervals: Sequence[Interval], worth: Callable[[float], float], goal: float) -> float | None:
    """Hours from the pour until the hours, each by its worth, add up to a goal; the last day goes on as it was."""
    passed = counted = 0.0
    for each in intervals:
        gained = worth(each.temperature) * each.hours
        if counted + gained >= goal * (1.0 - 1e-12):
            return passed + (goal - counted) / worth(each.temperature)
        passed, counted = passed + each.hours, counted + gained
    pace = _pace_of_last_day(intervals, worth)
    left = (goal - counted) / pace if pace > 0.0 else _FAR
    return passed + left if left < _FAR else None


def _pace_of_last_day(intervals: Sequence[Interval], worth: Callable[[float], float]) -> float:
    """Worth of an hour, on the average of the last day recorded."""
    hours = gained = 0.0
    for each in reversed(intervals):
        part = min(each.hours, 24.0 - hours)
        hours, gained = hours + part, gained + part * worth(each.temperature)
        if hours >= 24.0:
            break
    return gained / hours


def _greatest_fall(points: Sequence[tuple[float, float]], span: float) -> float:
    """Greatest fall between two points no further apart than a span."""
    worst, window = 0.0, [points[0]] if points else []
    for time, temperature in points[1:]:
        window = [(t, high) for t, high in window if time - t <= span + 1e-9 and high > temperature]
        if window:
            worst = max(worst, window[0][1] - temperature)
        window.append((time, temperature))
    return worst
