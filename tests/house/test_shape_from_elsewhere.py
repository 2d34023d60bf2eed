"""A shape in a distribution of its own, found through an entry point, is read, planned and listed with nothing edited."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

SHAPE = """
from typing import Annotated
from pydantic import Field
from formwork.shapes import box
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Face, Lot, Measure, Piece, Planar
from formwork.shapes.shape import Shape
from formwork.units.fields import quantity


class PlinthParameters(Parameters):
    side: Annotated[float, quantity("length", 0.1, 1.0)] = Field(description="side of its square foot")
    height: Annotated[float, quantity("length", 0.1, 1.0)] = Field(description="height")


def lay_out(p, name):
    half = p.side / 2.0
    sides = [box.side(one, (x, y), half, 0.0, 0.0) for one, x, y in box.SIDES]
    piece = Piece(
        name=name, shape="plinth",
        form=Planar((*(Face(s.name, "panel", s) for s in sides),
               Face("foot", "base", box.level("foot", 0.0, up=False)),
               Face("top", "fill", box.level("top", p.height, up=True))), ()),
        plugs=(), pour_points=((0.0, 0.0, p.height / 2.0),), turned_over=False,
        measures=(Measure("height", "front", (half, -half, 0.0), (half, -half, p.height)),),
    )
    return (Lot(piece),)


SHAPE = Shape("plinth", "A square plinth", ("panelled",), PlinthParameters, lay_out, ({"side": 300, "height": 400},))
"""

PROJECT = """
units = "mm"
[mix]
wet_density = 900
[[piece]]
shape = "plinth"
count = 3
side = 300
height = 420
"""


def install(folder: Path) -> None:
    """What pip leaves behind of a small distribution: a module and its metadata."""
    (folder / "plinth_shape.py").write_text(SHAPE, "utf-8")
    info = folder / "plinth_shape-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: plinth-shape\nVersion: 1.0\n", "utf-8")
    (info / "entry_points.txt").write_text("[formwork.shapes]\nplinth = plinth_shape:SHAPE\n", "utf-8")


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    paths = os.pathsep.join([str(folder), str(Path(__file__).parents[2])])
    environment = {**os.environ, "PYTHONPATH": paths}
    return subprocess.run(
        [sys.executable, "-m", "formwork", *words],
        capture_output=True,
        text=True,
        env=environment,
        check=False,
    )


def test_a_shape_from_elsewhere_is_one_of_the_shapes(tmp_path: Path) -> None:
    install(tmp_path)
    (tmp_path / "plinths.toml").write_text(PROJECT, "utf-8")
    planned = run(tmp_path, "plan", str(tmp_path / "plinths.toml"))
    assert planned.returncode == 0, planned.stderr
    assert "3 plinth" in planned.stdout
    listed = run(tmp_path, "shapes", "plinth")
    assert listed.returncode == 0, listed.stderr
    assert "side of its square foot" in listed.stdout


def test_without_it_the_name_is_unknown(tmp_path: Path) -> None:
    (tmp_path / "plinths.toml").write_text(PROJECT, "utf-8")
    planned = run(tmp_path, "plan", str(tmp_path / "plinths.toml"))
    assert planned.returncode == 2
    assert 'got "plinth"' in planned.stderr
