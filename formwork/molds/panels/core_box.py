"""A core as those who build it see it: its walls in order, the rules at their corners, its two ends, its room."""

from __future__ import annotations

from math import acos, atan2, hypot, tan

from formwork.geometry.cells import Cell, area
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, dot, unit
from formwork.molds.panels.corners import JointRule, Rule, ring_rules, suited
from formwork.molds.panels.lining import Frame
from formwork.record import record
from formwork.shapes.piece import Former

_ROOM_FOR_CLEATS = 0.16
_ROOM_FOR_BOX = 0.03
_LEAST_EDGE = 0.005
_ON = 1e-6


@record
class CoreBox:
    """A core to be built of boards.

    Attributes:
        former: what it forms.
        body: its space.
        walls: its faces in order round it.
        cap: its closed end.
        mouth: its open end.
        long_first: the first and third wall are together no smaller than the second and fourth.
        rules: at the left and right corner of each wall.
    """

    former: Former
    body: Cell
    walls: tuple[HalfSpace, ...]
    cap: HalfSpace
    mouth: HalfSpace
    long_first: bool
    rules: tuple[tuple[Rule, Rule], ...]

    @property
    def plated(self) -> bool:
        """Level plates hold the walls; four walls have sticks in their corners instead."""
        return len(self.walls) != 4


def core_box(frame: Frame, former: Former) -> CoreBox:
    """The walls, corner rules and ends of a core."""
    body = frame.formers[former.name]
    walls = sorted(
        (half for half in former.halves if abs(half.normal[2]) < 0.9),
        key=lambda half: atan2(half.normal[1], half.normal[0]),
    )
    top = next(half for half in former.halves if half.normal[2] > 0.9)
    bottom = next(half for half in former.halves if half.normal[2] < -0.9)
    cap, mouth = (bottom, top) if former.seat == "hung" else (top, bottom)
    areas = [area(body.facets[frame.planes.enter(wall)]) for wall in walls]
    long_first = sum(areas[::2]) + 1e-9 >= sum(areas[1::2])
    wanted: JointRule = "lapped" if len(walls) == 4 else "mitred"
    rules = ring_rules(len(walls), suited([wall.normal for wall in walls], wanted), long_first)
    return CoreBox(former, body, tuple(walls), cap, mouth, long_first, rules)


def through(frame: Frame, former: Former) -> bool:
    """The core reaches the fill plane: no mix lies on its cap, and no suction holds it."""
    return frame.formers[former.name].box()[1][2] >= frame.fill - _ON and former.seat == "base"


def stays_on_base(frame: Frame, former: Former) -> bool:
    """The pieces of a gang are lifted straight up off such a core, one by one, and it stays where it is."""
    return frame.piece.cavities > 1 and former.kind == "core" and through(frame, former)


def clear_width(frame: Frame, box: CoreBox) -> float:
    """Least clear width between opposite walls, m."""
    return min(_reach(box.body, wall.normal) for wall in box.walls) - 2.0 * frame.thickness


def hollow(frame: Frame, box: CoreBox) -> bool:
    """There is room to build the core of boards; else it is one solid body."""
    low, high = box.body.box()
    if clear_width(frame, box) < _ROOM_FOR_BOX or high[2] - low[2] < 2.5 * frame.thickness:
        return False
    return not box.plated or all(_inner_edge(frame, box, i) > _LEAST_EDGE for i in range(len(box.walls)))


def cleated(frame: Frame, box: CoreBox) -> bool:
    """Four walls with room between them for a stick in every corner."""
    return not box.plated and clear_width(frame, box) >= _ROOM_FOR_CLEATS


def _inner_edge(frame: Frame, box: CoreBox, index: int) -> float:
    """Length of a wall's inside at its narrower end, m."""
    wall = box.walls[index]
    polygon = box.body.facets[frame.planes.enter(wall)]
    level = [
        hypot(p[0] - q[0], p[1] - q[1])
        for p, q in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
        if abs(p[2] - q[2]) < 1e-9
    ]
    beside = (box.walls[index - 1], box.walls[(index + 1) % len(box.walls)])
    turns = [acos(max(-1.0, min(1.0, dot(wall.normal, other.normal)))) for other in beside]
    return min(level) - frame.thickness * sum(tan(turn / 2.0) for turn in turns)


def _reach(body: Cell, way: Vec) -> float:
    flat = level(way)
    along = [dot(flat, p) for p in body.points()]
    return max(along) - min(along)


def level(way: Vec) -> Vec:
    """The level part of a way, at length one."""
    return unit((way[0], way[1], 0.0))
