"""Which stock a mold is built from: what the person names, else what suits the number of uses and carries the mix."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from formwork.errors import StockError
from formwork.molds.levels import Levels
from formwork.molds.load import Load, sheet_section
from formwork.molds.rails import Rails, Side, cheapest
from formwork.project.records import MoldOptions, Shop
from formwork.record import record
from formwork.stock.records import HardwareStock, SheetStock, StickStock, StrapStock

FEW_USES = 5
"""Up to this many fillings screws hold; above it bolts, which do not wear their holes (common practice, no source)."""
MANY_USES = 20
"""Above this many fillings an overlaid face pays (common practice, no source)."""
_Stock = TypeVar("_Stock", SheetStock, StickStock)
_USUAL_THICKNESS = 0.018
_LEAST_STICK = 0.034
_BY_USES: dict[bool, tuple[str, ...]] = {
    False: ("plywood", "birch plywood", "overlaid plywood", "MDF", "melamine board"),
    True: ("overlaid plywood", "birch plywood", "plywood", "melamine board", "MDF"),
}


@record
class Stocks:
    """The stock one mold is built from.

    Attributes:
        sheet: for panels, base, core and dividers.
        stick: for cleats, rails and bars.
        inner: for the sticks inside a core.
        deep: side of the stick that stands off the panel, m.
        broad: side of the stick that lies on the panel, m.
        sticks: every stick the shop has, for strips ripped from the one that wastes least.
        hardware: every screw and bolt the shop lists.
        bolted: bolts with tee nuts instead of screws where parts come off at every filling.
        straps: every strap the shop lists.
        rails: heights of the middles of its rails, m; none of a mold without.
        trim: taken off the edges of a sheet before anything is cut from it, m.
    """

    sheet: SheetStock
    stick: StickStock
    deep: float
    broad: float
    inner: StickStock
    sticks: tuple[StickStock, ...]
    hardware: tuple[HardwareStock, ...]
    bolted: bool
    straps: tuple[StrapStock, ...] = ()
    rails: tuple[float, ...] = ()
    trim: float = 0.0


@record
class Task:
    """What the stock must do.

    Attributes:
        load: the mix.
        widest: length of the longest side of the mold, m.
        uses: fillings the mold is built for.
        around: length of all rails at one height, m.
        cleats: that stand in the corners.
        levels: what the person asks for of the rails.
    """

    load: Load
    widest: float
    uses: int
    around: float = 1.0
    cleats: int = 0
    levels: Levels = Levels("rail", None, None, "", "mm")

    @property
    def upright_grain(self) -> bool:
        """Every panel is higher than it is long, so that its grain stands upright."""
        return self.load.fill > self.widest


def choose(shop: Shop, options: MoldOptions, task: Task) -> Stocks:
    """The stock for a mold.

    The stick is the one whose rails carry the mix from corner to corner for the least money, flat or on edge; the one
    that is strained least where none does (the check then says so).

    Raises:
        GeometryError: where rails find no room as the person asks for them.
        StockError: where a named stock does not exist, or the shop has none at all.
    """
    sheet = usual_sheet(shop, options, task.uses)
    rails = _rails(usual_sticks(shop, options), sheet, task)
    inner = stout(shop.sticks)[0]
    return Stocks(
        sheet, rails.stick, rails.deep, rails.broad, inner, shop.sticks, shop.hardware, task.uses > FEW_USES,
        shop.straps, rails.heights, shop.saw.trim,
    )  # fmt: skip


def _rails(sticks: Sequence[StickStock], sheet: SheetStock, task: Task) -> Rails:
    section = sheet_section(sheet, task.upright_grain)
    side = Side(task.load, section, task.widest + sheet.thickness, task.around, task.cleats, task.levels)
    found = cheapest(side, sticks, by_the_metre(sticks))
    if found is None:
        raise StockError("the shop lists no sticks; add a [[stick]] to the shop file")
    return found


def cheap(sticks: Sequence[StickStock]) -> list[StickStock]:
    """Sticks in the order of what a metre costs; as they stand where that is the same."""
    price = by_the_metre(sticks)
    return sorted(sticks, key=lambda stick: price[stick.name])


def by_the_metre(sticks: Sequence[StickStock]) -> dict[str, float]:
    """What a metre of each stick costs, by name; its section, m2, where one of them has no price."""
    prices = {stick.name: _metre(stick) for stick in sticks}
    known = {name: price for name, price in prices.items() if price is not None}
    return known if len(known) == len(prices) else {one.name: one.thickness * one.width for one in sticks}


def _metre(stick: StickStock) -> float | None:
    """The best price of a metre among the lengths that are bought; None where none has a price."""
    prices = [one.price / one.length for one in stick.lengths if one.price is not None and not one.offcut]
    return min(prices, default=None)


def usual_sheet(shop: Shop, options: MoldOptions, uses: int) -> SheetStock:
    """The sheet a mold will be built from.

    Raises:
        StockError: where the named sheet does not exist, or the shop has none.
    """
    return named("sheet", options.sheet, shop.sheets) if options.sheet else _usual_sheet(shop.sheets, uses)


def usual_sticks(shop: Shop, options: MoldOptions) -> Sequence[StickStock]:
    """The sticks a mold may be built from: the named one alone, else every stout one, the cheapest first.

    Raises:
        StockError: where the named stick does not exist, or the shop has none.
    """
    return [named("stick", options.stick, shop.sticks)] if options.stick else cheap(stout(shop.sticks))


def _usual_sheet(sheets: Sequence[SheetStock], uses: int) -> SheetStock:
    whole = [sheet for sheet in sheets if not sheet.offcut]
    if not whole:
        raise StockError("the shop lists no sheets; add a [[sheet]] to the shop file")
    order = _BY_USES[uses > MANY_USES]

    def rank(sheet: SheetStock) -> tuple[int, float, float, str]:
        material = order.index(sheet.material) if sheet.material in order else len(order)
        return material, abs(sheet.thickness - _USUAL_THICKNESS), -sheet.length * sheet.width, sheet.name

    return min(whole, key=rank)


def stout(sticks: Sequence[StickStock]) -> list[StickStock]:
    """Sticks thick enough to take a screw in their side, the smallest section first.

    Raises:
        StockError: where the shop has none at all.
    """
    if not sticks:
        raise StockError("the shop lists no sticks; add a [[stick]] to the shop file")
    stout = [stick for stick in sticks if stick.thickness >= _LEAST_STICK]
    return sorted(stout or sticks, key=lambda stick: (stick.thickness * stick.width, stick.name))


def named(kind: str, name: str, known: Sequence[_Stock]) -> _Stock:
    """The stock of that name.

    Args:
        kind: key of the mold table that names it.
        name: of the stock.
        known: what the shop has.

    Raises:
        StockError: where there is none of that name.
    """
    for one in known:
        if one.name == name:
            return one
    names = sorted({one.name for one in known})
    from difflib import get_close_matches  # noqa: PLC0415 - only a wrong name needs it

    close = get_close_matches(name, names, n=1)
    hint = f" (did you mean '{close[0]}'?)" if close else ""
    raise StockError(f"mold.{kind}: got '{name}', want one of {', '.join(names)}{hint}")
