"""Cores: boxes of panels that keep a hollow free, with what stands inside to hold them together and in place.

Panels of a core lie inside its faces, from the face in by the sheet's thickness. Where two walls meet, one runs to the
neighbour's face and the other stops at the neighbour's back, or both are mitred, as suits the corners; the cap closes
the end away from where the core is fastened, over the ends of the walls, so that the mix presses it on.

Four walls are held by sticks in their square corners; any other number by level plates, whose edges the walls are
screwed to.
"""

from __future__ import annotations

from math import sqrt

from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, cross, dot, unit
from formwork.molds.mold import Part, PartRole
from formwork.molds.panels.core_box import CoreBox, cleated, core_box, hollow
from formwork.molds.panels.corners import Rule, mitre
from formwork.molds.panels.lining import Frame, body_of, laminated, sheet_part, stick_part
from formwork.shapes.piece import Former


def cores(frame: Frame) -> tuple[Part, ...]:
    """Every core of the piece, as parts."""
    return tuple(
        part for former in frame.form.formers if former.kind == "core" for part in _core(frame, former)
    )


def _core(frame: Frame, former: Former) -> tuple[Part, ...]:
    box = core_box(frame, former)
    if not hollow(frame, box):
        return (laminated(frame, former, box.body, "core wall", former.name),)
    walls = tuple(_wall(frame, box, i) for i in range(len(box.walls)))
    cap_body = body_of(
        frame, (*box.walls, box.cap, box.cap.moved(-frame.thickness).flipped()), f"{former.name} cap"
    )
    cap = sheet_part(
        frame, f"{former.name} cap", "core cap", former.name, cap_body, frame.planes.enter(box.cap)
    )
    return (*walls, cap, *_inside(frame, box))


def _wall(frame: Frame, box: CoreBox, index: int) -> Part:
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


def _inside(frame: Frame, box: CoreBox) -> tuple[Part, ...]:
    """Cleats in the corners and rails at the open end, where there is room for them; else one plate in it.

    A core of other than four walls has its plates from ``core_ribs``.
    """
    if box.plated:
        return ()
    if cleated(frame, box):
        return (*_cleats(frame, box), *_end_rails(frame, box))
    return (_end_plate(frame, box),)


def _cleats(frame: Frame, box: CoreBox) -> tuple[Part, ...]:
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


def _end_rails(frame: Frame, box: CoreBox) -> tuple[Part, ...]:
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


def _end_plate(frame: Frame, box: CoreBox) -> Part:
    """A plate of sheet inside the open end of a small core, for the screws that hold it down."""
    insides = tuple(wall.moved(-frame.thickness) for wall in box.walls)
    name = f"{box.former.name} end plate"
    body = body_of(frame, (*insides, box.mouth, box.mouth.moved(-frame.thickness).flipped()), name)
    return sheet_part(frame, name, "core cap", box.former.name, body, frame.planes.enter(box.mouth))


def _stick(
    frame: Frame,
    box: CoreBox,
    name: str,
    role: PartRole,
    halves: tuple[HalfSpace, ...],
    along: Vec,
    flat: HalfSpace,
) -> Part:
    """A stick inside the core that lies against ``flat``."""
    body = body_of(frame, halves, name)
    return stick_part(frame, frame.stocks.inner, name, role, box.former.name, body, unit(along), flat)
