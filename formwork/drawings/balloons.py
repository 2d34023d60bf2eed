"""Labels of parts round a view: a ringed label outside everything drawn, a thin leader to a dot on the part.

Each label takes the free place that costs least (short leader, no crossing); then pairs are exchanged as long as that
makes the whole shorter or less crossed. A leader never runs through a text or another balloon. Some two dozen labels
stand in columns instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot

import shapely

from formwork.drawings.clearance import Box, Piece, crosses, distance, line_pieces, meet, text_boxes
from formwork.drawings.columns import in_columns
from formwork.drawings.frames import Point
from formwork.drawings.layers import BALLOONS, DIMENSIONS
from formwork.drawings.lettering import width
from formwork.drawings.scene import Circle, Item, Line, Polyline, Text, bounds, is_outline, placed
from formwork.errors import GeometryError

SIZE = 3.0
"""Height of the label's letters, mm."""
_RADIUS = 4.4
_OFF = 4.0
_STEP = 4.0
_RINGS = 14
_DOT = 0.6
_CROSSING = 40.0
_NEVER = 1e6
_IN_COLUMNS = range(15, 31)
"""So many labels round one view stand in columns, or their leaders make a thicket; more would need too tall a page."""
_BETWEEN = 1.4


@dataclass(frozen=True, slots=True)
class Target:
    """A label and the point of the part it names, in the view's axes, m; other points that would do as well."""

    label: str
    point: Point
    others: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class _Round:
    """What balloons must mind, mm: texts never crossed, dimension lines rather not."""

    texts: tuple[Box, ...]
    lines: tuple[Piece, ...]
    radius: float

    def leader(self, point: Point, centre: Point) -> Piece:
        far = hypot(point[0] - centre[0], point[1] - centre[1])
        k = self.radius / far
        return (centre[0] + k * (point[0] - centre[0]), centre[1] + k * (point[1] - centre[1])), point

    def cost(self, point: Point, centre: Point) -> float:
        """Of one balloon by itself."""
        leader = self.leader(point, centre)
        if any(crosses(box, leader) for box in self.texts):
            return _NEVER
        length = hypot(leader[1][0] - leader[0][0], leader[1][1] - leader[0][1])
        return length + _CROSSING / 4.0 * sum(1 for line in self.lines if meet(leader, line))

    def together(self, one: tuple[Point, Point], other: tuple[Point, Point]) -> float:
        """Of two balloons because of one another, each a point and a centre."""
        first, second = self.leader(*one), self.leader(*other)
        if distance(one[1], second) < self.radius + 1.0 or distance(other[1], first) < self.radius + 1.0:
            return _NEVER
        return _CROSSING if meet(first, second) else 0.0


def with_balloons(items: Sequence[Item], targets: Sequence[Target], scale: float) -> tuple[Item, ...]:
    """The items of a view with a balloon for each target.

    Args:
        items: of the view, m.
        targets: what to label.
        scale: n of 1:n.
    """
    if not targets:
        return tuple(items)
    factor = 1000.0 / scale
    page = [placed(item, factor, (0.0, 0.0)) for item in items]
    radius = max(_RADIUS, max(width(target.label, SIZE) for target in targets) / 2.0 + 1.2)
    around = _Round(
        tuple(text_boxes(page)),
        tuple(p for item in page if item.layer is DIMENSIONS for p in line_pieces(item)),
        radius,
    )
    led = _led(targets, page, around, factor)
    drawn = [
        item
        for target, (point, centre) in zip(targets, led, strict=True)
        for item in _balloon(target.label, point, centre, around)
    ]
    return (*items, *(placed(item, 1.0 / factor, (0.0, 0.0)) for item in drawn))


def _led(targets: Sequence[Target], page: Sequence[Item], around: _Round, factor: float) -> Sequence[Piece]:
    """The point and the place of each label: many in columns, a few wherever is nearest."""
    wanted = [[(x * factor, y * factor) for x, y in (one.point, *one.others)] for one in targets]
    if len(targets) in _IN_COLUMNS:

        def clear(point: Point, place: Point) -> bool:
            leader = around.leader(point, place)
            return not any(crosses(box, leader) for box in around.texts)

        return in_columns(wanted, bounds(page), 2.0 * around.radius + _BETWEEN, clear)
    points = [options[0] for options in wanted]
    places = _places(page, around, [p for item in page for p in line_pieces(item)])
    centres = _improved(points, _first(points, places, around), around)
    return list(zip(points, centres, strict=True))


def _places(page: Sequence[Item], around: _Round, lines: Sequence[Piece]) -> list[Point]:
    """Free places round the outline, near ones first: no line and no text within reach of the ring."""
    (x0, y0), (x1, y1) = bounds([item for item in page if is_outline(item)])
    edges = [*lines, *((box[i - 1], box[i]) for box in around.texts for i in range(4))]
    reach = around.radius + 0.8
    found: list[Point] = []
    for ring in range(_RINGS):
        off = around.radius + _OFF + _STEP * ring
        across = [x0 - off + _STEP * i for i in range(int((x1 - x0 + 2.0 * off) / _STEP) + 1)]
        upward = [y0 - off + _STEP * i for i in range(int((y1 - y0 + 2.0 * off) / _STEP) + 1)]
        found += [(x, y) for x in across for y in (y0 - off, y1 + off)]
        found += [(x, y) for y in upward for x in (x0 - off, x1 + off)]
    tree = shapely.STRtree([shapely.LineString(edge) for edge in edges])
    taken = tree.query([shapely.Point(place) for place in found], predicate="dwithin", distance=reach)[0]
    blocked = {int(i) for i in taken}
    return [place for i, place in enumerate(found) if i not in blocked]


def _first(points: Sequence[Point], places: Sequence[Point], around: _Round) -> list[Point]:
    """A place for each point, taken one after another."""
    taken: list[tuple[Point, Point]] = []
    for point in points:
        taken.append((point, _nearest(point, places, taken, around)))
    return [centre for _, centre in taken]


def _nearest(
    point: Point, places: Sequence[Point], taken: Sequence[tuple[Point, Point]], around: _Round
) -> Point:
    """The place that costs least; places are tried from near to far until distance alone costs more.

    Raises:
        GeometryError: if all are taken.
    """
    best: tuple[float, Point] | None = None
    for far, centre in sorted((hypot(p[0] - point[0], p[1] - point[1]), p) for p in places):
        if best is not None and far - around.radius >= best[0]:
            break
        if far <= around.radius or not all(_apart(centre, other[1], around.radius) for other in taken):
            continue
        cost = around.cost(point, centre) + sum(around.together((point, centre), other) for other in taken)
        if best is None or cost < best[0]:
            best = (cost, centre)
    if best is None:
        raise GeometryError("there is no room for every label round a view")
    return best[1]


def _apart(one: Point, other: Point, radius: float) -> bool:
    return hypot(one[0] - other[0], one[1] - other[1]) > 2.0 * radius + 1.0


def _improved(points: Sequence[Point], centres: list[Point], around: _Round) -> list[Point]:
    """The same places, exchanged between labels while that lowers the cost; a few rounds are enough."""
    for _ in range(4):
        better = False
        for i, j in combinations(range(len(points)), 2):
            swapped = list(centres)
            swapped[i], swapped[j] = centres[j], centres[i]
            if _cost_of(points, swapped, (i, j), around) < _cost_of(points, centres, (i, j), around) - 1e-6:
                centres, better = swapped, True
        if not better:
            break
    return centres


def _cost_of(
    points: Sequence[Point], centres: Sequence[Point], pair: tuple[int, int], around: _Round
) -> float:
    """The part of the whole cost that two labels have a share in."""
    total = sum(around.cost(points[i], centres[i]) for i in pair)
    for i in pair:
        for j in range(len(points)):
            if j != i:
                total += around.together((points[i], centres[i]), (points[j], centres[j]))
    return total


def _balloon(label: str, point: Point, centre: Point, around: _Round) -> tuple[Item, ...]:
    dot = tuple((point[0] + _DOT * x, point[1] + _DOT * y) for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1)))
    return (
        Line(BALLOONS, *around.leader(point, centre)),
        Polyline(BALLOONS, dot, filled=True),
        Circle(BALLOONS, centre, around.radius),
        Text(BALLOONS, (centre[0], centre[1] - SIZE / 2.0), label, SIZE, "middle"),
    )
