"""Cells against scipy's hulls and half-space intersections, and the laws that volumes obey."""

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from formwork.errors import GeometryError
from formwork.geometry.cells import (
    area,
    box_of,
    cell,
    cut_away,
    meet,
    minus,
    moved,
    split,
    support,
    union,
    volume,
)
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import add, scale

FEW = settings(max_examples=60, deadline=None)
AXES = (
    (1.0, 0.0, 0.0),
    (-1.0, 0.0, 0.0),
    (0.0, 1.0, 0.0),
    (0.0, -1.0, 0.0),
    (0.0, 0.0, 1.0),
    (0.0, 0.0, -1.0),
)


def box_halves(centre, size):
    return [HalfSpace(n, sum(a * b for a, b in zip(n, centre, strict=True)) + size / 2) for n in AXES]


@st.composite
def half_spaces(draw):
    """A box somewhere near the origin with a few corners cut off at any slope, its middle always kept."""
    centre = tuple(draw(st.floats(-0.4, 0.4)) for _ in range(3))
    halves = box_halves(centre, draw(st.floats(0.3, 1.2)))
    for _ in range(draw(st.integers(0, 5))):
        turn, rise = draw(st.floats(0.0, 2 * pi)), draw(st.floats(-1.5, 1.5))
        normal = (cos(rise) * cos(turn), cos(rise) * sin(turn), sin(rise))
        reach = sum(a * b for a, b in zip(normal, centre, strict=True)) + draw(st.floats(0.02, 0.5))
        halves.append(HalfSpace(normal, reach))
    return halves


def area_vectors(body):
    total = np.zeros(3)
    for polygon in body.facets.values():
        p = np.array(polygon)
        total += 0.5 * np.cross(p[1:-1] - p[0], p[2:] - p[0]).sum(axis=0)
    return total


@FEW
@given(half_spaces())
def test_volume_is_that_of_the_hull_of_its_corners(halves):
    body = cell(Planes(), halves)
    hull = ConvexHull(np.array(body.points()), qhull_options="QJ Pp")
    assert body.volume() == pytest.approx(hull.volume, rel=1e-6)
    assert sum(area(p) for p in body.facets.values()) == pytest.approx(hull.area, rel=1e-6)


@FEW
@given(half_spaces())
def test_facets_close_and_lie_on_their_planes(halves):
    book = Planes()
    body = cell(book, halves)
    assert area_vectors(body) == pytest.approx(np.zeros(3), abs=1e-8)
    for reference, polygon in body.facets.items():
        for point in polygon:
            assert book.half(reference).depth(point) == pytest.approx(0.0, abs=1e-8)
    for point in body.points():
        assert min(half.depth(point) for half in halves) >= -1e-8


@FEW
@given(half_spaces(), st.randoms(use_true_random=False))
def test_the_order_of_the_half_spaces_does_not_matter(halves, chance):
    mixed = list(halves)
    chance.shuffle(mixed)
    assert cell(Planes(), mixed).volume() == pytest.approx(cell(Planes(), halves).volume(), rel=1e-8)


@FEW
@given(half_spaces(), half_spaces())
def test_a_cut_loses_nothing(halves, others):
    book = Planes()
    body = cell(book, halves)
    for half in others:
        low, high = split(book, body, book.enter(half))
        parts = [part for part in (low, high) if part is not None]
        assert volume(parts) == pytest.approx(body.volume(), rel=1e-8)
        for part in parts:
            assert area_vectors(part) == pytest.approx(np.zeros(3), abs=1e-8)


@FEW
@given(half_spaces(), half_spaces())
def test_inclusion_and_exclusion(halves, others):
    book = Planes()
    a, b = cell(book, halves), cell(book, others)
    both = meet(book, a, b)
    shared = both.volume() if both is not None else 0.0
    assert volume(minus(book, a, b)) == pytest.approx(a.volume() - shared, abs=1e-8)
    assert volume(minus(book, b, a)) == pytest.approx(b.volume() - shared, abs=1e-8)
    assert volume(union(book, [a, b])) == pytest.approx(a.volume() + b.volume() - shared, abs=1e-8)


@FEW
@given(half_spaces(), half_spaces())
def test_what_two_cells_share_is_the_cell_of_all_their_half_spaces(halves, others):
    book = Planes()
    both = meet(book, cell(book, halves), cell(book, others))
    straight = cell(Planes(), [*halves, *others])
    assert (both.volume() if both else 0.0) == pytest.approx(straight.volume() if straight else 0.0, abs=1e-8)


@FEW
@given(half_spaces(), half_spaces(), half_spaces())
def test_three_cells_fill_the_same_space_in_any_order(first, second, third):
    book = Planes()
    bodies = [cell(book, halves) for halves in (first, second, third)]
    assert volume(union(book, bodies)) == pytest.approx(volume(union(book, bodies[::-1])), abs=1e-8)
    rest = cut_away(book, [bodies[0]], bodies[1:])
    assert volume(rest) == pytest.approx(
        volume(union(book, bodies)) - volume(union(book, bodies[1:])), abs=1e-8
    )


@FEW
@given(half_spaces(), st.tuples(*[st.floats(-2.0, 2.0)] * 3))
def test_a_moved_cell_keeps_its_volume_and_its_middle_moves(halves, by):
    book = Planes()
    body = cell(book, halves)
    there = moved(book, body, by)
    assert there.volume() == pytest.approx(body.volume(), rel=1e-9)
    assert there.centroid() == pytest.approx(add(body.centroid(), by), abs=1e-8)
    assert support(there, (0.0, 0.0, 1.0)) == pytest.approx(support(body, (0.0, 0.0, 1.0)) + by[2], abs=1e-12)


@FEW
@given(half_spaces(), half_spaces())
def test_the_middle_of_the_whole_is_the_mean_of_the_parts(halves, others):
    book = Planes()
    body = cell(book, halves)
    parts = split(book, body, book.enter(others[0]))
    assume(all(part is not None and part.volume() > 1e-6 for part in parts))
    mean = (0.0, 0.0, 0.0)
    for part in parts:
        mean = add(mean, scale(part.centroid(), part.volume() / body.volume()))
    assert mean == pytest.approx(body.centroid(), abs=1e-7)


def test_the_middle_of_a_tetrahedron_is_the_mean_of_its_corners():
    # Centroid of a simplex, any text of solid geometry.
    slope = 3.0**-0.5
    halves = [
        HalfSpace((-1.0, 0.0, 0.0), 0.0),
        HalfSpace((0.0, -1.0, 0.0), 0.0),
        HalfSpace((0.0, 0.0, -1.0), 0.0),
        HalfSpace((slope, slope, slope), slope),
    ]
    body = cell(Planes(), halves)
    assert body.volume() == pytest.approx(1 / 6, rel=1e-12)
    assert body.centroid() == pytest.approx((0.25, 0.25, 0.25), rel=1e-12)
    assert box_of([body]) == ((0.0, 0.0, 0.0), pytest.approx((1.0, 1.0, 1.0)))


def test_touching_cells_share_nothing():
    book = Planes()
    a = cell(book, box_halves((0.0, 0.0, 0.0), 1.0))
    b = cell(book, box_halves((1.0, 0.0, 0.0), 1.0))
    assert meet(book, a, b) is None
    assert minus(book, a, b) == [a]


def test_half_spaces_that_leave_a_way_out_are_refused():
    with pytest.raises(GeometryError, match="notch box is not closed"):
        cell(Planes(), box_halves((0.0, 0.0, 0.0), 1.0)[:-1], "notch box")


def test_half_spaces_that_enclose_nothing_give_none():
    halves = [*box_halves((0.0, 0.0, 0.0), 1.0), HalfSpace((1.0, 0.0, 0.0), -0.7)]
    assert cell(Planes(), halves) is None


@FEW
@given(half_spaces())
def test_a_plane_entered_again_is_found_from_either_side(halves):
    book = Planes()
    for half in halves:
        reference = book.enter(half)
        known = len(book)
        assert book.enter(HalfSpace(half.normal, half.offset + 3e-10)) == reference
        assert book.enter(half.flipped()) == -reference
        assert book.normal(-reference) == scale(book.normal(reference), -1.0)
        assert len(book) == known
