"""From a part's body in space to the blank that is cut for it: outline, bevels, and where it stands."""

from __future__ import annotations

from math import asin

from formwork.geometry.cells import Cell, area
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, across, add, cross, dot, scale, sub, unit
from formwork.molds.mold import Blank, Placement

_ON = 1e-7


def blank(
    planes: Planes, body: Cell, along: Vec | None = None, flat_on: int | None = None
) -> tuple[Blank, Placement]:
    """What to cut for a convex part, and its frame in the mold.

    The outline is the larger of the two faces that lie flat on the saw table: the facet on the plane ``flat_on``
    or the one opposite to it; the largest facet of all where ``flat_on`` is not given.

    Args:
        planes: the register the body refers to.
        body: the part.
        along: direction of the grain or of the stick; the outline's longer side where it is left out.
        flat_on: plane reference (either sign) of one of the part's flat faces.
    """
    reference = _outline_facet(planes, body, flat_on)
    normal = planes.normal(reference)
    polygon = body.facets[reference]
    u, v = _axes(body, normal, along)
    corners = body.points()
    us, vs, ws = ([dot(p, axis) for p in corners] for axis in (u, v, normal))
    low_u, low_v, top = min(us), min(vs), max(ws)
    outline = tuple((dot(p, u) - low_u, dot(p, v) - low_v) for p in polygon)
    bevels = tuple(
        _bevel(planes, body, reference, p, polygon[(i + 1) % len(polygon)]) for i, p in enumerate(polygon)
    )
    origin = add(add(scale(u, low_u), scale(v, low_v)), scale(normal, top))
    cut = Blank(max(us) - low_u, max(vs) - low_v, top - min(ws), outline, bevels)
    return cut, Placement(origin, u, v, scale(normal, -1.0))


def _outline_facet(planes: Planes, body: Cell, flat_on: int | None) -> int:
    """The larger of the two flat faces; of equal ones the one on the plane ``flat_on``."""
    areas = {ref: area(polygon) for ref, polygon in body.facets.items()}
    flat = list(areas)
    if flat_on is not None:
        normal = planes.normal(flat_on)
        flat = [ref for ref in areas if abs(dot(planes.normal(ref), normal)) > 1.0 - 1e-9]
    largest = max(areas[ref] for ref in flat)
    equal = [ref for ref in flat if areas[ref] > largest * (1.0 - 1e-7)]
    return next((ref for ref in equal if flat_on is not None and abs(ref) == abs(flat_on)), equal[0])


def _axes(body: Cell, normal: Vec, along: Vec | None) -> tuple[Vec, Vec]:
    """The blank's two directions in the outline's plane, right-handed with its normal."""
    if along is not None:
        flat = sub(along, scale(normal, dot(along, normal)))
        u = unit(flat)
        return u, cross(normal, u)
    u, v = across(normal)
    corners = body.points()
    extent = [max(dot(p, axis) for p in corners) - min(dot(p, axis) for p in corners) for axis in (u, v)]
    return (u, v) if extent[0] >= extent[1] else (v, scale(u, -1.0))


def _bevel(planes: Planes, body: Cell, outline: int, start: Vec, end: Vec) -> float:
    """Angle from square of the edge face between two corners of the outline, rad; 0 where none is found."""
    normal = planes.normal(outline)
    for ref in body.facets:
        half = planes.half(ref)
        if ref != outline and abs(half.depth(start)) < _ON and abs(half.depth(end)) < _ON:
            lean = -asin(max(-1.0, min(1.0, dot(half.normal, normal))))
            return lean if abs(lean) > 1e-9 else 0.0
    return 0.0


def longest_edge(body: Cell) -> Vec:
    """Direction of the longest edge of a cell: the way a stick or strip runs."""
    best: Vec = (1.0, 0.0, 0.0)
    size = 0.0
    for polygon in body.facets.values():
        for i, p in enumerate(polygon):
            edge = sub(p, polygon[i - 1])
            if dot(edge, edge) > size + 1e-12:
                size, best = dot(edge, edge), edge
    way = unit(best)
    lead = max(range(3), key=lambda axis: (round(abs(way[axis]), 9), -axis))
    return way if way[lead] > 0.0 else scale(way, -1.0)
