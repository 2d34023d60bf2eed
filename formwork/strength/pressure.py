"""What fresh concrete pushes with: the full liquid head.

Cellular and other flowing mixes, and every small mold that is filled in one go, load the form as a liquid of
their own density would: no coefficient, no allowance for setting. Mix placed before the mix below has set is
one head with it; only a lift that has set takes its height out of the head. The formula of ACI 347 for
ordinary vibrated concrete stands in :mod:`formwork.strength.aci347`.

Source: p = w h without coefficients for concrete of more than 7 in slump: M. K. Hurd, letter on ACI 347-04,
Concrete Construction (2006); full head where a form is filled within the initial set: NAVEDTRA 14045, p. 101.
No text was found that says so of cellular concrete by name; the rule follows from these two.
"""

from __future__ import annotations

from formwork.record import record
from formwork.strength.customary import GRAVITY
from formwork.strength.valid import not_negative, positive, within
from formwork.strength.working import Step, step

GREATEST_DENSITY = 6000.0
"""Densest mix the formulas are asked about, kg/m3: above any heavy-aggregate concrete."""


def liquid_head(density: float, depth: float) -> float:
    """Pressure of fresh mix at a depth: p = rho g h.

    Args:
        density: of the fresh mix, upper end of its tolerance, kg/m3.
        depth: below the top of the mix that has not set, m.

    Returns:
        Pressure, Pa.

    Raises:
        RangeError: outside the limits.

    Source: NAVEDTRA 14045 p. 101; University of Florida lecture notes, week 8 (10 ft column at 150 lb/ft3:
    1500 psf).
    Valid: density above 0 to 6000 kg/m3, depth 0 or more.

    >>> from formwork.strength.customary import FOOT, PCF, PSF
    >>> round(liquid_head(150 * PCF, 10 * FOOT) / PSF, 6)
    1500.0
    """
    positive("density", density, "kg/m3")
    within("density", density, 0.0, GREATEST_DENSITY, "kg/m3")
    not_negative("depth", depth, "m")
    return density * GRAVITY * depth


@record
class Lift:
    """The mix placed in one go, or before what lies below it has set; heights above the mold's own zero, m.

    Attributes:
        density: design density of the fresh mix, kg/m3.
        top: height of its upper face.
        foot: height it starts at: the bottom of the mold, or the top of the lift that has set below it.
        cap: pressure it never exceeds (a published formula for ordinary concrete), Pa; None for full liquid
            head.
    """

    density: float
    top: float
    foot: float = 0.0
    cap: float | None = None

    def at(self, height: float) -> float:
        """Pressure at a height, Pa; none above the top and none on what stands beside a lift that has set.

        Args:
            height: above the mold's zero, m.

        >>> lift = Lift(1000.0, 1.0, foot=0.4)
        >>> [round(lift.at(z), 1) for z in (1.2, 0.5, 0.4, 0.2)]
        [0.0, 4903.3, 5884.0, 0.0]
        """
        if height > self.top or height < self.foot:
            return 0.0
        head = liquid_head(self.density, self.top - height)
        return head if self.cap is None else min(head, self.cap)

    def greatest(self, low: float, high: float) -> float:
        """Greatest pressure between two heights, Pa.

        Args:
            low: lower height, m.
            high: upper height, m.

        >>> round(Lift(1000.0, 1.0, foot=0.4).greatest(0.0, 1.0), 2)
        5883.99
        """
        start = max(low, self.foot)
        return self.at(start) if start <= min(high, self.top) else 0.0

    def resultant(self, low: float, high: float) -> float:
        """Force on a strip of unit width between two heights, N/m.

        Args:
            low: lower height, m.
            high: upper height, m.

        Source: statics: the area of the pressure diagram; rho g h^2 / 2 for a full head of height h.

        >>> round(Lift(1000.0, 1.0).resultant(0.0, 1.0), 3)
        4903.325
        """
        start, end = max(low, self.foot), min(high, self.top)
        if start >= end:
            return 0.0
        knee = self._knee(start, end)
        return self.at(start) * (knee - start) + (self.at(knee) + self.at(end)) / 2.0 * (end - knee)

    def _knee(self, start: float, end: float) -> float:
        if self.cap is None:
            return start
        return min(max(self.top - self.cap / (self.density * GRAVITY), start), end)


def head_steps(density: float, depth: float, symbol: str = "P") -> tuple[Step, ...]:
    """The working of a full liquid head.

    Args:
        density: kg/m3.
        depth: m.
        symbol: of the pressure.

    Returns:
        One step, in kPa.

    Source: as for :func:`liquid_head`.

    >>> str(head_steps(800.0, 0.5)[0])
    'P = rho * g * h / 1000 = 800 * 9.80665 * 0.5 / 1000 = 3.92266 kPa'
    """
    value = liquid_head(density, depth) / 1000.0
    return (step(symbol, "rho * g * h / 1000", value, "kPa", rho=density, g=GRAVITY, h=depth),)
