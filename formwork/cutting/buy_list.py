"""The buy list: sheets, sticks, hardware and what the mix takes, with the shop's prices."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import ceil
from typing import Protocol

from formwork.cutting.cut_list import cast_in_besides
from formwork.cutting.layouts import Layouts
from formwork.mix.batches import totals
from formwork.mix.pour_records import Batch, Pour
from formwork.mix.records import Cement, Foam, Mix
from formwork.molds.mold import Hardware, Mold
from formwork.record import record
from formwork.shapes.piece import Embedded
from formwork.stock.goods import GOODS, said
from formwork.stock.records import HardwareStock
from formwork.units import show
from formwork.units.show import UnitSystem

Show = Callable[[float], str]

_WATER = 1000.0
_POUND = 0.45359237
_GALLON = 3.785411784
"""L in a US gallon."""


@record
class BuyLine:
    """One line of the buy list; cost is None where the shop gives no price."""

    item: str
    quantity: float
    unit: str
    cost: float | None
    use: str = ""


def sheets_and_sticks(layouts: Layouts, length: Show) -> tuple[BuyLine, ...]:
    """What is bought of sheet and stick, and of pipe and tube by the length; offcuts on hand are not bought.

    Args:
        layouts: where every part falls.
        length: how a person reads a length (m).
    """
    found: dict[tuple[str, str], tuple[int, float | None]] = {}
    for sheet in layouts.sheets:
        if not sheet.stock.offcut:
            stock = sheet.stock
            size = f"{stock.name}, {length(stock.length)} x {length(stock.width)}"
            _count(found, (size, "sheet"), sheet.count, stock.price)
    for stick in layouts.sticks:
        on_hand = any(one.offcut and one.length == stick.length for one in stick.stock.lengths)
        if not on_hand:
            size, unit = (
                f"{stick.stock.name}, {length(stick.length)}",
                "length" if stick.stock.wall else "stick",
            )
            _count(found, (size, unit), stick.count, stick.price)
    return tuple(
        BuyLine(item, count, unit, None if price is None else price * count)
        for (item, unit), (count, price) in found.items()
    )


def _count(
    found: dict[tuple[str, str], tuple[int, float | None]],
    key: tuple[str, str],
    count: int,
    price: float | None,
) -> None:
    before, _ = found.get(key, (0, price))
    found[key] = (before + count, price)


class Fitted(Protocol):
    """A mold or frame with what is bought by the piece for one of it, and how many of it are built."""

    @property
    def hardware(self) -> tuple[Hardware, ...]:
        """For one."""

    @property
    def copies(self) -> int:
        """How many are built."""


def hardware(
    molds: Iterable[Fitted], stock: Sequence[HardwareStock], units: UnitSystem
) -> tuple[BuyLine, ...]:
    """Everything bought by the piece, for all copies of all molds and frames, in the units the shop buys it in."""
    needs: dict[tuple[str, str, str], tuple[float, list[str]]] = {}
    for mold in molds:
        for line in mold.hardware:
            amount, uses = needs.get((line.item, line.size, line.unit), (0.0, []))
            needs[line.item, line.size, line.unit] = (amount + line.quantity * mold.copies, [*uses, line.use])
    return tuple(
        _bought(
            Hardware(
                item,
                size,
                amount,
                unit,
                "; ".join(dict.fromkeys(each for use in uses for each in use.split("; "))),
            ),
            stock,
            units,
        )
        for (item, size, unit), (amount, uses) in needs.items()
    )


def embedded(molds: Iterable[tuple[Mold, int]], length: Show) -> tuple[BuyLine, ...]:
    """What stays in the pieces, and the spacers that hold it off the mold.

    Args:
        molds: each mold, and how many of its pieces are wanted.
        length: how a person reads a length (m).
    """
    lines = []
    for mold, count in molds:
        for thing in cast_in_besides(mold):
            name = _named(thing, length)
            amount, unit = (
                (thing.mass * count, "kg") if thing.kind == "fibres" else (thing.count * count, "piece")
            )
            lines.append(BuyLine(name, amount, unit, None, f"stays in the {mold.piece.name}: {thing.name}"))
            if thing.spacers:
                spacers = thing.spacers * count
                lines.append(
                    BuyLine(f"spacer, {length(thing.cover)}", spacers, "piece", None, f"for the {thing.name}")
                )
    return tuple(lines)


def _named(thing: Embedded, length: Show) -> str:
    """What to ask for: material, opening and wire of a mesh, diameter and cut size of the rest."""
    item = f"{thing.material} {thing.item}".strip()
    if thing.pitch:
        cut = f"{length(thing.width)} x {length(thing.length)}"
        return f"{item}, {length(thing.pitch)} openings of {length(thing.diameter)} wire, {cut}"
    sizes = [length(side) for side in (thing.diameter, thing.width, thing.length) if side]
    return f"{item}, {' x '.join(sizes)}" if sizes else item


def sold_as(item: str, size: str, stock: Sequence[HardwareStock]) -> HardwareStock | None:
    """The shop's line for a thing, by item and size, or by item alone where the need names no size.

    Args:
        item: what is needed.
        size: as the need states it; empty where it has none.
        stock: the shop's hardware.
    """
    plain = size.removesuffix(" in")
    return next(
        (one for one in stock if one.item == item and (one.size.removesuffix(" in") == plain or not size)),
        None,
    )


def _bought(line: Hardware, stock: Sequence[HardwareStock], units: UnitSystem) -> BuyLine:
    """A need in the unit it is sold in, where the shop sells it."""
    name = f"{line.item}, {line.size}" if line.size else line.item
    one = sold_as(line.item, line.size, stock)
    if one is not None:
        count = ceil(line.quantity / one.per - 1e-9)
        sold = f"{one.item}, {one.size}" if one.size else one.item
        cost = None if one.price is None else one.price * count
        return BuyLine(sold, count, one.unit, cost, line.use)
    unit, of_si = said(line.item, units)
    if unit != "piece":
        return BuyLine(name, line.quantity / of_si, unit, None, line.use)
    return BuyLine(name, float(ceil(line.quantity - 1e-9)), line.unit, None, line.use)


def mix_goods(
    pours: Sequence[Pour],
    mix: Mix,
    cement: Cement,
    foam: Foam,
    stock: Sequence[HardwareStock],
    units: UnitSystem,
) -> tuple[BuyLine, ...]:
    """Cement in whole bags, all else by mass or as the shop buys it, concentrate with its reserve.

    Args:
        pours: every pour.
        mix: one cubic metre of it.
        cement: of the shop.
        foam: of the shop.
        stock: what else the shop buys, with its prices.
        units: of the person.
    """
    batches: list[Batch] = [batch for pour in pours for batch in pour.batches]
    need = totals(batches)
    name, price = (mix.dry_mix, mix.bag_price) if mix.dry_mix else (f"cement, {cement.name}", cement.price)
    cost = None if price is None else price * need.bags
    lines = [BuyLine(name, need.bags, f"bag of {show.mass(mix.bag, units)}", cost, "all pours")]
    solids = (("sand", need.sand), ("fly ash", need.ash), ("gravel", need.gravel))
    for name, amount in (*solids, *need.others, ("fibres", need.fibres)):
        if amount > 0.0 and name != mix.dry_mix:
            lines.append(_weighed(name, amount, stock, units))
    if mix.foam_volume > 0.0:
        litres = need.concentrate / _WATER * 1000.0
        cost = None if foam.price is None else foam.price * litres
        measured = (litres / _GALLON, "US gal") if units == "in" else (litres, "L")
        use = f"1 part to {foam.dilution:g} of water, reserve in"
        lines.append(BuyLine("foam concentrate", *measured, cost, use))
    return tuple(lines)


def _weighed(name: str, amount: float, stock: Sequence[HardwareStock], units: UnitSystem) -> BuyLine:
    """So much (kg) of what goes in the mixer, by the bag where the shop buys it so."""
    if name in GOODS:
        return _bought(Hardware(name, "", amount, "kg", "all pours"), stock, units)
    weighed = (amount / _POUND, "lb") if units == "in" else (amount, "kg")
    return BuyLine(name, *weighed, None, "all pours")
