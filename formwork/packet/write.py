"""The packet: every document of a plan, written to one folder whole or not at all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, TypeVar

from formwork.errors import InternalError
from formwork.packet.documents import (
    Described,
    Document,
    File,
    Progress,
    Written,
    document,
    write_documents,
)
from formwork.packet.drawn import Drawn, drawn
from formwork.packet.keys import Keys, Shared
from formwork.packet.label_papers import Grid
from formwork.packet.names import plain_names
from formwork.packet.narrowed import narrowed
from formwork.packet.papers import Paper, usual_paper
from formwork.packet.shaped import Shaped, shaped
from formwork.plan import Plan

__all__ = ["Written", "documents", "plain_names", "write_packet"]

_Made = TypeVar("_Made")


def write_packet(
    plan: Plan,
    folder: Path,
    progress: Progress,
    *,
    solids: bool = True,
    paper: Paper | None = None,
    grid: Grid | None = None,
    address: str = "",
) -> Written:
    """Bring a folder to hold every document of a plan; what is there as it should be is not made again.

    Args:
        plan: the plan.
        folder: where to; an older packet there is replaced once this one is complete.
        progress: told in a few words what is being done.
        solids: write the 3-D files and the pictures too; they need the CAD kernel, which takes seconds to load.
        paper: that the job sheets are printed on; without it what is usual where the plan's units are used.
        grid: the label paper; without it the usual one.
        address: under which a telephone in the shop reaches the folder; empty where it cannot.

    Raises:
        OutputError: if the folder cannot be written to or is not ours to replace.
        KernelError: if the CAD kernel cannot be loaded.
    """
    made = documents(plan, solids=solids, paper=paper, grid=grid, address=address)
    return write_documents(folder, made, progress)


def documents(
    plan: Plan,
    *,
    solids: bool = True,
    paper: Paper | None = None,
    grid: Grid | None = None,
    address: str = "",
) -> tuple[Document, ...]:
    """Every document of a plan, none of them made yet; arguments as for ``write_packet``."""
    keys = Keys()
    whole = keys.given(plan)
    drawings = drawn(plan, keys)
    bodies = shaped(plan, keys) if solids else []
    found = [
        *_lists(plan, whole, keys),
        *(one.document for one in drawings),
        *(one.document for one in bodies),
        *_printed(plan, whole, keys, (drawings, bodies), paper or usual_paper(plan.project.units)),
        *_part_labels(plan, keys, paper or usual_paper(plan.project.units), grid, address),
    ]
    return (*found, _front_page(whole, keys, found, _shown(drawings, bodies)))


def _lists(plan: Plan, whole: Shared[Plan], keys: Keys) -> Iterable[Document]:
    for name, about, work, reads in (
        ("job-sheet.txt", "everything in plain text, with the working of every check", _job_sheet, whole),
        ("cut-list.csv", "what to cut, for a spreadsheet", _cut_list, narrowed(plan, "cut_list")),
        ("buy-list.csv", "what to buy, for a spreadsheet", _buy_list, narrowed(plan, "buy")),
        ("batches.csv", "what goes in the mixer, for a spreadsheet", _batches, narrowed(plan, "pours")),
        ("plan.json", "the whole plan, for other programs", _json, whole),
    ):
        if plan.pours or name != "batches.csv":
            yield document(keys, [(name, about)], work, reads, saying="writing the lists")


def _job_sheet(plan: Plan) -> tuple[str]:
    from formwork.packet.sections import sections  # noqa: PLC0415 - a packet that is as it should be needs none
    from formwork.packet.text import print_out  # noqa: PLC0415 - the same

    return (print_out(sections(plan, working=True)),)


def _cut_list(plan: Plan) -> tuple[str]:
    from formwork.packet.spreadsheets import cut_list  # noqa: PLC0415 - as above

    return (cut_list(plan),)


def _buy_list(plan: Plan) -> tuple[str]:
    from formwork.packet.spreadsheets import buy_list  # noqa: PLC0415 - as above

    return (buy_list(plan),)


def _batches(plan: Plan) -> tuple[str]:
    from formwork.packet.spreadsheets import batches  # noqa: PLC0415 - as above

    return (batches(plan),)


def _json(plan: Plan) -> tuple[str]:
    from formwork.packet.document import to_json  # noqa: PLC0415 - as above

    return (to_json(plan),)


def _printed(
    plan: Plan,
    whole: Shared[Plan],
    keys: Keys,
    seen: tuple[Sequence[Drawn], Sequence[Shaped]],
    paper: Paper,
) -> Iterable[Document]:
    """What is printed on paper: job sheets, and where parts are cut their labels and full-size templates."""
    drawings, bodies = seen
    yield document(
        keys,
        [("job-sheets.pdf", f"the job sheets, to print on {paper.name}: everything to work by")],
        _job_sheets,
        whole,
        tuple((one.name, one.about, one.scene, one.svg) for one in drawings),
        tuple((one.about, one.picture) for one in bodies if one.picture),
        paper,
        saying=f"setting the job sheets on {paper.name}",
    )
    yield from _templates(_of_cuts(plan), keys, paper)


def _of_cuts(plan: Plan) -> Plan:
    """What of a plan labels and templates read."""
    return narrowed(plan, "cut_list", "molds", "centres")


def _part_labels(plan: Plan, keys: Keys, paper: Paper, grid: Grid | None, address: str) -> Iterable[Document]:
    if any(line.part.kind != "hardware" for line in plan.cut_list):
        files = [("labels.pdf", "a label for every part")]
        reads = (_of_cuts(plan), paper, grid, address)
        yield document(keys, files, _labels, *reads, saying="setting the labels")


def _templates(cut: Plan, keys: Keys, paper: Paper) -> Iterable[Document]:
    from formwork.packet.patterns import patterns  # noqa: PLC0415 - only the packet asks

    if not patterns(cut):
        return
    about = "parts with slants, curves or openings, at full size"
    print_whole = "print at 100 % and measure the bars"
    for name, what, work, reads in (
        ("templates.pdf", f"{about}: {print_whole}", _full_size, (cut, paper)),
        ("templates.dxf", f"{about}, for CAD: arcs are arcs", _template_drawing, (cut,)),
        ("templates-plotter.pdf", f"{about}, on one large page for a plotter", _for_plotter, (cut,)),
    ):
        yield document(keys, [(name, what)], work, *reads, saying="setting the full-size templates")


def _job_sheets(
    plan: Plan, drawings: tuple[tuple[Any, ...], ...], pictures: tuple[tuple[str, str], ...], paper: Paper
) -> tuple[bytes]:
    from formwork.packet.drawing_pages import Drawing  # noqa: PLC0415 - as above
    from formwork.packet.job_sheets import job_sheets  # noqa: PLC0415 - as above
    from formwork.packet.page import Picture  # noqa: PLC0415 - as above

    shown = [Picture(about, svg) for about, svg in pictures]
    return (job_sheets(plan, [Drawing(*one) for one in drawings], shown, paper),)


def _labels(plan: Plan, paper: Paper, grid: Grid | None, address: str) -> tuple[bytes]:
    from formwork.packet.labels import labels  # noqa: PLC0415 - as above

    return (_some(labels(plan, paper, grid, address)),)


def _full_size(plan: Plan, paper: Paper) -> tuple[bytes]:
    from formwork.packet.full_size import full_size  # noqa: PLC0415 - as above

    return (_some(full_size(plan, paper)),)


def _for_plotter(plan: Plan) -> tuple[bytes]:
    from formwork.packet.full_size import for_plotter  # noqa: PLC0415 - as above

    return (_some(for_plotter(plan)),)


def _template_drawing(plan: Plan) -> tuple[str]:
    from formwork.drawings.dxf import dxf  # noqa: PLC0415 - DXF and polygons are slow to load
    from formwork.packet.template_drawing import template_drawing  # noqa: PLC0415 - the same

    return (dxf(_some(template_drawing(plan))),)


def _some(made: _Made | None) -> _Made:
    """What was listed as a file because there is something to put in it."""
    if made is None:
        raise InternalError("a file of the packet was announced that there is nothing to put in")
    return made


def _shown(drawings: Sequence[Drawn], bodies: Sequence[Shaped]) -> tuple[tuple[str, File], ...]:
    """What the front page shows: a title and a picture each."""
    return (
        *((one.about, one.picture) for one in bodies if one.picture),
        *((f"{one.about}, drawing", one.svg) for one in drawings),
    )


def _front_page(
    whole: Shared[Plan], keys: Keys, found: Sequence[Document], shown: tuple[tuple[str, File], ...]
) -> Document:
    listed = tuple(file for one in found for file in one.files)
    pictures = tuple((title, file.name, file) for title, file in shown)
    files = [("index.html", "start here")]
    return document(keys, files, _page, whole, listed, pictures, saying="writing the front page")


def _page(plan: Plan, files: Described, pictures: tuple[tuple[str, str, str], ...]) -> tuple[str]:
    from formwork.packet.page import Picture, page  # noqa: PLC0415 - as above

    return (page(plan, files, [Picture(title, svg, link) for title, link, svg in pictures]),)
