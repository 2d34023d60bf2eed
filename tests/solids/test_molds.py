"""Parts and the assembled mold: volumes against the cells', names, colours, faces as a person counts them."""

from math import pi
from typing import get_args

import pytest

from formwork.molds.mold import PartRole
from formwork.solids import kernel
from formwork.solids.build import (
    CONCRETE,
    ROLE_COLOURS,
    empty_mold_model,
    mold_assembly,
    mold_model,
    part_solid,
)


def test_a_part_of_two_cells_is_one_block_of_six_faces(tray):
    front = next(part for part in tray.parts if part.name == "front panel")
    solid = part_solid(tray.planes, front)
    assert len(solid.Solids()) == 1
    assert len(solid.Faces()) == 6
    assert kernel.volume(solid) == pytest.approx(0.3 * 0.018 * 0.06, rel=1e-12)


def test_holes_are_cut(tray):
    base = next(part for part in tray.parts if part.name == "base")
    assert kernel.volume(part_solid(tray.planes, base)) == pytest.approx(
        0.4 * 0.3 * 0.018 - pi * 0.004**2 * 0.018, rel=1e-12
    )


def test_every_role_of_a_part_has_a_colour():
    assert set(get_args(PartRole)) <= set(ROLE_COLOURS)


def test_every_part_and_the_piece_stand_in_the_assembly_once(tray):
    assembly = mold_assembly(tray)
    assert assembly.name == "stepping stone mold"
    names = [child.name for child in assembly.children]
    assert names == [*(part.name for part in tray.parts), "stepping stone (as cast)"]
    for child, part in zip(assembly.children, tray.parts, strict=False):
        assert child.color.toTuple() == pytest.approx(ROLE_COLOURS[part.role], abs=1e-6)
    concrete = assembly.children[-1].color.toTuple()
    assert concrete == pytest.approx(CONCRETE, abs=1e-6)
    assert concrete[3] < 1.0


def test_the_assembly_has_the_volume_of_its_cells_and_the_piece(tray):
    cells = sum(c.volume() for part in tray.parts for c in part.cells)
    rounds = sum(r.volume() for part in tray.parts for r in part.rounds)
    holes = sum(h.volume() for part in tray.parts for h in part.holes)
    assert mold_model(tray).volume() == pytest.approx(cells + rounds - holes + tray.nominal, rel=1e-12)


def test_the_empty_mold_is_the_mold_without_its_concrete(tray):
    empty, full = empty_mold_model(tray), mold_model(tray)
    assert [b.name for b in empty.bodies] == [b.name for b in full.bodies][:-1]
    assert full.volume() - empty.volume() == pytest.approx(tray.nominal, rel=1e-12)


def test_nothing_in_the_tray_stands_in_anything_else(tray):
    """The piece fills what the parts leave: kernel intersections are empty, and touching bodies fuse to one block."""
    solids = [body.solid for body in mold_model(tray).bodies]
    fused = kernel.fuse(solids)
    assert kernel.volume(fused) == pytest.approx(mold_model(tray).volume(), rel=1e-9)
    assert len(fused.Solids()) == 1
