"""Dome laid from cast wedge blocks: courses on a sphere, one mold for each kind of block, cast inner face down."""

from __future__ import annotations

from dataclasses import replace
from math import acos, cos, degrees, pi, radians, sin, sqrt, tan
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.shapes import box
from formwork.shapes.courses import (
    FEWEST_BLOCKS,
    Course,
    Group,
    Shell,
    Wedge,
    bed_joint,
    blocks_round,
    bow,
    divide,
    flat_slope,
    grouped,
    openings,
    plug_reach,
    plug_volume,
    rings,
    sound,
    wedge,
)
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Face, Lot, Measure, Piece
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity

_MOST_COURSES = 60
_LEVEL = 5e-4
_STEEP = radians(30.0) + 1e-6
"""Beds steeper than this do not hold a block while its ring is open: common practice, no source."""
_RINGS_PULL = acos((sqrt(5.0) - 1.0) / 2.0)
"""Polar angle below which own weight pulls on the rings of a thin hemisphere, 51.8 degrees (membrane theory, from
memory: hoop force changes sign at cos phi = (sqrt 5 - 1) / 2)."""


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
        description="height of the inside over the equator: more than its radius for a pointed dome, as much if left out",
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
    whole = _dome_notes(p, shell, courses, len(groups))
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
            f"{name}: thickness {_mm(p.thickness)} is not less than the inside radius {_mm(radius)}; "
            "that is no shell; make the blocks thinner"
        )
    rise = p.rise if p.rise is not None else radius
    if rise < radius - 1e-9:
        raise GeometryError(
            f"{name}: rise {_mm(rise)} is less than the inside radius {_mm(radius)}; a low dome is the upper part of a "
            "sphere: leave rise out, give the sphere's radius and set springing to less than 90 deg"
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
            f"{name}: block_length {_mm(p.block_length)} is too long for its course: only {round_blocks} go round the "
            f"springing, want at least {FEWEST_BLOCKS}; make it less than {_mm(most)}"
        )
    step = (p.course_height + p.joint) / shell.inside
    closing = shell.at(p.oculus)
    count = round((p.springing - closing) / step)
    if count > _MOST_COURSES:
        raise GeometryError(
            f"{name}: course_height {_mm(p.course_height)} makes {count} courses, want at most {_MOST_COURSES}; "
            "make it larger"
        )
    every = rings(divide(p.springing, closing, step), shell, module)
    courses = every[: next((i for i, ring in enumerate(every) if not sound(ring, shell)), len(every))]
    if p.oculus > 0.0 and len(courses) < len(every):
        _refuse_narrow_oculus(every[len(courses)], shell, name)
    if len(courses) < 2:
        raise GeometryError(
            f"{name}: course_height {_mm(p.course_height)} leaves {len(courses) or 'no'} course"
            f"{'' if courses else 's'} of blocks between springing and crown, want at least 2; make it smaller"
        )
    return courses


def _refuse_bad_ends(p: BlockDomeParameters, shell: Shell, name: str) -> None:
    if p.springing > pi / 2.0 + 1e-9:
        raise GeometryError(
            f"{name}: springing {degrees(p.springing):.1f} deg from the crown lies below the equator, where "
            "blocks would lean outward; want at most 90 deg"
        )
    widest = shell.radius(p.springing)
    if p.oculus >= widest:
        raise GeometryError(
            f"{name}: oculus: a radius of {_mm(p.oculus)} is not less than that of the springing ({_mm(widest)}); "
            "nothing is left to build"
        )


def _refuse_narrow_oculus(ring: Course, shell: Shell, name: str) -> None:
    raise GeometryError(
        f"{name}: course {ring.number} at the oculus would be {ring.blocks} blocks of "
        f"{_mm(_edge(ring.lower, ring, shell))} below and {_mm(_edge(ring.upper, ring, shell))} above, joints "
        f"included; want at least {FEWEST_BLOCKS} and the upper edge at least half the lower; make the oculus wider, "
        "the blocks smaller, or leave oculus out and close the crown with a plug"
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
        faces=(
            *(Face(half.name, "panel", half) for half in block.sides),
            *_ends(block.thickness),
        ),
        formers=(),
        plugs=(),
        pour_points=((0.0, 0.0, block.thickness / 2.0),),
        turned_over=False,
        measures=_measures(block),
        notes=tuple(_block_notes(p, shell, group, courses)),
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


def _block_notes(
    p: BlockDomeParameters, shell: Shell, group: Group, courses: tuple[Course, ...]
) -> list[str]:
    notes = ["Cast with the inner face down; the outer face is struck off."]
    cast = wedge(group.cast, shell, p.joint)
    for ring in group.rings:
        notes.append(_ring_note(shell, ring))
        if ring.number > 1:
            notes.append(_bed_note(shell, courses[ring.number - 2], ring, p.joint))
        if ring != group.cast:
            least, most = openings(cast, wedge(ring, shell, p.joint))
            notes.append(
                f"Course {ring.number} is laid from the block of course {group.cast.number}: its side joints come out "
                f"{_both(p.joint + least)} to {_both(p.joint + most)} wide."
            )
    if any(ring.slope > _STEEP for ring in group.rings):
        notes.append(
            "Beds steeper than 30 deg: hold every block (prop, or weighted cord) until its ring is closed; common "
            "practice."
        )
    return notes


def _ring_note(shell: Shell, ring: Course) -> str:
    bed = (
        f"slopes {_deg(ring.slope)} down to the inside, as the trammel does there "
        f"({_deg(flat_slope(ring.lower, ring.half))} along the middle of a block)"
        if ring.slope > _LEVEL
        else "is level"
    )
    return (
        f"Course {ring.number}: {ring.blocks} blocks. The lower bed {bed}. Inner corners: "
        f"{_both(shell.radius(ring.lower))} from the axis, {_both(shell.level(ring.lower))} above the pivot; the "
        f"middle of the edge lies {_both(bow(shell, ring.lower, ring.half))} inside the arc."
    )


def _bed_note(shell: Shell, below: Course, ring: Course, joint: float) -> str:
    least, most = bed_joint(below, ring, shell, joint)
    if least < 0.0:
        return (
            f"Flat blocks of courses {below.number} and {ring.number} would touch: lay course {ring.number} on a bed "
            f"of at least {_both(joint - least)}, measured where corner meets corner, or make the blocks shorter."
        )
    return f"Bed joint under course {ring.number}: {_both(least)} to {_both(most)} wide outside, as the beds are flat."


def _dome_notes(
    p: BlockDomeParameters, shell: Shell, courses: tuple[Course, ...], molds: int
) -> tuple[str, ...]:
    """What holds for the dome as a whole."""
    count = sum(ring.blocks for ring in courses)
    height = wedge(courses[0], shell, p.joint).height(0.0)
    notes = [
        f"Whole dome: {len(courses)} courses, {count} blocks, {molds} kinds of block. Courses are evened out: blocks "
        f"of the first are {_both(height)} high.",
        _trammel(p, shell),
        "A ring stands once it is closed. A ring cut by a doorway is not a closed ring: it needs a frame or arch that "
        "takes its push, and stays propped until that is there.",
        "The base must take the thrust of the dome: foundation, ring beam or tie are a licensed designer's matter.",
    ]
    if molds < len(courses):
        notes.append(
            "Courses share a mold where no side joint closes, none opens by more than the joint tolerance, and no bed "
            "joint changes by more than that or half a joint."
        )
    if shell.beyond > 0.0:
        notes.append(
            "Whether own weight pulls on the low rings of a pointed dome is not computed; joints carry no pull: ring "
            "steel is a licensed designer's matter."
        )
    elif p.springing > _RINGS_PULL:
        notes.append(
            f"Further than {_deg(_RINGS_PULL)} from the crown own weight pulls on the rings (thin hemisphere, from "
            "memory); joints carry no pull: ring steel there is a licensed designer's matter."
        )
    if p.oculus > 0.0:
        notes.append(
            f"The last ring is the rim of the oculus: set all {courses[-1].blocks} blocks before props go."
        )
    elif p.plug == "in place":
        notes.append(_plug_in_place(shell, courses[-1], p.joint))
    return tuple(notes)


def _trammel(p: BlockDomeParameters, shell: Shell) -> str:
    below = shell.level(p.springing)
    height = f"{_both(below)} below the springing" if below > 1e-9 else "level with the springing"
    pivot = (
        f"travels on a circle of {_both(shell.beyond)} about the axis, {height}, always on the far side from the block"
        if shell.beyond > 0.0
        else f"at the centre of the sphere, {height}"
    )
    return (
        f"Trammel: pivot {pivot}; a straight arm marked at {_both(shell.inside)} (inner corners) and "
        f"{_both(shell.outside)} (outer corners). Its slope is that of the bed."
    )


def _plug_in_place(shell: Shell, last: Course, joint: float) -> str:
    volume = plug_volume(last, shell, -joint / 2.0)
    return (
        f"The crown is closed in place, with no mold here and no mix in the batches: {show.volume(volume, 'mm')} "
        f"({show.volume(volume, 'in')}) on a flat board propped under the {last.blocks} upper inner corners of course "
        f"{last.number}, struck off level with the outer corners; the blocks' own upper beds are the sides."
    )


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
        faces=(*(Face(side.name, "panel", side) for side in sides), *_ends(thick)),
        formers=(),
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


def _mm(value: float) -> str:
    return f"{value * 1000:.1f} mm"


def _deg(value: float) -> str:
    return f"{degrees(value):.1f} deg"


def _both(value: float) -> str:
    """A length in both systems: notes stand on drawings of either."""
    return f"{show.length(value, 'mm')} ({show.length(value, 'in')})"


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
