"""Taking the mold off: which parts leave together, in which order, by which way, and what would free what is locked."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.geometry.cells import Cell
from formwork.geometry.remedies import remedy
from formwork.geometry.stripping import Group, Locked, order
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Part, Strip
from formwork.molds.panels.core_box import stays_on_base
from formwork.molds.panels.lining import Frame

_DOWN = 0.98
_FIRST, _SIDES, _BETWEEN, _UNDER, _LAST = range(5)


def groups(frame: Frame, parts: Sequence[Part]) -> tuple[Group, ...]:
    """The parts that leave as one, with the turn that suits a person: a hung core, sides, dividers, base, cores."""
    names = list(dict.fromkeys(part.group for part in parts))
    turn = {former.name: _turn(former.kind, former.seat) for former in frame.form.formers}
    made = []
    for name in names:
        own = [part for part in parts if part.group == name]
        priority = _UNDER if name == "base" else turn.get(name, _SIDES)
        cells = tuple(cell for part in own for cell in part.cells)
        rounds = tuple(body for part in own for body in part.rounds)
        made.append(Group(name, cells, rounds, (), priority))
    return tuple(made)


def _turn(kind: str, seat: str) -> int:
    if kind == "core":
        return _FIRST if seat == "hung" else _LAST
    return _BETWEEN if kind == "divider" else _SIDES


def stripping(
    frame: Frame, parts: Sequence[Part], concrete: Sequence[Cell]
) -> tuple[tuple[Strip, ...], tuple[tuple[str, str], ...]]:
    """The stripping order, and every group that cannot leave: what is in its way, and what would free it."""
    moving = groups(frame, parts)
    found = order(frame.planes, concrete, moving)
    steps = tuple(
        Strip(step.group, step.way, step.draft, _loose(frame, step.group, step.way) or way_in_words(step.way))
        for step in found.steps
    )
    locked = tuple((one.group, _why(frame, parts, concrete, moving, one)) for one in found.locked)
    return steps, locked


def _loose(frame: Frame, group: str, way: Vec) -> str:
    """How the pieces of a gang leave what they stand on, each by itself; empty where one piece fills the mold."""
    if frame.piece.cavities == 1 or way[2] > -_DOWN:
        return ""
    cores = [former for former in frame.form.formers if former.kind == "core" and former.seat == "base"]
    if group == "base":
        freed = "" if all(stays_on_base(frame, core) for core in cores) else "undo the cores, then "
        return f"{freed}lift the pieces straight up off it, one by one"
    if any(stays_on_base(frame, core) for core in cores if core.name == group):
        return "left on the base, the piece lifted off it"
    return "lifted off with the piece; turn that over and draw the core"


def _why(
    frame: Frame, parts: Sequence[Part], concrete: Sequence[Cell], moving: Sequence[Group], locked: Locked
) -> str:
    """What holds a group, and the first remedy that works: it made of its single parts is one that is tried."""
    pieces = {
        name: [Group(part.name, part.cells, part.rounds) for part in parts if part.group == name]
        for name in {part.group for part in parts}
    }
    splits = {name: some for name, some in pieces.items() if len(some) > 1}
    found = remedy(frame.planes, concrete, moving, locked, splits=splits)
    return f"{locked}; {found.what if found else 'no change of ways or parts frees it: give it draft'}"


def leaving_downward(parts: Sequence[Part], steps: Sequence[Strip]) -> list[Part]:
    """The parts that the piece stands on when the rest is off: it is turned over with them, or lifted off them."""
    down = {step.group for step in steps if step.way[2] < -_DOWN}
    return [part for part in parts if part.group in down]


def way_in_words(way: Vec) -> str:
    """A direction as a person says it.

    >>> way_in_words((0.0, -1.0, 0.0)), way_in_words((0.0, 0.0, 1.0))
    ('pull straight out', 'lift straight up')
    """
    z = way[2]
    if z > _DOWN:
        return "lift straight up"
    if z < -_DOWN:
        return "lower it, or turn all over and lift it off"
    if abs(z) < 0.02:
        return "pull straight out"
    return "pull out and up" if z > 0.0 else "pull out and down"
