"""Vessels: what planters of four and of many sides share: walls, core, floor, drain plugs, corner strips, the turn.

A vessel is laid out as it stands in use, the middle of its underside at the origin, z up, and turned over where it is
cast rim down. All lengths in m.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import atan2, hypot, radians, tan
from typing import Literal

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace
from formwork.geometry.rounds import Round
from formwork.geometry.vectors import Vec, add, scale
from formwork.record import record
from formwork.shapes import box
from formwork.shapes.piece import Face, Former, Measure, Piece, Planar, Plug, Seat, planar
from formwork.units import show

LEAST_HOLLOW = 0.05
"""Least clear width of a core, m (ours)."""
_PLUG_DRAFT = tan(0.0525)
_LEAST_PLUG_DRAFT = tan(radians(1.0))
_NARROW = 0.6
"""Least width of a drain plug's free end, as a share of the other (ours)."""
Down = Literal["floor", "rim"]
Point = tuple[float, float]


@record
class Vessel:
    """A vessel's planes, as it stands in use.

    Attributes:
        outer: the envelope's sides, in order round it.
        body: the outside of the walls, where a rim stands out beyond them; else the same planes.
        inner: the inside of the walls.
        height: of the rim.
        floor_under: of the floor's underside; above 0 on feet.
        floor_top: of the floor's upper face.
        draft: least lean of the inside, rad.
        down: which end lies down in the mold.
    """

    outer: tuple[HalfSpace, ...]
    body: tuple[HalfSpace, ...]
    inner: tuple[HalfSpace, ...]
    height: float
    floor_under: float
    floor_top: float
    draft: float
    down: Down


def stands_off(half: HalfSpace, z: float) -> float:
    """Level distance of a side from the axis at a height, m."""
    nx, ny, nz = half.normal
    return (half.offset - nz * z) / hypot(nx, ny)


def lean(half: HalfSpace) -> float:
    """How far a side leans outward, going up, rad."""
    nx, ny, nz = half.normal
    return -atan2(nz, hypot(nx, ny))


def faces(v: Vessel) -> tuple[Face, ...]:
    """The envelope: its sides, the underside and the rim."""
    floor_down = v.down == "floor"
    return (
        *(Face(half.name, "panel", half) for half in v.outer),
        Face("underside", "base" if floor_down else "fill", box.level("underside", 0.0, up=False)),
        Face("rim", "fill" if floor_down else "base", box.level("rim", v.height, up=True)),
    )


def core(v: Vessel) -> Former:
    """The core that keeps the hollow free: it stands on the base under a rim, and hangs over a floor."""
    halves = (*v.inner, box.level("floor", v.floor_top, up=False), box.level("rim", v.height, up=True))
    return Former("core", "core", halves, "box", "hung" if v.down == "floor" else "base")


def drain_plugs(
    v: Vessel, places: Sequence[Point], diameter: float, name: str, seat: tuple[Seat, str] = ("base", "")
) -> tuple[Plug, ...]:
    """Round plugs through the floor, wider where they are fastened.

    Args:
        v: the vessel.
        places: where they stand in plan.
        diameter: at the wider end.
        name: of the piece, for messages.
        seat: what they are fastened to where the floor lies down; to the core where the rim does.

    Raises:
        GeometryError: where so thin a plug has no draft through so thick a floor.
    """
    if not places:
        return ()
    wide, length = diameter / 2.0, v.floor_top - v.floor_under
    narrow = narrow_end(v, diameter, name) / 2.0
    floor_down = v.down == "floor"
    held = seat if floor_down else ("former", "core")
    start, way = (v.floor_under, 1.0) if floor_down else (v.floor_top, -1.0)
    return tuple(
        Plug(f"drain plug {i}", Round((x, y, start), (0.0, 0.0, way), length, wide, narrow), *held)
        for i, (x, y) in enumerate(places, start=1)
    )


def narrow_end(v: Vessel, diameter: float, name: str) -> float:
    """Diameter of a drain plug at its free end: 3 degrees of draft, or as much as leaves the end thick enough, m.

    Raises:
        GeometryError: where that is less than 1 degree.
    """
    return plug_end(v.floor_top - v.floor_under, diameter, name)


def plug_end(length: float, diameter: float, name: str) -> float:
    """The same of a plug of this length, m.

    Raises:
        GeometryError: as ``narrow_end``.
    """
    narrow = max(diameter - 2.0 * length * _PLUG_DRAFT, _NARROW * diameter)
    if (diameter - narrow) / 2.0 < length * _LEAST_PLUG_DRAFT:
        most = (1.0 - _NARROW) * diameter / 2.0 / _LEAST_PLUG_DRAFT
        raise GeometryError(
            f"{name}: drain_diameter: a plug of {show.both(diameter)} through a floor of {show.both(length)} has no "
            f"draft to speak of; make drain_diameter larger, or floor at most {show.both(most)}"
        )
    return narrow


def plug_note(v: Vessel, diameter: float, name: str) -> str:
    """Both diameters and the length of a drain plug, so that it can be made.

    Raises:
        GeometryError: where it has no draft.
    """
    return (
        f"Drain plugs: {show.both(diameter)} across at the screwed end, {show.both(narrow_end(v, diameter, name))} at "
        f"the other, {show.both(v.floor_top - v.floor_under)} long."
    )


def pour_point(v: Vessel, side: int) -> Vec:
    """A point in the middle of a wall."""
    z = (v.floor_top + v.height) / 2.0
    out = (stands_off(v.inner[side], z) + stands_off(v.body[side], z)) / 2.0
    nx, ny, _ = v.body[side].normal
    flat = hypot(nx, ny)
    return (nx / flat * out, ny / flat * out, z)


def wall_measure(v: Vessel, side: int, square: bool) -> Measure:
    """The wall's thickness at the rim, the way it is meant: square to the outside face, or level.

    Args:
        v: the vessel, as it stands in use.
        side: index of a side that the front view shows edge on.
        square: it is measured square to the face.
    """
    face = v.body[side]
    inside: Vec = (stands_off(v.inner[side], v.height), 0.0, v.height)
    outside: Vec = (stands_off(face, v.height), 0.0, v.height)
    return Measure(
        "wall", "front", inside, add(inside, scale(face.normal, face.depth(inside))) if square else outside
    )


def as_cast(piece: Piece, v: Vessel) -> Piece:
    """The piece, which will hold soil, as it lies in the mold: turned over where its rim lies down."""
    vessel = replace(piece, holds_soil=True)
    return vessel if v.down == "floor" else _turned_over(vessel, v.height)


def cast_half(half: HalfSpace, v: Vessel) -> HalfSpace:
    """A half-space of the vessel as it lies in the mold."""
    return half if v.down == "floor" else box.turned(half, v.height)


def _turned_over(piece: Piece, height: float) -> Piece:
    def point(v: Vec) -> Vec:
        return box.turned_point(v, height)

    def plug(one: Plug) -> Plug:
        x, y, z = one.body.axis
        body = one.body
        turned = Round(point(body.foot), (x, -y, -z), body.length, body.foot_radius, body.head_radius)
        return Plug(one.name, turned, one.seat, one.on)

    form = planar(piece)
    return replace(
        piece,
        form=Planar(
            box.turned_faces(form.faces, height),
            tuple(box.turned_former(former, height) for former in form.formers),
        ),
        plugs=tuple(plug(one) for one in piece.plugs),
        pour_points=tuple(point(v) for v in piece.pour_points),
        turned_over=True,
        measures=tuple(Measure(m.name, m.view, point(m.start), point(m.end)) for m in piece.measures),
    )


def corner_strips(
    sides: Sequence[HalfSpace],
    names: Sequence[str],
    bounds: Sequence[HalfSpace],
    leg: float,
    base: HalfSpace | None = None,
    zone: str = "",
) -> tuple[Former, ...]:
    """Chamfer strips in the upright corners, and along the edges on the base where it is given.

    Args:
        sides: in order round the vessel, as cast.
        names: of the panels the strips are fastened to, side by side.
        bounds: what ends every strip.
        leg: size along each face.
        base: the plane of the base.
        zone: what their names begin with.
    """
    edges: list[tuple[str, HalfSpace, HalfSpace]] = []
    seats: list[tuple[Seat, str]] = []
    for (one, first), (two, second) in pairwise([*zip(names, sides, strict=True), (names[0], sides[0])]):
        edges.append((f"{zone}corner strip {one} {two}", first, second))
        seats.append(("panel", one))
    if base is not None:
        for one, half in zip(names, sides, strict=True):
            edges.append((f"{zone}edge strip {one}", half, base))
            seats.append(("base", ""))
    return box.strips(edges, leg, (*sides, *bounds), seats)


def wall_notes(v: Vessel, how: str) -> tuple[str, ...]:
    """How the wall is measured, whether it thickens, and which end lies down."""
    notes = [f"Wall thickness is measured {how}, at the rim."]
    if v.draft > min(abs(lean(half)) for half in v.outer) + 1e-9:
        notes.append("The wall grows thicker towards the floor, so that the core draws.")
    struck = "rim" if v.down == "floor" else "underside of the floor"
    return (*notes, f"Cast {v.down} down; the {struck} is struck off.")
