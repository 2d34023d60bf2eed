"""Where bodies touch: the flat patches that facets on one plane share, facing each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from formwork.geometry.cells import Cell, Polygon
from formwork.geometry.flats import Outline, middle, outline_area, overlap
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, across, add, dot, scale
from formwork.record import record

_SPECK = 1e-12


@record
class Patch:
    """One patch of contact.

    Attributes:
        area: m2.
        centre: its centre of area, m.
        normal: unit normal, out of the first body into the second.
    """

    area: float
    centre: Vec
    normal: Vec


def contact(planes: Planes, first: Iterable[Cell], second: Iterable[Cell]) -> tuple[Patch, ...]:
    """Every patch where a facet of the first bodies lies against one of the second.

    Args:
        planes: the register both refer to.
        first: disjoint cells.
        second: disjoint cells that share no volume with the first.
    """
    facing: dict[int, list[Polygon]] = defaultdict(list)
    for body in second:
        for reference, polygon in body.facets.items():
            facing[-reference].append(polygon)
    found = []
    for body in first:
        for reference, polygon in body.facets.items():
            for other in facing.get(reference, ()):
                patch = _patch(planes.normal(reference), polygon, other)
                if patch is not None:
                    found.append(patch)
    return tuple(found)


def _patch(normal: Vec, polygon: Polygon, other: Polygon) -> Patch | None:
    u, v = across(normal)

    def flat(corners: Iterable[Vec]) -> Outline:
        return tuple((dot(p, u), dot(p, v)) for p in corners)

    shared = overlap(flat(polygon), flat(other[::-1]))
    if len(shared) < 3 or outline_area(shared) < _SPECK:
        return None
    x, y = middle(shared)
    centre = add(add(scale(u, x), scale(v, y)), scale(normal, dot(normal, polygon[0])))
    return Patch(outline_area(shared), centre, normal)
