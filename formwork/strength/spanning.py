"""How far a sheet may span and what it may carry: the panel formulas turned round.

Source: Peurifoy & Oberlender, Formwork for Concrete Structures, 4th ed., p. 117-121, 231, 326 (APA).
"""

from __future__ import annotations

from dataclasses import replace
from math import exp, inf, log, sqrt

from formwork.record import record
from formwork.strength.panels import Bay, PanelSection, sag
from formwork.strength.spans import DeflectionLimit, clear_span, coefficients
from formwork.strength.valid import positive

_NEAR = 0.4
_SAME = 1e-12
_MOST_STEPS = 100


@record
class Limits:
    """What each limit allows: spans in m between centres of supports, or pressures in Pa.

    Infinite where nothing is known to limit it.

    Attributes:
        bending: by bending stress.
        shear: by rolling shear.
        deflection: by deflection.
    """

    bending: float
    shear: float
    deflection: float

    @property
    def least(self) -> float:
        """The limit that governs."""
        return min(self.bending, self.shear, self.deflection)


def max_span(
    section: PanelSection, pressure: float, spans: int, limit: DeflectionLimit, support: float
) -> Limits:
    """Greatest span between centres of supports at a pressure.

    Args:
        section: the sheet in the direction it spans.
        pressure: Pa.
        spans: number of equal spans.
        limit: of the deflection.
        support: width of one support along the span, m.

    Returns:
        Spans, m, by each limit.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: pressure above 0; as :func:`formwork.strength.panels.bending`.
    """
    positive("pressure", pressure, "Pa")
    k = coefficients(spans)
    bend = sqrt(k.moment * section.fb * section.ks / pressure)
    slide = inf if section.fs is None else section.fs * section.ib_q / (k.shear * pressure) + support
    if section.e is None:
        return Limits(bend, slide, inf)
    bay = Bay(pressure, 1.0, spans, support)
    return Limits(bend, slide, _deflecting_span(section, bay, limit))


def _deflecting_span(section: PanelSection, bay: Bay, limit: DeflectionLimit) -> float:
    """The span at which the sag reaches its limit.

    The sag over its limit grows nearly as a power of the span, so that in logarithms a straight line between one span
    that sags too little and one that sags too much soon meets it (false position; an end that stays twice counts half).
    """

    def excess(span: float) -> float:
        return log(sag(section, replace(bay, span=span)) / limit.at(span))

    low = bay.support + 1e-3
    high = max(_NEAR, 2.0 * low)
    below, above = excess(low), excess(high)
    while above <= 0.0:
        low, below, high = high, above, 2.0 * high
        above = excess(high)
    if below > 0.0:
        return low
    kept = 0
    for _ in range(_MOST_STEPS):
        middle = low * exp(log(high / low) * below / (below - above))
        found = excess(middle)
        if abs(found) < _SAME or not low < middle < high:
            return middle if found <= 0.0 else middle * (1.0 - _SAME)
        if found < 0.0:
            low, below, above, kept = middle, found, above / (2.0 if kept > 0 else 1.0), 1
        else:
            high, above, below, kept = middle, found, below / (2.0 if kept < 0 else 1.0), -1
    return low


def max_pressure(
    section: PanelSection, span: float, spans: int, limit: DeflectionLimit, support: float
) -> Limits:
    """Greatest uniform pressure at a span.

    Args:
        section: the sheet in the direction it spans.
        span: between centres of supports, m.
        spans: number of equal spans.
        limit: of the deflection.
        support: width of one support along the span, m.

    Returns:
        Pressures, Pa, by each limit.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`formwork.strength.panels.bending`.
    """
    k, l2 = coefficients(spans), clear_span(span, support)
    bend = k.moment * section.fb * section.ks / span**2
    slide = inf if section.fs is None else section.fs * section.ib_q / (k.shear * l2)
    if section.e is None:
        return Limits(bend, slide, inf)
    return Limits(bend, slide, limit.at(span) / sag(section, Bay(1.0, span, spans, support)))
