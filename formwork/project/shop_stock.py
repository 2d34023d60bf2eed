"""The stock tables of a shop file as stock records: dressed sizes, pipes, straps, the yard's other hardware."""

from __future__ import annotations

import re
from collections.abc import Iterator

from formwork.errors import Fault
from formwork.project.faults import fault
from formwork.project.load import Source
from formwork.project.shop_tables import (
    HardwareTable,
    LengthTable,
    PipeTable,
    StickTable,
    StrapTable,
)
from formwork.stock import catalogue
from formwork.stock.goods import GOODS, said
from formwork.stock.pipes import DENSITY, PipeSize, pipe_size, trade_sizes
from formwork.stock.records import HardwareStock, StickLength, StickStock, StickStrength, StrapStock
from formwork.units import show
from formwork.units.fields import nearest
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem

_SECTION = re.compile(
    r"\s*(\d+(?:[- ]\d+/\d+)?)\s*(?:in|\")?\s*[x×X]\s*(\d+(?:[- ]\d+/\d+)?)\s*(?:in|\")?\s*"
)
_DIAMETER = re.compile(r"#\d{1,2}|M?\d+(\.\d+)?|\d+/\d+")
_FASTENERS = {"screw": '"#8 x 2 in" or "5 x 60 mm"', "bolt": '"5/16 x 3 in" or "M8 x 80 mm"'}
_GAUGES = ("#6", "#7", "#8", "#9", "#10", "#12", "#14")
_ACROSS = {"screw": (3.0, 6.93), "bolt": (6.0, 25.4)}
"""Diameters of which the tables say what they hold, mm."""
_KNOWN = {"screw": "#6 to #14, or 3 to 6.9 mm across", "bolt": "1/4 to 1 in, or M6 to M25"}


def sticks(
    tables: tuple[StickTable, ...], source: Source, units: UnitSystem, assumed: list[str]
) -> tuple[tuple[StickStock, ...], tuple[Fault, ...]]:
    """The sticks of a shop file, and the faults that only show between their keys.

    Args:
        tables: as read.
        source: the file.
        units: of the shop.
        assumed: takes a line for every section taken from the nominal size.
    """
    stock: list[StickStock] = []
    faults: list[Fault] = []
    for index, table in enumerate(tables):
        section = _section(table, units, assumed)
        if section is None:
            want = 'thickness and width, or a nominal size such as "2 x 4" in an inch shop'
            got = f'"{table.nominal}"' if table.nominal else "nothing"
            faults.append(fault(source, ("stick", index, "thickness"), got, want))
            continue
        if any(one.name == table.name for one in stock):
            faults.append(
                fault(source, ("stick", index, "name"), f'"{table.name}" again', "a name of its own")
            )
        faults += _half_said(table, source, index)
        stock.append(_stick(table, section))
    return tuple(stock), tuple(faults)


def pipes(tables: tuple[PipeTable, ...], source: Source) -> tuple[tuple[StickStock, ...], tuple[Fault, ...]]:
    """The pipes of a shop file, and the faults that only show between their keys.

    Args:
        tables: as read.
        source: the file.
    """
    stock: list[StickStock] = []
    faults: list[Fault] = []
    for index, table in enumerate(tables):
        real = _pipe_size(table)
        if any(one.name == table.name for one in stock):
            faults.append(
                fault(source, ("pipe", index, "name"), f'"{table.name}" again', "a name of its own")
            )
        if isinstance(real, tuple):
            key, got, want = real
            faults.append(fault(source, ("pipe", index, key), got, want))
        else:
            stock.append(_pipe(table, real))
    return tuple(stock), tuple(faults)


def _pipe_size(table: PipeTable) -> PipeSize | tuple[str, str, str]:
    """What the pipe measures, or the key that is wrong with what it has and what it should have."""
    if table.kind is None:
        if table.outside is None or table.wall is None or table.size is not None:
            return "kind", "nothing", "kind and size, or outside and wall"
        if 2.0 * table.wall >= table.outside:
            wall = show.length(table.wall, "mm")
            return "wall", wall, f"less than half the outside diameter, {show.length(table.outside, 'mm')}"
        return PipeSize(table.outside, table.wall)
    if table.outside is not None or table.wall is not None:
        return "kind", f'"{table.kind}" and measures', "kind and size, or outside and wall, not both"
    known = trade_sizes(table.kind)
    if table.size not in known:
        got = f'"{table.size}"' if table.size else "nothing"
        return "size", got, f"a trade size of {table.kind}: {', '.join(known)}"
    return pipe_size(table.kind, table.size)


def _pipe(table: PipeTable, real: PipeSize) -> StickStock:
    return StickStock(
        name=table.name,
        material=table.kind or "pipe",
        nominal=table.size or "",
        thickness=real.outside,
        width=real.outside,
        lengths=lengths_of(table.lengths),
        density=DENSITY[table.kind] if table.kind else DENSITY["EMT"],
        wall=real.wall,
    )


def straps(
    tables: tuple[StrapTable, ...], source: Source
) -> tuple[tuple[StrapStock, ...], tuple[Fault, ...]]:
    """The straps of a shop file, and the faults that only show between their keys.

    Args:
        tables: as read.
        source: the file.
    """
    stock: list[StrapStock] = []
    faults: list[Fault] = []
    for index, table in enumerate(tables):
        if any(one.name == table.name for one in stock):
            faults.append(
                fault(source, ("strap", index, "name"), f'"{table.name}" again', "a name of its own")
            )
        if table.lashing is None and table.breaking is None:
            want = "lashing or breaking: what its label says that it carries or breaks at"
            faults.append(fault(source, ("strap", index, "lashing"), "nothing", want))
        stock.append(
            StrapStock(table.name, table.lashing, table.breaking, table.polyester, table.length, table.price)
        )
    return tuple(stock), tuple(faults)


def as_bought(strap: StrapStock) -> HardwareStock:
    """A strap as the buy list finds its price."""
    return HardwareStock("strap", strap.name, "piece", 1.0, strap.price)


def hardware(
    tables: tuple[HardwareTable, ...], source: Source, units: UnitSystem
) -> tuple[tuple[HardwareStock, ...], tuple[Fault, ...]]:
    """The hardware of a shop: what its file names first, then the rest of a usual yard's, without prices.

    Args:
        tables: as read.
        source: the file.
        units: of the shop.
    """
    own = [
        HardwareStock(row.item, row.size or "", row.unit, row.per * said(row.item, units)[1], row.price)
        for row in tables
    ]
    keys = [(row.item, row.size) for row in own]
    faults = []
    for index, (item, size) in enumerate(keys):
        if item not in GOODS:
            want, hint = f"one of: {', '.join(GOODS)}", nearest(item, tuple(GOODS))
            faults.append(fault(source, ("hardware", index, "item"), f'"{item}"', want, hint))
        if (item, size) in keys[:index]:
            faults.append(
                fault(source, ("hardware", index, "item"), f'"{item} {size}" again', "each thing once")
            )
        if item in _FASTENERS and not _has_length(size):
            got = f'"{size}"' if size else "nothing"
            faults.append(
                fault(source, ("hardware", index, "size"), got, f"a size such as {_FASTENERS[item]}")
            )
        elif item in _FASTENERS and not _is_known(item, size):
            want = f"a {item} of {_KNOWN[item]}: no table says what another holds"
            faults.append(fault(source, ("hardware", index, "size"), f'"{size}"', want))
    rest = [row for row in catalogue.hardware(units) if (row.item, row.size) not in keys]
    return (*own, *rest), tuple(faults)


def _has_length(size: str) -> bool:
    """The size is a diameter and, after an x, a length with its unit: the length decides where a screw may go."""
    diameter, _, length = size.partition(" x ")
    try:
        return bool(_DIAMETER.fullmatch(diameter)) and read(length, "length", None) > 0
    except QuantityError:
        return False


def _is_known(item: str, size: str) -> bool:
    """The tables say what a screw or bolt of this diameter holds."""
    diameter = size.partition(" x ")[0]
    if diameter.startswith("#"):
        return item == "screw" and diameter in _GAUGES
    over, _, under = diameter.removeprefix("M").partition("/")
    across = 25.4 * float(over) / float(under) if under else float(over)
    least, most = _ACROSS[item]
    return least <= across <= most + 1e-9


def _section(table: StickTable, units: UnitSystem, assumed: list[str]) -> tuple[float, float] | None:
    """Lesser and greater side: as given, else the dressed sizes of the nominal ones."""
    if table.thickness is not None and table.width is not None:
        return min(table.thickness, table.width), max(table.thickness, table.width)
    match = _SECTION.fullmatch(table.nominal or table.name)
    if match is None or table.thickness is not None or table.width is not None or units != "in":
        return None
    try:
        thickness = catalogue.dressed("thickness", match[1].replace(" ", "-"))
        width = catalogue.dressed("width", match[2].replace(" ", "-"))
    except KeyError:
        return None
    shown = f"{show.fraction(thickness)} x {show.fraction(width)} in"
    assumed.append(f"section of stick {table.name}: {shown}, the dressed size of PS 20")
    return thickness, width


def _stick(table: StickTable, section: tuple[float, float]) -> StickStock:
    return StickStock(
        name=table.name,
        material=table.material,
        nominal=table.nominal or table.name,
        thickness=section[0],
        width=section[1],
        lengths=lengths_of(table.lengths),
        density=table.density,
        strength=_stick_strength(table),
        gravity=table.gravity,
    )


_STRESSES = ("bending", "shear", "bearing", "modulus")


def _half_said(table: StickTable, source: Source, index: int) -> Iterator[Fault]:
    """Stresses of a stick stand together: one of them alone would be checked beside those of another wood."""
    given = [key for key in (*_STRESSES, "crushing") if key in table.model_fields_set]
    missing = [key for key in _STRESSES if key not in given]
    if given and missing:
        want = f"{', '.join(missing)} beside it: all that its grade gives, or none of it"
        yield fault(source, ("stick", index, given[0]), f"{given[0]} alone", want)


def _stick_strength(table: StickTable) -> StickStrength | None:
    if table.bending is None or table.shear is None or table.bearing is None or table.modulus is None:
        return None
    return StickStrength(table.bending, table.shear, table.bearing, table.modulus, table.crushing)


def lengths_of(rows: tuple[LengthTable, ...]) -> tuple[StickLength, ...]:
    """The stock lengths of a stick, pipe or tube; an offcut is there once where nothing else is said.

    Args:
        rows: as read.
    """
    return tuple(
        StickLength(row.length, row.price, 1 if row.offcut and row.limit is None else row.limit, row.offcut)
        for row in rows
    )
