"""A long narrow core: too narrow for sticks in its corners, so long that its walls need ribs."""

from __future__ import annotations

import pytest

from formwork.checks.all import check
from formwork.shapes import planter
from tests.drawn import parameters
from tests.workshop import build

KEYS = {"length": 900, "height": 260, "wall": 40, "floor": 35, "drain_holes": 0, "core_draft": "3 deg"}


@pytest.mark.parametrize("down", ["rim", "floor"])
@pytest.mark.parametrize("gang", [1, 2])
@pytest.mark.parametrize("width", [200, 240, 262.5])
def test_ribs_end_at_the_plate_in_the_open_end(width: float, gang: int, down: str) -> None:
    """The design itself refuses parts that would share room; the plate takes one thickness of the depth."""
    keys = {**KEYS, "width": width, "gang": gang, "down": down}
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys), density=1200.0)
    ribs = [part for part in built.mold.parts if part.role == "core rib"]
    plates = [part for part in built.mold.parts if part.name.endswith("end plate")]
    assert ribs
    assert plates
    reach = {part.name: [p[2] for cell in part.cells for p in cell.points()] for part in (*ribs, *plates)}
    for rib in ribs:
        plate = next(part for part in plates if part.group == rib.group)
        gap = max(
            min(reach[rib.name]) - max(reach[plate.name]), min(reach[plate.name]) - max(reach[rib.name])
        )
        assert gap == pytest.approx(0.0, abs=1e-9)
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)
    walls = [one for one in check([built])[0] if one.name.startswith("core walls")]
    assert walls
    assert all(one.ok for one in walls)
