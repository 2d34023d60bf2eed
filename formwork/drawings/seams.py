"""Where the faces of a body meet: edges, chords of arcs, bends that only a silhouette makes visible. In m."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import cos, floor, radians

from formwork.drawings.polyhedra import Chord, Circle, Facet
from formwork.geometry.vectors import Vec, dot

SMOOTH = cos(radians(12.0))
"""Two faces that lean apart by less than this (cosine) pass for one that is bent."""
_WELD = 1e-5
_OPPOSITE = 1e-9
_AROUND = tuple(product((-1, 0, 1), repeat=3))


@dataclass(frozen=True, slots=True)
class Edge:
    """Where faces of a body meet.

    Attributes:
        start: one end.
        end: the other.
        normals: outward normals of the faces that meet in it; one alone where only one was found.
        circle: what it is a chord of, if it stands for an arc.
    """

    start: Vec
    end: Vec
    normals: tuple[Vec, ...]
    circle: Circle | None = None

    @property
    def smooth(self) -> bool:
        """It is no edge but a bend, to be seen only where it bounds what is seen."""
        return len(self.normals) == 2 and dot(*self.normals) > SMOOTH


class _Welder:
    """Numbers for points, one for all that stand in one place."""

    def __init__(self) -> None:
        self._known: dict[Vec, int] = {}
        self._grid: dict[tuple[int, int, int], tuple[int, Vec]] = {}
        self._count = 0

    def number(self, point: Vec) -> int:
        found = self._known.get(point)
        if found is None:
            found = self._known[point] = self._placed(point)
        return found

    def _placed(self, point: Vec) -> int:
        box = (floor(point[0] / _WELD), floor(point[1] / _WELD), floor(point[2] / _WELD))
        for step in _AROUND:
            near = self._grid.get((box[0] + step[0], box[1] + step[1], box[2] + step[2]))
            if near is not None and all(abs(near[1][i] - point[i]) < _WELD for i in range(3)):
                return near[0]
        self._count += 1
        self._grid[box] = (self._count, point)
        return self._count


def edges(facets: Sequence[Facet], chords: Iterable[Chord]) -> Iterator[Edge]:
    """Where facets meet; faces of one body that touch face to face have no edge."""
    weld = _Welder()
    ends: dict[tuple[int, int], tuple[Vec, Vec]] = {}
    normals: dict[tuple[int, int], list[Vec]] = {}
    for facet in facets:
        for ring in facet.rings:
            numbers = [weld.number(p) for p in ring]
            for i, b in enumerate(numbers):
                a = numbers[i - 1]
                key = (a, b) if a < b else (b, a)
                if a != b:
                    ends.setdefault(key, (ring[i - 1], ring[i]))
                    normals.setdefault(key, []).append(facet.normal)
    circles: dict[tuple[int, int], Circle] = {}
    for chord in chords:
        a, b = weld.number(chord.start), weld.number(chord.end)
        circles.setdefault((a, b) if a < b else (b, a), chord.circle)
    for key, met in normals.items():
        left = _open(met)
        if left:
            yield Edge(*ends[key], left, circles.get(key))


def _open(met: Sequence[Vec]) -> tuple[Vec, ...]:
    """Normals without pairs that look into one another."""
    left: list[Vec] = []
    for normal in met:
        facing = (
            next((other for other in left if dot(other, normal) < -1.0 + _OPPOSITE), None)
            if len(met) > 2
            else None
        )
        if facing is None:
            left.append(normal)
        else:
            left.remove(facing)
    return tuple(left)
