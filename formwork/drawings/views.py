"""From projections to what is drawn: strokes, hatches, centre lines, titles and the marks of a section. All in m."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist, pi

from formwork.drawings.bodies import Body
from formwork.drawings.circles import RoundStroke
from formwork.drawings.frames import Frame, Point
from formwork.drawings.layers import (
    ADDED,
    BARS,
    BASE,
    CAST,
    CAST_HIDDEN,
    CENTRE,
    CLEAT,
    CORE,
    FORM_HIDDEN,
    HATCH,
    PANEL,
    SECTION,
    STANDING,
    STRIP,
    TEXTS,
)
from formwork.drawings.projection import View
from formwork.drawings.scene import (
    Arc,
    Circle,
    Hatch,
    Item,
    Line,
    Pattern,
    Polyline,
    Text,
    bounds,
    is_outline,
    placed,
)
from formwork.geometry.outlines import Outline, box, legs
from formwork.geometry.planes import HalfSpace
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec

_LAYERS = {
    layer.name: layer
    for layer in (
        CAST,
        CAST_HIDDEN,
        PANEL,
        BASE,
        CORE,
        CLEAT,
        STRIP,
        BARS,
        FORM_HIDDEN,
        ADDED,
        STANDING,
    )
}
TITLE_SIZE = 3.5
"""Height of a view's title, mm."""
_PAST = 4.0
_MARK = 9.0
_ROUND = 1e-7


def view_items(view: View) -> tuple[Item, ...]:
    """Hatches, hidden and visible strokes and centre lines of a view, drawn in this order."""
    items: list[Item] = []
    for face in view.cuts:
        items.extend(Hatch(HATCH, part, _pattern(face.pattern)) for part in face.parts if face.pattern)
    items.extend(Line(_LAYERS[s.layer], s.start, s.end) for s in view.hidden)
    items.extend(_round(c) for c in view.hidden_circles)
    items.extend(Line(_LAYERS[s.layer], s.start, s.end) for s in view.visible)
    items.extend(_round(c) for c in view.circles)
    return tuple(items)


def _pattern(name: str) -> Pattern:
    known: dict[str, Pattern] = {
        "stipple": "stipple", "rising": "rising", "falling": "falling", "close rising": "close rising",
        "close falling": "close falling",
    }  # fmt: skip
    return known[name]


def _round(stroke: RoundStroke) -> Circle | Arc:
    layer = _LAYERS[stroke.layer]
    if stroke.end - stroke.start >= 2.0 * pi - 1e-9:
        return Circle(layer, stroke.centre, stroke.radius)
    return Arc(layer, stroke.centre, stroke.radius, stroke.start % (2.0 * pi), stroke.end % (2.0 * pi))


def centre_lines(bodies: Sequence[Body], frame: Frame, scale: float) -> tuple[Item, ...]:
    """Centre lines of what is round: a cross seen full face, the axis seen from the side.

    Of several round things about one centre the largest has its cross; on one axis they share a line.
    """
    past = _PAST / 2.0 * scale / 1000.0
    crosses: dict[Point, float] = {}
    axes: dict[tuple[float, ...], tuple[Point, Point]] = {}
    for foot, head, radius in (axis for body in bodies for axis in _axes(body)):
        start, end = frame.flat(foot), frame.flat(head)
        if dist(start, end) < 1e-9:
            at = (round(start[0], 6), round(start[1], 6))
            crosses[at] = max(crosses.get(at, 0.0), radius)
        else:
            _lengthen(axes, start, end)
    items: list[Item] = []
    for (x, y), radius in crosses.items():
        for dx, dy in ((radius + past, 0.0), (0.0, radius + past)):
            items.append(Line(CENTRE, (x - dx, y - dy), (x + dx, y + dy)))
    for start, end in axes.values():
        run = dist(start, end)
        ux, uy = past * (end[0] - start[0]) / run, past * (end[1] - start[1]) / run
        items.append(Line(CENTRE, (start[0] - ux, start[1] - uy), (end[0] + ux, end[1] + uy)))
    return tuple(items)


def _lengthen(axes: dict[tuple[float, ...], tuple[Point, Point]], start: Point, end: Point) -> None:
    """Enter an axis among those of a view; where one runs on the same upright or level line, as far as both."""
    start, end = sorted((start, end))
    for i in (0, 1):
        if abs(start[i] - end[i]) < 1e-9:
            key = (float(i), round(start[i], 6))
            known = axes.get(key)
            ends = [start, end, *(known or ())]
            axes[key] = (min(ends), max(ends))
            return
    axes[_key(start, end)] = (start, end)


def _key(start: Point, end: Point) -> tuple[float, ...]:
    return tuple(round(v, 6) for v in (*start, *end))


def _axes(body: Body) -> Iterator[tuple[Vec, Vec, float]]:
    """Both ends of the axis of each round thing of a body, and its greatest radius."""
    for one in (*body.rounds, *body.holes, *body.formers, *body.turned, *body.prisms):
        match one:
            case Round():
                yield one.foot, one.head(), max(one.foot_radius, one.head_radius)
            case Turned():
                (_, low), (radius, high) = box(one.profile)
                yield (*one.axis, low), (*one.axis, high), radius
            case Prism():
                for outline in (one.outline, *one.openings):
                    round_one = _full_circle(outline)
                    if round_one is not None:
                        centre, radius = round_one
                        yield one.place(*centre, 0.0), one.place(*centre, one.height), radius


def _full_circle(outline: Outline) -> tuple[Point, float] | None:
    """Centre and radius of an outline that is a circle."""
    if not all(outline.bulges):
        return None
    arcs = [leg.arc() for leg in legs(outline)]
    first = arcs[0]
    if any(
        dist(arc.centre, first.centre) > _ROUND or abs(arc.radius - first.radius) > _ROUND for arc in arcs
    ):
        return None
    return first.centre, first.radius


def titled(items: Sequence[Item], title: str, scale: float) -> tuple[Item, ...]:
    """The items with a title under everything drawn."""
    factor = 1000.0 / scale
    page = [placed(item, factor, (0.0, 0.0)) for item in items]
    low = bounds(page)[0]
    left, right = bounds([item for item in page if is_outline(item)])
    at = ((left[0] + right[0]) / 2.0 / factor, (low[1] - 3.0 - TITLE_SIZE) / factor)
    return (*items, Text(TEXTS, at, title, TITLE_SIZE, "middle"))


def section_marks(
    across: Frame, section: Frame, at: HalfSpace, box: tuple[Point, Point], letter: str, scale: float
) -> tuple[Item, ...]:
    """The cutting line of an upright section in another view: chain line, wide ends, arrows, letters.

    Args:
        across: frame of the view the line is drawn in.
        section: frame of the section.
        at: the section's half-space, its normal toward the section's eye.
        box: of the view, m.
        letter: name of the section.
        scale: n of 1:n.
    """
    mm = scale / 1000.0
    way = across.flat(section.right)
    look = across.flat(section.toward)
    point = across.flat((at.normal[0] * at.offset, at.normal[1] * at.offset, at.normal[2] * at.offset))
    (x0, y0), (x1, y1) = box
    centre = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    off = (centre[0] - point[0]) * way[0] + (centre[1] - point[1]) * way[1]
    middle = (point[0] + off * way[0], point[1] + off * way[1])
    reach = (abs(way[0]) * (x1 - x0) + abs(way[1]) * (y1 - y0)) / 2.0 + 3.0 * mm
    items: list[Item] = []
    ends = []
    for sign in (-1.0, 1.0):
        inner = (middle[0] + sign * reach * way[0], middle[1] + sign * reach * way[1])
        outer = (inner[0] + sign * 5.0 * mm * way[0], inner[1] + sign * 5.0 * mm * way[1])
        ends.append(inner)
        items.append(Line(SECTION, inner, outer))
        items.extend(_arrow(outer, look, mm))
        beyond = (_MARK + 3.2) * mm
        at_letter = (outer[0] + beyond * look[0], outer[1] + beyond * look[1] - TITLE_SIZE / 2.0 * mm)
        items.append(Text(TEXTS, at_letter, letter, TITLE_SIZE, "middle"))
    return (Line(CENTRE, ends[0], ends[1]), *items)


def _arrow(tip: Point, look: Point, mm: float) -> tuple[Item, ...]:
    """An arrow that points at the cutting line, the way the eye looks."""
    tail = (tip[0] + _MARK * look[0] * mm, tip[1] + _MARK * look[1] * mm)
    side = (-look[1], look[0])
    back = (tip[0] + 3.5 * look[0] * mm, tip[1] + 3.5 * look[1] * mm)
    barbs = tuple((back[0] + k * side[0] * mm, back[1] + k * side[1] * mm) for k in (0.9, -0.9))
    return (
        Polyline(TEXTS, (tip, *barbs), filled=True),
        Line(TEXTS, back, tail),
    )
