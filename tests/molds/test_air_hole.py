"""The air hole of a core: points all round it lie in the cap and in no other part, and no drain plug shuts it."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import pytest
from hypothesis import given, settings

from formwork.geometry.vectors import Vec, add, scale
from formwork.molds.mold import Part
from formwork.molds.panelled import Built
from formwork.molds.panels.air_hole import AIR_HOLE
from formwork.shapes import many_sided, planter
from tests.drawn import Drawn, parameters, pieces
from tests.workshop import build


def caps(built: Built) -> list[Part]:
    return [part for part in built.mold.parts if part.role == "core cap" and part.name.endswith(" cap")]


def at(cap: Part, x: float, y: float, deep: float) -> Vec:
    """A place of the blank in the mold."""
    frame = cap.placement
    flat = add(scale(frame.along, x), scale(frame.across, y))
    return add(frame.origin, add(flat, scale(frame.into, deep)))


def within(built: Built, part: Part, place: Vec) -> bool:
    half = built.mold.planes.half
    return any(all(half(ref).depth(place) >= -1e-9 for ref in cell.facets) for cell in part.cells)


def bored_clear(built: Built, cap: Part) -> None:
    """The bore meets the cap only, on either side of it nothing but the mix and the core's inside."""
    ((x, y, across),) = cap.blank.holes
    assert across == AIR_HOLE
    for i in range(16):
        turn = 2.0 * pi * i / 16
        ring = (x + across / 2.0 * cos(turn), y + across / 2.0 * sin(turn))
        assert within(built, cap, at(cap, *ring, cap.blank.thickness / 2.0))
        for deep in (-0.001, cap.blank.thickness + 0.001):
            place = at(cap, *ring, deep)
            assert [part.name for part in built.mold.parts if within(built, part, place)] == []
    middle = at(cap, x, y, 0.0)
    for plug in built.lined.frame.piece.plugs:
        gap = hypot(middle[0] - plug.body.foot[0], middle[1] - plug.body.foot[1])
        assert gap > across / 2.0 + max(plug.body.foot_radius, plug.body.head_radius)


@pytest.mark.parametrize("holes", [0, 1, 4])
@pytest.mark.parametrize("down", ["rim", "floor"])
@pytest.mark.parametrize("sides", [3, 5, 6, 8])
def test_caps_of_many_sides(sides: int, down: str, holes: int) -> None:
    keys = {"sides": sides, "size": 500, "height": 300, "wall": 35, "floor": 40, "down": down}
    built = build(many_sided.SHAPE, parameters(many_sided.SHAPE, {**keys, "drain_holes": holes}))
    (cap,) = caps(built)
    bored_clear(built, cap)


@given(drawn=pieces())
@settings(max_examples=40, deadline=None)
def test_every_cap_is_bored_clear_or_not_at_all(drawn: Drawn) -> None:
    built = build(*drawn, density=1200.0)
    for cap in caps(built):
        if cap.blank.holes:
            bored_clear(built, cap)


def test_a_cap_with_no_room_has_no_hole_no_stopper_and_no_line() -> None:
    """The plug is wider than the inside of the core: 72 mm at the rim, less the draft and two thicknesses of sheet."""
    keys = {"length": 132, "width": 132, "height": 200, "wall": 30, "floor": 40, "core_draft": "1 deg"}
    full = {**keys, "drain_holes": 1, "drain_diameter": 45}
    built = build(planter.SHAPE, parameters(planter.SHAPE, full))
    assert [cap.blank.holes for cap in caps(built)] == [()]
    assert "stopper" not in {line.item for line in built.mold.hardware}
    assert "suction" not in " ".join(built.mold.instructions)
    bare = build(planter.SHAPE, parameters(planter.SHAPE, {**keys, "drain_holes": 0}))
    bored_clear(bare, *caps(bare))
    assert "stopper" in {line.item for line in bare.mold.hardware}
