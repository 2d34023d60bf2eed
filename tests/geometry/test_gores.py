"""Gores with their edges on the ribs. Numeric proofs: no printed table of ordinates was found."""

from __future__ import annotations

from itertools import pairwise
from math import cos, dist, pi, radians, sin

import pytest

from formwork.geometry import gores
from formwork.geometry.meridians import Meridian, catenary, sphere, spheroid

S = (0.16865, 0.33765, 0.50732, 0.67789, 0.84948, 1.02207, 1.19555, 1.36968, 1.54415)
Y = (0.04494, 0.08852, 0.12941, 0.16637, 0.19827, 0.22414, 0.24321, 0.25489, 0.25882)
CURVES = (sphere(1.0, 1.0), sphere(1.5, 1.0), spheroid(1.5, 1.1), spheroid(1.0, 1.4), catenary(2.0, 2.5))


def test_ordinates_of_a_sphere_of_radius_1_in_twelve_gores() -> None:
    """Every 10 degrees from the crown: distance along the middle and half width (numeric proof)."""
    found = gores.pattern(sphere(1.0, 1.0), 12, 0.0, pi / 2.0, 9)
    assert [s for s, _ in found[1:]] == pytest.approx(S, abs=5e-6)
    assert [y for _, y in found[1:]] == pytest.approx(Y, abs=5e-6)


@pytest.mark.parametrize("edge", CURVES)
@pytest.mark.parametrize("ribs", [8, 12, 32])
def test_a_pattern_is_the_unrolled_surface(edge: Meridian, ribs: int) -> None:
    """Second route: the gore cut in fine level strips, each a plane trapezoid in space, laid side by side."""
    end, count = edge.springing, 2000
    k = pi / ribs
    stops = [end * i / count for i in range(count + 1)]
    edges = [[(edge.r(p) * cos(a), edge.r(p) * sin(a), edge.z(p)) for p in stops] for a in (-k, k)]
    left, right = edges
    length = sum(
        dist(
            tuple((a + b) / 2.0 for a, b in zip(left[i], right[i], strict=True)),
            tuple((a + b) / 2.0 for a, b in zip(left[i + 1], right[i + 1], strict=True)),
        )
        for i in range(count)
    )
    found = gores.pattern(edge, ribs, 0.0, end, 4)
    assert found[-1][0] == pytest.approx(length, rel=1e-6)
    assert 2.0 * found[-1][1] == pytest.approx(dist(left[-1], right[-1]), rel=1e-12)
    flat_edge = sum(
        dist((gores.ordinate(edge, ribs, 0.0, a), gores.half_width(edge, ribs, a)),
             (gores.ordinate(edge, ribs, 0.0, b), gores.half_width(edge, ribs, b)))
        for a, b in [(end * i / 200, end * (i + 1) / 200) for i in range(200)]
    )  # fmt: skip
    assert flat_edge == pytest.approx(edge.length(0.0, end), rel=1e-5)


def test_a_gore_unrolls_as_the_kernel_measures_it() -> None:
    """The area of a ruled face between two meridians, by the CAD kernel, against that of the pattern."""
    cq = pytest.importorskip("cadquery")
    radius, ribs = 1.0, 12
    k = pi / ribs
    edge = sphere(radius, radius)

    def meridian(angle: float):
        points = [
            cq.Vector(edge.r(p) * cos(angle), edge.r(p) * sin(angle), edge.z(p))
            for p in (radians(20.0), radians(50.0), radians(80.0))
        ]
        return cq.Edge.makeThreePointArc(*points)

    face = cq.Face.makeRuledSurface(meridian(-k), meridian(k))
    found = gores.pattern(edge, ribs, radians(20.0), radians(80.0), 400)
    area = sum((b[0] - a[0]) * (a[1] + b[1]) for a, b in pairwise(found))
    assert area == pytest.approx(face.Area(), rel=1e-5)


@pytest.mark.parametrize("ribs", [8, 20, 48])
def test_share_of_a_polygon(ribs: int) -> None:
    """Second route: N triangles at the middle."""
    assert gores.polygon_share(ribs) * pi == pytest.approx(ribs * sin(pi / ribs) * cos(pi / ribs), rel=1e-12)


def test_a_path_moved_sideways_keeps_its_distance() -> None:
    line = ((0.0, 0.0), (1.0, 0.0), (1.8, 0.6))
    moved = gores.offset_line(line, 0.1)
    assert moved[0] == pytest.approx((0.0, 0.1))
    for (a, b), (p, q) in zip(pairwise(line), pairwise(moved), strict=True):
        size = dist(a, b)
        off = ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / size
        also = ((b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0])) / size
        assert (off, also) == pytest.approx((0.1, 0.1), abs=1e-12)
