"""Sticks: which lengths are cut from which stick, and how far the plan is from the best possible."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import ceil, gcd

from formwork.cutting.bounds import Least, cheapest
from formwork.cutting.columns import relax
from formwork.cutting.job import Sheet, Show, in_mm
from formwork.cutting.records import Bound, StickLayout, StickPart, StickPlan
from formwork.cutting.stick_exact import cut_within
from formwork.cutting.stick_job import Pattern, StickJob, stick_job
from formwork.cutting.stick_program import cut_without_waste
from formwork.cutting.stick_search import (
    Cutting,
    cost,
    dive,
    fill_best,
    fill_in_turn,
    limits,
    rank,
    round_down,
)
from formwork.errors import StockError
from formwork.stock.records import Saw, StickStock

_PENNIES = 10_000
"""Prices are looked at in this part of the currency for a step that all of them are multiples of."""

_FEW_SIZES, _MANY_SIZES = 50, 200
"""Up to so many sizes the continuous problem is solved again and again while rounding; beyond so many, not at all."""

_VARIED = 25
"""With more sizes than these an integer program comes before rounding and searching; with fewer, those are quick."""

_MOST_STICKS = 300
"""With more sticks than these the search to the end is not begun."""

_SMALL = 1e-7
"""Of a price: what is nearer is equal."""


def cut_sticks(parts: Sequence[StickPart], stock: StickStock, saw: Saw, *, show: Show = in_mm) -> StickPlan:
    """Cut all lengths from sticks at the lowest cost found; of equal costs, with less stick used and a longer rest.

    Cost is the price of the sticks; where the price of any length but an offcut is missing, it is their number. An
    offcut on hand without a price costs nothing.

    Args:
        parts: the lengths, m.
        stock: the stick and the lengths it is sold in, m.
        saw: kerf and end trim, m; both ends of a stick are trimmed.
        show: how messages write a length (m).

    Raises:
        RangeError: a size, a quantity or the saw makes no sense.
        StockError: a part is longer than every stick, or the sticks on hand are too few.
    """
    job = stick_job(parts, stock, saw, show)
    cutting, least = solve(job)
    _check_enough(job, cutting, stock, show)
    used = cost(job, cutting)
    proven = least.cost >= used - _SMALL
    bound = Bound(stock.name, used, used if proven else least.cost, proven, least.method)
    return StickPlan(_listed(job, cutting, stock, saw), bound)


def solve(job: StickJob) -> tuple[Cutting, Least]:
    """The best cutting found, and what none can go below: the quick ways first, until both meet.

    Args:
        job: sizes, numbers and sticks.
    """
    if not job.sizes:
        return {}, Least(0.0, "nothing to cut")
    least = _by_length(job)
    exact = _without_waste(job, least)
    if exact:
        return exact, least
    best = fill_best(job, job.wanted, limits(job))
    if _met(job, best, least) or len(job.sizes) > _MANY_SIZES:
        return best, least
    return _searched(job, best, least)


def _without_waste(job: StickJob, least: Least) -> Cutting | None:
    """A cutting of a job of many sizes that wastes no more than it must, where filling in turn does not find one."""
    if len(job.sizes) <= _VARIED or _met(job, fill_in_turn(job, job.wanted, limits(job)), least):
        return None
    return cut_without_waste(job, least.cost)


def _searched(job: StickJob, best: Cutting, least: Least) -> tuple[Cutting, Least]:
    """Round the continuous solution, then search to the end, until cutting and bound meet."""
    step = _price_step(job)
    relaxed = relax(job)
    least = max(least, Least(_lifted(relaxed.least, step), "every way of cutting, in fractions of a stick"))
    for way in (round_down, dive) if len(job.sizes) <= _FEW_SIZES else (round_down,):
        if _met(job, best, least):
            return best, least
        best = min(best, way(job, relaxed), key=lambda cutting: rank(job, cutting))
    while not _met(job, best, least) and sum(best.values()) <= _MOST_STICKS:
        ceiling = cost(job, best) - (step or _SMALL)
        better, complete = cut_within(job, relaxed.prices, ceiling)
        if better:
            best = better
        elif complete:
            return best, Least(cost(job, best), "every way of cutting searched to the end")
        else:
            break
    return best, least


def _met(job: StickJob, cutting: Cutting, least: Least) -> bool:
    return least.cost >= cost(job, cutting) - _SMALL


def _by_length(job: StickJob) -> Least:
    """Sticks of at least the length of all parts with their kerfs."""
    length = sum(size * count for size, count in zip(job.sizes, job.wanted, strict=True))
    sheets = [
        Sheet(stick.room, 1, stick.cost, stick.limit if stick.limit is not None else 1 << 60)
        for stick in job.sticks
        if stick.room >= job.sizes[-1]
    ]
    return Least(cheapest(sheets, length, 1), "length of the parts with their kerfs")


def _price_step(job: StickJob) -> float:
    """The largest step that every price is a multiple of; 0 where there is none."""
    step = 0
    for stick in (stick for stick in job.sticks if not stick.missing):
        pennies = round(stick.cost * _PENNIES)
        if abs(pennies - stick.cost * _PENNIES) > 1e-6 * max(1.0, pennies):
            return 0.0
        step = gcd(step, pennies)
    return step / _PENNIES


def _lifted(least: float, step: float) -> float:
    """A bound raised to the next multiple of the price step: no plan costs anything between."""
    return round(ceil(least / step - 1e-6) * step, 6) if step else least


def _check_enough(job: StickJob, cutting: Cutting, stock: StickStock, show: Show) -> None:
    """Refuse a plan that needs sticks the shop does not have, and say what is missing.

    Raises:
        StockError: naming the lengths and the number of parts that found no room.
    """
    lacking = {pattern: count for pattern, count in cutting.items() if job.sticks[pattern.stick].missing}
    if not lacking:
        return
    sticks: Counter[float] = Counter()
    parts: Counter[str] = Counter()
    for pattern, count in lacking.items():
        sticks[job.lengths[pattern.stick].length] += count
        for names, many in zip(job.names, pattern.counts, strict=True):
            parts[names[0][0]] += many * count
    left = ", ".join(f"{count} x {label}" for label, count in parts.items() if count)
    more = " and ".join(f"{count} more of {show(length)}" for length, count in sticks.items())
    raise StockError(f"the stock of {stock.name} runs out: {left} found no stick; {more} would do")


def _listed(job: StickJob, cutting: Cutting, stock: StickStock, saw: Saw) -> tuple[StickLayout, ...]:
    """Every layout once with its count; labels are dealt out size by size."""
    names = [list(reversed(some)) for some in job.names]
    counts: Counter[tuple[int, tuple[tuple[str, float], ...]]] = Counter()
    for pattern, count in sorted(cutting.items()):
        for _ in range(count):
            counts[pattern.stick, _dealt(pattern, names)] += 1
    layouts = [_layout(job, number, cuts, count, stock, saw) for (number, cuts), count in counts.items()]
    return tuple(sorted(layouts, key=lambda layout: -layout.count))


def _dealt(pattern: Pattern, names: list[list[tuple[str, float]]]) -> tuple[tuple[str, float], ...]:
    return tuple(some.pop() for some, count in zip(names, pattern.counts, strict=True) for _ in range(count))


def _layout(
    job: StickJob, number: int, cuts: tuple[tuple[str, float], ...], count: int, stock: StickStock, saw: Saw
) -> StickLayout:
    """One stick: the longest length first, what is left after the last kerf and without the far end trim."""
    one = job.lengths[number]
    taken = sum(length + saw.kerf for _, length in cuts)
    offcut = max(0.0, one.length - 2.0 * saw.end_trim - taken)
    return StickLayout(stock, one.length, one.price, count, cuts, offcut)
