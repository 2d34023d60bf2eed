"""What is left of a curved body when others are taken out of it, facet by facet; and plane sections of facets.

A face of the body stays where nothing is taken out just behind it; a face of what is taken out becomes a wall where the
body is just before it. "Just" is a ten-thousandth of a millimetre, so that faces on one plane need no rule.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from formwork.drawings.polyhedra import Curve, Facet, Polyhedron, Ring, of_turned, swept
from formwork.drawings.stations import profile_path
from formwork.geometry.outlines import Leg, Point
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, across, add, dot, scale

_JUST = 1e-7
_SPARE = 2e-7
"""What is taken out is this much larger (m), so that no sliver stays where two faces end in one line."""
_SLIVER = 1e-10
_ON = 1e-12
_GRID = 1e-9

Corner = tuple[int, int]
"""An edge that a plane crosses, by the numbers of its ends."""


class Block:
    """A polyhedron that planes are laid through."""

    def __init__(self, body: Polyhedron) -> None:
        self.facets = body.facets
        numbers: dict[Vec, int] = {}
        self._rings = [
            [[numbers.setdefault(p, len(numbers)) for p in ring] for ring in facet.rings]
            for facet in body.facets
        ]
        self.points = np.array(list(numbers))
        flat = [[n for ring in rings for n in ring] for rings in self._rings]
        self._numbers = np.array([n for one in flat for n in one])
        self._starts = np.cumsum([0, *(len(one) for one in flat)])[:-1]
        self.low, self.high = self.points.min(axis=0), self.points.max(axis=0)

    def near(self, facet: Facet) -> bool:
        """Whether a facet's box touches this one's."""
        points = np.array(facet.rings[0])
        return bool(
            np.all(points.min(axis=0) <= self.high + _JUST) and np.all(points.max(axis=0) >= self.low - _JUST)
        )

    def section(self, normal: Vec, offset: float) -> Any:
        """What a plane cuts of it, as a shapely region in the axes that ``across`` gives for the normal."""
        depths = self.points @ np.array(normal) - offset
        if depths.min() > 0.0 or depths.max() < 0.0:
            return shapely.Polygon()
        depths = np.where(np.abs(depths) < _ON, _ON, depths)
        along = depths[self._numbers]
        met = (np.minimum.reduceat(along, self._starts) < 0.0) & (
            np.maximum.reduceat(along, self._starts) > 0.0
        )
        joined: dict[Corner, list[Corner]] = defaultdict(list)
        places: dict[Corner, tuple[float, float]] = {}
        axes = np.array(across(normal)).T
        for number in np.flatnonzero(met):
            crossed = list(self._crossed(self._rings[number], depths))
            for corner in crossed:
                if corner not in places:
                    places[corner] = self._place(corner, depths, axes)
            if len(crossed) > 2:
                crossed.sort(key=lambda corner: places[corner])
            for one, other in zip(crossed[::2], crossed[1::2], strict=True):
                joined[one].append(other)
                joined[other].append(one)
        return _region(joined, places)

    @staticmethod
    def _crossed(rings: Sequence[Sequence[int]], depths: Any) -> Iterator[Corner]:
        """The edges of a facet that the plane crosses."""
        for ring in rings:
            for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
                if (depths[a] < 0.0) != (depths[b] < 0.0):
                    yield (a, b) if a < b else (b, a)

    def _place(self, corner: Corner, depths: Any, axes: Any) -> tuple[float, float]:
        a, b = corner
        share = depths[a] / (depths[a] - depths[b])
        x, y = (self.points[a] + share * (self.points[b] - self.points[a])) @ axes
        return (float(x), float(y))


def _region(joined: dict[Corner, list[Corner]], places: dict[Corner, tuple[float, float]]) -> Any:
    """The region that closed loops of crossed edges enclose, one within another an opening."""
    left = set(joined)
    region = shapely.Polygon()
    for first in joined:
        if first not in left:
            continue
        loop = [first]
        left.discard(first)
        while True:
            after = next((c for c in joined[loop[-1]] if c in left), None)
            if after is None:
                break
            left.discard(after)
            loop.append(after)
        if len(loop) > 2:
            ring = shapely.Polygon([places[c] for c in loop])
            region = shapely.symmetric_difference(region, ring if ring.is_valid else shapely.make_valid(ring))
    return region


def turned_down(body: Turned, formers: Sequence[Curve]) -> tuple[Polyhedron, list[Curve]]:
    """A whole turned body less those formers that are turned about its own axis, and the formers that are not."""
    shared = [one for one in formers if isinstance(one, Turned) and one.whole and one.axis == body.axis]
    if not body.whole or not shared:
        return of_turned(body), list(formers)
    legs: dict[tuple[Point, Point], Leg] = {}
    regions = []
    for one in (body, *shared):
        path = profile_path(one.profile)
        points = [point for point, _ in path]
        regions.append(shapely.Polygon(points))
        for (p, leg), q in zip(path, (*points[1:], points[0]), strict=True):
            if leg.bulge != 0.0:
                legs[_rounded(p), _rounded(q)] = legs[_rounded(q), _rounded(p)] = leg
    left = shapely.difference(regions[0], shapely.union_all(regions[1:]), grid_size=_GRID)
    paths = []
    for ring in loops(left):
        pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
        paths.append([(p, legs.get((_rounded(p), _rounded(q))) or Leg(p, q, 0.0)) for p, q in pairs])
    return swept(body, paths), [one for one in formers if one not in shared]


def _rounded(point: Point) -> Point:
    return (round(point[0], 7), round(point[1], 7))


def carved(outside: Polyhedron, formers: Sequence[Polyhedron]) -> list[Facet]:
    """The faces of a body that others have been taken out of."""
    whole = Block(outside)
    taken = [Block(former) for former in formers]
    left: list[Facet] = []
    for facet in outside.facets:
        left.extend(_less(facet, [one for one in taken if one.near(facet)], -_JUST))
    for former in taken:
        others = [one for one in taken if one is not former]
        for facet in former.facets:
            if whole.near(facet):
                within = whole.section(facet.normal, facet.offset + _JUST)
                left.extend(
                    wall.flipped()
                    for wall in _less(facet, [one for one in others if one.near(facet)], _JUST, within)
                )
    return left


def _less(facet: Facet, taken: Sequence[Block], by: float, within: Any = None) -> Iterator[Facet]:
    """What of a facet is in a region and in none of the blocks, looked at a little off its plane."""
    gaps = [one.section(facet.normal, facet.offset + by) for one in taken]
    region = flat_region(facet)
    gaps = [gap for gap in gaps if gap.intersects(region)]
    if not gaps and within is None:
        yield facet
        return
    if within is not None:
        region = shapely.intersection(region, within)
    gone = shapely.buffer(shapely.union_all(gaps), _SPARE, join_style="mitre")
    yield from facets_of(shapely.difference(region, gone), facet.normal, facet.offset)


def flat_region(facet: Facet) -> Any:
    """A facet as a shapely region in the axes that ``across`` gives for its normal.

    A body that ends in a knife's edge has a face there whose opening is all of it.
    """
    u, v = across(facet.normal)
    first, *rest = ([(dot(p, u), dot(p, v)) for p in ring] for ring in facet.rings)
    region = shapely.Polygon(first, rest)
    return region if region.is_valid else shapely.make_valid(region)


def facets_of(region: Any, normal: Vec, offset: float) -> Iterator[Facet]:
    """The parts of a region of a plane as facets; slivers fall away."""
    u, v = across(normal)
    foot = scale(normal, offset)

    def in_space(ring: Any) -> Ring:
        points = [(float(x), float(y)) for x, y in ring.coords[:-1]]
        return tuple(add(foot, add(scale(u, x), scale(v, y))) for x, y in points)

    for part in shapely.get_parts(region):
        if part.geom_type == "Polygon" and part.area > _SLIVER:
            turned = orient(part)
            rings = (in_space(turned.exterior), *(in_space(ring) for ring in turned.interiors))
            yield Facet(normal, rings, convex=len(rings) == 1 and len(rings[0]) == 3)


def boundaries(region: Any) -> Iterator[tuple[Point, Point]]:
    """Every straight piece of the boundary of a region, the region to its left."""
    for ring in loops(region):
        yield from pairwise((*ring, ring[0]))


def loops(region: Any) -> Iterator[list[Point]]:
    """Every ring of the boundary of a region, the region to its left."""
    for part in shapely.get_parts(region):
        if part.geom_type == "Polygon":
            turned = orient(part)
            for ring in (turned.exterior, *turned.interiors):
                yield [(float(x), float(y)) for x, y in ring.coords[:-1]]
