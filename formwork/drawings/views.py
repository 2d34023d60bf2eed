"""From projections to what is drawn: strokes, hatches, centre lines, titles and the marks of a section. All in m."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, pi

from formwork.drawings.bodies import Body
from formwork.drawings.circles import RoundStroke
from formwork.drawings.frames import Frame, Point
from formwork.drawings.layers import (
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
from formwork.geometry.planes import HalfSpace

_LAYERS = {
    layer.name: layer for layer in (CAST, CAST_HIDDEN, PANEL, BASE, CORE, CLEAT, STRIP, BARS, FORM_HIDDEN)
}
TITLE_SIZE = 3.5
"""Height of a view's title, mm."""
_PAST = 4.0
_MARK = 9.0


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
    """Centre lines of round holes and round bodies: a cross seen full face, the axis seen from the side."""
    items: dict[tuple[float, ...], Item] = {}
    past = _PAST / 2.0 * scale / 1000.0
    for body in bodies:
        for one in (*body.rounds, *body.holes):
            foot, head = frame.flat(one.foot), frame.flat(one.head())
            run = hypot(head[0] - foot[0], head[1] - foot[1])
            if run < 1e-9:
                reach = max(one.foot_radius, one.head_radius) + past
                for dx, dy in ((reach, 0.0), (0.0, reach)):
                    line = Line(CENTRE, (foot[0] - dx, foot[1] - dy), (foot[0] + dx, foot[1] + dy))
                    items[_key(line)] = line
            else:
                ux, uy = past * (head[0] - foot[0]) / run, past * (head[1] - foot[1]) / run
                line = Line(CENTRE, (foot[0] - ux, foot[1] - uy), (head[0] + ux, head[1] + uy))
                items[_key(line)] = line
    return tuple(items.values())


def _key(line: Line) -> tuple[float, ...]:
    return tuple(round(v, 6) for v in (*line.start, *line.end))


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
