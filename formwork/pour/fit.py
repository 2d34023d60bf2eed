"""Dry density against wet, over a person's own pieces: a straight line, and how well it is known."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, cos, pi, sin, sqrt

from formwork.errors import RangeError
from formwork.record import record

FEWEST = 4
"""Pieces from which a line is drawn at all (common practice: ten and more before it is relied on)."""
SURE = 0.95
"""Share of the cases that a stated interval is to hold."""


@record
class Line:
    """A fitted line y = intercept + slope*x.

    Attributes:
        slope, intercept: of the line.
        slope_error, intercept_error: their standard errors.
        scatter: standard deviation of the points about the line.
        count: points.
        centre: mean of the x.
        spread: sum of the squares of the x about their mean.
        least, most: of the x; outside them the line is not to be read.
    """

    slope: float
    intercept: float
    slope_error: float
    intercept_error: float
    scatter: float
    count: int
    centre: float
    spread: float
    least: float
    most: float

    def at(self, x: float) -> float:
        """The line's value.

        Args:
            x: where.
        """
        return self.intercept + self.slope * x

    def doubt(self, x: float, sure: float = SURE) -> float:
        """Half the interval in which the next piece is to be expected.

        t*s*sqrt(1 + 1/n + (x - mean)^2/S_xx). Source: any text on linear regression.

        Args:
            x: where.
            sure: share of the cases that the interval is to hold.
        """
        reach = sqrt(1.0 + 1.0 / self.count + (x - self.centre) ** 2 / self.spread)
        return t_quantile(0.5 + sure / 2.0, self.count - 2) * self.scatter * reach


def fit(points: Sequence[tuple[float, float]]) -> Line:
    """The line of least squares through points.

    Source: any text on linear regression, errors by the scatter about the line.
    Valid: four points and more, not all at one x.

    Args:
        points: x and y.

    Raises:
        RangeError: outside the limits.

    >>> line = fit([(600.0, 470.0), (700.0, 555.0), (800.0, 645.0), (900.0, 730.0)])
    >>> round(line.slope, 3), round(line.intercept, 1)
    (0.87, -52.5)
    """
    if len(points) < FEWEST:
        raise RangeError(
            f"dry against wet: got {len(points)} pieces, want {FEWEST} or more with a reading of their batch"
        )
    n = len(points)
    centre, middle = sum(x for x, _ in points) / n, sum(y for _, y in points) / n
    spread = sum((x - centre) ** 2 for x, _ in points)
    if not spread > 1e-18 * max(abs(x) for x, _ in points) ** 2:
        raise RangeError("dry against wet: got one wet density only, want pieces of several")
    slope = sum((x - centre) * (y - middle) for x, y in points) / spread
    intercept = middle - slope * centre
    scatter = sqrt(sum((y - intercept - slope * x) ** 2 for x, y in points) / (n - 2))
    return Line(
        slope=slope,
        intercept=intercept,
        slope_error=scatter / sqrt(spread),
        intercept_error=scatter * sqrt(1.0 / n + centre**2 / spread),
        scatter=scatter,
        count=n,
        centre=centre,
        spread=spread,
        least=min(x for x, _ in points),
        most=max(x for x, _ in points),
    )


def t_quantile(share: float, freedom: int) -> float:
    """Quantile of Student's t distribution, by halving on its closed form.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4. Valid: share from 0.5 to
    0.9999, one degree of freedom and more.

    Args:
        share: probability below the quantile.
        freedom: degrees of freedom.

    Raises:
        RangeError: outside the limits.

    >>> round(t_quantile(0.975, 4), 3)
    2.776
    """
    if not 0.5 <= share <= 0.9999 or freedom < 1:
        raise RangeError(
            f"t distribution: got {share:g} and {freedom} degrees of freedom, want 0.5 to 0.9999 and 1 or more"
        )
    low, high = 0.0, 10_000.0
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _within(middle, freedom) < 2.0 * share - 1.0 else (low, middle)
    return (low + high) / 2.0


def _within(t: float, freedom: int) -> float:
    """Probability that Student's t is within plus and minus t (26.7.3 for odd, 26.7.4 for even degrees of freedom)."""
    angle = atan(t / sqrt(freedom))
    odd = freedom % 2 == 1
    term, total = (cos(angle), cos(angle)) if odd else (1.0, 1.0)
    for k in range(3 if odd else 2, freedom - 1, 2):
        term *= cos(angle) ** 2 * (k - 1) / k
        total += term
    if not odd:
        return sin(angle) * total
    return 2.0 / pi * (angle + (sin(angle) * total if freedom > 1 else 0.0))
