"""The printed job sheets: read back by another program's PDF reader, page by page, and compared with the lists."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace

import pypdfium2
import pytest

from formwork.checks.check import Check
from formwork.drawings.scene import bounds
from formwork.drawings.svg import svg
from formwork.errors import InternalError
from formwork.packet import spreadsheets
from formwork.packet.blocks import Line, Points, Table
from formwork.packet.drawing_pages import Drawing, crop, first_view, room, spread, views, whole
from formwork.packet.drawn import scenes
from formwork.packet.job_sheets import in_halves_if_narrow, job_sheets, pages
from formwork.packet.papers import PAPERS, usual_paper
from formwork.packet.print_blocks import entries, together
from formwork.packet.typeset import breakable, needs_other_fonts, typeset
from formwork.packet.write import write_packet
from formwork.plan import CutLine

PUBLISHED = {
    "A4": (210, 297),
    "A3": (297, 420),
    "Letter": (8.5 * 25.4, 11 * 25.4),
    "Tabloid": (11 * 25.4, 17 * 25.4),
}
"""ISO 216:2007, table of the A series, mm; ANSI/ASME Y14.1, sizes A and B (from memory), inches."""


@pytest.fixture(scope="module")
def drawings(make_plan) -> list[Drawing]:
    """Drawings cost more than printing them: made once, whatever else of the plan a test changes."""
    return [Drawing(name, about, scene, svg(scene)) for name, about, scene in scenes(make_plan())]


@pytest.fixture(scope="module")
def printed(drawings):
    def put_out(plan, paper="A4") -> bytes:
        kept = {"pieces": plan.molds, "molds": plan.molds, "sheets": plan.sheets}
        shown = [one for one in drawings if kept[one.name.partition("/")[0]]]
        return job_sheets(plan, shown, [], PAPERS[paper])

    return put_out


def texts(pdf: bytes) -> list[str]:
    """The text of each page, blanks and line ends as one blank."""
    return [re.sub(r"\s+", " ", page.get_textpage().get_text_range()) for page in pypdfium2.PdfDocument(pdf)]


def sizes(pdf: bytes) -> list[tuple[float, float]]:
    return [tuple(side * 25.4 / 72 for side in page.get_size()) for page in pypdfium2.PdfDocument(pdf)]


def page_with(found: list[str], title: str) -> str:
    return next(page for page in found[1:] if title in page)


@pytest.fixture(scope="module")
def pdf(make_plan, printed) -> bytes:
    return printed(make_plan())


@pytest.mark.parametrize("name", sorted(PAPERS))
def test_every_page_has_the_size_of_the_paper_standing_or_lying(plan, name, printed):
    width, height = PUBLISHED[name]
    for size in sizes(printed(plan, name)):
        assert sorted(size) == pytest.approx(sorted((width, height)), abs=0.05)


def test_paper_follows_the_units():
    assert (usual_paper("in").name, usual_paper("mm").name) == ("Letter", "A4")


def test_pages_are_numbered_through_and_the_contents_name_the_page_of_each_part(pdf):
    found = texts(pdf)
    for number, page in enumerate(found, start=1):
        assert f"page {number} of {len(found)}" in page
    listed = re.findall(r"([A-Z][^.]*?) (?:\. )+(\d+)", found[0].partition("Contents")[2])
    assert {"To buy", "Cut list", "Batch sheets", "Cautions"} <= {title for title, _ in listed}
    for title, page in listed:
        assert title in found[int(page) - 1]


def test_cover_says_what_is_cast_and_whether_it_may_be_built(plan, pdf):
    cover = texts(pdf)[0]
    assert plan.project.title in cover and "To cast: 2 slab." in cover and "All 2 checks pass." in cover


def test_a_failing_check_is_told_on_the_cover_and_in_its_row(plan, printed):
    bad = Check("side panels", "slab mold", 2.0, 1.0, "N", False, "thin plate", ("p = 2",), "a brace")
    found = texts(printed(replace(plan, checks=(bad,))))
    assert "1 of 1 check FAIL" in found[0]
    assert "FAILS" in page_with(found, "Checks") and "a brace" in page_with(found, "Checks")


def test_marks_and_figures_are_those_of_the_cut_list_for_a_spreadsheet(plan, pdf):
    page = page_with(texts(pdf), "Cut list")
    rows = list(csv.DictReader(io.StringIO(spreadsheets.cut_list(plan), newline="")))
    assert rows
    for row in rows:
        sizes = " ".join(f"{float(row[f'{way} (mm)']):g}" for way in ("length", "width", "thickness"))
        assert f"{row['mark']} {row['part']} {row['pieces']} {row['from']} {sizes} {row['grain']}" in page


def test_inches_print_the_fractions_of_the_cut_list_for_a_spreadsheet(plan, printed):
    inches = replace(plan, project=replace(plan.project, units="in"))
    page = page_with(texts(printed(inches, "Letter")), "Cut list")
    for row in csv.DictReader(io.StringIO(spreadsheets.cut_list(inches), newline="")):
        assert f" {row['length, nearest 1/16 in']} " in page and f" {row['width, nearest 1/16 in']} " in page
        assert f"({row['length (in)']})" in page


def test_what_is_bought_stands_on_one_page_with_its_costs(plan, pdf):
    page = page_with(texts(pdf), "To buy")
    for line in plan.buy:
        assert line.item in page
    assert "52.5" in page


def test_every_section_of_the_terminal_is_printed(plan, pdf):
    whole_text = " ".join(texts(pdf))
    for line in (*plan.cautions, *plan.mix.warnings, plan.not_checked[0].why, *plan.project.shop.assumed):
        assert line in whole_text
    for mold in plan.molds:
        assert all(line in whole_text for line in mold.instructions)
    for check in plan.checks:
        assert check.name in whole_text and all(step in whole_text for step in check.working)


def test_sheets_are_drawn_to_their_scale_with_their_cuts_in_order(plan, pdf, drawings):
    """2440 mm at 1:10 is 244 mm: measured on the page as the longest level line."""
    (drawing,) = [one for one in drawings if one.name.startswith("sheets/")]
    shown = first_view(drawing, PAPERS["A4"])
    assert "1:10" in shown.caption
    x = [
        float(x)
        for x in re.search(r'class="SHEET-EDGE".*?points="(.*?)"', shown.svg, re.S)[1]
        .replace(",", " ")
        .split()[::2]
    ]
    assert max(x) - min(x) == pytest.approx(244.0, abs=0.01)
    assert f'width="{shown.width:g}mm"' in shown.svg
    of_sheet = " ".join(page for page in texts(pdf)[1:] if "Sheet 1: ply 18" in page)
    first, second = "1 sheet across 636 left end", "2 piece 1 along the length 436 lower edge"
    assert 0 < of_sheet.index(first) < of_sheet.index(second)


@pytest.mark.parametrize(
    ("cuts", "paper", "more_pages"),
    [(2, "A3", 0), (24, "A3", 0), (40, "A3", 1), (2, "A4", 1), (150, "Letter", 3)],
)
def test_cuts_stand_under_their_sheet_where_there_is_room_else_overleaf_none_lost(
    plan, printed, cuts, paper, more_pages
):
    (layout,) = plan.sheets
    steps = tuple(replace(layout.cuts[0], at=0.001 * n) for n in range(1, cuts + 1))
    found = texts(printed(replace(plan, sheets=(replace(layout, cuts=steps),)), paper))
    of_sheet = [page for page in found[1:] if "Sheet 1: ply 18" in page]
    assert len(of_sheet) == 1 + more_pages
    joined = " ".join(of_sheet)
    for n in range(1, cuts + 1):
        assert f" {n} sheet across {n} left end piece 1 and piece 2" in joined
    assert of_sheet[-1].count("(offcut = true): offcut 1a, 1781 x 1200 mm.") == 1


def test_what_lies_on_a_tall_sheet_is_said_with_its_cuts_and_never_alone_on_a_page(plan):
    """A square sheet of 1525 mm at 1:10 fills the height of a lying A4: the words and the cuts share the next page."""
    (layout,) = plan.sheets
    square = replace(layout, stock=replace(layout.stock, length=1.525, width=1.525))
    tall = replace(plan, sheets=(square,))
    drawn = [Drawing(name, about, scene, svg(scene)) for name, about, scene in scenes(tall)]
    found = texts(job_sheets(tall, drawn, [], PAPERS["A4"]))
    of_sheet = [page for page in found[1:] if "Sheet 1: ply 18" in page]
    assert len(of_sheet) == 2
    assert "On it:" not in of_sheet[0]
    assert "On it:" in of_sheet[1] and " 1 sheet across 636 left end" in of_sheet[1]


def test_bars_of_sticks_say_what_is_cut_and_left(plan, pdf):
    """2400 mm less 636 + 636 + 400 mm and the kerfs."""
    page = page_with(texts(pdf), "Where the cuts fall on the sticks")
    assert "45 x 45, 2400 mm: 719 mm left over" in page
    assert re.search("A6 A6 A7", page)


def test_batch_sheets_have_a_line_for_every_batch_of_every_pour_under_what_is_wanted(plan, pdf):
    page = page_with(texts(pdf), "Batch sheets")
    assert "wanted 11.7 kg" in page
    assert re.search(r"1200 kg/m3 1 1 2 1 ", page)


def test_the_same_plan_gives_the_same_bytes(plan, pdf, printed):
    assert printed(plan) == pdf


def test_nothing_on_a_page_lies_outside_its_margins(pdf):
    for page in pypdfium2.PdfDocument(pdf):
        width, height = page.get_size()
        for thing in page.get_objects():
            x0, y0, x1, y1 = thing.get_bounds()
            assert x0 >= 10 and y0 >= 10 and x1 <= width - 10 and y1 <= height - 10


def test_long_names_are_broken_and_stay_on_the_page(plan, printed):
    name = "Gartenpflanzkastenseitenwandverstärkungsleiste" * 3
    line = plan.cut_list[0]
    long = replace(
        plan,
        project=replace(plan.project, title=name),
        cut_list=(CutLine(line.label, name, (name,), line.part, 1), *plan.cut_list[1:]),
        cautions=(name,),
    )
    pdf = printed(long)
    test_nothing_on_a_page_lies_outside_its_margins(pdf)
    assert name in "".join(texts(pdf)).replace(" ", "").replace("\u200b", "").replace("\ufffe", "")


def test_a_hundred_kinds_of_part_are_all_printed_and_the_heading_is_repeated(plan, printed):
    line = plan.cut_list[1]
    many = tuple(CutLine(f"A{n}", line.mold, (f"panel number {n}",), line.part, 3) for n in range(1, 101))
    found = texts(printed(replace(plan, cut_list=many, sheets=(), sticks=(), molds=(), pieces=(), pours=())))
    cut_pages = [page for page in found[1:] if "good side" in page]
    assert len(cut_pages) > 1
    together_text = " ".join(cut_pages)
    assert all(f"A{n} panel number {n} 3 ply 18" in together_text for n in range(1, 101))


def test_a_row_stays_whole_and_a_long_title_keeps_to_one_line_of_the_head(plan, printed):
    line = plan.cut_list[1]
    names = [f"panel with a name that takes several lines of its column, number {n}" for n in range(1, 61)]
    many = tuple(CutLine(f"A{n}", line.mold, (name,), line.part, 3) for n, name in enumerate(names, start=1))
    title = "A very long title of a job that would take two lines at the head of every page, and then some"
    project = replace(plan.project, title=title)
    found = texts(printed(replace(plan, cut_list=many, sheets=(), project=project)))
    pages_of = [page for page in found[1:] if "good side" in page]
    for n, name in enumerate(names, start=1):
        assert sum(f"A{n} {name} 3 ply 18" in page for page in pages_of) == 1
    assert all(
        re.search(r"^A very long title of a job that would take two lines[^.]*\.\.\. Cut list", page)
        for page in pages_of
    )


def test_one_part_and_nothing_else(plan, printed):
    single = replace(
        plan, cut_list=plan.cut_list[:1], sheets=(), sticks=(), bounds=(), buy=(), cautions=(), checks=()
    )
    found = texts(printed(single))
    assert "A1 base 1 ply 18" in page_with(found, "Cut list")


@pytest.mark.parametrize(
    "title", ["Θόλος στον κήπο", "Купол над колодцем", "Größe ½ × ¾", "*bold* #let x = 1 $y$ \\"]
)
def test_titles_in_other_letters_are_set_with_the_fonts_that_come_along_and_nothing_is_read_as_markup(
    plan, title, printed
):
    assert not needs_other_fonts(title)
    cover = texts(printed(replace(plan, project=replace(plan.project, title=title))))[0]
    assert title in cover


def test_letters_that_the_fonts_lack_are_looked_for_on_the_machine():
    assert needs_other_fonts("井戸の屋根") and needs_other_fonts("قبة")
    assert typeset("job-sheets.typ", {"paper": {"width": 210, "height": 297}, "title": "井戸", "pages": [], "cover": {
        "title": "井戸", "lines": [], "verdict": "ok", "passes": True, "pictures": []}}, {}).startswith(b"%PDF")  # fmt: skip


def test_a_template_that_fails_says_which():
    with pytest.raises(InternalError, match=r"job-sheets\.typ"):
        typeset("job-sheets.typ", {}, {})


def test_words_are_broken_only_where_they_are_too_long():
    assert (
        breakable("left panel, right panel of the outer mold") == "left panel, right panel of the outer mold"
    )
    assert breakable("x" * 40).replace("\u200b", "") == "x" * 40


def test_lists_that_say_the_same_are_printed_once():
    same = Points(("Oil it.",))
    blocks = [Line("one:"), same, Line("two:"), same, Line("three:"), Points(("Leave it.",))]
    assert together(blocks) == [Line("one, two:"), same, Line("three:"), Points(("Leave it.",))]


def test_saw_settings_carry_their_mark_down_and_stand_in_two_halves_where_they_are_many():
    rows = tuple((f"A{n}" if n % 3 == 0 else "", "both ends", "6.1 deg", "0.7 deg", "in") for n in range(12))
    (entry,) = entries([Table(("mark", "edges", "mitre", "blade tilt", "leaning"), rows)])
    assert [row[0] for row in entry["rows"]] == ["A0"] * 3 + ["A3"] * 3 + ["A6"] * 3 + ["A9"] * 3
    assert entry["carried"] == [n % 3 != 0 for n in range(12)]
    halves = in_halves_if_narrow(entry)["halves"]
    assert [row for half in halves for row in half["rows"]] == entry["rows"]
    assert [len(half["rows"]) for half in halves] == [6, 6]
    wide = {**entry, "rows": [["A0", "x" * 60, "", "", ""]] * 12}
    assert in_halves_if_narrow(wide) is wide


def test_rows_have_a_box_for_each_piece_or_one_for_many(plan, drawings):
    data, _ = pages(plan, drawings, [], PAPERS["A4"])
    parts = {part["title"]: part for page in data["pages"] for part in page["parts"]}
    assert parts["Cut list"]["blocks"][0]["boxes"] == [1] * 5
    assert entries([], "pieces") == []


def test_views_are_shown_again_where_the_whole_drawing_is_reduced_too_far(plan, drawings):
    mold = next(one for one in drawings if one.name.startswith("molds/"))
    assert views(mold, PAPERS["A3"]) == []
    shown = views(mold, PAPERS["A4"])
    assert len(shown) == len(mold.scene.windows) + len(mold.scene.lists) > len(mold.scene.windows)
    width, height = room(PAPERS["A4"])
    assert whole(mold, PAPERS["A4"]).width <= width
    for page in spread(shown, PAPERS["A4"]):
        assert page.width <= max(width, height) and page.placed
    assert sum(len(page.placed) for page in spread(shown, PAPERS["A4"])) == len(shown)


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_every_field_of_a_title_block_is_printed_whether_the_drawing_is_shown_whole_or_in_views(
    plan, printed, paper
):
    """The fields of ISO 7200 (from memory): owner, number, dates, title, kind, creator, approval, page, language."""
    (page,) = [one for one in texts(printed(plan, paper)) if "mold drawing" in one and "SCALE" in one][:1]
    for caption in ("legal owner", "title", "supplementary title", "document type", "identification number", "page",
                    "creator", "approved by", "date of issue", "revision", "language", "sizes in", "scale"):  # fmt: skip
        assert caption in page, caption
    assert plan.project.shop.name in page and "slab-mold" in page


def test_pictures_set_out_on_a_page_do_not_overlap(plan, drawings):
    for drawing in drawings:
        for page in spread(views(drawing, PAPERS["A4"]), PAPERS["A4"]):
            boxes = [(x, y, x + one.width, y + one.height) for x, y, one in page.placed]
            for i, a in enumerate(boxes):
                for b in boxes[i + 1 :]:
                    assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_view_cut_out_keeps_everything_of_it(plan, drawings):
    mold = next(one for one in drawings if one.name.startswith("molds/"))
    kept = sum(len(crop(mold.scene, view.low, view.high).paper) for view in mold.scene.windows)
    assert kept == len(mold.scene.model)
    for view in mold.scene.windows:
        low, high = bounds(list(crop(mold.scene, view.low, view.high).paper))
        assert low[0] >= 0.0 and high[0] <= view.high[0] - view.low[0]


def test_a_fault_in_the_printing_leaves_the_older_packet_whole(plan, tmp_path, monkeypatch):
    folder = tmp_path / "p"
    write_packet(plan, folder, lambda _: None, solids=False)
    before = (folder / "job-sheets.pdf").read_bytes()

    def fails(*_: object) -> bytes:
        raise InternalError("no ink")

    monkeypatch.setattr("formwork.packet.job_sheets.job_sheets", fails)
    with pytest.raises(InternalError, match="no ink"):
        write_packet(
            replace(plan, cautions=("new",)), folder, lambda _: None, solids=False, paper=PAPERS["A3"]
        )
    assert (folder / "job-sheets.pdf").read_bytes() == before
