"""Every block of a dome, not the first alone: bases that are no rectangles, boards that all lean differently."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pytest

from formwork.geometry.cavity import Solid, overlaps
from formwork.molds.design import brace, line
from formwork.molds.panelled import Built, Lined
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import block_dome
from formwork.shapes.piece import planar
from tests.drawn import parameters
from tests.workshop import mix, shop

OPTIONS = [
    {"joint": "lapped"},
    {"joint": "mitred"},
    {"joint": "lapped", "sides": "short", "base": "runs past"},
]


def molds(keys: Mapping[str, object], options: Mapping[str, str]) -> Iterator[Built]:
    found = parameters(block_dome.SHAPE, keys)
    order = PieceOrder("dome", "block dome", found, 1, 1, MoldOptions(**options))  # type: ignore[arg-type]
    for lined in line(order, shop(), mix(), "mm"):
        assert isinstance(lined, Lined)
        yield brace(lined)


@pytest.mark.parametrize("options", OPTIONS, ids=lambda options: " ".join(options.values()))
@pytest.mark.parametrize("keys", block_dome.SHAPE.samples)
def test_every_block_has_a_mold_that_closes_and_comes_off(
    keys: Mapping[str, object], options: Mapping[str, str]
) -> None:
    for built in molds(keys, options):
        assert built.cavity.leaks == ()
        assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)
        assert built.mold.locked == ()
        every = [Solid(part.name, part.cells) for part in built.mold.parts]
        assert overlaps(built.mold.planes, [Solid("piece", built.lined.frame.poured), *every]) == []


def test_each_mold_is_filled_as_often_as_its_course_has_blocks() -> None:
    keys = {
        "inside_radius": 1500,
        "thickness": 150,
        "course_height": 200,
        "block_length": 300,
        "joint_tolerance": 0,
    }
    counts = [built.lined.order.count for built in molds(keys, {})]
    assert counts == [31, 31, 30, 28, 26, 24, 21, 17, 13, 9]
    assert [built.lined.uses for built in molds(keys, {})] == counts


def test_the_sides_of_every_mold_lean_outward() -> None:
    """So the block lifts off its base: at least 2 degrees on every board of the ten-course dome (ours)."""
    keys = {"inside_radius": 1500, "thickness": 150, "course_height": 200, "block_length": 300}
    for built in molds(keys, {}):
        sides = [face.half.normal[2] for face in planar(built.mold.piece).faces if face.role == "panel"]
        assert max(sides) < -0.035
