"""Cores: boxes of panels that keep a hollow free, with what stands inside to hold them together and in place.

Panels of a core lie inside its faces, from the face in by the sheet's thickness. Where two walls meet, one runs to the
neighbour's face and the other stops at the neighbour's back, or both are mitred, as suits the corners; the cap closes
the end away from where the core is fastened, over the ends of the walls, so that the mix presses it on.

Four walls are held by sticks in their square corners; any other number by level plates, whose edges the walls are
screwed to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import acos, atan2, ceil, hypot, sqrt, tan
from typing import Literal

from formwork.geometry.cells import Cell, area
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, cross, dot, scale, unit
from formwork.molds.corners import JointRule, Rule, mitre, ring_rules, suited
from formwork.molds.lining import Frame, body_of, laminated, sheet_part, stick_part
from formwork.molds.load import Load, panel_span
from formwork.molds.mold import Part, PartRole
from formwork.record import record
from formwork.shapes.body import level_width
from formwork.shapes.piece import Former
from formwork.strength.sheets import section_for

AIR_HOLE = 0.010
"""Diameter of the plugged hole in a core's cap that breaks the suction, m (common practice, no source)."""
_ROOM_FOR_CLEATS = 0.16
_ROOM_FOR_BOX = 0.03
_LEAST_EDGE = 0.005
_HAND_HOLE = 0.1
"""Diameter of the hole in a plate through which a hand reaches the cap's plug, m (common practice, no source)."""


@record
class _Box:
    """A core's walls in order round it and the rule at both corners of each, its closed and its open end."""

    former: Former
    walls: tuple[HalfSpace, ...]
    cap: HalfSpace
    mouth: HalfSpace
    long_first: bool
    rules: tuple[tuple[Rule, Rule], ...]

    @property
    def plated(self) -> bool:
        """Level plates hold the walls; four walls have sticks in their corners instead."""
        return len(self.walls) != 4


def cores(frame: Frame) -> tuple[Part, ...]:
    """Every core of the piece, as parts."""
    return tuple(
        part for former in frame.piece.formers if former.kind == "core" for part in _core(frame, former)
    )


def _core(frame: Frame, former: Former) -> tuple[Part, ...]:
    body = frame.formers[former.name]
    box = _box(frame, former, body)
    clear = _clear(body, box, frame.thickness)
    if not _hollow(frame, body, box):
        return (laminated(frame, former, body, "core wall", former.name),)
    walls = tuple(_wall(frame, box, i) for i in range(len(box.walls)))
    cap_body = body_of(
        frame, (*box.walls, box.cap, box.cap.moved(-frame.thickness).flipped()), f"{former.name} cap"
    )
    cap = sheet_part(
        frame, f"{former.name} cap", "core cap", former.name, cap_body, frame.planes.enter(box.cap)
    )
    return (*walls, _with_air_hole(cap), *_inside(frame, box, clear))


def _with_air_hole(cap: Part) -> Part:
    """The cap with the hole, plugged while the mix is wet, that lets air in when the core is drawn.

    It stands off the middle line, where drain plugs stand.
    """
    hole = (cap.blank.length / 4.0, cap.blank.width / 4.0, AIR_HOLE)
    return replace(cap, blank=replace(cap.blank, holes=(*cap.blank.holes, hole)))


def core_ribs(frame: Frame, load: Load) -> tuple[Part, ...]:
    """What stiffens the walls of each core, as many as these need to carry the mix outside.

    That is upright ribs of sheet between the longer two of four walls; level plates inside any other number.
    """
    made = []
    for former in frame.piece.formers:
        if former.kind == "core":
            body = frame.formers[former.name]
            box = _box(frame, former, body)
            if _hollow(frame, body, box):
                ribs = _plates if box.plated else _ribs
                made.extend(ribs(frame, box, body, load))
    return tuple(made)


def level_plates(parts: Sequence[Part]) -> list[Part]:
    """The level plates among a core's parts."""
    return [part for part in parts if part.role == "core rib" and abs(part.placement.into[2]) > 0.9]


def _plates(frame: Frame, box: _Box, body: Cell, load: Load) -> list[Part]:
    """A plate of two layers at the open end, to be screwed down by, and others where the walls need them.

    A wall that carries the mix from corner to corner needs none; another one is held from plate to plate.
    """
    low, high = body.box()
    height = high[2] - low[2] - 2.0 * frame.thickness
    widest = max(level_width(body, frame.planes.enter(wall), wall.normal) for wall in box.walls)
    level_grain = widest >= high[2] - low[2]

    def span(level: bool) -> float:
        grain: Literal["across", "along"] = "across" if level == level_grain else "along"
        section = section_for(frame.stocks.sheet.material, frame.thickness, grain)
        found = panel_span(section, load.pressure(low[2]), frame.thickness)
        return widest if found is None else found

    bays = 1 if widest <= span(level=True) else max(1, ceil(height / span(level=False) - 1e-9))
    middle = (low[2] + high[2]) / 2.0
    cuts = [
        (_below(middle + at + frame.thickness / 2.0), _below(middle + at - frame.thickness / 2.0))
        for at in _between(bays, height)
    ]
    layers = 2 if high[2] - low[2] > 3.5 * frame.thickness else 1
    mouth = _plate(frame, box, box.mouth, box.mouth.moved(-layers * frame.thickness), 1, layers)
    return [mouth, *(_plate(frame, box, *faces, number) for number, faces in enumerate(cuts, start=2))]


def _below(height: float) -> HalfSpace:
    """All that lies below a height, m."""
    return HalfSpace((0.0, 0.0, 1.0), height, "face of plate")


def _plate(frame: Frame, box: _Box, face: HalfSpace, back: HalfSpace, number: int, layers: int = 1) -> Part:
    """One level plate between two planes, with a hole to reach through."""
    insides = tuple(wall.moved(-frame.thickness) for wall in box.walls)
    name = f"{box.former.name} plate {number}"
    body = body_of(frame, (*insides, face, back.flipped()), name)
    made = sheet_part(frame, name, "core rib", box.former.name, body, frame.planes.enter(face), layers)
    narrow = min(made.blank.length, made.blank.width)
    hole = (made.blank.length / 2.0, made.blank.width / 2.0, min(_HAND_HOLE, narrow / 3.0))
    return replace(made, blank=replace(made.blank, holes=(hole,)))


def _ribs(frame: Frame, box: _Box, body: Cell, load: Load) -> list[Part]:
    long = _level(box.walls[0 if box.long_first else 1].normal)
    along: Vec = (-long[1], long[0], 0.0)
    reach = sorted(dot(along, point) for point in body.points())
    length = reach[-1] - reach[0] - frame.thickness
    foot = min(point[2] for point in body.points())
    section = section_for(frame.stocks.sheet.material, frame.thickness, "across")
    span = panel_span(section, load.pressure(foot), frame.thickness)
    bays = 1 if span is None else max(1, ceil(length / span - 1e-9))
    middle = (reach[0] + reach[-1]) / 2.0
    return [
        _rib(frame, box, along, middle + at, number)
        for number, at in enumerate(_between(bays, length), start=1)
    ]


def _between(bays: int, length: float) -> list[float]:
    """Places between equal bays of a length, from its middle, m."""
    return [length * i / bays - length / 2.0 for i in range(1, bays)]


def _rib(frame: Frame, box: _Box, along: Vec, at: float, number: int) -> Part:
    """One rib, between the longer walls, from the cap to the open end."""
    first = 0 if box.long_first else 1
    half = frame.thickness / 2.0
    face = HalfSpace(along, at + half, "face of rib")
    halves = (
        face,
        HalfSpace(scale(along, -1.0), half - at, "face of rib"),
        box.walls[first].moved(-frame.thickness),
        box.walls[first + 2].moved(-frame.thickness),
        box.cap.moved(-frame.thickness),
        box.mouth,
    )
    name = f"{box.former.name} rib {number}"
    body = body_of(frame, halves, name)
    return sheet_part(frame, name, "core rib", box.former.name, body, frame.planes.enter(face))


def _level(way: Vec) -> Vec:
    return unit((way[0], way[1], 0.0))


def _box(frame: Frame, former: Former, body: Cell) -> _Box:
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
    return _Box(former, tuple(walls), cap, mouth, long_first, rules)


def _clear(body: Cell, box: _Box, thickness: float) -> float:
    """Least clear width between opposite walls, m."""
    widths = [_reach(body, wall.normal) - 2.0 * thickness for wall in box.walls]
    return min(widths)


def _hollow(frame: Frame, body: Cell, box: _Box) -> bool:
    """There is room to build the core of boards; else it is one solid body."""
    low, high = body.box()
    if _clear(body, box, frame.thickness) < _ROOM_FOR_BOX or high[2] - low[2] < 2.5 * frame.thickness:
        return False
    return not box.plated or all(
        _inner_edge(frame, body, box, i) > _LEAST_EDGE for i in range(len(box.walls))
    )


def _inner_edge(frame: Frame, body: Cell, box: _Box, index: int) -> float:
    """Length of a wall's inside at its narrower end, m."""
    wall = box.walls[index]
    polygon = body.facets[frame.planes.enter(wall)]
    level = [
        hypot(p[0] - q[0], p[1] - q[1])
        for p, q in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
        if abs(p[2] - q[2]) < 1e-9
    ]
    beside = (box.walls[index - 1], box.walls[(index + 1) % len(box.walls)])
    turns = [acos(max(-1.0, min(1.0, dot(wall.normal, other.normal)))) for other in beside]
    return min(level) - frame.thickness * sum(tan(turn / 2.0) for turn in turns)


def _reach(body: Cell, way: Vec) -> float:
    flat = _level(way)
    along = [dot(flat, p) for p in body.points()]
    return max(along) - min(along)


def _wall(frame: Frame, box: _Box, index: int) -> Part:
    """One wall of a core."""
    face = box.walls[index]
    neighbours = (box.walls[index - 1], box.walls[(index + 1) % len(box.walls)])
    halves = (
        face,
        face.moved(-frame.thickness, "inside of core").flipped(),
        *(_wall_end(frame, face, *pair) for pair in zip(neighbours, box.rules[index], strict=True)),
        box.cap.moved(-frame.thickness),
        box.mouth,
    )
    name = f"{box.former.name} wall {index + 1}"
    body = body_of(frame, halves, name)
    return sheet_part(frame, name, "core wall", box.former.name, body, frame.planes.enter(face))


def _wall_end(frame: Frame, face: HalfSpace, other: HalfSpace, rule: Rule) -> HalfSpace:
    """What ends a wall of a core at a corner."""
    match rule:
        case "runs past":
            return other
        case "stops at":
            return other.moved(-frame.thickness)
        case "mitred":
            return mitre(face, other)


def _inside(frame: Frame, box: _Box, clear: float) -> tuple[Part, ...]:
    """Cleats in the corners and rails at the open end, where there is room for them; else one plate in it.

    A core of other than four walls has its plates from ``core_ribs``.
    """
    if box.plated:
        return ()
    if clear < _ROOM_FOR_CLEATS:
        return (_end_plate(frame, box),)
    return (*_cleats(frame, box), *_end_rails(frame, box))


def _cleats(frame: Frame, box: _Box) -> tuple[Part, ...]:
    """A stick in each corner of the core, from the cap to the open end."""
    stick = frame.stocks.inner
    made = []
    for i, wall in enumerate(box.walls):
        other = box.walls[(i + 1) % len(box.walls)]
        back, side = wall.moved(-frame.thickness), other.moved(-frame.thickness)
        reach = _within(stick.thickness, stick.width, back, side)
        halves = (
            back,
            side,
            back.moved(-stick.width).flipped(),
            side.moved(-reach).flipped(),
            box.cap.moved(-frame.thickness),
            box.mouth,
        )
        made.append(
            _stick(
                frame,
                box,
                f"{box.former.name} cleat {i + 1}",
                "cleat",
                halves,
                cross(back.normal, side.normal),
                back,
            )
        )
    return tuple(made)


def _within(width: float, depth: float, flat: HalfSpace, edge: HalfSpace) -> float:
    """How far from ``edge`` a stick reaches that lies ``depth`` deep on ``flat`` and is no wider than ``width``, m.

    Where the two planes are square to each other that is its width; where they lean, ripping takes some of it.
    """
    lean = dot(flat.normal, edge.normal)
    return width * sqrt(1.0 - lean * lean) - depth * abs(lean)


def _end_rails(frame: Frame, box: _Box) -> tuple[Part, ...]:
    """A stick along two opposite walls at the open end, for the screws that hold the core down."""
    stick = frame.stocks.inner
    beside = frame.thickness + max(stick.width, stick.thickness)
    made = []
    for number, index in enumerate((1, 3) if box.long_first else (0, 2), start=1):
        wall, before, after = box.walls[index], box.walls[index - 1], box.walls[index - 3]
        back = wall.moved(-frame.thickness)
        halves = (
            back,
            back.moved(-stick.thickness).flipped(),
            before.moved(-beside),
            after.moved(-beside),
            box.mouth,
            box.mouth.moved(-_within(stick.width, stick.thickness, back, box.mouth)).flipped(),
        )
        name = f"{box.former.name} end rail {number}"
        made.append(_stick(frame, box, name, "rail", halves, cross(back.normal, box.mouth.normal), back))
    return tuple(made)


def _end_plate(frame: Frame, box: _Box) -> Part:
    """A plate of sheet inside the open end of a small core, for the screws that hold it down."""
    insides = tuple(wall.moved(-frame.thickness) for wall in box.walls)
    name = f"{box.former.name} end plate"
    body = body_of(frame, (*insides, box.mouth, box.mouth.moved(-frame.thickness).flipped()), name)
    return sheet_part(frame, name, "core cap", box.former.name, body, frame.planes.enter(box.mouth))


def _stick(
    frame: Frame,
    box: _Box,
    name: str,
    role: PartRole,
    halves: tuple[HalfSpace, ...],
    along: Vec,
    flat: HalfSpace,
) -> Part:
    """A stick inside the core that lies against ``flat``."""
    body = body_of(frame, halves, name)
    return stick_part(frame, frame.stocks.inner, name, role, box.former.name, body, unit(along), flat)
