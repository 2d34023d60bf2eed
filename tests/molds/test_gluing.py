"""The glue of every mold: what a step or a joint calls glued is on the buy list, by the bottle."""

from __future__ import annotations

import pytest

from formwork.cutting.buy_list import hardware
from formwork.molds.gluing import GLUE
from formwork.project.shop import read_shop
from formwork.shapes import block, planter, round_planter, slab, turned
from formwork.shapes.shape import Shape
from formwork.units.show import UnitSystem
from tests.drawn import Drawn, parameters, samples
from tests.workshop import build

SLAB = {"length": 600, "width": 400, "thickness": 60, "chamfer": 8}


def glued(mold) -> float:
    return sum(one.quantity for one in mold.hardware if one.item == GLUE)


@pytest.mark.parametrize("drawn", samples(), ids=lambda drawn: drawn[0].name)
def test_what_is_called_glued_is_bought_and_nothing_else(drawn: Drawn) -> None:
    mold = build(*drawn).mold
    said = any("glue" in step.text.lower() for step in mold.steps) or any(
        "glue" in one.use for one in mold.fixings
    )
    assert said == (glued(mold) > 0.0)


@pytest.mark.parametrize(
    ("shape", "keys"),
    [(round_planter.SHAPE, round_planter.SHAPE.samples[0]), (turned.SHAPE, turned.SHAPE.samples[0])],
)
def test_rings_are_glued_too(shape: Shape, keys: dict[str, object]) -> None:
    assert glued(build(shape, parameters(shape, keys), method=shape.methods[0]).mold) > 0.0


def test_the_backs_of_strips_by_hand() -> None:
    """A chamfer of 8 mm all round: strips of 8 x 8 mm, glued on both square backs, 16 mm of glue along each."""
    mold = build(slab.SHAPE, parameters(slab.SHAPE, SLAB)).mold
    strips = [part for part in mold.parts if part.role == "strip"]
    wide = sum(part.blank.length * 2.0 * 0.008 for part in strips)
    assert strips
    assert glued(mold) == pytest.approx(wide, rel=1e-6)


@pytest.mark.parametrize(("units", "bottle", "covers"), [("mm", "750 g", 4.0), ("in", "16 fl oz", 2.5)])
def test_glue_is_bought_by_the_bottle(units: UnitSystem, bottle: str, covers: float) -> None:
    sizes = {
        "length": 450,
        "width": 200,
        "height": 220,
        "cores": 2,
        "shell": 40,
        "web": 50,
        "tongue": 15,
        "tongue_width": 70,
    }
    mold = build(block.SHAPE, parameters(block.SHAPE, {**sizes, "gang": 4})).mold
    lines = hardware([mold], read_shop(None, units).hardware, units)
    [line] = [one for one in lines if one.item.startswith(GLUE)]
    assert line.unit == "bottle" and bottle in line.item
    assert (line.quantity - 1.0) * covers < glued(mold) * mold.copies <= line.quantity * covers


def test_a_mold_without_anything_glued_buys_no_glue() -> None:
    keys = {"length": 500, "width": 400, "height": 300, "wall": 50, "floor": 50, "drain_holes": 0}
    assert glued(build(planter.SHAPE, parameters(planter.SHAPE, keys)).mold) == 0.0
