"""Sides of turned bodies: radii at heights, where they hook and narrow, where paths cross."""

from __future__ import annotations

from math import asin, atan, pi, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry.outlines import flattened, polygon
from formwork.geometry.sides import (
    Side,
    apart,
    crossing,
    draft,
    gap,
    narrows,
    side_of,
    solid,
    turns_down,
    widens,
)
from formwork.geometry.turned import Turned

QUARTER = tan(pi / 8.0)
HEMISPHERE = Side(((0.0, 0.0), (1.0, 1.0)), (QUARTER,))
"""A quarter circle about (0, 1): the lower half of a sphere of radius 1, from its pole up."""
straight = st.lists(st.tuples(st.floats(0.02, 0.5), st.floats(0.01, 0.2)), min_size=2, max_size=7)


def rising(steps: list[tuple[float, float]]) -> Side:
    """A side of straight legs: radius of each corner, and how far above the last one it stands."""
    heights = [sum(dz for _, dz in steps[:k]) for k in range(len(steps))]
    return Side(tuple((r, z) for (r, _), z in zip(steps, heights, strict=True)), (0.0,) * (len(steps) - 1))


@pytest.mark.parametrize("z", [0.0, 0.01, 0.3, 0.7, 0.999, 1.0])
def test_the_radius_of_an_arc_is_that_of_its_circle(z: float) -> None:
    expected = sqrt(max(0.0, 1.0 - (1.0 - z) ** 2))
    found = HEMISPHERE.below(z) if z else HEMISPHERE.above(z)
    assert found == pytest.approx(expected, abs=1e-9)


def test_a_ledge_has_one_radius_below_and_another_above() -> None:
    side = Side(((0.2, 0.0), (0.2, 0.1), (0.3, 0.1), (0.3, 0.4)), (0.0, 0.0, 0.0))
    assert side.below(0.1) == 0.2
    assert side.above(0.1) == 0.3
    with pytest.raises(GeometryError, match=r"does not reach 500\.0 mm"):
        side.below(0.5)


@given(straight)
@settings(max_examples=50, deadline=None)
def test_a_side_comes_back_from_the_profile_it_encloses(steps: list[tuple[float, float]]) -> None:
    side = rising(steps)
    assert side_of(solid(side)) == side


@given(straight)
@settings(max_examples=50, deadline=None)
def test_turned_over_twice_is_the_same_and_weighs_the_same(steps: list[tuple[float, float]]) -> None:
    side = rising(steps)
    over = side.turned_over(side.head)
    assert over.foot == pytest.approx(0.0, abs=1e-12)
    assert Turned(solid(over)).volume() == pytest.approx(Turned(solid(side)).volume(), rel=1e-12)
    back = over.turned_over(side.head)
    assert [p for point in back.points for p in point] == pytest.approx(
        [p for point in side.points for p in point]
    )


def test_a_sphere_of_two_arcs_has_its_volume() -> None:
    """Source: sphere, 4/3 pi r3, CRC mensuration formulas."""
    side = Side(((0.0, -1.0), (1.0, 0.0), (0.0, 1.0)), (QUARTER, QUARTER))
    assert Turned(solid(side)).volume() == pytest.approx(4.0 / 3.0 * pi, rel=1e-12)


def test_where_a_side_turns_down_narrows_and_widens() -> None:
    vase = Side(((0.1, 0.0), (0.2, 0.2), (0.15, 0.3), (0.16, 0.4)), (0.0, 0.0, 0.0))
    assert turns_down(vase) is None
    assert narrows(vase) == (0.2, 0.2)
    assert widens(vase) == (0.1, 0.0)
    hook = Side(((0.1, 0.0), (0.2, 0.2), (0.25, 0.15), (0.3, 0.3)), (0.0, 0.0, 0.0))
    assert turns_down(hook) == (0.2, 0.2)


def test_an_arc_that_bulges_below_its_foot_turns_down() -> None:
    assert turns_down(Side(((0.1, 0.0), (0.3, 0.0001)), (0.5,))) is not None


def test_draft_is_the_least_lean_on_the_way() -> None:
    cone = Side(((0.1, 0.0), (0.2, 0.4)), (0.0,))
    assert draft(cone, up=True) == pytest.approx(atan(0.25))
    assert draft(cone, up=False) == pytest.approx(-atan(0.25))
    assert draft(HEMISPHERE, up=True) == pytest.approx(0.0, abs=0.01)


def test_distance_between_two_sides_and_its_place() -> None:
    """Parallel cones: the distance is square to both."""
    inner, outer = Side(((0.1, 0.0), (0.2, 0.4)), (0.0,)), Side(((0.15, 0.0), (0.25, 0.4)), (0.0,))
    least, _ = gap(inner, outer)
    assert least == pytest.approx(0.05 * 0.4 / sqrt(0.1**2 + 0.4**2))
    assert apart(inner, inner)[0] == pytest.approx(0.0, abs=1e-12)


def test_a_chord_lies_a_sagitta_from_its_arc() -> None:
    chord = Side(HEMISPHERE.points, (0.0,))
    off, (r, z) = apart(HEMISPHERE, chord)
    assert off == pytest.approx(1.0 - sqrt(0.5), rel=1e-3)
    assert asin(1.0 - z) == pytest.approx(pi / 4.0, abs=0.02) and r == pytest.approx(1.0 - z, abs=0.05)


def test_paths_that_cross_touch_or_run_back_say_where() -> None:
    bow_tie = ((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0))
    assert crossing(bow_tie, closed=True) == pytest.approx((0.5, 0.5))
    assert crossing(bow_tie, closed=False) == pytest.approx((0.5, 0.5))
    touching = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.5, 0.0), (0.0, 1.0))
    assert crossing(touching, closed=True) == pytest.approx((0.5, 0.0))
    assert crossing(((0.0, 0.0), (1.0, 0.0), (0.5, 0.0)), closed=False) == (1.0, 0.0)


@given(straight)
@settings(max_examples=50, deadline=None)
def test_a_side_that_rises_never_crosses_itself(steps: list[tuple[float, float]]) -> None:
    side = rising(steps)
    assert crossing(side.fine(), closed=False) is None
    assert crossing(flattened(polygon(solid(side).points), 1e-4), closed=True) is None
