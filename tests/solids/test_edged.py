"""Parts of edge forms as the kernel's solids: each has the volume of its record, and the mold holds the piece."""

from __future__ import annotations

from typing import Any

import pytest

from formwork.molds.weighing import part_volume
from formwork.solids import kernel
from formwork.solids.build import part_solid, piece_solid
from tests.molds.test_edged import HOLLOW, MOON, ROUNDED, edged

CASES: dict[str, tuple[Any, dict[str, Any]]] = {
    "rounded, bent": (
        ROUNDED,
        {"draft": "5 deg", "chamfer": 8, "holes": [{"x": 300, "y": 200, "diameter": 80}]},
    ),
    "half moon, bent": (MOON, {"draft": "4 deg", "chamfer": 6}),
    "hollow, kerfed": (HOLLOW, {"chamfer": 8, "mold": {"skin": "plywood 18"}}),
}


@pytest.mark.parametrize(("points", "keys"), CASES.values(), ids=CASES)
def test_every_part_is_a_sound_solid_of_its_own_volume(points: Any, keys: dict[str, Any]) -> None:
    mold = edged(points, **keys).mold
    for part in mold.parts:
        solid = part_solid(mold.planes, part)
        assert kernel.volume(solid) == pytest.approx(part_volume(part), rel=1e-9), part.name


@pytest.mark.parametrize(("points", "keys"), CASES.values(), ids=CASES)
def test_the_piece_as_formed_has_the_volume_of_the_cavity(points: Any, keys: dict[str, Any]) -> None:
    mold = edged(points, **keys).mold
    assert kernel.volume(piece_solid(mold.planes, mold.piece)) == pytest.approx(mold.cavity, rel=1e-6)
