"""Wall of blocks: a wall, its corners and its openings laid out course by course, down to the blocks to cast.

The blocks are those of ``block``, whole and half, each with its own mold.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from formwork.errors import GeometryError
from formwork.shapes.block import BlockParameters, block_piece
from formwork.shapes.bond import Count, Hole, Unit, Wall, courses, take_off
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Lot, Piece
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity, whole

_MOST_BLOCKS = 100_000
_WALLS = {"straight": (1,), "corner": (1, 2), "three sides": (4, 1, 2), "closed": (1, 2, 3, 4)}
"""Which walls stand in each plan: 1 in front, 2 to its right, 3 behind, 4 to its left, counter-clockwise from above."""


class Opening(BaseModel):
    """A door or window of the wall."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    wall: Annotated[int, whole(1, 4)] = Field(
        default=1, description="which wall it is in: 1 in front, 2 right, 3 behind, 4 left"
    )
    x: Annotated[float, quantity("length", 0.0, 200.0)] = Field(
        description="from the wall's left end, seen from outside, to the opening's left edge"
    )
    sill: Annotated[float, quantity("length", 0.0, 20.0)] = Field(
        default=0.0, description="height of its sill above the first bed; 0 for a door"
    )
    width: Annotated[float, quantity("length", 0.05, 50.0)] = Field(description="clear width")
    height: Annotated[float, quantity("length", 0.05, 20.0)] = Field(description="clear height")


class BlockWallParameters(Parameters):
    """Keys of a wall of blocks in the project file."""

    length: Annotated[float, quantity("length", 0.4, 200.0)] = Field(
        description="outside length of the front wall, corners included"
    )
    height: Annotated[float, quantity("length", 0.1, 20.0)] = Field(description="height of the wall")
    plan: Literal["straight", "corner", "three sides", "closed"] = Field(
        default="straight",
        description="one wall with plain ends, with one or two walls returned from its ends, or closed all round",
    )
    side: Annotated[float, quantity("length", 0.4, 200.0)] | None = Field(
        default=None,
        description="outside length of the side walls, corners included; none for a straight wall",
    )
    thickness: Annotated[float, quantity("length", 0.04, 0.8)] = Field(
        description="thickness of the wall: the width of a block"
    )
    block_length: Annotated[float, quantity("length", 0.2, 1.2)] = Field(
        description="length of a whole block, without joint"
    )
    block_height: Annotated[float, quantity("length", 0.05, 0.6)] = Field(
        description="height of a block, without joint"
    )
    joint: Annotated[float, quantity("length", 0.0, 0.03)] = Field(
        default=0.01, description="thickness of the joints between blocks and between courses"
    )
    opening: tuple[Opening, ...] = Field(default=(), description="doors and windows")
    cores: Annotated[int, whole(0, 6)] = Field(
        default=0,
        description="hollows right through a whole block, top to bottom; a half block has half of them",
    )
    shell: Annotated[float, quantity("length", 0.012, 0.3)] = Field(
        default=0.035, description="thickness of the two long shells beside the cores, at the struck face"
    )
    web: Annotated[float, quantity("length", 0.012, 0.3)] = Field(
        default=0.035, description="thickness of the ends and of the webs between cores, at the struck face"
    )
    core_draft: Annotated[float, quantity("angle", 0.0, 0.6)] = Field(
        default=atan(1.0 / 20.0), description="lean of the core's sides, so that the block lifts off"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The whole block and the half block, each with how many the wall takes.

    Raises:
        GeometryError: where the keys contradict one another.
    """
    assert isinstance(parameters, BlockWallParameters)
    p = parameters
    unit = unit_of(p)
    walls = walls_of(p, name)
    _refuse_bad_walls(p, walls, unit, name)
    _refuse_bad_openings(p, walls, name)
    count = take_off(walls, [_hole(one) for one in p.opening], p.height, unit)
    whole_block = _block(p, p.block_length, p.cores, f"{name} whole block")
    half_block = _block(p, unit.half, (p.cores + 1) // 2, f"{name} half block")
    lots = [
        Lot(piece, each)
        for piece, each in ((whole_block, count.whole_cast), (half_block, count.half_cast))
        if each
    ]
    notes = (*lots[0].piece.notes, *_notes(p, count, unit))
    return (replace(lots[0], piece=replace(lots[0].piece, notes=notes)), *lots[1:])


def unit_of(p: BlockWallParameters) -> Unit:
    """The block of a wall and its joint."""
    return Unit(p.block_length, p.block_height, p.thickness, p.joint)


def walls_of(p: BlockWallParameters, name: str) -> tuple[Wall, ...]:
    """The walls of the plan, with their corners.

    Raises:
        GeometryError: where the plan needs side walls and none are given, or the other way round.
    """
    if p.plan == "straight":
        if p.side is not None:
            raise GeometryError(
                f'{name}: side: a straight wall has no side walls; leave side out, or say plan = "corner"'
            )
        return (Wall(1, p.length),)
    if p.side is None:
        raise GeometryError(f'{name}: side: plan = "{p.plan}" needs the outside length of its side walls')
    numbers = _WALLS[p.plan]
    return tuple(
        Wall(
            number,
            p.length if number % 2 else p.side,
            (number - 2) % 4 + 1 in numbers,
            number % 4 + 1 in numbers,
        )
        for number in numbers
    )


def _hole(one: Opening) -> Hole:
    return Hole(one.wall, one.x, one.sill, one.width, one.height)


def _refuse_bad_walls(p: BlockWallParameters, walls: tuple[Wall, ...], unit: Unit, name: str) -> None:
    if p.joint > p.block_height / 4.0:
        raise GeometryError(
            f"{name}: joint: {show.both(p.joint)} is more than a quarter of the block's height, "
            f"{show.both(p.block_height)}; use a thinner joint"
        )
    if p.height < p.block_height - unit.slack:
        raise GeometryError(
            f"{name}: height: {show.both(p.height)} is lower than one block, {show.both(p.block_height)}"
        )
    for wall in walls:
        least = unit.length + (wall.corner_left + wall.corner_right) * (unit.thickness + unit.joint)
        if wall.length < least - unit.slack:
            key = "length" if wall.number % 2 else "side"
            raise GeometryError(
                f"{name}: {key}: {show.both(wall.length)} has no room for one block between its corners; "
                f"at least {show.both(least)} wanted"
            )
    blocks = sum(wall.length for wall in walls) / unit.module * courses(p.height, unit)
    if blocks > _MOST_BLOCKS:
        raise GeometryError(
            f"{name}: about {blocks:.0f} blocks are more than the {_MOST_BLOCKS} a project can hold; check the units"
        )


def _refuse_bad_openings(p: BlockWallParameters, walls: tuple[Wall, ...], name: str) -> None:
    known = {wall.number: wall for wall in walls}
    for number, one in enumerate(p.opening, start=1):
        where = f"{name}: opening {number}"
        if one.wall not in known:
            there = ", ".join(str(wall) for wall in sorted(known))
            raise GeometryError(f'{where}: plan = "{p.plan}" has no wall {one.wall}, only {there}')
        _refuse_outside(p, known[one.wall], one, where)
        for other in p.opening[: number - 1]:
            if one.wall == other.wall and _overlap(one, other):
                raise GeometryError(f"{where}: it overlaps another opening of wall {one.wall}")


def _refuse_outside(p: BlockWallParameters, wall: Wall, one: Opening, where: str) -> None:
    left = p.thickness if wall.corner_left else 0.0
    right = wall.length - (p.thickness if wall.corner_right else 0.0)
    if one.x < left - 1e-9 or one.x + one.width > right + 1e-9:
        raise GeometryError(
            f"{where}: it reaches from {show.both(one.x)} to {show.both(one.x + one.width)} along wall "
            f"{wall.number}, which has room from {show.both(left)} to {show.both(right)}"
        )
    if one.sill + one.height > p.height + 1e-9:
        raise GeometryError(
            f"{where}: its top at {show.both(one.sill + one.height)} is above the wall, "
            f"{show.both(p.height)} high"
        )


def _overlap(one: Opening, other: Opening) -> bool:
    return (
        one.x < other.x + other.width
        and other.x < one.x + one.width
        and one.sill < other.sill + other.height
        and other.sill < one.sill + one.height
    )


def _block(p: BlockWallParameters, length: float, cores: int, name: str) -> Piece:
    """A block of this length."""
    keys = BlockParameters(
        length=length,
        width=p.thickness,
        height=p.block_height,
        cores=cores,
        shell=p.shell,
        web=p.web,
        core_draft=p.core_draft,
    )
    return replace(block_piece(keys, name), shape="block wall")


def _notes(p: BlockWallParameters, count: Count, unit: Unit) -> tuple[str, ...]:
    notes = [
        f"The wall takes {count.whole_cast} whole and {count.half_cast} half blocks in {count.courses} courses of "
        f"running bond; {count.corner} of them stand at corners. Breakage is not counted.",
    ]
    if count.cut_from_whole + count.cut_from_half:
        notes.append(
            f"{count.cut_from_whole} of the whole and {count.cut_from_half} of the half blocks are cut to fit ends or "
            "openings."
        )
    top = count.courses * unit.course - p.height
    if top > unit.slack:
        notes.append(f"The top course is cut {show.both(top)} lower; its blocks are counted as cast.")
    if p.opening:
        notes.append("Lintels over openings are not counted and not designed here.")
    return tuple(notes)


_METRIC = {"thickness": 190, "block_length": 390, "block_height": 190}

SHAPE = Shape(
    name="block wall",
    summary="Wall of blocks, straight or with corners and openings, counted course by course",
    methods=("panelled",),
    parameters=BlockWallParameters,
    lay_out=lay_out,
    samples=(
        {**_METRIC, "length": 4000, "height": 1200, "gang": 3},
        {
            **_METRIC,
            "length": 6000,
            "side": 4000,
            "plan": "closed",
            "height": 2400,
            "cores": 2,
            "opening": [{"x": 2000, "width": 1000, "height": 2000}],
        },
        {**_METRIC, "thickness": 140, "length": 3000, "side": 1800, "plan": "three sides", "height": 1000},
    ),
    gang_axis="y",
)
