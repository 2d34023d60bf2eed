"""From cells and rounds to what an eye sees of a body: its plane surfaces, its edges, and the faces a section cuts.

Facets of several cells that lie on one plane are one surface, and where two cells of a body touch there is none:
so a body shows no seam between its cells. Facets are told apart by their signed plane references alone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, pi, sin, sqrt
from typing import Any

import shapely
from shapely.geometry import Polygon as Region

from formwork.geometry.cells import Cell, Polygon, split
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.rounds import Round
from formwork.geometry.vectors import Vec, across, add, cross, dot, scale, sub, unit

GRID = 1e-9
"""Regions are put together on a grid this fine, m."""
_TOUCH = 1e-7
_STEPS = 48
_ROUND = 1.0 / cos(pi / (2 * _STEPS)) + 1e-4
"""A polygon round a hole, not in it: what is seen through the hole is not cut short by chords."""
_LIKE = sqrt(pi / _STEPS / sin(pi / _STEPS))
"""A polygon of the circle's own area."""
_STATIONS = 32

Segment = tuple[Vec, Vec]


@dataclass(frozen=True, slots=True)
class Body:
    """One thing in a drawing.

    Attributes:
        name: of the part; unique in a drawing.
        layer: layer of its visible edges.
        planes: the register its cells refer to.
        cells: disjoint cells that it fills.
        rounds: round bodies that it fills besides.
        holes: round holes through it.
        hidden_layer: layer of its hidden edges; empty where they are not drawn.
        pattern: how its cut face is hatched.
    """

    name: str
    layer: str
    planes: Planes
    cells: tuple[Cell, ...]
    rounds: tuple[Round, ...] = ()
    holes: tuple[Round, ...] = ()
    hidden_layer: str = ""
    pattern: str = ""


@dataclass(frozen=True, slots=True)
class Surface:
    """A plane region in space.

    Attributes:
        normal: outward unit normal.
        offset: of its plane.
        region: in the axes that ``across`` gives for the normal.
        barrel: number of the round side it is a facet of; -1 for a true plane.
    """

    normal: Vec
    offset: float
    region: Any
    barrel: int = -1


@dataclass(frozen=True, slots=True)
class Rim:
    """A whole circle that is an edge of a body."""

    centre: Vec
    axis: Vec
    radius: float


@dataclass(frozen=True, slots=True)
class Shell:
    """What is to be seen of one body, cut or whole.

    Attributes:
        body: whose it is.
        surfaces: plane surfaces, those of round sides as narrow facets.
        segments: straight edges.
        rims: round edges, two for each round side, in the order of the round sides.
        barrels: round sides, whose outline depends on the view; with the half-space they are cut by.
        cut: the cut face, in the axes ``across`` gives for the section plane; None where nothing is cut.
    """

    body: Body
    surfaces: tuple[Surface, ...]
    segments: tuple[Segment, ...]
    rims: tuple[Rim, ...]
    barrels: tuple[Round, ...]
    cut: Any = None


def shell(body: Body, cut: HalfSpace | None = None) -> Shell:
    """Everything to be seen of a body, or of what is left of it behind a section plane.

    Args:
        body: the body.
        cut: the half-space that is kept; its outward normal points at the eye. None for the whole body.
    """
    cells, caps = _cut_cells(body.cells, cut)
    surfaces: list[Surface] = []
    segments: list[Segment] = []
    pierced: dict[int, list[float]] = defaultdict(list)
    for surface in _plane_surfaces(body.planes, cells):
        segments.extend(_edges(surface))
        surfaces.append(_pierce(surface, body.holes, pierced))
    rims: list[Rim] = []
    barrels = [*body.rounds, *_walls(body.holes, pierced)]
    for barrel in barrels:
        rims.append(Rim(barrel.foot, barrel.axis, barrel.foot_radius))
        rims.append(Rim(barrel.head(), barrel.axis, barrel.head_radius))
    for index, barrel in enumerate(barrels):
        solid = index < len(body.rounds)
        surfaces.extend(_side_facets(barrel, cut, index, outward=solid))
        surfaces.extend(_ends(barrel, cut) if solid else ())
    cut_face = None if cut is None else _cut_face(caps, body, cut)
    if cut is not None and cut_face is not None:
        surfaces.append(Surface(cut.normal, cut.offset, cut_face))
        segments.extend(_edges(surfaces[-1]))
    return Shell(body, tuple(surfaces), tuple(segments), tuple(rims), tuple(barrels), cut_face)


def _cut_cells(cells: Iterable[Cell], cut: HalfSpace | None) -> tuple[list[Cell], list[Polygon]]:
    """The cells behind the cut without their cut facets, and those facets.

    The cut is made in a register of its own, so that a drawing adds no plane to a mold's.
    """
    if cut is None:
        return list(cells), []
    knife = Planes()
    reference = knife.enter(cut)
    kept: list[Cell] = []
    caps: list[Polygon] = []
    for cell in cells:
        inside, outside = split(knife, _renumbered(cell, reference), reference)
        if inside is None:
            continue
        if outside is not None:
            caps.append(inside.facets[reference])
        kept.append(_renumbered(inside, -reference))
    return kept, caps


def _renumbered(cell: Cell, by: int) -> Cell:
    """The cell with every reference moved away from nought by so many numbers; what comes to nought is left out."""
    moved = {ref + by if ref > 0 else ref - by: polygon for ref, polygon in cell.facets.items()}
    return Cell({ref: polygon for ref, polygon in moved.items() if ref})


def _plane_surfaces(planes: Planes, cells: Sequence[Cell]) -> Iterator[Surface]:
    """One surface for each side of each plane on which the cells have an open facet."""
    sides: dict[int, list[Polygon]] = defaultdict(list)
    for cell in cells:
        for reference, polygon in cell.facets.items():
            sides[reference].append(polygon)
    for reference in sorted(sides, key=lambda r: (abs(r), -r)):
        half = planes.half(reference)
        region = _together(sides[reference], half.normal)
        if -reference in sides:
            region = shapely.difference(region, _together(sides[-reference], half.normal), grid_size=GRID)
        region = _areas(region)
        if not region.is_empty:
            yield Surface(half.normal, half.offset, region)


def _together(polygons: Sequence[Polygon], normal: Vec) -> Any:
    u, v = across(normal)
    flat = [Region([(dot(p, u), dot(p, v)) for p in polygon]) for polygon in polygons]
    return shapely.union_all(flat, grid_size=GRID)


def _areas(region: Any) -> Any:
    """The parts of a region that have an area worth the name; slivers of rounding fall away."""
    parts = [part for part in shapely.get_parts(region) if part.geom_type == "Polygon" and part.area > 1e-10]
    return shapely.union_all(parts) if parts else shapely.Polygon()


def rings(region: Any) -> list[list[tuple[float, float]]]:
    """Every ring of a region, each part's outline before its openings, without the repeated last point."""
    found = []
    for part in shapely.get_parts(region):
        for ring in (part.exterior, *part.interiors):
            found.append([(float(x), float(y)) for x, y in ring.coords[:-1]])
    return found


def in_space(surface: Surface, point: tuple[float, float]) -> Vec:
    """The point of space that a point of a surface's own axes stands for."""
    u, v = across(surface.normal)
    return add(scale(surface.normal, surface.offset), add(scale(u, point[0]), scale(v, point[1])))


def _edges(surface: Surface) -> Iterator[Segment]:
    for ring in rings(surface.region):
        points = [in_space(surface, p) for p in ring]
        yield from zip(points, (*points[1:], points[0]), strict=True)


def _pierce(surface: Surface, holes: Sequence[Round], pierced: dict[int, list[float]]) -> Surface:
    """The surface with the holes that go squarely through it taken out; notes how far along each hole that was."""
    region = surface.region
    u, v = across(surface.normal)
    for index, hole in enumerate(holes):
        if abs(abs(dot(surface.normal, hole.axis)) - 1.0) > 1e-9:
            continue
        along = (surface.offset - dot(surface.normal, hole.foot)) / dot(surface.normal, hole.axis)
        if not -_TOUCH <= along <= hole.length + _TOUCH:
            continue
        centre = add(hole.foot, scale(hole.axis, along))
        disc = _disc((dot(centre, u), dot(centre, v)), _ROUND * _radius(hole, along))
        if region.intersects(disc):
            region = shapely.difference(region, disc)
            pierced[index].append(along)
    return Surface(surface.normal, surface.offset, region)


def _disc(centre: tuple[float, float], radius: float) -> Any:
    angles = [2.0 * pi * i / (2 * _STEPS) for i in range(2 * _STEPS)]
    return Region([(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in angles])


def _radius(body: Round, along: float) -> float:
    return body.foot_radius + (body.head_radius - body.foot_radius) * along / body.length


def _walls(holes: Sequence[Round], pierced: dict[int, list[float]]) -> list[Round]:
    """The lengths of the holes that really lie inside the body: between a surface they enter and one they leave."""
    found = []
    for index, hole in enumerate(holes):
        stations = sorted(pierced[index])
        for start, end in zip(stations[::2], stations[1::2], strict=False):
            foot = add(hole.foot, scale(hole.axis, start))
            found.append(Round(foot, hole.axis, end - start, _radius(hole, start), _radius(hole, end)))
    return found


def _ends(body: Round, cut: HalfSpace | None) -> Iterator[Surface]:
    for centre, way, radius in (
        (body.foot, scale(body.axis, -1.0), body.foot_radius),
        (body.head(), body.axis, body.head_radius),
    ):
        u, v = across(way)
        ring = tuple(_on_circle(centre, u, v, _ROUND * radius, i) for i in range(2 * _STEPS))
        yield from _facet(ring, way, cut)


def _side_facets(body: Round, cut: HalfSpace | None, index: int, *, outward: bool) -> Iterator[Surface]:
    u, v = across(body.axis)
    for i in range(0, 2 * _STEPS, 2):
        low = [_on_circle(body.foot, u, v, body.foot_radius, i + k) for k in (0, 2)]
        high = [_on_circle(body.head(), u, v, body.head_radius, i + k) for k in (2, 0)]
        corners = (*low, *high) if outward else (*low[::-1], *high[::-1])
        normal = unit(cross(sub(corners[2], corners[0]), sub(corners[3], corners[1])))
        yield from _facet(corners, normal, cut, index)


def _on_circle(centre: Vec, u: Vec, v: Vec, radius: float, step: int) -> Vec:
    angle = pi * step / _STEPS
    return add(centre, add(scale(u, radius * cos(angle)), scale(v, radius * sin(angle))))


def _facet(corners: Polygon, normal: Vec, cut: HalfSpace | None, barrel: int = -1) -> Iterator[Surface]:
    kept = corners if cut is None else behind_cut(corners, cut)
    if len(kept) > 2:
        u, v = across(normal)
        region = Region([(dot(p, u), dot(p, v)) for p in kept])
        if region.area > 1e-12:
            yield Surface(normal, dot(normal, corners[0]), region, barrel)


def behind_cut(corners: Polygon, cut: HalfSpace) -> Polygon:
    """What of a convex polygon lies inside a half-space."""
    kept: list[Vec] = []
    for before, point in zip((corners[-1], *corners[:-1]), corners, strict=True):
        a, b = cut.depth(before), cut.depth(point)
        if (a < 0.0 < b) or (b < 0.0 < a):
            kept.append(add(before, scale(sub(point, before), a / (a - b))))
        if b >= 0.0:
            kept.append(point)
    return tuple(kept)


def segment_behind(segment: Segment, cut: HalfSpace) -> Segment | None:
    """What of a segment lies inside a half-space."""
    a, b = (cut.depth(p) for p in segment)
    if max(a, b) <= 0.0:
        return None
    if min(a, b) >= 0.0:
        return segment
    meets = add(segment[0], scale(sub(segment[1], segment[0]), a / (a - b)))
    return (segment[0], meets) if a > 0.0 else (meets, segment[1])


def _cut_face(caps: Sequence[Polygon], body: Body, cut: HalfSpace) -> Any:
    """What the section plane cuts of a body: its cells and rounds less its holes."""
    face = _together(caps, cut.normal) if caps else shapely.Polygon()
    solid = [_round_section(one, cut) for one in body.rounds]
    face = shapely.union_all([face, *(s for s in solid if s is not None)])
    for hole in body.holes:
        gap = _round_section(hole, cut)
        if gap is not None:
            face = shapely.difference(face, gap)
    face = _areas(face)
    return None if face.is_empty else face


def _round_section(body: Round, cut: HalfSpace) -> Any:
    """The section of a cone frustum by a plane: the hull of the chords in which the plane cuts its discs."""
    u, v = across(cut.normal)
    slope = dot(cut.normal, body.axis)
    steep = sqrt(max(0.0, 1.0 - slope * slope))
    if steep < 1e-9:
        along = cut.depth(body.foot) / slope
        if not 0.0 < along < body.length:
            return None
        centre = add(body.foot, scale(body.axis, along))
        return _disc((dot(centre, u), dot(centre, v)), _LIKE * _radius(body, along))
    chord = unit(cross(body.axis, cut.normal))
    fall = unit(sub(cut.normal, scale(body.axis, slope)))
    points = []
    for i in range(_STATIONS + 1):
        along = body.length * i / _STATIONS
        centre = add(body.foot, scale(body.axis, along))
        off = cut.depth(centre) / steep
        half = _radius(body, along) ** 2 - off * off
        if half <= 0.0:
            continue
        middle = add(centre, scale(fall, off))
        for way in (-1.0, 1.0):
            p = add(middle, scale(chord, way * sqrt(half)))
            points.append((dot(p, u), dot(p, v)))
    hull = shapely.MultiPoint(points).convex_hull if len(points) > 2 else shapely.Polygon()
    return hull if hull.geom_type == "Polygon" and hull.area > 1e-10 else None
