"""A tapered planter and a small mold, written as records by hand, so that these tests need no shape and no mold method."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import pytest

from formwork.geometry.cells import Cell, cell
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.geometry.rounds import Round
from formwork.molds.mold import Blank, Mold, Part, Placement
from formwork.shapes.piece import Face, Former, Piece, Planar, Plug
from formwork.solids import kernel


@pytest.fixture(scope="session", autouse=True)
def _kernel_loaded() -> None:
    """Load the kernel once, outside the clock of any property test."""
    kernel.cadquery()


@dataclass(frozen=True)
class Tapered:
    """Sizes of a tapered planter: bottom a x b, top c x d, height h, walls square to the face, floor, chamfer, drains."""

    a: float = 0.40
    b: float = 0.30
    c: float = 0.52
    d: float = 0.40
    h: float = 0.35
    wall: float = 0.03
    floor: float = 0.04
    chamfer: float = 0.012
    drain: float = 0.012

    def lean(self) -> tuple[float, float]:
        """How far the walls in x and in y lean out for each unit of height."""
        return (self.c - self.a) / 2 / self.h, (self.d - self.b) / 2 / self.h

    def outer(self) -> float:
        return obelisk(self.a, self.b, self.c, self.d, self.h)

    def core(self) -> float:
        """Closed form of the hollow: the obelisk between the inner faces, from the floor to the rim."""
        sx, sy = self.lean()
        tx, ty = self.wall * hypot(1.0, sx), self.wall * hypot(1.0, sy)
        low = (self.a + 2 * sx * self.floor - 2 * tx, self.b + 2 * sy * self.floor - 2 * ty)
        return obelisk(*low, self.c - 2 * tx, self.d - 2 * ty, self.h - self.floor)

    def chamfers(self) -> float:
        """Four corners, each losing a right triangle with legs of the chamfer at every height."""
        return 4 * self.chamfer**2 / 2 * self.h

    def volume(self) -> float:
        return self.outer() - self.core() - self.chamfers() - sum(p.body.volume() for p in self.plugs())

    def plugs(self) -> tuple[Plug, ...]:
        return tuple(
            Plug(
                f"drain plug {k + 1}",
                Round((x, 0.0, 0.0), (0.0, 0.0, 1.0), self.floor, self.drain, 0.9 * self.drain),
                "base",
            )
            for k, x in enumerate((-self.a / 5, self.a / 5))
        )

    def sides(self) -> tuple[HalfSpace, ...]:
        sx, sy = self.lean()
        x, y = self.a / 2, self.b / 2
        return (
            behind((1.0, 0.0, -sx), (x, 0.0, 0.0), "right"),
            behind((0.0, 1.0, -sy), (0.0, y, 0.0), "back"),
            behind((-1.0, 0.0, -sx), (-x, 0.0, 0.0), "left"),
            behind((0.0, -1.0, -sy), (0.0, -y, 0.0), "front"),
        )

    def strips(self, base: HalfSpace, fill: HalfSpace) -> tuple[Former, ...]:
        sides = self.sides()
        sx, sy = self.lean()
        strips = []
        for one, two, x, y in (
            (0, 1, 1.0, 1.0),
            (1, 2, -1.0, 1.0),
            (2, 3, -1.0, -1.0),
            (3, 0, 1.0, -1.0),
        ):
            lead = behind((-x, -y, sx + sy), (x * (self.a / 2 - self.chamfer), y * self.b / 2, 0.0))
            halves = (sides[one], sides[two], base, fill, lead)
            name = f"chamfer strip {sides[one].name} {sides[two].name}"
            strips.append(Former(name, "strip", halves, "solid", "panel", sides[one].name, lead))
        return tuple(strips)

    def piece(self) -> Piece:
        base = HalfSpace((0.0, 0.0, -1.0), 0.0, "base")
        fill = HalfSpace((0.0, 0.0, 1.0), self.h, "fill")
        floor = HalfSpace((0.0, 0.0, -1.0), -self.floor, "core bottom")
        inner = tuple(side.moved(-self.wall) for side in self.sides())
        core = Former("core", "core", (*inner, floor, fill), "box", "hung")
        faces = tuple(Face(side.name, "panel", side) for side in self.sides())
        return Piece(
            name="herb bed",
            shape="planter",
            form=Planar(
                faces=(*faces, Face("base", "base", base), Face("fill", "fill", fill)),
                formers=(core, *self.strips(base, fill)),
            ),
            plugs=self.plugs(),
            pour_points=((0.0, 0.0, self.floor / 2),),
            turned_over=False,
            measures=(),
        )


def obelisk(a: float, b: float, c: float, d: float, h: float) -> float:
    """Volume between two level rectangles a x b and c x d, h apart.

    Source: prismatoid rule of the CRC mensuration formulas, V = h/6 (A1 + 4 M + A2), for rectangles
    h/6 (a b + (a + c)(b + d) + c d).
    """
    return h / 6.0 * (a * b + (a + c) * (b + d) + c * d)


@pytest.fixture(scope="session")
def tapered() -> type[Tapered]:
    return Tapered


def block(planes: Planes, low: tuple[float, float, float], high: tuple[float, float, float]) -> Cell:
    """An upright box as a cell."""
    halves = []
    for axis in range(3):
        normal = tuple(1.0 if k == axis else 0.0 for k in range(3))
        halves.append(HalfSpace((normal[0], normal[1], normal[2]), high[axis]))
        halves.append(HalfSpace((-normal[0], -normal[1], -normal[2]), -low[axis]))
    body = cell(planes, halves)
    assert body is not None
    return body


@pytest.fixture(scope="session")
def box():
    return block


def _part(name: str, role: str, cells: tuple[Cell, ...] = (), **more: tuple[Round, ...]) -> Part:
    blank = Blank(0.3, 0.2, 0.018, ((0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2)), (0.0,) * 4)
    place = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return Part(name, role, "panel", "ply 18", name, cells, blank, place, **more)


@pytest.fixture(scope="session")
def tray() -> Mold:
    return make_tray()


def make_tray() -> Mold:
    """A slab 300 x 200 x 40 mm in a tray: base with a bolt hole, four sides, one of two cells, a conical plug."""
    planes = Planes()
    piece = Piece(
        name="stepping stone",
        shape="slab",
        form=Planar(
            faces=(
                Face("right", "panel", HalfSpace((1.0, 0.0, 0.0), 0.15)),
                Face("back", "panel", HalfSpace((0.0, 1.0, 0.0), 0.10)),
                Face("left", "panel", HalfSpace((-1.0, 0.0, 0.0), 0.15)),
                Face("front", "panel", HalfSpace((0.0, -1.0, 0.0), 0.10)),
                Face("base", "base", HalfSpace((0.0, 0.0, -1.0), 0.0)),
                Face("fill", "fill", HalfSpace((0.0, 0.0, 1.0), 0.04)),
            ),
            formers=(),
        ),
        plugs=(Plug("hole", Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.04, 0.02, 0.018), "base"),),
        pour_points=((0.1, 0.0, 0.02),),
        turned_over=False,
        measures=(),
    )
    hole = Round((0.16, 0.11, -0.018), (0.0, 0.0, 1.0), 0.018, 0.004, 0.004)
    parts = (
        _part("base", "base", (block(planes, (-0.2, -0.15, -0.018), (0.2, 0.15, 0.0)),), holes=(hole,)),
        _part("right panel", "panel", (block(planes, (0.15, -0.118, 0.0), (0.168, 0.118, 0.06)),)),
        _part("left panel", "panel", (block(planes, (-0.168, -0.118, 0.0), (-0.15, 0.118, 0.06)),)),
        _part("back panel", "panel", (block(planes, (-0.15, 0.1, 0.0), (0.15, 0.118, 0.06)),)),
        _part(
            "front panel",
            "panel",
            (
                block(planes, (-0.15, -0.118, 0.0), (0.0, -0.1, 0.06)),
                block(planes, (0.0, -0.118, 0.0), (0.15, -0.1, 0.06)),
            ),
        ),
        _part("plug", "plug", rounds=(piece.plugs[0].body,)),
    )
    nominal = 0.3 * 0.2 * 0.04 - piece.plugs[0].body.volume()
    return Mold(
        name="stepping stone mold",
        method="panelled",
        piece=piece,
        planes=planes,
        parts=parts,
        hardware=(),
        cavity=nominal,
        nominal=nominal,
        stripping=(),
        locked=(),
        wetted=0.0,
        seams=0.0,
        uses=1,
        owned=False,
        copies=3,
        instructions=(),
    )
