"""What lies over what on paper: boxes of text against lines and against each other. All in mm on the page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil

from formwork.drawings.frames import Point
from formwork.drawings.scene import (
    Arc,
    Circle,
    Dimension,
    Hatch,
    Item,
    Line,
    Polyline,
    Text,
    dimension_parts,
    text_box,
)
from formwork.geometry.outlines import Leg, flattened_leg

Box = tuple[Point, Point, Point, Point]
Piece = tuple[Point, Point]

_CHORD = 0.05
"""The straight pieces of an arc lie no further from it than this, mm."""


def line_pieces(item: Item) -> list[Piece]:
    """The straight pieces of an item, hatches and texts none.

    Arcs count by their chords, circles by their circumscribed octagon.
    """
    match item:
        case Line():
            return [(item.start, item.end)]
        case Polyline():
            return [piece for leg in item.legs() for piece in _straight(leg)]
        case Circle():
            return _octagon(item.centre, item.radius)
        case Arc():
            return _chords(item)
        case Dimension():
            return [piece for part in dimension_parts(item) for piece in line_pieces(part)]
        case Text() | Hatch():
            return []


def _straight(leg: Leg) -> list[Piece]:
    points = flattened_leg(leg, _CHORD)
    return list(pairwise(points))


def _chords(arc: Arc) -> list[Piece]:
    steps = max(1, ceil(arc.turn / (8.0 * _CHORD / arc.radius) ** 0.5))
    return list(pairwise(arc.at(arc.start + arc.turn * k / steps) for k in range(steps + 1)))


def _octagon(centre: Point, radius: float) -> list[Piece]:
    k = 0.41421356
    around = ((1, k), (k, 1), (-k, 1), (-1, k), (-1, -k), (-k, -1), (k, -1), (1, -k))
    points = [(centre[0] + radius * x, centre[1] + radius * y) for x, y in around]
    return list(zip(points, (*points[1:], points[0]), strict=True))


def text_boxes(items: Iterable[Item]) -> list[Box]:
    """The boxes of all texts among the items, those of dimensions included."""
    found: list[Box] = []
    for item in items:
        if isinstance(item, Text) and item.text:
            found.append(text_box(item))
        elif isinstance(item, Dimension):
            found.extend(text_boxes(dimension_parts(item)))
    return found


def crosses(box: Box, piece: Piece) -> bool:
    """Whether a line enters a box."""
    (ax, ay), (bx, by) = piece
    if (
        max(ax, bx) < min(box[0][0], box[1][0], box[2][0], box[3][0])
        or min(ax, bx) > max(box[0][0], box[1][0], box[2][0], box[3][0])
        or max(ay, by) < min(box[0][1], box[1][1], box[2][1], box[3][1])
        or min(ay, by) > max(box[0][1], box[1][1], box[2][1], box[3][1])
    ):
        return False
    return _apart_on_no_axis(box, piece, _axes(box) + _axes_of_line(piece))


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share an area."""
    return _apart_on_no_axis(one, other, _axes(one) + _axes(other))


def meet(one: Piece, other: Piece) -> bool:
    """Whether two lines cross, each in the other's inside."""
    (a, b), (c, d) = one, other
    return _side(a, b, c) * _side(a, b, d) < -1e-9 and _side(c, d, a) * _side(c, d, b) < -1e-9


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _axes(box: Box) -> list[Point]:
    (ax, ay), (bx, by), _, (dx, dy) = box
    return [(bx - ax, by - ay), (dx - ax, dy - ay)]


def _axes_of_line(piece: Piece) -> list[Point]:
    (ax, ay), (bx, by) = piece
    return [(ay - by, bx - ax)]


def _apart_on_no_axis(one: Sequence[Point], other: Sequence[Point], axes: Iterable[Point]) -> bool:
    """Separating axes: two convex figures share an area if their shadows overlap on every axis."""
    for x, y in axes:
        first = [x * p[0] + y * p[1] for p in one]
        second = [x * p[0] + y * p[1] for p in other]
        slack = 1e-6 * (abs(x) + abs(y))
        if max(first) <= min(second) + slack or max(second) <= min(first) + slack:
            return False
    return True


def distance(p: Point, piece: Piece) -> float:
    """From a point to a piece of line, mm."""
    (ax, ay), (bx, by) = piece
    dx, dy = bx - ax, by - ay
    size2 = dx * dx + dy * dy
    t = 0.0 if size2 == 0.0 else max(0.0, min(1.0, ((p[0] - ax) * dx + (p[1] - ay) * dy) / size2))
    return abs(complex(p[0] - ax - t * dx, p[1] - ay - t * dy))
