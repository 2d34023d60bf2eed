"""Which stock a mold is built from: what the person names, else what suits the number of uses."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

from formwork.errors import StockError
from formwork.stock.records import SheetStock, StickStock

FEW_USES = 5
"""Up to this many fillings screws hold; above it bolts, which do not wear their holes (common practice, no source)."""
MANY_USES = 20
"""Above this many fillings an overlaid face pays (common practice, no source)."""
_USUAL_THICKNESS = 0.018
_USUAL_STICK = 0.035
_BY_USES: dict[bool, tuple[str, ...]] = {
    False: ("plywood", "birch plywood", "overlaid plywood", "MDF", "melamine board"),
    True: ("overlaid plywood", "birch plywood", "plywood", "melamine board", "MDF"),
}


@dataclass(frozen=True, slots=True)
class Stocks:
    """The stock one mold is built from.

    Attributes:
        sheet: for panels, base, core and dividers.
        stick: for cleats, rails and bars.
        sticks: every stick the shop has, for strips ripped from the one that wastes least.
        bolted: bolts with tee nuts instead of screws where parts come off at every filling.
    """

    sheet: SheetStock
    stick: StickStock
    sticks: tuple[StickStock, ...]
    bolted: bool


def choose(
    sheets: tuple[SheetStock, ...], sticks: tuple[StickStock, ...], sheet: str | None, stick: str | None, uses: int
) -> Stocks:
    """The stock for a mold of so many uses.

    Raises:
        StockError: where a named stock does not exist, or the shop has none at all.
    """
    return Stocks(
        sheet=_named_sheet(sheets, sheet) if sheet else _usual_sheet(sheets, uses),
        stick=_named_stick(sticks, stick) if stick else _usual_stick(sticks),
        sticks=sticks,
        bolted=uses > FEW_USES,
    )


def _usual_sheet(sheets: tuple[SheetStock, ...], uses: int) -> SheetStock:
    whole = [sheet for sheet in sheets if not sheet.offcut]
    if not whole:
        raise StockError("the shop lists no sheets; add a [[sheet]] to the shop file")
    order = _BY_USES[uses > MANY_USES]

    def rank(sheet: SheetStock) -> tuple[int, float, float, str]:
        material = order.index(sheet.material) if sheet.material in order else len(order)
        return material, abs(sheet.thickness - _USUAL_THICKNESS), -sheet.length * sheet.width, sheet.name

    return min(whole, key=rank)


def _usual_stick(sticks: tuple[StickStock, ...]) -> StickStock:
    if not sticks:
        raise StockError("the shop lists no sticks; add a [[stick]] to the shop file")
    stout = [stick for stick in sticks if stick.thickness >= _USUAL_STICK]
    return min(stout or sticks, key=lambda stick: (stick.thickness * stick.width, stick.name))


def _named_sheet(sheets: tuple[SheetStock, ...], name: str) -> SheetStock:
    for sheet in sheets:
        if sheet.name == name:
            return sheet
    raise StockError(_unknown("sheet", name, [sheet.name for sheet in sheets]))


def _named_stick(sticks: tuple[StickStock, ...], name: str) -> StickStock:
    for stick in sticks:
        if stick.name == name:
            return stick
    raise StockError(_unknown("stick", name, [stick.name for stick in sticks]))


def _unknown(kind: str, name: str, known: list[str]) -> str:
    close = get_close_matches(name, known, n=1)
    hint = f" (did you mean '{close[0]}'?)" if close else ""
    return f"mold.{kind}: got '{name}', want one of {', '.join(sorted(set(known)))}{hint}"
