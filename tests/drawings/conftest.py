"""Bodies and records written by hand, so that the drawings are tested without a shape, a mold method or a nesting."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin
from pathlib import Path

import pytest
import shapely

from formwork.drawings.assembling import assembling
from formwork.drawings.bodies import Body
from formwork.drawings.built_frame import frame_drawing
from formwork.drawings.centre import centre_drawing
from formwork.drawings.details import details_drawing
from formwork.drawings.exploded import exploded_drawing
from formwork.drawings.layers import CAST, CAST_HIDDEN
from formwork.drawings.mold import mold_drawing
from formwork.drawings.piece import piece_drawing
from formwork.drawings.scene import (
    Arc,
    Circle,
    Dimension,
    Item,
    Line,
    Polyline,
    Scene,
    Text,
    dimension_parts,
    text_box,
)
from formwork.drawings.sheet import sheet_drawing
from formwork.geometry.cells import Cell, cell
from formwork.geometry.outlines import Outline, flattened
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.geometry.rounds import Round
from formwork.mix.records import CellularWanted, Cement, Foam, Mixer
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.project.records import BatchRules, Project, Shop
from formwork.shapes.piece import Face, Former, Measure, Piece, Planar, Plug
from formwork.stock.records import Saw


def box(planes: Planes, low: tuple[float, float, float], high: tuple[float, float, float]) -> Cell:
    halves = []
    for axis in range(3):
        normal = [0.0, 0.0, 0.0]
        normal[axis] = 1.0
        halves.append(HalfSpace((normal[0], normal[1], normal[2]), high[axis]))
        halves.append(HalfSpace((-normal[0], -normal[1], -normal[2]), -low[axis]))
    body = cell(planes, halves)
    assert body is not None
    return body


def body_of(planes: Planes, *cells: Cell, name: str = "body", holes=(), rounds=()) -> Body:
    return Body(
        name, CAST.name, planes, tuple(cells), tuple(rounds), tuple(holes), CAST_HIDDEN.name, "stipple"
    )


@dataclass(frozen=True)
class Tapered:
    """A tapered planter, floor down: bottom a x b, rim c x d, height h, level wall, floor, one conical drain."""

    a: float = 0.40
    b: float = 0.30
    c: float = 0.52
    d: float = 0.40
    h: float = 0.35
    wall: float = 0.03
    floor: float = 0.04
    drain: tuple[float, float] = (0.015, 0.012)

    def sides(self, inset: float = 0.0) -> tuple[HalfSpace, ...]:
        sx, sy = (self.c - self.a) / 2 / self.h, (self.d - self.b) / 2 / self.h
        x, y = self.a / 2 - inset, self.b / 2 - inset
        return (
            behind((0.0, -1.0, -sy), (0.0, -y, 0.0), "front"),
            behind((1.0, 0.0, -sx), (x, 0.0, 0.0), "right"),
            behind((0.0, 1.0, -sy), (0.0, y, 0.0), "back"),
            behind((-1.0, 0.0, -sx), (-x, 0.0, 0.0), "left"),
        )

    def piece(self) -> Piece:
        base = HalfSpace((0.0, 0.0, -1.0), 0.0, "base")
        fill = HalfSpace((0.0, 0.0, 1.0), self.h, "fill")
        low = HalfSpace((0.0, 0.0, -1.0), -self.floor, "core bottom")
        core = Former("core", "core", (*self.sides(self.wall), low, fill), "box", "hung")
        faces = tuple(Face(side.name, "panel", side) for side in self.sides())
        drain = Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), self.floor, *self.drain)
        x, y = self.c / 2, self.d / 2
        return Piece(
            name="herb bed",
            shape="planter",
            form=Planar(
                faces=(*faces, Face("base", "base", base), Face("fill", "fill", fill)), formers=(core,)
            ),
            plugs=(Plug("drain plug", drain, "base"),),
            pour_points=((0.05, 0.0, self.floor / 2),),
            turned_over=False,
            measures=(
                Measure("length", "top", (-x, -y, self.h), (x, -y, self.h)),
                Measure("width", "top", (x, -y, self.h), (x, y, self.h)),
                Measure("height", "front", (x, -y, 0.0), (x, -y, self.h)),
                Measure("floor", "front", (0.0, 0.0, 0.0), (0.0, 0.0, self.floor)),
                Measure("wall", "front", (-x, 0.0, self.h), (-x + self.wall, 0.0, self.h)),
            ),
            notes=("wall: level",),
        )

    def section_area(self) -> float:
        """Cut along the length through the drain: outer trapezoid less core trapezoid less the drain's."""
        outer = (self.a + self.c) / 2 * self.h
        slope = (self.c - self.a) / self.h
        core_low = self.a - 2 * self.wall + slope * self.floor
        core = (core_low + self.c - 2 * self.wall) / 2 * (self.h - self.floor)
        return outer - core - sum(self.drain) * self.floor


def a_project(units: str = "mm") -> Project:
    shop = Shop(
        "Yard & Sons", units, "EUR", (), (), (), Saw(0.003, 0.005),
        Mixer("tub", "drill and tub", 0.09, "whole drum", 0.07, 0.001),
        Foam(75.0, 0.97, 40.0), Cement("CEM I", 3.15, 25.0), (), (),
    )  # fmt: skip
    rules = BatchRules("equal", 0.03, 0.02)
    return Project("garden.toml", "A garden", units, (), CellularWanted(600.0, None, 0.5), rules, shop)


@pytest.fixture(scope="session")
def tapered() -> type[Tapered]:
    return Tapered


@pytest.fixture(scope="session", name="box")
def _box():
    return box


@pytest.fixture(scope="session", name="body_of")
def _body_of():
    return body_of


@pytest.fixture(scope="session", name="covered_texts")
def _covered_texts():
    return covered_texts


@pytest.fixture(scope="session", name="a_project")
def _a_project():
    return a_project


@pytest.fixture(scope="session", params=["mm", "in"])
def project_file(request: pytest.FixtureRequest) -> Project:
    return a_project(request.param)


def pieces_of_line(item: Item) -> Iterator[shapely.LineString]:
    """Every drawn line of an item on the page, circles and arcs as fine polygons."""
    match item:
        case Line():
            yield shapely.LineString([item.start, item.end])
        case Polyline(bulges=bulges) if bulges:
            points = list(flattened(Outline(item.points, bulges), 0.02))
            yield shapely.LineString([*points, points[0]])
        case Polyline():
            points = [*item.points, item.points[0]] if item.closed else list(item.points)
            yield shapely.LineString(points)
        case Circle() | Arc():
            start, end = (0.0, 2 * pi) if isinstance(item, Circle) else (item.start, item.end)
            end += 2 * pi if end <= start else 0.0
            steps = [start + (end - start) * i / 90 for i in range(91)]
            x, y = item.centre
            yield shapely.LineString([(x + item.radius * cos(a), y + item.radius * sin(a)) for a in steps])
        case Dimension():
            for part in dimension_parts(item):
                yield from pieces_of_line(part)
        case _:
            return


def texts_of(item: Item) -> Iterator[Text]:
    if isinstance(item, Text) and item.text:
        yield item
    elif isinstance(item, Dimension):
        for part in dimension_parts(item):
            yield from texts_of(part)


def covered_texts(scene: Scene) -> list[str]:
    """Texts of a page that lie over a line, over another text, or off the page: none, if the drawing is clean.

    Written with shapely alone, apart from the code that places texts; a text's box is taken 0.05 mm smaller all round.
    """
    items = list(scene.on_page())
    lines = [line for item in items for line in pieces_of_line(item)]
    texts = [text for item in items for text in texts_of(item)]
    boxes = [shapely.Polygon(text_box(text)).buffer(-0.05) for text in texts]
    tree = shapely.STRtree(lines)
    paper = shapely.box(0.0, 0.0, scene.sheet.length, scene.sheet.height)
    found = []
    for i, (text, area) in enumerate(zip(texts, boxes, strict=True)):
        if len(tree.query(area, predicate="intersects")):
            found.append(f"{text.text!r} over a line at {text.at}")
        if any(area.intersects(other) for other in boxes[i + 1 :]):
            found.append(f"{text.text!r} over a text at {text.at}")
        if not paper.contains(area):
            found.append(f"{text.text!r} off the page at {text.at}")
    return found


EXAMPLES = Path(__file__).parents[2] / "examples"
_LONG = ("block-dome", "cast-dome")
PROJECTS = {
    "planters": """
units = "in"
title = "Garden planters"
[mix]
wet_density = "40 lb/ft3"
[[piece]]
name = "tapered planter"
shape = "planter"
count = 4
molds = 2
length = 20
width = 20
height = 18
base_length = 14
base_width = 14
wall = 2
floor = 2
drain_holes = 3
drain_diameter = 1
chamfer = "1/2 in"
""",
    "wall": """
units = "mm"
title = "Garden wall"
[mix]
wet_density = "900 kg/m3"
[[piece]]
name = "hollow block"
shape = "block"
count = 24
length = 390
width = 190
height = 190
cores = 2
tongue = 20
tongue_width = 60
web = 45
gang = 3
[[piece]]
name = "window box"
shape = "planter"
count = 2
length = 900
width = 300
height = 300
wall = 40
floor = 50
drain_holes = 2
drain_diameter = 25
down = "floor"
""",
    "terrace": """
units = "mm"
title = "Terrace"
[mix]
wet_density = "1200 kg/m3"
[[piece]]
name = "stepping stone"
shape = "slab"
count = 24
length = 450
width = 300
thickness = 50
chamfer = 8
""",
}


@pytest.fixture(scope="session")
def plans(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Plan]:
    """The real plans of three small projects and of the shipped examples.

    Of the dome of cast stones, which repeats one drawing many times, and of the dome's form of 600 parts, which takes a
    minute, the tests of the packet see to it.
    """
    folder = tmp_path_factory.mktemp("projects")
    made = {}
    for name, text in PROJECTS.items():
        path = folder / f"{name}.toml"
        path.write_text(text, encoding="utf-8")
        made[name] = plan(read_project(path))
    for path in sorted(EXAMPLES.glob("*.toml")):
        if "[[piece]]" in path.read_text(encoding="utf-8") and path.stem not in _LONG:
            made[path.stem] = plan(read_project(path))
    return made


States = dict[str, tuple[Scene | None, ...]]


@pytest.fixture(scope="session")
def states(plans: dict[str, Plan]) -> States:
    """The pictures of the steps of every mold and centre of these plans, by project and name."""
    return {
        f"{name}/{built.name}": assembling(built, one.cut_list, one.project.units, (120.0, 96.0))
        for name, one in plans.items()
        for built in (*one.molds, *one.centres)
    }


@pytest.fixture(scope="session")
def scenes(plans: dict[str, Plan]) -> dict[str, Scene]:
    """Every drawing of these plans, by project and name."""
    found = {}
    for name, one in plans.items():
        for mold in one.molds:
            for scene in (
                piece_drawing(mold.piece, one.project),
                mold_drawing(mold, one.cut_list, one.project),
                details_drawing(mold, one.cut_list, one.project),
            ):
                found[f"{name}/{scene.name}"] = scene
        for centre in one.centres:
            found[f"{name}/{centre.name}"] = centre_drawing(centre, one.cut_list, one.project)
        for frame in one.frames:
            found[f"{name}/{frame.name}"] = frame_drawing(frame, one.cut_list, one.project)
        for index, layout in enumerate(one.sheets, start=1):
            scene = sheet_drawing(layout, one.cut_list, one.project, index=index)
            found[f"{name}/{scene.name}"] = scene
    return found


@pytest.fixture(scope="session")
def apart(plans: dict[str, Plan]) -> dict[str, Scene]:
    """Every mold of these plans taken apart, by project and name."""
    return {
        f"{name}/{mold.name}": exploded_drawing(mold, one.cut_list, one.project)
        for name, one in plans.items()
        for mold in one.molds
    }
