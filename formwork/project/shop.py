"""From a shop file, or from none, to a Shop; everything taken from the built-in defaults is listed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from typing import Any

from formwork.cutting.records import Saw
from formwork.errors import Fault, InputError
from formwork.mix.records import Cement, Foam, Mixer
from formwork.project import defaults
from formwork.project.declared import declared_units, named_shape, split_keys
from formwork.project.defaults import BAG, RESIDUE, USABLE_SHARE, usual_mixer
from formwork.project.faults import Table, check, fault, in_order
from formwork.project.load import Source, load
from formwork.project.locate import Path
from formwork.project.records import OwnedMold, Shop
from formwork.project.shop_stock import hardware, sheets, sticks
from formwork.project.tables import MixerTable, OwnedMoldTable, ShopTable
from formwork.shapes.parameters import Parameters
from formwork.stock import catalogue
from formwork.stock.records import SheetStock, StickStock
from formwork.units import show
from formwork.units.parse import read, written
from formwork.units.show import UnitSystem


@dataclass(frozen=True, slots=True)
class Found:
    """What a shop file came to: a shop where there is no fault, else the faults."""

    shop: Shop | None
    faults: tuple[Fault, ...]


def read_shop(path: FilePath | None, units: UnitSystem = "in") -> Shop:
    """The shop of a file, or the built-in one.

    Args:
        path: the shop file; None for the built-in shop.
        units: of a shop that declares none itself, and of the built-in one.

    Raises:
        InputError: with every fault of the file.
    """
    if path is None:
        return built_in(units)
    found = open_shop(path, units)
    if found.shop is None:
        raise InputError(found.faults)
    return found.shop


def open_shop(path: FilePath, units: UnitSystem) -> Found:
    """The shop of a file, or every fault of the file.

    Args:
        path: the shop file.
        units: where the file declares none.
    """
    source = load(path)
    if not source.usable:
        return Found(None, source.faults)
    declared, faults = declared_units(source)
    kept = {key: value for key, value in source.data.items() if key not in ("owned_mold", "units")}
    currency = source.data.get("currency")
    if not isinstance(currency, str):
        currency = defaults.CURRENCY[declared or units]
    place = Table(source, (), declared, currency.strip(), ("owned_mold",))
    table = check(ShopTable, _with_length_tables(kept), place)
    owned, owned_faults = _owned(source, place)
    faults += source.faults + owned_faults
    if not isinstance(table, ShopTable):
        return Found(None, in_order(faults + table))
    shop, more = _shop(table, source, declared or units, currency.strip(), owned)
    faults += more
    return Found(None if faults else shop, in_order(faults))


def built_in(units: UnitSystem) -> Shop:
    """The shop of someone who has no shop file: a usual yard's stock, no prices.

    Args:
        units: "in" or "mm".
    """
    shop, _ = _shop(ShopTable(), Source("", {}, {}, (), usable=True), units, defaults.CURRENCY[units], ())
    return shop


def _shop(
    table: ShopTable, source: Source, units: UnitSystem, currency: str, owned: tuple[OwnedMold, ...]
) -> tuple[Shop, tuple[Fault, ...]]:
    assumed: list[str] = []
    sheet_stock, sheet_faults = sheets(table.sheet, source, units, assumed)
    stick_stock, stick_faults = sticks(table.stick, source, units, assumed)
    hardware_stock, hardware_faults = hardware(table.hardware, source, units)
    mixer, mixer_faults = _mixer(table.mixer, source, units, assumed)
    shop = Shop(
        name=table.name,
        units=units,
        currency=currency,
        sheets=sheet_stock or _yard_sheets(units, assumed),
        sticks=stick_stock or _yard_sticks(units, assumed),
        hardware=hardware_stock,
        saw=_saw(table, units, assumed),
        mixer=mixer,
        foam=_foam(table, units, assumed),
        cement=_cement(table, units, assumed),
        owned=owned,
        assumed=tuple(assumed),
    )
    return shop, sheet_faults + stick_faults + hardware_faults + mixer_faults


def _yard_sheets(units: UnitSystem, assumed: list[str]) -> tuple[SheetStock, ...]:
    stock = catalogue.sheets(units)
    assumed.append(f"sheets: a usual yard's, without prices: {', '.join(sheet.name for sheet in stock)}")
    return stock


def _yard_sticks(units: UnitSystem, assumed: list[str]) -> tuple[StickStock, ...]:
    stock = catalogue.sticks(units)
    assumed.append(f"sticks: a usual yard's, without prices: {', '.join(stick.name for stick in stock)}")
    return stock


def _saw(table: ShopTable, units: UnitSystem, assumed: list[str]) -> Saw:
    saw = table.saw
    kerf = _or_usual(saw.kerf, defaults.KERF, "saw kerf", units, assumed)
    trim = _or_usual(saw.trim, defaults.TRIM, "trim off each sheet edge", units, assumed)
    end_trim = _or_usual(saw.end_trim, defaults.END_TRIM, "trim off a stick's end", units, assumed)
    return Saw(kerf, trim, end_trim)


def _or_usual(
    given: float | None, usual: dict[UnitSystem, str], what: str, units: UnitSystem, assumed: list[str]
) -> float:
    if given is not None:
        return given
    assumed.append(f"{what}: {usual[units]}")
    return read(usual[units], "length", None)


def _mixer(
    table: MixerTable | None, source: Source, units: UnitSystem, assumed: list[str]
) -> tuple[Mixer, tuple[Fault, ...]]:
    if table is None:
        mixer = usual_mixer(units)
        whole, batch = show.volume(mixer.rated, units), show.volume(mixer.usable, units)
        assumed.append(f"mixer: {mixer.name} of {whole}, {batch} of finished mix a batch")
        return mixer, ()
    usable, residue = _usable(table, units, assumed), _residue(table, units, assumed)
    mixer = Mixer(
        table.name, table.kind, table.rated, table.rating, usable=usable, residue=residue, least=table.least
    )
    return mixer, _mixer_faults(mixer, source, units)


def _usable(table: MixerTable, units: UnitSystem, assumed: list[str]) -> float:
    if table.usable is not None:
        return table.usable
    share = USABLE_SHARE[table.kind] if table.rating == "whole drum" else 1.0
    usable = share * table.rated
    assumed.append(
        f"finished mix of one batch: {show.volume(usable, units)}, {show.share(share)} of the rated volume"
    )
    return usable


def _residue(table: MixerTable, units: UnitSystem, assumed: list[str]) -> float:
    if table.residue is not None:
        return table.residue
    residue = read(RESIDUE[table.kind], "volume", None)
    assumed.append(f"mix left in the mixer after a batch: {show.volume(residue, units)}")
    return residue


def _mixer_faults(mixer: Mixer, source: Source, units: UnitSystem) -> tuple[Fault, ...]:
    faults = []
    usable = show.volume(mixer.usable, units)
    if mixer.usable > mixer.rated:
        want = f"at most the rated volume, {show.volume(mixer.rated, units)}"
        faults.append(fault(source, ("mixer", "usable"), usable, want))
    for key, volume in (("least", mixer.least), ("residue", mixer.residue)):
        if volume >= mixer.usable:
            want = f"less than the usable volume, {usable}"
            faults.append(fault(source, ("mixer", key), show.volume(volume, units), want))
    return tuple(faults)


def _foam(table: ShopTable, units: UnitSystem, assumed: list[str]) -> Foam:
    foam = table.foam
    given = foam.model_fields_set
    if "density" not in given:
        assumed.append(f"foam density: {show.density(foam.density, units)}")
    if "survival" not in given:
        assumed.append(f"foam's air still in the mix once placed: {show.share(foam.survival)}")
    if "dilution" not in given:
        assumed.append(f"foam concentrate: 1 part in {foam.dilution:g} parts of water")
    if "reserve" not in given:
        assumed.append(f"foam solution made up beyond need: {show.share(foam.reserve)}")
    return Foam(foam.density, foam.survival, foam.dilution, foam.output, foam.reserve, foam.price)


def _cement(table: ShopTable, units: UnitSystem, assumed: list[str]) -> Cement:
    cement = table.cement
    bag = cement.bag
    if bag is None:
        bag = read(BAG[units], "mass", None)
        assumed.append(f"cement bag: {BAG[units]}")
    if "gravity" not in cement.model_fields_set:
        assumed.append(f"specific gravity of the cement: {cement.gravity:g}")
    return Cement(cement.name, cement.gravity, bag, cement.price)


def _with_length_tables(data: dict[str, Any]) -> dict[str, Any]:
    """The same data with every stock length of a stick as a table: ``"8 ft"`` becomes ``{length = "8 ft"}``."""
    rows = data.get("stick")
    return {**data, "stick": [_stick_row(row) for row in rows]} if isinstance(rows, list) else data


def _stick_row(row: Any) -> Any:
    if not isinstance(row, dict) or not isinstance(row.get("lengths"), list):
        return row
    return {
        **row,
        "lengths": [each if isinstance(each, dict) else {"length": each} for each in row["lengths"]],
    }


def _owned(source: Source, place: Table) -> tuple[tuple[OwnedMold, ...], tuple[Fault, ...]]:
    rows = source.data.get("owned_mold", [])
    if not isinstance(rows, list):
        return (), (fault(source, ("owned_mold",), written(rows), "tables headed [[owned_mold]]"),)
    molds: list[OwnedMold] = []
    faults: list[Fault] = []
    for index, row in enumerate(rows):
        mold = _owned_mold(row, ("owned_mold", index), place)
        if isinstance(mold, OwnedMold):
            molds.append(mold)
        else:
            faults += mold
    names = [mold.name for mold in molds]
    repeated = sorted({name for name in names if names.count(name) > 1})
    faults += [
        fault(source, ("owned_mold",), f'"{name}" more than once', "a name of its own") for name in repeated
    ]
    return tuple(molds), tuple(faults)


def _owned_mold(row: Any, at: Path, place: Table) -> OwnedMold | tuple[Fault, ...]:
    own, shaped = split_keys(row, OwnedMoldTable)
    shape, shape_faults = named_shape(row, at, place.source)
    table = check(OwnedMoldTable, {**own, "shape": shape.name if shape else "unknown"}, replace(place, at=at))
    parameters: Parameters | tuple[Fault, ...] = ()
    if shape is not None:
        also = tuple(OwnedMoldTable.model_fields)
        parameters = check(shape.parameters, shaped, replace(place, at=at, also=also))
    if isinstance(table, tuple) or isinstance(parameters, tuple) or shape_faults:
        wrong = (part for part in (table, parameters) if isinstance(part, tuple))
        return (*shape_faults, *(each for part in wrong for each in part))
    return OwnedMold(table.name, table.shape, parameters)
