"""A sheet job in whole numbers: blanks and sheets grown by one kerf, what each sheet costs, what can never fit.

Blanks and trimmed sheets are both grown by one kerf: then a straight through cut costs nothing more, and n blanks
beside each other need n - 1 kerfs, the last of which may fall on the edge.

Sizes are counted in steps of 10 nm, blanks rounded down and sheets up. So whatever fits in metres fits here, a
bound found here is a bound, and a row of blanks is off by less than a ten-thousandth of a millimetre for each.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor, isfinite
from typing import NamedTuple

from formwork.cutting.records import SheetPart
from formwork.errors import RangeError, StockError
from formwork.record import record
from formwork.stock.records import Saw, SheetStock

FINE = 1e-8
"""Step in which sizes are counted, m."""

_NOISE = 1e-4
"""Of a step: what is nearer than this to a whole number is that number, and only off by floating point."""

Show = Callable[[float], str]
"""How a length (m) is written for the person."""


def in_mm(value: float) -> str:
    """A length in m written in millimetres, the way messages show it unless told otherwise."""
    return f"{round(value * 1000, 1):g} mm"


class Sheet(NamedTuple):
    """One kind and size of sheet in whole numbers.

    Attributes:
        length, width: trimmed and grown by a kerf, steps.
        cost: of one; 1 where prices are missing, 0 for an offcut on hand without a price.
        limit: how many can be had.
        missing: stands for sheets the shop does not have; dearer than anything it has.
    """

    length: int
    width: int
    cost: float
    limit: int
    missing: bool = False


class Kinds(NamedTuple):
    """Grown sizes of the kinds of blank, which may turn, and how many of each."""

    lengths: tuple[int, ...]
    widths: tuple[int, ...]
    turns: tuple[bool, ...]
    wanted: tuple[int, ...]


@record
class SheetJob:
    """What the packer works on.

    Attributes:
        parts: the kinds of blank, equal ones taken together.
        kinds: the same in whole numbers.
        stock: what each sheet is.
        sheets: the same in whole numbers; sheets the shop does not have stand at the end.
        saw: kerf and trims.
        stages: most turns of the saw.
        priced: cost is money; else it counts sheets.
    """

    parts: tuple[SheetPart, ...]
    kinds: Kinds
    stock: tuple[SheetStock, ...]
    sheets: tuple[Sheet, ...]
    saw: Saw
    stages: int
    priced: bool


def steps_down(value: float) -> int:
    """A size in m as whole steps, rounded down, but one at least."""
    return max(1, floor(value / FINE + _NOISE))


def steps_up(value: float) -> int:
    """A size in m as whole steps, rounded up."""
    return ceil(value / FINE - _NOISE)


def sheet_job(
    parts: Sequence[SheetPart], stock: Sequence[SheetStock], saw: Saw, stages: int, show: Show = in_mm
) -> SheetJob:
    """Take parts, stock and saw into whole numbers.

    Args:
        parts: blanks to cut, m.
        stock: sheets that serve for them, m.
        saw: kerf and trims, m.
        stages: most turns of the saw, 2 or more.
        show: how messages write a length.

    Raises:
        RangeError: a size, a quantity or the saw makes no sense.
        StockError: a part is larger than every sheet.
    """
    check_saw(saw)
    if stages < 2:
        raise RangeError(f"stages: got {stages}, want 2 or more: a part is cut free along and across")
    together = _together(parts)
    priced = all(sheet.price is not None for sheet in stock if not sheet.offcut)
    sheets = [_sheet(sheet, saw, priced) for sheet in stock]
    kinds = _kinds(together, sheets, saw)
    for kind, part in enumerate(together):
        if not any(fits(kinds, kind, sheet) for sheet in sheets):
            raise StockError(_too_large(part, stock, saw, show))
    dear = 1e6 * (1.0 + max((sheet.cost for sheet in sheets), default=0.0))
    missing = [
        (one, sheet._replace(cost=dear, limit=sum(kinds.wanted), missing=True))
        for one, sheet in zip(stock, sheets, strict=True)
        if one.limit is not None
    ]
    return SheetJob(
        together,
        kinds,
        (*stock, *(one for one, _ in missing)),
        (*sheets, *(sheet for _, sheet in missing)),
        saw,
        stages,
        priced,
    )


def _kinds(parts: tuple[SheetPart, ...], sheets: Sequence[Sheet], saw: Saw) -> Kinds:
    lengths = tuple(steps_down(part.length + saw.kerf) for part in parts)
    widths = tuple(steps_down(part.width + saw.kerf) for part in parts)
    turns = tuple(
        part.may_turn and a != b and any(b <= sheet.length and a <= sheet.width for sheet in sheets)
        for part, a, b in zip(parts, lengths, widths, strict=True)
    )
    return Kinds(lengths, widths, turns, tuple(part.quantity for part in parts))


def fits(kinds: Kinds, kind: int, sheet: Sheet) -> bool:
    """One blank of the kind fits the empty sheet, turned if it may be."""
    length, width = kinds.lengths[kind], kinds.widths[kind]
    if length <= sheet.length and width <= sheet.width:
        return True
    return kinds.turns[kind] and width <= sheet.length and length <= sheet.width


def check_saw(saw: Saw) -> None:
    """Refuse a saw that cannot be: a negative or unknown kerf or trim (m).

    Raises:
        RangeError: naming the value.
    """
    for name, value in (("kerf", saw.kerf), ("trim", saw.trim), ("end trim", saw.end_trim)):
        if not isfinite(value) or value < 0.0:
            raise RangeError(f"saw {name}: got {value} m, want 0 or more")


def check_size(name: str, value: float) -> None:
    """Refuse a size (m) that is not above nought.

    Raises:
        RangeError: naming the value.
    """
    if not isfinite(value) or value <= 0.0:
        raise RangeError(f"{name}: got {value} m, want more than 0")


def check_count(name: str, value: int) -> None:
    """Refuse a negative number of things.

    Raises:
        RangeError: naming the value.
    """
    if value < 0:
        raise RangeError(f"{name}: got {value}, want 0 or more")


def _sheet(sheet: SheetStock, saw: Saw, priced: bool) -> Sheet:
    check_size(f"sheet {sheet.name} length", sheet.length)
    check_size(f"sheet {sheet.name} width", sheet.width)
    if sheet.limit is not None:
        check_count(f"sheet {sheet.name} number on hand", sheet.limit)
    cost = (sheet.price or 0.0) if priced else float(not sheet.offcut)
    if not isfinite(cost) or cost < 0.0:
        raise RangeError(f"sheet {sheet.name} price: got {cost}, want 0 or more")
    return Sheet(
        steps_up(sheet.length - 2.0 * saw.trim + saw.kerf),
        steps_up(sheet.width - 2.0 * saw.trim + saw.kerf),
        cost,
        sheet.limit if sheet.limit is not None else 1 << 60,
    )


def _together(parts: Sequence[SheetPart]) -> tuple[SheetPart, ...]:
    """Parts that are equal in all but quantity as one, in the order first met."""
    counts: dict[tuple[str, float, float, bool], int] = {}
    for part in parts:
        check_size(f"part {part.label} length", part.length)
        check_size(f"part {part.label} width", part.width)
        check_count(f"part {part.label} quantity", part.quantity)
        key = (part.label, part.length, part.width, part.may_turn)
        counts[key] = counts.get(key, 0) + part.quantity
    return tuple(SheetPart(*key[:3], count, key[3]) for key, count in counts.items() if count)


def _too_large(part: SheetPart, stock: Sequence[SheetStock], saw: Saw, show: Show) -> str:
    """Say by how much a part is larger than the sheet that comes nearest, and what would help."""
    what = f"{part.label} ({show(part.length)} x {show(part.width)})"
    if not stock:
        return f"{what}: there is no sheet to cut it from; add one to the shop's stock"
    near = min(stock, key=lambda sheet: sum(_over(part, sheet, saw)))
    long, wide = _over(part, near, saw)
    clear = f"{show(near.length - 2.0 * saw.trim)} x {show(near.width - 2.0 * saw.trim)}"
    over = [f"{show(more)} too {way}" for more, way in ((long, "long"), (wide, "wide")) if more > 0.0]
    trimmed = " once its edges are trimmed" if saw.trim else ""
    return (
        f"{what} fits no sheet: {near.name}, the nearest, gives {clear}{trimmed}, so the part is "
        f"{' and '.join(over)}; {_remedy(part, stock, saw, show)}"
    )


def _over(part: SheetPart, sheet: SheetStock, saw: Saw) -> tuple[float, float]:
    """By how much a part is longer and wider than a trimmed sheet, m; laid the better way if it may turn."""
    room = (sheet.length - 2.0 * saw.trim, sheet.width - 2.0 * saw.trim)
    ways = [(part.length, part.width)] + [(part.width, part.length)] * part.may_turn
    over = [(max(0.0, long - room[0]), max(0.0, wide - room[1])) for long, wide in ways]
    return min(over, key=sum)


def _remedy(part: SheetPart, stock: Sequence[SheetStock], saw: Saw, show: Show) -> str:
    turned = SheetPart(part.label, part.width, part.length, part.quantity, False)
    for sheet in stock:
        if not part.may_turn and not any(_over(turned, sheet, saw)):
            return f"turned across the grain it would fit {sheet.name}"
        if not any(_over(part, sheet, Saw(saw.kerf, 0.0))):
            return f"it would fit {sheet.name} with less trimmed off its edges"
    need = f"{show(part.length + 2.0 * saw.trim)} x {show(part.width + 2.0 * saw.trim)}"
    return f"it takes a sheet of {need} or more, or a part joined from two with a splice"
