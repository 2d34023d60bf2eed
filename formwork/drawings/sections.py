"""What a section plane cuts of curved bodies: true profiles through an axis and beside it, rings square to it.

Regions are in the axes that ``across`` gives for the plane's normal. Their arcs are chords no further than 0.02 mm from
the curve, and each chord is remembered with the circle that it stands for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from itertools import pairwise
from math import asin, atan2, copysign, cos, dist, hypot, sin, sqrt, tau
from typing import Any

import shapely

from formwork.drawings.carving import Block, boundaries
from formwork.drawings.extents import radii_of
from formwork.drawings.polyhedra import Circle, Curve, of_prism, of_turned
from formwork.drawings.stations import Path, fine_step, outline_path, profile_path, stations
from formwork.geometry.outlines import Outline, legs
from formwork.geometry.planes import HalfSpace
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, across, add, cross, dot, scale, sub, unit

_SQUARE = 1e-9
_DISCS = 32
_SPREAD = 200
_CHORDS = 1e-3

Flat = tuple[float, float]
Key = tuple[Flat, Flat]


@dataclass(slots=True)
class Arcs:
    """The chords of cut faces that stand for arcs, by their rounded ends."""

    known: dict[Key, Circle] = field(default_factory=dict)

    def note(self, a: Flat, b: Flat, circle: Circle) -> None:
        """Remember a chord."""
        self.known[_key(a, b)] = circle

    def circle(self, a: Flat, b: Flat) -> Circle | None:
        """The circle a straight piece of a boundary is a chord of."""
        return self.known.get(_key(a, b))

    def beyond(self, region: Any, normal: Vec) -> float:
        """The area between the arcs round a region and their chords, m2; below 0 where the arcs run inside them."""
        total = 0.0
        for a, b in boundaries(region):
            circle = self.circle(a, b)
            if circle is not None:
                middle = _flat(circle.centre, normal)
                turn = 2.0 * asin(min(1.0, dist(a, b) / (2.0 * circle.radius)))
                inward = (b[0] - a[0]) * (middle[1] - a[1]) - (b[1] - a[1]) * (middle[0] - a[0])
                total += copysign(circle.radius**2 / 2.0 * (turn - sin(turn)), inward)
        return total


def _key(a: Flat, b: Flat) -> Key:
    one, other = (round(a[0], 8), round(a[1], 8)), (round(b[0], 8), round(b[1], 8))
    return (one, other) if one < other else (other, one)


def section(body: Curve, cut: HalfSpace, arcs: Arcs) -> Any:
    """What a plane cuts of a curved body; an empty region where it misses it."""
    match body:
        case Round():
            return _round_section(body, cut, arcs)
        case Turned():
            return _turned_section(body, cut, arcs)
        case Prism():
            return _prism_section(body, cut, arcs)


def _turned_section(body: Turned, cut: HalfSpace, arcs: Arcs) -> Any:
    if abs(cut.normal[2]) < _SQUARE:
        return _upright(body, cut, arcs)
    if hypot(cut.normal[0], cut.normal[1]) < _SQUARE:
        return _level(body, cut, arcs)
    return Block(of_turned(body, fine_step)).section(cut.normal, cut.offset)


def _upright(body: Turned, cut: HalfSpace, arcs: Arcs) -> Any:
    """Through the axis or beside it: the profile to both sides, squeezed the nearer the further the plane is off."""
    u = across(cut.normal)[0]
    axis: Vec = (body.axis[0], body.axis[1], 0.0)
    off = cut.offset - dot(cut.normal, axis)
    middle = dot(axis, u)
    path = profile_path(body.profile, fine_step)
    reach = max(point[0] for point, _ in path)
    if abs(off) >= reach:
        return shapely.Polygon()
    halves = []
    for side in (1.0, -1.0):
        if abs(off) < _SQUARE:
            half = shapely.Polygon([(middle + side * r, z) for (r, z), _ in path])
            _note_meridians(body, path, (middle, side), arcs, scale(u, side))
        else:
            half = shapely.transform(
                _beyond(path, abs(off)), partial(_squeezed, off=off, middle=middle, side=side)
            )
        halves.append(_in_sweep(body, cut, half))
    return shapely.union_all(halves)


def _note_meridians(body: Turned, path: Path, place: tuple[float, float], arcs: Arcs, out: Vec) -> None:
    """Remember the arcs of a profile as it stands in the plane."""
    middle, side = place
    normal = cross(out, (0.0, 0.0, 1.0))
    for i, ((r, z), leg) in enumerate(path):
        if leg.bulge == 0.0:
            continue
        (s, w), arc = path[(i + 1) % len(path)][0], leg.arc()
        foot: Vec = (body.axis[0], body.axis[1], arc.centre[1])
        circle = Circle(add(foot, scale(out, arc.centre[0])), normal, arc.radius)
        arcs.note((middle + side * r, z), (middle + side * s, w), circle)


def _beyond(path: Path, off: float) -> Any:
    """What of a profile is further from the axis than a plane, with points close together along it."""
    region = shapely.Polygon([point for point, _ in path])
    low_r, low_z, high_r, high_z = region.bounds
    part = shapely.intersection(region, shapely.box(off, low_z - 1.0, high_r + 1.0, high_z + 1.0))
    return shapely.segmentize(part, (high_r - low_r + high_z - low_z) / _SPREAD)


def _squeezed(at: Any, off: float, middle: float, side: float) -> Any:
    """Points of a profile carried into a plane beside the axis."""
    moved = at.copy()
    moved[:, 0] = middle + side * (at[:, 0] ** 2 - off * off).clip(0.0) ** 0.5
    return moved


def _in_sweep(body: Turned, cut: HalfSpace, half: Any) -> Any:
    """What of one side of an upright section lies within a body's sweep."""
    if body.whole or half.is_empty:
        return half
    u = across(cut.normal)[0]
    axis: Vec = (body.axis[0], body.axis[1], 0.0)
    near = scale(cut.normal, cut.offset - dot(cut.normal, axis))
    low_t, low_z, high_t, high_z = half.bounds
    ends = {low_t, high_t}
    for angle in (body.start, body.start + body.sweep):
        across_it: Vec = (-sin(angle), cos(angle), 0.0)
        slope = dot(across_it, u)
        if abs(slope) > _SQUARE:
            ends.add(min(high_t, max(low_t, dot(axis, u) - dot(across_it, near) / slope)))
    kept = []
    for a, b in pairwise(sorted(ends)):
        at = add(near, scale(u, (a + b) / 2.0 - dot(axis, u)))
        if (atan2(at[1], at[0]) - body.start) % tau < body.sweep:
            kept.append(shapely.box(a, low_z, b, high_z))
    return shapely.intersection(half, shapely.union_all(kept))


def _level(body: Turned, cut: HalfSpace, arcs: Arcs) -> Any:
    """Square to the axis: rings, or sectors of rings."""
    z = cut.offset * cut.normal[2]
    path = profile_path(body.profile, fine_step)
    region = shapely.Polygon([point for point, _ in path])
    line = shapely.LineString([(-1.0, z), (region.bounds[2] + 1.0, z)])
    rings = []
    for part in shapely.get_parts(shapely.intersection(region, line)):
        if part.geom_type == "LineString" and not part.is_empty:
            near, far = sorted(_true(body.profile, float(r), z) for r, _ in part.coords)
            rings.append(_ring(body, (near, far), z, cut, arcs))
    return shapely.union_all(rings) if rings else shapely.Polygon()


def _true(profile: Outline, radius: float, z: float) -> float:
    """The radius where a profile itself meets a level, near one where its chords do."""
    found = [r for leg in legs(profile) for r in radii_of(leg, z) if abs(r - radius) < _CHORDS]
    return min(found, key=lambda r: abs(r - radius), default=radius)


def _ring(body: Turned, radii: tuple[float, float], z: float, cut: HalfSpace, arcs: Arcs) -> Any:
    loops = []
    for radius in radii:
        angles = stations(body.start, body.sweep, fine_step(radius))
        points = [
            _flat((body.axis[0] + radius * cos(a), body.axis[1] + radius * sin(a), z), cut.normal)
            for a in angles
        ]
        circle = Circle((body.axis[0], body.axis[1], z), (0.0, 0.0, 1.0), radius)
        for a, b in pairwise(points):
            arcs.note(a, b, circle)
        loops.append(points)
    inner, outer = loops
    if not body.whole:
        return shapely.Polygon([*outer, *inner[::-1]])
    return shapely.Polygon(outer, [inner] if radii[0] > 1e-9 else [])


def _flat(point: Vec, normal: Vec) -> Flat:
    u, v = across(normal)
    return (dot(point, u), dot(point, v))


def _prism_section(body: Prism, cut: HalfSpace, arcs: Arcs) -> Any:
    slope = dot(body.axis, cut.normal)
    if abs(abs(slope) - 1.0) < _SQUARE:
        up = slope * (cut.offset - dot(cut.normal, body.origin))
        if not 0.0 < up < body.height:
            return shapely.Polygon()
        outer = _outline(body, body.at(up / body.height), up, cut, arcs)
        return shapely.difference(
            outer,
            shapely.union_all(
                [_outline(body, one, up, cut, arcs) for one in body.openings_at(up / body.height)]
            ),
        )
    return Block(of_prism(body, fine_step)).section(cut.normal, cut.offset)


def _outline(body: Prism, outline: Outline, up: float, cut: HalfSpace, arcs: Arcs) -> Any:
    path = outline_path(outline, fine_step)
    points = [_flat(body.place(*point, up), cut.normal) for point, _ in path]
    for (_, leg), a, b in zip(path, points, (*points[1:], points[0]), strict=True):
        if leg.bulge != 0.0:
            arc = leg.arc()
            arcs.note(a, b, Circle(body.place(*arc.centre, up), body.axis, arc.radius))
    return shapely.Polygon(points)


def _round_section(body: Round, cut: HalfSpace, arcs: Arcs) -> Any:
    """The section of a cone frustum by a plane: the hull of the chords in which the plane cuts its discs."""
    slope = dot(cut.normal, body.axis)
    steep = sqrt(max(0.0, 1.0 - slope * slope))
    if steep < _SQUARE:
        along = cut.depth(body.foot) / slope
        if not 0.0 < along < body.length:
            return shapely.Polygon()
        radius = body.foot_radius + (body.head_radius - body.foot_radius) * along / body.length
        return _disc(add(body.foot, scale(body.axis, along)), body.axis, radius, cut, arcs)
    points = list(_chord_ends(body, cut, slope, steep))
    hull = shapely.MultiPoint(points).convex_hull if len(points) > 2 else shapely.Polygon()
    return hull if hull.geom_type == "Polygon" else shapely.Polygon()


def _disc(centre: Vec, axis: Vec, radius: float, cut: HalfSpace, arcs: Arcs) -> Any:
    u, v = across(axis)
    angles = stations(0.0, tau, fine_step(radius))[:-1]
    points = [
        _flat(add(centre, add(scale(u, radius * cos(a)), scale(v, radius * sin(a)))), cut.normal)
        for a in angles
    ]
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        arcs.note(a, b, Circle(centre, axis, radius))
    return shapely.Polygon(points)


def _chord_ends(body: Round, cut: HalfSpace, slope: float, steep: float) -> Iterator[Flat]:
    chord = unit(cross(body.axis, cut.normal))
    fall = unit(sub(cut.normal, scale(body.axis, slope)))
    for i in range(_DISCS + 1):
        along = body.length * i / _DISCS
        centre = add(body.foot, scale(body.axis, along))
        off = cut.depth(centre) / steep
        radius = body.foot_radius + (body.head_radius - body.foot_radius) * i / _DISCS
        half = radius**2 - off * off
        if half > 0.0:
            middle = add(centre, scale(fall, off))
            for way in (-1.0, 1.0):
                yield _flat(add(middle, scale(chord, way * sqrt(half))), cut.normal)
