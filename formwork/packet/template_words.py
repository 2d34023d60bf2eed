"""What is written on full-size templates, and where: inside its part, on nothing else, whole on one page. In mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import atan2, degrees, hypot
from typing import TYPE_CHECKING

from formwork.geometry.outlines import Point
from formwork.packet.patterns import EdgeNote, Pattern
from formwork.packet.template_plane import crosses_of, region, shown
from formwork.packet.template_sets import TemplateSet
from formwork.record import record

if TYPE_CHECKING:
    from shapely import Polygon

_LARGE, _SMALL, _NOTE = 16.0, 9.0, 7.0
"""Sizes of type, points."""
_POINT = 25.4 / 72.0
_INSIDE = 3.0
"""From an edge to the middle of the text along it, mm."""
_LEAST_SEEN = 250.0
"""A piece of a pattern smaller than this (mm2) on a page is not labelled there again."""


@record
class Lettered:
    """A text centred at a point of the set, mm; its size in points, its angle in degrees, and the room it takes, mm."""

    at: Point
    text: str
    size: float
    angle: float
    width: float


def texts_of(pattern: Pattern, by: Point, one: TemplateSet) -> list[Lettered]:
    """The words on a pattern, its label again on every other page that shows it, the tilt along its edges."""
    along = [_edge_text(note, by, one) for note in pattern.notes]
    holes = [
        _text((hole.at[0] + by[0], hole.at[1] + by[1] + hole.across / 2.0 + 3.0), hole.text, _NOTE)
        for hole in pattern.holes
    ]
    written = [*(text for text in along if text), *holes]
    return [*written, *_labels(pattern, by, one, _taken(pattern, by, one, written))]


def _edge_text(note: EdgeNote, by: Point, one: TemplateSet) -> Lettered | None:
    """A text inside an edge, readable from below or from the right, whole on one page where it can be.

    None where the edge is too short for it: the cut list has the setting all the same.
    """
    (x0, y0), (x1, y1) = note.start, note.end
    run, rise = x1 - x0, y1 - y0
    long = hypot(run, rise)
    angle = degrees(atan2(rise, run))
    if not -90.0 + 1e-6 < angle <= 90.0 + 1e-6:
        angle += 180.0 if angle < 0.0 else -180.0

    def at(part: float) -> Lettered:
        x = x0 + part * run - _INSIDE * rise / long + by[0]
        y = y0 + part * rise + _INSIDE * run / long + by[1]
        return _text((x, y), note.text, _NOTE, angle)

    if at(0.5).width + 2 * _INSIDE > long:
        return None
    pages = [shown(one, row, column) for row in range(one.down) for column in range(one.across)]
    places = [at(part) for part in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)]
    whole = (text for text in places if any(page.contains(extent(text)) for page in pages))
    return next(whole, places[0])


def extent(text: Lettered) -> Polygon:
    """All that a text takes: its box where it is level, else the circle about it."""
    import shapely  # noqa: PLC0415 - slow to load

    return shapely.Point(text.at).buffer(text.width / 2.0 + 1.0) if text.angle else _box(text)


def _taken(pattern: Pattern, by: Point, one: TemplateSet, written: Iterable[Lettered]) -> Polygon:
    """Where a label would lie on something else: on other words, a hole or a cross."""
    import shapely  # noqa: PLC0415 - slow to load

    holes = [
        shapely.Point(hole.at[0] + by[0], hole.at[1] + by[1]).buffer(hole.across / 2.0 + 3.0)
        for hole in pattern.holes
    ]
    crosses = [shapely.Point(at).buffer(4.0) for at in crosses_of(one)]
    return shapely.union_all([*(extent(text) for text in written), *holes, *crosses])


def _labels(pattern: Pattern, by: Point, one: TemplateSet, taken: Polygon) -> list[Lettered]:
    outline = region(pattern, by)
    seen = [
        outline.intersection(shown(one, row, column))
        for row in range(one.down)
        for column in range(one.across)
    ]
    largest = max(seen, key=lambda part: round(part.area, 3))
    words = _words(pattern, largest, taken)
    for part in seen:
        if part is not largest and part.area >= _LEAST_SEEN:
            words += _words(pattern, part, taken, short=True)
    return words


def _words(pattern: Pattern, region: Polygon, taken: Polygon, *, short: bool = False) -> list[Lettered]:
    """Label and what else is written, the largest way that fits a region; at the least its label."""
    whole = (pattern.label, *pattern.about)
    choices = [] if short else [_block(whole, _LARGE), _block((pattern.label, ", ".join(whole[1:3])), _SMALL)]
    choices += [] if short else [_block((", ".join(whole[:3]),), _NOTE)]
    choices += [_block((pattern.label,), size) for size in (_LARGE, _SMALL, _NOTE)]
    room = region.buffer(-1.5).difference(taken)
    for block in choices:
        for middle in _spots(region):
            texts = [_text((middle[0], middle[1] + off), text, size) for text, size, off in block]
            if all(room.contains(_box(text)) for text in texts):
                return texts
    point = region.representative_point()
    return [_text((float(point.x), float(point.y)), pattern.label, _NOTE)]


_Lines = list[tuple[str, float, float]]


def _block(lines: tuple[str, ...], first: float) -> _Lines:
    """Lines one under the other about a point: text, size, and how far above the point."""
    sizes = [first, *(min(first, _SMALL) for _ in lines[1:])]
    pitches = [1.35 * size * _POINT for size in sizes]
    at = sum(pitches) / 2.0
    block: _Lines = []
    for text, size, pitch in zip(lines, sizes, pitches, strict=True):
        block.append((text, size, at - pitch / 2.0))
        at -= pitch
    return block


def _text(at: Point, text: str, size: float, angle: float = 0.0) -> Lettered:
    from formwork.drawings.lettering import ASCENT, width  # noqa: PLC0415 - drawings are slow to load

    return Lettered(at, text, size, angle, width(text, size * _POINT * ASCENT))


def _box(text: Lettered) -> Polygon:
    import shapely  # noqa: PLC0415 - slow to load

    half, high = text.width / 2.0, 0.6 * text.size * _POINT
    return shapely.box(text.at[0] - half, text.at[1] - high, text.at[0] + half, text.at[1] + high)


def _spots(region: Polygon) -> Iterator[Point]:
    """Where words may stand: the middle of a region, then a grid over its box."""
    x0, y0, x1, y1 = region.bounds
    yield (x0 + x1) / 2.0, (y0 + y1) / 2.0
    for i in (4, 3, 5, 2, 6, 1, 7):
        for j in (4, 3, 5, 2, 6, 1, 7):
            yield x0 + i * (x1 - x0) / 8.0, y0 + j * (y1 - y0) / 8.0
