"""Outlines, turned bodies and prisms against shapely, Pappus's worked examples and closed forms."""

from __future__ import annotations

from math import cos, pi, sin, tan, tau

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.geometry import outlines
from formwork.geometry.outlines import Outline
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned

FINE = 1e-7


@st.composite
def drawn_outlines(draw: st.DrawFn) -> Outline:
    """A star-shaped outline to the right of the y axis, some of its legs arcs."""
    count = draw(st.integers(3, 8))
    angles = [tau * (k + draw(st.floats(0.1, 0.9))) / count for k in range(count)]
    radii = [draw(st.floats(0.5, 1.0)) for _ in angles]
    points = tuple((2.0 + r * cos(a), 1.0 + r * sin(a)) for a, r in zip(angles, radii, strict=True))
    return Outline(points, tuple(draw(st.sampled_from((0.0, 0.0, 0.1, -0.05))) for _ in angles))


def region(outline: Outline) -> shapely.Polygon:
    return shapely.Polygon(outlines.flattened(outline, FINE))


@given(outline=drawn_outlines())
@settings(max_examples=60, deadline=None)
def test_area_perimeter_centroid_and_box_are_those_of_a_fine_polygon(outline: Outline) -> None:
    fine = region(outline)
    assert outlines.area(outline) == pytest.approx(fine.area, abs=2e-6)
    assert outlines.perimeter(outline) == pytest.approx(fine.length, abs=2e-6)
    assert outlines.centroid(outline) == pytest.approx((fine.centroid.x, fine.centroid.y), abs=2e-6)
    (x0, y0), (x1, y1) = outlines.box(outline)
    assert (x0, y0, x1, y1) == pytest.approx(fine.bounds, abs=1e-6)


@given(outline=drawn_outlines(), angle=st.floats(-4.0, 4.0))
@settings(max_examples=40, deadline=None)
def test_moving_an_outline_keeps_its_area(outline: Outline, angle: float) -> None:
    size = outlines.area(outline)
    for moved in (
        outlines.turned_by(outline, angle),
        outlines.mirrored(outline),
        outlines.transposed(outline),
        outlines.shifted(outline, (angle, 1.0)),
    ):
        assert outlines.area(moved) == pytest.approx(size, rel=1e-9)
    assert outlines.area(outlines.reversed_outline(outline)) == pytest.approx(-size, rel=1e-9)
    assert outlines.mirrored(outlines.mirrored(outline)).points[0] == pytest.approx(outline.points[0])


@given(outline=drawn_outlines())
@settings(max_examples=40, deadline=None)
def test_a_turned_body_is_its_thin_rings_together(outline: Outline) -> None:
    """Against the sum over strips of a fine polygon: area of each strip times the way of its middle."""
    fine = region(outline)
    low, high = fine.bounds[0], fine.bounds[2]
    width = (high - low) / 400
    strips = (
        (
            low + (k + 0.5) * width,
            fine.intersection(shapely.box(low + k * width, 0.0, low + (k + 1) * width, 3.0)),
        )
        for k in range(400)
    )
    assert Turned(outline).volume() == pytest.approx(sum(tau * r * s.area for r, s in strips), rel=1e-5)


def test_pappus_for_a_torus() -> None:
    """Larson & Edwards, Calculus, example 7.7: a circle of radius 1, its centre 2 from the axis: about 39.5."""
    assert Turned(outlines.circle((2.0, 0.0), 1.0)).volume() == pytest.approx(39.5, abs=0.05)


def test_shell_of_a_hemisphere() -> None:
    """2/3 pi (1.6^3 - 1.5^3), in closed form."""
    quarter = tan(pi / 8.0)
    shell = Outline(((1.5, 0.0), (1.6, 0.0), (0.0, 1.6), (0.0, 1.5)), (0.0, quarter, 0.0, -quarter))
    assert Turned(shell).volume() == pytest.approx(2.0 / 3.0 * pi * (1.6**3 - 1.5**3), rel=1e-12)


@given(outline=drawn_outlines(), share=st.floats(0.2, 1.0))
@settings(max_examples=40, deadline=None)
def test_a_prism_drawn_in_is_the_integral_of_its_sections(outline: Outline, share: float) -> None:
    body = Prism(outline, 0.7, head=outlines.scaled(outline, share))
    steps = 200
    mean = sum(outlines.area(body.at((k + 0.5) / steps)) for k in range(steps)) / steps
    assert body.volume() == pytest.approx(0.7 * mean, rel=1e-4)


@given(outline=drawn_outlines())
@settings(max_examples=30, deadline=None)
def test_turning_over_twice_brings_a_body_back(outline: Outline) -> None:
    bowl, board = Turned(outline, (0.3, 0.2), 0.4, 1.1), Prism(outline, 0.5)
    assert bowl.turned_over(3.0).volume() == pytest.approx(bowl.volume())
    again = bowl.turned_over(3.0).turned_over(3.0)
    assert again.box()[1] == pytest.approx(bowl.box()[1])
    assert board.turned_over(3.0).turned_over(3.0).box()[0] == pytest.approx(board.box()[0])
    assert board.turned_over(3.0).box()[1][2] == pytest.approx(3.0)


def test_the_box_of_part_of_a_ring_is_that_of_its_points() -> None:
    part = Turned(outlines.rectangle((1.0, 0.0), (1.2, 0.3)), (0.5, -0.5), 0.3, 2.0)
    low, high = part.box()
    around = [
        (0.5 + r * cos(0.3 + 2.0 * k / 2000), -0.5 + r * sin(0.3 + 2.0 * k / 2000))
        for k in range(2001)
        for r in (1.0, 1.2)
    ]
    xs, ys = zip(*around, strict=True)
    assert (low[0], low[1], high[0], high[1]) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-5)


@given(outline=drawn_outlines(), share=st.floats(0.05, 0.95))
@settings(max_examples=60, deadline=None)
def test_the_radius_at_a_height_is_where_a_level_line_leaves_the_profile(
    outline: Outline, share: float
) -> None:
    fine = region(outline)
    height = fine.bounds[1] + share * (fine.bounds[3] - fine.bounds[1])
    met = fine.intersection(shapely.LineString([(0.0, height), (5.0, height)]))
    assert Turned(outline).radius(height) == pytest.approx(met.bounds[2], abs=1e-4)
