"""The first cuts of a sheet, which only make its edges true, are told as trims and not as fence settings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.cutting.records import Cut, Placed, SheetLayout
from formwork.packet.blocks import Table
from formwork.packet.cut_sections import sheet_blocks, trims
from formwork.stock.records import Saw, SheetStock

SHEET = SheetStock("ply 18", "plywood", "18 mm", 0.018, True, 2.44, 1.22)
LOWER = Cut(0, "length", 1.215, "top", (), (1, -1))
LEFT = Cut(1, "width", 2.435, "right", (), (2, -1))
PART = Cut(2, "width", 0.6, "left", ("A1",), (3, 4))
LAYOUT = SheetLayout(SHEET, 1, (Placed("A1", 0.005, 0.005, 0.6, 1.215, False),), (LOWER, LEFT, PART), ())


def rows_of(layout, units="mm", trim=0.005):
    (table,) = (
        block for block in sheet_blocks(1, layout, units, Saw(0.003, trim)) if isinstance(block, Table)
    )
    return [dict(zip(table.headings, row, strict=True)) for row in table.rows]


def test_trims_say_how_much_comes_off_which_edge():
    """Of 1220 mm, 1215 from the upper edge leave 5 mm of the lower; of 2440 mm, 2435 leave 5 mm of the left."""
    first, second, third = rows_of(LAYOUT)
    assert (first["runs"], first["fence at, mm"], first["fence on"]) == (
        "trim 5 mm off the lower edge",
        "",
        "",
    )
    assert (second["runs"], second["of"], second["makes"]) == (
        "trim 5 mm off the left end", "piece 1", "piece 2",
    )  # fmt: skip
    assert (third["runs"], third["fence at, mm"], third["fence on"]) == ("across", "600", "left end")


def test_trims_in_inches():
    """A quarter of an inch off a sheet of 48 in: the fence would stand at 47 3/4 in."""
    inch = 0.0254
    sheet = replace(SHEET, length=96 * inch, width=48 * inch)
    cut = replace(LOWER, at=47.75 * inch)
    (row,) = rows_of(replace(LAYOUT, stock=sheet, cuts=(cut,)), "in", 0.25 * inch)
    assert row["runs"] == "trim 1/4 in off the lower edge"


@pytest.mark.parametrize(
    "cut",
    [
        replace(LOWER, at=1.19),
        replace(LOWER, gives=(1, 2)),
        replace(LOWER, parts=("A1",)),
        replace(LOWER, piece=1),
    ],
)
def test_a_cut_that_does_more_than_trim_keeps_its_fence_setting(cut):
    """Wider than the trim, with something kept on both sides, freeing a part, or not of the whole sheet."""
    assert trims(replace(LAYOUT, cuts=(cut, LEFT)), 0.005) == ()


def test_all_four_edges_can_be_trimmed():
    """After 5 mm off the lower edge 1215 mm are left: at 1210 mm from the fence 5 mm more come off."""
    upper = Cut(2, "length", 1.210, "bottom", (), (3, -1))
    right = Cut(3, "width", 2.430, "left", (), (4, -1))
    layout = replace(LAYOUT, cuts=(LOWER, LEFT, upper, right))
    assert trims(layout, 0.005) == pytest.approx([0.005] * 4)
    words = [row["runs"].rpartition(" off the ")[2] for row in rows_of(layout)]
    assert words == ["lower edge", "left end", "upper edge", "right end"]
