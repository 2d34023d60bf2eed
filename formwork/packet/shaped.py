"""The solids of a packet as documents: STEP, STL, GLB and 3MF of each piece, mold, centre and frame, and pictures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from formwork.packet.documents import Document, File, Work, document
from formwork.packet.keys import Keys
from formwork.packet.names import plain_names
from formwork.plan import Plan
from formwork.record import record

if TYPE_CHECKING:
    from formwork.molds.mold import Mold
    from formwork.molds.structure import BuiltCentre, BuiltFrame
    from formwork.shapes.piece import Piece
    from formwork.solids import Model


@record
class Shaped:
    """A thing of the packet as a solid.

    Attributes:
        about: what it is.
        picture: its isometric picture as SVG; None of a frame, whose drawing shows as much.
        document: its files.
    """

    about: str
    picture: File | None
    document: Document


def shaped(plan: Plan, keys: Keys) -> list[Shaped]:
    """Every solid of a plan, none of them made yet."""
    return list(_shaped(plan, keys))


def _shaped(plan: Plan, keys: Keys) -> Iterator[Shaped]:
    for name, mold in zip(plain_names([mold.piece.name for mold in plan.molds]), plan.molds, strict=True):
        about = f"{mold.piece.name}, the piece"
        yield _pictured(keys, f"pieces/{name}-piece", about, _piece, mold.piece)
        yield _pictured(keys, f"molds/{name}-mold", mold.name, _mold, mold)
    for name, centre in zip(plain_names([one.name for one in plan.centres]), plan.centres, strict=True):
        yield _pictured(keys, f"centres/{name}", centre.name, _centre, centre)
    for name, built in zip(plain_names([one.name for one in plan.frames]), plan.frames, strict=True):
        about, place = f"{built.name}, the frame", f"frames/{name}-frame"
        files = [file for file in _files(place, about) if not file[0].endswith(".stl")]
        made = document(keys, files, _frame, built, saying=f"shaping {about}", kernel=True)
        yield Shaped(about, None, made)


def _pictured(keys: Keys, place: str, about: str, work: Work, *reads: Any) -> Shaped:
    picture = f"{place}-picture.svg"
    files = (
        *_files(place, about),
        (picture, f"{about}, a picture"),
        (f"{place}-picture.png", f"{about}, a picture to send on"),
    )
    made = document(keys, files, work, *reads, saying=f"shaping {about}", kernel=True)
    return Shaped(about, made.file(picture), made)


def _files(place: str, about: str) -> tuple[tuple[str, str], ...]:
    return (
        (f"{place}.step", f"{about}, exact, for CAD (mm)"),
        (f"{place}.stl", f"{about}, as a mesh (mm)"),
        (f"{place}.glb", f"{about}, as a mesh to turn about on a screen"),
        (f"{place}.3mf", f"{about}, as a mesh with names and colours, for printing a model (mm)"),
    )


def _piece(piece: Piece) -> tuple[str | bytes, ...]:
    from formwork.geometry.planes import Planes  # noqa: PLC0415 - with the kernel
    from formwork.solids import piece_model, piece_picture  # noqa: PLC0415 - with the kernel

    model = piece_model(Planes(), piece)
    return (*_put_out(model), *_pictures(piece_picture(model, piece)))


def _mold(mold: Mold) -> tuple[str | bytes, ...]:
    from formwork.solids import empty_mold_model, filled, picture  # noqa: PLC0415 - with the kernel

    empty = empty_mold_model(mold)
    return (*_put_out(filled(empty, mold)), *_pictures(picture(empty)))


def _centre(centre: BuiltCentre) -> tuple[str | bytes, ...]:
    from formwork.solids import empty_mold_model, picture  # noqa: PLC0415 - with the kernel

    model = empty_mold_model(centre)
    return (*_put_out(model), *_pictures(picture(model)))


def _put_out(model: Model) -> tuple[str | bytes, ...]:
    """A model as STEP, STL, GLB and 3MF."""
    from formwork.solids.export import glb_of, standing, step, stl  # noqa: PLC0415 - with the kernel
    from formwork.solids.threemf import threemf  # noqa: PLC0415 - with the kernel

    bodies = standing(model)
    meshes = [body.standing() for body in bodies]
    return step(model), stl(meshes), glb_of(model.name, bodies), threemf(model.name, bodies)


def _pictures(picture: str) -> tuple[str, bytes]:
    """A picture as SVG and PNG."""
    from formwork.packet.typeset import png  # noqa: PLC0415 - only the packet prints

    return picture, png(picture)


def _frame(built: BuiltFrame) -> tuple[str | bytes, ...]:
    """A frame's pipes, the meshes coarse enough for hundreds of round things."""
    from formwork.solids.export import glb_of, standing, step  # noqa: PLC0415 - with the kernel
    from formwork.solids.pipes import frame_model  # noqa: PLC0415 - with the kernel
    from formwork.solids.threemf import threemf  # noqa: PLC0415 - with the kernel

    model = frame_model(built)
    bodies = standing(model, chord=0.002, angle=0.5)
    return step(model), glb_of(model.name, bodies), threemf(model.name, bodies)
