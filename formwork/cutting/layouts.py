"""From the cut list to layouts: which blanks fall on which sheet, which lengths in which stick, each plan judged."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from formwork.cutting.cut_list import CutLine
from formwork.cutting.judge import judge_sheets, judge_sticks
from formwork.cutting.records import Bound, Saw, SheetLayout, SheetPart, StickLayout, StickPart
from formwork.cutting.sheets import nest
from formwork.cutting.sticks import cut_sticks
from formwork.errors import StockError
from formwork.stock.records import SheetStock, StickStock

_STAGES = 3
_SAME = 1e-4
_KEEPS_GRAIN = ("panel", "core wall", "divider", "liner")

Show = Callable[[float], str]


@dataclass(frozen=True, slots=True)
class Layouts:
    """Everything to be cut, laid out on stock, with how far each plan is from the best possible."""

    sheets: tuple[SheetLayout, ...]
    sticks: tuple[StickLayout, ...]
    bounds: tuple[Bound, ...]


def lay_out(
    lines: Iterable[CutLine],
    sheets: tuple[SheetStock, ...],
    sticks: tuple[StickStock, ...],
    saw: Saw,
    show: Show,
) -> Layouts:
    """Lay every part out on the stock it is cut from.

    Args:
        lines: the cut list.
        sheets: the shop's sheets, offcuts among them.
        sticks: the shop's sticks.
        saw: kerf and trims.
        show: how messages write a length (m).

    Raises:
        StockError: where a part fits no stock, or the stock runs out.
    """
    by_stock: dict[tuple[str, str], list[CutLine]] = {}
    for line in lines:
        if line.part.kind in ("panel", "stick"):
            by_stock.setdefault((line.part.kind, line.part.stock), []).append(line)
    sheet_layouts: list[SheetLayout] = []
    stick_layouts: list[StickLayout] = []
    bounds: list[Bound] = []
    for (kind, name), some in by_stock.items():
        if kind == "panel":
            serving = _serving(sheets, name)
            parts = [_sheet_part(line, grain=serving[0].grain) for line in some]
            plan = nest(parts, serving, saw, _STAGES, show=show)
            judge_sheets(parts, serving, saw, _STAGES, plan)
            sheet_layouts.extend(plan.layouts)
            bounds.append(plan.bound)
        else:
            stock = _stick(sticks, name)
            lengths = [StickPart(line.label, line.part.blank.length, line.quantity) for line in some]
            cut = cut_sticks(lengths, stock, saw, show=show)
            judge_sticks(lengths, stock, saw, cut)
            stick_layouts.extend(cut.layouts)
            bounds.append(cut.bound)
    return Layouts(tuple(sheet_layouts), tuple(stick_layouts), tuple(bounds))


def _sheet_part(line: CutLine, grain: bool) -> SheetPart:
    """Panels that carry the mix keep their grain; a base, a cap or a rib may turn."""
    may_turn = not grain or line.part.role not in _KEEPS_GRAIN
    return SheetPart(line.label, line.part.blank.length, line.part.blank.width, line.quantity, may_turn)


def _serving(sheets: tuple[SheetStock, ...], name: str) -> tuple[SheetStock, ...]:
    """The named sheet first, then others of its material and thickness: other sizes, offcuts on hand.

    Raises:
        StockError: where there is none of that name.
    """
    named = next((sheet for sheet in sheets if sheet.name == name), None)
    if named is None:
        raise StockError(f"sheet: got '{name}', which the shop does not list")
    alike = (
        sheet
        for sheet in sheets
        if sheet is not named
        and sheet.material == named.material
        and abs(sheet.thickness - named.thickness) < _SAME
    )
    return (named, *alike)


def _stick(sticks: tuple[StickStock, ...], name: str) -> StickStock:
    for stick in sticks:
        if stick.name == name:
            return stick
    raise StockError(f"stick: got '{name}', which the shop does not list")
