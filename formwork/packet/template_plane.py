"""Patterns and pages in the plane of their set: what a page shows, what a pattern covers, where crosses stand; mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from formwork.geometry.outlines import Outline, Point, flattened
from formwork.packet.patterns import Pattern
from formwork.packet.template_sets import OVERLAP, TemplateSet

if TYPE_CHECKING:
    from shapely import Polygon

CHORD = 0.05
"""Arcs are drawn as chords that lie no further from them than this, mm."""


def corner(one: TemplateSet, row: int, column: int) -> Point:
    """The upper left corner of a page in its set, mm; rows count from the top."""
    step = (one.tile.width - OVERLAP, one.tile.height - OVERLAP)
    return column * step[0], one.height - row * step[1]


def shown(one: TemplateSet, row: int, column: int) -> Polygon:
    """What a page shows of its set."""
    import shapely  # noqa: PLC0415 - slow to load

    x, y = corner(one, row, column)
    return shapely.box(x, y - one.tile.height, x + one.tile.width, y)


def region(pattern: Pattern, by: Point) -> Polygon:
    """What a pattern covers that is moved along, its openings left out."""
    import shapely  # noqa: PLC0415 - slow to load

    rings = [[(x + by[0], y + by[1]) for x, y in flattened(one, CHORD)] for one in outlines(pattern)]
    return shapely.Polygon(rings[0], rings[1:])


def outlines(pattern: Pattern) -> tuple[Outline, ...]:
    """The outline, then the openings."""
    return (pattern.outline, *pattern.openings)


def crosses_of(one: TemplateSet) -> Iterator[Point]:
    """Two crosses in the middle of each band that adjoining pages share."""
    tile = one.tile
    for row in range(one.down):
        for column in range(one.across):
            x, y = corner(one, row, column)
            if column:
                yield from ((x + OVERLAP / 2.0, y - part * tile.height) for part in (0.2, 0.8))
            if row:
                yield from ((x + part * tile.width, y - OVERLAP / 2.0) for part in (0.2, 0.8))
