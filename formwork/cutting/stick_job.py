"""A stick job in whole numbers: lengths and sticks grown by one kerf, what each stick costs, what can never fit."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import NamedTuple

from formwork.cutting.job import Show, check_count, check_saw, check_size, in_mm, steps_down, steps_up
from formwork.cutting.records import StickPart
from formwork.errors import RangeError, StockError
from formwork.record import record
from formwork.stock.records import Saw, StickLength, StickStock


class Stick(NamedTuple):
    """One stock length in whole numbers.

    Attributes:
        room: its length without end trims, grown by a kerf, steps.
        cost: of one; 1 where prices are missing, 0 for an offcut on hand without a price.
        limit: how many can be had; None for as many as wanted.
        missing: stands for sticks the shop does not have; dearer than anything it has.
    """

    room: int
    cost: float
    limit: int | None
    missing: bool = False


class Pattern(NamedTuple):
    """One way of cutting a stick: which stick, and how many of each size."""

    stick: int
    counts: tuple[int, ...]


@record
class StickJob:
    """What the search works on.

    Attributes:
        sizes: of the parts, grown by a kerf, steps, longest first.
        wanted: how many of each size.
        names: labels and lengths (m) behind each size, one for each part wanted.
        sticks: the stock lengths; those the shop does not have stand at the end.
        lengths: what each of them is.
        priced: cost is money; else it counts sticks.
    """

    sizes: tuple[int, ...]
    wanted: tuple[int, ...]
    names: tuple[tuple[tuple[str, float], ...], ...]
    sticks: tuple[Stick, ...]
    lengths: tuple[StickLength, ...]
    priced: bool

    def cost(self, pattern: Pattern) -> float:
        """Of one stick cut so."""
        return self.sticks[pattern.stick].cost


def stick_job(parts: Sequence[StickPart], stock: StickStock, saw: Saw, show: Show = in_mm) -> StickJob:
    """Take parts, stock and saw into whole numbers.

    Args:
        parts: lengths to cut, m.
        stock: the stick and the lengths it is sold in, m.
        saw: kerf and end trim, m.
        show: how messages write a length.

    Raises:
        RangeError: a size, a quantity or the saw makes no sense.
        StockError: a part is longer than every stick.
    """
    check_saw(saw)
    names: dict[int, list[tuple[str, float]]] = {}
    for part in parts:
        check_size(f"part {part.label} length", part.length)
        check_count(f"part {part.label} quantity", part.quantity)
        size = steps_down(part.length + saw.kerf)
        if part.quantity:
            names.setdefault(size, []).extend([(part.label, part.length)] * part.quantity)
    priced = all(one.price is not None for one in stock.lengths if not one.offcut)
    lengths = tuple(dict.fromkeys(stock.lengths))
    sticks = [_stick(stock, one, saw, priced) for one in lengths]
    sizes = sorted(names, reverse=True)
    if sizes and sizes[0] > max((stick.room for stick in sticks), default=0):
        raise StockError(_too_long(names[sizes[0]][0], stock, saw, show))
    dear = 1e6 * (1.0 + max((stick.cost for stick in sticks), default=0.0))
    short = [number for number, stick in enumerate(sticks) if stick.limit is not None]
    return StickJob(
        tuple(sizes),
        tuple(len(names[size]) for size in sizes),
        tuple(tuple(names[size]) for size in sizes),
        (*sticks, *(sticks[number]._replace(cost=dear, limit=None, missing=True) for number in short)),
        (*lengths, *(lengths[number] for number in short)),
        priced,
    )


def _stick(stock: StickStock, one: StickLength, saw: Saw, priced: bool) -> Stick:
    check_size(f"stick {stock.name} length", one.length)
    limits = [other.limit for other in stock.lengths if other == one]
    if one.limit is not None:
        check_count(f"stick {stock.name} number on hand", one.limit)
    cost = (one.price or 0.0) if priced else float(not one.offcut)
    if not isfinite(cost) or cost < 0.0:
        raise RangeError(f"stick {stock.name} price: got {cost}, want 0 or more")
    limit = None if one.limit is None else one.limit * len(limits)
    return Stick(max(0, steps_up(one.length - 2.0 * saw.end_trim + saw.kerf)), cost, limit)


def _too_long(part: tuple[str, float], stock: StickStock, saw: Saw, show: Show) -> str:
    """Say by how much a part is longer than the longest stick, and what would help."""
    label, length = part
    if not stock.lengths:
        return f"{label} ({show(length)}): {stock.name} is sold in no length; add one to the shop's stock"
    longest = max(one.length for one in stock.lengths)
    clear = longest - 2.0 * saw.end_trim
    trimmed = f", {show(clear)} with its ends trimmed" if saw.end_trim else ""
    remedy = (
        "it would fit with less trimmed off the ends"
        if length <= longest
        else f"it takes a stick of {show(length + 2.0 * saw.end_trim)} or more, or two joined with a splice"
    )
    return (
        f"{label} ({show(length)}) is longer than any {stock.name}: the longest is {show(longest)}{trimmed}, "
        f"{show(length - clear)} too short; {remedy}"
    )
