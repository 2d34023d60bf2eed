"""Sections as plain text: for the terminal and for the job sheet, readable where nothing but text is."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap
from typing import assert_never

from formwork.packet.blocks import Block, Line, Points, Section, Steps, Table

WIDTH = 100
"""Columns that running text is wrapped to; tables take what they need."""


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
            return table_lines(block)
        case Points():
            return _points(block, width)
        case Line():
            return wrap(block.text, width) or [""]
        case Steps():
            return [block.title, *(f"    {line}" for line in block.lines)]
        case _:
            assert_never(block)


def _points(points: Points, width: int) -> list[str]:
    lines: list[str] = []
    for number, text in enumerate(points.lines, start=1):
        mark = f"{number}. " if points.numbered else "- "
        lines += wrap(text, width, initial_indent=mark, subsequent_indent=" " * len(mark))
    return lines


def table_lines(table: Table) -> list[str]:
    """A table with columns two blanks apart, headings over a rule."""
    rows = [table.headings, *table.rows]
    widths = [max(len(row[i]) for row in rows) for i in range(len(table.headings))]

    def line(cells: tuple[str, ...]) -> str:
        set_out = (
            text.rjust(widths[i]) if i in table.right else text.ljust(widths[i])
            for i, text in enumerate(cells)
        )
        return "  ".join(set_out).rstrip()

    return [
        line(table.headings),
        "  ".join("-" * width for width in widths),
        *(line(row) for row in table.rows),
    ]
