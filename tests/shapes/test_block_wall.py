"""Walls of blocks: what stands in every course, and what is refused. Published counts: tests/verification."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.shapes.block import SHAPE as BLOCK
from formwork.shapes.block_wall import SHAPE
from formwork.shapes.body import piece_volume
from formwork.shapes.bond import Hole, Unit, Wall, course, courses, take_off
from formwork.shapes.cast import lots
from tests.drawn import parameters

METRIC = {"thickness": 190, "block_length": 390, "block_height": 190, "joint": 10}
PLAIN = {**METRIC, "length": 4000, "height": 1200}
UNIT = Unit(0.39, 0.19, 0.19, 0.01)
CLOSED = (
    Wall(1, 4.0, True, True),
    Wall(2, 3.2, True, True),
    Wall(3, 4.0, True, True),
    Wall(4, 3.2, True, True),
)


def each(**keys: object) -> dict[str, int]:
    found = lots(SHAPE, parameters(SHAPE, {**PLAIN, **keys}), "wall", 0.018)
    return {lot.piece.name: lot.each for lot in found}


def test_a_plain_wall_has_a_half_block_at_both_ends_of_every_second_course() -> None:
    assert each() == {"wall whole block": 3 * 10 + 3 * 9, "wall half block": 6}


def test_an_opening_of_whole_modules_leaves_out_its_blocks_and_closes_with_halves() -> None:
    """A door of 1200 x 800 mm takes three modules out of four courses: two courses end on halves beside it."""
    found = take_off([Wall(1, 4.0)], [Hole(1, 1.2, 0.0, 1.2, 0.8)], 1.2, UNIT)
    assert (found.whole, found.half) == (57 - 2 * 3 - 2 * 4, 6 + 2 * 2)
    assert found.cut_from_whole == found.cut_from_half == 0


def test_blocks_that_a_sill_cuts_into_are_counted_as_cut() -> None:
    """A sill half a course up: two blocks below it are notched; above them three make room and two halves close."""
    found = take_off([Wall(1, 4.0)], [Hole(1, 1.2, 0.1, 0.8, 0.3)], 1.2, UNIT)
    assert (found.whole, found.half, found.cut_from_whole, found.cut_from_half) == (57 - 2 - 3, 6 + 2, 2, 0)


def test_the_two_halves_of_a_block_and_their_joint_are_one_block() -> None:
    whole, half = lots(SHAPE, parameters(SHAPE, PLAIN), "wall", 0.018)
    ends = [next(m for m in lot.piece.measures if m.name == "length") for lot in (whole, half)]
    lengths = [end.end[0] - end.start[0] for end in ends]
    assert 2.0 * lengths[1] + 0.01 == pytest.approx(lengths[0], abs=1e-12)


def test_the_blocks_are_those_of_the_shape_block() -> None:
    whole, half = lots(SHAPE, parameters(SHAPE, {**PLAIN, "cores": 2}), "wall", 0.018)
    for lot, length, cores in ((whole, 390, 2), (half, 190, 1)):
        keys = {"length": length, "width": 190, "height": 190, "cores": cores}
        block = lots(BLOCK, parameters(BLOCK, keys), "block", 0.018)[0].piece
        assert piece_volume(Planes(), lot.piece) == pytest.approx(piece_volume(Planes(), block), rel=1e-12)


@pytest.mark.parametrize("row", range(4))
def test_at_every_corner_one_wall_runs_past_and_the_other_stops(row: int) -> None:
    reaches = []
    for wall in CLOSED:
        blocks = course(wall, row, (), UNIT)
        reaches.append((blocks[0].x, blocks[-1].x + blocks[-1].length - wall.length))
    for i, (_, end) in enumerate(reaches):
        start = reaches[(i + 1) % 4][0]
        stopped = [-end > UNIT.thickness - UNIT.slack, start > UNIT.thickness - UNIT.slack]
        assert stopped.count(True) == 1


@given(length=st.floats(1.0, 12.0), side=st.floats(1.0, 9.0), height=st.floats(0.2, 3.0))
@settings(max_examples=60, deadline=None)
def test_blocks_and_joints_fill_every_course(length: float, side: float, height: float) -> None:
    """Area of a closed wall on its outer faces less the corners counted twice: blocks and joints fill it, no more."""
    walls = tuple(Wall(w.number, length if w.number % 2 else side, True, True) for w in CLOSED)
    for row in range(courses(height, UNIT)):
        filled = 0.0
        for wall in walls:
            blocks = course(wall, row, (), UNIT)
            for one, after in pairwise(blocks):
                assert after.x - (one.x + one.length) == pytest.approx(UNIT.joint, abs=1e-9)
            filled += blocks[-1].x + blocks[-1].length - blocks[0].x
        ring = 2.0 * (length + side) - 4.0 * (UNIT.thickness + UNIT.joint)
        assert ring - 4.0 * UNIT.slack <= filled <= ring + 1e-9


@given(length=st.floats(1.0, 12.0), x=st.floats(0.0, 0.6), width=st.floats(0.1, 0.4))
@settings(max_examples=60, deadline=None)
def test_no_block_stands_in_an_opening_and_joints_never_line_up(
    length: float, x: float, width: float
) -> None:
    wall, hole = Wall(1, length), Hole(1, x * length, 0.0, width * length, 9.0)
    previous: list[float] = []
    for row in range(4):
        for block in course(wall, row, [hole], UNIT):
            assert block.x >= hole.x + hole.width - 1e-9 or block.x + block.length <= hole.x + 1e-9
        joints = [block.x for block in course(wall, row, (), UNIT)][1:]
        assert all(abs(a - b) > UNIT.module / 4.0 - UNIT.slack for a in joints for b in previous)
        previous = joints


@pytest.mark.parametrize("thickness", [0.09, 0.14, 0.19, 0.29, 0.39])
def test_joints_break_at_corners_of_any_thickness(thickness: float) -> None:
    unit = Unit(0.39, 0.19, thickness, 0.01)
    for wall in CLOSED:
        low, high = ([block.x for block in course(wall, row, (), unit)][1:-1] for row in (0, 1))
        assert all(abs(a - b) > unit.module / 4.0 - unit.slack for a in low for b in high)


def test_notes_say_what_the_wall_takes() -> None:
    notes = " ".join(lots(SHAPE, parameters(SHAPE, {**PLAIN, "height": 1100}), "wall", 0.018)[0].piece.notes)
    assert "57 whole and 6 half blocks in 6 courses" in notes
    assert "The top course is cut 100 mm (3 15/16 in) lower" in notes


OPEN = {"x": 800, "width": 800, "height": 800}


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"opening": [{**OPEN, "x": 3500}]}, r"room from 0 mm .* to 4000 mm \(157 1/2 in\)"),
        ({"opening": [{**OPEN, "height": 1300}]}, "above the wall"),
        ({"opening": [{**OPEN, "wall": 2}]}, "has no wall 2, only 1"),
        ({"opening": [OPEN, {**OPEN, "x": 1200}]}, "overlaps another"),
        ({"plan": "closed"}, "needs the outside length"),
        ({"side": 2000}, "has no side walls"),
        ({"plan": "closed", "side": 600}, "no room for one block"),
        ({"plan": "corner", "side": 2000, "opening": [{**OPEN, "wall": 2, "x": 100}]}, "room from 190"),
        ({"joint": 30, "block_height": 60}, "quarter of the block's height"),
        ({"height": 150}, "lower than one block"),
        ({"length": 200000, "height": 20000, "block_length": 200, "block_height": 50}, "check the units"),
        ({"cores": 6, "block_length": 300}, "leave less than"),
    ],
)
def test_contradictions_are_named(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        each(**keys)


@pytest.mark.parametrize("keys", [{"length": 0}, {"height": -1}, {"joint": float("nan")}, {"block_length": 50},
                                  {"opening": [{"x": -1, "width": 5, "height": 5}]}, {"plan": "round"}])  # fmt: skip
def test_values_out_of_range_are_refused(keys: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        parameters(SHAPE, {**PLAIN, **keys})
