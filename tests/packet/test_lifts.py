"""A project poured in lifts, as it is told in the terminal, on the batch sheets, in the table and in the document."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from formwork.drawings.frames import RIGHT
from formwork.drawings.lift_marks import lift_lines, lift_measures
from formwork.packet.batch_sheets import batch_entries
from formwork.packet.blocks import Line, Section
from formwork.packet.calendar_section import calendar
from formwork.packet.document import document
from formwork.packet.labels import _limits, labels
from formwork.packet.papers import PAPERS
from formwork.packet.pour_sections import pouring
from formwork.packet.spreadsheets import batches
from formwork.plan import Plan, plan
from formwork.project.read import read_project

TEXT = """units = "mm"
[mix]
wet_density = 1000
[[piece]]
name = "tub"
shape = "planter"
length = 600
width = 600
height = 900
wall = 80
floor = 60
down = "floor"
count = 2
[piece.mold]
{lift}
"""


def planned(folder: Path, lift: str) -> Plan:
    path = folder / "tub.toml"
    path.write_text(TEXT.format(lift=lift), encoding="utf-8")
    return plan(read_project(path))


@pytest.fixture(scope="module")
def lifted(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    return planned(tmp_path_factory.mktemp("lifts"), "lift = 300")


def lines(section: Section | None) -> list[str]:
    assert section is not None
    return [block.text for block in section.blocks if isinstance(block, Line)]


def test_lift_after_lift_with_the_waiting_between(lifted: Plan) -> None:
    told = lines(pouring(lifted))
    heads = [line for line in told if line.startswith(("Pours", "Lift", "WAIT"))]
    assert [line.split(":")[0].split(" until")[0] for line in heads] == [
        "Pours 1 and 2",
        "Lift 1 of 3",
        "WAIT",
        "Lift 2 of 3",
        "WAIT",
        "Lift 3 of 3",
    ]
    assert "in 3 lifts." in heads[0]
    assert "tub to the line at 300 mm" in heads[1]
    assert "tub to the top, 900 mm" in heads[5]
    assert "not before 12 h; below 15 C allow 2 days" in heads[2]


def test_the_batch_sheets_have_a_line_for_every_batch_of_every_lift(lifted: Plan) -> None:
    (sheet,) = batch_entries(lifted, None)
    records = [block for block in sheet["blocks"] if block["kind"] == "record"]
    rows = [tuple(row) for record in records for row in record["rows"]]
    count = len(lifted.pours[0].batches)
    assert sorted(rows) == sorted((str(p), str(b)) for p in (1, 2) for b in range(1, count + 1))
    heads = [block["text"] for block in sheet["blocks"] if block["kind"] == "heading"]
    assert [head.split(":")[0] for head in heads] == ["Pours 1 and 2", *(f"Lift {k} of 3" for k in (1, 2, 3))]


def test_the_calendar_names_the_days_of_the_lifts(lifted: Plan) -> None:
    section = calendar(lifted)
    assert section is not None
    assert section.blocks[0].rows[0][0] == "lifts on days 1 to 3"  # type: ignore[union-attr]


def test_the_table_of_batches_says_which_lift(lifted: Plan) -> None:
    rows = list(csv.DictReader(io.StringIO(batches(lifted))))
    by_lift = [row["lift"] for row in rows if row["pour"] == "1"]
    assert by_lift == sorted(by_lift)
    assert set(by_lift) == {"1", "2", "3"}


def test_the_document_keeps_the_lifts(lifted: Plan) -> None:
    made = json.loads(json.dumps(document(lifted)))
    pour = made["pours"][0]
    assert [lift["filled_to_mm"]["tub"] for lift in pour["lifts"]] == pytest.approx([300.0, 600.0, 900.0])
    assert sum(lift["volume_m3"] for lift in pour["lifts"]) == pytest.approx(pour["volume_m3"])
    assert pour["lifts"][-1]["last_batch"] == len(pour["batches"])


def test_the_mold_tells_its_marks_and_its_joints(lifted: Plan) -> None:
    (mold,) = lifted.molds
    assert mold.lift_tops == pytest.approx((0.3, 0.6))
    assert (
        "at 300 mm and 600 mm above the base, which is 600 mm and 300 mm below the top of the mold"
        in mold.instructions[1]
    )
    assert "cold joint" in mold.instructions[2]
    assert any("cold joint" in line and "tub mold" in line for line in lifted.cautions)


def test_what_is_filled_in_one_go_says_nothing_of_lifts(tmp_path: Path) -> None:
    """A lift as high as the piece parts nothing."""
    plain = planned(tmp_path, "lift = 900")
    assert plain.molds[0].lifts == 1
    assert not any(line.startswith("Lift") for line in lines(pouring(plain)))
    assert "lift" not in batches(plain).splitlines()[0]
    assert document(plain)["pours"][0]["lifts"] == []


def test_a_mold_that_fills_too_slowly_is_told_the_lift_that_one_batch_fills(tmp_path: Path) -> None:
    """What is advised is written into the project: every lift then takes one batch and is placed in time."""
    slow = planned(tmp_path, 'joint = "lapped"')
    assert slow.pours[0].timing is not None
    assert not slow.pours[0].timing.in_time
    told = next(line for line in lines(pouring(slow)) if line.startswith("TOO SLOW"))
    advised = re.search(r'write (lift = "\d+ mm") into its mold table', told)
    assert advised, told
    mended = planned(tmp_path, advised.group(1))
    assert all(lift.first == lift.last for lift in mended.pours[0].lifts)
    assert mended.pours[0].timing is not None
    assert mended.pours[0].timing.in_time
    assert not any(line.startswith("TOO SLOW") for line in lines(pouring(mended)))


def test_the_section_is_dashed_where_lifts_end(lifted: Plan) -> None:
    """Two lines across 600 mm of mix, at 300 and 600 mm above the base; measured as high."""
    (mold,) = lifted.molds
    lines_at = lift_lines(mold, 0.05, RIGHT)
    assert [line.start[1] for line in lines_at] == pytest.approx([0.3, 0.6])
    assert [line.end[1] for line in lines_at] == pytest.approx([0.3, 0.6])
    assert [abs(line.end[0] - line.start[0]) for line in lines_at] == pytest.approx([0.6, 0.6])
    assert [one.end[2] - one.start[2] for one in lift_measures(mold, 0.05)] == pytest.approx([0.3, 0.6])


def test_a_label_to_stick_on_the_mold(lifted: Plan) -> None:
    pdf = labels(lifted, PAPERS["A4"])
    assert pdf is not None
    found = [entry for mold in lifted.molds for entry in _limits(mold)]
    assert [entry["label"] for entry in found] == ["tub mold"]
    assert "1048 kg/m3" in found[0]["size"]
    assert "in lifts of at most 300 mm" in found[0]["name"]
    owned = replace(lifted.molds[0], owned=True)
    assert list(_limits(owned)) == []


def test_what_is_filled_in_one_go_goes_with_the_first_lift_and_is_named_there(tmp_path: Path) -> None:
    path = tmp_path / "two.toml"
    slab = '[[piece]]\nname = "lid"\nshape = "slab"\nlength = 600\nwidth = 600\nthickness = 50\n'
    path.write_text(TEXT.format(lift="lift = 300") + slab, encoding="utf-8")
    told = [line for line in lines(pouring(plan(read_project(path)))) if line.startswith("Lift 1")]
    assert "tub to the line at 300 mm, lid to the top, 50 mm;" in told[0]
