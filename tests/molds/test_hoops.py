"""Straps round hoops against hoop tension: a polygon of many sides is nearly round."""

from __future__ import annotations

from math import cos, pi

import pytest

from formwork.checks.all import check
from formwork.molds.bracing import hooped
from formwork.molds.hoops import strap_pull
from formwork.molds.load import rail_load
from formwork.molds.panelled import Built
from formwork.shapes import many_sided, planter
from formwork.strength.bands import hoop_tension
from formwork.units import show
from tests.drawn import parameters
from tests.workshop import build


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
