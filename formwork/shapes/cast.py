"""From an order's parameters to the piece as cast: laid out, with what is embedded, allowed to shrink, ganged."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from formwork.errors import GeometryError
from formwork.geometry.planes import SNAP, Planes
from formwork.geometry.vectors import Vec, dot, scale
from formwork.shapes.body import piece_volume, room_inside, thinnest_wall
from formwork.shapes.embed import take_in
from formwork.shapes.parameters import Keys, Parameters
from formwork.shapes.piece import (
    Centre,
    Curved,
    CurvedFormer,
    Face,
    Form,
    Former,
    Frame,
    Lot,
    Measure,
    Piece,
    Planar,
    Plug,
    Shell,
    planar,
)
from formwork.shapes.shape import Shape
from formwork.units import show

_AXES: dict[str, Vec] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0)}


def lots(shape: Shape, parameters: Keys, name: str, divider: float) -> tuple[Lot | Frame | Centre, ...]:
    """What one filling of one mold gives, for each different piece of a shape; its frames and centres as they are.

    Embedded things are in, the allowance for shrinkage is made, and a gang's pieces stand side by side.

    Args:
        shape: the shape.
        parameters: its checked keys.
        name: the project's name for the piece.
        divider: thickness of a gang's dividers, m.

    Raises:
        GeometryError: where the keys contradict one another, or the shape cannot be ganged.
    """
    laid_out = shape.lay_out(parameters, name)
    if not isinstance(parameters, Parameters):
        return laid_out
    return tuple(
        replace(made, piece=_finished(shape, parameters, made.piece, divider))
        if isinstance(made, Lot)
        else made
        for made in laid_out
    )


def _finished(shape: Shape, parameters: Parameters, piece: Piece, divider: float) -> Piece:
    if parameters.embed:
        planes = Planes()
        volume = piece_volume(planes, piece)
        wall = thinnest_wall(planes, piece)
        piece = replace(piece, embedded=take_in(parameters.embed, room_inside(planes, piece), volume, wall))
    if parameters.shrinkage:
        piece = grown(piece, 1.0 + parameters.shrinkage)
    return ganged(piece, parameters.gang, shape.gang_axis, divider) if parameters.gang > 1 else piece


def grown(piece: Piece, factor: float) -> Piece:
    """The piece scaled about the middle of its base, as a mold that allows for shrinkage must hold it."""
    return replace(
        piece,
        form=_grown(piece.form, factor),
        plugs=tuple(replace(plug, body=plug.body.grown(factor)) for plug in piece.plugs),
        pour_points=tuple(scale(point, factor) for point in piece.pour_points),
        measures=tuple(
            Measure(m.name, m.view, scale(m.start, factor), scale(m.end, factor)) for m in piece.measures
        ),
        notes=(
            *piece.notes,
            f"Mold sizes are {show.plain(100.0 * (factor - 1.0), 2)} % larger than the dry piece, for "
            "drying shrinkage.",
        ),
    )


def _grown(form: Form, factor: float) -> Form:
    match form:
        case Planar():
            faces = tuple(replace(face, half=face.half.grown(factor)) for face in form.faces)
            return Planar(faces, tuple(_grown_former(one, factor) for one in form.formers))
        case Curved():
            formers = tuple(_grown_curved(one, factor) for one in form.formers)
            shell = _grown_shell(form.shell, factor) if form.shell else None
            return Curved(form.outside.grown(factor), formers, form.fill * factor, shell)
        case _:
            assert_never(form)


def _grown_shell(one: Shell, factor: float) -> Shell:
    return replace(
        one,
        inside=one.inside.grown(factor),
        thickness=one.thickness * factor,
        oculus=one.oculus * factor,
    )


def _grown_former(one: Former, factor: float) -> Former:
    lead = one.lead.grown(factor) if one.lead else None
    return replace(one, halves=tuple(half.grown(factor) for half in one.halves), lead=lead)


def _grown_curved(one: CurvedFormer, factor: float) -> CurvedFormer:
    takes = None if one.takes is None else one.takes * factor**3
    return replace(one, body=one.body.grown(factor), takes=takes)


def ganged(piece: Piece, count: int, axis: str | None, divider: float) -> Piece:
    """``count`` pieces side by side in one envelope, a divider between each two.

    Raises:
        GeometryError: where the sides that would stand back to back are not parallel and upright.
    """
    if axis is None:
        raise GeometryError(f"{piece.name}: pieces of shape '{piece.shape}' are cast alone; leave gang out")
    way, form = _AXES[axis], planar(piece)
    near, far = _end_faces(piece, way)
    pitch = near.half.offset + far.half.offset + divider
    shift = [scale(way, i * pitch - (count - 1) * pitch / 2.0) for i in range(count)]
    faces = tuple(_outermost(face, near, far, shift) for face in form.faces)
    shared = tuple(face.half for face in faces if face.name not in (near.name, far.name))
    dividers = tuple(
        Former(
            f"divider {i + 1}",
            "divider",
            (
                far.half.shifted(shift[i]).flipped("divider"),
                near.half.shifted(shift[i + 1]).flipped("divider"),
                *shared,
            ),
            "solid",
            "panel",
            on=_beside(piece, near),
        )
        for i in range(count - 1)
    )
    formers = [
        _numbered(former, i, shift[i], form.faces, near, far, count)
        for i in range(count)
        for former in form.formers
    ]
    return replace(
        piece,
        form=Planar(faces, (*formers, *dividers)),
        plugs=tuple(_numbered_plug(plug, i, by) for i, by in enumerate(shift) for plug in piece.plugs),
        pour_points=tuple(_moved(point, by) for by in shift for point in piece.pour_points),
        measures=tuple(
            Measure(m.name, m.view, _moved(m.start, shift[0]), _moved(m.end, shift[0]))
            for m in piece.measures
        ),
        cavities=count,
    )


def _end_faces(piece: Piece, way: Vec) -> tuple[Face, Face]:
    """The two faces that stand back to back in a gang."""
    sides = [face for face in planar(piece).faces if face.role == "panel"]
    near = [face for face in sides if dot(face.half.normal, way) < -1.0 + SNAP]
    far = [face for face in sides if dot(face.half.normal, way) > 1.0 - SNAP]
    rest = [face for face in sides if face not in near and face not in far]
    if len(near) != 1 or len(far) != 1 or any(abs(dot(face.half.normal, way)) > SNAP for face in rest):
        raise GeometryError(
            f"{piece.name}: a gang needs upright, parallel long sides, so that a plain divider parts two pieces; "
            "make the sides straight or set gang = 1"
        )
    return near[0], far[0]


def _outermost(face: Face, near: Face, far: Face, shift: list[Vec]) -> Face:
    if face.name == near.name:
        return replace(face, half=face.half.shifted(shift[0]))
    if face.name == far.name:
        return replace(face, half=face.half.shifted(shift[-1]))
    return face


def _beside(piece: Piece, near: Face) -> str:
    """Name of a side that the dividers run up to."""
    return next(face.name for face in planar(piece).faces if face.role == "panel" and face.name != near.name and
                abs(dot(face.half.normal, near.half.normal)) < SNAP)  # fmt: skip


def _numbered(
    former: Former, index: int, by: Vec, faces: tuple[Face, ...], near: Face, far: Face, count: int
) -> Former:
    """A former of one cavity, named after it; what was fastened to an inner side now sits on the divider there."""
    on, seat = former.on, former.seat
    if seat == "panel" and on == near.name and index > 0:
        on = f"divider {index}"
    elif seat == "panel" and on == far.name and index < count - 1:
        on = f"divider {index + 1}"
    elif seat == "former" and on:
        on = f"cavity {index + 1} {on}"
    lead = former.lead.shifted(by) if former.lead else None
    halves = tuple(half.shifted(by) for half in former.halves)
    return Former(f"cavity {index + 1} {former.name}", former.kind, halves, former.build, seat, on, lead)


def _numbered_plug(plug: Plug, index: int, by: Vec) -> Plug:
    on = f"cavity {index + 1} {plug.on}" if plug.on else ""
    return Plug(f"cavity {index + 1} {plug.name}", plug.body.shifted(by), plug.seat, on)


def _moved(point: Vec, by: Vec) -> Vec:
    return (point[0] + by[0], point[1] + by[1], point[2] + by[2])
