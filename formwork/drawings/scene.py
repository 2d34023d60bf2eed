"""The drawing itself, neutral: what is drawn, where, on which layer. Both back ends draw this and nothing else.

A scene has two coordinate systems. Things of the model are in m at full size; things of the page in mm on paper. Sizes
of text and gaps of dimensions are in mm on paper everywhere. ``page = origin + 1000 / scale * model``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import ceil, cos, pi, sin, tau
from typing import Literal, assert_never

from formwork.drawings.frames import Point
from formwork.drawings.layers import Layer
from formwork.drawings.lettering import corners, width
from formwork.geometry.outlines import Leg, Outline, box

Anchor = Literal["left", "middle", "right"]
Units = Literal["in", "mm"]
Pattern = Literal["stipple", "rising", "falling", "close rising", "close falling"]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: Layer
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Polyline:
    """A line through points; closed it runs back to the first. A filled one is solid black.

    ``bulges`` bend its legs into arcs as ``geometry.outlines`` has them, one from each point on; empty where all of
    them are straight.
    """

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = True
    filled: bool = False
    bulges: tuple[float, ...] = ()

    def legs(self) -> tuple[Leg, ...]:
        """Its legs in order, the closing one last."""
        starts = self.points if self.closed else self.points[:-1]
        ends = (*self.points[1:], self.points[0])
        bulges = self.bulges or (0.0,) * len(self.points)
        return tuple(Leg(*leg) for leg in zip(starts, ends, bulges, strict=False))


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle."""

    layer: Layer
    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc, counter-clockwise from ``start`` to ``end``, rad."""

    layer: Layer
    centre: Point
    radius: float
    start: float
    end: float

    @property
    def turn(self) -> float:
        """Angle from its start to its end, rad, where that goes through nought as well."""
        return (self.end - self.start) % tau

    def at(self, angle: float) -> Point:
        """Its point in a direction from the centre, rad."""
        return (self.centre[0] + self.radius * cos(angle), self.centre[1] + self.radius * sin(angle))


@dataclass(frozen=True, slots=True)
class Hatch:
    """A hatched region: its outline first, then its openings."""

    layer: Layer
    rings: tuple[tuple[Point, ...], ...]
    pattern: Pattern


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``size`` is the height of its capitals, mm on paper; ``angle`` in rad."""

    layer: Layer
    at: Point
    text: str
    size: float
    anchor: Anchor = "left"
    angle: float = 0.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """A linear dimension.

    Attributes:
        layer: its layer.
        start, end: the points measured, m.
        line: a point the dimension line runs through.
        angle: direction of the dimension line, rad.
        text: what is shown.
        text_at: middle of the text's base line.
        size: height of its figures, mm on paper.
        name: what is measured.
    """

    layer: Layer
    start: Point
    end: Point
    line: Point
    angle: float
    text: str
    text_at: Point
    size: float
    name: str = ""

    def measured(self) -> float:
        """The real distance along the dimension line, m."""
        return abs(
            (self.end[0] - self.start[0]) * cos(self.angle) + (self.end[1] - self.start[1]) * sin(self.angle)
        )

    def feet(self) -> tuple[Point, Point]:
        """Where the dimension line ends, m."""
        c, s = cos(self.angle), sin(self.angle)

        def foot(p: Point) -> Point:
            t = (p[0] - self.line[0]) * c + (p[1] - self.line[1]) * s
            return (self.line[0] + t * c, self.line[1] + t * s)

        return foot(self.start), foot(self.end)


Item = Line | Polyline | Circle | Arc | Hatch | Text | Dimension


@dataclass(frozen=True, slots=True)
class Window:
    """A rectangle of the page through which the model is seen to scale, mm."""

    name: str
    low: Point
    high: Point


@dataclass(frozen=True, slots=True)
class Sheet:
    """A size of paper, mm, lying."""

    name: str
    length: float
    height: float


@dataclass(frozen=True, slots=True)
class Scene:
    """One page of drawing.

    Attributes:
        name: of the file, without ending.
        title: what is drawn.
        units: of the person: what a DXF is written in.
        sheet: the paper.
        scale: n of 1:n.
        origin: where the model's origin lies on the page, mm.
        model: things of the model, m.
        paper: frame, title block, lists, mm on the page.
        windows: the views.
        lists: where lists and whatever else is not to scale stand.
        fields: what its title block says, caption and value, in reading order.
    """

    name: str
    title: str
    units: Units
    sheet: Sheet
    scale: float
    origin: Point
    model: tuple[Item, ...]
    paper: tuple[Item, ...]
    windows: tuple[Window, ...]
    lists: tuple[Window, ...] = ()
    fields: tuple[tuple[str, str], ...] = ()

    def layers(self) -> tuple[Layer, ...]:
        """Every layer that something is on, by name."""
        found = {item.layer.name: item.layer for item in (*self.model, *self.paper)}
        return tuple(found[name] for name in sorted(found))

    def on_page(self) -> Iterator[Item]:
        """Everything in mm on the page, in drawing order."""
        factor = 1000.0 / self.scale
        for item in self.model:
            yield placed(item, factor, self.origin)
        yield from self.paper


def placed(item: Item, factor: float, by: Point) -> Item:
    """The item scaled about the origin and then moved; text sizes stay."""

    def at(p: Point) -> Point:
        return (by[0] + factor * p[0], by[1] + factor * p[1])

    match item:
        case Line():
            return replace(item, start=at(item.start), end=at(item.end))
        case Polyline():
            return replace(item, points=tuple(at(p) for p in item.points))
        case Circle() | Arc():
            return replace(item, centre=at(item.centre), radius=factor * item.radius)
        case Hatch():
            return replace(item, rings=tuple(tuple(at(p) for p in ring) for ring in item.rings))
        case Text():
            return replace(item, at=at(item.at))
        case Dimension():
            return replace(
                item, start=at(item.start), end=at(item.end), line=at(item.line), text_at=at(item.text_at)
            )
        case _:
            assert_never(item)


def text_box(text: Text) -> tuple[Point, Point, Point, Point]:
    """Corners of the box round a text on the page, mm."""
    along = (cos(text.angle), sin(text.angle))
    return corners(text.at, text.text, text.size, text.anchor, along)


def bounds(items: Iterable[Item]) -> tuple[Point, Point]:
    """Least and greatest corner of items that are on the page, mm; texts with their boxes.

    Raises:
        ValueError: if there is none.
    """
    points = [p for item in items for p in _extremes(item)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def is_outline(item: Item) -> bool:
    """Whether an item belongs to the thing drawn and not to what is written round it."""
    return (item.layer.wide or "STEP" in item.layer.name) and "ANNO" not in item.layer.name


def _extremes(item: Item) -> tuple[Point, ...]:
    match item:
        case Line():
            return (item.start, item.end)
        case Polyline():
            return box(Outline(item.points, item.bulges)) if item.bulges else item.points
        case Circle() | Arc():
            return _reach(item)
        case Hatch():
            return item.rings[0]
        case Text():
            return text_box(item)
        case Dimension():
            return tuple(p for part in dimension_parts(item) for p in _extremes(part))
        case _:
            assert_never(item)


def _reach(item: Circle | Arc) -> tuple[Point, ...]:
    """Both ends of an arc, and every point between them where it reaches furthest along an axis."""
    start, turn = (item.start, item.turn) if isinstance(item, Arc) else (0.0, tau)
    first = ceil(start / (pi / 2.0))
    quarters = [k * pi / 2.0 for k in range(first, first + 5) if k * pi / 2.0 < start + turn]
    (x, y), r = item.centre, item.radius
    return tuple((x + r * cos(a), y + r * sin(a)) for a in (start, *quarters, start + turn))


GAP = 1.0
"""From the measured point to its extension line, mm."""
OVERRUN = 1.5
"""Of the extension line past the dimension line, mm."""
TICK = 2.4
"""Length of the oblique stroke at each end of a dimension line, mm."""
OVER_LINE = 0.9
"""From the dimension line to the foot of its figures, mm."""


def dimension_parts(dim: Dimension) -> tuple[Line | Text, ...]:
    """The lines and the text of a dimension that is on the page, mm."""
    first, last = dim.feet()
    c, s = cos(dim.angle), sin(dim.angle)
    parts: list[Line | Text] = []
    for point, foot in ((dim.start, first), (dim.end, last)):
        extension = _extension(dim.layer, point, foot)
        if extension is not None:
            parts.append(extension)
        slant = (TICK / 2.0 * (c - s) * 0.70711, TICK / 2.0 * (s + c) * 0.70711)
        parts.append(
            Line(
                dim.layer, (foot[0] - slant[0], foot[1] - slant[1]), (foot[0] + slant[0], foot[1] + slant[1])
            )
        )
    parts.append(Line(dim.layer, *_line_ends(dim, first, last)))
    parts.append(Text(dim.layer, dim.text_at, dim.text, dim.size, "middle", upright(dim.angle)))
    return tuple(parts)


def _extension(layer: Layer, point: Point, foot: Point) -> Line | None:
    dx, dy = foot[0] - point[0], foot[1] - point[1]
    size = (dx * dx + dy * dy) ** 0.5
    if size <= GAP:
        return None
    ux, uy = dx / size, dy / size
    return Line(
        layer,
        (point[0] + GAP * ux, point[1] + GAP * uy),
        (foot[0] + OVERRUN * ux, foot[1] + OVERRUN * uy),
    )


def _line_ends(dim: Dimension, first: Point, last: Point) -> tuple[Point, Point]:
    """Ends of the dimension line: the feet, or the far end of a text that stands beside them."""
    c, s = cos(dim.angle), sin(dim.angle)
    half = width(dim.text, dim.size) / 2.0

    def along(p: Point) -> float:
        return p[0] * c + p[1] * s

    at = {along(first): first, along(last): last}
    low, high = min(at), max(at)
    middle = along(dim.text_at)
    ends = [at[low], at[high]]
    if middle + half > high + 0.01:
        ends[1] = (ends[1][0] + (middle + half - high) * c, ends[1][1] + (middle + half - high) * s)
    if middle - half < low - 0.01:
        ends[0] = (ends[0][0] + (middle - half - low) * c, ends[0][1] + (middle - half - low) * s)
    return ends[0], ends[1]


def upright(angle: float) -> float:
    """The direction a text along a line of this angle reads in: from the bottom or from the right, rad."""
    while angle > pi / 2.0 + 1e-9:
        angle -= pi
    while angle <= -pi / 2.0 + 1e-9:
        angle += pi
    return angle
