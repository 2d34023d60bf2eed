"""What the program chooses costs least: every other choice is designed as well, and what holds is not cheaper.

The other choices are made by naming each stock in the mold table in turn; what holds is told by the checks, what it
costs by the parts of the mold and the shop's prices, metre by metre.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.errors import GeometryError, StockError
from formwork.molds.asked import BuiltMold
from formwork.molds.choice import by_the_metre
from formwork.molds.design import brace, line
from formwork.project.records import MoldOptions, PieceOrder, Shop
from formwork.shapes import column, planter, round_planter
from formwork.shapes.shape import Shape
from formwork.stock.records import StickLength, StrapStock
from tests.drawn import parameters
from tests.workshop import mix, shop

NEAR = 1.06
"""Length is estimated before anything is cut: rails as long as the sides they lie on."""
YARD = shop()
STOUT = [stick.name for stick in YARD.sticks if stick.thickness >= 0.034]


def priced(prices: dict[str, float]) -> Shop:
    """The yard with a price for each metre of every stick."""
    sticks = tuple(
        replace(
            one,
            lengths=tuple(StickLength(each.length, prices[one.name] * each.length) for each in one.lengths),
        )
        for one in YARD.sticks
    )
    return replace(YARD, sticks=sticks)


def made(shape: Shape, keys: Any, own: Shop, density: float, **options: Any) -> BuiltMold | None:
    order = PieceOrder("piece", shape.name, parameters(shape, keys), 4, 2, MoldOptions(**options))
    try:
        return brace(line(order, own, mix(density), "mm")[0])  # type: ignore[arg-type]
    except (GeometryError, StockError):
        return None


def holds(built: BuiltMold) -> bool:
    return all(one.ok for one in check([built])[0])


def cost(built: BuiltMold, own: Shop, roles: tuple[str, ...]) -> float:
    """Of the sticks of some roles, metre by metre."""
    price = by_the_metre(own.sticks)
    return sum(
        price[part.stock] * part.blank.length
        for part in built.mold.parts
        if part.kind == "stick" and part.role in roles
    )


prices = st.fixed_dictionaries({stick.name: st.floats(0.5, 6.0) for stick in YARD.sticks})


@given(
    found=prices,
    length=st.integers(500, 1400),
    height=st.integers(300, 800),
    density=st.sampled_from([600.0, 1000.0]),
)
@settings(max_examples=6, deadline=None, phases=(Phase.generate,))
def test_no_stick_whose_rails_hold_is_cheaper(
    found: dict[str, float], length: int, height: int, density: float
) -> None:
    own = priced(found)
    keys = {"length": length, "width": 400, "height": height, "wall": 50, "floor": 50}
    chosen = made(planter.SHAPE, keys, own, density)
    assert chosen is not None
    roles = ("rail", "cleat")
    best = cost(chosen, own, roles)
    for name in STOUT:
        other = made(planter.SHAPE, keys, own, density, stick=name)
        if other is not None and holds(other):
            assert best <= NEAR * cost(other, own, roles), name


@given(found=prices, height=st.integers(400, 900))
@settings(max_examples=5, deadline=None, phases=(Phase.generate,))
def test_no_stick_that_holds_a_tube_is_cheaper(found: dict[str, float], height: int) -> None:
    own = priced(found)
    chosen = made(column.SHAPE, {"diameter": 300, "height": height}, own, 900.0, method="tube")
    assert chosen is not None
    price = by_the_metre(own.sticks)
    stick = chosen.cage.stick  # type: ignore[attr-defined]
    for name in STOUT:
        other = made(column.SHAPE, {"diameter": 300, "height": height}, own, 900.0, method="tube", stick=name)
        slim = next(one for one in own.sticks if one.name == name).thickness <= 0.05
        if other is not None and slim and holds(other):
            assert price[stick.name] <= price[name] + 1e-12, name


@given(found=prices)
@settings(max_examples=5, deadline=None, phases=(Phase.generate,))
def test_no_batten_that_holds_a_skin_is_cheaper(found: dict[str, float]) -> None:
    own, keys = priced(found), {"diameter": 600, "height": 500, "wall": 50, "floor": 50, "down": "rim"}
    chosen = made(round_planter.SHAPE, keys, own, 800.0, method="wrapped")
    assert chosen is not None
    price = by_the_metre(own.sticks)
    batten = chosen.lined.shell.batten.stick  # type: ignore[attr-defined]
    for name in STOUT:
        other = made(round_planter.SHAPE, keys, own, 800.0, method="wrapped", stick=name)
        if other is not None and holds(other):
            assert price[batten.name] <= price[name] + 1e-12, name


@pytest.mark.parametrize(("cheap", "dear"), [("strong", "weak"), ("weak", "strong")])
def test_of_straps_that_hold_the_cheaper_is_taken(cheap: str, dear: str) -> None:
    straps = tuple(
        StrapStock(name, lashing, None, False, 5.0, 3.0 if name == cheap else 9.0)
        for name, lashing in (("weak", 2500.0), ("strong", 9000.0))
    )
    own = replace(YARD, straps=straps)
    keys = {"diameter": 600, "height": 500, "wall": 50, "floor": 50, "down": "rim"}
    chosen = made(round_planter.SHAPE, keys, own, 800.0, method="wrapped")
    assert chosen is not None
    bought = {line.size for line in chosen.mold.hardware if line.item == "strap"}
    assert bought == {cheap}
    other = made(round_planter.SHAPE, keys, own, 800.0, method="wrapped", strap=dear)
    assert other is not None
    assert holds(other)


@pytest.mark.parametrize("length", [700, 1200])
def test_one_rail_less_does_not_hold(length: int) -> None:
    """As few as hold: with one less, and whatever stick, panels or rails fail, or a dearer stick is needed."""
    keys = {"length": length, "width": 400, "height": 700, "wall": 50, "floor": 50}
    chosen: Any = made(planter.SHAPE, keys, YARD, 900.0)
    count, stick = len(chosen.rails), chosen.lined.frame.stocks.stick.name
    fewer = made(planter.SHAPE, keys, YARD, 900.0, rails=count - 1, stick=stick)
    assert count > 2
    assert fewer is None or not holds(fewer)
