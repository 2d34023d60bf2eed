"""Blocks of the printed plan as the page templates read them: plain dictionaries, every text ready-made."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, assert_never

from formwork.packet.blocks import Block, Line, Points, Steps, Table
from formwork.packet.typeset import breakable

Entry = dict[str, Any]
_MARK = "mark"
_MOST_BOXES = 6
"""A row of more pieces than this has one box for all."""


def entries(blocks: Iterable[Block], tick: str | int = 0) -> list[Entry]:
    """The blocks for the template.

    Args:
        blocks: in their order.
        tick: how many boxes to tick each row of a table has, or the heading of the column that says so; tables
            without that column have none.
    """
    return [_entry(block, tick) for block in together(blocks)]


def together(blocks: Iterable[Block]) -> list[Block]:
    """Lists that say the same under several names once, under all of them."""
    found: list[Block] = []
    for block in blocks:
        if isinstance(block, Points) and len(found) >= 3 and found[-2] == block and _both_named(found):
            name = found.pop()
            first = found[-2]
            assert isinstance(name, Line) and isinstance(first, Line)
            found[-2] = Line(_joined(first.text, name.text))
        else:
            found.append(block)
    return found


def _joined(first: str, second: str) -> str:
    """Two names with what both say after their last comma once.

    >>> _joined("one mold:", "other mold:"), _joined("one, screws out first:", "other, screws out first:")
    ('one mold, other mold:', 'one, other, screws out first:')
    """
    rest = second.rpartition(", ")[2]
    if ", " in second and first.endswith(f", {rest}"):
        return f"{first.removesuffix(rest)}{second}"
    return f"{first.removesuffix(':')}, {second}"


def _both_named(found: Sequence[Block]) -> bool:
    """Whether the last block names what follows, as the block before the last list does."""
    return all(isinstance(block, Line) and block.text.endswith(":") for block in (found[-1], found[-3]))


def _entry(block: Block, tick: str | int) -> Entry:
    match block:
        case Table():
            return table_entry(block, _boxes(block, tick))
        case Points():
            return {
                "kind": "points",
                "lines": [breakable(text) for text in block.lines],
                "numbered": block.numbered,
            }
        case Line():
            return {"kind": "line", "text": breakable(block.text)}
        case Steps():
            return {
                "kind": "steps",
                "title": breakable(block.title),
                "lines": [breakable(text) for text in block.lines],
            }
        case _:
            assert_never(block)


def table_entry(table: Table, boxes: Sequence[int] = ()) -> Entry:
    """A table; ``boxes`` says how many boxes to tick stand before each row, ``carried`` whose mark is from above."""
    return {
        "kind": "table",
        "headings": [breakable(text) for text in table.headings],
        "rows": [[breakable(text) for text in row] for row in _marked(table)],
        "right": sorted(table.right),
        "boxes": list(boxes),
        "carried": [table.headings[0] == _MARK and not row[0] for row in table.rows],
    }


def _marked(table: Table) -> list[tuple[str, ...]]:
    """The rows, those without a mark with that of the row above: a page may begin with any of them."""
    if table.headings[0] != _MARK:
        return list(table.rows)
    rows: list[tuple[str, ...]] = []
    for row in table.rows:
        rows.append((row[0] or (rows[-1][0] if rows else ""), *row[1:]))
    return rows


def _boxes(table: Table, tick: str | int) -> list[int]:
    if isinstance(tick, int):
        return [_so_many(tick)] * len(table.rows) if tick else []
    if tick not in table.headings:
        return []
    column = table.headings.index(tick)
    return [_so_many(int(row[column])) for row in table.rows]


def _so_many(pieces: int) -> int:
    return pieces if pieces <= _MOST_BOXES else 1
