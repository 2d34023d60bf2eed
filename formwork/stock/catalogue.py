"""The stock a yard has when the shop file says nothing: sheets, sticks, hardware; inches or millimetres.

Three thicknesses of a sheet are three things: the *nominal* one is on the price tag, the *actual* one is what
the standard lets it be (its mean is taken here), the *measured* one is what the person found with a caliper
and overrides both. Prices are the shop's own: there are none here.

Sources of the tables, one file each:

* ``ps_1_thickness.csv``: least and greatest thickness of unsanded, touch-sanded and overlaid panels by
  performance category, US Voluntary Product Standard PS 1, as published by APA (performance category page).
* ``ps_20_dressed.csv``: dressed dry sizes of US softwood lumber, Voluntary Product Standard PS 20, as
  published by the Engineering ToolBox.
* ``metric_sanded_plywood.csv``: thickness tolerances of sanded plywood from a birch plywood maker's data
  sheet.
* ``yard_sheets.csv``, ``yard_sticks.csv``, ``yard_hardware.csv``: what a small yard usually has; the source
  of each row is in its last column.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import get_args

from formwork.errors import InternalError
from formwork.stock.records import HardwareStock, Material, SheetStock, StickLength, StickStock
from formwork.units.numbers import number
from formwork.units.parse import read
from formwork.units.show import UnitSystem

_HERE = Path(__file__).parent
_INCH = Fraction(254, 10000)
_MILLIMETRE = Fraction(1, 1000)


def sheets(units: UnitSystem) -> tuple[SheetStock, ...]:
    """The sheets of an inch or a metric yard, without prices.

    Args:
        units: "in" or "mm".
    """
    return tuple(_sheet(row) for row in _rows("yard_sheets.csv") if row["units"] == units)


def sticks(units: UnitSystem) -> tuple[StickStock, ...]:
    """The sticks of an inch or a metric yard, without prices.

    Args:
        units: "in" or "mm".
    """
    return tuple(_stick(row) for row in _rows("yard_sticks.csv") if row["units"] == units)


def hardware(units: UnitSystem) -> tuple[HardwareStock, ...]:
    """The screws, bolts and the rest of an inch or a metric yard, without prices.

    Args:
        units: "in" or "mm".
    """
    return tuple(
        HardwareStock(row["item"], row["size"], row["unit"], float(row["per"]))
        for row in _rows("yard_hardware.csv")
        if row["units"] == units
    )


def panel_range(category: str) -> tuple[float, float]:
    """Least and greatest thickness of an unsanded, touch-sanded or overlaid panel, m.

    Source: PS 1, thickness requirements by performance category.

    Args:
        category: performance category as printed on the panel, "23/32".

    Raises:
        KeyError: if the standard has no such category.
    """
    for row in _rows("ps_1_thickness.csv"):
        if row["category"] == category:
            return float(Fraction(row["least_in"]) * _INCH), float(Fraction(row["most_in"]) * _INCH)
    raise KeyError(category)


def sanded_range(nominal: str) -> tuple[float, float]:
    """Least and greatest thickness of metric sanded plywood, m.

    Source: a birch plywood maker's data sheet.

    Args:
        nominal: thickness in mm as printed on the sheet, "18".

    Raises:
        KeyError: if the table has no such thickness.
    """
    for row in _rows("metric_sanded_plywood.csv"):
        if row["nominal_mm"] == nominal:
            middle = Fraction(nominal)
            least, most = middle - Fraction(row["under_mm"]), middle + Fraction(row["over_mm"])
            return float(least * _MILLIMETRE), float(most * _MILLIMETRE)
    raise KeyError(nominal)


def dressed(side: str, nominal: str) -> float:
    """Dressed dry size of a side of softwood lumber, m.

    Source: PS 20, nominal and minimum dressed sizes, dry.

    Args:
        side: "thickness" (of boards and dimension lumber) or "width".
        nominal: nominal inches as printed, "1-1/4".

    Raises:
        KeyError: if the standard has no such size.
    """
    for row in _rows("ps_20_dressed.csv"):
        if (row["side"], row["nominal_in"]) == (side, nominal):
            return float(number(row["dressed_in"]) * _INCH)
    raise KeyError(f"{side} {nominal}")


def usual_thickness(nominal: str, material: Material) -> float | None:
    """The thickness a sheet of that nominal size really has, where a standard says so, else None.

    Plywood sold in inches follows PS 1 (a "3/4" panel is commonly of the 23/32 category and marked so);
    sheets sold in millimetres follow the metric sanded table; board is as thick as it says.

    Args:
        nominal: the size on the price tag, "23/32 in" or "18 mm".
        material: what the sheet is made of.
    """
    size, _, unit = nominal.strip().rpartition(" ")
    try:
        if material in ("plywood", "overlaid plywood") and unit == "in":
            return _mean(panel_range(size.replace(" ", "-")))
        if "plywood" in material and unit == "mm":
            return _mean(sanded_range(size))
    except KeyError:
        return None
    return None


def _mean(ends: tuple[float, float]) -> float:
    return (ends[0] + ends[1]) / 2


def _sheet(row: dict[str, str]) -> SheetStock:
    return SheetStock(
        name=row["name"],
        material=_material(row["material"]),
        nominal=row["nominal"],
        thickness=_size(row["thickness_from"], "thickness"),
        measured=False,
        length=read(row["length"], "length", None),
        width=read(row["width"], "length", None),
        grain=row["grain"] == "yes",
        good_faces=int(row["good_faces"]),
        density=float(row["density_kg_m3"]),
        bend_radius=read(row["bend_radius"], "length", None) if row["bend_radius"] else None,
    )


def _stick(row: dict[str, str]) -> StickStock:
    return StickStock(
        name=row["name"],
        material=row["material"],
        nominal=row["nominal"],
        thickness=_size(row["thickness"], "thickness"),
        width=_size(row["width"], "width"),
        lengths=tuple(StickLength(read(length, "length", None)) for length in row["lengths"].split(";")),
        density=float(row["density_kg_m3"]),
    )


def _size(written: str, side: str) -> float:
    """A size from a table ("PS 1 23/32", "PS 20 2", "metric sanded 18") or as a plain length."""
    table, _, nominal = written.rpartition(" ")
    match table:
        case "PS 1":
            return _mean(panel_range(nominal))
        case "PS 20":
            return dressed(side, nominal)
        case "metric sanded":
            return _mean(sanded_range(nominal))
        case _:
            return read(written, "length", None)


def _material(name: str) -> Material:
    for material in get_args(Material):
        if material == name:
            found: Material = material
            return found
    raise InternalError(f"the built-in yard has a sheet of unknown material {name}")


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    with (_HERE / name).open(encoding="utf-8", newline="") as table:
        return tuple(csv.DictReader(table))
