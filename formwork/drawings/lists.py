"""A list of parts on a drawing: label, what it is, how many, size, stock; in mm on paper."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil

from formwork.cutting.cut_list import CutLine
from formwork.drawings.frames import Point
from formwork.drawings.layers import TEXTS, TITLE
from formwork.drawings.lettering import fitted, width, wrapped
from formwork.drawings.scene import Item, Line, Text, bounds

SIZE = 2.5
"""Height of the letters, mm."""
_LINE = 4.6
_GAP = 3.0
_WIDEST = (14.0, 62.0, 8.0, 52.0, 34.0)
_HEADS = ("part", "name", "off", "size", "from")

Row = tuple[str, str, str, str, str]


def part_list(
    lines: Sequence[CutLine], copies: int, figures: Callable[[float], str], longest: int = 30
) -> tuple[Item, ...]:
    """The list as items, its lower left corner at the origin; a long one in columns.

    Args:
        lines: of the cut list, for one mold.
        copies: how many equal molds the quantities are for.
        figures: from m to what a person reads.
        longest: rows of one column.
    """
    rows = [_row(line, copies, figures) for line in lines]
    columns = max(1, ceil(len(rows) / longest))
    height = ceil(len(rows) / columns) or 1
    widths = [min(_WIDEST[c], max(width(row[c], SIZE) for row in (_HEADS, *rows))) for c in range(5)]
    step = sum(widths) + 6.0 * _GAP
    return tuple(
        item
        for k in range(columns)
        for item in _column(rows[k * height : (k + 1) * height], widths, (k * step, height * _LINE))
    )


def _column(rows: Sequence[Row], widths: Sequence[float], at: Point) -> Iterator[Item]:
    """Heads and rows, hung from the line under the heads."""
    starts = [at[0] + sum(widths[:c]) + _GAP * c for c in range(5)]
    for r, row in enumerate((_HEADS, *rows)):
        y = at[1] - r * _LINE + 1.2
        for start, room, text in zip(starts, widths, row, strict=True):
            yield Text(TEXTS, (start, y), fitted(text, SIZE, room), SIZE)
    yield Line(TITLE, (at[0], at[1] - 0.2), (starts[4] + widths[4], at[1] - 0.2))


def notes_under(items: Sequence[Item], notes: Sequence[str]) -> tuple[Item, ...]:
    """A list with notes under it, wrapped to its width or to half a page."""
    (left, low), (right, _) = bounds(items)
    room = max(right - left, 150.0)
    lines = [line for note in notes for line in wrapped(note, SIZE, room)]
    first = low - 4.0 - SIZE
    return (*items, *(Text(TEXTS, (left, first - i * _LINE), line, SIZE) for i, line in enumerate(lines)))


def _row(line: CutLine, copies: int, figures: Callable[[float], str]) -> Row:
    blank = line.part.blank
    size = " x ".join(figures(v) for v in (blank.length, blank.width, blank.thickness))
    if blank.wall:
        size = f"{figures(blank.length)} x {figures(blank.width)} outside"
    each = len(line.names) * line.part.layers if line.part.spent else line.quantity / max(1, copies)
    return (line.label, _called(line.names), f"{each:g}", size, line.part.stock)


def _called(names: Sequence[str]) -> str:
    """The names in one line; where they are too many for it, the words they share (numbers fall away)."""
    whole = ", ".join(names)
    if width(whole, SIZE) <= _WIDEST[1]:
        return whole
    words = [name.split() for name in names]
    shared = [word for word in words[0] if all(word in other for other in words)]
    return " ".join(shared).removeprefix("cavity ") or whole
