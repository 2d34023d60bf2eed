"""What a person reads: the job sheet and the page print the same sections; lists open in a spreadsheet."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from formwork.checks.check import Check
from formwork.packet import spreadsheets
from formwork.packet.blocks import Line, Points, Section, Table, table
from formwork.packet.page import Picture, page
from formwork.packet.sections import sections, verdict
from formwork.packet.text import print_out, section_lines
from formwork.packet.wording import amount, percent, runs, size, way
from formwork.shapes.piece import planar


@pytest.fixture
def text(plan) -> str:
    return print_out(sections(plan))


def rows_of(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def in_inches(plan):
    return replace(plan, project=replace(plan.project, units="in"))


def test_every_part_check_purchase_and_caution_is_printed(plan, text):
    for line in plan.cut_list:
        assert re.search(rf"^{line.label}\s+{line.part.name}\b", text, re.M)
    for check in plan.checks:
        assert re.search(rf"^{check.name}\s+.*passes$", text, re.M)
    for bought in plan.buy:
        assert bought.item in text
    for line in (*plan.cautions, *plan.mix.warnings, plan.not_checked[0].why, *plan.project.shop.assumed):
        assert line in text


def test_weights_worked_on_paper(text):
    """12 L at 1200 kg/m3 is 14.4 kg, with 25 g of mesh 14.425 kg: 14.4 kg to three digits."""
    row = re.search(r"^slab +slab .*$", text, re.M)
    assert row and row[0].split()[-6:] == ["14.4", "kg", "14.4", "kg", "12", "kg"]


def test_lines_of_running_text_keep_within_the_width(plan):
    long = replace(plan, cautions=("word " * 80,))
    lines = print_out(sections(long)).splitlines()
    assert max(len(line) for line in lines if line.startswith(("- word", "  word"))) <= 100


def test_no_line_ends_in_blanks_and_the_text_ends_once(text):
    assert not re.search(r"[ \t]$", text, re.M)
    assert text.endswith("\n") and not text.endswith("\n\n")


def test_sizes_in_inches_carry_their_exact_decimal_where_a_sixteenth_is_not_the_whole_truth(plan):
    """636 mm = 25.0394 in: to the nearest sixteenth 25 1/16; 18 mm = 0.7087 in: 11/16."""
    text = print_out(sections(in_inches(plan)))
    assert re.search(r"^A1 .* 25 1/16 \(25\.039\) .* 11/16 \(0\.709\) ", text, re.M)


def test_working_is_printed_only_where_it_is_asked_for(plan, text):
    step = plan.checks[1].working[0]
    assert step not in text
    assert step in print_out(sections(plan, working=True))
    assert "Source: thin plate" in print_out(sections(plan, working=True))


def test_a_failing_check_is_named_first_and_with_its_remedy(make_plan):
    failing = Check(
        "side panels", "slab mold", 2.0, 1.0, "N", False, "thin plate", (), "a brace in the middle"
    )
    made = make_plan(checks=(failing,))
    text = print_out(sections(made))
    assert verdict(made).startswith("1 of 1 check FAIL")
    assert text.index(verdict(made)) < text.index("Pieces")
    assert "side panels, slab mold: a brace in the middle" in text
    assert re.search(r"200 %\s+FAILS$", text, re.M)


def test_a_locked_part_is_named_with_what_frees_it(plan):
    locked = replace(plan.molds[0], locked=(("core", "2 degrees of draft"),))
    assert "LOCKED: core. What frees it: 2 degrees of draft" in print_out(
        sections(replace(plan, molds=(locked,)))
    )


def test_equal_pours_are_told_once(text):
    assert "Pours 1 and 2: each 1 slab; 12.8 L of mix in 1 batch." in text


def test_ingredients_that_no_batch_has_get_no_column(text):
    head = next(line for line in text.splitlines() if line.startswith("batch "))
    assert "cement" in head and "foam" in head
    assert "sand" not in head and "gravel" not in head and "run foam" not in head


def test_the_total_says_what_it_leaves_out(text):
    assert "Total: EUR 52.50, and 1 line without a price." in text


def test_empty_plans_print_too(make_plan):
    bare = make_plan(
        cut_list=(), checks=(), not_checked=(), sheets=(), sticks=(), bounds=(), pours=(), buy=(), cautions=()
    )
    text = print_out(sections(bare))
    assert (
        "Nothing is cut" in text and "Nothing has to be bought" in text and "Nothing could be checked" in text
    )


def test_a_table_refuses_a_row_that_does_not_fit():
    with pytest.raises(ValueError, match="does not fit"):
        Table(("a", "b"), (("1",),))


def test_columns_line_up():
    lines = section_lines(Section("T", (table(("a", ">n"), [("x", "1"), ("long", "1000")]),), "t"))
    assert lines[2:6] == ["a        n", "----  ----", "x        1", "long  1000"]


def test_points_hang_under_their_number():
    lines = section_lines(Section("T", (Points(("one two three",), numbered=True),), "t"), width=10)
    assert lines[2:4] == ["1. one two", "   three"]


@pytest.mark.parametrize(
    ("direction", "words"),
    [
        ((0.0, 0.0, 1.0), "straight up"),
        ((0.0, 0.0, -1.0), "straight down"),
        ((1.0, 0.0, 0.0), "to the right"),
        ((-1.0, 0.0, 0.0), "to the left"),
        ((0.0, 1.0, 0.0), "to the back"),
        ((0.0, -1.0, 0.0), "to the front"),
        ((2**-0.5, -(2**-0.5), 0.0), "to the corner of front and right"),
        ((0.0, -(3**0.5) / 2, 0.5), "to the front, rising 30 deg"),
        ((0.0, 3**0.5 / 2, -0.5), "to the back, sinking 30 deg"),
    ],
)
def test_ways_out_of_the_mold(plan, direction, words):
    assert way(direction, planar(plan.molds[0].piece).faces) == words


def test_loads_are_shown_in_the_persons_units():
    """1 lbf = 4.4482216 N (NIST SP 811), 1 lbf/ft2 = 47.880259 Pa."""
    assert amount(4448.2216, "N", "in") == "1000 lb"
    assert amount(4448.2216, "N", "mm") == "4.45 kN"
    assert amount(4788.0259, "Pa", "in") == "100 lb/ft2"
    assert amount(12.0, "turns", "in") == "12 turns"
    assert amount(float("inf"), "N", "mm") == "none"
    assert amount(2e-13, "m3", "mm") == "2.0e-07 mL"


def test_percents_and_runs():
    assert (percent(0.25), percent(0.001), percent(0.0), percent(float("inf"))) == (
        "25 %",
        "under 1 %",
        "0 %",
        "over",
    )
    assert (runs([1]), runs([1, 2]), runs([2, 3, 4])) == ("1", "1 and 2", "2 to 4")
    assert size(0.0254 * 2.5, "in") == "2 1/2"


def test_the_cut_list_opens_in_a_spreadsheet(plan):
    head, *rows = rows_of(spreadsheets.cut_list(plan))
    assert head[5:8] == ["length (mm)", "width (mm)", "thickness (mm)"]
    assert len(rows) == len(plan.cut_list) and {len(row) for row in rows} == {len(head)}
    assert [float(x) for x in rows[0][5:8]] == [636.0, 436.0, 18.0]
    assert rows[1][-1] == "right end: mitre square, blade 10 deg leaning in"


def test_the_cut_list_in_inches_has_decimals_and_fractions(plan):
    head, first, *_ = rows_of(spreadsheets.cut_list(in_inches(plan)))
    entry = dict(zip(head, first, strict=True))
    assert entry["length (in)"] == "25.039"
    assert entry["length, nearest 1/16 in"] == "25 1/16"


def test_the_buy_list_leaves_unknown_costs_empty(plan):
    _, first, second = rows_of(spreadsheets.buy_list(plan))
    assert first[3] == "52.5" and second[3] == ""


def test_the_batches_have_a_row_for_each_mixer_load(plan):
    head, *rows = rows_of(spreadsheets.batches(plan))
    assert [row[:2] for row in rows] == [["1", "1"], ["2", "1"]]
    assert rows[0][head.index("cement (kg)")] == "11.7"
    head, first, _ = rows_of(spreadsheets.batches(in_inches(plan)))
    assert float(first[head.index("cement (lb)")]) == pytest.approx(11.7 / 0.45359237, abs=5e-4)


def test_no_cell_is_taken_for_a_formula(plan):
    named = replace(plan, buy=(replace(plan.buy[0], item="=2+2"),))
    assert rows_of(spreadsheets.buy_list(named))[1][0] == " =2+2"


class Reader(HTMLParser):
    """Collects links and anchors, and refuses tags that do not close in order."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.open, self.links, self.ids, self.sources, self.words = [], [], [], [], []

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.links += [found["href"]] if "href" in found else []
        self.ids += [found["id"]] if "id" in found else []
        self.sources += [found["src"]] if "src" in found else []
        if tag not in ("meta", "img"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def read(plan, listing=(), pictures=()):
    reader = Reader()
    reader.feed(page(plan, listing, pictures))
    reader.close()
    assert reader.open == []
    return reader


def test_the_page_is_well_formed_and_says_what_the_job_sheet_says(plan):
    reader = read(plan)
    said = " ".join(reader.words)
    for section in sections(plan):
        assert section.title in said
        for block in section.blocks:
            if isinstance(block, Line):
                assert block.text in said
            if isinstance(block, Table):
                assert all(cell in said for row in block.rows for cell in row)


def test_links_inside_the_page_lead_somewhere(plan):
    reader = read(plan)
    inside = [link[1:] for link in reader.links if link.startswith("#")]
    assert len(inside) > 8 and set(inside) <= set(reader.ids)
    assert len(reader.ids) == len(set(reader.ids))


def test_the_page_needs_nothing_from_elsewhere(plan):
    reader = read(plan, (("a b/c#.csv", "a list"),), (Picture("mold", "<svg/>", "molds/a b.svg"),))
    assert all(source.startswith("data:image/svg+xml;base64,") for source in reader.sources)
    assert "a%20b/c%23.csv" in reader.links and "molds/a%20b.svg" in reader.links
    assert not [link for link in reader.links if re.match(r"[a-z]+:", link)]


def test_what_a_person_wrote_cannot_become_part_of_the_page(plan):
    assert "<garden>" not in page(plan, (), ())
    assert "&lt;garden&gt;" in page(plan, (), ())
