"""The tubes of a shop file as stock records: what was measured, what follows from it, and what is a label only."""

from __future__ import annotations

from collections.abc import Container

from formwork.errors import Fault
from formwork.project.faults import fault
from formwork.project.load import Source
from formwork.project.shop_stock import lengths_of
from formwork.project.shop_tables import TubeTable
from formwork.stock.tubes import DENSITY, TubeStock
from formwork.units import show
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem

_CLOSE = 0.0015
"""Inside, outside and wall as measured need not agree better than this, m: tubes are out of round (ours)."""
_LEAST_SIZE, _MOST_SIZE = 0.02, 2.0

Wrong = tuple[str, str, str]
"""A key, what it has, and what it should have."""


def tubes(
    tables: tuple[TubeTable, ...], source: Source, units: UnitSystem, taken: Container[str]
) -> tuple[tuple[TubeStock, ...], tuple[Fault, ...]]:
    """The tubes of a shop file, and the faults that only show between their keys.

    Args:
        tables: as read.
        source: the file.
        units: of the shop.
        taken: names of its pipes, which are cut like tubes.
    """
    stock: list[TubeStock] = []
    faults: list[Fault] = []
    for index, table in enumerate(tables):
        if table.name in taken or any(one.name == table.name for one in stock):
            faults.append(
                fault(source, ("tube", index, "name"), f'"{table.name}" again', "a name of its own")
            )
        found = _tube(table, units)
        if isinstance(found, TubeStock):
            stock.append(found)
        else:
            key, got, want = found
            faults.append(fault(source, ("tube", index, key), got, want))
    return tuple(stock), tuple(faults)


def _tube(table: TubeTable, units: UnitSystem) -> TubeStock | Wrong:
    size = _size(table.nominal, units)
    if size is None:
        return "nominal", f'"{table.nominal}"', 'a size as on the label, such as "10 in" or "250 mm"'
    if table.inside is None and table.outside is None and not size:
        return "inside", "nothing", "the inside diameter you measured, or the size on the label as nominal"
    wall = _wall(table, units)
    if isinstance(wall, tuple):
        return wall
    return TubeStock(
        name=table.name,
        kind=table.kind,
        nominal=table.nominal or "",
        size=size,
        inside=_or(table.inside, table.outside, -2.0 * wall),
        outside=_or(table.outside, table.inside, 2.0 * wall),
        wall=wall,
        lengths=lengths_of(table.lengths),
        density=DENSITY[table.kind] if table.density is None else table.density,
        head=table.head,
        pressure=table.pressure,
        strength=table.strength,
    )


def _or(own: float | None, other: float | None, more: float) -> float | None:
    """A diameter as measured, or what follows from the other one and the wall; None where neither was."""
    if own is not None:
        return own
    return None if other is None else other + more


def _size(nominal: str | None, units: UnitSystem) -> float | None:
    """The size on the label, m; 0 where there is none, None where it is no size."""
    if nominal is None:
        return 0.0
    try:
        size = read(nominal, "length", units)
    except QuantityError:
        return None
    return size if _LEAST_SIZE <= size <= _MOST_SIZE else None


def _wall(table: TubeTable, units: UnitSystem) -> float | Wrong:
    """Thickness of the wall: as given, or half of what lies between both diameters."""
    inside, outside, wall = table.inside, table.outside, table.wall
    if inside is not None and outside is not None:
        between = (outside - inside) / 2.0
        if between <= 0.0:
            return (
                "outside",
                show.length(outside, units),
                f"more than the inside diameter, {show.length(inside, units)}",
            )
        if wall is not None and abs(wall - between) > _CLOSE:
            return (
                "wall",
                show.length(wall, units),
                f"half of what lies between both diameters, {show.length(between, units)}",
            )
        return between
    if wall is None:
        return "wall", "nothing", "the wall, or both diameters"
    if outside is not None and 2.0 * wall >= outside:
        return (
            "wall",
            show.length(wall, units),
            f"less than half the outside diameter, {show.length(outside, units)}",
        )
    return wall
