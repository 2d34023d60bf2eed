"""What a printed plan is made of: sections of tables, lists and lines, wherever they are shown.

The terminal, the job sheet and the page of the packet all print the same sections, so they cannot differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from typing import Protocol, TypeVar

from formwork.record import record


@record
class Table:
    """A table of ready-made texts.

    Attributes:
        headings: one for each column.
        rows: as many texts a row as there are headings.
        right: numbers of the columns that are set flush right.
    """

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        """Every row has one text for each heading.

        Raises:
            ValueError: if one has not.
        """
        if any(len(row) != len(self.headings) for row in self.rows):
            raise ValueError(f"a row does not fit the headings {self.headings}")


@record
class Points:
    """A list of lines: numbered steps, or items without an order.

    Attributes:
        lines: what stands in it.
        numbered: they are steps.
        anchors: for each line the place of the front page that it is; empty for none, and where none is.
    """

    lines: tuple[str, ...]
    numbered: bool = False
    anchors: tuple[str, ...] = ()


@record
class Line:
    """One plain line."""

    text: str


@record
class Steps:
    """The working of a check, line under line, each kept as it is."""

    title: str
    lines: tuple[str, ...]


Block = Table | Points | Line | Steps


@record
class Section:
    """A titled part of the printed plan.

    Attributes:
        title: as printed over it.
        blocks: what stands in it, in order.
        name: short name, for links; one word.
    """

    title: str
    blocks: tuple[Block, ...]
    name: str


def columns(*headings: str) -> tuple[tuple[str, ...], frozenset[int]]:
    """Headings, and the columns to set flush right: those whose heading is written with ``>`` before it.

    >>> columns("mark", ">long")
    (('mark', 'long'), frozenset({1}))
    """
    right = frozenset(i for i, heading in enumerate(headings) if heading.startswith(">"))
    return tuple(heading.removeprefix(">") for heading in headings), right


def table(headings: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> Table:
    """A table whose flush-right columns are those with ``>`` before their heading; empty columns are left out.

    >>> table(("mark", ">long", "grain"), [("A1", "600", ""), ("A2", "400", "")]).headings
    ('mark', 'long')
    """
    kept = [i for i in range(len(headings)) if not rows or any(row[i] for row in rows)]
    plain, right = columns(*(headings[i] for i in kept))
    return Table(plain, tuple(tuple(row[i] for i in kept) for row in rows), right)


class OfMold(Protocol):
    """Anything that belongs to one mold and says to which."""

    @property
    def mold(self) -> str:
        """The mold's name."""


T = TypeVar("T", bound=OfMold)


def by_mold(things: Iterable[T], show: Callable[[list[T]], Block]) -> Iterator[Block]:
    """A block for the things of each mold, under the mold's name where there is more than one."""
    groups = [(name, list(group)) for name, group in groupby(things, key=lambda thing: thing.mold)]
    for name, group in groups:
        if len(groups) > 1:
            yield Line(f"{name}:")
        yield show(group)
