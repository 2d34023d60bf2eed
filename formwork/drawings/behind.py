"""What is left of a body behind a section plane, and the face that the plane cuts of it. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import shapely

from formwork.drawings.bodies import Body, Shell, curves_of, together
from formwork.drawings.carving import boundaries, facets_of, flat_region
from formwork.drawings.polyhedra import Facet
from formwork.drawings.seams import Edge
from formwork.drawings.sections import Arcs, section
from formwork.geometry.cells import Cell, Polygon, split
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, across, add, scale, sub


def behind(one: Shell, cut: HalfSpace) -> Shell:
    """What is left of a body behind a section plane, and the face that the plane cuts.

    Args:
        one: the whole body.
        cut: the half-space that is kept; its outward normal points at the eye.
    """
    facets = [left for facet in one.facets for left in _behind(facet, cut)]
    edges = []
    for edge in one.edges:
        kept = segment_behind((edge.start, edge.end), cut)
        if kept is not None:
            edges.append(Edge(*kept, edge.normals, edge.circle))
    arcs = Arcs()
    face = _cut_face(one.body, cut, arcs)
    if face is not None:
        facets.extend(facets_of(face, cut.normal, cut.offset))
    return Shell(one.body, tuple(facets), tuple(edges), face, arcs)


def _behind(facet: Facet, cut: HalfSpace) -> Iterator[Facet]:
    depths = [cut.depth(p) for p in facet.rings[0]]
    if min(depths) >= 0.0:
        yield facet
    elif max(depths) > 0.0:
        if facet.convex:
            ring = behind_cut(facet.rings[0], cut)
            if len(ring) > 2:
                yield Facet(facet.normal, (ring,))
        else:
            region = shapely.intersection(flat_region(facet), _side(facet, cut))
            yield from facets_of(region, facet.normal, facet.offset)


def _side(facet: Facet, cut: HalfSpace) -> Any:
    """The side of a facet's plane that lies behind a cut, as far as the facet reaches."""
    u, v = across(facet.normal)
    region = flat_region(facet)
    low_x, low_y, high_x, high_y = region.bounds
    foot = scale(facet.normal, facet.offset)
    corners = tuple(
        add(foot, add(scale(u, x), scale(v, y)))
        for x, y in (
            (low_x - 1.0, low_y - 1.0),
            (high_x + 1.0, low_y - 1.0),
            (high_x + 1.0, high_y + 1.0),
            (low_x - 1.0, high_y + 1.0),
        )
    )
    return flat_region(Facet(facet.normal, (behind_cut(corners, cut),)))


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


def segment_behind(segment: tuple[Vec, Vec], cut: HalfSpace) -> tuple[Vec, Vec] | None:
    """What of a segment lies inside a half-space."""
    a, b = (cut.depth(p) for p in segment)
    if max(a, b) <= 0.0:
        return None
    if min(a, b) >= 0.0:
        return segment
    meets = add(segment[0], scale(sub(segment[1], segment[0]), a / (a - b)))
    return (segment[0], meets) if a > 0.0 else (meets, segment[1])


def _cut_face(body: Body, cut: HalfSpace, arcs: Arcs) -> Any:
    """What the section plane cuts of a body: all that it fills, less its formers and holes."""
    caps = _caps(body.cells, cut)
    face = together(caps, cut.normal) if caps else shapely.Polygon()
    face = shapely.union_all([face, *(section(one, cut, arcs) for one in curves_of(body))])
    gaps = [section(one, cut, arcs) for one in (*body.formers, *body.holes)]
    if gaps:
        face = shapely.difference(face, shapely.union_all(gaps))
    parts = [part for part in shapely.get_parts(face) if part.geom_type == "Polygon" and part.area > 1e-10]
    return shapely.union_all(parts) if parts else None


def _caps(cells: Iterable[Cell], cut: HalfSpace) -> list[Polygon]:
    """The facets in which a plane cuts cells.

    The cut is made in a register of its own, so that a drawing adds no plane to a mold's.
    """
    knife = Planes()
    reference = knife.enter(cut)
    caps: list[Polygon] = []
    for cell in cells:
        inside, outside = split(knife, _renumbered(cell, reference), reference)
        if inside is not None and outside is not None:
            caps.append(inside.facets[reference])
    return caps


def _renumbered(cell: Cell, by: int) -> Cell:
    """The cell with every reference moved away from nought by so many numbers; what comes to nought is left out."""
    moved = {ref + by if ref > 0 else ref - by: polygon for ref, polygon in cell.facets.items()}
    return Cell({ref: polygon for ref, polygon in moved.items() if ref})


def cut_outline(one: Shell, cut: HalfSpace) -> Iterator[Edge]:
    """The outline of the face that a section plane cuts of a body."""
    if one.cut is None:
        return
    u, v = across(cut.normal)
    foot = scale(cut.normal, cut.offset)

    def in_space(point: tuple[float, float]) -> Vec:
        return add(foot, add(scale(u, point[0]), scale(v, point[1])))

    for a, b in boundaries(one.cut):
        yield Edge(in_space(a), in_space(b), (cut.normal,), one.arcs.circle(a, b) if one.arcs else None)
