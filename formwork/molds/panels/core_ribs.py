"""What stiffens the walls of a core from inside: upright ribs between two long walls, or level plates held by all.

Plates hold the walls of every core that has not four, and of a core of four where even its shorter walls cannot carry
the mix from corner to corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, floor
from typing import Literal

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, add, dot, length, scale
from formwork.molds.load import Load, panel_span
from formwork.molds.mold import Part
from formwork.molds.panels.core_box import CoreBox, cleated, core_box, hollow, level
from formwork.molds.panels.lining import Frame, body_of, sheet_part
from formwork.molds.panels.rib_places import DRIVER, clear
from formwork.molds.strengths import section_of
from formwork.shapes.body import level_width

_HAND_HOLE = 0.1
"""Diameter of the hole in a plate through which a hand reaches the cap's plug, m (common practice, no source)."""


def core_ribs(frame: Frame, load: Load) -> tuple[Part, ...]:
    """Ribs or plates inside each core, as many as its walls need to carry the mix outside, or as the person asks.

    Raises:
        GeometryError: where the person asks for some and there is no hollow core, or they find no room.
    """
    boxes = [core_box(frame, former) for former in frame.form.formers if former.kind == "core"]
    boxes = [box for box in boxes if hollow(frame, box)]
    if frame.options.core_ribs is not None and not boxes:
        raise GeometryError(
            f"{frame.piece.name}: mold.core_ribs: got {frame.options.core_ribs}, want nothing: there is no hollow core"
        )
    return tuple(part for box in boxes for part in _stiffened(frame, box, load))


def upright_ribs(parts: Sequence[Part]) -> list[Part]:
    """The upright ribs among a core's parts."""
    return [part for part in parts if part.role == "core rib" and abs(part.placement.into[2]) <= 0.9]


def level_plates(parts: Sequence[Part]) -> list[Part]:
    """The level plates among a core's parts."""
    return [part for part in parts if part.role == "core rib" and abs(part.placement.into[2]) > 0.9]


def _stiffened(frame: Frame, box: CoreBox, load: Load) -> list[Part]:
    if box.plated:
        return [_mouth_plate(frame, box), *_plates(frame, box, load)]
    first = 0 if box.long_first else 1
    short = box.walls[1 - first]
    return (
        _plates(frame, box, load)
        if _tired(frame, box, load, short)
        else _ribs(frame, box, load, box.walls[first])
    )


def _tired(frame: Frame, box: CoreBox, load: Load, wall: HalfSpace) -> bool:
    """A wall does not carry the mix from corner to corner."""
    return _width(frame, box, wall) - frame.thickness > _span(frame, box, load, wall, level_span=True)


def _width(frame: Frame, box: CoreBox, wall: HalfSpace) -> float:
    return level_width(box.body, frame.planes.enter(wall), wall.normal)


def _depth(box: CoreBox) -> float:
    low, high = box.body.box()
    return high[2] - low[2]


def _span(frame: Frame, box: CoreBox, load: Load, wall: HalfSpace, level_span: bool) -> float:
    """Greatest span of a wall at its foot, level or upright, m; without end where no data say.

    A wall has its grain along its longer side.
    """
    level_grain = _width(frame, box, wall) >= _depth(box) - frame.thickness
    grain: Literal["across", "along"] = "across" if level_span == level_grain else "along"
    section = section_of(frame.stocks.sheet, grain)
    found = panel_span(section, load.pressure(box.body.box()[0][2]), frame.thickness)
    return float("inf") if found is None else found


def _plates(frame: Frame, box: CoreBox, load: Load) -> list[Part]:
    """Plates that hold tired walls between the cap and the open end; none where no wall is tired.

    A core of four walls gets one beside the rails at its open end, as the plate in the mouth is to any other.
    """
    tired = [wall for wall in box.walls if _tired(frame, box, load, wall)]
    if not tired and not (box.plated and frame.options.core_ribs):
        return []
    inward = -box.mouth.normal[2]
    beside = _mouth_layers(frame, box) * frame.thickness / 2.0
    if not box.plated:
        beside = frame.stocks.inner.width + frame.thickness / 2.0
    start = box.mouth.offset * box.mouth.normal[2] + inward * beside
    rise = box.cap.offset * box.cap.normal[2] - inward * frame.thickness - start
    asked = frame.options.core_ribs
    if asked is None:
        bays = max(ceil(abs(rise) / _span(frame, box, load, wall, level_span=False) - 1e-9) for wall in tired)
    else:
        bays = asked + (1 if box.plated else 0)
        _refuse_crowd(frame, bays, abs(rise))
    half = frame.thickness / 2.0
    return [
        _plate(
            frame,
            box,
            (_below(start + rise * i / bays + half), _below(start + rise * i / bays - half)),
            i + 1,
        )
        for i in range(1 if box.plated else 0, bays)
    ]


def _below(height: float) -> HalfSpace:
    """All that lies below a height, m."""
    return HalfSpace((0.0, 0.0, 1.0), height, "face of plate")


def _mouth_layers(frame: Frame, box: CoreBox) -> int:
    """Two layers, where the core is deep enough, for the screws that hold it."""
    return 2 if _depth(box) > 3.5 * frame.thickness else 1


def _mouth_plate(frame: Frame, box: CoreBox) -> Part:
    """The plate in the open end that the core is held down by."""
    layers = _mouth_layers(frame, box)
    return _plate(frame, box, (box.mouth, box.mouth.moved(-layers * frame.thickness)), 1, layers)


def _plate(
    frame: Frame, box: CoreBox, faces: tuple[HalfSpace, HalfSpace], number: int, layers: int = 1
) -> Part:
    """One level plate between two planes, its corners clear of the cleats, with a hole to reach through."""
    face, back = faces
    insides = tuple(wall.moved(-frame.thickness) for wall in box.walls)
    clips = _clear_of_cleats(frame, insides) if cleated(frame, box) else ()
    name = f"{box.former.name} plate {number}"
    body = body_of(frame, (*insides, *clips, face, back.flipped()), name)
    made = sheet_part(frame, name, "core rib", box.former.name, body, frame.planes.enter(face), layers)
    narrow = min(made.blank.length, made.blank.width)
    hole = (made.blank.length / 2.0, made.blank.width / 2.0, min(_HAND_HOLE, narrow / 3.0))
    return replace(made, blank=replace(made.blank, holes=(hole,)))


def _clear_of_cleats(frame: Frame, insides: Sequence[HalfSpace]) -> tuple[HalfSpace, ...]:
    """What cuts a plate's corners off, so that it passes the stick that stands in each."""
    stick = frame.stocks.inner
    taken = stick.width + stick.thickness
    found = []
    for one, other in zip(insides, (*insides[1:], insides[0]), strict=True):
        both = add(one.normal, other.normal)
        size = length(both)
        offset = (one.offset + other.offset - taken) / size
        found.append(HalfSpace(scale(both, 1.0 / size), offset, "corner of plate"))
    return tuple(found)


def _ribs(frame: Frame, box: CoreBox, load: Load, wall: HalfSpace) -> list[Part]:
    """Upright ribs square to the longer walls, as close as these need, clear of the screws of plugs on the cap."""
    along = along_wall(wall)
    reach = sorted(dot(along, point) for point in box.body.points())
    width = reach[-1] - reach[0] - frame.thickness
    asked, span = frame.options.core_ribs, _span(frame, box, load, wall, level_span=True)
    if asked is None:
        bays = max(1, ceil(width / span - 1e-9))
    else:
        bays, span = asked + 1, float("inf")
        _refuse_crowd(frame, bays, width)
    middle = (reach[0] + reach[-1]) / 2.0
    screws = [
        dot(along, plug.body.foot) - middle
        for plug in frame.piece.plugs
        if plug.on == box.former.name and plug.seat != "base"
    ]
    places = clear(width, bays, span, screws, frame.thickness / 2.0 + DRIVER)
    return [_rib(frame, box, along, middle + at, number) for number, at in enumerate(places, start=1)]


def along_wall(wall: HalfSpace) -> Vec:
    """The level way along a wall, to the right of who looks at it from outside."""
    long = level(wall.normal)
    return (-long[1], long[0], 0.0)


def _refuse_crowd(frame: Frame, bays: int, room: float) -> None:
    """Ribs or plates stand at least their own thickness apart.

    Raises:
        GeometryError: where the person asks for more.
    """
    most = max(0, floor(room / (2.0 * frame.thickness)) - 1)
    if bays - 1 > most:
        raise GeometryError(
            f"{frame.piece.name}: mold.core_ribs: got {frame.options.core_ribs}, want at most {most}: more find no "
            "room in the core"
        )


def _rib(frame: Frame, box: CoreBox, along: Vec, at: float, number: int) -> Part:
    """One rib, between the longer walls, from the cap to the open end or to the plate in it."""
    first = 0 if box.long_first else 1
    half = frame.thickness / 2.0
    face = HalfSpace(along, at + half, "face of rib")
    halves = (
        face,
        HalfSpace(scale(along, -1.0), half - at, "face of rib"),
        box.walls[first].moved(-frame.thickness),
        box.walls[first + 2].moved(-frame.thickness),
        box.cap.moved(-frame.thickness),
        box.mouth if cleated(frame, box) else box.mouth.moved(-frame.thickness),
    )
    name = f"{box.former.name} rib {number}"
    body = body_of(frame, halves, name)
    return sheet_part(frame, name, "core rib", box.former.name, body, frame.planes.enter(face))
