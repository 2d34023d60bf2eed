"""Full-size templates: every part that straight cuts do not make at true scale, over pages joined by their crosses.

Each page shows a rectangle of its set and 10 mm of its neighbours. Crosses stand in the middle of what two pages share,
at the same place on both: laid over one another on a window pane they bring the pages together. Two bars on every page
tell whether the printer kept to 100 %. Pages that would show nothing are left out. Discs and rings take no paper: a
trammel strikes them, and the first page has their radii.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import atan2, degrees, hypot
from string import ascii_uppercase
from typing import TYPE_CHECKING

from formwork.geometry.outlines import Outline, Point, flattened
from formwork.packet.papers import Paper
from formwork.packet.patterns import EdgeNote, Pattern, patterns
from formwork.packet.print_blocks import Entry
from formwork.packet.template_sets import FOOT, LEFT, MARGIN, OVERLAP, TemplateSet, lay_out, one_page
from formwork.packet.typeset import breakable, typeset
from formwork.plan import Plan
from formwork.record import record
from formwork.units.show import UnitSystem

if TYPE_CHECKING:
    from shapely import Polygon

TEMPLATE = "full-size.typ"
BARS: dict[UnitSystem, tuple[float, str]] = {"mm": (100.0, "100 mm"), "in": (101.6, "4 in")}
"""Length of the bars to measure, mm, and how they are called."""
_LARGE, _SMALL, _NOTE = 16.0, 9.0, 7.0
"""Sizes of type, points."""
_POINT = 25.4 / 72.0
_INSIDE = 3.0
"""From an edge to the middle of the text along it, mm."""
_CHORD = 0.05
"""Arcs are drawn as chords that lie no further from them than this, mm."""
_LEAST_SEEN = 250.0
"""A piece of a pattern smaller than this (mm2) on a page is not labelled there again."""


@record
class _Text:
    """A text centred at a point of the set, mm; its size in points, its angle in degrees, and the room it takes, mm."""

    at: Point
    text: str
    size: float
    angle: float
    width: float


def full_size(plan: Plan, paper: Paper) -> bytes | None:
    """The templates as a PDF; None where every part is a rectangle.

    Args:
        plan: the plan.
        paper: to print on.

    Raises:
        InternalError: if the page template refuses them.
    """
    wanted = patterns(plan)
    if not wanted:
        return None
    sets = lay_out([one for one in wanted if not one.radii], paper)
    struck = [one for one in wanted if one.radii]
    return typeset(TEMPLATE, template_pages(plan, sets, paper) | {"struck": _struck(struck)}, {})


def for_plotter(plan: Plan) -> bytes | None:
    """The same templates on one large page; None where every part is a rectangle.

    Raises:
        InternalError: if the page template refuses them.
    """
    wanted = patterns(plan)
    if not wanted:
        return None
    return typeset(TEMPLATE, template_pages(plan, (one_page(wanted),), None), {})


def template_pages(plan: Plan, sets: tuple[TemplateSet, ...], paper: Paper | None) -> Entry:
    """What the page template reads; without a paper, for one large page alone, no page of instructions."""
    bar, called = BARS[plan.project.units]
    return {
        "title": plan.project.title,
        "paper": {"width": paper.width, "height": paper.height, "name": paper.name} if paper else None,
        "frame": {"margin": MARGIN, "left": LEFT, "foot": FOOT},
        "bar": bar,
        "called": called,
        "struck": [],
        "sets": [_set_entry(number, one) for number, one in enumerate(sets, start=1)],
    }


def _struck(wanted: Iterable[Pattern]) -> list[Entry]:
    """Discs and rings, which need no paper: their radii for the trammel."""
    return [
        {
            "label": one.label,
            "name": breakable(one.about[0]),
            "outer": one.radii[0],
            "inner": one.radii[1] if len(one.radii) > 1 else "",
            "pieces": one.about[2],
        }
        for one in wanted
    ]


def _set_entry(number: int, one: TemplateSet) -> Entry:
    texts = [(text, _pages_of(text, one)) for x, y, p in one.placed for text in _texts(p, (x, y), one)]
    crosses = tuple(_crosses(one))
    pages = [
        _page(one, number, (row, column), [text for text, on in texts if (row, column) in on], crosses)
        for row in range(one.down)
        for column in range(one.across)
        if _shows(one, row, column)
    ]
    return {
        "number": number,
        "width": one.width,
        "height": one.height,
        "labels": [breakable(f"{pattern.label} {pattern.about[0]}") for _, _, pattern in one.placed],
        "outlines": [
            {
                "rings": _rings(pattern, (x, y), (0.0, one.height)),
                "label": pattern.label,
                "at": at,
            }
            for x, y, pattern in one.placed
            for at in [_down(inner_point(pattern, (x, y)), (0.0, one.height))]
        ],
        "pages": pages,
        "tile": {"width": one.tile.width, "height": one.tile.height},
    }


def corner(one: TemplateSet, row: int, column: int) -> Point:
    """The upper left corner of a page in its set, mm; rows count from the top."""
    step = (one.tile.width - OVERLAP, one.tile.height - OVERLAP)
    return column * step[0], one.height - row * step[1]


def tag(row: int, column: int) -> str:
    """A page's place in its set: ``A1`` is the upper left one, ``A2`` stands to its right.

    >>> tag(1, 2)
    'B3'
    """
    return f"{ascii_uppercase[row % 26]}{column + 1}"


def _shown(one: TemplateSet, row: int, column: int) -> Polygon:
    """What a page shows of its set."""
    import shapely  # noqa: PLC0415 - slow to load

    x, y = corner(one, row, column)
    return shapely.box(x, y - one.tile.height, x + one.tile.width, y)


def _outline(pattern: Pattern, by: Point) -> Polygon:
    import shapely  # noqa: PLC0415 - slow to load

    rings = [[(x + by[0], y + by[1]) for x, y in flattened(one, _CHORD)] for one in _outlines(pattern)]
    return shapely.Polygon(rings[0], rings[1:])


def _shows(one: TemplateSet, row: int, column: int) -> bool:
    seen = _shown(one, row, column)
    return any(seen.intersects(_outline(pattern, (x, y))) for x, y, pattern in one.placed)


def _page(
    one: TemplateSet,
    number: int,
    place: tuple[int, int],
    texts: Iterable[_Text],
    crosses: Iterable[Point],
) -> Entry:
    row, column = place
    x, y = corner(one, row, column)
    x1, y0 = x + one.tile.width, y - one.tile.height
    seen = _shown(one, row, column)
    drawn = [
        (px, py, pattern) for px, py, pattern in one.placed if seen.intersects(_outline(pattern, (px, py)))
    ]
    return {
        "tag": f"page {tag(row, column)}" if one.across * one.down > 1 else "one page",
        "row": row,
        "column": column,
        "set": number,
        "beside": _beside(one, row, column),
        "lines": [ring for px, py, pattern in drawn for ring in _rings(pattern, (px, py), (x, y))],
        "circles": [
            [*_down((px + hole.at[0], py + hole.at[1]), (x, y)), hole.across]
            for px, py, pattern in drawn
            for hole in pattern.holes
        ],
        "crosses": [_down(at, (x, y)) for at in crosses if x <= at[0] <= x1 and y0 <= at[1] <= y],
        "texts": [
            {"at": _down(text.at, (x, y)), "text": text.text, "size": text.size, "angle": -text.angle}
            for text in texts
        ],
    }


def _pages_of(text: _Text, one: TemplateSet) -> list[tuple[int, int]]:
    """The pages that show a text whole; where none does, those that show a part of it."""
    places = [(row, column) for row in range(one.down) for column in range(one.across)]
    whole = [place for place in places if _shown(one, *place).contains(_extent(text))]
    return whole or [place for place in places if _shown(one, *place).intersects(_extent(text))]


def _beside(one: TemplateSet, row: int, column: int) -> str:
    """Which pages join on, in words; empty where the page stands alone."""
    ways = (("left", 0, -1), ("right", 0, 1), ("above", -1, 0), ("below", 1, 0))
    found = [
        f"{way} {tag(row + down, column + along)}"
        for way, down, along in ways
        if 0 <= row + down < one.down
        and 0 <= column + along < one.across
        and _shows(one, row + down, column + along)
    ]
    return ", ".join(found)


def _down(at: Point, upper_left: Point) -> Point:
    """A point of the set as the page has it: from its upper left corner, downward."""
    return at[0] - upper_left[0], upper_left[1] - at[1]


def _outlines(pattern: Pattern) -> tuple[Outline, ...]:
    """The outline, then the openings."""
    return (pattern.outline, *pattern.openings)


def _rings(pattern: Pattern, by: Point, upper_left: Point) -> list[list[Point]]:
    """Outline and openings of a pattern as the page has them, arcs as chords no pencil tells from them."""
    return [
        [_down((x + by[0], y + by[1]), upper_left) for x, y in flattened(one, _CHORD)]
        for one in _outlines(pattern)
    ]


def _crosses(one: TemplateSet) -> Iterator[Point]:
    """Two crosses in the middle of each band that adjoining pages share."""
    tile = one.tile
    for row in range(one.down):
        for column in range(one.across):
            x, y = corner(one, row, column)
            if column:
                yield from ((x + OVERLAP / 2.0, y - part * tile.height) for part in (0.2, 0.8))
            if row:
                yield from ((x + part * tile.width, y - OVERLAP / 2.0) for part in (0.2, 0.8))


def inner_point(pattern: Pattern, by: Point) -> Point:
    """A point within a pattern that is moved along, mm."""
    point = _outline(pattern, by).representative_point()
    return float(point.x), float(point.y)


def _texts(pattern: Pattern, by: Point, one: TemplateSet) -> list[_Text]:
    """The words on a pattern, its label again on every other page that shows it, the tilt along its edges."""
    along = [_edge_text(note, by, one) for note in pattern.notes]
    holes = [
        _text((hole.at[0] + by[0], hole.at[1] + by[1] + hole.across / 2.0 + 3.0), hole.text, _NOTE)
        for hole in pattern.holes
    ]
    written = [*(text for text in along if text), *holes]
    return [*written, *_labels(pattern, by, one, _taken(pattern, by, one, written))]


def _edge_text(note: EdgeNote, by: Point, one: TemplateSet) -> _Text | None:
    """A text inside an edge, readable from below or from the right, whole on one page where it can be.

    None where the edge is too short for it: the cut list has the setting all the same.
    """
    (x0, y0), (x1, y1) = note.start, note.end
    run, rise = x1 - x0, y1 - y0
    long = hypot(run, rise)
    angle = degrees(atan2(rise, run))
    if not -90.0 + 1e-6 < angle <= 90.0 + 1e-6:
        angle += 180.0 if angle < 0.0 else -180.0

    def at(part: float) -> _Text:
        x = x0 + part * run - _INSIDE * rise / long + by[0]
        y = y0 + part * rise + _INSIDE * run / long + by[1]
        return _text((x, y), note.text, _NOTE, angle)

    if at(0.5).width + 2 * _INSIDE > long:
        return None
    pages = [_shown(one, row, column) for row in range(one.down) for column in range(one.across)]
    places = [at(part) for part in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)]
    whole = (text for text in places if any(page.contains(_extent(text)) for page in pages))
    return next(whole, places[0])


def _extent(text: _Text) -> Polygon:
    """All that a text takes: its box where it is level, else the circle about it."""
    import shapely  # noqa: PLC0415 - slow to load

    return shapely.Point(text.at).buffer(text.width / 2.0 + 1.0) if text.angle else _box(text)


def _taken(pattern: Pattern, by: Point, one: TemplateSet, written: Iterable[_Text]) -> Polygon:
    """Where a label would lie on something else: on other words, a hole or a cross."""
    import shapely  # noqa: PLC0415 - slow to load

    holes = [
        shapely.Point(hole.at[0] + by[0], hole.at[1] + by[1]).buffer(hole.across / 2.0 + 3.0)
        for hole in pattern.holes
    ]
    crosses = [shapely.Point(at).buffer(4.0) for at in _crosses(one)]
    return shapely.union_all([*(_extent(text) for text in written), *holes, *crosses])


def _labels(pattern: Pattern, by: Point, one: TemplateSet, taken: Polygon) -> list[_Text]:
    outline = _outline(pattern, by)
    seen = [
        outline.intersection(_shown(one, row, column))
        for row in range(one.down)
        for column in range(one.across)
    ]
    largest = max(seen, key=lambda part: round(part.area, 3))
    words = _words(pattern, largest, taken)
    for part in seen:
        if part is not largest and part.area >= _LEAST_SEEN:
            words += _words(pattern, part, taken, short=True)
    return words


def _words(pattern: Pattern, region: Polygon, taken: Polygon, *, short: bool = False) -> list[_Text]:
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


def _text(at: Point, text: str, size: float, angle: float = 0.0) -> _Text:
    from formwork.drawings.lettering import ASCENT, width  # noqa: PLC0415 - drawings are slow to load

    return _Text(at, text, size, angle, width(text, size * _POINT * ASCENT))


def _box(text: _Text) -> Polygon:
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
