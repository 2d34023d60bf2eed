"""Which parts are alike: what one description at the saw makes, however the blank lies."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.cutting.cut_list import cut_list
from formwork.geometry.outlines import Outline, box, circle, reversed_outline, ring_sector, shifted
from formwork.geometry.planes import Planes
from formwork.molds.mold import Blank, Mold, Part, Placement
from formwork.shapes.piece import Piece, Planar

PLACE = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def part(name: str, blank: Blank) -> Part:
    return Part(name, "ring", "panel", "ply 18", name, (), blank, PLACE)


def labels(*blanks: Blank) -> list[str]:
    """The label of each blank, all of one mold."""
    parts = tuple(part(f"part {n}", blank) for n, blank in enumerate(blanks))
    piece = Piece("tub", "tub", Planar((), ()), (), (), True, (), (), ())
    mold = Mold("tub mold", "wrapped", piece, Planes(), parts, (), 0, 0, (), (), 0, 0, 1, False, 1, ())
    named = {name: line.label for line in cut_list([(mold, 1)]) for name in line.names}
    return [named[one.name] for one in parts]


def segment(inner=0.3, outer=0.4, sweep=pi / 3, **more) -> Blank:
    ring = ring_sector(inner, outer, 0.0, sweep)
    (x, y), (x1, y1) = box(ring)
    ring = shifted(ring, (-x, -y))
    return Blank(x1 - x, y1 - y, 0.018, ring.points, (0.0,) * 4, bulges=ring.bulges, **more)


def half_round(blank: Blank) -> Blank:
    """The same blank turned by half a turn, told from another corner."""

    def at(x, y):
        return blank.length - x, blank.width - y

    def laid(outline: Outline) -> Outline:
        return Outline(tuple(at(x, y) for x, y in outline.points), outline.bulges)

    edge = laid(blank.edge)
    return replace(
        blank,
        outline=(*edge.points[1:], edge.points[0]),
        bulges=(*edge.bulges[1:], edge.bulges[0]),
        bevels=(*blank.bevels[1:], blank.bevels[0]),
        holes=tuple((*at(x, y), across) for x, y, across in blank.holes),
        openings=tuple(laid(one) for one in blank.openings),
    )


def test_equal_ring_segments_have_one_label():
    assert labels(segment(), segment(), half_round(segment())) == ["A1", "A1", "A1"]


def test_the_same_corners_with_other_arcs_are_another_part():
    one = segment()
    assert labels(one, replace(one, bulges=())) == ["A1", "A2"]
    assert labels(one, replace(one, bulges=tuple(b * 1.02 for b in one.bulges))) == ["A1", "A2"]
    assert labels(one, replace(one, bulges=tuple(-b for b in one.bulges))) == ["A1", "A2"]


def test_an_arc_that_rises_by_less_than_a_step_is_a_straight_edge():
    plain = Blank(1.0, 0.5, 0.018, ((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (0.0, 0.5)), (0.0,) * 4)
    assert labels(plain, replace(plain, bulges=(2e-6, 0.0, 0.0, 0.0))) == ["A1", "A1"]


def test_openings_and_holes_make_another_part():
    one = segment()
    with_opening = replace(one, openings=(circle((0.05, 0.2), 0.02),))
    moved = replace(one, openings=(circle((0.05, 0.21), 0.02),))
    assert labels(one, with_opening, moved, half_round(with_opening)) == ["A1", "A2", "A3", "A2"]


def test_a_hole_near_one_end_is_not_a_hole_near_the_other():
    """A plain rectangle is the same half round; with a hole beside its left end it is so only with the hole."""
    plain = Blank(1.0, 0.5, 0.018, ((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (0.0, 0.5)), (0.0,) * 4)
    left = replace(plain, holes=((0.1, 0.1, 0.02),))
    assert labels(left, replace(plain, holes=((0.9, 0.4, 0.02),)), replace(plain, holes=((0.9, 0.1, 0.02),))) == [
        "A1", "A1", "A2",
    ]  # fmt: skip


def test_a_wedge_with_a_hole_is_not_the_wedge_turned_round_with_a_hole_in_its_old_place():
    wedge = Blank(
        1.0, 0.5, 0.018, ((0.0, 0.0), (1.0, 0.0), (0.7, 0.5), (0.0, 0.5)), (0.0,) * 4, ((0.1, 0.1, 0.02),)
    )
    turned = half_round(wedge)
    assert labels(wedge, turned, replace(turned, holes=wedge.holes)) == ["A1", "A1", "A2"]


@given(
    st.floats(0.1, 0.5), st.floats(0.02, 0.3), st.floats(0.2, 3.0),
    st.lists(st.tuples(st.floats(0.01, 0.05), st.floats(0.01, 0.05), st.floats(0.005, 0.03)), max_size=3),
)  # fmt: skip
def test_half_a_turn_changes_nothing(inner, depth, sweep, holes):
    one = segment(inner, inner + depth, sweep, holes=tuple(holes), openings=(circle((0.04, 0.03), 0.01),))
    assert labels(one, half_round(one), half_round(half_round(one))) == ["A1", "A1", "A1"]


def test_an_opening_told_from_another_corner_is_the_same():
    one = replace(segment(), openings=(circle((0.05, 0.2), 0.02),))
    (opening,) = one.openings
    told = Outline((*opening.points[2:], *opening.points[:2]), opening.bulges)
    assert labels(one, replace(one, openings=(told,))) == ["A1", "A1"]
    assert labels(one, replace(one, openings=(reversed_outline(opening),))) == ["A1", "A2"]


@pytest.mark.parametrize("field", ["wall", "thickness"])
def test_other_stock_is_another_part(field):
    one = segment()
    assert labels(one, replace(one, **{field: 0.021})) == ["A1", "A2"]
