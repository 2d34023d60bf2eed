"""The job sheets: one PDF that a person carries to the yard, to the saw and to the mixer.

It prints the same sections as the terminal and the front page, so no figure can differ; what is added is the order of
the work, room to tick and to write, and the drawings on paper of the size that lies in the printer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil
from typing import Any

from formwork.packet.assembly_pages import assembly_parts, without_steps
from formwork.packet.batch_sheets import batch_entries
from formwork.packet.blocks import Block, Line, Points, Section, Steps
from formwork.packet.corrections import correction_entries
from formwork.packet.cut_sections import bound_line, sheet_blocks, sheet_title, stick_blocks, trims
from formwork.packet.drawing_pages import TITLE, Drawing, Page, Shown, first_view, room, spread, views, whole
from formwork.packet.page import Picture
from formwork.packet.papers import Paper
from formwork.packet.print_blocks import Entry, entries
from formwork.packet.row_words import how_marked
from formwork.packet.sections import passes, sections, verdict
from formwork.packet.stick_bars import stick_bars
from formwork.packet.typeset import BREAK, breakable, typeset
from formwork.plan import Plan
from formwork.record import record

TEMPLATE = "job-sheets.typ"
_COVER_HEIGHT = 82.0
_HEAD = (2.2, 84.0)
"""Height of capitals in the running head, and half of its length on the narrowest paper, mm."""
_MOST_ON_COVER = 6
_BOTH_ON_COVER = 4
"""Up to so many pictures of pieces and molds stand on the cover; of more only those of the pieces."""
_NARROW, _ON_A_PAGE = 50, 80
"""A table of so few letters across has room for another beside it; one of more rows goes on over pages instead."""
_ROW = 5.9
"""Height of a row of a table of cuts, mm."""
_CAPTION, _LINE, _LETTER = 7.0, 5.0, 2.4
"""Of a picture's caption, of a line of words under it, and of its capitals: height, mm."""
_TICKED: dict[str, str | int] = {"buy": 1, "cuts": "pieces"}
"""Which sections have boxes to tick: how many a row, or the column that says so."""
_TO_FILL_IN = ("revision", "approved by", "date of issue")
"""Fields of a title block that a person fills in."""
_OWN_PLACE = frozenset({"start", "layouts", "pours", "mix", "mix-working"})
"""Sections whose blocks stand elsewhere than under their own title."""
_READING_ORDER: tuple[tuple[str, ...], ...] = (
    ("pieces", "assumed"),
    ("cautions",),
    ("buy",),
    ("cuts", "centres", "frames"),
)
_BUILDING_ORDER: tuple[tuple[str, ...], ...] = (("molds", "cast-in", "stripping"), ("checks", "not-checked"))


@record
class _Pages:
    """Pages being laid out, and the pictures that they show."""

    pages: list[Entry]
    pictures: dict[str, str]

    def add(self, parts: Sequence[Entry], *, lying: bool = False, narrow: bool = False) -> None:
        """Begin a new page with these parts, if there are any; narrow margins give drawings more room."""
        if parts:
            headed = [{**part, "running": _running(part["title"])} for part in parts]
            self.pages.append({"lying": lying, "narrow": narrow, "parts": headed})

    def picture(self, shown: Shown) -> Entry:
        """Keep a picture under a file name of its own."""
        name = f"picture-{len(self.pictures) + 1}.svg"
        self.pictures[name] = shown.svg
        return {
            "file": name,
            "width": shown.width,
            "height": shown.height,
            "caption": breakable(shown.caption),
        }


def job_sheets(plan: Plan, drawings: Sequence[Drawing], pictures: Sequence[Picture], paper: Paper) -> bytes:
    """The job sheets as a PDF.

    Args:
        plan: the plan.
        drawings: of pieces, molds and cut sheets, the cut sheets in the plan's order.
        pictures: of pieces and molds, for the cover; without any, the drawings of the pieces stand there.
        paper: to print on.

    Raises:
        InternalError: if the page template refuses the plan.
    """
    return typeset(TEMPLATE, *pages(plan, drawings, pictures, paper))


def pages(
    plan: Plan, drawings: Sequence[Drawing], pictures: Sequence[Picture], paper: Paper
) -> tuple[Entry, dict[str, str]]:
    """What the page template reads, and its pictures by file name; arguments as for ``job_sheets``."""
    told = sections(plan, working=True)
    found = {one.name: replace(one, blocks=tuple(without_steps(one.blocks, plan))) for one in told}
    laid = _Pages([], {})
    cover = _cover(plan, found["start"], drawings, pictures, laid, paper)
    for names in _READING_ORDER:
        laid.add(_parts(found, names))
    _sheet_pages(plan, [one for one in drawings if _of_sheet(one)], laid, paper)
    laid.add(_sticks(plan))
    _drawing_pages([one for one in drawings if not _of_sheet(one)], laid, paper)
    for title, blocks in assembly_parts(plan, laid.picture):
        laid.add([_part(title, blocks)])
    for names in _BUILDING_ORDER:
        laid.add(_parts(found, names))
    laid.add(batch_entries(plan, found.get("mix")), lying=True)
    laid.add(correction_entries(plan))
    listed = {name for names in (*_READING_ORDER, *_BUILDING_ORDER) for name in names} | _OWN_PLACE
    laid.add(_parts(found, [name for name in found if name not in listed]))
    laid.add(_appendix(found))
    data: dict[str, Any] = {
        "paper": {"width": paper.width, "height": paper.height},
        "title": plan.project.title,
        "running": _running(plan.project.title),
        "cover": cover,
        "pages": laid.pages,
    }
    return data, laid.pictures


def _cover(
    plan: Plan,
    opening: Section,
    drawings: Sequence[Drawing],
    pictures: Sequence[Picture],
    laid: _Pages,
    paper: Paper,
) -> Entry:
    lines = [
        block.text for block in opening.blocks if isinstance(block, Line) and block.text != verdict(plan)
    ]
    shown = _cover_pictures(plan, drawings, pictures, paper)
    return {
        "title": breakable(opening.title),
        "lines": [breakable(line) for line in lines],
        "verdict": verdict(plan),
        "passes": passes(plan),
        "pictures": [laid.picture(one) for one in shown],
        "columns": _across(len(shown)),
    }


def _cover_pictures(
    plan: Plan, drawings: Sequence[Drawing], pictures: Sequence[Picture], paper: Paper
) -> list[Shown]:
    """Pictures of pieces and molds side by side; of many pieces only these, and no more than the cover has room for."""
    if pictures:
        chosen = [(one.title, one.svg, *_size(one.svg)) for one in pictures]
    else:
        solid = [(one.about, first_view(one, paper)) for one in drawings if not _of_sheet(one)]
        chosen = [(about, shown.svg, shown.width, shown.height) for about, shown in solid]
    names = {f"{mold.piece.name}, the piece" for mold in plan.molds}
    if len(chosen) > _BOTH_ON_COVER:
        chosen = ([one for one in chosen if one[0] in names] or chosen)[:_MOST_ON_COVER]
    column, high = _cell(len(chosen), paper)
    return [_scaled(*one, column, high) for one in chosen]


def _cell(number: int, paper: Paper) -> tuple[float, float]:
    """Width and height, mm, that each of so many pictures may take on the cover."""
    across = _across(number)
    down = max(1, -(-number // across))
    return (paper.width - 30.0 - 6.0 * across) / across, _COVER_HEIGHT * paper.height / 297.0 / down


def _across(number: int) -> int:
    """How many of so many pictures stand beside one another on the cover."""
    return 2 if number in (2, 4) else min(3, max(1, number))


def _size(svg: str) -> tuple[float, float]:
    """Width and height that an SVG of ours states, mm."""
    width, height = (float(found) for found in re.findall(r'\b(?:width|height)="([0-9.]+)mm"', svg)[:2])
    return width, height


def _scaled(title: str, svg: str, width: float, height: float, column: float, high: float) -> Shown:
    factor = min(column / width, high / height)
    return Shown(svg, width * factor, height * factor, title)


def _of_sheet(drawing: Drawing) -> bool:
    return drawing.name.startswith("sheets/")


def _parts(found: dict[str, Section], names: Iterable[str]) -> list[Entry]:
    """The sections of these names that the plan has, without the working of checks."""
    parts = []
    for name in names:
        if name in found:
            blocks = entries(_without_steps(found[name].blocks), _TICKED.get(name, 0))
            parts.append(_part(found[name].title, [in_halves_if_narrow(entry) for entry in blocks]))
    return parts


def in_halves_if_narrow(entry: Entry) -> Entry:
    """A long table of few columns of short texts in two halves side by side, everything else as it is."""
    if entry["kind"] != "table" or not 8 < len(entry["rows"]) <= _ON_A_PAGE:
        return entry
    longest = [
        max(len(row[i]) for row in [entry["headings"], *entry["rows"]]) for i in range(len(entry["headings"]))
    ]
    return _pair(entry, 0, len(entry["rows"])) if sum(longest) <= _NARROW else entry


def _part(title: str, blocks: Sequence[Entry], level: int = 1) -> Entry:
    return {"title": breakable(title), "level": level, "blocks": list(blocks)}


def _running(title: str) -> str:
    """A title short enough for half of the running head."""
    from formwork.drawings.lettering import fitted  # noqa: PLC0415 - drawings are slow to load

    return fitted(title.replace(BREAK, ""), _HEAD[0], _HEAD[1])


def _without_steps(blocks: Iterable[Block]) -> list[Block]:
    return [block for block in blocks if not isinstance(block, Steps)]


def _sheet_pages(plan: Plan, drawings: Sequence[Drawing], laid: _Pages, paper: Paper) -> None:
    """A lying page for each way of cutting a sheet: the sheet to scale, and under it or overleaf its cuts in order.

    Trims are told in so many words that each takes a second line, and so is every kind of blank with several parts.
    """
    units, saw = plan.project.units, plan.project.shop.saw
    for number, (cut, drawing) in enumerate(zip(plan.sheets, drawings, strict=True), start=1):
        shown = first_view(drawing, paper)
        placed, *steps = entries(sheet_blocks(number, cut, units, saw), cut.count)
        wrapped = _ROW * (len(trims(cut, saw.trim)) + 2 * len(how_marked(cut, units)))
        under = _halves_that_fit(room(paper)[1] - shown.height - 2 * TITLE - wrapped)
        whole_page = _halves_that_fit(room(paper)[1] - wrapped)
        blocks: list[Entry] = [{"kind": "pictures", "pictures": [laid.picture(shown)]}, placed]
        for entry in steps:
            blocks += _in_halves(entry, under, whole_page) if entry["kind"] == "table" else [entry]
        if shown.height > room(paper)[1] - _CAPTION - _LINE * _lines(placed["text"], paper):
            blocks = _words_overleaf(blocks)
        laid.add([_part(sheet_title(number, cut, units), blocks)], lying=True)


def _lines(text: str, paper: Paper) -> int:
    """How many lines a text takes on a lying page."""
    from formwork.drawings.lettering import width  # noqa: PLC0415 - drawings are slow to load

    return ceil(width(text.replace(BREAK, ""), _LETTER) / room(paper)[0])


def _words_overleaf(blocks: Sequence[Entry]) -> list[Entry]:
    """The picture alone on its page; what lies on the sheet is said on the next one, with the cuts."""
    picture, placed, *rest = blocks
    if rest and rest[0]["kind"] == "overleaf":
        rest = rest[1:]
    return [picture, {"kind": "overleaf"}, placed, *rest]


def _halves_that_fit(height: float) -> int:
    """Rows of two tables side by side, with their headings and the line under them, in so much height, mm."""
    return 2 * max(0, int(height / _ROW) - 3)


def _in_halves(table: Entry, under: int, whole_page: int) -> list[Entry]:
    """A table in two halves side by side: under the picture if it fits there, else on pages of its own.

    Args:
        table: as for the template.
        under: how many rows there is room for under the picture.
        whole_page: how many on a page of their own.
    """
    rows = len(table["rows"])
    if rows <= under:
        return [_pair(table, 0, rows)]
    found: list[Entry] = []
    for start in range(0, rows, whole_page):
        found += [{"kind": "overleaf"}, _pair(table, start, min(rows, start + whole_page))]
    return found


def _pair(table: Entry, start: int, end: int) -> Entry:
    middle = (start + end + 1) // 2
    spans = [span for span in ((start, middle), (middle, end)) if span[0] < span[1]]
    halves = [
        {**table, "kind": "half", **{key: table[key][a:b] for key in ("rows", "boxes", "carried")}}
        for a, b in spans
    ]
    return {"kind": "halves", "halves": halves}


def _sticks(plan: Plan) -> list[Entry]:
    blocks: list[Entry] = []
    if plan.sticks:
        blocks += entries(stick_blocks(plan.sticks, plan.project.units), "sticks")
        blocks.append(stick_bars(plan.sticks, plan.project.units))
    bounds = tuple(bound_line(bound, plan) for bound in plan.bounds)
    blocks += entries([Points(bounds)] if bounds else [])
    title = "Where the cuts fall on the sticks" if plan.sticks else "How near to the least"
    return [_part(title, blocks)] if blocks else []


def _drawing_pages(drawings: Sequence[Drawing], laid: _Pages, paper: Paper) -> None:
    """Each drawing on a lying page; where that reduces it too far, its views at their own scale and its fields."""
    for drawing in drawings:
        title = f"Drawing: {drawing.about}"
        shown = spread(views(drawing, paper), paper)
        if not shown:
            picture = laid.picture(whole(drawing, paper))
            laid.add([_part(title, [{"kind": "pictures", "pictures": [picture]}])], lying=True)
        for number, one in enumerate(shown, start=1):
            of = f", {number} of {len(shown)}" if len(shown) > 1 else ""
            heading = _part(title if number == 1 else f"{drawing.about}{of}", [], 1 if number == 1 else 2)
            blocks = [_set_out(one, laid), _strip(drawing, number, len(shown))]
            laid.add([{**heading, "blocks": blocks}], lying=one.lying, narrow=True)


def _strip(drawing: Drawing, number: int, of: int) -> Entry:
    """The fields of a drawing's title block for the foot of a page that shows views of it."""
    fields = [*drawing.scene.fields, *((name, "") for name in _TO_FILL_IN)]
    if of > 1:
        fields = [
            (name, f"{value}, view {number} of {of}" if name == "page" else value) for name, value in fields
        ]
    return {"kind": "strip", "fields": [[name, breakable(value)] for name, value in fields]}


def _set_out(page: Page, laid: _Pages) -> Entry:
    placed = [{"x": x, "y": y, **laid.picture(shown)} for x, y, shown in page.placed]
    return {"kind": "placed", "width": page.width, "height": page.height, "pictures": placed}


def _appendix(found: dict[str, Section]) -> list[Entry]:
    """The working of every check and of the mix."""
    parts = []
    for section in found.values():
        steps = [block for block in section.blocks if isinstance(block, Steps)]
        name = (
            section.title if section.name.endswith("working") else f"Working of the {section.title.lower()}"
        )
        parts += [_part(f"Appendix: {name}", entries(steps))] if steps else []
    return parts
