"""Maturity: how far cement has come, from the temperatures it has been at.

Shown only as equivalent hours at 20 C: ASTM C1074 asks for a curve of strength against maturity of the person's own mix
before any strength is read from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp

from formwork.errors import RangeError
from formwork.record import record

FREEZING = 273.15
"""K. At and below it nothing is counted."""
REFERENCE = 293.15
"""20 C, in K."""
Q = 5000.0
"""Activation energy over the gas constant, K: suggested by ASTM C1074 where none was measured (from memory)."""

LONGEST = 24.0 * 366.0
"""Longest record in hours; more of them means that a unit slipped."""


@record
class Interval:
    """A time at one temperature.

    Attributes:
        hours: how long.
        temperature: K.
    """

    hours: float
    temperature: float


def nurse_saul(intervals: Sequence[Interval], datum: float = FREEZING) -> float:
    """Temperature-time factor, C h: M = sum (T - T_0)*dt, times below the datum counting nothing.

    Source: ASTM C1074. Valid: hours of 0 and more.

    Args:
        intervals: of time and temperature.
        datum: T_0, K. 0 C is recommended for Type I cement without admixtures, -10 C is traditional.

    Raises:
        RangeError: outside the limits.

    Published example: 12 h at 20 C and 12 h at 25 C.

    >>> nurse_saul([Interval(12.0, 293.15), Interval(12.0, 298.15)])
    540.0
    """
    _refuse(intervals)
    return sum(max(each.temperature - datum, 0.0) * each.hours for each in intervals)


def hours_for(maturity: float, temperature: float, datum: float = FREEZING) -> float:
    """Hours at one temperature that give a temperature-time factor.

    Source: ASTM C1074. Valid: a temperature above the datum.

    Args:
        maturity: C h.
        temperature: K.
        datum: T_0, K.

    Raises:
        RangeError: outside the limits.

    Published example: 3500 C h at 23 C.

    >>> round(hours_for(3500.0, 296.15))
    152
    """
    if not temperature > datum:
        raise RangeError(
            f"temperature: got {temperature - FREEZING:.1f} C, want more than {datum - FREEZING:.1f} C, below which "
            "nothing ripens"
        )
    return maturity / (temperature - datum)


def rate(temperature: float, reference: float = REFERENCE, q: float = Q) -> float:
    """Hours at the reference temperature that one hour at another is worth; 0 at freezing and below.

    exp(-Q*(1/T - 1/T_s)), Arrhenius. Source: ASTM C1074 (from memory). That frozen time counts nothing is common
    practice. Valid: above absolute zero.

    Args:
        temperature: K.
        reference: T_s, K.
        q: activation energy over the gas constant, K.

    >>> round(rate(283.15), 4), round(rate(303.15), 4)
    (0.5475, 1.7553)
    """
    return exp(-q * (1.0 / temperature - 1.0 / reference)) if temperature > FREEZING else 0.0


def equivalent_hours(intervals: Sequence[Interval], reference: float = REFERENCE, q: float = Q) -> float:
    """Equivalent age at the reference temperature, hours.

    Source and limits: ``rate``.

    Args:
        intervals: of time and temperature.
        reference: T_s, K.
        q: activation energy over the gas constant, K.

    Raises:
        RangeError: for hours below 0.

    >>> equivalent_hours([Interval(48.0, 293.15)])
    48.0
    """
    _refuse(intervals)
    return sum(each.hours * rate(each.temperature, reference, q) for each in intervals)


def _refuse(intervals: Sequence[Interval]) -> None:
    for each in intervals:
        if not 0.0 <= each.hours <= LONGEST:
            raise RangeError(f"time at a temperature: got {each.hours:g} h, want 0 to {LONGEST:g} h")
        if not 0.0 < each.temperature < 500.0:
            raise RangeError(f"temperature: got {each.temperature - FREEZING:g} C, want one of weather")
