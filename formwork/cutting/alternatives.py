"""How long the job takes with another number of molds, and about what those cost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from formwork.errors import RangeError
from formwork.mix.calendar import calendar
from formwork.mix.pour_records import PieceToPour, Pour, Times
from formwork.record import record

MOST_MOLDS = 4
"""Up to so many molds of each kind are tried, what is planned, and twice the most that is planned."""


@record
class Alternative:
    """The job with so many molds of each kind, no more of any than one pour can use.

    Attributes:
        molds: of each kind, by the name of its piece.
        planned: it is what the project asks for.
        pours: fillings until every piece is cast.
        cast: day on which the last molds come off.
        done: day on which the last pieces come from under cover.
        mold_cost: about, of all that is bought for the molds, as far as it has prices; None where nobody asks.
    """

    molds: tuple[tuple[str, int], ...]
    planned: bool
    pours: int
    cast: int
    done: int
    mold_cost: float | None = None


def alternatives(
    orders: Sequence[PieceToPour],
    owned: frozenset[str],
    pour: Callable[[Sequence[PieceToPour]], Sequence[Pour]],
    times: Times,
    price: Callable[[Sequence[PieceToPour]], float] | None = None,
) -> tuple[Alternative, ...]:
    """The job with one mold of each kind, with two, and so on, as it is planned, and with twice that.

    A number that saves no pour is left out. Kinds whose molds the shop owns keep the number they have.

    Args:
        orders: the kinds of piece, with the molds planned.
        owned: names of pieces whose molds the shop has.
        pour: how pours follow from orders.
        times: of the shop.
        price: what so many molds of each kind cost to buy; None where that is not asked.
    """
    twice = 2 * max((order.molds for order in orders), default=1)
    tried = [_with(orders, owned, molds) for molds in (*range(1, MOST_MOLDS + 1), twice)]
    plans = sorted({*tried, tuple(orders)}, key=lambda plan: [order.molds for order in plan])
    found = [(plan, _alternative(plan, plan == tuple(orders), pour, times)) for plan in plans]
    kept: list[Alternative] = []
    for plan, one in found:
        if one is not None and (one.planned or all(one.pours < fewer.pours for fewer in kept)):
            kept.append(replace(one, mold_cost=price(plan)) if price else one)
    return tuple(kept)


def _with(orders: Sequence[PieceToPour], owned: frozenset[str], molds: int) -> tuple[PieceToPour, ...]:
    return tuple(
        order if order.name in owned else replace(order, molds=min(molds, -(-order.count // order.cavities)))
        for order in orders
    )


def _alternative(
    orders: tuple[PieceToPour, ...],
    planned: bool,
    pour: Callable[[Sequence[PieceToPour]], Sequence[Pour]],
    times: Times,
) -> Alternative | None:
    """One of them; None where so few molds would take more pours than a project may have."""
    try:
        made = pour(orders)
    except RangeError:
        return None
    days = calendar(made, times)
    if days is None:
        return None
    molds = tuple((order.name, order.molds) for order in orders)
    return Alternative(molds, planned, len(made), days.cast, days.done)
