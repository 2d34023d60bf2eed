"""The same figure never reads differently in two documents: over all examples, what each says is taken from it and compared.

Figures are read off the text of the printed pages, the dimensions of the DXF files, the CSV lists and the JSON. Each is
held to its own printed rounding: a sixteenth of an inch or the decimals it shows.
"""

from __future__ import annotations

import csv
import io
import json
import re
from fractions import Fraction
from functools import cache

import ezdxf
import pypdfium2
import pytest

from formwork.drawings.dxf import dxf
from formwork.drawings.svg import svg
from formwork.packet import spreadsheets
from formwork.packet.document import to_json
from formwork.packet.drawing_pages import Drawing
from formwork.packet.job_sheets import job_sheets
from formwork.packet.labels import labels
from formwork.packet.papers import usual_paper
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.shipped import shelf

EXAMPLES = tuple(
    sorted(path.stem for path in shelf("examples").glob("*.toml") if not path.stem.endswith("shop"))
)
DRAWN = ("tapered-planter", "garden-slabs", "hollow-blocks", "gate-arch")
"""Those whose every drawing is read too, which takes longer."""
MM = 25.4
POUND, FOOT3 = 0.45359237, 0.028316846592
"""kg, m3 (NIST SP 811)."""
_FIGURE = re.compile(
    r"^(?:[\u2300\u00d8R]\s?)?((?:\d+' )?(?:\d+ )?\d+/\d+|(?:\d+' )?[\d.]+)\"?(?: ?(?:mm|in))?$"
)


def figure(text: str) -> tuple[float, float]:
    """A length as printed, and the half of the last step that it was rounded to, in its own unit."""
    found = _FIGURE.match(text.strip())
    assert found, text
    *feet, rest = found[1].split("' ")
    value = 12 * sum(map(int, feet)) + sum(map(Fraction, rest.split()))
    decimals = len(rest.partition(".")[2])
    return float(value), 0.5 * 10.0**-decimals


@cache
def planned(name: str) -> Plan:
    return plan(read_project(shelf("examples") / f"{name}.toml"))


@cache
def document(name: str):
    return json.loads(to_json(planned(name)))


def cut_parts(name: str):
    """What is cut, by its mark."""
    return {
        entry["label"]: entry
        for entry in document(name)["parts"]
        if entry["kind"] in ("panel", "stick", "pipe")
    }


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


@cache
def drawings(name: str, wanted: str = "") -> tuple[Drawing, ...]:
    from formwork.packet.drawn import _drawings  # noqa: PLC0415 - drawn one by one, only those wanted

    return tuple(
        Drawing(place, about, scene, svg(scene))
        for place, about, draw, reads in _drawings(planned(name))
        if place.startswith(wanted)
        for scene in (draw(*reads),)
    )


@cache
def printed(name: str) -> str:
    made = planned(name)
    pdf = job_sheets(
        made, drawings(name, "" if name in DRAWN else "sheets/"), [], usual_paper(made.project.units)
    )
    pages = (page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    return re.sub(r"[\s\u200b\ufffe\u2060]+", " ", " ".join(pages))


def per(name: str) -> float:
    """mm in the unit that a project prints."""
    return MM if planned(name).project.units == "in" else 1.0


@pytest.mark.parametrize("name", EXAMPLES)
def test_sizes_of_parts_in_list_and_json(name):
    """The CSV to its hundredth of a mm or thousandth of an inch, its fractions to a thirty-second."""
    units = planned(name).project.units
    parts = {entry["label"]: entry for entry in document(name)["parts"]}
    listed = rows(spreadsheets.cut_list(planned(name)))
    assert set(cut_parts(name)) <= {row["mark"] for row in listed} <= set(parts)
    for row in listed:
        part = parts[row["mark"]]
        assert int(row["pieces"]) == part["quantity"] and row["from"] == part["stock"]
        for side in ("length", "width", "thickness"):
            exact = part[f"{side}_mm"] / per(name)
            assert float(row[f"{side} ({units})"]) == pytest.approx(exact, abs=0.00501), (row["mark"], side)
        for side in ("length", "width") if units == "in" else ():
            shown, _ = figure(row[f"{side}, nearest 1/16 in"])
            assert abs(shown - part[f"{side}_mm"] / MM) <= 1 / 32 + 1e-6, (row["mark"], side)


@pytest.mark.parametrize("name", EXAMPLES)
def test_sizes_of_parts_on_the_printed_pages(name):
    """Each row of the printed cut list: mark, part, pieces, stock, then the same length as the spreadsheet's."""
    text = printed(name).partition("Contents")[2]
    cut = cut_parts(name)
    for row in (row for row in rows(spreadsheets.cut_list(planned(name))) if row["mark"] in cut):
        stem = rf"(?<!\w){row['mark']} {re.escape(row['part'])} {row['pieces']} {re.escape(row['from'])} "
        if row.get("length, nearest 1/16 in"):
            assert re.search(stem + re.escape(row["length, nearest 1/16 in"]) + r"[ (]", text), row["mark"]
        else:
            found = re.search(stem + r"([\d.]+)", text)
            assert found, row["mark"]
            shown, half = figure(found[1])
            assert abs(shown - float(row["length (mm)"])) <= min(half, 0.05) + 0.006


@pytest.mark.parametrize("name", EXAMPLES)
def test_sizes_on_the_labels(name):
    made = planned(name)
    pdf = labels(made, usual_paper(made.project.units))
    if pdf is None:
        return
    text = " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    text = re.sub(r"\s+", " ", text)
    for mark, part in cut_parts(name).items():
        found = re.search(
            rf"(?<!\w){mark} 1 of {part['quantity']}(?:, steps? \d+(?:(?:,| and| to) \d+)*)? (.+?) (?:x|outside)",
            text,
        )
        assert found, mark
        shown, _ = figure(re.sub(r" ?\(.*\)", "", found[1]))
        assert abs(shown - part["length_mm"] / per(name)) <= (1 / 32 if per(name) == MM else 0.06) + 1e-6, (
            mark
        )


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_bought(name):
    text = printed(name)
    listed = rows(spreadsheets.buy_list(planned(name)))
    entries = document(name)["buy"]
    assert [row["item"] for row in listed] == [entry["item"] for entry in entries]
    for row, entry in zip(listed, entries, strict=True):
        assert float(row["quantity"]) == pytest.approx(entry["quantity"], rel=1e-8)
        cost = next(value for key, value in row.items() if key.startswith("cost"))
        assert (cost == "") == (entry["cost"] is None)
        if cost:
            assert float(cost) == pytest.approx(entry["cost"], abs=0.005)
        assert row["item"] in text
        if float(row["quantity"]).is_integer() and float(row["quantity"]) < 1000:
            assert re.search(rf"{re.escape(row['item'])} {int(float(row['quantity']))}(?![\d.])", text), row[
                "item"
            ]


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_goes_in_the_mixer(name):
    made = planned(name)
    if not made.pours:
        return
    mass, volume = (POUND, FOOT3) if made.project.units == "in" else (1.0, 1e-3)
    unit = "lb" if made.project.units == "in" else "kg"
    batches = [batch for pour in document(name)["pours"] for batch in pour["batches"]]
    listed = rows(spreadsheets.batches(made))
    assert len(listed) == len(batches)
    text = printed(name)
    wanted = [float(found) for found in re.findall(rf"wanted ([\d.]+) {unit}", text)]
    for row, batch in zip(listed, batches, strict=True):
        makes = next(float(value) for key, value in row.items() if key.startswith("makes"))
        assert makes == pytest.approx(batch["volume_m3"] / volume, abs=5.01e-4)
        for column, key in (
            ("cement", "cement_kg"),
            ("water in mixer", "water_kg"),
            ("concentrate", "concentrate_kg"),
        ):
            assert float(row[f"{column} ({unit})"]) == pytest.approx(batch[key] / mass, abs=5.01e-4)
        assert any(abs(one - batch["cement_kg"] / mass) <= 0.006 * one for one in wanted)


@pytest.mark.parametrize("name", EXAMPLES)
def test_dimensions_of_cut_sheets_say_what_they_measure(name):
    check_dimensions(name, drawings(name, "sheets/"))


@pytest.mark.parametrize("name", DRAWN)
def test_every_dimension_says_what_it_measures_and_is_printed_so(name):
    """Upright figures come off the page letter by letter, so that blanks are left out of account."""
    check_dimensions(name, drawings(name))
    text = printed(name).replace(" ", "")
    for one in drawings(name):
        for dimension in dimensions(one):
            assert dimension.dxf.text.replace(" ", "") in text, (one.name, dimension.dxf.text)


def dimensions(drawing: Drawing):
    """The dimensions of a drawing as they stand in its DXF file."""
    return ezdxf.read(io.StringIO(dxf(drawing.scene))).modelspace().query("DIMENSION")


def check_dimensions(name: str, given: tuple[Drawing, ...]) -> None:
    """The figure of each dimension against the points that it was put to."""
    for one in given:
        for dimension in dimensions(one):
            shown, half = figure(dimension.dxf.text)
            exact = dimension.get_measurement()
            allowed = 1 / 32 if per(name) == MM else min(half, 0.5)
            assert abs(shown - exact) <= allowed + 1e-6, (one.name, dimension.dxf.text, exact)


@pytest.mark.parametrize("name", ["tapered-planter", "garden-slabs"])
def test_sides_of_the_piece_are_dimensioned_as_the_project_asks(name):
    """The keys of the project file, read here by another TOML reader's hands, among the piece's dimensions."""
    made = planned(name)
    for order, mold in zip(made.project.orders, made.molds, strict=True):
        place = next(one for one in drawings(name) if one.about == f"{mold.piece.name}, the piece")
        measured = [dimension.get_measurement() * per(name) for dimension in dimensions(place)]
        for key in ("length", "width"):
            wanted = 1000.0 * getattr(order.parameters, key)
            assert any(abs(one - wanted) < 1.0 for one in measured), (order.name, key)


def test_a_figure_is_read_as_a_person_reads_it():
    assert figure('2 1/2"')[0] == 2.5 and figure("1/16")[0] == 0.0625 and figure("24 in")[0] == 24.0
    assert (
        figure("600")[0] == 600.0 and figure("12.5 mm") == (12.5, 0.05) and figure("\u230018 1/4")[0] == 18.25
    )
    with pytest.raises(AssertionError):
        figure("2 feet or so")
