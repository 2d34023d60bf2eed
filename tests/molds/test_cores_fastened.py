"""Cores and sticks as a carpenter fastens them: ribs clear of plugs' screws, plugs set out, nothing held by pins."""

from __future__ import annotations

from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.check import Check
from formwork.checks.corners import corner_checks
from formwork.checks.holding import core_wall_checks
from formwork.errors import StockError
from formwork.molds.joints import CLEATS
from formwork.molds.panelled import Built
from formwork.molds.panels.plug_places import from_middle
from formwork.molds.panels.rib_places import clear, even, gaps
from formwork.shapes import block, many_sided, planter
from tests.drawn import Drawn, parameters, samples
from tests.workshop import build, concrete

LONG = {
    "length": 914,
    "width": 381,
    "height": 406,
    "wall": 51,
    "floor": 51,
    "down": "rim",
    "drain_diameter": 25,
}


def planted(**keys: object) -> Built:
    return build(planter.SHAPE, parameters(planter.SHAPE, {**LONG, **keys}), sheet="plywood 18")


@pytest.mark.parametrize("drains", [1, 2, 3, 4, 5])
def test_no_rib_stands_where_the_screw_of_a_plug_is_driven(drains: int) -> None:
    """Half a rib and the width of a screwdriver, 20 mm [CP], between any rib's middle and any plug's."""
    built = planted(drain_holes=drains)
    ribs = [part for part in built.mold.parts if part.role == "core rib"]
    assert ribs
    thick = built.lined.frame.thickness
    for rib in ribs:
        reach = [x for cell in rib.cells for x, _, _ in cell.points()]
        middle = (min(reach) + max(reach)) / 2.0
        for plug in built.mold.piece.plugs:
            assert abs(middle - plug.body.foot[0]) >= thick / 2.0 + 0.02 - 1e-9
    assert all(one.ok for one in core_wall_checks(built) if isinstance(one, Check))


@settings(max_examples=60, deadline=None)
@given(
    width=st.floats(0.3, 2.0),
    span=st.floats(0.15, 0.8),
    screws=st.lists(st.floats(-1.0, 1.0), max_size=5),
    room=st.floats(0.02, 0.04),
)
def test_moved_ribs_still_carry_the_wall(width: float, span: float, screws: list[float], room: float) -> None:
    """Either they stand clear and no bay is wider than the wall bears, or they stand evenly."""
    bays = max(1, ceil(width / span - 1e-9))
    found = clear(width, bays, span, screws, room)
    if found == even(width, bays):
        return
    assert all(abs(one - screw) >= room - 1e-9 for one in found for screw in screws)
    assert max(gaps(width, found)) <= max(span, width / bays) + 1e-6
    assert all(a < b for a, b in pairwise(found))


def test_plugs_and_ribs_are_set_out_from_edges_that_can_be_measured() -> None:
    """Three drains in a row across a straight box: the quarters of the core's length, and half its width, less a wall.

    By hand: the cap is the core, 914 - 102 by 381 - 102 mm at its upper face with no draft; the drains stand as the
    piece has them.
    """
    built = planted(drain_holes=3)
    said = next(step.text for step in built.mold.steps if "drain plugs" in step.text)
    cap = next(part for part in built.mold.parts if part.role == "core cap")
    top = max(point[2] for cell in cap.cells for point in cell.points())
    face = [point for cell in cap.cells for point in cell.points() if abs(point[2] - top) < 1e-9]
    left, front = min(x for x, _, _ in face), min(y for _, y, _ in face)
    for plug in built.mold.piece.plugs:
        assert f"{1000.0 * (plug.body.foot[0] - left):.1f}".removesuffix(".0") in said
    assert f"{1000.0 * (built.mold.piece.plugs[0].body.foot[1] - front):.1f}".removesuffix(".0") in said
    assert "from its left edge" in said and "before it goes on" in said
    made = next(step for step in built.mold.steps if "Make the core" in step.text)
    assert "Set the rib" in made.text and "from the outside of core wall" in made.text
    assert any("core walls to ribs" in one.use for one in built.mold.fixings)


@pytest.mark.parametrize("sheet", ["plywood 12", "plywood 18"])
@pytest.mark.parametrize("drawn", samples(), ids=lambda drawn: drawn[0].name)
def test_what_holds_sticks_is_screws_from_the_face_whatever_the_sheet(drawn: Drawn, sheet: str) -> None:
    """No stick hangs on glue and pins, and the step says what the table says."""
    try:
        mold = build(*drawn, sheet=sheet).mold
    except StockError as refused:
        assert "lay up to" in str(refused)
        return
    sticks = [one for one in mold.fixings if "cleats" in one.use or "rails, heads" in one.use]
    assert sticks and all(
        one.item == "screw" and "heads sunk" in one.use for one in sticks if "base" not in one.use
    )
    assert any("from the panel into the stick" in step.text for step in mold.steps)


@pytest.mark.parametrize("sides", ["long", "short"])
def test_the_screws_of_a_cleat_carry_what_the_other_panel_pulls_with(sides: str) -> None:
    """Half the load of the panel that runs past, p B H / 2 at the pressure of the foot, shared by a cleat's screws."""
    sizes = {"length": 400, "width": 200, "height": 500}
    built = build(block.SHAPE, parameters(block.SHAPE, sizes), sides=sides, joint="lapped")
    check = next(
        one for one in corner_checks(built) if isinstance(one, Check) and one.name.startswith("cleats to")
    )
    held = next(one for one in built.fastenings if one.joint.group == CLEATS)
    over = 0.4 if sides == "long" else 0.2
    pressure = built.lined.load.density * 9.80665 * 0.5
    assert check.ok
    assert check.demand == pytest.approx(pressure * over / 2.0 * 0.5 / (held.count / held.joint.places))


@pytest.mark.parametrize("joint", ["lapped", "mitred"])
@pytest.mark.parametrize(("length", "height"), [(900, 450), (1000, 800)])
def test_cleats_hold_ordinary_concrete_with_two_rows_where_one_finds_no_room(
    length: int, height: int, joint: str
) -> None:
    """No two screws of a row nearer than 5 cm, and no more than two rows [CP]."""
    sizes = {"length": length, "width": 500, "height": height}
    built = build(block.SHAPE, parameters(block.SHAPE, sizes), mixed=concrete(2000.0), joint=joint)
    held = next(one for one in built.fastenings if one.joint.group == CLEATS)
    row = int(height / 50.0)
    each = held.count / held.joint.places
    assert all(one.ok for one in corner_checks(built) if isinstance(one, Check))
    assert each <= 2 * row
    assert ("two staggered rows" in held.joint.use) == (each > row)


def test_hold_downs_stand_as_far_apart_as_their_load_lets_them() -> None:
    """A light core on two rails is held by two at each, no more than 40 cm apart; a heavy mix asks for more."""
    light, heavy = (
        build(planter.SHAPE, parameters(planter.SHAPE, LONG), density=density) for density in (500.0, 1700.0)
    )
    few, many = (
        next(one.count for one in built.fastenings if one.joint.use.startswith("base to core"))
        for built in (light, heavy)
    )
    assert few == 4
    assert many >= few


def test_plugs_on_a_cap_that_has_no_four_corners_are_told_from_its_middle() -> None:
    """Points on a plain plane, by hand."""
    assert from_middle([(0.0, 0.0)], (0.0, 0.0), "mm") == "in the middle of it"
    told = from_middle([(0.05, -0.02), (-0.05, 0.0)], (0.0, 0.0), "mm")
    assert told == "from the middle of it 50 mm to the left; 50 mm to the right and 20 mm to the front"
    keys = {"sides": 8, "size": 600, "height": 400, "wall": 50, "floor": 50, "down": "rim", "drain_holes": 4}
    mold = build(many_sided.SHAPE, parameters(many_sided.SHAPE, keys)).mold
    said = next(step.text for step in mold.steps if "drain plugs" in step.text)
    assert "from the middle of it" in said


@pytest.mark.parametrize(
    ("keys", "sheet", "reached"),
    [
        ({}, "plywood 18", False),
        ({}, "plywood 12", True),
        ({"gang": 2, "drain_holes": 0}, "plywood 18", True),
    ],
)
def test_what_is_undone_from_below_before_anything_comes_off_stays_in_reach(
    keys: dict[str, object], sheet: str, reached: bool
) -> None:
    """A thin base is screwed to the sides from below, a gang's blind cores to theirs; one piece is turned over first."""
    mold = build(planter.SHAPE, parameters(planter.SHAPE, {**LONG, "length": 600, **keys}), sheet=sheet).mold
    assert any("where you reach them" in step.text for step in mold.steps) == reached
