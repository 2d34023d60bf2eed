"""The pull on the corners against statics by hand, and enough fasteners for every mix."""

from __future__ import annotations

from math import cos, pi

import pytest

from formwork.checks.check import Check, NotChecked
from formwork.checks.corners import corner_checks
from formwork.molds.joints import CORNERS
from formwork.molds.panelled import Built
from formwork.molds.panels.corner_pull import corner_pull
from formwork.shapes import block, many_sided
from tests.drawn import parameters
from tests.workshop import build

BLOCK = {"length": 400, "width": 200, "height": 500}


def box(density: float = 800.0, **options: str) -> Built:
    return build(block.SHAPE, parameters(block.SHAPE, BLOCK), density=density, **options)


def test_lapped_corners_share_the_load_of_both_panels() -> None:
    """T = p B / 2: the long sides run past and pull along the fasteners, the short ones push across them."""
    built = box()
    pull = corner_pull(built.lined.frame, built.lined.load)
    pressure = built.lined.load.density * 9.80665 * 0.5
    assert pull.along == pytest.approx(pressure * 0.4 / 2.0)
    assert pull.across == pytest.approx(pressure * 0.2 / 2.0)


def test_short_sides_running_past_swap_the_two() -> None:
    long, short = box(), box(sides="short")
    one, other = (corner_pull(built.lined.frame, built.lined.load) for built in (long, short))
    assert (one.along, one.across) == pytest.approx((other.across, other.along))


def test_mitred_corners_are_drawn_along_their_bolts_by_both() -> None:
    """Two pulls square to each other, both at 45 degrees to the fastener: their sum over the root of two."""
    built = box(joint="mitred")
    pull = corner_pull(built.lined.frame, built.lined.load)
    pressure = built.lined.load.density * 9.80665 * 0.5
    assert pull.along == pytest.approx(pressure * (0.4 + 0.2) / 2.0 / 2.0**0.5)
    assert pull.across == 0.0


@pytest.mark.parametrize("density", [500.0, 1000.0, 1700.0])
@pytest.mark.parametrize("joint", ["lapped", "mitred"])
def test_corners_get_enough_fasteners(density: float, joint: str) -> None:
    built = box(density, joint=joint)
    found = [one for one in corner_checks(built) if isinstance(one, Check)]
    assert found
    assert all(one.ok for one in found)
    fastening = next(one for one in built.fastenings if one.joint.group == CORNERS)
    pull = corner_pull(built.lined.frame, built.lined.load)
    each = pull.along * 0.5 / (fastening.count / 4)
    assert found[0].demand == pytest.approx(each)


def sided(sides: int, size: float, **options: str) -> Built:
    keys = {"sides": sides, "size": size, "height": 300, "wall": 45, "floor": 40}
    return build(many_sided.SHAPE, parameters(many_sided.SHAPE, keys), **options)


@pytest.mark.parametrize("sides", [5, 6, 8])
def test_mitred_corners_of_equal_sides_hold_what_a_ring_does(sides: int) -> None:
    """Cut through two opposite places, a ring of many sides is torn by p times its width: T = p R of a circle.

    At a corner the pull lies along the mitre's normal: p times the distance from the middle to the corner, exactly.
    """
    built = sided(sides, 600, joint="mitred")
    pull = corner_pull(built.lined.frame, built.lined.load)
    pressure = built.lined.load.density * 9.80665 * 0.3
    to_corner = 0.3 / cos(pi / sides)
    assert pull.along == pytest.approx(pressure * to_corner, rel=1e-9)
    assert pull.across == 0.0


@pytest.mark.parametrize("sides", [3, 5, 6, 7])
def test_lapped_corners_of_equal_sides_share_the_same_pull(sides: int) -> None:
    """The same force, split along and across fasteners that stand square to the panel that runs past."""
    built = sided(sides, 700, joint="lapped")
    pull = corner_pull(built.lined.frame, built.lined.load)
    pressure = built.lined.load.density * 9.80665 * 0.3
    whole = pressure * 0.35 / cos(pi / sides)
    assert (pull.along**2 + pull.across**2) ** 0.5 == pytest.approx(whole, rel=1e-9)
    assert all(one.ok for one in corner_checks(built) if isinstance(one, Check))


def test_hoops_say_that_their_mitres_were_not_checked() -> None:
    found = corner_checks(sided(12, 400, joint="mitred"))
    assert [one.name for one in found] == ["corner joints"]
    assert isinstance(found[0], NotChecked)
