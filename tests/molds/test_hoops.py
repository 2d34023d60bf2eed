"""Straps round hoops against hoop tension: a polygon of many sides is nearly round."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, tan

import pytest

from formwork.checks.all import check
from formwork.molds.design import brace, line
from formwork.molds.load import rail_load
from formwork.molds.panelled import Built
from formwork.molds.panels.bracing import hooped
from formwork.molds.panels.hoops import strap_pull, way_round
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import many_sided, planter
from formwork.stock.records import StrapStock
from formwork.strength.bands import hoop_tension
from formwork.units import show
from tests.drawn import parameters
from tests.workshop import build, mix, shop


def many(sides: int, size: str = "250 mm") -> Built:
    keys = {
        "sides": sides,
        "size": size,
        "across": "flats",
        "height": "400 mm",
        "wall": "40 mm",
        "floor": "40 mm",
    }
    return build(many_sided.SHAPE, parameters(many_sided.SHAPE, keys), joint="mitred")


@pytest.mark.parametrize("sides", [9, 10, 12])
def test_the_strap_carries_the_hoop_tension_over_the_cosine_of_half_a_corner(sides: int) -> None:
    """Of a regular polygon: p r s along the middle of each side, p r s / cos(180/n) at its corners."""
    built = many(sides)
    frame, load = built.lined.frame, built.lined.load
    assert hooped(frame)
    most = max(rail_load(load, built.rails, index) for index in range(len(built.rails)))
    round_one = hoop_tension(1.0, 0.125, most)
    pull = strap_pull(frame, load, built.rails).force
    assert pull == pytest.approx(round_one / cos(pi / sides), rel=1e-6)


def test_a_mold_of_hoops_lists_a_strap_for_each_and_says_what_it_must_carry() -> None:
    built = many(12)
    [strap] = [line for line in built.mold.hardware if line.item == "strap"]
    assert strap.quantity == len(built.rails)
    [told] = [one for one in check([built])[1] if one.name == "corner joints"]
    pull = strap_pull(built.lined.frame, built.lined.load, built.rails).force
    assert show.force(pull, "mm") in told.why and show.force(pull, "mm") in strap.size


def test_a_mold_with_cleats_needs_no_strap() -> None:
    keys = {"length": "600 mm", "width": "400 mm", "height": "400 mm", "wall": "50 mm", "floor": "50 mm"}
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys))
    assert not any(line.item == "strap" for line in built.mold.hardware)


def strapped(lashing: float) -> Built:
    strap = StrapStock("web", lashing, None, False, 3.0)
    shape, own = many_sided.SHAPE, replace(shop(), straps=(strap,))
    keys = {
        "sides": 12,
        "size": "250 mm",
        "across": "flats",
        "height": "400 mm",
        "wall": "40 mm",
        "floor": "40 mm",
    }
    order = PieceOrder("piece", shape.name, parameters(shape, keys), 4, 2, MoldOptions(joint="mitred"))
    return brace(line(order, own, mix(), "mm")[0])


def test_a_strap_of_the_shop_is_checked_against_its_label() -> None:
    built = strapped(2000.0)
    pull = strap_pull(built.lined.frame, built.lined.load, built.rails).force
    [one] = [found for found in check([built])[0] if found.name == "straps round the hoops"]
    assert one.ok and (one.demand, one.capacity) == pytest.approx((pull, 2000.0))
    [line_] = [each for each in built.mold.hardware if each.item == "strap"]
    assert line_.size == "web"


def test_a_strap_too_weak_fails_with_a_remedy() -> None:
    [one] = [found for found in check([strapped(20.0)])[0] if found.name == "straps round the hoops"]
    assert not one.ok and "stronger strap" in one.remedy


def test_a_strap_reaches_round_the_rails() -> None:
    """A regular polygon moved outward by d is 2 n d tan(180/n) longer round, which is at most 8 d from a square on."""
    built = strapped(2000.0)
    frame = built.lined.frame
    out = frame.thickness + frame.stocks.deep
    real = 12 * 0.250 * tan(pi / 12) + 2 * 12 * out * tan(pi / 12)
    assert real < way_round(frame) < real + 0.3 + 8.0 * out
