"""From what fills a body to what an eye sees of it: its plane faces, its edges, and the faces a section cuts.

Facets of several cells that lie on one plane are one face, and where two cells of a body touch there is none:
so a body shows no seam between its cells. Curved bodies are facets too, and the edges between them are known for
what they are: chords of arcs, or seams that only a silhouette makes visible.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import shapely
from shapely.geometry import Polygon as Region

from formwork.drawings.carving import carved, facets_of, flat_region, turned_down
from formwork.drawings.polyhedra import Chord, Circle, Curve, Facet, Polyhedron, Ring, of_round, polyhedron
from formwork.drawings.seams import Edge, edges
from formwork.drawings.sections import Arcs
from formwork.geometry.cells import Cell, Polygon
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, across, add, dot, scale

GRID = 1e-9
"""Regions are put together on a grid this fine, m."""
_TOUCH = 1e-7
_SQUARE = 1e-9


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
        turned: turned bodies that it fills besides.
        prisms: bodies with an outline that it fills besides.
        formers: what is taken out of its turned bodies and prisms.
    """

    name: str
    layer: str
    planes: Planes
    cells: tuple[Cell, ...]
    rounds: tuple[Round, ...] = ()
    holes: tuple[Round, ...] = ()
    hidden_layer: str = ""
    pattern: str = ""
    turned: tuple[Turned, ...] = ()
    prisms: tuple[Prism, ...] = ()
    formers: tuple[Curve, ...] = ()


@dataclass(frozen=True, slots=True)
class Shell:
    """What is to be seen of one body, cut or whole.

    Attributes:
        body: whose it is.
        facets: plane faces.
        edges: where they meet.
        cut: the cut face, in the axes ``across`` gives for the section plane; None where nothing is cut.
        arcs: those of its outline that are true arcs.
    """

    body: Body
    facets: tuple[Facet, ...]
    edges: tuple[Edge, ...]
    cut: Any = None
    arcs: Arcs | None = None


def curves_of(body: Body) -> tuple[Curve, ...]:
    """The curved bodies that a body fills."""
    return (*body.rounds, *body.turned, *body.prisms)


def solids_of(body: Body) -> tuple[Cell | Curve, ...]:
    """Everything that a body fills."""
    return (*body.cells, *curves_of(body))


def shell(body: Body) -> Shell:
    """Everything to be seen of a whole body."""
    facets = list(_cell_facets(body.planes, body.cells))
    chords: list[Chord] = []
    for one in curves_of(body):
        left, walls = _formed(one, body.formers)
        facets.extend(left)
        chords.extend(walls)
    for hole in body.holes:
        wall, facets = _bored(facets, hole)
        facets.extend(wall.facets)
        chords.extend(wall.chords)
    return Shell(body, tuple(facets), tuple(edges(facets, chords)))


def _formed(body: Curve, formers: Sequence[Curve]) -> tuple[Sequence[Facet], list[Chord]]:
    """The faces of a curved body less formers, and the chords among their edges."""
    rest = list(formers)
    whole = polyhedron(body)
    if isinstance(body, Turned) and formers:
        whole, rest = turned_down(body, formers)
    taken = [polyhedron(one) for one in rest]
    chords = [chord for one in (whole, *taken) for chord in one.chords]
    return carved(whole, taken) if taken else whole.facets, chords


def _cell_facets(planes: Planes, cells: Sequence[Cell]) -> Iterator[Facet]:
    """The faces on each side of each plane on which the cells have an open facet."""
    sides: dict[int, list[Polygon]] = defaultdict(list)
    for cell in cells:
        for reference, polygon in cell.facets.items():
            sides[reference].append(polygon)
    for reference in sorted(sides, key=lambda r: (abs(r), -r)):
        half = planes.half(reference)
        if len(sides[reference]) == 1 and -reference not in sides:
            yield Facet(half.normal, (tuple(sides[reference][0]),))
            continue
        region = together(sides[reference], half.normal)
        if -reference in sides:
            region = shapely.difference(region, together(sides[-reference], half.normal), grid_size=GRID)
        yield from facets_of(region, half.normal, half.offset)


def together(polygons: Sequence[Polygon], normal: Vec) -> Any:
    """Polygons of one plane as a region in the axes that ``across`` gives for its normal."""
    u, v = across(normal)
    flat = [Region([(dot(p, u), dot(p, v)) for p in polygon]) for polygon in polygons]
    return shapely.union_all(flat, grid_size=GRID)


def _bored(facets: Sequence[Facet], hole: Round) -> tuple[Polyhedron, list[Facet]]:
    """The faces with a hole through those that lie square to it, and the walls of the hole between them."""
    left: list[Facet] = []
    stations: list[float] = []
    low, high = _reach(hole)
    for facet in facets:
        along = _crossing(facet, hole)
        if along is None or not _meets(facet.rings[0], low, high):
            left.append(facet)
            continue
        region, disc = flat_region(facet), _disc(hole, along, facet.normal)
        if region.intersection(disc).area < 1e-3 * disc.area:
            left.append(facet)
            continue
        stations.append(along)
        left.extend(facets_of(shapely.difference(region, disc), facet.normal, facet.offset))
    return _walls(hole, sorted(stations)), left


def _reach(hole: Round) -> tuple[Vec, Vec]:
    """Least and greatest corner of a box that holds a round body."""
    r = max(hole.foot_radius, hole.head_radius) + _TOUCH
    ends = (hole.foot, hole.head())
    low, high = (tuple(pick(e[i] for e in ends) for i in range(3)) for pick in (min, max))
    return (low[0] - r, low[1] - r, low[2] - r), (high[0] + r, high[1] + r, high[2] + r)


def _meets(ring: Ring, low: Vec, high: Vec) -> bool:
    return all(min(p[i] for p in ring) <= high[i] and max(p[i] for p in ring) >= low[i] for i in range(3))


def _crossing(facet: Facet, hole: Round) -> float | None:
    """How far along a hole a face lies that is square to it; None for any other face."""
    slope = dot(facet.normal, hole.axis)
    if abs(abs(slope) - 1.0) > _SQUARE:
        return None
    along = (facet.offset - dot(facet.normal, hole.foot)) / slope
    return along if -_TOUCH <= along <= hole.length + _TOUCH else None


def _disc(hole: Round, along: float, normal: Vec) -> Any:
    """The stations round a hole at a place along it, in the axes of a face's normal."""
    share = along / hole.length
    radius = hole.foot_radius + share * (hole.head_radius - hole.foot_radius)
    cut = Round(add(hole.foot, scale(hole.axis, along)), hole.axis, 1.0, radius, radius)
    return flat_region(Facet(normal, (of_round(cut).facets[1].rings[0],)))


def _walls(hole: Round, stations: Sequence[float]) -> Polyhedron:
    """The lengths of a hole that really lie inside a body: between a face where it enters and one where it leaves."""
    facets: list[Facet] = []
    chords: list[Chord] = []
    for start, end in zip(stations[::2], stations[1::2], strict=False):
        radii = [
            hole.foot_radius + (hole.head_radius - hole.foot_radius) * along / hole.length
            for along in (start, end)
        ]
        wall = of_round(
            Round(add(hole.foot, scale(hole.axis, start)), hole.axis, end - start, *radii)
        ).hollow()
        facets.extend(wall.facets[2:])
        chords.extend(wall.chords)
    return Polyhedron(tuple(facets), tuple(chords))


def carried(one: Shell, by: Vec) -> Shell:
    """A whole body's shell as it is seen somewhere else.

    Args:
        one: the shell.
        by: how far it is carried, m.
    """

    def at(point: Vec) -> Vec:
        return add(point, by)

    facets = tuple(
        Facet(f.normal, tuple(tuple(map(at, ring)) for ring in f.rings), f.convex) for f in one.facets
    )
    lines = tuple(
        Edge(
            at(edge.start),
            at(edge.end),
            edge.normals,
            edge.circle and Circle(at(edge.circle.centre), edge.circle.axis, edge.circle.radius),
        )
        for edge in one.edges
    )
    return Shell(one.body, facets, lines)
