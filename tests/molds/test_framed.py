"""Frames as a shop builds them: cut lengths, ends, bolts, the check at the hubs, and what a shop lacks."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from formwork.checks.frames import frame_check
from formwork.errors import StockError
from formwork.molds.design import line
from formwork.molds.framed import BuiltFrame
from formwork.project.records import MoldOptions, PieceOrder, Shop
from formwork.shapes.parameters import Keys
from formwork.shapes.pipe_dome import SHAPE
from formwork.shapes.shape import Shape
from formwork.stock.records import HardwareStock
from tests.drawn import frame_samples, parameters
from tests.workshop import shop


def built(
    keys: dict[str, Any], stock: Shop | None = None, count: int = 1, shape: Shape = SHAPE
) -> BuiltFrame:
    order = PieceOrder("dome", shape.name, parameters(shape, keys), count, 1, MoldOptions("framed"))
    made = line(order, stock or shop(), None, "mm")[0]
    assert isinstance(made, BuiltFrame)
    return made


@pytest.mark.parametrize(("shape", "keys"), frame_samples())
def test_every_frame_is_cut_from_its_pipe(shape: Shape, keys: Keys) -> None:
    order = PieceOrder("dome", shape.name, keys, 2, 1, MoldOptions("framed"))
    found = line(order, shop(), None, "mm")[0]
    assert isinstance(found, BuiltFrame)
    pipe = found.pipe
    for member, part in zip(found.frame.members, found.parts, strict=True):
        blank = part.blank
        assert (part.kind, part.stock, part.role) == ("pipe", pipe.name, "strut")
        assert blank.length == pytest.approx(member.length + 2 * member.beyond)
        assert (blank.width, blank.thickness, blank.wall) == (pipe.width, pipe.width, pipe.wall)
        first, second = sorted(hole[0] for hole in blank.holes)
        assert second - first == pytest.approx(member.length)
        assert {hole[1] for hole in blank.holes} == {pipe.width / 2}


def test_bolts_go_through_the_fullest_hub() -> None:
    """Six ends of two walls each, 0.049 in: 0.588 in; bolts, nuts for every hub and two washers each."""
    found = built({"radius": 2000})
    assert found.stack == pytest.approx(12 * 0.049 * 0.0254)
    bought = {line.item: line for line in found.hardware}
    assert bought["bolt"].size == "M8 x 50 mm"
    assert (bought["bolt"].quantity, bought["nut"].quantity, bought["washer"].quantity) == (26, 26, 52)


def test_the_round_pipes_clear_one_another_at_the_hub() -> None:
    """2V: smallest angle 55.57 deg (numeric proof), 3/4 in conduit 0.922 in: 0.922 / (2 sin 27.785) = 0.989 in."""
    check = frame_check(built({"radius": 2000}))
    assert check.demand / 25.4 == pytest.approx(0.989, abs=0.001)
    assert check.capacity == pytest.approx(51 - 19)
    assert check.ok
    tight = frame_check(built({"radius": 2000, "pipe": "EMT 1-1/4"}))
    assert not tight.ok
    longer = float(tight.remedy.split("at least ")[1].split(" mm")[0])
    assert frame_check(built({"radius": 2000, "pipe": "EMT 1-1/4", "flat": 51 + longer + 1})).ok


def test_a_base_out_of_level_says_what_to_pack() -> None:
    said = " ".join(built({"radius": 2000, "frequency": 3}).instructions)
    assert "5 of the 15 stand on it" in said
    assert "10 of them by 31.9 mm" in said
    for keys in ({"radius": 2000}, {"radius": 2000, "frequency": 3, "base": "level"}):
        assert "lie level." in " ".join(built(keys).instructions)


def test_struts_that_no_tape_tells_apart_are_named() -> None:
    """4V: .2945308 and .2952418 differ by .24 %, 1.6 mm at R = 2.2 m; at 5 m all are told apart."""
    assert "Struts B and C differ" in " ".join(built({"radius": 2200, "frequency": 4}).instructions)
    assert "differ by less" not in " ".join(built({"radius": 5000, "frequency": 4}).instructions)


def test_a_pipe_the_shop_has_not_is_told() -> None:
    with pytest.raises(StockError, match=r"pipe: got 'EMT 3/5', want one of .*did you mean 'EMT 3/4'"):
        built({"radius": 2000, "pipe": "EMT 3/5"})


def test_a_shop_without_a_bolt_that_is_long_enough() -> None:
    short = HardwareStock("bolt", "M8 x 20 mm", "piece", 1.0)
    odd = HardwareStock("bolt", "coach", "piece", 1.0)
    with pytest.raises(StockError, match=r"no bolt that goes through 14\.9 mm of flattened pipe"):
        built({"radius": 2000}, replace(shop(), hardware=(short, odd)))


def test_plastic_pipe_is_warned_of() -> None:
    inch = replace(shop(), pipes=tuple(replace(p, material="PVC schedule 40") for p in shop().pipes))
    assert "Plastic pipe" in built({"radius": 2000}, inch).instructions[-1]
    assert "Plastic pipe" not in " ".join(built({"radius": 2000}).instructions)
