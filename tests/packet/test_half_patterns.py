"""Halves of patterns that are alike on both sides: together with their turned selves they are the whole."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from formwork.geometry.outlines import Outline, circle
from formwork.packet.half_patterns import ALONG_THE_MIDDLE, MARK, halved
from formwork.packet.patterns import EdgeNote, Hole, Pattern
from formwork.packet.template_plane import region
from formwork.packet.template_sets import Tile

PAGE = Tile(250.0, 180.0)


def straight(*points) -> Outline:
    return Outline(tuple(points), (0.0,) * len(points))


def pattern_of(outline: Outline, length: float, height: float, **more) -> Pattern:
    return Pattern("A3", ("rail", "size", "2 pieces"), outline, more.pop("holes", ()), more.pop("notes", ()), length,
                   height, **more)  # fmt: skip


def trapezoid(long: float, short: float, height: float, **more) -> Pattern:
    off = (long - short) / 2.0
    return pattern_of(
        straight((0.0, 0.0), (long, 0.0), (long - off, height), (off, height)), long, height, **more
    )


def whole_again(half: Pattern, middle: float) -> shapely.Polygon:
    left = region(half, (0.0, 0.0))
    return shapely.union(left, shapely.transform(left, lambda at: at * (-1.0, 1.0) + (2.0 * middle, 0.0)))


@given(st.floats(260.0, 900.0), st.floats(0.1, 1.0), st.floats(30.0, 200.0))
def test_a_half_and_its_turned_self_are_the_whole(long, share, height):
    whole = trapezoid(long, share * long, height)
    half = halved(whole, PAGE)
    assert half.label == f"A3 {MARK}" and half.length == pytest.approx(long / 2.0)
    missing = shapely.symmetric_difference(whole_again(half, long / 2.0), region(whole, (0.0, 0.0)))
    assert missing.area < 1e-3
    assert region(half, (0.0, 0.0)).area == pytest.approx((1.0 + share) * long * height / 4.0)


def test_arcs_come_through():
    """A half disc of 400 mm, its straight side level: the quarter that is left has a quarter of the disc's area."""
    whole = pattern_of(Outline(((0.0, 0.0), (400.0, 0.0)), (0.0, 1.0)), 400.0, 200.0)
    half = halved(whole, PAGE)
    assert region(half, (0.0, 0.0)).area == pytest.approx(3.141592653589793 * 200.0**2 / 4.0, rel=1e-3)


def test_what_fits_a_page_is_printed_whole():
    whole = trapezoid(240.0, 200.0, 100.0)
    assert halved(whole, PAGE) is whole


def test_what_is_not_alike_on_both_sides_is_printed_whole():
    leaning = pattern_of(straight((0.0, 0.0), (400.0, 0.0), (400.0, 100.0), (1.0, 100.0)), 400.0, 100.0)
    assert halved(leaning, PAGE) is leaning
    bored = trapezoid(400.0, 300.0, 100.0, holes=(Hole((100.0, 50.0), 10.0, "10 mm hole"),))
    assert halved(bored, PAGE) is bored
    tilted = trapezoid(400.0, 300.0, 100.0, notes=(EdgeNote((0.0, 0.0), (50.0, 100.0), "6 deg in"),))
    assert halved(tilted, PAGE) is tilted


def test_holes_openings_and_words_of_the_left_half_are_kept():
    holes = (Hole((100.0, 50.0), 10.0, "10 mm hole"), Hole((300.0, 50.0), 10.0, "10 mm hole"))
    notes = (
        EdgeNote((0.0, 0.0), (400.0, 0.0), "6 deg in"),
        EdgeNote((400.0, 0.0), (350.0, 100.0), "1 deg out"),
        EdgeNote((50.0, 100.0), (0.0, 0.0), "1 deg out"),
    )
    hole = circle((0.0, 0.0), 20.0)
    openings = tuple(
        Outline(tuple((x + at, y + 50.0) for x, y in hole.points), hole.bulges) for at in (150.0, 250.0)
    )
    whole = trapezoid(400.0, 300.0, 100.0, holes=holes, notes=notes, openings=openings)
    half = halved(whole, PAGE)
    assert half.holes == holes[:1] and len(half.openings) == 1
    assert [note.text for note in half.notes].count("1 deg out") == 1
    level = next(note for note in half.notes if note.text == "6 deg in")
    assert (level.start, level.end) == ((0.0, 0.0), (200.0, 0.0))
    (fold,) = [note for note in half.notes if note.text == ALONG_THE_MIDDLE]
    assert {fold.start, fold.end} == {(200.0, 0.0), (200.0, 100.0)}


def test_a_part_that_its_middle_parts_in_two_is_printed_whole():
    """A frame whose left half would fall into two pieces."""
    bow = straight(
        (0.0, 0.0),
        (400.0, 0.0),
        (400.0, 30.0),
        (100.0, 30.0),
        (100.0, 70.0),
        (400.0, 70.0),
        (400.0, 100.0),
        (0.0, 100.0),
    )
    whole = pattern_of(bow, 400.0, 100.0)
    assert halved(whole, PAGE) is whole
    assert halved(replace(whole, length=200.0), PAGE).label == "A3"


def test_what_is_alike_above_and_below_its_middle_is_folded_there():
    """A gore that lies: 700 long, 300 wide at one end and 200 at the other, its wide end drilled at the middle line."""
    sides = ((0.0, 0.0), (700.0, 50.0), (700.0, 250.0), (0.0, 300.0))
    notes = (EdgeNote(sides[0], sides[1], "3 deg in"), EdgeNote(sides[2], sides[3], "3 deg in"))
    whole = pattern_of(straight(*sides), 700.0, 300.0, notes=notes)
    half = halved(whole, PAGE)
    assert (half.length, half.height) == (700.0, 150.0)
    shape = region(half, (0.0, 0.0))
    assert shape.area == pytest.approx(700.0 * 250.0 / 2.0)
    assert shape.bounds == pytest.approx((0.0, 0.0, 700.0, 150.0))
    (fold,) = [note for note in half.notes if note.text == ALONG_THE_MIDDLE]
    assert {fold.start, fold.end} == {(0.0, 0.0), (700.0, 0.0)}
    assert [note.text for note in half.notes].count("3 deg in") == 1
