"""Sheets whose curved and tapered parts stand in rows, or in the openings of others, so that sheets come out fewest.

Each way of sharing the parts of a label out over rows is laid out as plain rectangles by ``sheets.nest``; the ways of
the labels are tried one after another, without and with parts in openings, and the best layout found is kept: the
cheapest, of these the one that leaves the largest offcut, then the one with fewest layouts and fewest blanks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil, inf

from formwork.cutting.cut_list import CutLine
from formwork.cutting.drops import Stack, stacks
from formwork.cutting.job import Show
from formwork.cutting.records import Bound, Placed, SheetLayout, SheetPart, SheetPlan, Spot
from formwork.cutting.rows import Lying, Row, rows
from formwork.cutting.search import Search
from formwork.cutting.shape_bounds import least_by_area, least_of_shapes
from formwork.cutting.sheets import nest
from formwork.errors import StockError
from formwork.record import record
from formwork.stock.records import Saw, SheetStock

_TRIES, _TRIES_MANY, _BLANKS = 24, 2, 600
"""Layouts tried of one kind of sheet: no more than the first, no fewer than the second, and between these as many as
come to so many blanks laid out in all."""
_TRIES_SINGLY = 4
"""The same where no part is curved, and rows save little."""
_PATIENCE = 5
"""After so many tries that cost no less, what is found is kept."""
_NUMBERS = 3
"""Numbers to a row that are tried of each row, the largest that fits first."""
_TRIED = 0.25
"""Effort spent on a layout while others are still to be tried."""
_SAME = 1e-9


@record
class Sharing:
    """How the parts of one label are shared out over rows.

    Attributes:
        row: how they stand.
        most: how many in a full row.
        singly: what is left over from full rows is cut one by one, not in a shorter row.
    """

    row: Row
    most: int
    singly: bool = False

    def blanks(self, number: int) -> Iterator[tuple[int, int]]:
        """How many stand in a blank, and how many such blanks there are."""
        full, rest = divmod(number, self.most)
        if full:
            yield self.most, full
        if rest:
            yield (1, rest) if self.singly else (rest, 1)


Ways = Mapping[str, Sharing]
Worth = tuple[float, float, int, int]
"""Of a plan, less is better: its cost, minus its largest offcut (m2), its layouts, its blanks."""


@record
class Wanted:
    """What is laid out, and on what; ``parts`` by their labels."""

    parts: Mapping[str, SheetPart]
    stock: Sequence[SheetStock]
    saw: Saw
    stages: int
    show: Show
    search: Search

    def laid(self, ways: Ways, share: float = 1.0, least: float | None = None) -> SheetPlan:
        """The plan with these parts in rows, for a share of the effort; where a bound is given, none is worked out.

        Raises:
            StockError: a part is larger than every sheet, or the sheets on hand are too few.
        """
        return nest(
            self.blanks(ways),
            self.stock,
            self.saw,
            self.stages,
            effort=share * self.search.effort,
            show=self.show,
            stopped=self.search.stopped,
            known=least,
        )

    def blanks(self, ways: Ways) -> list[SheetPart]:
        """The blanks that all parts are cut from, with these in rows."""
        return [blank for part in self.parts.values() for blank in _blanks(part, ways.get(part.label))]


def nest_with_rows(
    lines: Sequence[CutLine],
    parts: Sequence[SheetPart],
    stock: Sequence[SheetStock],
    saw: Saw,
    stages: int,
    show: Show,
    search: Search,
    singly: SheetPlan | None = None,
) -> SheetPlan:
    """Place all parts on sheets, curved and tapered ones in rows where that saves sheets.

    Args:
        lines: of the cut list, for one kind of sheet.
        parts: their blanks, one for each line, m.
        stock: sheets that serve for all of them, m.
        saw: kerf and trim, m.
        stages: most turns of the saw.
        show: how messages write a length (m).
        search: how long to look.
        singly: a plan without rows, where no part is curved: it stands unless rows save sheets.

    Raises:
        RangeError: a size, a quantity or the saw makes no sense.
        StockError: a part is larger than every sheet, or the sheets on hand are too few.
    """
    wanted = Wanted({part.label: part for part in parts}, stock, saw, stages, show, search)
    lying = stacks(lines, saw.kerf)
    choices, least = _choices(lines, wanted), least_by_area(lines, stock)
    if singly and not _may_save(choices, wanted, singly):
        return _bounded(singly, lines, wanted)
    if any(len(one.lines) > 1 for one in lying):
        within = replace(wanted, parts=_within(wanted.parts, lying))
        plain, better = _Tried(wanted, least), _Tried(within, least)
        plain.see({})
        plain.see(_promising(choices))
        _choose(better, _choices(lines, within), _TRIES)
        best = min(plain, better, key=lambda tried: tried.worth)
    elif choices:
        best = _Tried(wanted, least)
        if not singly:
            best.see({})
        _choose(best, choices, _TRIES_SINGLY if singly else _TRIES)
    else:
        return wanted.laid({})
    if singly and singly.bound.used <= best.worth[0] + _SAME:
        return _bounded(singly, lines, wanted, best.stopped)
    plan = best.wanted.laid(best.best)
    held = dict(_held(best, lines, lying))
    return _bounded(SheetPlan(tuple(_opened(one, held) for one in plan.layouts), plan.bound), lines, wanted)


def _bounded(plan: SheetPlan, lines: Sequence[CutLine], wanted: Wanted, stopped: bool = False) -> SheetPlan:
    """The plan with what no cutting can cost less than, whatever shares a blank.

    Where trying rows was stopped, so was the search.
    """
    used = plan.bound.used
    least = least_of_shapes(
        lines, [wanted.parts[line.label] for line in lines], wanted.stock, wanted.saw, used
    )
    proven = least.cost >= used - _SAME
    stopped = (stopped or plan.bound.stopped) and not proven
    bound = Bound(plan.bound.stock, used, min(least.cost, used), proven, least.method, stopped)
    return replace(plan, bound=bound)


def _may_save(choices: Mapping[str, Sequence[Sharing]], wanted: Wanted, singly: SheetPlan) -> bool:
    """Whether the sheets without the smallest of them would have room for the blanks with parts in rows."""
    kerf = wanted.saw.kerf
    blanks = wanted.blanks(_promising(choices))
    need = sum((one.length + kerf) * (one.width + kerf) * one.quantity for one in blanks)
    sizes = [one.stock.length * one.stock.width for one in singly.layouts for _ in range(one.count)]
    return bool(choices) and need <= sum(sizes) - min(sizes, default=0.0)


def _within(parts: Mapping[str, SheetPart], lying: Sequence[Stack]) -> dict[str, SheetPart]:
    """The blanks of parts that lie in openings of others and of those that hold them, and the rest as they are."""
    found: dict[str, SheetPart] = {}
    for one in lying:
        outer = parts[one.lines[0].label]
        turns = all(parts[line.label].may_turn for line in one.lines)
        found[one.label] = SheetPart(one.label, outer.length, outer.width, one.count, turns)
    return found


def _choices(lines: Sequence[CutLine], wanted: Wanted) -> dict[str, list[Sharing]]:
    """For each label with parts of its own that rows may save sheet with, the ways to share them out."""
    found = {line.label: _sharings(line, wanted) for line in lines if line.label in wanted.parts}
    return {label: some for label, some in found.items() if some}


def _blanks(part: SheetPart, way: Sharing | None) -> Iterator[SheetPart]:
    """The blanks that the parts of a label are cut from."""
    for number, count in way.blanks(part.quantity) if way else [(1, part.quantity)]:
        if way is None or number == 1:
            yield replace(part, quantity=count)
        else:
            blank = way.row.nest(number)
            yield SheetPart(nest_label(number, part.label), blank.length, blank.width, count, part.may_turn)


def nest_label(number: int, label: str) -> str:
    """What a blank of so many parts is called.

    >>> nest_label(8, "A3")
    '8 x A3'
    """
    return f"{number} x {label}"


def _sharings(line: CutLine, wanted: Wanted) -> list[Sharing]:
    """The ways of one label that are worth trying, the most promising first."""
    part = wanted.parts[line.label]
    found: list[Sharing] = []
    for row in rows(line.part.blank, wanted.saw.kerf) if part.quantity > 1 else ():
        fitting = {most for sheet in wanted.stock for most in _fitting(row, sheet, wanted.saw, part)}
        for most in sorted(fitting, reverse=True):
            found += [Sharing(row, number) for number in _numbers(part.quantity, most)]
            if part.quantity % most > 1:
                found.append(Sharing(row, most, singly=True))
    return sorted(dict.fromkeys(found), key=lambda way: -min(part.quantity, _on_a_sheet(way, wanted, part)))


def _on_a_sheet(way: Sharing, wanted: Wanted, part: SheetPart) -> int:
    """How many parts the first sheet gives in full rows that lie one way."""
    sheet, saw, row = wanted.stock[0], wanted.saw, way.row.nest(way.most)
    room = [side - 2.0 * saw.trim + saw.kerf for side in (sheet.length, sheet.width)]
    size = [row.length + saw.kerf, row.width + saw.kerf]
    counts = [int(room[0] / one) * int(room[1] / other) for one, other in (size, size[::-1])]
    return way.most * max(counts if part.may_turn else counts[:1])


def _fitting(row: Row, sheet: SheetStock, saw: Saw, part: SheetPart) -> Iterator[int]:
    """How many of a row at most fit a sheet, for each way the row may lie; two or more."""
    room = (sheet.length - 2.0 * saw.trim, sheet.width - 2.0 * saw.trim)
    for long, wide in (room, room[::-1]) if part.may_turn else (room,):
        along, across = (wide, long) if row.upward else (long, wide)
        first, beside = (row.width, row.length) if row.upward else (row.length, row.width)
        number = 1
        while number < part.quantity and first + row.reach(number + 1) <= along:
            number += 1
        if number > 1 and beside <= across:
            yield number


def _numbers(quantity: int, most: int) -> list[int]:
    """Full rows first, then shorter ones that come out even over more blanks."""
    rows_needed = ceil(quantity / most)
    even = (ceil(quantity / count) for count in range(rows_needed, rows_needed + _NUMBERS))
    return [number for number in dict.fromkeys((most, *even)) if number > 1][:_NUMBERS]


def _promising(choices: Mapping[str, Sequence[Sharing]]) -> Ways:
    """The most promising row for each label."""
    return {label: some[0] for label, some in choices.items()}


def _choose(tried: _Tried, choices: Mapping[str, Sequence[Sharing]], tries: int) -> None:
    """Try the most promising row for each label, then changes of one label at a time."""
    first = _promising(choices)
    blanks = sum(blank.quantity for blank in tried.wanted.blanks(first))
    most = max(_TRIES_MANY, min(tries, _BLANKS // max(1, blanks)))
    tried.see(first)
    for label, some in choices.items():
        others = {one: way for one, way in tried.best.items() if one != label}
        for ways in ({**others, label: way} for way in some):
            if len(tried.seen) >= most or tried.idle >= _PATIENCE or tried.worth[0] <= tried.least + _SAME:
                return
            tried.see(ways)
        tried.see(others)


@dataclass(slots=True)
class _Tried:
    """What has been tried, and the best of it; no plan costs less than ``least``."""

    wanted: Wanted
    least: float
    best: Ways = field(default_factory=dict)
    worth: Worth = (inf, 0.0, 0, 0)
    seen: set[frozenset[tuple[str, Sharing]]] = field(default_factory=set)
    idle: int = 0
    stopped: bool = False

    def see(self, ways: Ways) -> None:
        """Lay a plan out and keep it if it is the best so far; what does not fit the stock is passed over."""
        key = frozenset(ways.items())
        if key in self.seen:
            return
        self.seen.add(key)
        try:
            plan = self.wanted.laid(ways, _TRIED, self.least)
        except StockError:
            return
        self.stopped = self.stopped or plan.bound.stopped
        worth = _worth(plan)
        self.idle = 0 if worth[0] < self.worth[0] else self.idle + 1
        if worth < self.worth:
            self.best, self.worth = ways, worth


def _worth(plan: SheetPlan) -> Worth:
    offcuts = [left.length * left.width for one in plan.layouts for left in one.offcuts]
    blanks = sum(one.count * len(one.placed) for one in plan.layouts)
    return round(plan.bound.used, 9), -round(max(offcuts, default=0.0), 6), len(plan.layouts), blanks


@record
class _Held:
    """What comes out of a blank: its width (m), and each part's line and place in it."""

    width: float
    parts: tuple[tuple[CutLine, Lying], ...]


def _held(tried: _Tried, lines: Sequence[CutLine], lying: Sequence[Stack]) -> Iterator[tuple[str, _Held]]:
    """What comes out of every blank that holds several parts, by the blank's label."""
    for line in lines:
        way = tried.best.get(line.label)
        for number, _ in way.blanks(tried.wanted.parts[line.label].quantity) if way else ():
            if way and number > 1:
                row = way.row.nest(number)
                yield (
                    nest_label(number, line.label),
                    _Held(row.width, tuple((line, one) for one in row.parts)),
                )
    for one in lying:
        if len(one.lines) > 1:
            yield (
                one.label,
                _Held(one.lines[0].part.blank.width, tuple(zip(one.lines, one.places, strict=True))),
            )


def _opened(layout: SheetLayout, held: Mapping[str, _Held]) -> SheetLayout:
    """A layout whose blanks say which parts come out of them."""
    placed = (
        replace(one, nested=tuple(_spots(one, held[one.label]))) if one.label in held else one
        for one in layout.placed
    )
    return replace(layout, placed=tuple(placed))


def _spots(placed: Placed, held: _Held) -> Iterator[Spot]:
    """Where the parts of a blank lie on the sheet."""
    for line, one in held.parts:
        x, y, quarters = one.x, one.y, 2 if one.half_round else 0
        if placed.turned:
            x, y, quarters = held.width - one.y - line.part.blank.width, one.x, quarters + 1
        yield Spot(line.label, placed.x + x, placed.y + y, quarters)
