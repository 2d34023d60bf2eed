"""A list of parts on a drawing: label, what it is, how many, size, stock; in mm on paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from formwork.cutting.cut_list import CutLine
from formwork.drawings.layers import TEXTS, TITLE
from formwork.drawings.lettering import fitted, width
from formwork.drawings.scene import Item, Line, Text

SIZE = 2.5
"""Height of the letters, mm."""
_LINE = 4.6
_GAP = 3.0
_WIDEST = (14.0, 62.0, 8.0, 52.0, 34.0)
_HEADS = ("part", "name", "off", "size", "from")

Row = tuple[str, str, str, str, str]


def part_list(lines: Sequence[CutLine], copies: int, figures: Callable[[float], str]) -> tuple[Item, ...]:
    """The list as items, its lower left corner at the origin.

    Args:
        lines: of the cut list, for one mold.
        copies: how many equal molds the quantities are for.
        figures: from m to what a person reads.
    """
    rows: list[Row] = [_HEADS, *(_row(line, copies, figures) for line in lines)]
    widths = [min(_WIDEST[c], max(width(row[c], SIZE) for row in rows)) for c in range(5)]
    starts = [sum(widths[:c]) + _GAP * c for c in range(5)]
    items: list[Item] = []
    for r, row in enumerate(rows):
        y = (len(rows) - 1 - r) * _LINE
        for c, text in enumerate(row):
            items.append(Text(TEXTS, (starts[c], y + 1.2), fitted(text, SIZE, widths[c]), SIZE))
    level = (len(rows) - 1) * _LINE - 0.2
    items.append(Line(TITLE, (0.0, level), (starts[4] + widths[4], level)))
    return tuple(items)


def _row(line: CutLine, copies: int, figures: Callable[[float], str]) -> Row:
    blank = line.part.blank
    size = " x ".join(figures(v) for v in (blank.length, blank.width, blank.thickness))
    each = line.quantity / max(1, copies)
    return (line.label, _called(line.names), f"{each:g}", size, line.part.stock)


def _called(names: Sequence[str]) -> str:
    """The names in one line; where they are too many for it, the words they share (numbers fall away)."""
    whole = ", ".join(names)
    if width(whole, SIZE) <= _WIDEST[1]:
        return whole
    words = [name.split() for name in names]
    shared = [word for word in words[0] if all(word in other for other in words)]
    return " ".join(shared).replace(" in cavity", "") or whole
