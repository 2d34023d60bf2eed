"""Cores: boxes of panels that keep a hollow free, with the sticks inside that hold them together and in place.

Panels of a core lie inside its faces, from the face in by the sheet's thickness. At its corners one pair of walls
runs to the neighbour's face and the other stops at the neighbour's back; the cap closes the end away from where the
core is fastened, over the ends of the walls, so that the mix presses it on.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import atan2, ceil, sqrt

from formwork.geometry.cells import Cell, area
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, cross, dot, scale, unit
from formwork.molds.lining import Frame, body_of, laminated, sheet_part, stick_part
from formwork.molds.load import Load, panel_span
from formwork.molds.mold import Part, PartRole
from formwork.shapes.piece import Former
from formwork.strength.sheets import section_for

AIR_HOLE = 0.010
"""Diameter of the plugged hole in a core's cap that breaks the suction, m (common practice, no source)."""
_ROOM_FOR_CLEATS = 0.16
_ROOM_FOR_BOX = 0.03


@dataclass(frozen=True, slots=True)
class _Box:
    """A core's walls in order round it, its closed and its open end."""

    former: Former
    walls: tuple[HalfSpace, ...]
    cap: HalfSpace
    mouth: HalfSpace
    long_first: bool


def cores(frame: Frame) -> tuple[Part, ...]:
    """Every core of the piece, as parts."""
    return tuple(
        part for former in frame.piece.formers if former.kind == "core" for part in _core(frame, former)
    )


def _core(frame: Frame, former: Former) -> tuple[Part, ...]:
    body = frame.formers[former.name]
    box = _box(frame, former, body)
    clear = _clear(body, box, frame.thickness)
    if clear < _ROOM_FOR_BOX:
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
    """Ribs of sheet inside each core, square to its longer walls, as many as these need to carry the mix outside."""
    made = []
    for former in frame.piece.formers:
        if former.kind == "core":
            body = frame.formers[former.name]
            box = _box(frame, former, body)
            if _clear(body, box, frame.thickness) >= _ROOM_FOR_BOX:
                made.extend(_ribs(frame, box, body, load))
    return tuple(made)


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
        box.walls[(first + 2) % 4].moved(-frame.thickness),
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
    return _Box(former, tuple(walls), cap, mouth, long_first)


def _clear(body: Cell, box: _Box, thickness: float) -> float:
    """Least clear width between opposite walls, m."""
    widths = [_reach(body, wall.normal) - 2.0 * thickness for wall in box.walls]
    return min(widths)


def _reach(body: Cell, way: Vec) -> float:
    flat = _level(way)
    along = [dot(flat, p) for p in body.points()]
    return max(along) - min(along)


def _wall(frame: Frame, box: _Box, index: int) -> Part:
    """One wall of a core."""
    face = box.walls[index]
    past = (index % 2 == 0) == box.long_first
    neighbours = (box.walls[index - 1], box.walls[(index + 1) % len(box.walls)])
    ends = neighbours if past else tuple(other.moved(-frame.thickness) for other in neighbours)
    halves = (
        face,
        face.moved(-frame.thickness, "inside of core").flipped(),
        *ends,
        box.cap.moved(-frame.thickness),
        box.mouth,
    )
    name = f"{box.former.name} wall {index + 1}"
    body = body_of(frame, halves, name)
    return sheet_part(frame, name, "core wall", box.former.name, body, frame.planes.enter(face))


def _inside(frame: Frame, box: _Box, clear: float) -> tuple[Part, ...]:
    """Cleats in the corners and rails at the open end, where there is room for them; else one plate in it."""
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
        wall, before, after = box.walls[index], box.walls[index - 1], box.walls[(index + 1) % 4]
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
