"""Sections as plain text: for the terminal and for the job sheet, readable where nothing but text is."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap
from typing import assert_never

from formwork.packet.blocks import Block, Line, Points, Section, Steps, Table

WIDTH = 100
"""Columns that running text is wrapped to; tables keep within it where they can."""
_GAP = 2
_NARROWEST = 16
"""A column of text is not made narrower than this."""


def print_out(sections: Iterable[Section], width: int = WIDTH) -> str:
    """The sections as text, each under its title, one line feed at the end.

    Args:
        sections: what to print.
        width: columns for running text.
    """
    return "\n".join(line for section in sections for line in section_lines(section, width)).rstrip() + "\n"


def section_lines(section: Section, width: int = WIDTH) -> list[str]:
    """One section: its title, a rule under it, its blocks, a blank line."""
    lines = [section.title, "-" * len(section.title)]
    for i, block in enumerate(section.blocks):
        if i and not (isinstance(block, Line) and isinstance(section.blocks[i - 1], Line)):
            lines.append("")
        lines += _block(block, width)
    return [*lines, ""]


def _block(block: Block, width: int) -> list[str]:
    match block:
        case Table():
            return table_lines(block, width)
        case Points():
            return _points(block, width)
        case Line():
            return wrap(block.text, width, break_on_hyphens=False) or [""]
        case Steps():
            return [block.title, *(f"    {line}" for line in block.lines)]
        case _:
            assert_never(block)


def _points(points: Points, width: int) -> list[str]:
    lines: list[str] = []
    for number, text in enumerate(points.lines, start=1):
        mark = f"{number}. " if points.numbered else "- "
        hang = " " * len(mark)
        lines += wrap(text, width, initial_indent=mark, subsequent_indent=hang, break_on_hyphens=False)
    return lines


def table_lines(table: Table, width: int = WIDTH) -> list[str]:
    """A table with columns two blanks apart, headings over a rule; long texts are wrapped within their column.

    Args:
        table: what to set.
        width: columns that the whole table should keep within, where its texts allow.
    """
    widths = _column_widths(table, width)
    lines = _row_lines(table.headings, widths, table.right)
    lines.append("  ".join("-" * column for column in widths))
    for row in table.rows:
        lines += _row_lines(row, widths, table.right)
    return lines


def _column_widths(table: Table, width: int) -> list[int]:
    """What each column takes: its longest text, or less for the widest columns of text where the room is short."""
    rows = (table.headings, *table.rows)
    widths = [max(len(row[i]) for row in rows) for i in range(len(table.headings))]
    excess = sum(widths) + _GAP * (len(widths) - 1) - width
    while excess > 0:
        yielding = [i for i in range(len(widths)) if i not in table.right and widths[i] > _NARROWEST]
        if not yielding:
            break
        widths[max(yielding, key=lambda i: widths[i])] -= 1
        excess -= 1
    return widths


def _row_lines(cells: tuple[str, ...], widths: list[int], right: frozenset[int]) -> list[str]:
    """One row, on as many lines as its longest wrapped text needs."""
    wrapped = [wrap(text, widths[i], break_on_hyphens=False) or [""] for i, text in enumerate(cells)]
    lines = []
    for depth in range(max(len(column) for column in wrapped)):
        parts = (column[depth] if depth < len(column) else "" for column in wrapped)
        set_out = (
            part.rjust(widths[i]) if i in right else part.ljust(widths[i]) for i, part in enumerate(parts)
        )
        lines.append((" " * _GAP).join(set_out).rstrip())
    return lines
