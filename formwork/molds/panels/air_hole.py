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
from formwork.molds.panels.core_box import CoreBox, core_box, hollow
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
    caps = {f"{box.former.name} cap": box for box in boxes if hollow(frame, box)}
    return tuple(_bored(frame, caps[part.name], part, parts) if part.name in caps else part for part in parts)


def _bored(frame: Frame, box: CoreBox, cap: Part, parts: Sequence[Part]) -> Part:
    """The cap with a hole at the clearest of the places tried; as it is where none is clear enough."""
    inside = [
        cell
        for part in parts
        if part.group == box.former.name and part.role not in ("core cap", "core wall")
        for cell in part.cells
    ]
    tried = list(_places(frame, box, cap))
    clear = [_clearance(frame, box, inside, place) for place in tried]
    best = max(range(len(tried)), key=lambda i: (round(clear[i], 9), -i))
    if clear[best] < AIR_HOLE / 2.0 + _BESIDE:
        return cap
    flat = sub(tried[best], cap.placement.origin)
    hole = (dot(flat, cap.placement.along), dot(flat, cap.placement.across), AIR_HOLE)
    return replace(cap, blank=replace(cap.blank, holes=(*cap.blank.holes, hole)))


def _places(frame: Frame, box: CoreBox, cap: Part) -> Iterator[Vec]:
    """Points on the cap's inner face, all over the rectangle round it."""
    height = box.cap.moved(-frame.thickness).offset * box.cap.normal[2]
    corners = [point for cell in cap.cells for point in cell.points()]
    (left, right), (near, far) = ((min(c), max(c)) for c in zip(*(p[:2] for p in corners), strict=True))
    for i in range(1, _STEPS):
        for j in range(1, _STEPS):
            yield (left + (right - left) * i / _STEPS, near + (far - near) * j / _STEPS, height)


def _clearance(frame: Frame, box: CoreBox, inside: Sequence[Cell], place: Vec) -> float:
    """How far a place at least is from the walls, from all that stands inside the core and from every plug, m."""
    walls = (wall.moved(-frame.thickness).depth(place) for wall in box.walls)
    standing = (
        max(-frame.planes.half(reference).depth(place) for reference in cell.facets) for cell in inside
    )
    plugs = (
        hypot(place[0] - body.foot[0], place[1] - body.foot[1]) - max(body.foot_radius, body.head_radius)
        for body in (plug.body for plug in frame.piece.plugs)
    )
    return min((*walls, *standing, *plugs))
