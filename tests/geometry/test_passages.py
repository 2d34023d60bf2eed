"""Passages through turned shells against sums over thin slices, closed forms and the CAD kernel."""

from __future__ import annotations

from math import asin, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry.meridians import catenary, outlined, sphere, spheroid
from formwork.geometry.outlines import Outline, area, box, polygon
from formwork.geometry.passages import Passage, reach, taken
from formwork.geometry.quadrature import integral
from formwork.geometry.turned import Turned

TUBE = Turned(polygon(((1.0, 0.0), (1.2, 0.0), (1.2, 3.0), (1.0, 3.0))))


def slot(half: float) -> float:
    """Area between two circles of 1.0 and 1.2 m within a strip along their middle, on one side."""

    def part(r: float) -> float:
        return half * sqrt(r * r - half * half) + r * r * asin(half / r)

    return part(1.2) - part(1.0)


def test_a_square_passage_through_a_tube() -> None:
    assert taken(TUBE, Passage(0.8, 2.0, False)) == pytest.approx(2.0 * slot(0.4), rel=1e-11)


def test_a_passage_higher_than_the_tube_takes_its_whole_height() -> None:
    assert taken(TUBE, Passage(0.8, 9.0, False)) == pytest.approx(3.0 * slot(0.4), rel=1e-11)


def test_an_arched_passage_through_a_tube() -> None:
    """Its head by the angle about the middle of the half circle, z = 0.4 sin a."""
    head = integral(
        lambda a: slot(0.4 * sqrt(1.0 - (2.0 * a / pi) ** 2)) * 0.4 * 2.0 / pi, 0.0, pi / 2.0, 1e-5
    )
    assert taken(TUBE, Passage(0.8, 1.9, True)) == pytest.approx(1.5 * slot(0.4) + head, rel=1e-6)


def test_outlines_are_as_wide_and_high_as_told() -> None:
    for arched, size in ((False, 0.9 * 2.1), (True, 0.9 * 1.65 + pi * 0.45**2 / 2.0)):
        made = Passage(0.9, 2.1, arched).outline()
        assert area(made) == pytest.approx(size)
        (x0, y0), (x1, y1) = box(made)
        assert (x0, y0, x1, y1) == pytest.approx((-0.45, 0.0, 0.45, 2.1))
    half_disc = Passage(0.9, 0.45, True).outline()
    assert len(half_disc.points) == 3
    assert area(half_disc) == pytest.approx(pi * 0.45**2 / 2.0)


@given(
    which=st.sampled_from(("sphere", "spheroid", "catenary")),
    width=st.floats(0.3, 1.0),
    height=st.floats(0.55, 1.2),
    arched=st.booleans(),
    thickness=st.floats(0.03, 0.2),
)
@settings(max_examples=12, deadline=None)
def test_a_passage_is_the_sum_of_its_level_slices(
    which: str, width: float, height: float, arched: bool, thickness: float
) -> None:
    """Each slice between the curves themselves, found at its height, not between the arcs that stand for them."""
    inside = {"sphere": sphere(1.5, 1.5), "spheroid": spheroid(1.4, 1.9), "catenary": catenary(1.4, 1.9)}[
        which
    ]
    outside = inside.moved(thickness)
    foot = outside.at_height(0.0)
    body = Turned(outlined(outside.traced(foot, 0.0), inside.traced(0.0, inside.springing)))
    passage, steps = Passage(width, height, arched), 2000
    total = 0.0
    for k in range(steps):
        z = height * (k + 0.5) / steps
        half = passage.half(z)
        ro, ri = outside.r(outside.at_height(z)), inside.r(inside.at_height(z))
        total += sum(
            way * (half * sqrt(r * r - half * half) + r * r * asin(half / r))
            for way, r in ((1, ro), (-1, ri))
        )
    assert taken(body, passage) == pytest.approx(total * height / steps, rel=3e-5)


def test_a_radial_foot_takes_its_slope_into_account() -> None:
    """A cone frustum's ring: the straight foot rises from the inner to the outer edge."""
    ring = Turned(polygon(((1.0, 0.0), (1.4, 0.2), (1.4, 1.0), (1.0, 1.0))))
    passage = Passage(0.6, 0.8, False)

    def part(r: float) -> float:
        return 0.3 * sqrt(r * r - 0.09) + r * r * asin(0.3 / r)

    low = integral(lambda z: part(1.0 + 2.0 * z) - part(1.0), 0.0, 0.2)
    assert taken(ring, passage) == pytest.approx(low + 0.6 * (part(1.4) - part(1.0)), rel=1e-11)


def test_profiles_that_turn_over_are_followed_all_the_way() -> None:
    """A ring of round section, all of it inside the passage's height: the strip through a torus by its level slices."""
    r, big = 0.2, 1.0
    quarter = sqrt(2.0) - 1.0
    ring = Outline(((big + r, r), (big, 2 * r), (big - r, r), (big, 0.0)), (quarter,) * 4)
    half = 0.3

    def part(x: float) -> float:
        return half * sqrt(x * x - half * half) + x * x * asin(half / x)

    def slice_at(u: float) -> float:
        z, dz = r * (3.0 * u * u - 2.0 * u**3) * 2.0, 12.0 * r * u * (1.0 - u)
        wide = sqrt(max(0.0, r * r - (z - r) ** 2))
        return (part(big + wide) - part(big - wide)) * dz

    assert taken(Turned(ring), Passage(0.6, 0.5, False)) == pytest.approx(integral(slice_at, 0.0, 1.0, 1e-10))


def test_reach_is_from_the_nearest_corner_to_the_farthest_face() -> None:
    near, far = reach(TUBE, Passage(0.8, 2.0, False))
    assert near == pytest.approx(sqrt(1.0 - 0.16))
    assert far == pytest.approx(1.2)


def test_passages_that_do_not_fit_are_refused() -> None:
    with pytest.raises(GeometryError, match="wider"):
        taken(TUBE, Passage(2.1, 1.0, False))
    with pytest.raises(GeometryError, match="wider"):
        reach(TUBE, Passage(2.1, 1.0, False))
    with pytest.raises(GeometryError, match="does not meet"):
        reach(TUBE.shifted((0.0, 0.0, 5.0)), Passage(0.8, 1.0, False))
