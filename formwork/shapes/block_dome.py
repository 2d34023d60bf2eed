"""Dome laid from cast wedge blocks: courses on a sphere, one mold for each kind of block, cast inner face down."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, pi, sin, tan
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.shapes import box
from formwork.shapes.courses import (
    FEWEST_BLOCKS,
    Course,
    Flaw,
    Group,
    Shell,
    Wedge,
    blocks_round,
    divide,
    flaw,
    grouped,
    plug_reach,
    rings,
    wedge,
)
from formwork.shapes.laying import block_notes, dome_notes
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Face, Lot, Measure, Piece, Planar
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity

_MOST_COURSES = 60


class BlockDomeParameters(Parameters):
    """Keys of a dome of blocks in the project file."""

    inside_radius: Annotated[float, quantity("length", 0.3, 10.0)] | None = Field(
        default=None, description="radius of the inside at the equator; give this or inside_diameter"
    )
    inside_diameter: Annotated[float, quantity("length", 0.6, 20.0)] | None = Field(
        default=None, description="diameter of the inside at the equator; give this or inside_radius"
    )
    rise: Annotated[float, quantity("length", 0.3, 20.0)] | None = Field(
        default=None,
        description="height of the inside over the equator: more than its radius makes a point; a sphere if left out",
    )
    thickness: Annotated[float, quantity("length", 0.03, 1.0)] = Field(
        description="thickness of the dome, inner to outer corner of a block"
    )
    course_height: Annotated[float, quantity("length", 0.04, 1.0)] = Field(
        description="wanted height of a block at the inside, without joint; evened out so that the courses fit"
    )
    block_length: Annotated[float, quantity("length", 0.05, 3.0)] = Field(
        description="greatest length of a block at the inside, without joint"
    )
    joint: Annotated[float, quantity("length", 0.0, 0.03)] = Field(
        default=0.008, description="thickness of bed joints and side joints"
    )
    joint_tolerance: Annotated[float, quantity("length", 0.0, 0.03)] = Field(
        default=0.003,
        description="how much wider a side joint may come out where courses share a mold; 0 for a mold a course",
    )
    springing: Annotated[float, quantity("angle", 0.0, pi)] = Field(
        default=pi / 2.0,
        description="angle of the springing from plumb, at the pivot: 90 deg starts at the equator, less above it",
    )
    oculus: Annotated[float, quantity("length", 0.0, 10.0)] = Field(
        default=0.0, description="radius of the opening at the crown, at the inside; 0 for a plug"
    )
    plug: Literal["in place", "block"] = Field(
        default="in place",
        description="how the crown is closed: cast in place, or one block with a side for each block of the last ring",
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """Every kind of block the dome needs, the lowest course first, each as it lies in its mold.

    Raises:
        GeometryError: where the keys contradict one another or no courses of sound blocks fit.
    """
    assert isinstance(parameters, BlockDomeParameters)
    p = parameters
    shell = _shell(p, name)
    courses = _courses(p, shell, name)
    groups = grouped(courses, shell, p.joint, p.joint_tolerance)
    blocks = [_block(p, shell, group, courses, name) for group in groups]
    lots = [Lot(piece, group.blocks) for piece, group in zip(blocks, groups, strict=True)]
    first = lots[0].piece
    whole = dome_notes(shell, courses, p.joint, len(groups), "oculus" if p.oculus > 0.0 else p.plug)
    lots[0] = Lot(replace(first, notes=(*first.notes, *whole)), lots[0].each)
    if p.oculus == 0.0 and p.plug == "block":
        lots.append(Lot(_plug(p, shell, courses[-1], name)))
    return tuple(lots)


def _shell(p: BlockDomeParameters, name: str) -> Shell:
    if (p.inside_radius is None) == (p.inside_diameter is None):
        got = "neither" if p.inside_radius is None else "both"
        raise GeometryError(f"{name}: inside_radius and inside_diameter: got {got}, want one of them")
    radius = p.inside_radius if p.inside_radius is not None else (p.inside_diameter or 0.0) / 2.0
    if p.thickness >= radius:
        raise GeometryError(
            f"{name}: thickness {show.both(p.thickness)} is not less than the inside radius {show.both(radius)}; "
            "that is no shell; make the blocks thinner"
        )
    rise = p.rise if p.rise is not None else radius
    if rise < radius - 1e-9:
        raise GeometryError(
            f"{name}: rise {show.both(rise)} is less than the inside radius {show.both(radius)}; a low dome "
            "is the upper part of a sphere: leave rise out, give the sphere's radius and set springing to less than "
            "90 deg"
        )
    beyond = max(0.0, (rise * rise - radius * radius) / (2.0 * radius))
    return Shell(radius + beyond, radius + beyond + p.thickness, beyond)


def _courses(p: BlockDomeParameters, shell: Shell, name: str) -> tuple[Course, ...]:
    """The rings to be laid, the lowest first.

    A dome that is closed ends below the first ring that cannot be built of sound blocks; the plug fills the rest.
    """
    _refuse_bad_ends(p, shell, name)
    module = p.block_length + p.joint
    round_blocks = blocks_round(shell, p.springing, module)
    if round_blocks < FEWEST_BLOCKS:
        most = 2.0 * pi * shell.radius(p.springing) / (FEWEST_BLOCKS - 1) - p.joint
        raise GeometryError(
            f"{name}: block_length {show.both(p.block_length)} is too long for its course: only "
            f"{round_blocks} go round the springing, want at least {FEWEST_BLOCKS}; make it less than {show.both(most)}"
        )
    step = (p.course_height + p.joint) / shell.inside
    closing = shell.at(p.oculus)
    count = round((p.springing - closing) / step)
    if count > _MOST_COURSES:
        raise GeometryError(
            f"{name}: course_height {show.both(p.course_height)} makes {count} courses, want at most {_MOST_COURSES}; "
            "make it larger"
        )
    every = rings(divide(p.springing, closing, step), shell, module)
    flaws = [flaw(ring, shell) for ring in every]
    built = next((i for i, found in enumerate(flaws) if found), len(every))
    if built < len(every) and (p.oculus > 0.0 or built < 2):
        where = "make the oculus wider" if p.oculus > 0.0 else "let two sound courses fit below the plug"
        _refuse_flawed(every[built], flaws[built], shell, name, where)
    if built < 2:
        raise GeometryError(
            f"{name}: course_height {show.both(p.course_height)} leaves 1 course of blocks between "
            "springing and oculus, want at least 2; make it smaller"
        )
    return every[:built]


def _refuse_bad_ends(p: BlockDomeParameters, shell: Shell, name: str) -> None:
    if p.springing > pi / 2.0 + 1e-9:
        raise GeometryError(
            f"{name}: springing {degrees(p.springing):.1f} deg from the crown lies below the equator, where "
            "blocks would lean outward; want at most 90 deg"
        )
    if p.springing <= shell.crown:
        raise GeometryError(
            f"{name}: springing {degrees(p.springing):.1f} deg is at the crown, where the inside meets the axis "
            f"({degrees(shell.crown):.1f} deg); want more"
        )
    widest = shell.radius(p.springing)
    if p.oculus >= widest:
        raise GeometryError(
            f"{name}: oculus: a radius of {show.both(p.oculus)} is not less than that of the springing, "
            f"{show.both(widest)}; nothing is left to build"
        )


def _refuse_flawed(ring: Course, found: Flaw | None, shell: Shell, name: str, other: str) -> None:
    below, above = (show.both(_edge(polar, ring, shell)) for polar in (ring.lower, ring.upper))
    match found:
        case "few":
            why = f"want at least {FEWEST_BLOCKS} blocks; make block_length smaller"
        case "pointed":
            why = "want the upper edge at least half the lower; make course_height smaller"
        case _:
            why = "so long for their height that the lower bed leans in; make block_length smaller"
    raise GeometryError(
        f"{name}: course {ring.number} would be {ring.blocks} blocks of {below} below and {above} above, joints "
        f"included; {why}, or {other}"
    )


def _edge(polar: float, ring: Course, shell: Shell) -> float:
    """Length of a block's edge with its joint, m."""
    return 2.0 * shell.radius(polar) * sin(ring.half)


def _block(
    p: BlockDomeParameters, shell: Shell, group: Group, courses: tuple[Course, ...], name: str
) -> Piece:
    """The block of a group of rings, lying on its inner face."""
    block = wedge(group.cast, shell, p.joint)
    return Piece(
        name=f"{name} {_rings_named(group)}",
        shape="block dome",
        form=Planar(
            faces=(
                *(Face(half.name, "panel", half) for half in block.sides),
                *_ends(block.thickness),
            ),
            formers=(),
        ),
        plugs=(),
        pour_points=((0.0, 0.0, block.thickness / 2.0),),
        turned_over=False,
        measures=_measures(block),
        notes=block_notes(shell, group, courses, p.joint),
    )


def _ends(thickness: float) -> tuple[Face, Face]:
    return (
        Face("inner face", "base", box.level("inner face", 0.0, up=False)),
        Face("outer face", "fill", box.level("outer face", thickness, up=True)),
    )


def _rings_named(group: Group) -> str:
    numbers = [str(ring.number) for ring in group.rings]
    return (
        f"course {numbers[0]}"
        if len(numbers) == 1
        else f"courses {', '.join(numbers[:-1])} and {numbers[-1]}"
    )


def _measures(block: Wedge) -> tuple[Measure, ...]:
    """Edges of the inner face and of the struck face; heights along the slope; thickness."""
    t, low, high = block.thickness, block.lower, block.upper
    middle = [(0.0, block.reach(bed, height), height) for height in (0.0, t) for bed in (low, high)]
    foot = block.corner(low, block.right, 0.0)
    return (
        Measure("outer lower edge", "top", block.corner(low, block.left, t), block.corner(low, block.right, t)),
        Measure("outer upper edge", "top", block.corner(high, block.left, t), block.corner(high, block.right, t)),
        Measure("outer height", "side", middle[2], middle[3]),
        Measure("inner lower edge", "front", block.corner(low, block.left, 0.0), block.corner(low, block.right, 0.0)),
        Measure("inner upper edge", "top", block.corner(high, block.left, 0.0), block.corner(high, block.right, 0.0)),
        Measure("inner height", "side", middle[0], middle[1]),
        Measure("thickness", "front", foot, (foot[0], foot[1], t)),
    )  # fmt: skip


def _plug(p: BlockDomeParameters, shell: Shell, last: Course, name: str) -> Piece:
    """The crown as one block with as many flat sides as the last ring has blocks, lying on its inner face."""
    inner, outer = plug_reach(last, shell, p.joint / 2.0)
    thick = (shell.outside - shell.inside) * cos(last.upper)
    sides = tuple(
        box.leaning(
            f"side {i + 1}", (cos(i * 2.0 * last.half), sin(i * 2.0 * last.half)), inner, outer, thick
        )
        for i in range(last.blocks)
    )
    half, top = tan(last.half), thick
    return Piece(
        name=f"{name} crown plug",
        shape="block dome",
        form=Planar(faces=(*(Face(side.name, "panel", side) for side in sides), *_ends(thick)), formers=()),
        plugs=(),
        pour_points=((0.0, 0.0, thick / 2.0),),
        turned_over=False,
        measures=(
            Measure("outer edge of a side", "top", (outer, -outer * half, top), (outer, outer * half, top)),
            Measure("inner edge of a side", "top", (inner, -inner * half, 0.0), (inner, inner * half, 0.0)),
            Measure("thickness", "front", (inner, 0.0, 0.0), (inner, 0.0, thick)),
        ),
        notes=(
            f"Cast with the inner face down; the outer face is struck off. {last.blocks} equal sides.",
            "Dropped in from above when the last ring is closed; it rests on mortar: prop it from below until that has "
            "set.",
        ),
    )


SHAPE = Shape(
    name="block dome",
    summary="Dome laid in courses from wedge blocks, one mold for each kind of block",
    methods=("panelled",),
    parameters=BlockDomeParameters,
    lay_out=lay_out,
    samples=(
        {"inside_radius": 600, "thickness": 90, "course_height": 200, "block_length": 250, "joint": 8},
        {
            "inside_diameter": 2400,
            "thickness": 100,
            "course_height": 240,
            "block_length": 400,
            "joint": 10,
            "joint_tolerance": 25,
            "springing": "60 deg",
            "oculus": 450,
        },
        {
            "inside_radius": 900,
            "thickness": 120,
            "course_height": 300,
            "block_length": 260,
            "joint": 6,
            "joint_tolerance": 0,
            "plug": "block",
        },
        {
            "inside_radius": 800,
            "rise": 1100,
            "thickness": 80,
            "course_height": 280,
            "block_length": 300,
            "oculus": 240,
        },
    ),
)
