"""Parts out of the openings of others: which fit, where they lie, and that the judge measures them."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import hypot

import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.cutting.cut_list import CutLine
from formwork.cutting.drops import stacks
from formwork.cutting.judge_rows import judge_rows
from formwork.cutting.layouts import Layouts, Yard, lay_out
from formwork.cutting.records import SheetPlan, spots
from formwork.cutting.rows import CLEARANCE
from formwork.errors import InternalError
from formwork.geometry.outlines import circle, flattened, rectangle
from formwork.molds.mold import Blank, Part, Placement
from formwork.stock.records import Saw, SheetStock
from formwork.units import show

PLACE = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
PLY = SheetStock("ply 18", "plywood", "18 mm", 0.018, True, 2.44, 1.22)
KERF = 0.003


def ring(outer: float, inner: float = 0.0) -> Blank:
    disc = circle((outer, outer), outer)
    openings = (circle((outer, outer), inner),) if inner else ()
    return Blank(2 * outer, 2 * outer, 0.018, disc.points, (0.0,) * 4, bulges=disc.bulges, openings=openings)


def cut(label: str, blank: Blank, quantity: int = 1, role: str = "ring") -> CutLine:
    part = Part(label, role, "panel", "ply 18", label, (), blank, PLACE)  # type: ignore[arg-type]
    return CutLine(label, "bowl mold", (label,), part, quantity)


def laid(*lines: CutLine) -> Layouts:
    return lay_out(lines, Yard((PLY,), (), Saw(KERF, 0.0), partial(show.length, units="mm"), {}))


def shape_at(spot, blank):
    whole = shapely.Polygon(flattened(blank.edge, 1e-5), [flattened(one, 1e-5) for one in blank.openings])
    turned = shapely.affinity.rotate(whole, 90 * spot.quarters, origin=(0, 0))
    x, y, _, _ = turned.bounds
    return shapely.affinity.translate(turned, spot.x - x, spot.y - y)


def test_a_disc_comes_out_of_the_smallest_ring_that_has_room_for_it():
    lines = [cut("A1", ring(0.4, 0.35)), cut("A2", ring(0.3, 0.22)), cut("A3", ring(0.2))]
    (one,) = stacks(lines, KERF)
    assert one.label == "A1 with A2 with A3"
    assert [(place.x, place.y) for place in one.places] == [
        pytest.approx(at) for at in ((0.0, 0.0), (0.1, 0.1), (0.2, 0.2))
    ]


@pytest.mark.parametrize(("radius", "fits"), [(0.2937, True), (0.2941, False)])
def test_the_kerf_and_what_the_saw_strays_lie_between(radius, fits):
    """An opening of 300 mm less 6 mm for the saw, and two tenths for chords."""
    assert round(KERF + CLEARANCE, 9) == 0.006
    found = stacks([cut("A1", ring(0.4, 0.3)), cut("A2", ring(radius))], KERF)
    assert (len(found) == 1) == fits


def test_what_has_no_room_or_no_round_opening_is_cut_alone():
    square = replace(ring(0.4), openings=(rectangle((0.1, 0.1), (0.7, 0.7)),))
    lines = [cut("A1", ring(0.4, 0.2)), cut("A2", ring(0.3)), cut("A3", square), cut("A4", ring(0.19), 3)]
    found = {one.label: one.count for one in stacks(lines, KERF)}
    assert found == {"A1 with A4": 1, "A2": 1, "A3": 1, "A4": 2}


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.05, 0.5), st.floats(0.0, 0.95), st.integers(1, 4)), min_size=1, max_size=6)
)
def test_every_part_is_in_one_stack_and_parts_in_a_stack_keep_apart(asked):
    """The polygon library measures what lies between them."""
    lines = [
        cut(f"A{n}", ring(outer, outer * share if outer * share > 0.01 else 0.0), count)
        for n, (outer, share, count) in enumerate(asked, start=1)
    ]
    found = stacks(lines, KERF)
    counts = {line.label: 0 for line in lines}
    for one in found:
        shapes = []
        for line, place in zip(one.lines, one.places, strict=True):
            counts[line.label] += one.count
            blank = line.part.blank
            whole = shapely.Polygon(
                flattened(blank.edge, 1e-5), [flattened(opening, 1e-5) for opening in blank.openings]
            )
            shapes.append(shapely.affinity.translate(whole, place.x, place.y))
        for k, shape in enumerate(shapes):
            for other in shapes[k + 1 :]:
                assert shape.distance(other) >= KERF + CLEARANCE - 1e-6
    assert counts == {line.label: line.quantity for line in lines}


def test_discs_out_of_rings_save_a_sheet_and_lie_in_them():
    """Eight rings of 600 mm fill a sheet; the eight discs of 400 mm out of them need none."""
    rings, discs = cut("A1", ring(0.3, 0.22), 8), cut("A2", ring(0.2), 8)
    found = laid(rings, discs)
    assert sum(one.count for one in found.sheets) == 1
    assert sum(one.count for one in laid(cut("A1", ring(0.3), 8), discs).sheets) == 2
    for layout in found.sheets:
        for placed in layout.placed:
            ring_at, disc_at = (
                shape_at(spot, {"A1": rings, "A2": discs}[spot.label].part.blank) for spot in spots(placed)
            )
            assert ring_at.distance(disc_at) >= KERF + CLEARANCE - 1e-6
            apart = hypot(ring_at.centroid.x - disc_at.centroid.x, ring_at.centroid.y - disc_at.centroid.y)
            assert apart < 1e-6


@pytest.mark.parametrize("off", [(0.02, 0.0), (0.0, -0.3)])
def test_the_judge_measures_what_lies_in_an_opening(off):
    lines = [cut("A1", ring(0.3, 0.22), 8), cut("A2", ring(0.2), 8)]
    found = laid(*lines)
    layout = found.sheets[0]
    first, *rest = layout.placed
    outer, inner = first.nested
    moved = replace(first, nested=(outer, replace(inner, x=inner.x + off[0], y=inner.y + off[1])))
    blanks = {line.label: line.part.blank for line in lines}
    judge_rows(blanks, Saw(KERF, 0.0), SheetPlan((layout,), found.bounds[0]))
    with pytest.raises(InternalError):
        judge_rows(
            blanks, Saw(KERF, 0.0), SheetPlan((replace(layout, placed=(moved, *rest)),), found.bounds[0])
        )


def test_a_part_whose_grain_is_locked_keeps_it_in_a_ring_that_may_turn():
    found = laid(cut("A1", ring(0.3, 0.25), 5), cut("A2", ring(0.2), 5, "skin"))
    assert all(
        spot.quarters % 2 == 0
        for layout in found.sheets
        for placed in layout.placed
        for spot in spots(placed)
        if spot.label == "A2"
    )
