"""What lies in front of what: the surfaces that face the eye, and which parts of edges they take out of sight."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from formwork.drawings.bodies import Shell
from formwork.drawings.frames import Frame, Point
from formwork.drawings.strokes import Span, minus_spans
from formwork.geometry.vectors import dot

NEARER = 1e-5
"""A surface hides what lies this much (m) behind it; what touches it stays in sight."""
EDGE_ON = 1e-6
"""A surface that faces the eye less than this (cosine) is seen edge on."""
_SPILL = 1e-8
_END = 1e-7
_LEAST = 1e-9
_ROOMIEST = 16

Spot = tuple[float, Point]
"""A point of paper inside what is seen of a body, and how far it is from the edge of that surface, m."""


@dataclass(frozen=True, slots=True)
class Sightline:
    """A straight line of paper and how near the eye its ends are, m."""

    start: Point
    end: Point
    near: tuple[float, float]


class Sight:
    """All surfaces that face the eye, to be asked what they cover.

    A surface is a region of paper and how near the eye it is there: ``a + b x + c y``.
    """

    def __init__(self, shells: Sequence[Shell], frame: Frame) -> None:
        self.frame = frame
        regions: list[Any] = []
        nearness: list[tuple[float, float, float]] = []
        owners: list[int] = []
        for owner, one in enumerate(shells):
            for facet in one.facets:
                facing = dot(facet.normal, frame.toward)
                if facing <= EDGE_ON:
                    continue
                first, *rest = ([frame.flat(p) for p in ring] for ring in facet.rings)
                regions.append(shapely.Polygon(first, rest))
                b, c = -dot(facet.normal, frame.right) / facing, -dot(facet.normal, frame.up) / facing
                nearness.append((facet.offset / facing, b, c))
                owners.append(owner)
        self._regions = shapely.buffer(np.array(regions, dtype=object), _SPILL, join_style="mitre")
        self._near = np.array(nearness).reshape(-1, 3)
        self._owners = np.array(owners, dtype=int)
        self._tree = shapely.STRtree(self._regions)
        shapely.prepare(self._regions)

    def covered(self, lines: Sequence[Sightline]) -> list[list[Span]]:
        """For each line the spans of it, as fractions of its length, that lie behind some surface."""
        if not lines:
            return []
        ends = np.array([(one.start, one.end) for one in lines])
        depths = np.array([one.near for one in lines]) + NEARER
        paths = shapely.linestrings(ends)
        at, over = self._tree.query(paths)
        a, b, c = self._near[over].T
        front = np.stack([a + b * ends[at, k, 0] + c * ends[at, k, 1] - depths[at, k] for k in (0, 1)])
        nearer = front.max(axis=0) > 0.0
        at, over, front = at[nearer], over[nearer], front[:, nearer]
        pieces, number = self._within(paths[at], over)
        straight = (shapely.get_type_id(pieces) == 1) & ~shapely.is_empty(pieces)
        pieces, number = pieces[straight], number[straight]
        spans = _spans(pieces, ends[at[number]])
        within = _behind(front[:, number])
        low, high = np.maximum(spans[0], within[0]), np.minimum(spans[1], within[1])
        found: dict[int, list[Span]] = defaultdict(list)
        for line, start, end in zip(at[number], low, high, strict=True):
            if end - start > _LEAST:
                found[int(line)].append((float(start), float(end)))
        return [_joined(found[i]) if i in found else [] for i in range(len(lines))]

    def _within(self, paths: Any, over: Any) -> tuple[Any, Any]:
        """The pieces of lines within a region each, and for each piece the number of its line; whole lines stay so."""
        whole = shapely.covers(self._regions[over], paths)
        parted = np.flatnonzero(~whole)
        parted = parted[shapely.intersects(self._regions[over[parted]], paths[parted])]
        pieces, of = shapely.get_parts(
            shapely.intersection(paths[parted], self._regions[over[parted]]), return_index=True
        )
        whole = np.flatnonzero(whole)
        number = np.concatenate([whole, parted[of]])
        order = np.argsort(number, kind="stable")
        return np.concatenate([paths[whole], pieces])[order], number[order]

    def spots(self, owner: int) -> tuple[Spot, ...]:
        """Points well inside what is really seen of a body, the roomiest first."""
        found: list[Spot] = []
        own = np.flatnonzero(self._owners == owner)
        sizes = shapely.area(self._regions[own])
        for number in own[np.argsort(-sizes, kind="stable")[:_ROOMIEST]]:
            region = self._regions[number]
            places = np.array(_samples(region))
            points = shapely.points(places)
            at, over = self._tree.query(points, predicate="intersects")
            here = np.column_stack([np.ones(len(at)), places[at]])
            lead = (self._near[over] * here).sum(axis=1) - here @ self._near[number]
            hidden = set(at[lead > NEARER].tolist())
            rooms = shapely.distance(region.boundary, points)
            for i, (x, y) in enumerate(places.tolist()):
                if i not in hidden:
                    found.append((round(float(rooms[i]), 6), (round(x, 9), round(y, 9))))
        return tuple(sorted(found, key=lambda f: (-f[0], f[1])))


def _spans(pieces: Any, ends: Any) -> Any:
    """From where to where each piece of a line runs, as fractions of the line."""
    way = ends[:, 1] - ends[:, 0]
    size2 = (way**2).sum(axis=1)
    points, of = shapely.get_coordinates(pieces, return_index=True)
    along = ((points - ends[of, 0]) * way[of]).sum(axis=1) / size2[of]
    along = np.where(along < _END, 0.0, np.where(along > 1.0 - _END, 1.0, along))
    first = np.searchsorted(of, np.arange(len(pieces)))
    if not len(pieces):
        return np.zeros((2, 0))
    return np.stack([np.minimum.reduceat(along, first), np.maximum.reduceat(along, first)])


def _behind(front: Any) -> Any:
    """Where along lines a surface is nearer than the line, given by how much at both ends."""
    first, last = front
    meets = np.divide(first, first - last, out=np.ones_like(first), where=(first > 0.0) != (last > 0.0))
    low = np.where(first > 0.0, 0.0, meets)
    high = np.where(last > 0.0, 1.0, meets)
    return np.stack([low, high])


def _joined(spans: Sequence[Span]) -> list[Span]:
    return minus_spans([(0.0, 1.0)], minus_spans([(0.0, 1.0)], spans))


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
