"""What whoever lays a dome of blocks is told: bed slopes, trammel, joints that come out of true, what holds it up.

Lengths are given in both systems, since the notes stand on drawings of either.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, degrees, radians, sqrt
from typing import Literal

from formwork.shapes.courses import (
    FEWEST_BLOCKS,
    Course,
    Group,
    Shell,
    bed_joint,
    bow,
    flat_slope,
    openings,
    plug_volume,
    wedge,
)
from formwork.units import show

_LEVEL = 5e-4
"""A slope below this (rad) prints as 0.0 degrees."""
_STEEP = radians(30.0) + 1e-6
"""Beds steeper than this do not hold a block while its ring is open: common practice, no source."""
_RINGS_PULL = acos((sqrt(5.0) - 1.0) / 2.0)
"""Polar angle below which own weight pulls on the rings of a thin hemisphere, 51.8 degrees (membrane theory, from
memory: hoop force changes sign at cos phi = (sqrt 5 - 1) / 2)."""


def block_notes(shell: Shell, group: Group, courses: Sequence[Course], joint: float) -> tuple[str, ...]:
    """What must be known to lay the blocks of one mold.

    Args:
        shell: the surfaces of the dome.
        group: the rings the mold serves.
        courses: all rings, the lowest first.
        joint: thickness of the joints, m.
    """
    notes = ["Cast with the inner face down; the outer face is struck off."]
    cast = wedge(group.cast, shell, joint)
    for ring in group.rings:
        alone = len(group.rings) == 1
        notes.append(("" if alone else f"Course {ring.number}: ") + _ring_note(shell, ring))
        if ring.number > 1:
            notes.append(_bed_note(shell, courses[ring.number - 2], ring, joint))
        if ring != group.cast:
            least, most = openings(cast, wedge(ring, shell, joint))
            notes.append(
                f"Course {ring.number} is laid from the block of course {group.cast.number}: its side joints come out "
                f"{show.both(joint + least)} to {show.both(joint + most)} wide."
            )
    if any(ring.slope > _STEEP for ring in group.rings):
        notes.append(
            "Beds steeper than 30 deg: hold every block (prop, or weighted cord) until its ring is closed; common "
            "practice."
        )
    return tuple(notes)


def _ring_note(shell: Shell, ring: Course) -> str:
    bed = (
        f"slopes {_deg(ring.slope)} down to the inside, as the trammel does there "
        f"({_deg(flat_slope(ring.lower, ring.half))} along the middle of a block)"
        if ring.slope > _LEVEL
        else "is level"
    )
    return (
        f"{ring.blocks} blocks go round. The lower bed {bed}. Inner corners: "
        f"{show.both(shell.radius(ring.lower))} from the axis, {show.both(shell.level(ring.lower))} above "
        f"the pivot; the middle of the edge lies {show.both(bow(shell, ring.lower, ring.half))} inside the arc."
    )


def _bed_note(shell: Shell, below: Course, ring: Course, joint: float) -> str:
    least, most = bed_joint(below, ring, shell, joint)
    if least < 0.0:
        return (
            f"Flat blocks of courses {below.number} and {ring.number} would touch: lay course {ring.number} on a bed "
            f"of at least {show.both(joint - least)}, measured where corner meets corner, or make the blocks shorter."
        )
    return (
        f"Bed joint under course {ring.number}: {show.both(least)} to {show.both(most)} wide outside, as the "
        "beds are flat."
    )


def dome_notes(
    shell: Shell,
    courses: Sequence[Course],
    joint: float,
    kinds: int,
    crown: Literal["oculus", "in place", "block"],
) -> tuple[str, ...]:
    """What holds for the dome as a whole.

    Args:
        shell: the surfaces of the dome.
        courses: all rings, the lowest first.
        joint: thickness of the joints, m.
        kinds: how many different blocks, the plug not counted.
        crown: left open, closed in place, or closed by a block.
    """
    count = sum(ring.blocks for ring in courses)
    height = wedge(courses[0], shell, joint).height(0.0)
    notes = [
        f"Whole dome: {len(courses)} courses, {count} blocks, {kinds} kinds of block. Courses are evened out: blocks "
        f"of the first are {show.both(height)} high.",
        _trammel(shell, courses[0].lower),
        "A ring stands once it is closed. A ring cut by a doorway is not a closed ring: it needs a frame or arch that "
        "takes its push, and stays propped until that is there.",
        "The base must take the thrust of the dome: foundation, ring beam or tie are a licensed designer's matter.",
    ]
    if kinds < len(courses):
        notes.append(
            "Courses share a mold where no side joint closes, none opens by more than the joint tolerance, and no bed "
            "joint changes by more than that or half a joint."
        )
    if shell.beyond > 0.0:
        notes.append(
            "Whether own weight pulls on the low rings of a pointed dome is not computed; joints carry no pull: ring "
            "steel is a licensed designer's matter."
        )
    elif courses[0].lower > _RINGS_PULL:
        notes.append(
            f"Further than {_deg(_RINGS_PULL)} from the crown own weight pulls on the rings (thin hemisphere, from "
            "memory); joints carry no pull: ring steel there is a licensed designer's matter."
        )
    if crown == "oculus":
        notes.append(
            f"The last ring is the rim of the oculus: set all {courses[-1].blocks} blocks before props go."
        )
    else:
        across = 2.0 * shell.radius(courses[-1].upper)
        notes.append(
            f"Courses stop at {show.both(across)} across: the next ring would have fewer than {FEWEST_BLOCKS} blocks, "
            "blocks less than half as long above as below, or lower beds that lean in. A plug closes the rest."
        )
    if crown == "in place":
        notes.append(_plug_in_place(shell, courses[-1], joint))
    return tuple(notes)


def _trammel(shell: Shell, springing: float) -> str:
    below = shell.level(springing)
    height = f"{show.both(below)} below the springing" if below > 1e-9 else "level with the springing"
    pivot = (
        f"travels on a circle of {show.both(shell.beyond)} about the axis, {height}, always on the far side "
        "from the block"
        if shell.beyond > 0.0
        else f"at the centre of the sphere, {height}"
    )
    return (
        f"Trammel: pivot {pivot}; a straight arm marked at {show.both(shell.inside)} (inner corners) and "
        f"{show.both(shell.outside)} (outer corners). Its slope is that of the bed."
    )


def _plug_in_place(shell: Shell, last: Course, joint: float) -> str:
    volume = plug_volume(last, shell, -joint / 2.0)
    return (
        f"The crown is closed in place, with no mold here and no mix in the batches: {show.volume(volume, 'mm')} "
        f"({show.volume(volume, 'in')}) on a flat board propped under the {last.blocks} upper inner corners of course "
        f"{last.number}, struck off level with the outer corners; the blocks' own upper beds are the sides."
    )


def _deg(value: float) -> str:
    return f"{degrees(value):.1f} deg"
