"""Bodies cut by a level plane, against closed forms, the kernel's own cutting of cells, and sums of slices."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.geometry.cells import Cell, cell, split
from formwork.geometry.level_cuts import below
from formwork.geometry.outlines import Outline, circle, polygon, rectangle
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import unit

SHARE = st.floats(0.02, 0.98)


def frustum(planes: Planes, lean: float, skew: float = 0.0) -> Cell:
    """A square of 1 m across at z = 0, 1 m high, its sides drawn in by ``lean`` and all leant along x by ``skew``."""
    sides = [
        HalfSpace(unit(normal), offset / sqrt(sum(x * x for x in normal)), name)
        for normal, offset, name in (
            ((1.0, 0.0, lean - skew), 0.5, "right"),
            ((-1.0, 0.0, lean + skew), 0.5, "left"),
            ((0.0, 1.0, lean), 0.5, "back"),
            ((0.0, -1.0, lean), 0.5, "front"),
            ((0.0, 0.0, 1.0), 1.0, "top"),
            ((0.0, 0.0, -1.0), 0.0, "foot"),
        )
    ]
    made = cell(planes, sides)
    assert made is not None
    return made


@given(share=SHARE, lean=st.floats(-0.3, 0.3), skew=st.floats(-0.4, 0.4))
@settings(max_examples=40, deadline=None)
def test_a_frustum_is_cut_as_its_closed_form_says(share: float, lean: float, skew: float) -> None:
    """Integral of (1 - 2 lean z)^2; leaning over changes nothing (Cavalieri)."""
    body = frustum(Planes(), lean, skew)
    expected = share - 2.0 * lean * share**2 + 4.0 * lean**2 * share**3 / 3.0
    assert below(body, share) == pytest.approx(expected, rel=1e-9)
    assert below(body, 2.0) == pytest.approx(body.volume(), rel=1e-12)
    assert below(body, -1.0) == 0.0


@given(share=SHARE)
@settings(max_examples=20, deadline=None)
def test_a_cell_is_cut_as_the_kernel_splits_it(share: float) -> None:
    planes = Planes()
    body = frustum(planes, 0.1, 0.2)
    low, high = split(planes, body, planes.enter(HalfSpace((0.0, 0.0, 1.0), share, "cut")))
    assert low is not None
    assert high is not None
    assert below(body, share) == pytest.approx(low.volume(), rel=1e-9)


@given(share=SHARE)
def test_a_ball_and_a_bowl(share: float) -> None:
    """Cap of a ball of radius 1: pi h^2 (3 - h) / 3; a profile with a hollow is no convex polygon."""
    ball = Turned(Outline(((0.0, -1.0), (0.0, 1.0)), (1.0, 0.0)))
    h = 2.0 * share
    assert ball.volume() == pytest.approx(4.0 * pi / 3.0)
    assert below(ball, h - 1.0) == pytest.approx(pi * h * h * (3.0 - h) / 3.0, rel=1e-4, abs=1e-4)
    bowl = Turned(polygon([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.8, 1.0), (0.8, 0.3), (0.0, 0.3)]))
    expected = pi * min(share, 0.3) + pi * (1.0 - 0.64) * max(0.0, share - 0.3)
    assert below(bowl, share) == pytest.approx(expected, rel=1e-9)


@given(share=SHARE)
def test_a_prism_upright_upside_down_and_lying(share: float) -> None:
    foot, head = circle((0.0, 0.0), 1.0), circle((0.0, 0.0), 0.5)
    up = Prism(foot, 2.0, head=head)
    part = pi * 2.0 * share * (1.0 - share / 2.0 + share**2 / 12.0)
    assert below(up, 2.0 * share) == pytest.approx(part, rel=1e-9)
    over = up.turned_over(2.0)
    assert below(over, 2.0 * (1.0 - share)) == pytest.approx(up.volume() - part, rel=1e-9)
    lying = Prism(rectangle((0.0, 0.0), (1.0, 1.0)), 3.0, along=(0.0, 1.0, 0.0), across=(0.0, 0.0, 1.0))
    assert below(lying, share) == pytest.approx(3.0 * share, rel=1e-9)


@given(share=SHARE)
def test_a_round_hole_upright_and_across(share: float) -> None:
    """Half of a cylinder that lies lies below its middle; a frustum upright by its closed form."""
    across = Round((0.0, 0.0, 1.0), (1.0, 0.0, 0.0), 2.0, 0.5, 0.5)
    assert below(across, 1.0) == pytest.approx(across.volume() / 2.0, rel=1e-9)
    assert below(across, 1.5) == pytest.approx(across.volume(), rel=1e-9)
    cone = Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 1.0, 1.0, 0.0)
    assert below(cone, share) == pytest.approx(pi / 3.0 * (1.0 - (1.0 - share) ** 3), rel=1e-9)
    falling = Round((0.0, 0.0, 1.0), (0.0, 0.0, -1.0), 1.0, 0.0, 1.0)
    assert below(falling, share) == pytest.approx(below(cone, share), rel=1e-9)


def test_no_level_section_is_wider_than_the_plan() -> None:
    """Widest section of the frustum by its ends; the ball by its equator; an opening in a prism is not taken off."""
    assert frustum(Planes(), 0.1).in_plan() == pytest.approx(1.0)
    assert frustum(Planes(), -0.1).in_plan() == pytest.approx(1.2**2)
    assert Turned(Outline(((0.0, -1.0), (0.0, 1.0)), (1.0, 0.0))).in_plan() == pytest.approx(pi)
    assert Prism(circle((0.0, 0.0), 1.0), 2.0, head=circle((0.0, 0.0), 2.0)).in_plan() == pytest.approx(
        4.0 * pi
    )
