"""Labels: their codes read from the printed page by another program, and label paper by its dimensions."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
import segno
import zxingcpp
from click.testing import CliRunner

from formwork.cli.commands import commands
from formwork.molds.mold import AssemblyStep
from formwork.packet.label_papers import GRIDS, grid_of, sizes_on, usual_grid
from formwork.packet.labels import _HOLDS, labels
from formwork.packet.page import page
from formwork.packet.papers import PAPERS
from formwork.plan import plan as planned
from formwork.project.read import read_project
from formwork.shipped import shelf

DPI = 300
PLANTER = shelf("examples") / "tapered-planter.toml"


@pytest.fixture(scope="module")
def planter():
    return planned(read_project(PLANTER))


def codes_of(pdf: bytes) -> list[str]:
    """What a telephone would read off every page, printed at 300 dots an inch."""
    found = []
    for sheet in pypdfium2.PdfDocument(pdf):
        picture = sheet.render(scale=DPI / 72, grayscale=True).to_numpy()
        seen = zxingcpp.read_barcodes(np.ascontiguousarray(picture.reshape(picture.shape[:2])))
        found += [one.text for one in seen]
    return found


@pytest.mark.parametrize("grid", GRIDS, ids=lambda grid: f"{grid.paper} {grid.width:.0f} x {grid.height:.0f}")
def test_every_code_is_read_and_tells_the_step_that_its_part_is_used_in(planter, grid):
    read = codes_of(labels(planter, PAPERS[grid.paper], grid))
    (mold,) = planter.molds
    wanted = {}
    for line in planter.cut_list:
        steps = [k for k, s in enumerate(mold.steps, 1) if set(s.parts) & set(line.names)]
        if steps and line.part.kind != "hardware":
            wanted[line.label] = (steps[0], line.quantity)
    assert len(wanted) > 10
    for label, (step, quantity) in wanted.items():
        mine = [text for text in read if text.startswith(f"{label}, step {step} of {mold.name}: ")]
        assert len(mine) == quantity
        told = mine[0].split(": ", 1)[1].removesuffix("...")
        assert mold.steps[step - 1].text.startswith(told) and told
    assert len(read) == sum(quantity for _, quantity in wanted.values())


def test_with_an_address_the_code_opens_the_step_on_the_front_page(planter):
    read = set(codes_of(labels(planter, PAPERS["Letter"], None, "http://192.168.0.20:8000/bed/")))
    links = {
        re.fullmatch(r"http://192\.168\.0\.20:8000/bed/index\.html#(mold-1-step-\d+)", one)[1] for one in read
    }
    shown = page(planter, (), ())
    for link in links:
        number = int(link.rpartition("-")[2])
        start = f'<li id="{link}">Step {number}. '
        assert shown.count(start) == 1
    assert len(links) > 2


def test_a_part_of_several_steps_names_them_all_and_one_of_none_has_no_code(make_plan):
    plan = make_plan()
    (mold,) = plan.molds
    steps = (
        AssemblyStep("Screw the sides together.", ("front panel", "left panel"), bench=True),
        AssemblyStep("Lay the base.", ("base",)),
        AssemblyStep("Stand the front on it.", ("front panel",)),
        AssemblyStep("Turn it over, front down.", ("front panel",)),
    )
    pdf = labels(replace(plan, molds=(replace(mold, steps=steps),)), PAPERS["A4"])
    text = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
    assert "steps 1, 3 and 4" in text and "step 2" in text
    assert sorted(codes_of(pdf)) == [
        "A1, step 2 of slab mold: Lay the base.",
        "A2, step 1 of slab mold: Screw the sides together.",
        "A4, step 1 of slab mold: Screw the sides together.",
    ]


def test_words_of_any_script_in_a_code(make_plan):
    plan = make_plan()
    (mold,) = plan.molds
    named = replace(mold, name="Kübel 型枠", steps=(AssemblyStep("Boden auflegen — genau.", ("base",)),))
    lines = tuple(replace(line, mold=named.name) for line in plan.cut_list)
    pdf = labels(replace(plan, molds=(named,), cut_list=lines), PAPERS["A4"])
    assert codes_of(pdf) == ["A1, step 1 of Kübel 型枠: Boden auflegen — genau."]


@pytest.mark.parametrize(("letters", "modules"), _HOLDS)
def test_a_code_of_so_many_letters_has_so_many_modules(letters, modules):
    """Against the library that makes them: a byte more takes the next larger code."""
    side = [
        segno.make("x" * n, error="l", micro=False, boost_error=False).symbol_size(border=4)[0]
        for n in (letters, letters + 1)
    ]
    assert side[0] == modules < side[1]


def test_label_paper_is_known_by_the_dimensions_on_its_box():
    """3 x 7 labels of 63.5 x 38.1 mm on A4: 15.1 mm above the first row, 7.2 mm beside it (as makers print them, from memory)."""
    grid = grid_of(PAPERS["A4"], 38.1, 63.5)
    assert (grid.across, grid.down) == (3, 7)
    assert (grid.top, grid.left) == pytest.approx((15.15, 7.25), abs=0.06)
    assert grid_of(PAPERS["A4"], 38.1, 60.0) is None
    inch = grid_of(PAPERS["Letter"], 4 * 25.4, 2 * 25.4)
    assert (inch.top, inch.left) == pytest.approx((0.5 * 25.4, 5.0 / 32.0 * 25.4))
    assert all(usual_grid(PAPERS[name]) in sizes_on(PAPERS[name]) for name in PAPERS)


@pytest.mark.parametrize("grid", GRIDS, ids=str)
def test_label_papers_fit_their_paper(grid):
    assert grid.left >= -0.5 and grid.top >= 0.0
    assert len({(one.paper, one.width, one.height) for one in GRIDS}) == len(GRIDS)


@pytest.mark.parametrize(
    "asked", ["", "70", "0 x 0 mm", "-70 x 37 mm", "nan x 37 mm", "1e9 x 2 mm", "70 x 37 kg", "x", "9 x 9 mm"]
)
def test_a_size_that_no_label_paper_has_is_refused_with_those_there_are(tmp_path, asked):
    done = CliRunner().invoke(
        commands,
        ["packet", str(PLANTER), "-o", str(tmp_path / "p"), "--no-solids", "--labels", asked or " "],
    )
    assert done.exit_code == 2 and not (tmp_path / "p").exists()
    assert "2 5/8 in x 1 in (30 on a sheet)" in " ".join(done.output.split())


@pytest.mark.parametrize("asked", ["4 x 2 in", "2 in x 4 in", "101.6 x 50.8 mm", "4x2"])
def test_label_paper_may_be_asked_for_in_any_unit_and_either_way_round(tmp_path, asked):
    done = CliRunner().invoke(
        commands, ["packet", str(PLANTER), "-o", str(tmp_path / "p"), "--no-solids", "--labels", asked]
    )
    assert done.exit_code == 0, done.output
    first = pypdfium2.PdfDocument(tmp_path / "p" / "labels.pdf")[0].get_textpage().get_text_range()
    assert len(re.findall(r"\b\d+ of \d+\b", first)) == 10


@pytest.mark.parametrize("asked", ["shop", "ftp://shop", "http://", "http://a b", "http://" + "x" * 81])
def test_an_address_that_no_telephone_opens_is_refused(tmp_path, asked):
    done = CliRunner().invoke(
        commands, ["packet", str(PLANTER), "-o", str(tmp_path / "p"), "--no-solids", "--address", asked]
    )
    assert done.exit_code == 2 and "want http://" in " ".join(done.output.split())
    assert not (tmp_path / "p").exists()
