"""What is printed of whole examples: every mark, figure and page, read back from the PDF by another program."""

from __future__ import annotations

import csv
import io
import re
from functools import cache
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from formwork.cli.commands import commands
from formwork.drawings.svg import svg
from formwork.packet import spreadsheets
from formwork.packet.drawing_pages import Drawing
from formwork.packet.drawn import scenes
from formwork.packet.full_size import full_size
from formwork.packet.job_sheets import job_sheets
from formwork.packet.labels import labels
from formwork.packet.papers import usual_paper
from formwork.packet.patterns import patterns
from formwork.plan import Plan, plan
from formwork.project.read import read_project

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("tapered-planter", "hollow-blocks", "garden-slabs", "pipe-dome")
WHOLE = ("tapered-planter", "pipe-dome")
"""Drawn too, which takes longer."""


@cache
def planned(name: str) -> Plan:
    return plan(read_project(EXAMPLES / f"{name}.toml"))


@cache
def job(name: str) -> bytes:
    made = planned(name)
    drawings = [Drawing(place, about, scene, svg(scene)) for place, about, scene in scenes(made)]
    return job_sheets(made, drawings, [], usual_paper(made.project.units))


def text_of(pdf: bytes) -> str:
    pages = (page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    return re.sub(r"\s+", " ", " ".join(pages))


@pytest.mark.parametrize("name", NAMES)
def test_every_part_has_its_labels(name):
    made = planned(name)
    text = text_of(labels(made, usual_paper(made.project.units)))
    for line in made.cut_list:
        if line.part.kind != "hardware":
            assert len(re.findall(rf"(?<!\w){line.label} \d+ of {line.quantity}\b", text)) == line.quantity


@pytest.mark.parametrize("name", [name for name in NAMES if name != "pipe-dome"])
def test_every_part_that_is_no_rectangle_has_its_template_and_no_other(name):
    made = planned(name)
    wanted = {one.label for one in patterns(made)}
    text = text_of(full_size(made, usual_paper(made.project.units)))
    marks = {line.label for line in made.cut_list}
    tags = {f"{row}{column}" for row in "ABCDEF" for column in range(1, 10)}
    found = {mark for mark in marks if re.search(rf"(?<![\w.]){mark}(?!\w)", text)}
    assert wanted <= found
    assert found - wanted <= tags


@pytest.mark.parametrize("name", WHOLE)
def test_marks_and_figures_are_those_of_the_cut_list_for_a_spreadsheet(name):
    made = planned(name)
    text = text_of(job(name)).partition("Contents")[2]
    inches = made.project.units == "in"
    for row in csv.DictReader(io.StringIO(spreadsheets.cut_list(made), newline="")):
        long = row["length, nearest 1/16 in"] if inches else f"{round(float(row['length (mm)']), 1):g}"
        assert re.search(
            rf"(?<!\w){row['mark']} {re.escape(row['part'])} {row['pieces']} {re.escape(row['from'])} {long} ",
            text,
        )


@pytest.mark.parametrize("name", WHOLE)
def test_everything_bought_and_every_caution_is_printed(name):
    text = text_of(job(name))
    for row in csv.DictReader(io.StringIO(spreadsheets.buy_list(planned(name)), newline="")):
        assert row["item"] in text
    for caution in planned(name).cautions:
        assert caution in text


@pytest.mark.parametrize("name", WHOLE)
def test_no_page_is_empty_and_nothing_runs_off_it(name):
    for page in pypdfium2.PdfDocument(job(name)):
        width, height = page.get_size()
        boxes = [thing.get_bounds() for thing in page.get_objects(max_depth=1)]
        assert len(page.get_textpage().get_text_range()) > 60
        assert all(x0 >= 8 and y0 >= 8 and x1 <= width - 8 and y1 <= height - 8 for x0, y0, x1, y1 in boxes)


@pytest.mark.parametrize(
    ("asked", "width", "height"), [([], 215.9, 279.4), (["--paper", "a3"], 297.0, 420.0)]
)
def test_the_packet_is_printed_on_the_paper_asked_for_else_on_what_is_usual(tmp_path, asked, width, height):
    project = EXAMPLES / "tapered-planter.toml"
    done = CliRunner().invoke(
        commands, ["packet", str(project), "-o", str(tmp_path / "p"), "--no-solids", *asked]
    )
    assert done.exit_code == 0, done.output
    for name in ("job-sheets", "templates", "labels"):
        first = pypdfium2.PdfDocument(tmp_path / "p" / f"{name}.pdf")[0]
        assert [side * 25.4 / 72 for side in first.get_size()] == pytest.approx([width, height], abs=0.05)
    assert "--paper" in CliRunner().invoke(commands, ["packet", "--help"]).output
    wrong = CliRunner().invoke(
        commands, ["packet", str(project), "-o", str(tmp_path / "q"), "--paper", "napkin"]
    )
    assert wrong.exit_code == 2 and not (tmp_path / "q").exists()
