"""A strip or a stick over equal spans under uniform load: coefficients, spans, limits.

Source: Peurifoy & Oberlender, Formwork for Concrete Structures, 4th ed., p. 117-121 (three or more spans,
moment w l^2 / 10, shear 0.6 w l) and eq. 5-51 (deflection w l^4 / 1743 E I in psf and inches a foot wide, so
1/145.25; University of Florida construction lecture notes, week 6, print 1/145); one and two spans: beam
statics (w l^2 / 8; 0.5 and 0.625 w l; 5/384 and 1/185).
"""

from __future__ import annotations

from itertools import pairwise

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import INCH
from formwork.strength.valid import positive, within


@record
class Coefficients:
    """For a uniform load w a unit length and a span l.

    Attributes:
        moment: k of the greatest moment w l^2 / k.
        shear: k of the greatest shear k w l.
        bend: k of the greatest deflection w l^4 / (k E I).
    """

    moment: float
    shear: float
    bend: float


_BY_SPANS = {
    1: Coefficients(8.0, 0.5, 384.0 / 5.0),
    2: Coefficients(8.0, 0.625, 185.0),
    3: Coefficients(10.0, 0.6, 1743.0 / 12.0),
}


def coefficients(spans: int) -> Coefficients:
    """The coefficients of a number of equal spans; more than three count as three.

    Args:
        spans: number of spans the strip runs over without a joint.

    Raises:
        RangeError: fewer than one span.

    Valid: equal spans, uniform load, supports that do not give.

    >>> coefficients(1)
    Coefficients(moment=8.0, shear=0.5, bend=76.8)
    """
    if spans < 1:
        raise RangeError(f"spans: got {spans}, want 1 or more")
    return _BY_SPANS[min(spans, 3)]


@record
class DeflectionLimit:
    """How far a face may bulge.

    Attributes:
        fraction: of the span between centres of supports (1/360, 1/270).
        bulge: the greatest bulge accepted whatever the span, m; None for no such limit.
    """

    fraction: float = 1.0 / 360.0
    bulge: float | None = None

    def at(self, span: float) -> float:
        """The limit at a span.

        Args:
            span: between centres of supports, m.

        Returns:
            Greatest deflection accepted, m.

        >>> DeflectionLimit(1 / 360, 0.001).at(0.72)
        0.001
        """
        positive("deflection limit", self.fraction, "of the span")
        share = self.fraction * span
        return share if self.bulge is None else min(share, self.bulge)

    @property
    def words(self) -> str:
        """The limit as printed beside a value."""
        share = f"span/{1.0 / self.fraction:g}"
        return share if self.bulge is None else f"{share}, at most {self.bulge * 1e3:g} mm"


_REACH = ((0.0, 0.0), (1.5 * INCH, 0.25 * INCH), (3.5 * INCH, 0.625 * INCH))


def clear_span(span: float, support: float) -> float:
    """The clear span: between the faces of the supports (l2 of the panel formulas).

    Args:
        span: between centres of supports (l1), m.
        support: width of one support along the span, m.

    Returns:
        Clear span, m.

    Raises:
        RangeError: the supports touch.

    Source: APA concrete form design as given by Peurifoy & Oberlender p. 231, 326.

    >>> round(clear_span(12 * INCH, 1.5 * INCH) / INCH, 6)
    10.5
    """
    positive("span", span, "m")
    within("support", support, 0.0, span * (1.0 - 1e-9), "m")
    return span - support


def bending_span(span: float, support: float) -> float:
    """The span for bending deflection (l3): clear span and 1/4 in on 2-in nominal supports, 5/8 in on 4-in.

    Supports of other real widths are taken on the straight line between (none, 1.5 in, 3.5 in); wider ones as
    3.5 in.

    Args:
        span: between centres of supports (l1), m.
        support: width of one support along the span, m.

    Returns:
        Span l3, m; never more than ``span``.

    Raises:
        RangeError: the supports touch.

    Source: Peurifoy & Oberlender p. 231, 326; the line between the two is our own.

    >>> round(bending_span(12 * INCH, 1.5 * INCH) / INCH, 6)
    10.75
    >>> round(bending_span(12 * INCH, 3.5 * INCH) / INCH, 6)
    9.125
    """
    clear = clear_span(span, support)
    for (low, below), (high, above) in pairwise(_REACH):
        if support <= high:
            return clear + below + (above - below) * (support - low) / (high - low)
    return clear + _REACH[-1][1]
