"""Segments of circular ribs. Numeric proofs: no print was found, so the formulas are held against polygons."""

from __future__ import annotations

from math import cos, dist, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry import ribs
from formwork.geometry.meridians import sphere
from formwork.geometry.outlines import box, flattened


def test_a_segment_that_the_length_of_the_sheet_limits() -> None:
    """R 72, depth 5, from 24 x 96 in: limited by the length, 22.061 in wide (numeric proof)."""
    turn = ribs.greatest_turn(72.0, 5.0, 24.0, 96.0)
    length, width = ribs.box_of_segment(72.0, 5.0, turn)
    assert length == pytest.approx(96.0, rel=1e-12)
    assert width == pytest.approx(22.061, abs=5e-4)


def test_a_segment_that_the_width_limits() -> None:
    """R 60, depth 4, from a 12 in strip: box 12.000 x 61.809 in (numeric proof)."""
    turn = ribs.greatest_turn(60.0, 4.0, 12.0, 96.0)
    assert ribs.box_of_segment(60.0, 4.0, turn) == pytest.approx((61.809, 12.0), abs=5e-4)


@given(st.floats(0.5, 6.0), st.floats(0.04, 0.2), st.floats(0.25, 1.2), st.floats(0.8, 3.0))
@settings(max_examples=60, deadline=None)
def test_the_formula_is_the_box_of_the_segment_itself(
    radius: float, depth: float, width: float, length: float
) -> None:
    """Second route: the outline of lines and arcs, laid on its chord, measured."""
    turn = 0.999 * ribs.greatest_turn(radius, depth, width, length)
    middle = pi / 2.0 - turn / 2.0
    outline = ribs.segment(
        sphere(radius, radius), depth, (middle + turn / 2.0,) * 2, (middle - turn / 2.0,) * 2
    )
    last = next(k for k, p in enumerate(outline.points) if dist(p, (radius * sin(middle - turn / 2.0),
                radius * cos(middle - turn / 2.0))) < 1e-9)  # fmt: skip
    lying, _ = ribs.laid(outline, 0, last)
    (x0, y0), (x1, y1) = box(lying)
    assert (x1 - x0, y1 - y0) == pytest.approx(ribs.box_of_segment(radius, depth, turn), abs=1e-9)
    assert x1 - x0 <= length
    assert y1 - y0 <= width


def test_nested_segments_of_45_degrees() -> None:
    """R 72, depth 5: chord 55.11, box 10.10, pitch 5.38 in, 8 on a sheet of 48 in (numeric proof)."""
    turn = radians(45.0)
    length, width = ribs.box_of_segment(72.0, 5.0, turn)
    pitch = ribs.nesting_pitch(72.0, 5.0, turn)
    assert (length, width, pitch) == pytest.approx((55.11, 10.10, 5.38), abs=5e-3)
    assert ribs.nested(48.0, width, pitch) == 8


def test_nested_segments_touch_and_do_not_overlap() -> None:
    import shapely  # noqa: PLC0415 - the second route

    radius, depth, turn = 1.8, 0.13, radians(50.0)
    ends = (turn / 2.0,) * 2
    outline = ribs.segment(sphere(radius, radius), depth, ends, (0.0, 0.0))
    half = shapely.Polygon(flattened(outline, 1e-6))
    pitch = ribs.nesting_pitch(radius, depth, turn)
    other = shapely.affinity.translate(half, 0.0, -pitch)
    assert half.intersection(other).area < 1e-6
    assert half.distance(other) < 1e-5
    assert half.intersection(shapely.affinity.translate(half, 0.0, -pitch + 1e-3)).area > 1e-6


def test_sagitta_and_the_short_formula() -> None:
    """R 72, chord 40: 2.83353, where c2 / 8R gives 2.77778, 2.0 % low (numeric proof)."""
    assert ribs.sagitta(72.0, 40.0) == pytest.approx(2.83353, abs=5e-6)
    assert 1.0 - 40.0**2 / (8.0 * 72.0) / ribs.sagitta(72.0, 40.0) == pytest.approx(0.020, abs=5e-4)


def test_a_purlin_reaches_from_rib_to_rib() -> None:
    """Second route: the two ribs' sides as lines, and the chord between them."""
    radius, count, thickness = 1.3, 16, 0.036
    half = pi / count
    chord = 2.0 * radius * sin(half)
    assert ribs.hoop_length(radius, count, thickness) == pytest.approx(
        chord - 2.0 * (thickness / 2.0) / cos(half), rel=1e-12
    )


@pytest.mark.parametrize(
    ("depth", "width", "words"), [(0.3, 0.2, "do not fit a sheet"), (0.5, 0.6, "deeper than")]
)
def test_ribs_too_deep_are_refused(depth: float, width: float, words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        ribs.greatest_turn(0.4, depth, width, 2.4)


def test_ribs_come_in_fours_and_find_room_on_their_ring() -> None:
    assert ribs.rib_count(1.5, 2.0 * pi * 1.5 / 21.0) == 24
    assert ribs.ring_radius(24, 0.036) * 2.0 * pi == pytest.approx(24 * 0.036)
