"""Blanks that hold several parts, as they are told: on the sheets, in the cut list, in the JSON, on the drawing."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import cos, pi, radians

import pytest

from formwork.cutting.cut_list import CutLine
from formwork.cutting.layouts import Yard, lay_out
from formwork.cutting.records import Placed, SheetLayout, Spot
from formwork.drawings.scene import Polyline, Text
from formwork.drawings.sheet import sheet_drawing
from formwork.geometry.outlines import box, polygon, ring_sector, shifted
from formwork.molds.mold import Blank
from formwork.packet.blocks import Line, Points, Table
from formwork.packet.cut_sections import cut_list, sheet_blocks
from formwork.packet.document import document
from formwork.packet.row_words import how_marked, in_rows, on_sheet
from formwork.stock.records import Saw, SheetStock
from formwork.units import show

PLY = SheetStock("ply 18", "plywood", "18 mm", 0.018, True, 2.44, 1.22)


def blank_of(outline):
    (x, y), (x1, y1) = box(outline)
    laid = shifted(outline, (-x, -y))
    return Blank(x1 - x, y1 - y, 0.018, laid.points, (0.0,) * len(laid.points), bulges=laid.bulges)


RIB = blank_of(ring_sector(0.9, 1.0, pi / 2 - radians(22.5), radians(45.0)))
GORE = blank_of(polygon([
    (0.0, -0.15), *((1.1 * k / 20, -0.15 * cos(pi / 2 * k / 20)) for k in range(1, 20)), (1.1, 0.0),
    *((1.1 * k / 20, 0.15 * cos(pi / 2 * k / 20)) for k in range(19, 0, -1)), (0.0, 0.15),
]))  # fmt: skip


@pytest.fixture
def nested(make_plan):
    """30 ribs and 10 gores on sheets of their own."""
    plan = make_plan()
    part = plan.cut_list[0].part
    lines = tuple(
        CutLine(label, plan.molds[0].name, (name,), replace(part, role=role, blank=blank, holes=()), number)
        for label, name, role, blank, number in (
            ("A1", "rib", "rib", RIB, 30),
            ("A2", "gore", "skin", GORE, 10),
        )
    )
    found = lay_out(lines, Yard((PLY,), (), Saw(0.003, 0.0), partial(show.length, units="mm"), {}))
    return replace(plan, cut_list=lines, sheets=found.sheets, sticks=(), bounds=found.bounds)


def layout(*placed):
    return SheetLayout(PLY, 1, placed, (), ())


def row(number, *, turned=False, quarters=(0, 0), steps=(0.1, 0.1), at=(0.1, 0.2)):
    """A blank of so many parts that stand across the grain, laid as asked."""
    spots, reach = [], 0.0
    for k in range(number):
        x, y = (0.0, reach) if not turned else (-reach, 0.0)
        spots.append(Spot("A1", at[0] + x, at[1] + y, quarters[k % 2] + turned))
        reach += steps[k % 2]
    size = (0.5, reach) if not turned else (reach, 0.5)
    return Placed(f"{number} x A1", *at, *size, turned, tuple(spots))


def test_equal_blanks_are_counted_with_the_parts_in_them():
    plain = Placed("A2", 0.0, 0.0, 0.1, 0.1, True)
    assert on_sheet(layout(row(10), plain, row(10), row(4), plain)) == (
        "20 x A1 in 2 blanks of 10, 2 x A2 turned, 4 x A1 in one blank"
    )


@pytest.mark.parametrize("turned", [False, True])
def test_the_row_is_told_in_the_blanks_own_way_however_it_lies(turned):
    (words,) = how_marked(layout(row(3, turned=turned)), "mm")
    assert words.startswith("3 x A1: the blank, 500 x 300 mm, gives 3.")
    assert "the first in the corner, each next one 100 mm further across the grain; cut them apart" in words


def test_head_to_tail_is_told_with_both_steps():
    (words,) = how_marked(layout(row(4, quarters=(0, 2), steps=(0.09, 0.12))), "mm")
    assert "every second one head to tail, each next one by turns 90 and 120 mm further" in words


def test_the_same_words_are_told_once_for_all_their_labels():
    one, other = row(3), replace(row(3), label="3 x B1")
    (words,) = how_marked(layout(one, other, one), "mm")
    assert words.startswith("3 x A1, 3 x B1: the blank")


def test_sheets_without_grain_have_a_length():
    (words,) = how_marked(replace(layout(row(3)), stock=replace(PLY, grain=False)), "mm")
    assert "further across its length" in words


def test_what_comes_out_of_an_opening_is_told():
    inner = (Spot("A1", 0.0, 0.0, 0), Spot("A4", 0.1, 0.1, 0))
    one = Placed("A1 with A4", 0.0, 0.0, 0.6, 0.6, False, inner)
    assert on_sheet(layout(one, one)) == "2 x A1 with A4"
    (words,) = how_marked(layout(one, replace(one, label="B1 with B2")), "mm")
    assert words.startswith("A1 with A4, B1 with B2: saw the opening of the first from a hole")


def test_what_lies_alone_needs_no_words(plan):
    assert how_marked(layout(Placed("A2", 0.0, 0.0, 0.1, 0.1, False)), "mm") == ()
    assert in_rows(plan) == ()


def test_the_lists_tell_of_rows(nested):
    points = [line for block in cut_list(nested).blocks if isinstance(block, Points) for line in block.lines]
    assert "A1, A2: several come out of one blank, as the sheets show." in points
    saw = nested.project.shop.saw
    blocks = [block for n, one in enumerate(nested.sheets, 1) for block in sheet_blocks(n, one, "mm", saw)]
    text = " ".join(block.text for block in blocks if isinstance(block, Line))
    assert "x A1 in" in text and "x A2 in" in text
    frees = [row[-1] for block in blocks if isinstance(block, Table) for row in block.rows]
    assert any(" x A1" in cell for cell in frees)


def test_the_document_has_every_part_at_its_place(nested):
    """Each label is there as often as it is wanted; the boxes of nested parts lie in that of their blank."""
    counts = {"A1": 0, "A2": 0}
    sizes = {"A1": (RIB.length, RIB.width), "A2": (GORE.length, GORE.width)}
    for sheet in document(nested)["sheets"]:
        for placed in sheet["placed"]:
            if not placed["nested"]:
                counts[placed["label"]] += sheet["count"]
            for spot in placed["nested"]:
                counts[spot["label"]] += sheet["count"]
                along, across = sizes[spot["label"]]
                if spot["turned_deg"] % 180:
                    along, across = across, along
                assert placed["x_mm"] - 1e-3 <= spot["x_mm"]
                assert spot["x_mm"] + along * 1000 <= placed["x_mm"] + placed["length_mm"] + 1e-3
                assert placed["y_mm"] - 1e-3 <= spot["y_mm"]
                assert spot["y_mm"] + across * 1000 <= placed["y_mm"] + placed["width_mm"] + 1e-3
    assert counts == {"A1": 30, "A2": 10}


def test_every_part_of_a_row_is_drawn_and_labelled(nested):
    drawn, labels = 0, 0
    for number, one in enumerate(nested.sheets, start=1):
        scene = sheet_drawing(one, nested.cut_list, nested.project, index=number)
        drawn += one.count * sum(
            isinstance(item, Polyline) and item.layer.name == "CUT-OUTSIDE" for item in scene.model
        )
        labels += one.count * sum(
            isinstance(item, Text) and item.text in ("A1", "A2") for item in scene.model
        )
    assert (drawn, labels) == (40, 40)
