"""The plugged hole in a core's cap that lets air in when the core is drawn: where it is clear of everything.

Over a wall, a cleat or a rib it could not be bored through, or no plug could be pulled; a drain plug would shut it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import hypot

from formwork.geometry.cells import Cell
from formwork.geometry.vectors import Vec, dot, sub
from formwork.molds.mold import Part
from formwork.molds.panels.core_box import CoreBox, core_box, hollow, through
from formwork.molds.panels.lining import Frame

AIR_HOLE = 0.010
"""Diameter of the plugged hole in a core's cap that breaks the suction, m (common practice, no source)."""
_BESIDE = 0.005
"""Room left round the hole for the plug's head, m (common practice, no source)."""
_STEPS = 24
"""The hole is tried at so many places along and across the cap."""


def with_air_holes(frame: Frame, parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts, each core's cap with its hole where there is room for one.

    Args:
        frame: the mold.
        parts: the cores with everything that stands inside them.
    """
    boxes = [core_box(frame, former) for former in frame.form.formers if former.kind == "core"]
    boxes = [box for box in boxes if hollow(frame, box) and not through(frame, box.former)]
    caps = {f"{box.former.name} cap": box for box in boxes}
    return tuple(_bored(frame, caps[part.name], part, parts) if part.name in caps else part for part in parts)


def _bored(frame: Frame, box: CoreBox, cap: Part, parts: Sequence[Part]) -> Part:
    """The cap with a hole at the clearest of the places tried; as it is where none is clear enough."""
    inside = [
        cell
        for part in parts
        if part.group == box.former.name and part.role not in ("core cap", "core wall")
        for cell in part.cells
    ]
    found = _clearest(frame, _open_places(frame, box, cap), inside)
    if found is None:
        return cap
    flat = sub(found, cap.placement.origin)
    hole = (dot(flat, cap.placement.along), dot(flat, cap.placement.across), AIR_HOLE)
    return replace(cap, blank=replace(cap.blank, holes=(*cap.blank.holes, hole)))


def _clearest(frame: Frame, places: Sequence[tuple[float, int, Vec]], inside: Sequence[Cell]) -> Vec | None:
    """The place furthest from everything, the earliest of equals; None where none has room for the hole.

    Args:
        frame: the mold.
        places: points with their distance from walls and plugs, m, and their number; the furthest first.
        inside: what else stands inside the core.
    """
    standing = [[frame.planes.half(reference) for reference in cell.facets] for cell in inside]
    best = (AIR_HOLE / 2.0 + _BESIDE, -len(places))
    found = None
    for open_room, number, place in places:
        if open_room < best[0]:
            break
        away = (max(-half.depth(place) for half in halves) for halves in standing)
        clear = (round(min((open_room, *away)), 9), -number)
        if clear > best:
            best, found = clear, place
    return found


def _open_places(frame: Frame, box: CoreBox, cap: Part) -> list[tuple[float, int, Vec]]:
    """Points on the cap's inner face and how far they are from the walls and from every plug, m; furthest first."""
    walls = [wall.moved(-frame.thickness) for wall in box.walls]
    plugs = [
        (plug.body.foot, max(plug.body.foot_radius, plug.body.head_radius)) for plug in frame.piece.plugs
    ]
    places = []
    for number, place in enumerate(_places(frame, box, cap)):
        walled = (wall.depth(place) for wall in walls)
        plugged = (hypot(place[0] - foot[0], place[1] - foot[1]) - radius for foot, radius in plugs)
        places.append((round(min((*walled, *plugged)), 9), number, place))
    return sorted(places, key=lambda one: (-one[0], one[1]))


def _places(frame: Frame, box: CoreBox, cap: Part) -> Iterator[Vec]:
    """Points on the cap's inner face, all over the rectangle round it."""
    height = box.cap.moved(-frame.thickness).offset * box.cap.normal[2]
    corners = [point for cell in cap.cells for point in cell.points()]
    (left, right), (near, far) = ((min(c), max(c)) for c in zip(*(p[:2] for p in corners), strict=True))
    for i in range(1, _STEPS):
        for j in range(1, _STEPS):
            yield (left + (right - left) * i / _STEPS, near + (far - near) * j / _STEPS, height)
