"""The sheets of a shop file as stock records: which thickness holds, and what is known of their strength."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from formwork.errors import Fault
from formwork.project.defaults import FACES, GRAIN, MATERIAL_DENSITY
from formwork.project.faults import fault
from formwork.project.load import Source
from formwork.project.shop_tables import SheetTable
from formwork.stock import catalogue
from formwork.stock.records import SheetStock, SheetStrength
from formwork.units import show
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem

_LEAST_THICKNESS, _MOST_THICKNESS = 0.0004, 0.06
_GRADED = ("plywood", "overlaid plywood")
_WITH_BENDING = ("bending_across", "modulus", "modulus_across", "shear", "safety", "wet")
_ACROSS = ("bending_across", "modulus_across")


def sheets(
    tables: tuple[SheetTable, ...], source: Source, units: UnitSystem, assumed: list[str]
) -> tuple[tuple[SheetStock, ...], tuple[Fault, ...]]:
    """The sheets of a shop file, and the faults that only show between their keys.

    Args:
        tables: as read.
        source: the file.
        units: of the shop.
        assumed: takes a line for every thickness that is not measured.
    """
    stock: list[SheetStock] = []
    faults: list[Fault] = []
    for index, table in enumerate(tables):
        thickness = _thickness(table, units, assumed)
        if thickness is None:
            want = 'a size as on the price tag, such as "3/4 in" or "18 mm"'
            faults.append(fault(source, ("sheet", index, "nominal"), f'"{table.nominal}"', want))
            continue
        faults += _strength_faults(table, source, index)
        sheet = _sheet(table, thickness, stock)
        clash = next((one for one in stock if one.name == sheet.name and _differs(one, sheet)), None)
        if clash is not None:
            want = "a name of its own: the sheet of this name above is of another thickness, material or strength"
            faults.append(fault(source, ("sheet", index, "name"), f'"{sheet.name}"', want))
        stock.append(sheet)
    return tuple(stock), tuple(faults)


def _thickness(table: SheetTable, units: UnitSystem, assumed: list[str]) -> float | None:
    """The measured thickness, else the standard's mean for the nominal one, else the nominal one itself."""
    if table.measured is not None:
        return table.measured
    nominal = _nominal(table.nominal, units)
    if nominal is None:
        return None
    usual = catalogue.usual_thickness(table.nominal, table.material)
    thickness, reason = (
        (nominal, "as on the price tag") if usual is None else (usual, "the mean its standard gives")
    )
    shown = show.length(thickness, units, exact=True)
    line = f"thickness of sheet {table.name}: {shown}, {reason}; measure it and write measured = ..."
    if line not in assumed:
        assumed.append(line)
    return thickness


def _nominal(written: str, units: UnitSystem) -> float | None:
    try:
        size = read(written, "length", units)
    except QuantityError:
        return None
    return size if _LEAST_THICKNESS <= size <= _MOST_THICKNESS else None


def _sheet(table: SheetTable, thickness: float, before: Sequence[SheetStock]) -> SheetStock:
    """The sheet; an offcut that says nothing of its strength has that of the sheet it is left from."""
    material = table.material
    whole = next((one for one in before if one.name == table.name), None) if table.offcut else None
    grade, strength = table.grade, _strength(table)
    if whole is not None and grade is None and strength is None:
        grade, strength = whole.grade, whole.strength
    return SheetStock(
        name=table.name,
        material=material,
        nominal=table.nominal,
        thickness=thickness,
        measured=table.measured is not None,
        length=table.length,
        width=table.width,
        price=table.price,
        limit=1 if table.offcut and table.limit is None else table.limit,
        grain=GRAIN[material] if table.grain is None else table.grain,
        good_faces=FACES[material] if table.good_faces is None else table.good_faces,
        density=MATERIAL_DENSITY[material] if table.density is None else table.density,
        offcut=table.offcut,
        bend_radius=table.bend_radius,
        tension=table.tension,
        grade=grade,
        strength=strength,
    )


def _strength(table: SheetTable) -> SheetStrength | None:
    if table.bending is None:
        return None
    return SheetStrength(
        table.bending,
        table.bending_across,
        table.modulus,
        table.modulus_across,
        table.shear,
        table.safety,
        table.wet,
    )


def _strength_faults(table: SheetTable, source: Source, index: int) -> Iterator[Fault]:
    """What is wrong between the keys of a sheet's strength."""
    given = table.model_fields_set
    if table.grade is not None:
        if table.material not in _GRADED:
            want = f"no grade on {table.material}: only {' and '.join(_GRADED)} are stamped so"
            yield fault(source, ("sheet", index, "grade"), f'"{table.grade}"', want)
        if table.bending is not None:
            want = "grade or bending, not both: one of them says what the sheet bears"
            yield fault(source, ("sheet", index, "grade"), f'"{table.grade}" and bending', want)
    if table.bending is None:
        for key in _WITH_BENDING:
            if key in given:
                want = "bending beside it: the bending strength that the sheet's maker declares"
                yield fault(source, ("sheet", index, key), "no bending", want)
    for key in _ACROSS:
        if key in given and not GRAIN[table.material]:
            want = f"no {key} of a sheet without grain: it bears the same both ways"
            yield fault(source, ("sheet", index, key), "a sheet without grain", want)


def _differs(one: SheetStock, other: SheetStock) -> bool:
    return (one.material, one.thickness, one.grade, one.strength) != (
        other.material,
        other.thickness,
        other.grade,
        other.strength,
    )
