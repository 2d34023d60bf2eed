"""The drawings of a packet as documents: DXF, SVG and PNG of each piece, mold, centre, frame and cut sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from formwork.cutting.cut_list import CutLine
from formwork.cutting.records import SheetLayout, spots
from formwork.packet.cut_sections import sheet_title
from formwork.packet.documents import Document, File, document
from formwork.packet.keys import Keys, Shared
from formwork.packet.names import plain_names
from formwork.packet.narrowed import headed
from formwork.plan import Plan
from formwork.record import record

if TYPE_CHECKING:
    from formwork.drawings.scene import Scene
    from formwork.molds.mold import Mold
    from formwork.molds.structure import BuiltCentre, BuiltFrame
    from formwork.project.records import Project
    from formwork.shapes.piece import Piece


@record
class Drawn:
    """A drawing of the packet.

    Attributes:
        name: of its files, without ending.
        about: what it shows.
        scene: the drawing itself, made when it is asked for.
        svg: the same as SVG.
        document: its files.
    """

    name: str
    about: str
    scene: Shared[Scene]
    svg: File
    document: Document


def drawn(plan: Plan, keys: Keys) -> list[Drawn]:
    """Every drawing of a plan, none of them made yet."""
    return [_drawn(keys, *one) for one in _drawings(plan)]


def _drawn(keys: Keys, name: str, about: str, draw: Callable[..., Scene], reads: tuple[Any, ...]) -> Drawn:
    scene = keys.made(draw, *reads)
    files = (
        (f"{name}.dxf", f"{about}, for CAD"),
        (f"{name}.svg", f"{about}, to look at and print"),
        (f"{name}.png", f"{about}, as a picture to send on"),
    )
    made = document(keys, files, _put_out, scene, saying=f"drawing {about}")
    return Drawn(name, about, scene, made.file(f"{name}.svg"), made)


def _put_out(scene: Scene) -> tuple[str, str, bytes]:
    """A scene as DXF, SVG and PNG."""
    from formwork.drawings.dxf import dxf  # noqa: PLC0415 - DXF and polygons are slow to load
    from formwork.drawings.svg import svg  # noqa: PLC0415 - the same
    from formwork.packet.typeset import png  # noqa: PLC0415 - the same

    picture = svg(scene)
    return dxf(scene), picture, png(picture)


_Wanted = tuple[str, str, "Callable[..., Scene]", tuple[Any, ...]]


def scenes(plan: Plan) -> Iterator[tuple[str, str, Scene]]:
    """Name, what it shows, and the drawing itself, for each drawing of the packet."""
    for name, about, draw, reads in _drawings(plan):
        yield name, about, draw(*reads)


def _drawings(plan: Plan) -> Iterator[_Wanted]:
    """Name, what it shows, and how and from what it is drawn, for each drawing of the packet."""
    head = headed(plan.project)
    total = 4 * len(plan.molds) + len(plan.centres) + len(plan.frames) + len(plan.sheets)
    pages = (f"{number} / {total}" for number in range(1, total + 1))
    for name, mold in zip(plain_names([mold.piece.name for mold in plan.molds]), plan.molds, strict=True):
        yield (
            f"pieces/{name}-piece",
            f"{mold.piece.name}, the piece",
            _piece,
            (mold.piece, head, f"{name}-piece", next(pages)),
        )
        lines = _lines_of(plan, mold.name)
        yield f"molds/{name}-mold", mold.name, _mold, (mold, lines, head, f"{name}-mold", next(pages))
        for ending, about, draw in (("details", "details", _details), ("apart", "taken apart", _apart)):
            number = f"{name}-mold-{ending}"
            yield f"molds/{number}", f"{mold.name}, {about}", draw, (mold, lines, head, number, next(pages))
    for name, centre in zip(plain_names([one.name for one in plan.centres]), plan.centres, strict=True):
        lines = _lines_of(plan, centre.name)
        yield f"centres/{name}", centre.name, _centre, (centre, lines, head, name, next(pages))
    for name, built in zip(plain_names([one.name for one in plan.frames]), plan.frames, strict=True):
        yield (
            f"frames/{name}-frame",
            f"{built.name}, the frame",
            _frame,
            (built, plan.cut_list, head, f"{name}-frame", next(pages)),
        )
    for index, layout in enumerate(plan.sheets, start=1):
        yield (
            f"sheets/sheet-{index}",
            sheet_title(index, layout, plan.project.units),
            _sheet,
            (_unpriced(layout), _lines_on(plan, layout), head, index, next(pages)),
        )


def _lines_of(plan: Plan, mold: str) -> tuple[CutLine, ...]:
    """The lines of the cut list that are of one mold or centre."""
    return tuple(line for line in plan.cut_list if line.mold == mold)


def _lines_on(plan: Plan, layout: SheetLayout) -> tuple[CutLine, ...]:
    """The lines of the cut list that are cut from one sheet."""
    labels = {spot.label for placed in layout.placed for spot in spots(placed)}
    return tuple(line for line in plan.cut_list if line.label in labels)


def _unpriced(layout: SheetLayout) -> SheetLayout:
    return replace(layout, stock=replace(layout.stock, price=None, limit=None))


def _piece(piece: Piece, head: Project, number: str, page: str) -> Scene:
    from formwork.drawings.piece import piece_drawing  # noqa: PLC0415 - DXF and polygons are slow to load

    return piece_drawing(piece, head, number=number, page=page)


def _mold(mold: Mold, lines: tuple[CutLine, ...], head: Project, number: str, page: str) -> Scene:
    from formwork.drawings.mold import mold_drawing  # noqa: PLC0415 - DXF and polygons are slow to load

    return mold_drawing(mold, lines, head, number=number, page=page)


def _details(mold: Mold, lines: tuple[CutLine, ...], head: Project, number: str, page: str) -> Scene:
    from formwork.drawings.details import details_drawing  # noqa: PLC0415 - the same

    return details_drawing(mold, lines, head, number=number, page=page)


def _apart(mold: Mold, lines: tuple[CutLine, ...], head: Project, number: str, page: str) -> Scene:
    from formwork.drawings.exploded import exploded_drawing  # noqa: PLC0415 - the same

    return exploded_drawing(mold, lines, head, number=number, page=page)


def _centre(centre: BuiltCentre, lines: tuple[CutLine, ...], head: Project, number: str, page: str) -> Scene:
    from formwork.drawings.centre import centre_drawing  # noqa: PLC0415 - DXF and polygons are slow to load

    return centre_drawing(centre, lines, head, number=number, page=page)


def _frame(built: BuiltFrame, lines: tuple[CutLine, ...], head: Project, number: str, page: str) -> Scene:
    from formwork.drawings.built_frame import frame_drawing  # noqa: PLC0415 - the same

    return frame_drawing(built, lines, head, number=number, page=page)


def _sheet(layout: SheetLayout, lines: tuple[CutLine, ...], head: Project, index: int, page: str) -> Scene:
    from formwork.drawings.sheet import sheet_drawing  # noqa: PLC0415 - DXF and polygons are slow to load

    return sheet_drawing(layout, lines, head, index=index, number=f"sheet-{index}", page=page)
