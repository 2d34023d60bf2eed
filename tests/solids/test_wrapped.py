"""Parts of a wrapped mold as solids: each has the volume its records say, and no two stand in the same room."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest

from formwork.molds.weighing import part_volume
from formwork.solids.build import part_solid, piece_solid
from formwork.solids.kernel import volume
from tests.molds.test_wrapped import mold_of, planter

ROUNDING = 1.0
"""Space that two solids may share where curved faces touch, mm3."""


def apart(one: Any, other: Any) -> bool:
    return any(
        getattr(one, f"{axis}max") < getattr(other, f"{axis}min") + 1e-6
        or getattr(other, f"{axis}max") < getattr(one, f"{axis}min") + 1e-6
        for axis in "xyz"
    )


def test_parts_and_piece_share_no_room_and_have_their_volumes() -> None:
    piece = planter(base_diameter=600, down="floor", drain_holes=1)
    built = mold_of(piece)
    solids = [(part.name, part_solid(built.mold.planes, part)) for part in built.mold.parts]
    for part, (name, solid) in zip(built.mold.parts, solids, strict=True):
        bored = sum(hole.volume() for hole in part.holes)
        assert volume(solid) == pytest.approx(part_volume(part) - bored, rel=1e-4), name
    solids.append(("piece", piece_solid(built.mold.planes, piece)))
    boxes = {name: solid.BoundingBox() for name, solid in solids}
    for (one, first), (other, second) in combinations(solids, 2):
        if not apart(boxes[one], boxes[other]):
            assert first.intersect(second).Volume() < ROUNDING, f"{one} and {other}"
