"""Ordinates: those of gores against the published rule that each is R sin k sin phi, and what has none."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin

import pytest

from formwork.cutting.cut_list import CutLine
from formwork.geometry.outlines import box, circle, polygon, ring_sector, shifted
from formwork.molds.mold import Blank
from formwork.packet.blocks import Line, Table
from formwork.packet.cut_sections import cut_list
from formwork.packet.ordinates import ordinates


def blank_of(outline):
    (x, y), (x1, y1) = box(outline)
    laid = shifted(outline, (-x, -y))
    return Blank(x1 - x, y1 - y, 0.004, laid.points, (0.0,) * len(laid.points), bulges=laid.bulges)


def gore(radius=1.0, number=12, steps=9, lean=0.0):
    """A gore from the springing up to 10 degrees from the crown; its edge lies R sin(pi / n) sin(phi) off its middle."""
    stations = [(pi / 2 * k / steps, pi / 2 * (1 - k / steps) * radius) for k in range(steps, 0, -1)]
    right = [(radius * sin(pi / number) * sin(phi), y) for phi, y in stations]
    return blank_of(polygon([*right, *((lean - x, y) for x, y in reversed(right))]))


def test_half_widths_of_a_gore_are_as_tabled():
    """R = 1, 12 gores: 0.25882 at the springing, 0.22414 at 60 degrees, 0.04494 at 10 (worked out by us, no print)."""
    found = ordinates(gore())
    assert found.upward and found.middle == pytest.approx(sin(pi / 12))
    half = [(high - low) / 2.0 for _, low, high in found.rows]
    assert half[0] == pytest.approx(0.25882, abs=5e-6)
    assert half[3] == pytest.approx(0.22414, abs=5e-6)
    assert half[-1] == pytest.approx(0.04494, abs=5e-6)
    assert found.rows[3][0] == pytest.approx(pi / 6)


def test_one_that_lies_along_the_grain_is_measured_from_the_left():
    blank = gore()
    lying = blank_of(polygon([(y, -x) for x, y in blank.outline]))
    found = ordinates(lying)
    assert not found.upward and len(found.rows) == 9


def test_a_crooked_one_has_both_edges():
    found = ordinates(blank_of(polygon([*((0.3 + 0.02 * k * k / 10, 0.1 * k) for k in range(11)),
                                        *((0.01 * k * k / 10, 0.1 * k) for k in range(10, -1, -1))])))  # fmt: skip
    assert found.middle is None
    assert found.rows[10] == pytest.approx((1.0, 0.1, 0.5))


@pytest.mark.parametrize("outline", [
    polygon([(0.0, 0.0), (1.0, 0.0), (0.8, 0.4), (0.2, 0.4)]),
    ring_sector(0.3, 0.4, 0.0, 1.0),
    circle((0.0, 0.0), 0.3),
    polygon([(2.0 * cos((k + 0.3) / 20 * pi), sin((k + 0.3) / 20 * pi)) for k in range(40)]),
], ids=["straight", "arcs", "disc", "points not across from each other"])  # fmt: skip
def test_what_has_no_ordinates(outline):
    assert ordinates(blank_of(outline)) is None


def test_the_cut_list_has_a_table_of_them(make_plan):
    plan = make_plan()
    line = plan.cut_list[0]
    part = replace(line.part, role="skin", blank=gore(), holes=())
    blocks = cut_list(replace(plan, cut_list=(CutLine("A1", line.mold, ("gore",), part, 12),))).blocks
    how, rows = blocks[-2:]
    assert (
        isinstance(how, Line)
        and "half the width to either side of a middle line 258.8 from the left end" in how.text
    )
    assert isinstance(rows, Table) and rows.rows[0] == ("A1", "0", "258.8")
    assert len(rows.rows) == 9
