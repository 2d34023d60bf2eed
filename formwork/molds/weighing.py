"""What the parts of a mold weigh, whatever bodies they are made of."""

from __future__ import annotations

from collections.abc import Iterable

from formwork.geometry.cells import Cell
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.molds.mold import Part
from formwork.project.records import Shop
from formwork.stock.records import SheetStock, StickStock


def part_volume(part: Part) -> float:
    """Space that a part fills, m3; round holes through it are not taken out."""
    return sum(body.volume() for body in _bodies(part))


def part_in_plan(part: Part) -> float:
    """An area that no level section of a part exceeds, m2."""
    return sum(body.in_plan() for body in _bodies(part))


def _bodies(part: Part) -> tuple[Cell | Round | Turned | Prism, ...]:
    return (*part.cells, *part.rounds, *part.turned, *part.prisms)


def mass(parts: Iterable[Part], shop: Shop) -> float:
    """Mass of what is cut of the shop's stock, kg; what is bought by the piece is left out."""
    stocks: tuple[SheetStock | StickStock, ...] = (
        *shop.sheets,
        *shop.sticks,
        *shop.pipes,
        *(tube.stick for tube in shop.tubes),
    )
    density = {stock.name: stock.density for stock in stocks}
    return sum(density.get(part.stock, 0.0) * part_volume(part) for part in parts)
