"""Full-size templates: every part that straight cuts do not make at true scale, over pages joined by their crosses.

Each page shows a rectangle of its set and 10 mm of its neighbours. Crosses stand in the middle of what two pages share,
at the same place on both: laid over one another on a window pane they bring the pages together. Two bars on every page
tell whether the printer kept to 100 %. Pages that would show nothing are left out. Discs and rings take no paper: a
trammel strikes them, and the first page has their radii.
"""

from __future__ import annotations

from collections.abc import Iterable

from formwork.geometry.outlines import Point, flattened
from formwork.packet.half_patterns import MARK, halved
from formwork.packet.papers import Paper
from formwork.packet.patterns import Pattern, patterns
from formwork.packet.print_blocks import Entry
from formwork.packet.template_plane import CHORD, corner, crosses_of, outlines, region, shown
from formwork.packet.template_sets import FOOT, LEFT, MARGIN, OVERLAP, TemplateSet, lay_out, one_page, tiles
from formwork.packet.template_words import Lettered, extent, texts_of
from formwork.packet.typeset import breakable, typeset
from formwork.plan import Plan
from formwork.units import show
from formwork.units.show import UnitSystem

TEMPLATE = "full-size.typ"
BARS: dict[UnitSystem, tuple[float, str]] = {"mm": (100.0, "100 mm"), "in": (101.6, "4 in")}
"""Length of the bars to measure, mm, and how they are called."""


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
    page = tiles(paper)[0]
    sets = lay_out([halved(one, page) for one in wanted if not one.radii], paper)
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
        "overlap": show.length(OVERLAP / 1000.0, plan.project.units),
        "struck": [],
        "halves": any(p.label.endswith(f" {MARK}") for one in sets for _, _, p in one.placed),
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
    texts = [(text, _pages_of(text, one)) for x, y, p in one.placed for text in texts_of(p, (x, y), one)]
    crosses = tuple(crosses_of(one))
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


def tag(row: int, column: int) -> str:
    """A page's place in its set, row and place in the row: parts are named by a letter and a number, pages are not.

    >>> tag(1, 2)
    '2-3'
    """
    return f"{row + 1}-{column + 1}"


def _shows(one: TemplateSet, row: int, column: int) -> bool:
    seen = shown(one, row, column)
    return any(seen.intersects(region(pattern, (x, y))) for x, y, pattern in one.placed)


def _page(
    one: TemplateSet,
    number: int,
    place: tuple[int, int],
    texts: Iterable[Lettered],
    crosses: Iterable[Point],
) -> Entry:
    row, column = place
    x, y = corner(one, row, column)
    x1, y0 = x + one.tile.width, y - one.tile.height
    seen = shown(one, row, column)
    drawn = [
        (px, py, pattern) for px, py, pattern in one.placed if seen.intersects(region(pattern, (px, py)))
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


def _pages_of(text: Lettered, one: TemplateSet) -> list[tuple[int, int]]:
    """The pages that show a text whole; where none does, those that show a part of it."""
    places = [(row, column) for row in range(one.down) for column in range(one.across)]
    whole = [place for place in places if shown(one, *place).contains(extent(text))]
    return whole or [place for place in places if shown(one, *place).intersects(extent(text))]


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


def _rings(pattern: Pattern, by: Point, upper_left: Point) -> list[list[Point]]:
    """Outline and openings of a pattern as the page has them, arcs as chords no pencil tells from them."""
    return [
        [_down((x + by[0], y + by[1]), upper_left) for x, y in flattened(one, CHORD)]
        for one in outlines(pattern)
    ]


def inner_point(pattern: Pattern, by: Point) -> Point:
    """A point within a pattern that is moved along, mm."""
    point = region(pattern, by).representative_point()
    return float(point.x), float(point.y)
