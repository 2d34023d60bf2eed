"""Meridians against closed forms of cap, shell, spheroid and catenary, and against fine polygons."""

from __future__ import annotations

from itertools import pairwise
from math import acos, asin, atanh, cos, cosh, degrees, exp, hypot, pi, sin, sinh, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError, RangeError
from formwork.geometry.meridians import (
    Catenary,
    Meridian,
    catenary,
    outlined,
    radius_over,
    sphere,
    spheroid,
)
from formwork.geometry.outlines import flattened_leg, moment
from formwork.geometry.quadrature import integral
from formwork.geometry.turned import Turned

STEPS = 4000


@st.composite
def drawn(draw: st.DrawFn) -> Meridian:
    """A meridian of any kind, of a half width near 1.5 m."""
    half = draw(st.floats(0.6, 3.0))
    rise = half * draw(st.floats(0.35, 1.6))
    match draw(st.sampled_from(("sphere", "spheroid", "catenary"))):
        case "sphere":
            return sphere(radius_over(half, rise), rise)
        case "spheroid":
            return spheroid(half, rise)
        case _:
            return catenary(half, rise)


def points(line: Meridian, start: float, end: float) -> list[tuple[float, float]]:
    return [line.point(start + (end - start) * k / STEPS) for k in range(STEPS + 1)]


def test_cap_of_a_sphere() -> None:
    """Encyclopaedia pages on the spherical cap: V = pi h2 (3R - h) / 3, A = 2 pi R h; R = 10, h = 4."""
    cap = sphere(10.0, 4.0)
    assert cap.inside(0.0, cap.springing) == pytest.approx(435.63418, abs=5e-6)
    assert cap.area(0.0, cap.springing) == pytest.approx(80.0 * pi, rel=1e-12)
    assert cap.r(cap.springing) == pytest.approx(8.0)
    assert radius_over(8.0, 4.0) == pytest.approx(10.0)
    deep = sphere(10.0, 16.0)
    assert degrees(deep.springing) == pytest.approx(degrees(acos(-0.6)))
    assert deep.inside(0.0, deep.springing) == pytest.approx(pi * 16.0**2 * 14.0 / 3.0)


def test_spherical_shell_cut_radially_and_level() -> None:
    """2 pi / 3 (Ro3 - Ri3) cos f, and cap less cap: Ri 1.5 m, t 0.1 m, springing 0.5 m above the centre."""
    inner = sphere(1.5, 1.0)
    outer = inner.moved(0.1)
    assert inner.shell(0.1, 0.0, inner.springing) == pytest.approx(1.006706, abs=5e-7)
    level = outer.inside(0.0, outer.at_height(0.0)) - inner.inside(0.0, inner.springing)
    assert level == pytest.approx(1.023112, abs=5e-7)
    whole = sphere(1.5, 1.5)
    assert whole.shell(0.1, 0.0, whole.springing) == pytest.approx(1.510059, abs=5e-7)


@pytest.mark.parametrize(
    ("half", "rise", "volume", "area"), [(2.0, 1.0, 8.377580, 17.343765), (1.5, 2.2, 10.367256, 18.697580)]
)
def test_half_spheroids(half: float, rise: float, volume: float, area: float) -> None:
    """V = 2/3 pi a2 b; A with atanh for an oblate one and asin for a prolate one."""
    line = spheroid(half, rise)
    assert line.inside(0.0, pi / 2.0) == pytest.approx(volume, abs=5e-7)
    assert line.area(0.0, pi / 2.0) == pytest.approx(area, abs=5e-7)
    assert line.inside(0.0, pi / 2.0) == pytest.approx(2.0 / 3.0 * pi * half * half * rise, rel=1e-12)
    assert line.area(0.0, pi / 2.0) == pytest.approx(spheroid_area(half, rise), rel=1e-12)


def spheroid_area(a: float, b: float) -> float:
    if b < a:
        e = sqrt(1.0 - b * b / (a * a))
        return pi * a * a * (1.0 + (1.0 - e * e) / e * atanh(e))
    e = sqrt(1.0 - a * a / (b * b))
    return pi * a * a * (1.0 + b / (a * e) * asin(e))


def test_a_spheroid_as_high_as_wide_is_a_sphere() -> None:
    assert spheroid(1.5, 1.5 + 1e-10) == sphere(1.5, 1.5)


def test_shell_of_a_spheroid_about_its_middle_surface() -> None:
    """Thickness t about the middle surface, cut at the equator: V = A t + pi t3 / 6."""
    middle, t = spheroid(2.0, 1.0), 0.1
    inner = middle.moved(-t / 2.0)
    assert inner.shell(t, 0.0, pi / 2.0) == pytest.approx(17.343765 * t + pi * t**3 / 6.0, abs=5e-8)


def test_an_ellipse_with_longer_axes_is_no_parallel_curve() -> None:
    """Axes a + t, b + t leave a shell up to 5.4 % thin at a = 2, b = 1, t = 0.1; the parallel curve leaves t."""
    inner, ellipse = spheroid(2.0, 1.0), spheroid(2.1, 1.1)
    outer = inner.moved(0.1)
    polars = [pi / 2.0 * k / 400 for k in range(401)]
    for own, least in ((ellipse, 0.0946), (outer, 0.1)):
        gaps = [min(hypot(r - x, z - y) for x, y in (own.point(p) for p in polars)) for r, z in
                (inner.point(p) for p in polars[::8])]  # fmt: skip
        assert min(gaps) == pytest.approx(least, abs=6e-5)


def test_catenary_of_revolution() -> None:
    """Half span 2, rise 2.5: a = 1.064716, volume, area, arc and slope by their closed forms."""
    line = catenary(2.0, 2.5)
    assert isinstance(line.curve, Catenary)
    a, b = line.curve.scale, 2.0
    assert a == pytest.approx(1.064716, abs=5e-7)
    assert degrees(line.springing) == pytest.approx(72.622, abs=5e-4)
    assert 2.0 * line.length(0.0, line.springing) == pytest.approx(6.803993, abs=5e-7)
    assert line.area(0.0, line.springing) == pytest.approx(26.026230, abs=5e-7)
    assert line.inside(0.0, line.springing) == pytest.approx(17.085001, abs=5e-7)
    area = 2.0 * pi * a * (b * sinh(b / a) - a * cosh(b / a) + a)
    held = pi * a * ((b * b + 2.0 * a * a) * cosh(b / a) - 2.0 * a * b * sinh(b / a) - 2.0 * a * a)
    assert line.area(0.0, line.springing) == pytest.approx(area, rel=1e-11)
    assert line.inside(0.0, line.springing) == pytest.approx(held, rel=1e-11)


@given(line=drawn())
@settings(max_examples=30, deadline=None)
def test_it_runs_from_its_span_to_its_rise(line: Meridian) -> None:
    assert line.z(line.springing) == pytest.approx(0.0, abs=1e-9)
    assert line.r(0.0) == 0.0
    assert line.z(0.0) == pytest.approx(line.crown)


@given(line=drawn(), share=st.floats(0.05, 0.95), distance=st.floats(-0.05, 0.3))
@settings(max_examples=60, deadline=None)
def test_normal_bend_and_girth_are_those_of_the_points(line: Meridian, share: float, distance: float) -> None:
    """The normal is square to a short chord; radii of curvature by differences along the curve."""
    polar, step = share * line.springing, 1e-5
    for run in (line, line.moved(distance)):
        (r0, z0), (r1, z1) = run.point(polar - step), run.point(polar + step)
        n = run.normal(polar)
        assert (r1 - r0) * n[0] + (z1 - z0) * n[1] == pytest.approx(0.0, abs=1e-9)
        assert hypot(r1 - r0, z1 - z0) / (2.0 * step) == pytest.approx(run.bend(polar), rel=1e-6)
        assert run.r(polar) == pytest.approx(run.girth(polar) * sin(polar), rel=1e-9)
    moved, own = line.moved(distance).point(polar), line.point(polar)
    assert hypot(moved[0] - own[0], moved[1] - own[1]) == pytest.approx(abs(distance), abs=1e-12)


@given(line=drawn(), share=st.floats(0.05, 0.95), distance=st.floats(-0.05, 0.3))
@settings(max_examples=30, deadline=None)
def test_what_is_asked_back_is_what_was_given(line: Meridian, share: float, distance: float) -> None:
    run = line.moved(distance)
    polar = share * line.springing
    assert run.at_height(run.z(polar)) == pytest.approx(polar, abs=1e-7)
    assert run.at_length(run.length(0.0, polar)) == pytest.approx(polar, abs=1e-9)
    if polar < pi / 2.0:
        assert run.at_radius(run.r(polar)) == pytest.approx(polar, abs=1e-6)


@given(line=drawn(), distance=st.floats(-0.05, 0.3))
@settings(max_examples=20, deadline=None)
def test_length_area_and_volume_are_those_of_a_fine_polygon(line: Meridian, distance: float) -> None:
    run, end = line.moved(distance), line.springing
    path = points(run, 0.0, end)
    steps = list(pairwise(path))
    length = sum(hypot(r1 - r0, z1 - z0) for (r0, z0), (r1, z1) in steps)
    area = sum(pi * (r0 + r1) * hypot(r1 - r0, z1 - z0) for (r0, z0), (r1, z1) in steps)
    held = sum(pi / 3.0 * (r0 * r0 + r0 * r1 + r1 * r1) * (z0 - z1) for (r0, z0), (r1, z1) in steps)
    assert run.length(0.0, end) == pytest.approx(length, rel=1e-6)
    assert run.area(0.0, end) == pytest.approx(area, rel=1e-6)
    assert run.inside(0.0, end) == pytest.approx(held, rel=1e-6)


@given(line=drawn(), thickness=st.floats(0.02, 0.3), closed=st.booleans())
@settings(max_examples=30, deadline=None)
def test_shell_by_steiner_is_shell_by_solids(line: Meridian, thickness: float, closed: bool) -> None:
    """Solid outside less solid inside, and the cones between the cut edges' ends."""
    start, end = 0.0 if closed else 0.2, line.springing
    outer = line.moved(thickness)

    def cone(polar: float) -> float:
        (r0, z0), (r1, z1) = line.point(polar), outer.point(polar)
        return pi / 3.0 * (r0 * r0 + r0 * r1 + r1 * r1) * (z1 - z0)

    solids = outer.inside(start, end) - line.inside(start, end) + cone(end) - cone(start)
    assert line.shell(thickness, start, end) == pytest.approx(solids, rel=1e-10)


@given(line=drawn(), thickness=st.floats(0.02, 0.3))
@settings(max_examples=30, deadline=None)
def test_arcs_hold_what_the_curve_holds_and_run_along_it(line: Meridian, thickness: float) -> None:
    inner, outer = line.traced(0.0, line.springing), line.moved(thickness).traced(line.springing, 0.0)
    body = Turned(outlined(outer, inner))
    assert body.volume() == pytest.approx(line.shell(thickness, 0.0, line.springing), rel=1e-11)
    for leg in inner:
        for r, z in flattened_leg(leg, 1e-5):
            near = line.at_height(min(max(z, 0.0), line.crown))
            assert abs(line.r(near) - r) * sin(near) < 5e-5 * line.r(line.springing) + 1e-9


def test_arcs_of_a_sphere_are_the_sphere() -> None:
    (leg,) = sphere(1.5, 1.0).traced(acos(1.0 / 3.0), 0.0)
    assert leg.arc().radius == pytest.approx(1.5, rel=1e-12)
    assert len(sphere(1.5, 2.0).traced(0.0, acos(-1.0 / 3.0))) == 2


def test_a_path_that_does_not_meet_the_next_is_joined_by_a_straight_leg() -> None:
    line = sphere(1.0, 1.0)
    half = outlined(line.traced(pi / 2.0, 0.0))
    assert half.points[0] == pytest.approx((1.0, 0.0))
    assert half.points[1] == pytest.approx((0.0, 1.0))
    assert half.bulges[1] == 0.0
    assert moment(half) == pytest.approx(1.0 / 3.0 - 1.0 / 6.0)


def test_curves_that_would_cross_themselves_are_refused() -> None:
    line = spheroid(2.0, 1.0)
    assert line.tightest() == pytest.approx(0.5)
    with pytest.raises(GeometryError, match="crosses itself"):
        line.moved(-0.5)
    with pytest.raises(GeometryError, match="twice its radius"):
        sphere(1.0, 2.0)
    with pytest.raises(GeometryError, match="5 spans"):
        catenary(1.0, 11.0)
    with pytest.raises(GeometryError, match="height"):
        line.at_height(1.1)
    with pytest.raises(GeometryError, match="axis"):
        line.at_radius(2.1)
    with pytest.raises(GeometryError, match="long"):
        line.at_length(9.0)


def test_flat_and_steep_catenaries_are_solved() -> None:
    for rise in (0.04, 0.5, 10.0):
        line = catenary(2.0, rise)
        assert line.r(line.springing) == pytest.approx(2.0, rel=1e-6)
        assert line.crown == rise


def test_integrals() -> None:
    """Of a power, an exponential and a tangent, by their antiderivatives; and of what has none."""
    assert integral(lambda x: x**7, 0.0, 2.0) == pytest.approx(32.0, rel=1e-13)
    assert integral(exp, -1.0, 3.0) == pytest.approx(exp(3.0) - exp(-1.0), rel=1e-13)
    assert integral(lambda x: 1.0 / cos(x) ** 2, 0.0, 1.55) == pytest.approx(tan(1.55), rel=1e-11)
    with pytest.raises(RangeError, match="did not settle"):
        integral(lambda x: x**-0.5, 0.0, 1.0)
