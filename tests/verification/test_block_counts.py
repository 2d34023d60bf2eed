"""Published block counts against walls laid out course by course.

Sources: Navy training manuals for builders, NAVEDTRA 14045, Table 4-3 and the page it stands on (a wall of 100 x 10 ft
takes 75 x 15 = 1,125 blocks of 8 x 8 x 16 in), and NAVEDTRA 14043, Table 8-5 (79 blocks in a course of a building of
22 x 32 ft). 8 x 8 x 16 in is the module: the block is 3/8 in less each way. 112.5 blocks to 100 square feet follows
from the module. Two half blocks count as one, as the tables count them.
"""

from __future__ import annotations

import pytest

from formwork.shapes.block_wall import SHAPE, BlockWallParameters, unit_of, walls_of
from formwork.shapes.bond import course, take_off
from tests.drawn import parameters

BLOCK = {"thickness": "7 5/8 in", "block_length": "15 5/8 in", "block_height": "7 5/8 in", "joint": "3/8 in"}


def wall(**keys: object) -> BlockWallParameters:
    found = parameters(SHAPE, {**BLOCK, **keys})
    assert isinstance(found, BlockWallParameters)
    return found


def blocks(p: BlockWallParameters) -> float:
    count = take_off(walls_of(p, "wall"), (), p.height, unit_of(p))
    assert count.cut_from_whole == count.cut_from_half == 0
    return count.whole + count.half / 2.0


@pytest.mark.parametrize("length", ["100 ft", "1199 5/8 in"])
def test_wall_of_100_by_10_ft(length: str) -> None:
    """1,125 blocks, whether the last joint is counted in the length or not."""
    assert blocks(wall(length=length, height="10 ft")) == 1125.0


def test_100_square_feet() -> None:
    assert blocks(wall(length="10 ft", height="10 ft")) == 112.5


@pytest.mark.parametrize("row", [0, 1])
def test_a_course_of_a_building_of_22_by_32_ft(row: int) -> None:
    """79 blocks: the corners are not counted twice (108 ft x 3/4 would give 81)."""
    p = wall(length="32 ft", side="22 ft", plan="closed", height="8 in")
    laid = [block for one in walls_of(p, "wall") for block in course(one, row, (), unit_of(p))]
    weights = {"whole": 1.0, "half": 0.5}
    assert sum(weights[block.kind] for block in laid) == 79.0
    assert sum(block.at_corner for block in laid) == 4


def test_a_building_of_28_by_48_ft_8_ft_high() -> None:
    """1,344 by the rule of the same table, (perimeter - 4 thicknesses) x 3/4 a course; 1,368 with corners twice."""
    p = wall(length="48 ft", side="28 ft", plan="closed", height="8 ft")
    assert blocks(p) == (152.0 - 4.0 * 8.0 / 12.0) * 0.75 * 12.0 == 1344.0
