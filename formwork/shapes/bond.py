"""Running bond: every course of a wall laid out block by block, so that no corner and no opening is counted twice.

Walls go round their corners counter-clockwise seen from above; along each wall x runs from its left end, seen from
outside. In the first, third, fifth course the walls with odd numbers run past the corners and the others stop at them;
in the courses between it is the other way round, so that the corners interlock. All lengths in m.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil
from typing import Literal

from formwork.record import record

_HAIR = 0.0005
Kind = Literal["whole", "half", "cut from whole", "cut from half"]


@record
class Unit:
    """The block and its joint.

    Attributes:
        length: of a whole block.
        height: of a block.
        thickness: of the wall.
        joint: between two blocks and between two courses.
    """

    length: float
    height: float
    thickness: float
    joint: float

    @property
    def module(self) -> float:
        """From one block's end to the next one's, along a course."""
        return self.length + self.joint

    @property
    def course(self) -> float:
        """From one bed to the next."""
        return self.height + self.joint

    @property
    def half(self) -> float:
        """Length of a half block: two of them and a joint are a whole one."""
        return (self.length - self.joint) / 2.0

    @property
    def slack(self) -> float:
        """What the joints take up: a wall may be given with or without its last joint."""
        return self.joint + _HAIR


@record
class Wall:
    """One straight wall.

    Attributes:
        number: odd ones run past the corners in the first course.
        length: outside, corners included.
        corner_left: another wall joins it at its left end.
        corner_right: another wall joins it at its right end.
    """

    number: int
    length: float
    corner_left: bool = False
    corner_right: bool = False


@record
class Hole:
    """An opening: the wall it is in, its left edge, its sill above the first bed, its width and height."""

    wall: int
    x: float
    sill: float
    width: float
    height: float


@record
class Laid:
    """One block in its place: kind, left end, length, and whether it stands at a corner."""

    kind: Kind
    x: float
    length: float
    at_corner: bool


@record
class Count:
    """How many blocks a wall takes.

    Attributes:
        whole: laid as cast.
        half: laid as cast.
        cut_from_whole: cut, longer than a half block, or notched.
        cut_from_half: cut, no longer than a half block.
        corner: of all of these, those that stand at a corner.
        courses: how many courses.
    """

    whole: int
    half: int
    cut_from_whole: int
    cut_from_half: int
    corner: int
    courses: int

    @property
    def whole_cast(self) -> int:
        """Whole blocks to cast, those to be cut included."""
        return self.whole + self.cut_from_whole

    @property
    def half_cast(self) -> int:
        """Half blocks to cast, those to be cut included."""
        return self.half + self.cut_from_half


def courses(height: float, unit: Unit) -> int:
    """Courses that reach a height; the last one is cut lower where it would stand higher."""
    return max(1, ceil((height - unit.slack) / unit.course))


def take_off(walls: Sequence[Wall], holes: Sequence[Hole], height: float, unit: Unit) -> Count:
    """Every block of every course of every wall."""
    rows = courses(height, unit)
    laid = [
        block
        for wall in walls
        for row in range(rows)
        for block in course(wall, row, [hole for hole in holes if hole.wall == wall.number], unit)
    ]
    kinds = [block.kind for block in laid]
    return Count(
        kinds.count("whole"),
        kinds.count("half"),
        kinds.count("cut from whole"),
        kinds.count("cut from half"),
        sum(block.at_corner for block in laid),
        rows,
    )


def course(wall: Wall, row: int, holes: Iterable[Hole], unit: Unit) -> list[Laid]:
    """The blocks of one course of one wall, row 0 lowest, openings left out."""
    start, end = _reach(wall, row, unit)
    spans = _row(start, end, _half_first(wall, row, unit), unit)
    beside, through = [], []
    for hole in holes:
        overlap = _overlap(hole, row, unit)
        if overlap >= unit.height - unit.slack:
            through.append(hole)
        elif overlap > unit.slack:
            beside.append(hole)
    for hole in through:
        spans = [part for span in spans for part in _beside(span, hole)]
    past = _runs_past(wall, row)
    return [
        Laid(
            _kind(b - a, any(_meets((a, b), hole, unit) for hole in beside), unit),
            a,
            b - a,
            past and ((wall.corner_left and a == start) or (wall.corner_right and b >= end - unit.slack)),
        )
        for a, b in spans
        if b - a > unit.slack
    ]


def _runs_past(wall: Wall, row: int) -> bool:
    return (wall.number + row) % 2 == 1


def _reach(wall: Wall, row: int, unit: Unit) -> tuple[float, float]:
    """From where to where a course runs: the whole length, or up to the joint at the other wall."""
    if _runs_past(wall, row):
        return 0.0, wall.length
    back = unit.thickness + unit.joint
    return back if wall.corner_left else 0.0, wall.length - (back if wall.corner_right else 0.0)


def _half_first(wall: Wall, row: int, unit: Unit) -> bool:
    """A course begins with a half block where its joints would stand within a quarter block of those below."""
    if row % 2 == 0:
        return False
    shift = (_reach(wall, row, unit)[0] - _reach(wall, row - 1, unit)[0]) % unit.module
    return min(shift, unit.module - shift) < unit.module / 4.0 - unit.slack


def _row(start: float, end: float, half_first: bool, unit: Unit) -> list[tuple[float, float]]:
    """Left and right end of each block of a course without openings; the last one ends with the course."""
    found = []
    at = start
    if half_first:
        found.append((start, min(start + unit.half, end)))
        at = start + unit.module / 2.0
    index = 0
    while (left := at + index * unit.module) < end - unit.slack:
        found.append((left, min(left + unit.length, end)))
        index += 1
    return found


def _overlap(hole: Hole, row: int, unit: Unit) -> float:
    """How much of a course's height an opening takes."""
    bed = row * unit.course
    return min(hole.sill + hole.height, bed + unit.height) - max(hole.sill, bed)


def _beside(span: tuple[float, float], hole: Hole) -> list[tuple[float, float]]:
    """What of a block is left beside an opening."""
    a, b = span
    if b <= hole.x or a >= hole.x + hole.width:
        return [span]
    return [(a, hole.x), (hole.x + hole.width, b)]


def _meets(span: tuple[float, float], hole: Hole, unit: Unit) -> bool:
    return min(span[1], hole.x + hole.width) - max(span[0], hole.x) > unit.slack


def _kind(length: float, notched: bool, unit: Unit) -> Kind:
    """What a block of this length is made of; one that an opening cuts into from above or below is cut too."""
    if length >= unit.length - unit.slack:
        return "cut from whole" if notched else "whole"
    if abs(length - unit.half) <= unit.slack:
        return "cut from half" if notched else "half"
    return "cut from half" if length < unit.half else "cut from whole"
