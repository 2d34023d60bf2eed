"""The continuous stick problem by column generation: what sticks would cost if they could be cut in fractions.

A small simplex method in plain Python (revised, with the inverse of the basis kept whole) and the most valuable load
of each stock length as its source of columns. It gives a bound that holds however the arithmetic rounds, because
the bound is computed from the prices of the parts alone, and those prices are first made safe.

Source: P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations
Research 9 (1961) 849-859; the bound from any prices: A. A. Farley, Operations Research 38 (1990) 922-923.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from formwork.cutting.knapsack import MOST_NODES, Load, best_load
from formwork.cutting.stick_job import Pattern, StickJob

_GAIN = 1e-9
"""A column must promise more than this share of its cost."""

_GLANCE = 300
"""Branches of a first look for a column; only where it finds none is the search for one complete."""

_NUDGE = 1e-6
"""Added to the numbers wanted, unequally, so that no two rows run out at once and the method never goes in circles."""

_ROUNDS = 2_000
"""Most columns taken in."""


class Relaxed(NamedTuple):
    """The continuous solution.

    Attributes:
        least: no plan costs less.
        prices: of one part of each size, safe: no load of an unlimited stick is worth more than the stick.
        patterns: the patterns in use, with how many sticks (a fraction) are cut so.
    """

    least: float
    prices: tuple[float, ...]
    patterns: tuple[tuple[Pattern, float], ...]


@dataclass(slots=True)
class _Basis:
    """Columns in the basis (None: a surplus or a slack), their costs, the inverse, and the amounts."""

    columns: list[Pattern | None]
    costs: list[float]
    inverse: list[list[float]]
    amounts: list[float]


def relax(job: StickJob) -> Relaxed:
    """Solve the continuous problem.

    Args:
        job: sizes, numbers and sticks.
    """
    basis, limited = _start(job)
    rows = len(job.sizes)
    best = Relaxed(0.0, (0.0,) * rows, ())
    for _ in range(_ROUNDS):
        duals = _duals(basis)
        entering = _entering(job, duals, _loads(job, duals, limited, _GLANCE), limited)
        if entering is None:
            loads = _loads(job, duals, limited, MOST_NODES)
            bound, prices = _safe(job, duals[:rows], loads)
            if bound > best.least:
                best = Relaxed(bound, prices, ())
            entering = _entering(job, duals, loads, limited)
        if entering is None or not _pivot(basis, *entering):
            break
    used = tuple((one, amount) for one, amount in zip(basis.columns, basis.amounts, strict=True) if one)
    return best._replace(patterns=used)


def _start(job: StickJob) -> tuple[_Basis, dict[int, int]]:
    """A basis of sticks each cut into one size only, and the row of each limited stick."""
    rows = len(job.sizes)
    limited = {
        number: rows + index
        for index, number in enumerate(n for n, stick in enumerate(job.sticks) if stick.limit is not None)
    }
    whole = rows + len(limited)
    inverse = [[0.0] * whole for _ in range(whole)]
    columns: list[Pattern | None] = []
    costs, amounts = [], []
    for row, size in enumerate(job.sizes):
        able = [n for n, stick in enumerate(job.sticks) if stick.limit is None and stick.room >= size]
        number = min(able, key=lambda n: job.sticks[n].cost / (job.sticks[n].room // size))
        many = job.sticks[number].room // size
        columns.append(Pattern(number, tuple(many if index == row else 0 for index in range(rows))))
        costs.append(job.sticks[number].cost)
        amounts.append((job.wanted[row] + _NUDGE * (row + 1) / rows) / many)
        inverse[row][row] = 1.0 / many
    for number, row in limited.items():
        columns.append(None)
        costs.append(0.0)
        amounts.append(float(job.sticks[number].limit or 0))
        inverse[row][row] = 1.0
    return _Basis(columns, costs, inverse, amounts), limited


def _duals(basis: _Basis) -> list[float]:
    duals = [0.0] * len(basis.costs)
    for cost, row in zip(basis.costs, basis.inverse, strict=True):
        if cost:
            duals = [dual + cost * value for dual, value in zip(duals, row, strict=True)]
    return duals


def _loads(job: StickJob, duals: list[float], limited: dict[int, int], nodes: int) -> list[Load]:
    """The load of each stick that is worth most, of those that are worth more than the stick."""
    prices = duals[: len(job.sizes)]
    above = [
        max(0.0, stick.cost - (duals[limited[number]] if number in limited else 0.0))
        for number, stick in enumerate(job.sticks)
    ]
    return [
        best_load(job.sizes, prices, job.wanted, stick.room, nodes, worth)
        for stick, worth in zip(job.sticks, above, strict=True)
    ]


def _safe(job: StickJob, duals: list[float], loads: list[Load]) -> tuple[float, tuple[float, ...]]:
    """Prices scaled until no load of an unlimited stick is worth more than the stick, and the bound they give."""
    over = 1.0
    for stick, load in zip(job.sticks, loads, strict=True):
        if stick.limit is None and load.ceiling > 0.0:
            if stick.cost <= 0.0:
                return 0.0, (0.0,) * len(duals)
            over = max(over, load.ceiling / stick.cost)
    scale = (1.0 - 1e-12) / over
    prices = tuple(max(0.0, dual) * scale for dual in duals)
    bound = sum(price * count for price, count in zip(prices, job.wanted, strict=True))
    for stick, load in zip(job.sticks, loads, strict=True):
        if stick.limit is not None:
            bound += stick.limit * min(0.0, stick.cost - load.ceiling * scale)
    return bound, prices


def _entering(
    job: StickJob, duals: list[float], loads: list[Load], limited: dict[int, int]
) -> tuple[Pattern | None, float, list[float]] | None:
    """The column that promises most: a load worth more than its stick, or a surplus with a negative price."""
    best, chosen = _GAIN, None
    for number, (stick, load) in enumerate(zip(job.sticks, loads, strict=True)):
        gain = load.value - stick.cost + (duals[limited[number]] if number in limited else 0.0)
        if gain > best * max(1.0, stick.cost):
            best = gain / max(1.0, stick.cost)
            column = [float(count) for count in load.counts] + [0.0] * len(limited)
            if number in limited:
                column[limited[number]] = 1.0
            chosen = (Pattern(number, load.counts), stick.cost, column)
    if chosen is not None:
        return chosen
    rows = len(job.sizes)
    for row, dual in enumerate(duals):
        sign = -1.0 if row < rows else 1.0
        if dual * sign > _GAIN:
            return None, 0.0, [sign if index == row else 0.0 for index in range(len(duals))]
    return None


def _pivot(basis: _Basis, entering: Pattern | None, cost: float, column: list[float]) -> bool:
    """Take the column into the basis; False where nothing limits it, which only rounding can bring about."""
    filled = [index for index, value in enumerate(column) if value]
    step = [sum(row[index] * column[index] for index in filled) for row in basis.inverse]
    ratios = [
        (max(0.0, amount) / value, -value, row)
        for row, (amount, value) in enumerate(zip(basis.amounts, step, strict=True))
        if value > 1e-9
    ]
    if not ratios:
        return False
    ratio, _, leaving = min(ratios)
    pivot = basis.inverse[leaving]
    basis.inverse[leaving] = pivot = [value / step[leaving] for value in pivot]
    for row, value in enumerate(step):
        basis.amounts[row] -= ratio * value
        if row != leaving and value:
            basis.inverse[row] = [a - value * b for a, b in zip(basis.inverse[row], pivot, strict=True)]
    basis.amounts[leaving] = ratio
    basis.columns[leaving], basis.costs[leaving] = entering, cost
    return True
