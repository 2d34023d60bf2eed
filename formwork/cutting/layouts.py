"""From the cut list to layouts: which blanks fall on which sheet, which lengths in which stick, each plan judged."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from formwork.cutting.curves import aslant, by_jigsaw
from formwork.cutting.cut_list import CutLine
from formwork.cutting.judge import judge_sheets, judge_sticks
from formwork.cutting.records import (
    Bound,
    SheetLayout,
    SheetPart,
    SheetPlan,
    StickLayout,
    StickPart,
    StickPlan,
)
from formwork.cutting.search import USUAL, Search
from formwork.cutting.sheets import nest
from formwork.cutting.sticks import cut_sticks
from formwork.errors import StockError
from formwork.record import record
from formwork.stock.records import Saw, SheetStock, StickStock

_STAGES = 3
_SAME = 1e-4
_KEEPS_GRAIN = ("panel", "core wall", "divider", "liner", "skin")

Show = Callable[[float], str]


@record
class Yard:
    """What parts are cut from, and how.

    Attributes:
        sheets: the shop's sheets, offcuts among them.
        sticks: the shop's sticks and pipes.
        saw: kerf and trims.
        show: how messages write a length (m).
        where: for the name of a mold, the place of its piece in the project file, for messages.
        search: how long to look for fewer sheets.
    """

    sheets: tuple[SheetStock, ...]
    sticks: tuple[StickStock, ...]
    saw: Saw
    show: Show
    where: Mapping[str, str]
    search: Search = USUAL


@record
class Layouts:
    """Everything to be cut, laid out on stock, with how far each plan is from the best possible."""

    sheets: tuple[SheetLayout, ...]
    sticks: tuple[StickLayout, ...]
    bounds: tuple[Bound, ...]


def lay_out(lines: Iterable[CutLine], yard: Yard) -> Layouts:
    """Lay every part out on the stock it is cut from.

    Args:
        lines: the cut list.
        yard: what it is cut from, and how.

    Raises:
        StockError: where a part fits no stock, or the stock runs out.
    """
    by_stock: dict[tuple[str, str], list[CutLine]] = {}
    for line in lines:
        if line.part.kind in ("panel", "stick", "pipe"):
            by_stock.setdefault((line.part.kind, line.part.stock), []).append(line)
    sheets: list[SheetPlan] = []
    sticks: list[StickPlan] = []
    for (kind, name), some in by_stock.items():
        try:
            if kind == "panel":
                sheets.append(_on_sheets(some, yard, name))
            else:
                sticks.append(_on_sticks(some, yard, name))
        except StockError as refused:
            raise StockError(_told(str(refused), some, yard.where)) from refused
    return Layouts(
        tuple(layout for plan in sheets for layout in plan.layouts),
        tuple(layout for plan in sticks for layout in plan.layouts),
        (*(plan.bound for plan in sheets), *(plan.bound for plan in sticks)),
    )


def _on_sheets(lines: Sequence[CutLine], yard: Yard, name: str) -> SheetPlan:
    serving = _serving(yard.sheets, name)
    parts = [_sheet_part(line, grain=serving[0].grain) for line in lines]
    if any(line.part.blank.openings or by_jigsaw(line.part.blank.edge) for line in lines):
        plan = _in_rows(lines, parts, serving, yard)
    else:
        effort, stopped = yard.search.effort, yard.search.stopped
        plan = nest(parts, serving, yard.saw, _STAGES, effort=effort, show=yard.show, stopped=stopped)
        several = sum(layout.count for layout in plan.layouts) > 1
        if several and any(aslant(line.part.blank.edge) for line in lines):
            plan = _in_rows(lines, parts, serving, yard, plan)
    judge_sheets(parts, serving, yard.saw, _STAGES, plan)
    return plan


def _in_rows(
    lines: Sequence[CutLine],
    parts: Sequence[SheetPart],
    serving: Sequence[SheetStock],
    yard: Yard,
    singly: SheetPlan | None = None,
) -> SheetPlan:
    """Curved and tapered parts in rows or in the openings of others, where that saves sheets."""
    from formwork.cutting.judge_rows import judge_rows  # noqa: PLC0415 - most molds have no part in a row
    from formwork.cutting.nested import nest_with_rows  # noqa: PLC0415 - the same

    plan = nest_with_rows(lines, parts, serving, yard.saw, _STAGES, yard.show, yard.search, singly)
    judge_rows({line.label: line.part.blank for line in lines}, yard.saw, plan)
    return plan


def _on_sticks(lines: Sequence[CutLine], yard: Yard, name: str) -> StickPlan:
    stock = _stick(yard.sticks, name, pipe=lines[0].part.kind == "pipe")
    parts = [StickPart(line.label, line.part.blank.length, line.quantity) for line in lines]
    saw = replace(yard.saw, end_trim=0.0) if stock.square else yard.saw
    plan = cut_sticks(parts, stock, saw, show=yard.show)
    judge_sticks(parts, stock, saw, plan)
    return plan


def _told(message: str, lines: Sequence[CutLine], where: Mapping[str, str]) -> str:
    """The message with the name of the part whose label it begins with, and the place of its piece in the file."""
    for line in lines:
        if message.startswith(f"{line.label} "):
            place = where.get(line.mold, "")
            return f"{place}: {line.mold}, {line.names[0]}: {message}" if place else message
    return message


def _sheet_part(line: CutLine, grain: bool) -> SheetPart:
    """Panels that carry the mix and skins that are bent keep their grain; a base, a cap or a rib may turn."""
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


def _stick(sticks: tuple[StickStock, ...], name: str, *, pipe: bool) -> StickStock:
    for stick in sticks:
        if stick.name == name and (stick.wall > 0.0) == pipe:
            return stick
    raise StockError(f"{'pipe' if pipe else 'stick'}: got '{name}', which the shop does not list")
