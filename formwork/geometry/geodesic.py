"""Geodesic frames: the icosahedron, each edge parted into n (class I), points pushed out to the sphere (method 1).

A node lies where each face's edges, parted into n equal chords, cross; it is then moved along its radius to the sphere.
Stood on a vertex, the frame has 3 n bands of triangles from pole to pole; it may be cut off along a ring of struts
between two bands. Everything here is on the unit sphere; a chord factor times the radius is a strut's length.

Sources: chord factors 1V to 6V as published lists give them (S. Mather, "Chord Factors"; lists of geodesic builders);
the tests hold them and a subdivision made by another route against this one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from math import acos, asin, atan, atan2, cos, hypot, pi, sin, sqrt

from formwork.errors import RangeError
from formwork.geometry.vectors import Vec, cross, dot, length, scale, sub, unit
from formwork.record import record

MOST = 6
"""Highest frequency: what published lists cover, and what these are held against."""

CUTS: dict[int, dict[str, int]] = {
    1: {"2/3": 2},
    2: {"1/2": 3},
    3: {"4/9": 4, "5/9": 5},
    4: {"5/12": 5, "1/2": 6},
    5: {"7/15": 7, "8/15": 8},
    6: {"1/2": 9},
}
"""Where each frequency may be cut: the share of its bands that is kept, and how many bands that is."""

OTHER_NAMES: dict[tuple[int, str], str] = {
    (3, "3/8"): "4/9",
    (3, "5/8"): "5/9",
    (1, "5/8"): "2/3",
    (5, "5/8"): "8/15",
}
"""Names in use for the same cuts, that do not count bands."""

_ALIKE = 1e-9
"""Chord factors nearer than this are one class: rounding differs by 1e-15, two classes by 1e-4 and more."""

Edge = tuple[int, int]


@record
class Strut:
    """Struts of one length.

    Attributes:
        factor: chord factor: length from node to node over the radius.
        edges: the pairs of nodes they join.
    """

    factor: float
    edges: tuple[Edge, ...]

    @property
    def axial(self) -> float:
        """Angle between the strut and the level at each of its nodes, rad: asin(cf / 2)."""
        return asin(self.factor / 2.0)


@record
class Geodesic:
    """A sphere or a part of it, cut off below.

    Attributes:
        frequency: into how many each edge of the icosahedron is parted.
        nodes: on the unit sphere, the top one first, row by row, each row anticlockwise seen from above.
        rows: number of the row of each node, 0 at the top.
        struts: by length, the shortest first.
        faces: triangles, as three nodes each, anticlockwise seen from outside.
        base: the nodes of the lowest row where it is cut off; empty for a whole sphere.
    """

    frequency: int
    nodes: tuple[Vec, ...]
    rows: tuple[int, ...]
    struts: tuple[Strut, ...]
    faces: tuple[tuple[int, int, int], ...]
    base: tuple[int, ...]

    def spread(self) -> float:
        """Height between the highest and the lowest base node, over the radius."""
        heights = [self.nodes[node][2] for node in self.base]
        return max(heights) - min(heights) if heights else 0.0

    def ways(self) -> tuple[int, ...]:
        """How many struts meet at each node."""
        count = [0] * len(self.nodes)
        for strut in self.struts:
            for a, b in strut.edges:
                count[a] += 1
                count[b] += 1
        return tuple(count)


def sphere(frequency: int) -> Geodesic:
    """The whole sphere.

    Args:
        frequency: 1 to 6.

    Raises:
        RangeError: for another frequency.
    """
    if not 1 <= frequency <= MOST:
        raise RangeError(f"frequency: got {frequency}, want 1 to {MOST}")
    places = _places(frequency)
    number = {key: index for index, (key, _, _) in enumerate(places)}
    faces = tuple(
        (number[a], number[b], number[c])
        for corners in _icosahedron_faces()
        for a, b, c in _small_triangles(corners, frequency)
    )
    nodes = tuple(place for _, place, _ in places)
    rows = tuple(row for _, _, row in places)
    return Geodesic(frequency, nodes, rows, _by_length(nodes, _edges(faces)), faces, ())


def dome(frequency: int, bands: int) -> Geodesic:
    """The part of the sphere above the ring of nodes under so many bands of triangles.

    Args:
        frequency: 1 to 6.
        bands: how many of the 3 x frequency bands are kept, from the frequency itself to twice that: only there a
            closed ring of 5 x frequency struts runs round.

    Raises:
        RangeError: outside these limits.
    """
    whole = sphere(frequency)
    if not frequency <= bands <= 2 * frequency:
        raise RangeError(f"bands: got {bands}, want {frequency} to {2 * frequency} at frequency {frequency}")
    kept = sum(row <= bands for row in whole.rows)
    faces = tuple(face for face in whole.faces if max(face) < kept)
    base = tuple(node for node in range(kept) if whole.rows[node] == bands)
    nodes = whole.nodes[:kept]
    return replace(
        whole,
        nodes=nodes,
        rows=whole.rows[:kept],
        struts=_by_length(nodes, _edges(faces)),
        faces=faces,
        base=base,
    )


def levelled(frame: Geodesic) -> Geodesic:
    """The same with its base nodes slid up or down on the sphere to their mean height; nothing else moves.

    Args:
        frame: a dome.
    """
    if not frame.base:
        return frame
    height = sum(frame.nodes[node][2] for node in frame.base) / len(frame.base)
    nodes = list(frame.nodes)
    for node in frame.base:
        x, y, _ = nodes[node]
        out = sqrt(1.0 - height * height) / hypot(x, y)
        nodes[node] = (x * out, y * out, height)
    edges = [edge for strut in frame.struts for edge in strut.edges]
    return replace(frame, nodes=tuple(nodes), struts=_by_length(nodes, edges))


def triangle_angles(frame: Geodesic, face: tuple[int, int, int]) -> tuple[float, float, float]:
    """The angles of a triangle at its three nodes, rad."""
    points = [frame.nodes[node] for node in face]
    return (
        _angle(points[0], points[1], points[2]),
        _angle(points[1], points[2], points[0]),
        _angle(points[2], points[0], points[1]),
    )


def dihedral(frame: Geodesic, edge: Edge) -> float:
    """The angle between the two triangles that share a strut, seen from inside, rad.

    Args:
        frame: the frame.
        edge: a pair of nodes, as in its struts.

    Raises:
        RangeError: for a strut of the base, which has a triangle on one side only.
    """
    beside = [face for face in frame.faces if edge[0] in face and edge[1] in face]
    if len(beside) != 2:
        raise RangeError(f"strut {edge}: got {len(beside)} triangles beside it, want 2")
    first, second = (_outward(frame, face) for face in beside)
    return pi - acos(max(-1.0, min(1.0, dot(first, second))))


def closest_angle(frame: Geodesic) -> float:
    """The smallest angle between two struts that meet, rad."""
    return min(angle for face in frame.faces for angle in triangle_angles(frame, face))


_Key = tuple[tuple[int, int], ...]
"""A node: the vertices of the icosahedron it lies between, each with its whole weight; weights sum to n."""


def _vertices() -> tuple[Vec, ...]:
    """The icosahedron stood on a vertex: top, upper ring, lower ring, bottom."""
    latitude = atan(0.5)
    up, out = sin(latitude), cos(latitude)
    upper = [(out * cos(2 * pi * i / 5), out * sin(2 * pi * i / 5), up) for i in range(5)]
    lower = [(out * cos(2 * pi * (i + 0.5) / 5), out * sin(2 * pi * (i + 0.5) / 5), -up) for i in range(5)]
    return ((0.0, 0.0, 1.0), *upper, *lower, (0.0, 0.0, -1.0))


def _icosahedron_faces() -> tuple[tuple[int, int, int], ...]:
    """Its twenty faces as numbers of vertices, anticlockwise seen from outside."""
    faces: list[tuple[int, int, int]] = []
    for i in range(5):
        j = (i + 1) % 5
        faces += [(0, 1 + i, 1 + j), (1 + i, 6 + i, 1 + j), (6 + i, 6 + j, 1 + j), (11, 6 + j, 6 + i)]
    return tuple(faces)


def _places(n: int) -> list[tuple[_Key, Vec, int]]:
    """Every node once: its key, its place on the unit sphere, its row; in the order of ``Geodesic.nodes``."""
    vertices = _vertices()
    found: dict[_Key, tuple[Vec, int]] = {}
    for corners in _icosahedron_faces():
        for i in range(n + 1):
            for j in range(n + 1 - i):
                key = _key(corners, (i, j, n - i - j))
                if key not in found:
                    found[key] = (_pushed_out(key, vertices), sum(weight * _level(v) for v, weight in key))
    placed = [(key, place, row) for key, (place, row) in found.items()]
    return sorted(placed, key=lambda one: (one[2], round(_azimuth(one[1]), 9)))


def _key(corners: tuple[int, int, int], weights: tuple[int, int, int]) -> _Key:
    return tuple(sorted((v, w) for v, w in zip(corners, weights, strict=True) if w))


def _level(vertex: int) -> int:
    """The vertex's own row on the plain icosahedron."""
    return 0 if vertex == 0 else 1 if vertex <= 5 else 2 if vertex <= 10 else 3


def _pushed_out(key: _Key, vertices: Sequence[Vec]) -> Vec:
    x, y, z = (sum(weight * vertices[vertex][axis] for vertex, weight in key) for axis in range(3))
    return unit((x, y, z))


def _azimuth(place: Vec) -> float:
    """Angle round the axis from x, anticlockwise seen from above, 0 to 2 pi; 0 on the axis itself."""
    if hypot(place[0], place[1]) < _ALIKE:
        return 0.0
    angle = atan2(place[1], place[0])
    return angle + 2.0 * pi if angle < -_ALIKE else max(0.0, angle)


def _small_triangles(corners: tuple[int, int, int], n: int) -> list[tuple[_Key, _Key, _Key]]:
    """The n x n triangles of one face, each turned the way the face is."""

    def at(i: int, j: int) -> _Key:
        return _key(corners, (i, j, n - i - j))

    pointing_up = [(at(i + 1, j), at(i, j + 1), at(i, j)) for i in range(n) for j in range(n - i)]
    pointing_down = [
        (at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)) for i in range(n - 1) for j in range(n - 1 - i)
    ]
    return pointing_up + pointing_down


def _edges(faces: Sequence[tuple[int, int, int]]) -> list[Edge]:
    """Every side of the triangles once, the lower node first."""
    return sorted({(min(pair), max(pair)) for face in faces for pair in combinations(face, 2)})


def _by_length(nodes: Sequence[Vec], edges: Sequence[Edge]) -> tuple[Strut, ...]:
    """Edges of one length together, the shortest first."""
    measured = sorted((length(sub(nodes[a], nodes[b])), (a, b)) for a, b in edges)
    classes: list[list[tuple[float, Edge]]] = []
    for factor, edge in measured:
        if not classes or factor - classes[-1][0][0] > _ALIKE:
            classes.append([])
        classes[-1].append((factor, edge))
    return tuple(
        Strut(sum(factor for factor, _ in same) / len(same), tuple(sorted(edge for _, edge in same)))
        for same in classes
    )


def _angle(at: Vec, one: Vec, other: Vec) -> float:
    a, b = unit(sub(one, at)), unit(sub(other, at))
    return acos(max(-1.0, min(1.0, dot(a, b))))


def _outward(frame: Geodesic, face: tuple[int, int, int]) -> Vec:
    a, b, c = (frame.nodes[node] for node in face)
    normal = unit(cross(sub(b, a), sub(c, a)))
    return normal if dot(normal, a) > 0.0 else scale(normal, -1.0)
