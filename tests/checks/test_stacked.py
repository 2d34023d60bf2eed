"""Checks of molds laid up of rings, against formulas written out here, and made to fail."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import pi
from typing import Any

import pytest

from formwork.checks.check import Check, NotChecked
from formwork.checks.stacked import AT_AN_ANGLE, checks
from formwork.geometry.sides import Side
from formwork.molds.load import TOLERANCE
from formwork.molds.stacked import Built
from formwork.molds.stacks.layers import bands, formed, laid_up
from formwork.shapes.outline import SHAPE as OUTLINE
from formwork.shapes.turned import SHAPE
from formwork.strength.customary import GRAVITY
from formwork.strength.panels import PanelSection
from formwork.strength.sheets import section_for
from formwork.strength.uplift import ring_lift
from tests.drawn import parameters
from tests.working import faults
from tests.workshop import build

BOWL = {"outside": ((200, 0), (250, 300)), "inside": ((180, 40), (225, 300))}
VASE = {"outside": ((90, 0), (60, 75), (85, 200, 18), (45, 330, -12), (80, 420))}
W = 800.0 + TOLERANCE


def built(keys: dict[str, Any], **options: Any) -> Built:
    made = build(SHAPE, parameters(SHAPE, keys), method="stacked", **options)
    assert isinstance(made, Built)
    return made


def named(made: Built, name: str) -> Check:
    return next(one for one in checks(made) if isinstance(one, Check) and one.name.startswith(name))


def test_the_lowest_ring_is_a_tie_under_p_d_over_2() -> None:
    found = named(built(BOWL), "rings as ties")
    assert found.demand == pytest.approx(W * GRAVITY * 0.3 * 0.25 / 0.06 / 1e6, rel=1e-3)
    section = section_for("plywood", 0.0179, "along")
    assert isinstance(section, PanelSection)
    assert found.capacity == pytest.approx(section.fb * AT_AN_ANGLE / 1e6)


def test_lift_of_the_wall_is_the_sum_of_its_cones() -> None:
    """Cast rim down it narrows upward: each layer a cone with the mix above it as cover."""
    made = built(BOWL)
    side = Side(((0.25, 0.0), (0.2, 0.3)), (0.0,))
    stack = laid_up(side, bands(0.0, 0.3, made.lined.stack.stocks.sheet.thickness), "bevelled")
    each = [
        ring_lift(W, foot=one.foot, head=one.head, height=one.thickness, cover=0.3 - one.high)
        for one in stack
    ]
    assert made.lined.stack.lift.force == pytest.approx(sum(each), rel=1e-9)
    assert made.lined.stack.lift.force == pytest.approx(
        ring_lift(W, foot=0.25, head=0.2, height=0.3), rel=1e-9
    )


def test_steps_are_lifted_as_much_as_the_rings_they_show() -> None:
    """Square rings: the lift is the pressure under each step times its area."""
    made = built(BOWL, edge="square")
    stack = laid_up(
        Side(((0.25, 0.0), (0.2, 0.3)), (0.0,)),
        bands(0.0, 0.3, made.lined.stack.stocks.sheet.thickness),
        "square",
    )
    steps = [
        W * GRAVITY * (0.3 - low.high) * pi * (low.foot**2 - high.foot**2) for low, high in pairwise(stack)
    ]
    assert made.lined.stack.lift.force == pytest.approx(sum(steps), rel=1e-9)
    assert len(formed(stack).points) == 2 * len(stack)


def test_a_hung_core_pulls_the_rings_up_with_its_buoyancy() -> None:
    made = built({**BOWL, "cast": "up"})
    volume = pi * 0.26 / 3.0 * (0.18**2 + 0.18 * 0.225 + 0.225**2)
    wall = named(made, "wall held down")
    assert wall.demand == pytest.approx(1.5 * W * GRAVITY * volume, rel=1e-3)
    assert any(one.name.startswith("core bars") for one in checks(made) if isinstance(one, Check))


def test_bolts_take_half_the_pressure_on_the_diameter() -> None:
    made = built(VASE)
    found = named(made, "bolts across the parting plane")
    bolts = next(one for one in made.fastenings if one.joint.group == "ears")
    swell = max(course.half for course in made.lined.stack.courses)
    expected = W * GRAVITY * 0.42 * swell * 0.42 / (bolts.count / 2)
    assert found.demand == pytest.approx(expected, rel=1e-9)
    assert 0.09 < swell < 0.1


def test_every_check_can_fail() -> None:
    """The densest mix there is, and hardly any wood, in molds that were designed for a light one."""
    heavy = 6000.0
    failed: set[str] = set()
    for keys in (BOWL, VASE, {**BOWL, "cast": "up"}):
        made = built(keys)
        lined = made.lined
        stack = replace(
            lined.stack,
            courses=tuple(replace(one, width=0.0004) for one in lined.stack.courses),
            lift=replace(lined.stack.lift, force=40.0 * abs(lined.stack.lift.force) + 1e5),
        )
        load = replace(lined.asked.load, density=heavy)
        worse = replace(made, lined=replace(lined, asked=replace(lined.asked, load=load), stack=stack))
        failed |= {one.name.split(",")[0] for one in checks(worse) if isinstance(one, Check) and not one.ok}
    assert {"rings as ties", "wall held down", "core held down"} <= failed


def test_a_sheet_nobody_knows_the_strength_of_is_said_to_be_unchecked() -> None:
    found = [one for one in checks(built(BOWL, sheet="MDF 18")) if isinstance(one, NotChecked)]
    assert any(one.name == "rings" and "MDF" in one.why for one in found)


def test_a_straight_side_of_an_outline_bends_as_a_beam_on_edge() -> None:
    """5 p l^4 / 384 E I with I = t w3 / 12 and the load p t: the thickness falls out."""
    corners = [{"x": x, "y": y} for x, y in ((0, 0), (1200, 0), (1200, 500), (0, 500))]
    made = build(OUTLINE, parameters(OUTLINE, {"points": corners, "thickness": 70}), method="stacked")
    assert isinstance(made, Built)
    section = section_for("plywood", 0.0179, "along")
    assert isinstance(section, PanelSection) and section.e is not None
    p, width = W * GRAVITY * 0.07, made.lined.stack.courses[0].width
    load, inertia = p * 0.0179, 0.0179 * width**3 / 12.0
    bulge = named(made, "rings bulged")
    assert bulge.demand == pytest.approx(5e3 * load * 1.2**4 / (384.0 * section.e / 2.0 * inertia), rel=1e-9)
    assert bulge.capacity == pytest.approx(1200.0 / 270.0)
    tie = named(made, "rings as ties")
    bent = load * 1.2**2 / 8.0 / (0.0179 * width**2 / 6.0)
    assert tie.demand == pytest.approx((p * 0.6 / width + bent) / 1e6, rel=1e-9)


@pytest.mark.parametrize("keys", [BOWL, VASE, {**BOWL, "cast": "up"}])
def test_every_step_of_the_working_gives_its_result_again(keys: dict[str, Any]) -> None:
    """The printed numbers put through the printed formula; the wall's lift is a small difference of large numbers."""
    for check in checks(built(keys)):
        if isinstance(check, Check):
            assert [line for line in faults(check.working) if "pi * r^2 * H - V" not in line] == []
