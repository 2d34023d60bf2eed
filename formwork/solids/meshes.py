"""Triangle meshes of solids, their corners welded, and the grid that welds them. All lengths in m."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from math import floor

from formwork.geometry.vectors import Vec, cross, dot

Triangle = tuple[int, int, int]
Motion = tuple[tuple[Vec, Vec, Vec], Vec]
"""A turn, as the rows of its matrix, and a way that is gone after it, m."""
_AROUND = tuple(product((-1, 0, 1), repeat=3))


@dataclass(frozen=True, slots=True)
class Mesh:
    """A closed surface of triangles.

    Attributes:
        points: corners, each once, m.
        triangles: three corner numbers each, counter-clockwise seen from outside.
    """

    points: tuple[Vec, ...]
    triangles: tuple[Triangle, ...]

    def volume(self) -> float:
        """Volume enclosed, m3, by the divergence theorem; the chords of round faces make it a little off."""
        corners = ((self.points[a], self.points[b], self.points[c]) for a, b, c in self.triangles)
        return sum(dot(a, cross(b, c)) for a, b, c in corners) / 6.0

    def carried(self, motion: Motion | None) -> Mesh:
        """The mesh turned and moved."""
        if motion is None:
            return self
        (a, b, c), (u, v, w) = motion
        return Mesh(
            tuple(
                (
                    a[0] * x + a[1] * y + a[2] * z + u,
                    b[0] * x + b[1] * y + b[2] * z + v,
                    c[0] * x + c[1] * y + c[2] * z + w,
                )
                for x, y, z in self.points
            ),
            self.triangles,
        )


@dataclass(frozen=True, slots=True)
class Standing:
    """A body as a mesh of a shape that may stand in several places.

    Attributes:
        name: of the body.
        colour: red, green, blue as on a screen (sRGB) and opacity, 0 to 1.
        shape: number of its shape; bodies of one number have equal meshes.
        mesh: of the shape where it was made.
        motion: from there to where the body stands; None where it stands as it was made.
    """

    name: str
    colour: tuple[float, float, float, float]
    shape: int
    mesh: Mesh
    motion: Motion | None

    def standing(self) -> Mesh:
        """The mesh where the body stands."""
        return self.mesh.carried(self.motion)


def weld(points: Iterable[Vec], near: float) -> tuple[tuple[Vec, ...], tuple[int, ...]]:
    """Take points nearer than ``near`` (m, along each axis) for one.

    Returns:
        The distinct points in order of their first coming, and for each given point the number of its own.

    >>> weld([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1e-12, 0.0, 0.0)], 1e-9)
    (((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), (0, 1, 0))
    """
    kept: list[Vec] = []
    grid: dict[tuple[int, int, int], list[int]] = {}
    numbers: list[int] = []
    for point in points:
        box = (floor(point[0] / near), floor(point[1] / near), floor(point[2] / near))
        number = _found(point, box, grid, kept, near)
        if number is None:
            number = len(kept)
            kept.append(point)
            grid.setdefault(box, []).append(number)
        numbers.append(number)
    return tuple(kept), tuple(numbers)


def _found(
    point: Vec,
    box: tuple[int, int, int],
    grid: dict[tuple[int, int, int], list[int]],
    kept: Sequence[Vec],
    near: float,
) -> int | None:
    """Number of the kept point that stands where ``point`` does, from its box of the grid or one beside."""
    for step in _AROUND:
        for number in grid.get((box[0] + step[0], box[1] + step[1], box[2] + step[2]), ()):
            known = kept[number]
            if all(abs(known[axis] - point[axis]) <= near for axis in range(3)):
                return number
    return None


def welded(points: Sequence[Vec], triangles: Iterable[Triangle], near: float) -> Mesh:
    """The mesh with equal corners made one and triangles that fall together left out."""
    kept, numbers = weld(points, near)
    turned = ((numbers[a], numbers[b], numbers[c]) for a, b, c in triangles)
    return Mesh(kept, tuple(t for t in turned if len(set(t)) == 3))
