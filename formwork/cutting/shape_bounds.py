"""What no cutting of parts with curves and slants can cost less than, however they share blanks.

Bounds on rectangles do not hold where two parts share a blank. What holds is the area of the parts themselves, and
every bound on rectangles that lie inside the parts: these are as far apart as the parts are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, pi

from formwork.cutting.bounds import Least, least_cost
from formwork.cutting.curves import by_jigsaw
from formwork.cutting.cut_list import CutLine
from formwork.cutting.job import sheet_job
from formwork.cutting.records import SheetPart
from formwork.geometry.outlines import Point, area
from formwork.molds.mold import Blank
from formwork.stock.records import Saw, SheetStock

_SAME = 1e-9

_EDGE = 1e-6
"""Corners nearer to the edge of a part than this, m, lie on it."""

_ANY_STAGES = 9
"""Turns of the saw do not matter to a bound."""


def least_of_shapes(
    lines: Sequence[CutLine],
    parts: Sequence[SheetPart],
    stock: Sequence[SheetStock],
    saw: Saw,
    enough: float,
) -> Least:
    """A cost that no plan goes below.

    Args:
        lines: of the cut list, for one kind of sheet.
        parts: their blanks, one for each line, m.
        stock: sheets that serve for them.
        saw: kerf and trim, m.
        enough: a cost that some plan reaches: the search for a better bound stops there.
    """
    best = Least(least_by_area(lines, stock), "area of the parts")
    inside = [
        within for line, part in zip(lines, parts, strict=True) for within in _within(line.part.blank, part)
    ]
    if best.cost >= enough - _SAME or not inside:
        return best
    job = sheet_job(inside, stock, saw, _ANY_STAGES)
    other = least_cost(job.kinds, job.sheets, enough, straight=False)
    return other if other.cost > best.cost else best


def _within(blank: Blank, part: SheetPart) -> list[SheetPart]:
    """The larger of the two rectangles, as wide or as long as the part, that lie inside it; none in a curved one."""
    if blank.openings or by_jigsaw(blank.edge):
        return []
    tall, long = _shared(blank.outline), _shared([(y, x) for x, y in blank.outline])
    length, width = max((tall, blank.width), (blank.length, long), key=lambda one: one[0] * one[1])
    return [replace(part, length=length, width=width)] if min(length, width) > _EDGE else []


def _shared(outline: Sequence[Point]) -> float:
    """How far the lowest and the highest edge of a part without inner corners lie over one another, m."""
    low, high = min(y for _, y in outline), max(y for _, y in outline)
    lower, upper = ([x for x, y in outline if abs(y - level) < _EDGE] for level in (low, high))
    return min(max(lower), max(upper)) - max(min(lower), min(upper))


def least_by_area(lines: Sequence[CutLine], stock: Sequence[SheetStock]) -> float:
    """What no cutting can cost less than, by the area of the parts themselves.

    The sheets that are cheapest by area are used up first, as if nothing were lost. Where only one kind can be had
    without limit, what the others cannot give takes whole sheets of it.

    Args:
        lines: of the cut list.
        stock: sheets that serve for them.
    """
    total = sum(line.quantity * _area(line.part.blank) for line in lines)
    priced = all(sheet.price is not None for sheet in stock if not sheet.offcut)
    sheets = [
        ((sheet.price or 0.0) if priced else float(not sheet.offcut), sheet.length * sheet.width, sheet.limit)
        for sheet in stock
    ]
    least, left = 0.0, total
    for cost, size, limit in sorted(sheets, key=lambda one: one[0] / one[1]):
        taken = left if limit is None else min(left, limit * size)
        least, left = least + cost * taken / size, left - taken
    endless = [(cost, size) for cost, size, limit in sheets if limit is None]
    if len(set(endless)) == 1:
        cost, size = endless[0]
        rest = total - sum(each * (limit or 0) for _, each, limit in sheets)
        least = max(least, cost * ceil(max(0.0, rest) / size - _SAME))
    return least


def _area(blank: Blank) -> float:
    """Of the part itself, without what is cut out of it."""
    holes = sum(pi / 4.0 * across**2 for _, _, across in blank.holes)
    return area(blank.edge) - holes - sum(area(opening) for opening in blank.openings)
