"""What one mold costs, and one piece with its mold spread over every piece cast in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import ceil

from formwork.cutting.buy_list import BuyLine, hardware, sold_as
from formwork.cutting.cut_list import CutLine
from formwork.cutting.layouts import Layouts
from formwork.mix.pour_records import PieceToPour
from formwork.molds.mold import Hardware, Mold
from formwork.record import record
from formwork.stock.records import HardwareStock
from formwork.units.show import UnitSystem

_SLACK = 1e-9


@record
class Cost:
    """A cost as far as the shop gives prices.

    Attributes:
        amount: of everything that has a price.
        unpriced: what has none, by name.
        spent: of a mold, what its fillings take anew in the whole job, however many of it are built.
    """

    amount: float
    unpriced: tuple[str, ...] = ()
    spent: float = 0.0


def mold_cost(mold: Mold, lines: Sequence[CutLine], layouts: Layouts, stock: Sequence[HardwareStock]) -> Cost:
    """What one copy of a mold costs: its share of the sheets and sticks bought, by area and length, and its hardware.

    Waste is shared like the parts; offcuts on hand cost nothing; hardware is counted by the piece, not by the box.

    Args:
        mold: one of the plan's.
        lines: the whole cut list.
        layouts: where every part falls.
        stock: the shop's hardware, with its prices.
    """
    used_up = _sum(_cut_shares(mold, lines, layouts, spent=True))
    if mold.owned:
        return replace(used_up, amount=0.0, spent=used_up.amount)
    things = [_thing(thing, stock) for thing in mold.hardware]
    shares = [
        (name, None if cost is None else cost / mold.copies)
        for name, cost in _cut_shares(mold, lines, layouts, spent=False)
    ]
    kept = _sum((*shares, *things))
    return Cost(kept.amount, tuple(dict.fromkeys((*kept.unpriced, *used_up.unpriced))), used_up.amount)


def price_of_molds(
    molds: Sequence[tuple[str, Mold]],
    lines: Sequence[CutLine],
    layouts: Layouts,
    stock: Sequence[HardwareStock],
    units: UnitSystem,
    wanted: Sequence[PieceToPour],
) -> float:
    """About what is bought where another number of molds is built: whole sheets, sticks and boxes, where priced.

    Sheets and sticks are not laid out anew: they are taken to grow with the molds' parts, by area and by length, and
    rounded up. What fillings take anew stays as it is.

    Args:
        molds: the plan's, by the names of their pieces.
        lines: the whole cut list.
        layouts: where every part falls.
        stock: the shop's hardware, with its prices.
        units: of the person.
        wanted: how many molds of each.
    """
    copies = {one.name: one.molds for one in wanted}
    growth = {mold.name: copies[name] / mold.copies for name, mold in molds}
    sheets = [(one.stock.name, one.count) for one in layouts.sheets]
    sticks = [(one.stock.name, one.count) for one in layouts.sticks]
    cut = (
        *_grown(lines, ("panel",), _paid_sheets(layouts), sheets, growth),
        *_grown(lines, ("stick", "pipe"), _paid_sticks(layouts), sticks, growth),
    )
    things = hardware([replace(mold, copies=copies[name]) for name, mold in molds], stock, units)
    return sum(cut) + sum(line.cost for line in things if line.cost is not None)


def _grown(
    lines: Sequence[CutLine],
    kinds: tuple[str, ...],
    paid: dict[str, float | None],
    bought: Iterable[tuple[str, int]],
    growth: dict[str, float],
) -> Iterator[float]:
    """What each stock costs where every mold is built so many times as often."""
    count: Counter[str] = Counter()
    for name, number in bought:
        count[name] += number
    for name, cost in paid.items():
        cut = [line for line in lines if line.part.kind in kinds and line.part.stock == name]
        ours = [line for line in cut if line.mold in growth]
        size = sum(_size(line) * (1.0 if line.part.spent else growth[line.mold]) for line in ours)
        if cost is not None and size:
            share = size / sum(_size(line) for line in cut)
            yield cost / count[name] * ceil(count[name] * share - _SLACK)


def _cut_shares(
    mold: Mold, lines: Sequence[CutLine], layouts: Layouts, *, spent: bool
) -> list[tuple[str, float | None]]:
    """What is paid for what is cut for all copies of a mold: that which every filling takes anew, or the rest."""
    boards = _shared(mold.name, lines, _paid_sheets(layouts), ("panel",), spent)
    sticks = _shared(mold.name, lines, _paid_sticks(layouts), ("stick", "pipe"), spent)
    return [*boards, *sticks]


def mix_cost(bought: Iterable[BuyLine], volume: float, whole: float) -> Cost:
    """What the mix of one piece costs: its share of what the mix takes, by volume.

    Args:
        bought: the buy list's lines of the mix.
        volume: of the piece, m3.
        whole: of all pieces cast, m3.
    """
    return _sum((line.item, None if line.cost is None else line.cost * volume / whole) for line in bought)


def _sum(costs: Iterable[tuple[str, float | None]]) -> Cost:
    known = list(costs)
    missing = dict.fromkeys(name for name, cost in known if cost is None)
    return Cost(sum(cost for _, cost in known if cost is not None), tuple(missing))


def _shared(
    name: str,
    lines: Sequence[CutLine],
    paid: dict[str, float | None],
    kinds: tuple[str, ...],
    spent: bool,
) -> list[tuple[str, float | None]]:
    """For each stock, what a mold's parts take of what was paid for it, for all copies of the mold."""
    found: list[tuple[str, float | None]] = []
    for stock, cost in paid.items():
        cut = [line for line in lines if line.part.kind in kinds and line.part.stock == stock]
        ours = sum(_size(line) for line in cut if line.mold == name and line.part.spent == spent)
        if ours:
            found.append((stock, None if cost is None else cost * ours / sum(_size(line) for line in cut)))
    return found


def _size(line: CutLine) -> float:
    """Area of panels, m2; length of sticks, m."""
    blank = line.part.blank
    return line.quantity * blank.length * (blank.width if line.part.kind == "panel" else 1.0)


def _paid_sheets(layouts: Layouts) -> dict[str, float | None]:
    bought = [
        (one.stock.name, one.count, 0.0 if one.stock.offcut else one.stock.price) for one in layouts.sheets
    ]
    return _paid(bought)


def _paid_sticks(layouts: Layouts) -> dict[str, float | None]:
    on_hand = {
        (one.stock.name, one.length)
        for one in layouts.sticks
        if any(length.offcut and length.length == one.length for length in one.stock.lengths)
    }
    return _paid(
        (one.stock.name, one.count, 0.0 if (one.stock.name, one.length) in on_hand else one.price)
        for one in layouts.sticks
    )


def _paid(bought: Iterable[tuple[str, int, float | None]]) -> dict[str, float | None]:
    """What was paid for each stock; None where any of it has no price."""
    paid: dict[str, float | None] = {}
    for name, count, price in bought:
        before = paid.get(name, 0.0)
        paid[name] = None if before is None or price is None else before + count * price
    return paid


def _thing(thing: Hardware, stock: Sequence[HardwareStock]) -> tuple[str, float | None]:
    one = sold_as(thing.item, thing.size, stock)
    cost = None if one is None or one.price is None else one.price * thing.quantity / one.per
    return thing.item, cost
