"""The packet: every document of a plan, written to one folder whole or not at all."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from formwork.molds.structure import BuiltFrame
from formwork.packet import spreadsheets
from formwork.packet.cut_sections import sheet_title
from formwork.packet.document import to_json
from formwork.packet.drawing_pages import Drawing
from formwork.packet.folder import Listing, write_folder
from formwork.packet.page import Picture, page
from formwork.packet.papers import Paper, usual_paper
from formwork.packet.sections import sections
from formwork.packet.text import print_out
from formwork.plan import Plan
from formwork.record import record

if TYPE_CHECKING:
    from formwork.drawings.scene import Scene
    from formwork.solids.build import Model

Progress = Callable[[str], None]
_LONGEST = 60


@record
class Written:
    """What was written: how many files, and which of a person's own were kept beside them."""

    count: int
    kept: tuple[str, ...]


@record
class _Shelf:
    """The folder being filled, and what has been put there."""

    folder: Path
    listing: list[tuple[str, str]]

    def put(self, name: str, about: str, text: str) -> None:
        """Write a text under a name and list it."""
        self.place(name, about).write_text(text, encoding="utf-8", newline="")

    def put_bytes(self, name: str, about: str, content: bytes | None) -> None:
        """Write bytes under a name and list it, if there are any."""
        if content is not None:
            self.place(name, about).write_bytes(content)

    def place(self, name: str, about: str) -> Path:
        """The path of a file that something else writes; its folder is made and the file is listed."""
        path = self.folder / name
        path.parent.mkdir(exist_ok=True)
        self.listing.append((name, about))
        return path


def write_packet(
    plan: Plan, folder: Path, progress: Progress, *, solids: bool = True, paper: Paper | None = None
) -> Written:
    """Write every document of a plan.

    Args:
        plan: the plan.
        folder: where to; an older packet there is replaced once this one is complete.
        progress: told in a few words what is being done.
        solids: write the 3-D files and the pictures too; they need the CAD kernel, which takes seconds to load.
        paper: that the job sheets are printed on; without it what is usual where the plan's units are used.

    Raises:
        OutputError: if the folder cannot be written to or is not ours to replace.
        KernelError: if the CAD kernel cannot be loaded.
    """
    count = 0

    def fill(fresh: Path) -> Listing:
        nonlocal count
        shelf = _Shelf(fresh, [])
        _put_lists(plan, shelf)
        drawings = _put_drawings(plan, shelf, progress)
        shaped = _put_solids(plan, shelf, progress) if solids and (plan.molds or plan.frames) else []
        _put_printed(plan, shelf, drawings, shaped, paper or usual_paper(plan.project.units), progress)
        drawn = [Picture(f"{one.about}, drawing", one.svg, f"{one.name}.svg") for one in drawings]
        pictures = [*shaped, *drawn]
        files = tuple(shelf.listing)
        shelf.put("index.html", "start here", page(plan, files, pictures))
        count = len(shelf.listing)
        return tuple(shelf.listing)

    kept = write_folder(folder, fill)
    return Written(count, kept)


def _put_lists(plan: Plan, shelf: _Shelf) -> None:
    job = print_out(sections(plan, working=True))
    shelf.put("job-sheet.txt", "everything in plain text, with the working of every check", job)
    shelf.put("cut-list.csv", "what to cut, for a spreadsheet", spreadsheets.cut_list(plan))
    shelf.put("buy-list.csv", "what to buy, for a spreadsheet", spreadsheets.buy_list(plan))
    if plan.pours:
        shelf.put("batches.csv", "what goes in the mixer, for a spreadsheet", spreadsheets.batches(plan))
    shelf.put("plan.json", "the whole plan, for other programs", to_json(plan))


def _put_drawings(plan: Plan, shelf: _Shelf, progress: Progress) -> list[Drawing]:
    """DXF and SVG of each piece, mold, frame and cut sheet; the drawings for the pages."""
    from formwork.drawings.dxf import dxf  # noqa: PLC0415 - DXF and polygons are slow to load
    from formwork.drawings.svg import svg  # noqa: PLC0415 - the same

    drawn: list[Drawing] = []
    for name, about, draw in _drawings(plan):
        progress(f"drawing {about}")
        scene = draw()
        picture = svg(scene)
        shelf.put(f"{name}.dxf", f"{about}, for CAD", dxf(scene))
        shelf.put(f"{name}.svg", f"{about}, to look at and print", picture)
        drawn.append(Drawing(name, about, scene, picture))
    return drawn


def _put_printed(
    plan: Plan,
    shelf: _Shelf,
    drawings: list[Drawing],
    shaped: list[Picture],
    paper: Paper,
    progress: Progress,
) -> None:
    """What is printed on paper: job sheets, and where parts are cut their labels and full-size templates."""
    from formwork.packet.full_size import for_plotter, full_size  # noqa: PLC0415 - only the packet prints
    from formwork.packet.job_sheets import job_sheets  # noqa: PLC0415 - the same
    from formwork.packet.labels import labels  # noqa: PLC0415 - the same

    progress(f"setting the job sheets on {paper.name}")
    sheets = job_sheets(plan, drawings, shaped, paper)
    shelf.put_bytes(
        "job-sheets.pdf", f"the job sheets, to print on {paper.name}: everything to work by", sheets
    )
    progress("setting labels and full-size templates")
    shelf.put_bytes("labels.pdf", "a label for every part", labels(plan, paper))
    about = "parts with slants, curves or openings, at full size"
    shelf.put_bytes("templates.pdf", f"{about}: print at 100 % and measure the bars", full_size(plan, paper))
    _put_templates_for_cad(plan, shelf, about)
    shelf.put_bytes("templates-plotter.pdf", f"{about}, on one large page for a plotter", for_plotter(plan))


def _put_templates_for_cad(plan: Plan, shelf: _Shelf, about: str) -> None:
    from formwork.drawings.dxf import dxf  # noqa: PLC0415 - DXF and polygons are slow to load
    from formwork.packet.template_drawing import template_drawing  # noqa: PLC0415 - the same

    drawn = template_drawing(plan)
    if drawn is not None:
        shelf.put("templates.dxf", f"{about}, for CAD: arcs are arcs", dxf(drawn))


def _drawings(plan: Plan) -> Iterator[tuple[str, str, Callable[[], Scene]]]:
    """Name, what it shows, and how to draw it, for each drawing of the packet."""
    from formwork.drawings.built_frame import frame_drawing  # noqa: PLC0415 - DXF and polygons are slow to load
    from formwork.drawings.centre import centre_drawing  # noqa: PLC0415 - the same
    from formwork.drawings.mold import mold_drawing  # noqa: PLC0415 - DXF and polygons are slow to load
    from formwork.drawings.piece import piece_drawing  # noqa: PLC0415 - the same
    from formwork.drawings.sheet import sheet_drawing  # noqa: PLC0415 - the same

    names = plain_names([mold.piece.name for mold in plan.molds])
    total = 2 * len(plan.molds) + len(plan.centres) + len(plan.frames) + len(plan.sheets)
    pages = (f"{number} / {total}" for number in range(1, total + 1))
    for name, mold in zip(names, plan.molds, strict=True):
        yield (
            f"pieces/{name}-piece",
            f"{mold.piece.name}, the piece",
            partial(piece_drawing, mold.piece, plan.project, number=f"{name}-piece", page=next(pages)),
        )
        yield (
            f"molds/{name}-mold",
            mold.name,
            partial(mold_drawing, mold, plan.cut_list, plan.project, number=f"{name}-mold", page=next(pages)),
        )
    for name, centre in zip(plain_names([one.name for one in plan.centres]), plan.centres, strict=True):
        yield (
            f"centres/{name}",
            centre.name,
            partial(centre_drawing, centre, plan.cut_list, plan.project, number=name, page=next(pages)),
        )
    for name, built in zip(plain_names([frame.name for frame in plan.frames]), plan.frames, strict=True):
        yield (
            f"frames/{name}-frame",
            f"{built.name}, the frame",
            partial(
                frame_drawing, built, plan.cut_list, plan.project, number=f"{name}-frame", page=next(pages)
            ),
        )
    for number, layout in enumerate(plan.sheets, start=1):
        yield (
            f"sheets/sheet-{number}",
            sheet_title(number, layout, plan.project.units),
            partial(
                sheet_drawing,
                layout,
                plan.cut_list,
                plan.project,
                index=number,
                number=f"sheet-{number}",
                page=next(pages),
            ),
        )


def _put_solids(plan: Plan, shelf: _Shelf, progress: Progress) -> list[Picture]:
    """STEP, STL and GLB of each piece, mold and centre, their pictures; STEP and GLB of each frame."""
    progress("loading the CAD kernel for the 3-D files (some seconds)")
    from formwork.geometry.planes import Planes  # noqa: PLC0415 - with the kernel
    from formwork.solids import (  # noqa: PLC0415 - with the kernel
        empty_mold_model,
        mold_model,
        picture_svg,
        piece_model,
    )

    pictures: list[Picture] = []
    for name, mold in zip(plain_names([mold.piece.name for mold in plan.molds]), plan.molds, strict=True):
        piece = mold.piece
        for place, about, what, model in (
            (
                f"pieces/{name}-piece",
                f"{piece.name}, the piece",
                piece,
                partial(piece_model, Planes(), piece),
            ),
            (f"molds/{name}-mold", mold.name, mold, partial(mold_model, mold)),
        ):
            progress(f"shaping {about}")
            _put_models(shelf, place, about, model())
            picture = picture_svg(what)
            shelf.put(f"{place}-picture.svg", f"{about}, a picture", picture)
            pictures.append(Picture(about, picture, f"{place}-picture.svg"))
    for name, centre in zip(plain_names([one.name for one in plan.centres]), plan.centres, strict=True):
        progress(f"shaping {centre.name}")
        _put_models(shelf, f"centres/{name}", centre.name, empty_mold_model(centre))
        picture = picture_svg(centre)
        shelf.put(f"centres/{name}-picture.svg", f"{centre.name}, a picture", picture)
        pictures.append(Picture(centre.name, picture, f"centres/{name}-picture.svg"))
    for name, built in zip(plain_names([frame.name for frame in plan.frames]), plan.frames, strict=True):
        progress(f"shaping {built.name}, the frame")
        _put_frame(shelf, f"frames/{name}-frame", built)
    return pictures


def _put_frame(shelf: _Shelf, place: str, built: BuiltFrame) -> None:
    """A frame's pipes, as STEP and as a mesh coarse enough for hundreds of round things."""
    from formwork.solids import frame_model, write_glb, write_step  # noqa: PLC0415 - with the kernel

    model, about = frame_model(built), f"{built.name}, the frame"
    write_step(shelf.place(f"{place}.step", f"{about}, exact, for CAD (mm)"), model)
    about = f"{about}, as a mesh to turn about on a screen"
    write_glb(shelf.place(f"{place}.glb", about), model, chord=0.002, angle=0.5)


def _put_models(shelf: _Shelf, place: str, about: str, model: Model) -> None:
    from formwork.solids import write_glb, write_step, write_stl  # noqa: PLC0415 - with the kernel

    write_step(shelf.place(f"{place}.step", f"{about}, exact, for CAD (mm)"), model)
    write_stl(shelf.place(f"{place}.stl", f"{about}, as a mesh (mm)"), model)
    write_glb(shelf.place(f"{place}.glb", f"{about}, as a mesh to turn about on a screen"), model)


def plain_names(names: list[str]) -> list[str]:
    """File names that every system takes, made of names that people give: small letters, figures and hyphens.

    >>> plain_names(["Größe 2", "grosse 2", "///"])
    ['grosse-2', 'grosse-2-2', 'piece']
    >>> plain_names(["Bed", "bed"])
    ['bed', 'bed-2']
    """
    made: list[str] = []
    for name in names:
        letters = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
        plain = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:_LONGEST] or "piece"
        made.append(next(each for each in _variants(plain) if each not in made))
    return made


def _variants(name: str) -> Iterator[str]:
    yield name
    number = 2
    while True:
        yield f"{name}-{number}"
        number += 1
