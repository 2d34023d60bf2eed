"""The weighing cup of a shop file: what it holds, by the one way in which that is known."""

from __future__ import annotations

from formwork.errors import Fault, RangeError
from formwork.pour.measure import (
    Cup,
    Measure,
    against_belief,
    by_pipe,
    by_print,
    by_sizes,
    by_water,
    named_pipe,
)
from formwork.project.faults import fault
from formwork.project.load import Source
from formwork.project.shop_tables import CupTable
from formwork.units.show import UnitSystem

_WAYS = {"volume": (), "across": ("deep",), "pipe": ("deep",), "water": ("water_at",)}
"""The keys that say how the volume is known, each with the one that belongs to it."""


def cup(table: CupTable, source: Source, units: UnitSystem) -> tuple[Cup | None, tuple[Fault, ...]]:
    """The cup, or what is wrong with its table.

    Args:
        table: as read.
        source: the file.
        units: of the shop.
    """
    faults = _incomplete(table, source)
    if faults:
        return None, faults
    try:
        holds = _measure(table)
    except RangeError as error:
        said, _, want = str(error).partition(": got ")[2].partition(", want ")
        return None, (fault(source, ("cup", _way(table)), said, want),)
    if table.meant is not None:
        holds = against_belief(holds, table.meant, None, units)
    return Cup(holds, table.tare, table.scale), ()


def _way(table: CupTable) -> str:
    return next(key for key in _WAYS if getattr(table, key) is not None)


def _incomplete(table: CupTable, source: Source) -> tuple[Fault, ...]:
    given = [key for key in _WAYS if getattr(table, key) is not None]
    if len(given) != 1:
        got = f"both {given[0]} and {given[1]}" if given else "no volume"
        return (fault(source, ("cup", *given[1:2]), got, f"one of {', '.join(_WAYS)}"),)
    missing = [key for key in _WAYS[given[0]] if getattr(table, key) is None]
    idle = [
        key for key in ("deep", "water_at") if key not in _WAYS[given[0]] and getattr(table, key) is not None
    ]
    return (
        *(fault(source, ("cup", key), "nothing", f"{key} with {given[0]}") for key in missing),
        *(fault(source, ("cup", key), "a value", f"nothing: it does not go with {given[0]}") for key in idle),
    )


def _measure(table: CupTable) -> Measure:
    """The volume.

    Raises:
        RangeError: for a cup that cannot be.
    """
    if table.volume is not None:
        return by_print(table.volume)
    if table.across is not None:
        return by_sizes(table.across, table.deep or 0.0)
    if table.pipe is not None:
        size, schedule = named_pipe(table.pipe)
        return by_pipe(size, table.deep or 0.0, schedule)
    return by_water(table.water or 0.0, table.tare, table.water_at or 0.0, table.scale)
