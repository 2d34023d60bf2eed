"""Panels that one sheet is too short for: boards end to end, their joints upright, battens behind them.

The rails run over a joint from corner to corner and carry the mix there as anywhere; between the rails a short stick
behind each joint keeps both edges flush.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby, pairwise
from math import ceil

from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, cross, dot, scale, unit
from formwork.molds.mold import Part
from formwork.molds.panels.bracing import LEAST_RAIL, rail_edges
from formwork.molds.panels.lining import Frame, body_of, panel_along, sheet_part, stick_part
from formwork.shapes.box import UP, level
from formwork.shapes.piece import Face


def spliced(frame: Frame, panel: Part) -> tuple[Part, ...]:
    """A panel as it can be cut: itself, or boards of one length side by side.

    Args:
        frame: the mold.
        panel: as one part.
    """
    count = ceil(panel.blank.length / (frame.stocks.sheet.length - 2.0 * frame.stocks.trim) - 1e-9)
    face = next((one for one in frame.form.faces if panel.group == f"{one.name} panel"), None)
    if count < 2 or face is None or panel.role != "panel" or not _level(panel):
        return (panel,)
    along = panel_along(face)
    places = [dot(point, along) for cell in panel.cells for point in cell.points()]
    marks = [min(places) + (max(places) - min(places)) * k / count for k in range(count + 1)]
    return tuple(
        _board(frame, panel, face, number, ends) for number, ends in enumerate(pairwise(marks), start=1)
    )


def _level(panel: Part) -> bool:
    """Its longer side runs level: what is too long stands upright otherwise, and no rail crosses its joint."""
    return abs(panel.placement.along[2]) < 0.5


def _board(frame: Frame, panel: Part, face: Face, number: int, ends: tuple[float, float]) -> Part:
    [cell] = panel.cells
    halves = [frame.planes.half(ref) for ref in cell.facets]
    along = panel_along(face)
    name = f"{panel.name} {number}"
    body = body_of(frame, (*halves, *_between(along, ends)), name)
    return sheet_part(frame, name, "panel", panel.group, body, frame.planes.enter(face.half))


def _between(along: Vec, ends: tuple[float, float]) -> tuple[HalfSpace, HalfSpace]:
    return (
        HalfSpace(along, ends[1], "joint of the panel"),
        HalfSpace(scale(along, -1.0), -ends[0], "joint of the panel"),
    )


def splice_battens(frame: Frame, parts: Sequence[Part], heights: tuple[float, ...]) -> tuple[Part, ...]:
    """The sticks behind every joint, between the rails and above a single one.

    Args:
        frame: the mold.
        parts: its lining.
        heights: of the rails' middles, m.
    """
    boards = sorted((part for part in parts if part.role == "panel"), key=lambda part: part.group)
    made: list[Part] = []
    for group, some in groupby(boards, key=lambda part: part.group):
        face = next(one for one in frame.form.faces if group == f"{one.name} panel")
        along = panel_along(face)
        ends = sorted(max(dot(p, along) for cell in part.cells for p in cell.points()) for part in some)
        for place in ends[:-1]:
            made += _behind(frame, face, place, heights, len(made) + 1)
    return tuple(made)


def _behind(frame: Frame, face: Face, place: float, heights: tuple[float, ...], first: int) -> list[Part]:
    back, along = face.half.moved(frame.thickness), panel_along(face)
    half = frame.stocks.broad / 2.0
    sides = (
        back.flipped(),
        back.moved(frame.stocks.deep, "outside of batten"),
        *_between(along, (place - half, place + half)),
    )
    made: list[Part] = []
    for low, high in _gaps(frame, back, heights):
        room = _room(frame, back, low, high)
        if room < LEAST_RAIL:
            continue
        name = f"{face.name} joint batten {first + len(made)}"
        body = body_of(frame, (*sides, low, high), name)
        upright = unit(cross(back.normal, along))
        made.append(
            stick_part(frame, frame.stocks.stick, name, "batten", f"{face.name} panel", body, upright, back)
        )
    return made


def _gaps(frame: Frame, back: HalfSpace, heights: tuple[float, ...]) -> list[tuple[HalfSpace, HalfSpace]]:
    """Between which two planes a stick stands: the top of a rail and the underside of the next, or the rim."""
    count = len(heights)
    rails = [rail_edges(frame, back, z, k == 0, k == count - 1) for k, z in enumerate(heights)]
    if count == 1:
        return [(rails[0][0].flipped("on the rail"), level("fill", frame.fill, up=True))]
    return [
        (low[0].flipped("on the rail"), high[-1].flipped("under the rail")) for low, high in pairwise(rails)
    ]


def _room(frame: Frame, back: HalfSpace, low: HalfSpace, high: HalfSpace) -> float:
    """Height between two planes up the back of a panel, m."""
    slope = unit(cross(back.normal, cross(UP, back.normal)))
    up = slope if slope[2] > 0.0 else scale(slope, -1.0)
    foot, top = (
        one.offset / dot(one.normal, up) if abs(dot(one.normal, up)) > 1e-9 else 0.0 for one in (low, high)
    )
    if abs(abs(high.normal[2]) - 1.0) < 1e-9:
        top = frame.fill / up[2]
    return top - foot


def splice_length(parts: Sequence[Part]) -> float:
    """Length of all joints between the boards of panels, m."""
    groups = [part.group for part in parts if part.role == "panel"]
    wide = {part.group: part.blank.width for part in parts if part.role == "panel"}
    return sum((groups.count(group) - 1) * width for group, width in wide.items())


def behind_joints(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The battens behind the joints of panels."""
    return tuple(part for part in parts if part.role == "batten" and part.group.endswith(" panel"))
