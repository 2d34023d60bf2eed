"""What lies over what on paper: boxes of text against lines and against each other. All in mm on the page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil
from typing import Any

import numpy as np

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


class Lines:
    """Many lines at once, to be asked which of them a line meets and which lie near a box: as ``meet`` and ``crosses``.

    Lines may be added while it is in use.
    """

    def __init__(self, pieces: Iterable[Piece]) -> None:
        self.pieces = list(pieces)
        self._ends = np.empty((0, 4))

    def add(self, pieces: Iterable[Piece]) -> None:
        """Some more lines."""
        self.pieces.extend(pieces)

    def met_by(self, piece: Piece) -> int:
        """How many of the lines a line crosses, each in the other's inside."""
        (ax, ay), (bx, by) = piece
        cx, cy, dx, dy = self._columns()
        first = ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) * (
            (bx - ax) * (dy - ay) - (by - ay) * (dx - ax)
        )
        other = ((dx - cx) * (ay - cy) - (dy - cy) * (ax - cx)) * (
            (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
        )
        return int(np.count_nonzero((first < -1e-9) & (other < -1e-9)))

    def entering(self, box: Box) -> bool:
        """Whether any of the lines enters a box."""
        xs, ys = zip(*box, strict=True)
        cx, cy, dx, dy = self._columns()
        near = (
            (np.maximum(cx, dx) >= min(xs))
            & (np.minimum(cx, dx) <= max(xs))
            & (np.maximum(cy, dy) >= min(ys))
            & (np.minimum(cy, dy) <= max(ys))
        )
        return any(crosses(box, self.pieces[number]) for number in np.flatnonzero(near))

    def _columns(self) -> Any:
        """The ends of the lines, a column each for x and y of start and end."""
        if len(self._ends) < len(self.pieces):
            more = np.array(self.pieces[len(self._ends) :]).reshape(-1, 4)
            self._ends = np.concatenate([self._ends, more])
        return self._ends.T


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
