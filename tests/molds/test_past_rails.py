"""Fasteners at upright edges stand clear of the rails on the panel they pass, or are long enough to pass those too."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from formwork.errors import FormworkError
from formwork.molds.joints import CORNERS, DIVIDERS
from formwork.molds.panelled import Built
from formwork.shapes import block, slab
from tests.drawn import Drawn, parameters, pieces
from tests.workshop import build

CLEAR = 0.015
PITCH = 0.05


def places_beside_rails(built: Built, height: float) -> int:
    """Heights found by walking up the edge a millimetre at a time, each clear of every rail and of the last one."""
    points = [
        [point[2] for cell in part.cells for point in cell.points()]
        for part in built.mold.parts
        if part.role == "rail" and part.group.endswith(" panel")
    ]
    last, found = -1.0, 0
    for z in (step / 1000.0 for step in range(15, int(height * 1000.0) - 14)):
        clear = all(not min(zs) - CLEAR < z < max(zs) + CLEAR for zs in points)
        if clear and z - last > PITCH - 1e-9:
            last, found = z, found + 1
    return found


def hidden(built: Built) -> list[str]:
    """Joints with more fasteners than find room beside the rails, and too short to pass a rail as well."""
    frame = built.lined.frame
    roles = {part.role for part in built.mold.parts if part.group.endswith(" panel")}
    if frame.mitred or not {"cleat", "rail"} <= roles:
        return []
    beside = places_beside_rails(built, frame.fill)
    return [
        one.joint.use
        for one in built.fastenings
        if one.joint.group in (CORNERS, DIVIDERS)
        and one.joint.through < frame.thickness + frame.stocks.deep - 1e-9
        and one.count > one.joint.places * beside
    ]


def test_a_shallow_gang_is_fastened_through_its_rails() -> None:
    keys = {"length": 600, "width": 400, "thickness": 70, "gang": 4}
    built = build(slab.SHAPE, parameters(slab.SHAPE, keys))
    frame = built.lined.frame
    chosen = {one.joint.group: one for one in built.fastenings if one.joint.group in (CORNERS, DIVIDERS)}
    assert places_beside_rails(built, frame.fill) < 2
    for one in chosen.values():
        assert one.joint.through == pytest.approx(0.0179 + 0.045)
        assert "through the rails" in one.joint.use
    assert hidden(built) == []


def test_a_high_mold_is_fastened_beside_its_rails() -> None:
    keys = {"length": 390, "width": 190, "height": 190, "cores": 2, "gang": 4}
    built = build(block.SHAPE, parameters(block.SHAPE, keys))
    chosen = [one for one in built.fastenings if one.joint.group in (CORNERS, DIVIDERS)]
    assert all(one.joint.through < 0.05 and "rails" not in one.joint.use for one in chosen)
    assert hidden(built) == []


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(pieces())
def test_no_fastener_of_any_mold_meets_a_rail_it_cannot_pass(drawn: Drawn) -> None:
    shape, found = drawn
    try:
        built = build(shape, found)
    except FormworkError:
        return
    if isinstance(built, Built):
        assert hidden(built) == []
