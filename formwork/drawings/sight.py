"""What lies in front of what: the surfaces that face the eye, and which parts of an edge they take out of sight."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from formwork.drawings.bodies import Shell, Surface
from formwork.drawings.frames import Frame, Point
from formwork.drawings.strokes import Span, minus_spans
from formwork.geometry.vectors import across, dot, scale

NEARER = 1e-5
"""A surface hides what lies this much (m) behind it; what touches it stays in sight."""
EDGE_ON = 1e-6
"""A surface that faces the eye less than this (cosine) is seen edge on."""
_SPILL = 1e-7

Spot = tuple[float, Point]
"""A point of paper inside what is seen of a body, and how far it is from the edge of that surface, m."""
Source = tuple[int, int]
"""Number of the body an edge belongs to, and of its round side; -1 where it belongs to none."""


@dataclass(frozen=True, slots=True)
class _Screen:
    """A surface that faces the eye, on paper: what it covers, and how near it is: a + b x + c y."""

    owner: int
    barrel: int
    region: Any
    a: float
    b: float
    c: float

    def nearness(self, x: float, y: float) -> float:
        return self.a + self.b * x + self.c * y


class Sight:
    """All surfaces that face the eye, to be asked what they cover."""

    def __init__(self, shells: Sequence[Shell], frame: Frame) -> None:
        self.frame = frame
        self._screens = [screen for i, one in enumerate(shells) for screen in _screens(i, one, frame)]
        self._tree = shapely.STRtree([screen.region for screen in self._screens])

    def _over(self, shape: Any, predicate: str | None = None) -> list[_Screen]:
        """The surfaces at a shape of the paper, in their order."""
        found = self._tree.query(shape, predicate=predicate)
        return [self._screens[i] for i in sorted(int(i) for i in found)]

    def covered(self, start: Point, end: Point, depths: tuple[float, float], source: Source) -> list[Span]:
        """The spans of an edge, as fractions of its length, that lie behind some surface.

        The facets of an edge's own round side are only near it, and hide nothing of it.

        Args:
            start: of the edge on paper, m.
            end: of the edge on paper, m.
            depths: how near the eye its ends are, m.
            source: whose edge it is.
        """
        line = shapely.LineString([start, end])
        spans: list[Span] = []
        for screen in self._over(line):
            if screen.barrel >= 0 and (screen.owner, screen.barrel) == source:
                continue
            front = (
                screen.nearness(*start) - depths[0] - NEARER,
                screen.nearness(*end) - depths[1] - NEARER,
            )
            if max(front) > 0.0:
                spans.extend(_common(_inside(line, screen.region, start, end), _behind(front)))
        return minus_spans([(0.0, 1.0)], minus_spans([(0.0, 1.0)], spans))

    def spots(self, owner: int) -> tuple[Spot, ...]:
        """Points well inside what is really seen of a body, the roomiest first."""
        found: list[Spot] = []
        for screen in self._screens:
            if screen.owner != owner:
                continue
            points = shapely.points(_samples(screen.region))
            hidden = {int(at) for at, over in self._tree.query(points, predicate="intersects").T
                      if self._nearer(int(over), screen, points[int(at)])}  # fmt: skip
            rooms = shapely.distance(screen.region.boundary, points)
            for i, point in enumerate(points):
                if i not in hidden:
                    found.append((round(float(rooms[i]), 6), (round(point.x, 9), round(point.y, 9))))
        return tuple(sorted(found, key=lambda f: (-f[0], f[1])))

    def _nearer(self, other: int, screen: _Screen, point: Any) -> bool:
        x, y = float(point.x), float(point.y)
        return self._screens[other].nearness(x, y) > screen.nearness(x, y) + NEARER


def _screens(owner: int, one: Shell, frame: Frame) -> Iterator[_Screen]:
    for surface in one.surfaces:
        facing = dot(surface.normal, frame.toward)
        if facing <= EDGE_ON:
            continue
        region = _on_paper(surface, frame).buffer(_SPILL, join_style="mitre")
        across_slope = dot(surface.normal, frame.right) / facing
        up_slope = dot(surface.normal, frame.up) / facing
        yield _Screen(owner, surface.barrel, region, surface.offset / facing, -across_slope, -up_slope)


def _on_paper(surface: Surface, frame: Frame) -> Any:
    u, v = across(surface.normal)
    base = frame.flat(scale(surface.normal, surface.offset))
    turn = np.array([frame.flat(u), frame.flat(v)])
    return shapely.transform(surface.region, lambda xy: xy @ turn + base)


def _common(spans: Iterator[Span], within: Span) -> Iterator[Span]:
    for a, b in spans:
        low, high = max(a, within[0]), min(b, within[1])
        if high - low > 1e-9:
            yield low, high


def _behind(front: tuple[float, float]) -> Span:
    """Where along an edge a surface is nearer than the edge, given by how much at both ends."""
    first, last = front
    if first > 0.0 and last > 0.0:
        return (0.0, 1.0)
    meets = first / (first - last)
    return (0.0, meets) if first > 0.0 else (meets, 1.0)


def _inside(line: Any, region: Any, start: Point, end: Point) -> Iterator[Span]:
    size2 = (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2
    for part in shapely.get_parts(shapely.intersection(line, region)):
        if part.geom_type != "LineString" or part.is_empty:
            continue
        at = [
            ((x - start[0]) * (end[0] - start[0]) + (y - start[1]) * (end[1] - start[1])) / size2
            for x, y in part.coords
        ]
        yield _snapped(min(at)), _snapped(max(at))


def _snapped(t: float) -> float:
    return 0.0 if t < 1e-7 else 1.0 if t > 1.0 - 1e-7 else t


def _samples(region: Any) -> list[Point]:
    """Points spread over a region: a grid of at most seven by seven over its box, and its middle."""
    x0, y0, x1, y1 = region.bounds
    steps = [(i + 0.5) / 7.0 for i in range(7)]
    grid = [(x0 + a * (x1 - x0), y0 + b * (y1 - y0)) for a in steps for b in steps]
    inside = shapely.contains_xy(region, grid)
    middle = region.representative_point()
    return [
        (float(middle.x), float(middle.y)),
        *(p for p, within in zip(grid, inside, strict=True) if within),
    ]
