"""A shop and a mix for tests that need a mold: the built-in stock and a mix of 800 kg/m3."""

from __future__ import annotations

from typing import Any

from formwork.mix.design import mix_for
from formwork.mix.records import CellularWanted, Mix, OrdinaryWanted
from formwork.molds.design import brace, line
from formwork.molds.panelled import Built
from formwork.project.records import MoldOptions, PieceOrder, Shop
from formwork.project.shop import read_shop
from formwork.shapes.parameters import Parameters
from formwork.shapes.shape import Shape


def shop() -> Shop:
    """The built-in metric shop."""
    return read_shop(None, "mm")


def mix(density: float = 800.0) -> Mix:
    """A neat cellular mix of this wet density, kg/m3."""
    own = shop()
    return mix_for(CellularWanted(density, None, 0.5), own.cement, own.foam)


def concrete(density: float = 2000.0) -> Mix:
    """An ordinary mortar of this fresh density, kg/m3."""
    own = shop()
    return mix_for(OrdinaryWanted(density, 1.0, 0.45, 3.0, 0.0), own.cement, own.foam)


def build(
    shape: Shape,
    parameters: Parameters,
    *,
    density: float = 800.0,
    mixed: Mix | None = None,
    count: int = 4,
    molds: int = 2,
    **options: Any,
) -> Built:
    """The mold of one order, of its first piece where the shape has several."""
    order = PieceOrder("piece", shape.name, parameters, count, molds, MoldOptions(**options))
    return brace(line(order, shop(), mixed or mix(density), "mm")[0])
