"""Pieces as layers form them, and the molds laid up round them, against the kernel's own solids."""

from __future__ import annotations

from typing import Any

import pytest

from formwork.geometry.planes import Planes
from formwork.molds.weighing import part_volume
from formwork.shapes.turned import SHAPE
from formwork.solids import kernel
from formwork.solids.build import part_solid, piece_solid
from tests.drawn import parameters
from tests.workshop import build

BOWL = {"outside": ((90, 0), (150, 90, 8)), "inside": ((70, 30), (115, 90, 4)), "drain_diameter": 20}
FINIAL = {"outside": ((60, 0), (40, 30), (55, 70, 6), (0, 110, 10))}


@pytest.mark.parametrize("keys", [BOWL, FINIAL])
@pytest.mark.parametrize("edge", ["square", "bevelled"])
def test_the_formed_piece_and_its_rings_have_the_kernels_volume(keys: dict[str, Any], edge: str) -> None:
    mold = build(SHAPE, parameters(SHAPE, keys), method="stacked", edge=edge).mold
    assert kernel.volume(piece_solid(Planes(), mold.piece)) == pytest.approx(mold.nominal, rel=1e-9)
    for part in mold.parts[1:6]:
        if part.role in ("ring", "core rib"):
            solid = part_solid(mold.planes, part)
            assert kernel.volume(solid) == pytest.approx(part_volume(part), rel=1e-9), part.name
