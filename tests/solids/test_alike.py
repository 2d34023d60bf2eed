"""Equal parts are made once and moved: what stands there is what each part by itself would have been."""

from __future__ import annotations

import pytest

from formwork.geometry.outlines import Outline
from formwork.geometry.prisms import Prism
from formwork.molds.mold import Blank, Part, Placement
from formwork.plan import plan
from formwork.project.read import read_project
from formwork.shipped import shelf
from formwork.solids import kernel
from formwork.solids.alike import told
from formwork.solids.build import empty_mold_model, part_solid
from formwork.solids.export import step


@pytest.mark.parametrize("name", ["tapered-planter", "eight-sided-planter", "courtyard-tubs", "cast-dome"])
def test_a_moved_solid_fills_what_its_part_fills(name):
    """Volume, middle and box of each against a solid made for that part alone; of very many, every ninth."""
    mold = plan(read_project(shelf("examples") / f"{name}.toml")).molds[0]
    parts = [part for part in mold.parts if part.role != "template"]
    bodies = empty_mold_model(mold).bodies
    assert len({told(part) for part in parts}) < len(parts)
    step = 1 + len(parts) // 50
    for part, body in list(zip(parts, bodies, strict=True))[::step]:
        alone = part_solid(mold.planes, part)
        assert kernel.volume(body.solid) == pytest.approx(kernel.volume(alone), rel=1e-7)
        assert body.solid.Center().toTuple() == pytest.approx(alone.Center().toTuple(), abs=1e-4)
        box, own = body.solid.BoundingBox(), alone.BoundingBox()
        for end in ("xmin", "xmax", "ymin", "ymax", "zmin", "zmax"):
            assert getattr(box, end) == pytest.approx(getattr(own, end), abs=1e-3)


def bracket(way: float, at: float) -> Part:
    """An L of 18 mm sheet, standing on the floor, its toe towards ``way`` along x."""
    legs = ((0.0, 0.0), (0.3, 0.0), (0.3, 0.1), (0.1, 0.1), (0.1, 0.2), (0.0, 0.2))
    turn = ((way, 0.0, 0.0), (0.0, 0.0, 1.0))
    body = Prism(Outline(legs, (0.0,) * 6), 0.018, (at, 0.0, 0.0), *turn)
    blank = Blank(0.3, 0.2, 0.018, legs, (0.0,) * 6)
    placed = Placement((at, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    return Part("bracket", "rib", "panel", "ply", "ribs", (), blank, placed, prisms=(body,))


def test_a_part_moved_is_the_same_shape_and_a_mirrored_one_is_not():
    assert told(bracket(1.0, 0.0)) == told(bracket(1.0, 0.7))
    assert told(bracket(1.0, 0.0)) != told(bracket(-1.0, 0.7))


def test_equal_parts_are_one_shape_of_a_step_file(tmp_path):
    """Read back by the kernel: as many solids as parts and their volume, out of fewer closed shells in the file."""
    (mold,) = plan(read_project(shelf("examples") / "tapered-planter.toml")).molds
    made = empty_mold_model(mold)
    path = tmp_path / "mold.step"
    path.write_text(step(made), "utf-8")
    back = kernel.read_step(path)
    assert len(back.Solids()) == len(made.bodies)
    assert kernel.volume(back) == pytest.approx(made.volume(), rel=1e-9)
    assert path.read_text().count("=MANIFOLD_SOLID_BREP(") == len({told(part) for part in mold.parts})
