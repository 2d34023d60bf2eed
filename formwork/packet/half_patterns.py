"""Half of a pattern that is alike on both sides of its middle: drawn round, turned over and drawn round again.

It takes half the paper. All in mm.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

from formwork.geometry.outlines import Outline, Point
from formwork.packet.patterns import EdgeNote, Pattern
from formwork.packet.template_plane import region
from formwork.packet.template_sets import Tile

MARK = "half"
"""What stands beside the mark of a part of which half is printed."""
ALONG_THE_MIDDLE = "middle: turn it over about this line"
_ALIKE = 0.05
"""Sides that lie no further from one another than this are alike: no pencil line is finer."""
_END = 1e-6


def halved(whole: Pattern, page: Tile) -> Pattern:
    """Half of a pattern that is larger than a page and alike on both sides of its middle; any other as it is.

    Args:
        whole: the pattern.
        page: what a lying page shows.
    """
    if whole.length > page.width:
        half = _folded(whole)
        if half is not None:
            return half
    if whole.height > page.height:
        half = _folded(_turned(whole, 1))
        if half is not None:
            return _turned(half, -1)
    return whole


def _turned(one: Pattern, way: int) -> Pattern:
    """A pattern after a quarter turn, in the box from 0, 0 again: counter-clockwise for 1, clockwise for -1."""

    def at(point: Point) -> Point:
        x, y = point
        return (one.height - y, x) if way == 1 else (y, one.length - x)

    def laid(outline: Outline) -> Outline:
        return Outline(tuple(map(at, outline.points)), outline.bulges)

    return replace(
        one,
        outline=laid(one.outline),
        openings=tuple(map(laid, one.openings)),
        holes=tuple(replace(hole, at=at(hole.at)) for hole in one.holes),
        notes=tuple(EdgeNote(at(note.start), at(note.end), note.text) for note in one.notes),
        length=one.height,
        height=one.length,
    )


def _folded(whole: Pattern) -> Pattern | None:
    """The left half of a pattern that is alike on both sides of its upright middle; None of any other."""
    middle = whole.length / 2.0
    seen = region(whole, (0.0, 0.0))
    half = _left(seen, middle, whole.height)
    if half is None or not _alike(whole, seen, middle):
        return None
    return replace(
        whole,
        label=f"{whole.label} {MARK}",
        outline=_straight(half.exterior),
        holes=tuple(hole for hole in whole.holes if hole.at[0] <= middle + _END),
        notes=(*_notes(whole, middle), *_fold(half, middle)),
        length=middle,
        openings=tuple(_straight(ring) for ring in half.interiors),
    )


def _straight(ring: Any) -> Outline:
    points = tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1])
    return Outline(points, (0.0,) * len(points))


def _left(seen: Any, middle: float, height: float) -> Any:
    """What lies left of the middle, counter-clockwise; None where that is not in one piece."""
    import shapely  # noqa: PLC0415 - slow to load
    from shapely.geometry.polygon import orient  # noqa: PLC0415 - the same

    half = shapely.intersection(seen, shapely.box(-1.0, -1.0, middle, height + 1.0))
    return orient(half) if half.geom_type == "Polygon" else None


def _alike(whole: Pattern, seen: Any, middle: float) -> bool:
    """Whether outline, openings, holes and what is written along the edges are the same turned over."""
    import shapely  # noqa: PLC0415 - slow to load

    turned = shapely.transform(seen, lambda at: at * (-1.0, 1.0) + (2.0 * middle, 0.0))
    if shapely.symmetric_difference(seen, turned).area > _ALIKE * seen.length:
        return False
    holes = {(round(hole.at[0], 1), round(hole.at[1], 1), hole.text) for hole in whole.holes}
    if holes != {(round(2.0 * middle - x, 1), y, text) for x, y, text in holes}:
        return False
    return _words(whole.notes, 0.0, 1.0) == _words(whole.notes, 2.0 * middle, -1.0)


def _words(notes: tuple[EdgeNote, ...], start: float, way: float) -> set[tuple[int, int, str]]:
    """Where each note stands, as it is or turned over."""
    return {
        (
            round(start + way * (note.start[0] + note.end[0]) / 2.0),
            round((note.start[1] + note.end[1]) / 2.0),
            note.text,
        )
        for note in notes
    }


def _notes(whole: Pattern, middle: float) -> list[EdgeNote]:
    """The notes of the left half; one that runs over the middle as far as that."""
    kept = []
    for note in whole.notes:
        (x0, y0), (x1, y1) = note.start, note.end
        if max(x0, x1) <= middle + _END:
            kept.append(note)
        elif min(x0, x1) < middle - _END:
            share = (middle - x0) / (x1 - x0)
            meets = (middle, y0 + share * (y1 - y0))
            kept.append(
                EdgeNote(note.start, meets, note.text) if x0 < x1 else EdgeNote(meets, note.end, note.text)
            )
    return kept


def _fold(half: Any, middle: float) -> list[EdgeNote]:
    """The words along the middle, on each stretch of it that the half has."""
    ring = list(half.exterior.coords)
    return [
        EdgeNote(start, end, ALONG_THE_MIDDLE)
        for start, end in pairwise(ring)
        if abs(start[0] - middle) < _END and abs(end[0] - middle) < _END
    ]
