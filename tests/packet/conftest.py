"""A plan written by hand: two paving slabs from one box mold of a base and four panels.

Every figure in it is worked out here on paper, so that what the packet prints can be compared with it.
The slab is 600 x 400 x 50 mm: 0.012 m3.
"""

from __future__ import annotations

import math

import pytest

from formwork.checks.check import Check, NotChecked
from formwork.cutting.records import Bound, Cut, Offcut, Placed, SheetLayout, StickLayout
from formwork.geometry.cells import Cell, cell
from formwork.geometry.planes import HalfSpace, Planes
from formwork.mix.pour_records import Batch, Pour
from formwork.mix.records import CellularWanted, Cement, Foam, Mix, Mixer
from formwork.molds.mold import Blank, Hardware, Mold, Part, Placement, Strip
from formwork.plan import BuyLine, CutLine, PieceSummary, Plan
from formwork.project.records import BatchRules, MoldOptions, PieceOrder, Project, Shop
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Embedded, Face, Measure, Piece, Planar
from formwork.stock.records import Saw, SheetStock, StickLength, StickStock

PLY = SheetStock("ply 18", "plywood", "18 mm", 0.018, True, 2.44, 1.22, price=52.5)
STICK = StickStock("45 x 45", "spruce", "45 x 45 mm", 0.045, 0.045, (StickLength(2.4, 4.0),))
L, W, H, T = 0.6, 0.4, 0.05, 0.018


def box(planes: Planes, low: tuple[float, float, float], high: tuple[float, float, float]) -> Cell:
    halves = []
    for axis in range(3):
        normal = tuple(1.0 if i == axis else 0.0 for i in range(3))
        halves += [HalfSpace(normal, high[axis]), HalfSpace(tuple(-n for n in normal), -low[axis])]
    body = cell(planes, halves)
    assert body is not None
    return body


def rectangle(length: float, width: float) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def panel(planes, name, low, high, length, width, placement, bevels=(0.0,) * 4, holes=()):
    blank = Blank(length, width, T, rectangle(length, width), bevels, holes)
    role = "base" if name == "base" else "panel"
    return Part(
        name, role, "panel", PLY.name, name, (box(planes, low, high),), blank, placement, good_face="outline"
    )


def slab_piece() -> Piece:
    x, y = L / 2, W / 2
    faces = (
        Face("front", "panel", HalfSpace((0.0, -1.0, 0.0), y, "front")),
        Face("right", "panel", HalfSpace((1.0, 0.0, 0.0), x, "right")),
        Face("back", "panel", HalfSpace((0.0, 1.0, 0.0), y, "back")),
        Face("left", "panel", HalfSpace((-1.0, 0.0, 0.0), x, "left")),
        Face("base", "base", HalfSpace((0.0, 0.0, -1.0), 0.0, "base")),
        Face("fill", "fill", HalfSpace((0.0, 0.0, 1.0), H, "fill")),
    )
    mesh = Embedded("mesh, flat", "mesh", "glass mesh", 1, 0.56, 0.36, 0.002, 1e-5, 0.025, 0.02, 2, False)
    return Piece(
        "slab", "slab", Planar(faces, ()), (), ((0.0, 0.0, 0.025),), True,
        (Measure("length", "top", (-x, -y, H), (x, -y, H)),), (mesh,), ("Face down in the mold.",),
    )  # fmt: skip


def slab_mold() -> Mold:
    planes = Planes()
    x, y = L / 2, W / 2
    up, right, back = (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)
    parts = (
        panel(planes, "base", (-x - T, -y - T, -T), (x + T, y + T, 0.0), L + 2 * T, W + 2 * T,
              Placement((-x - T, -y - T, 0.0), right, back, (0.0, 0.0, -1.0)), holes=((0.3, 0.2, 0.012),)),
        panel(planes, "front panel", (-x - T, -y - T, 0.0), (x + T, -y, H), L + 2 * T, H,
              Placement((-x - T, -y, 0.0), right, up, (0.0, -1.0, 0.0)), bevels=(0.0, math.radians(10), 0.0, 0.0)),
        panel(planes, "back panel", (-x - T, y, 0.0), (x + T, y + T, H), L + 2 * T, H,
              Placement((-x - T, y, 0.0), right, up, back)),
        panel(planes, "left panel", (-x - T, -y, 0.0), (-x, y, H), W, H,
              Placement((-x, -y, 0.0), back, up, (-1.0, 0.0, 0.0))),
        panel(planes, "right panel", (x, -y, 0.0), (x + T, y, H), W, H,
              Placement((x, -y, 0.0), back, up, right)),
    )  # fmt: skip
    screws = Hardware("screw", "4.5 x 50 mm", 16.0, "piece", "panels to base")
    order = [Strip(f"{side} panel", way, math.radians(5.0)) for side, way in (
        ("front", (0.0, -1.0, 0.0)), ("back", back), ("left", (-1.0, 0.0, 0.0)), ("right", right))]  # fmt: skip
    order.append(Strip("base", (0.0, 0.0, -1.0), 0.0, "lift the slab off"))
    return Mold(
        "slab mold", "panelled", slab_piece(), planes, parts, (screws,), 0.012, 0.012, tuple(order), (), 0.34, 4.2,
        2, False, 1, ("Pour in the middle and screed from one end.",),
    )  # fmt: skip


def slab_plan(**changes) -> Plan:
    mold = slab_mold()
    order = PieceOrder("slab", "slab", Parameters(), 2, 1, MoldOptions())
    shop = Shop(
        "my shop", "mm", "EUR", (PLY,), (STICK,), (), Saw(0.003, 0.01),
        Mixer("drum", "tilting drum", 0.12, "whole drum", 0.06, 0.002), Foam(60.0, 0.9, 40.0), Cement("CEM I", 3.15, 25.0),
        (), ("Mixer: taken from the built-in shop.",),
    )  # fmt: skip
    project = Project(
        "jobs/paving.toml", "Paving for Mrs. Ångström <garden>", "mm", (order,), CellularWanted(1200.0, None, 0.5),
        BatchRules("equal", 0.05, 0.02), shop, ("No shop file.",),
    )  # fmt: skip
    mix = Mix("cellular", 1200.0, 1000.0, 1890.0, 0.5, 0.53, 780.0, 390.0, 0.0, 0.0, 0.0, 0.5, 30.0, 0.45, 25.0,
              ("Measure the foam.",), ("cement = 1170 / 1.5 = 780 kg/m3",))  # fmt: skip
    batch = Batch(0.015, 11.7, 5.85, 0.0, 0.0, 0.0, 0.468, 0.0075, 0.45, None, 0.011, 0.439)
    pours = tuple(Pour(number, (("slab", 1),), 0.0128, (batch,)) for number in (1, 2))
    cut_list = tuple(
        CutLine(f"A{n}", mold.name, (part.name,), part, 1) for n, part in enumerate(mold.parts, start=1)
    )
    sheets = (
        SheetLayout(
            PLY, 1, (Placed("A1", 0.01, 0.01, 0.636, 0.436, False),),
            (Cut(0, "width", 0.636, "left", (), (1, 2)), Cut(1, "length", 0.436, "bottom", ("A1",), (3, -1))),
            (Offcut(0.649, 0.01, 1.781, 1.2),),
        ),
    )  # fmt: skip
    sticks = (StickLayout(STICK, 2.4, 4.0, 1, (("A6", 0.636), ("A6", 0.636), ("A7", 0.4)), 0.719),)
    fields = {
        "project": project,
        "pieces": (PieceSummary(order, 0.012, 14.425, 12.025, 14.425, 2),),
        "molds": (mold,),
        "cut_list": cut_list,
        "checks": (
            Check("cavity against piece", mold.name, 2e-13, 1e-8, "m3", True, "volumes of the parts",
                  ("difference = |0.012 - 0.012| = 2e-13 m3",)),
            Check("side panels", mold.name, 400.0, 1600.0, "Pa", True, "thin plate", ("p = 1200 * 9.81 * 0.05 = 589 Pa",)),
        ),
        "not_checked": (NotChecked("lifting", mold.name, "no loop is cast in"),),
        "sheets": sheets,
        "sticks": sticks,
        "bounds": (Bound("ply 18", 1.0, 1.0, True, "area"), Bound("45 x 45", 1.0, 1.0, True, "length")),
        "mix": mix,
        "pours": pours,
        "buy": (BuyLine("ply 18", 1.0, "sheet", 52.5, "panels"), BuyLine("screw 4.5 x 50 mm", 16.0, "piece", None)),
        "cautions": ("Wear gloves.",),
    }  # fmt: skip
    return Plan(**(fields | changes))


@pytest.fixture
def plan() -> Plan:
    return slab_plan()


@pytest.fixture(scope="session")
def make_plan():
    return slab_plan
