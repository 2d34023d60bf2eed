"""The pull on the corners against statics by hand, and enough fasteners for every mix."""

from __future__ import annotations

import pytest

from formwork.checks.check import Check
from formwork.checks.corners import corner_checks
from formwork.molds.corner_pull import corner_pull
from formwork.molds.design import Built
from formwork.molds.hardware import CORNERS
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
    assert pull is not None
    pressure = built.lined.load.density * 9.80665 * 0.5
    assert pull.along == pytest.approx(pressure * 0.4 / 2.0)
    assert pull.across == pytest.approx(pressure * 0.2 / 2.0)


def test_short_sides_running_past_swap_the_two() -> None:
    long, short = box(), box(sides="short")
    one, other = (corner_pull(built.lined.frame, built.lined.load) for built in (long, short))
    assert one is not None
    assert other is not None
    assert (one.along, one.across) == pytest.approx((other.across, other.along))


def test_mitred_corners_are_drawn_along_their_bolts_by_both() -> None:
    """Two pulls square to each other, both at 45 degrees to the fastener: their sum over the root of two."""
    built = box(joint="mitred")
    pull = corner_pull(built.lined.frame, built.lined.load)
    assert pull is not None
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
    assert pull is not None
    each = pull.along * 0.5 / (fastening.count / 4)
    assert found[0].demand == pytest.approx(each)


def test_a_mold_of_six_sides_says_that_its_corners_were_not_checked() -> None:
    keys = {"sides": 6, "size": 500, "height": 300, "wall": 45, "floor": 40}
    found = corner_checks(build(many_sided.SHAPE, parameters(many_sided.SHAPE, keys)))
    assert [one.name for one in found] == ["corner joints"]
