"""Parts of a tube mold as solids: each has the volume its records say, and no two stand in the same room."""

from __future__ import annotations

from itertools import combinations

import pytest

from formwork.molds.weighing import part_volume
from formwork.solids.build import part_solid, piece_solid
from formwork.solids.kernel import volume
from tests.molds.test_tube import built, planter
from tests.solids.test_wrapped import ROUNDING, apart


@pytest.mark.parametrize(
    "made",
    [
        pytest.param(
            lambda: built({"height": 1500, "hole": 150, "chamfer": 15}), id="braced, hollow, chamfered"
        ),
        pytest.param(
            lambda: built({"hole": 156, "height": 500}, core_out="wrapped"), id="low, round a wrapped core"
        ),
        pytest.param(lambda: planter("rim"), id="planter, rim down"),
        pytest.param(lambda: planter("floor"), id="planter, floor down"),
    ],
)
def test_parts_and_piece_share_no_room_and_have_their_volumes(made) -> None:
    mold = made().mold
    solids = [(part.name, part_solid(mold.planes, part)) for part in mold.parts]
    for part, (name, solid) in zip(mold.parts, solids, strict=True):
        assert volume(solid) == pytest.approx(part_volume(part), rel=1e-4), name
    solids.append(("piece", piece_solid(mold.planes, mold.piece)))
    boxes = {name: solid.BoundingBox() for name, solid in solids}
    for (one, first), (other, second) in combinations(solids, 2):
        if not apart(boxes[one], boxes[other]):
            assert first.intersect(second).Volume() < ROUNDING, f"{one} and {other}"
