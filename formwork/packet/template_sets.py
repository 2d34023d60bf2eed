"""Patterns laid out on sets of pages that are joined to one large sheet: which lie together, on how many pages.

A set is as many pages wide and high as its first pattern needs; the others fill what is left of it, so that paper is
saved. All in mm; a set's origin is its lower left corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from formwork.errors import OutputError
from formwork.packet.papers import Paper
from formwork.packet.patterns import Pattern
from formwork.record import record

OVERLAP = 10.0
"""Adjoining pages show this much of one another, mm."""
MARGIN, LEFT, FOOT = 7.0, 9.0, 15.0
"""Round every page what a printer may leave white; at its left and foot the room for bars and words, mm."""
APART = 6.0
"""Between patterns, and between a pattern and the border of its set, mm."""


_ROLL = 841.0 - 2 * MARGIN - LEFT
"""What a roll as wide as A0 (ISO 216) shows, mm; the page is wider where a pattern is longer."""
_SHORTEST = 130.0
"""The least height that leaves room for the upright bar, mm."""


@record
class Tile:
    """What one page shows of a set, mm."""

    width: float
    height: float


@record
class TemplateSet:
    """Patterns that share a set of pages.

    Attributes:
        tile: what each page shows.
        across: pages side by side.
        down: pages one above the other.
        placed: lower left corner of each pattern's box, and the pattern.
    """

    tile: Tile
    across: int
    down: int
    placed: tuple[tuple[float, float, Pattern], ...]

    @property
    def width(self) -> float:
        """Of all pages joined, mm."""
        return joined(self.across, self.tile.width)

    @property
    def height(self) -> float:
        """Of all pages joined, mm."""
        return joined(self.down, self.tile.height)


def tiles(paper: Paper) -> tuple[Tile, ...]:
    """What a lying and a standing page of a paper can show; only one of them where the other is too low for its bar.

    Raises:
        OutputError: if neither has room for the bars that a person measures.
    """
    both = (
        Tile(width - 2 * MARGIN - LEFT, height - 2 * MARGIN - FOOT)
        for width, height in ((paper.height, paper.width), (paper.width, paper.height))
    )
    fit = tuple(tile for tile in both if min(tile.width, tile.height) >= _SHORTEST)
    if not fit:
        raise OutputError(
            f"{paper.name} is too small for full-size templates: within its margins want at least {_SHORTEST:g} mm "
            "each way, for the bars to measure"
        )
    return fit


def joined(pages: int, side: float) -> float:
    """What so many pages show together, each overlapping the next.

    >>> joined(2, 200.0)
    390.0
    """
    return pages * (side - OVERLAP) + OVERLAP


def needed(extent: float, side: float) -> int:
    """How many pages show an extent.

    >>> needed(200.0, 200.0), needed(200.1, 200.0), needed(390.0, 200.0)
    (1, 2, 2)
    """
    return max(1, ceil((extent - OVERLAP) / (side - OVERLAP) - 1e-9))


@record
class _Shelf:
    """A row of patterns in a set: its foot, its height, and what stands in it."""

    foot: float
    height: float
    row: list[Pattern]

    @property
    def used(self) -> float:
        return sum(one.length + APART for one in self.row) + APART


@record
class _Open:
    """A set that still takes patterns."""

    tile: Tile
    across: int
    down: int
    shelves: list[_Shelf]

    def takes(self, one: Pattern) -> bool:
        """Put a pattern on a shelf or on a new one above; whether there was room."""
        width, height = joined(self.across, self.tile.width), joined(self.down, self.tile.height)
        for shelf in self.shelves:
            if one.height <= shelf.height and shelf.used + one.length + APART <= width:
                shelf.row.append(one)
                return True
        foot = sum(shelf.height + APART for shelf in self.shelves) + APART
        if one.length + 2 * APART <= width and foot + one.height + APART <= height:
            self.shelves.append(_Shelf(foot, one.height, [one]))
            return True
        return False

    def closed(self) -> TemplateSet:
        """The set with every pattern in its place."""
        placed = []
        for shelf in self.shelves:
            x = APART
            for one in shelf.row:
                placed.append((x, shelf.foot, one))
                x += one.length + APART
        return TemplateSet(self.tile, self.across, self.down, tuple(placed))


def lay_out(wanted: Sequence[Pattern], paper: Paper) -> tuple[TemplateSet, ...]:
    """The patterns on sets of pages: the highest first, each where there is room, else on a set of its own."""
    sets: list[_Open] = []
    for one in _highest_first(wanted):
        if not any(each.takes(one) for each in sets):
            fresh = _for(one, paper)
            fresh.takes(one)
            sets.append(fresh)
    return tuple(each.closed() for each in sets)


def one_page(wanted: Sequence[Pattern]) -> TemplateSet:
    """All patterns on one page as long as it must be, for paper off a roll."""
    width = max(_ROLL, *(pattern.length + 2 * APART for pattern in wanted))
    endless = _Open(Tile(width, 1e6), 1, 1, [])
    for one in _highest_first(wanted):
        endless.takes(one)
    height = sum(shelf.height + APART for shelf in endless.shelves) + APART
    return _Open(Tile(width, max(height, _SHORTEST)), 1, 1, endless.shelves).closed()


def _highest_first(wanted: Sequence[Pattern]) -> list[Pattern]:
    return sorted(wanted, key=lambda pattern: (-round(pattern.height, 3), -round(pattern.length, 3)))


def _for(one: Pattern, paper: Paper) -> _Open:
    """The smallest set that shows a pattern, of lying pages or of standing ones."""
    choices = [
        _Open(
            tile, needed(one.length + 2 * APART, tile.width), needed(one.height + 2 * APART, tile.height), []
        )
        for tile in tiles(paper)
    ]
    return min(choices, key=lambda choice: choice.across * choice.down)
