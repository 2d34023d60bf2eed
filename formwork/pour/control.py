"""Is the process steady: chart of individual values and their moving ranges, with the usual run rules."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from formwork.errors import RangeError
from formwork.record import record

INDIVIDUALS = 2.66
"""E_2 = 3/d_2 for moving ranges of two (d_2 = 1.128): published tables of control chart constants."""
RANGES = 3.267
"""D_4 for ranges of two: the same tables."""
SIGMA = 1.128
"""d_2 for ranges of two: mean moving range over the standard deviation."""
LEAST = 5
"""Fewest values that a chart says anything by (common practice: twenty and more before limits are relied on)."""

WESTERN_ELECTRIC = "Western Electric, Statistical Quality Control Handbook, 1956, as widely listed"
NELSON = "L. S. Nelson, Journal of Quality Technology 16 (1984), as widely listed"


@record
class Signal:
    """A rule that the values break.

    Attributes:
        at: index of the value at which it is broken.
        rule: what was seen.
        source: who says that it matters.
        of_range: it is the moving range that breaks it, and not the value.
    """

    at: int
    rule: str
    source: str
    of_range: bool = False


@record
class Chart:
    """A chart of individuals and moving ranges.

    Attributes:
        values: in their order.
        ranges: between each value and the one before it; one fewer than the values.
        mean: of the values.
        lower, upper: limits of the values.
        mean_range: of the ranges.
        range_limit: of the ranges.
        signals: rules that are broken, in the order of the values.
    """

    values: tuple[float, ...]
    ranges: tuple[float, ...]
    mean: float
    lower: float
    upper: float
    mean_range: float
    range_limit: float
    signals: tuple[Signal, ...]

    @property
    def sigma(self) -> float:
        """Standard deviation by the mean moving range."""
        return self.mean_range / SIGMA


def chart(values: Sequence[float]) -> Chart:
    """The chart of a run of values.

    Limits: mean +- 2.66 of the mean moving range; for ranges, 3.267 of it. Source: W. A. Shewhart's charts as in any
    table of control chart constants, n = 2.
    Valid: five values and more.

    Args:
        values: in their order, in any unit.

    Raises:
        RangeError: for fewer values.

    >>> made = chart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])
    >>> round(made.mean, 2), round(made.lower, 2), round(made.upper, 2)
    (50.81, 45.82, 55.8)
    """
    if len(values) < LEAST:
        raise RangeError(
            f"control chart: got {len(values)} readings, want {LEAST} or more of one density wanted"
        )
    ranges = tuple(abs(later - sooner) for sooner, later in pairwise(values))
    mean, mean_range = sum(values) / len(values), sum(ranges) / len(ranges)
    reach, limit = INDIVIDUALS * mean_range, RANGES * mean_range
    signals = (*run_rules(values, mean, mean_range / SIGMA), *_wide_ranges(ranges, limit))
    return Chart(
        values=tuple(values),
        ranges=ranges,
        mean=mean,
        lower=mean - reach,
        upper=mean + reach,
        mean_range=mean_range,
        range_limit=limit,
        signals=tuple(sorted(signals, key=lambda signal: signal.at)),
    )


def run_rules(values: Sequence[float], mean: float, sigma: float) -> tuple[Signal, ...]:
    """The run rules that values break: one value far out, and runs that chance seldom makes.

    Source: Western Electric, 1956, four rules; Nelson, 1984, the rule of six rising or falling.

    Args:
        values: in their order.
        mean: centre line.
        sigma: standard deviation.
    """
    if not sigma > 0.0:
        return ()
    scores = [(value - mean) / sigma for value in values]
    signals: list[Signal] = []
    for sign, side in ((1.0, "above"), (-1.0, "below")):
        turned = [sign * score for score in scores]
        signals += _runs(turned, 1, 1, 3.0, f"{side} its limit", WESTERN_ELECTRIC)
        signals += _runs(
            turned, 3, 2, 2.0, f"two of three more than two sigmas {side} the mean", WESTERN_ELECTRIC
        )
        signals += _runs(
            turned, 5, 4, 1.0, f"four of five more than one sigma {side} the mean", WESTERN_ELECTRIC
        )
        signals += _runs(turned, 8, 8, 0.0, f"eight in a row {side} the mean", WESTERN_ELECTRIC)
        way = "rising" if sign > 0.0 else "falling"
        signals += _trend(turned, f"six in a row {way}")
    return tuple(sorted(signals, key=lambda signal: signal.at))


def _runs(
    scores: Sequence[float], span: int, count: int, beyond: float, rule: str, source: str
) -> list[Signal]:
    """Where, within a span that ends there, so many scores are beyond a limit, the last of them being one of these."""
    return _first_of_each_run(
        scores,
        lambda i: (
            scores[i] > beyond
            and sum(score > beyond for score in scores[max(0, i - span + 1) : i + 1]) >= count
        ),
        rule,
        source,
    )


def _trend(scores: Sequence[float], rule: str) -> list[Signal]:
    """Where six scores in a row rise."""

    def rises(i: int) -> bool:
        return i >= 5 and all(later > sooner for sooner, later in pairwise(scores[i - 5 : i + 1]))

    return _first_of_each_run(scores, rises, rule, NELSON)


def _first_of_each_run(
    scores: Sequence[float], broken: Callable[[int], bool], rule: str, source: str
) -> list[Signal]:
    """A signal where a rule begins to be broken, and none while it stays so."""
    found = [broken(i) for i in range(len(scores))]
    return [Signal(i, rule, source) for i, now in enumerate(found) if now and not (i and found[i - 1])]


def _wide_ranges(ranges: Sequence[float], limit: float) -> list[Signal]:
    return [
        Signal(i, "a jump from the value before it beyond the limit of ranges", "Shewhart", of_range=True)
        for i, each in enumerate(ranges, start=1)
        if each > limit
    ]
