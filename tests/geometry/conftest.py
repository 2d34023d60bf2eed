"""Molds built by hand, panel by panel, with the joint rules written out once more, apart from formwork.molds."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, pi, sin

import pytest

from formwork.geometry.cavity import Solid
from formwork.geometry.cells import Cell, cell
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.geometry.vectors import Vec

DOWN: Vec = (0.0, 0.0, -1.0)
UP: Vec = (0.0, 0.0, 1.0)
INCH = 0.0254


@dataclass(frozen=True)
class Build:
    """Builds molds into one register of planes."""

    planes: Planes

    def body(self, halves: Sequence[HalfSpace]) -> Cell:
        body = cell(self.planes, halves)
        assert body is not None
        return body

    def box(self, low: Vec, high: Vec) -> Cell:
        halves = []
        for axis in range(3):
            plus = tuple(1.0 if k == axis else 0.0 for k in range(3))
            minus = tuple(-value for value in plus)
            halves += [HalfSpace(plus, high[axis]), HalfSpace(minus, -low[axis])]
        return self.body(halves)

    def slab(self, z0: float, z1: float, reach: float) -> Cell:
        return self.box((-reach, -reach, z0), (reach, reach, z1))

    def rectangle(self, a: float, b: float) -> list[tuple[float, float]]:
        return [(-a / 2, -b / 2), (a / 2, -b / 2), (a / 2, b / 2), (-a / 2, b / 2)]

    def regular(self, count: int, across_flats: float) -> list[tuple[float, float]]:
        radius = across_flats / 2 / cos(pi / count)
        turns = (2 * pi * (k + 0.5) / count for k in range(count))
        return [(radius * cos(turn), radius * sin(turn)) for turn in turns]

    def sides(self, foot: Sequence[tuple[float, float]], rim: Sequence[tuple[float, float]], height: float):
        """Outward half-spaces of a frustum's sides, from its corners (counter-clockwise) below and above."""
        halves = []
        for k in range(len(foot)):
            a, b = (*foot[k], 0.0), (*foot[(k + 1) % len(foot)], 0.0)
            c = (*rim[k], height)
            u = tuple(q - p for p, q in zip(a, b, strict=True))
            v = tuple(q - p for p, q in zip(a, c, strict=True))
            normal = (
                u[1] * v[2] - u[2] * v[1],
                u[2] * v[0] - u[0] * v[2],
                u[0] * v[1] - u[1] * v[0],
            )
            halves.append(behind(normal, a, f"side {k}"))
        return halves

    def panels(
        self,
        sides: Sequence[HalfSpace],
        thickness: float,
        top: float,
        rule: str = "mitred",
        bottom: float = 0.0,
    ):
        """Panels standing on z = bottom: mitred, or each running past the next ("past"), or opposite pairs ("pairs")."""
        count = len(sides)
        outer = [side.moved(thickness) for side in sides]
        built = []
        for k, side in enumerate(sides):
            halves = [side.flipped(), outer[k], HalfSpace(UP, top), HalfSpace(DOWN, -bottom)]
            for step in (-1, 1):
                other = (k + step) % count
                if rule == "mitred":
                    n, m = side.normal, sides[other].normal
                    across = tuple(q - p for p, q in zip(n, m, strict=True))
                    size = sum(v * v for v in across) ** 0.5
                    halves.append(
                        HalfSpace(tuple(v / size for v in across), (sides[other].offset - side.offset) / size)
                    )
                elif (rule == "past" and step == 1) or (rule == "pairs" and k % 2 == 0):
                    halves.append(outer[other])
                else:
                    halves.append(sides[other])
            built.append(Solid(f"panel {k}", (self.body(halves),)))
        return built

    def base(self, reach: float, thickness: float = 0.018, top: float = 0.0) -> Solid:
        return Solid("base", (self.slab(top - thickness, top, reach),))


@pytest.fixture
def build() -> Build:
    return Build(Planes())


@pytest.fixture(scope="session")
def build_new() -> Callable[[], Build]:
    """For property tests: a new register for each example."""
    return lambda: Build(Planes())
