"""From a shop file to a Shop; what the file leaves out is taken from the built-in defaults and listed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any

from formwork.errors import Fault
from formwork.mix.limits import bagged_mix
from formwork.mix.pour_records import LeftoverMold, Times
from formwork.mix.records import Cement, Foam, Mixer
from formwork.project import assumed
from formwork.project.declared import declared_units, mistaken_file, named_shape, split_keys
from formwork.project.defaults import CURRENCY, RESIDUE, USABLE_SHARE, usual_cement, usual_mixer, usual_saw
from formwork.project.faults import Table, check, fault, in_order
from formwork.project.load import Source, load
from formwork.project.locate import Path
from formwork.project.records import OwnedMold, Shop
from formwork.project.shop_sheets import sheets
from formwork.project.shop_stock import as_bought, hardware, pipes, sticks, straps
from formwork.project.shop_tables import (
    CementTable,
    CupTable,
    FoamTable,
    MixerTable,
    OwnedMoldTable,
    SawTable,
    ShopTable,
    TimesTable,
)
from formwork.project.shop_tubes import tubes
from formwork.shapes.parameters import Keys
from formwork.stock import catalogue
from formwork.stock import pipes as pipe_tables
from formwork.stock import tubes as tube_tables
from formwork.stock.records import Saw
from formwork.units import show
from formwork.units.parse import read
from formwork.units.show import UnitSystem
from formwork.units.wording import written

if TYPE_CHECKING:
    from formwork.pour.measure import Cup


def open_shop(path: FilePath, units: UnitSystem) -> tuple[Shop | None, tuple[Fault, ...]]:
    """The shop of a file where nothing is wrong with it, else every fault of the file.

    Args:
        path: the shop file.
        units: where the file declares none.
    """
    source = load(path)
    if not source.usable or mistaken_file(source, "shop"):
        return None, source.faults or mistaken_file(source, "shop")
    declared, faults = declared_units(source)
    kept = {key: value for key, value in source.data.items() if key not in ("owned_mold", "units")}
    currency = source.data.get("currency")
    if not isinstance(currency, str):
        currency = CURRENCY[declared or units]
    place = Table(source, (), declared, currency.strip(), ("owned_mold",))
    table = check(ShopTable, _with_length_tables(kept), place)
    owned, owned_faults = _owned(source, place)
    faults += source.faults + owned_faults
    if not isinstance(table, ShopTable):
        return None, in_order(faults + table)
    shop, more = _shop(table, source, declared or units, currency.strip(), owned)
    faults += more
    return None if faults else shop, in_order(faults)


def _shop(
    table: ShopTable, source: Source, units: UnitSystem, currency: str, owned: tuple[OwnedMold, ...]
) -> tuple[Shop, tuple[Fault, ...]]:
    lines: list[str] = []
    sheet_stock, sheet_faults = sheets(table.sheet, source, units, lines)
    stick_stock, stick_faults = sticks(table.stick, source, units, lines)
    pipe_stock, pipe_faults = pipes(table.pipe, source)
    tube_stock, tube_faults = tubes(table.tube, source, units, {pipe.name for pipe in pipe_stock})
    strap_stock, strap_faults = straps(table.strap, source)
    hardware_stock, hardware_faults = hardware(table.hardware, source, units)
    mixer, mixer_faults = _mixer(table.mixer, source, units, lines)
    weighing_cup, cup_faults = _cup(table.cup, source, units)
    shop = Shop(
        name=table.name,
        units=units,
        currency=currency,
        sheets=sheet_stock or catalogue.sheets(units),
        sticks=stick_stock or catalogue.sticks(units),
        hardware=(*hardware_stock, *map(as_bought, strap_stock)),
        saw=_saw(table.saw, units),
        mixer=mixer,
        foam=_foam(table.foam),
        cement=_cement(table.cement, units),
        owned=owned,
        assumed=(),
        pipes=pipe_stock or pipe_tables.pipes(units),
        pipes_assumed=() if table.pipe else (assumed.pipes(pipe_tables.pipes(units)),),
        leftover_molds=tuple(LeftoverMold(row.name, row.volume, row.count) for row in table.leftover_mold),
        times=_times(table.times),
        tubes=tube_stock or tube_tables.tubes(units),
        straps=strap_stock,
        ground=table.ground,
        tubes_assumed=() if table.tube else (assumed.tubes(tube_tables.tubes(units)),),
        cup=weighing_cup,
    )
    shop = replace(shop, assumed=(*_yard(table, shop), *lines, *_figures(table, shop)))
    leftover_faults = _repeated([row.name for row in table.leftover_mold], "leftover_mold", source)
    return shop, (
        *sheet_faults, *stick_faults, *pipe_faults, *tube_faults, *strap_faults, *hardware_faults,
        *mixer_faults, *_cement_faults(table.cement, source), *cup_faults, *leftover_faults,
    )  # fmt: skip


def _yard(table: ShopTable, shop: Shop) -> list[str]:
    lines = [] if table.sheet else [assumed.sheets(shop.sheets)]
    return lines if table.stick else [*lines, assumed.sticks(shop.sticks)]


def _figures(table: ShopTable, shop: Shop) -> list[str]:
    return [
        *assumed.saw(shop.units, table.saw.model_fields_set),
        *assumed.foam(shop.foam, shop.units, table.foam.model_fields_set),
        *assumed.times(shop.times, table.times.model_fields_set),
        *assumed.cement(shop.cement, shop.units, table.cement.model_fields_set),
    ]


def _saw(table: SawTable, units: UnitSystem) -> Saw:
    usual = usual_saw(units)
    return Saw(
        kerf=usual.kerf if table.kerf is None else table.kerf,
        trim=usual.trim if table.trim is None else table.trim,
        end_trim=usual.end_trim if table.end_trim is None else table.end_trim,
    )


def _mixer(
    table: MixerTable | None, source: Source, units: UnitSystem, lines: list[str]
) -> tuple[Mixer, tuple[Fault, ...]]:
    if table is None:
        lines.append(assumed.mixer(usual_mixer(units), units))
        return usual_mixer(units), ()
    share = USABLE_SHARE[table.kind] if table.rating == "whole drum" else 1.0
    usable, residue = table.usable, table.residue
    if usable is None:
        usable = share * table.rated
        lines.append(assumed.usable(usable, share, units))
    if residue is None:
        residue = read(RESIDUE[table.kind], "volume", None)
        lines.append(assumed.residue(residue, units))
    mixer = Mixer(
        table.name,
        table.kind,
        table.rated,
        table.rating,
        usable=usable,
        residue=residue,
        least=table.least,
        least_slurry=table.least_slurry,
        tub=table.tub,
        heaviest=table.heaviest,
    )
    return mixer, _mixer_faults(mixer, source, units)


def _mixer_faults(mixer: Mixer, source: Source, units: UnitSystem) -> tuple[Fault, ...]:
    faults = []
    usable = show.volume(mixer.usable, units)
    if mixer.usable > mixer.rated:
        want = f"at most the rated volume, {show.volume(mixer.rated, units)}"
        faults.append(fault(source, ("mixer", "usable"), usable, want))
    volumes = (
        ("least", mixer.least, mixer.holds),
        ("residue", mixer.residue, mixer.holds),
        ("least_slurry", mixer.least_slurry, mixer.usable),
    )
    for key, volume, most in volumes:
        if volume >= most:
            of = "the second tub" if mixer.tub and most == mixer.tub else "the usable volume"
            want = f"less than {of}, {show.volume(most, units)}"
            faults.append(fault(source, ("mixer", key), show.volume(volume, units), want))
    return tuple(faults)


def _cup(table: CupTable | None, source: Source, units: UnitSystem) -> tuple[Cup | None, tuple[Fault, ...]]:
    if table is None:
        return None, ()
    from formwork.project.shop_cup import cup  # noqa: PLC0415 - only where the shop names one

    return cup(table, source, units)


def _foam(table: FoamTable) -> Foam:
    return Foam(table.density, table.survival, table.dilution, table.output, table.reserve, table.price)


def _times(table: TimesTable) -> Times:
    return Times(
        mixing=table.mixing,
        blending=table.blending,
        placing=table.placing,
        workable=table.workable,
        next_lift=table.next_lift,
        strip=table.strip,
        turn_round=table.turn_round,
        cover=table.cover,
        day=table.day,
    )


def _cement(table: CementTable, units: UnitSystem) -> Cement:
    bag = usual_cement(units).bag if table.bag is None else table.bag
    return Cement(table.name, table.gravity, bag, table.price)


def _cement_faults(table: CementTable, source: Source) -> tuple[Fault, ...]:
    if not bagged_mix(table.name):
        return ()
    want = "plain cement: a ready-bagged mix holds sand or gravel, which sinks and breaks the foam"
    hint = "buy portland cement, and give the sand by itself under [mix]"
    return (fault(source, ("cement", "name"), written(table.name), want, hint),)


def _with_length_tables(data: dict[str, Any]) -> dict[str, Any]:
    """The same data with every stock length as a table: ``"8 ft"`` becomes ``{length = "8 ft"}``."""
    rows = {key: data[key] for key in ("stick", "pipe", "tube") if isinstance(data.get(key), list)}
    return {**data, **{key: [_stick_row(row) for row in some] for key, some in rows.items()}}


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
    faults += _repeated([mold.name for mold in molds], "owned_mold", source)
    return tuple(molds), tuple(faults)


def _repeated(names: list[str], key: str, source: Source) -> tuple[Fault, ...]:
    """Names that stand more than once under one heading."""
    twice = sorted({name for name in names if names.count(name) > 1})
    return tuple(fault(source, (key,), f'"{name}" more than once', "a name of its own") for name in twice)


def _owned_mold(row: Any, at: Path, place: Table) -> OwnedMold | tuple[Fault, ...]:
    own, shaped = split_keys(row, OwnedMoldTable)
    shape, shape_faults = named_shape(row, at, place.source)
    table = check(OwnedMoldTable, {**own, "shape": shape.name if shape else "unknown"}, replace(place, at=at))
    parameters: Keys | tuple[Fault, ...] = ()
    if shape is not None:
        also = tuple(OwnedMoldTable.model_fields)
        parameters = check(shape.parameters, shaped, replace(place, at=at, also=also))
    if shape is not None and not shape.casts:
        want = "the name of a shape that is cast in a mold"
        shape_faults += (fault(place.source, (*at, "shape"), written(shape.name), want),)
    if isinstance(table, tuple) or isinstance(parameters, tuple) or shape_faults:
        wrong = (part for part in (table, parameters) if isinstance(part, tuple))
        return (*shape_faults, *(each for part in wrong for each in part))
    return OwnedMold(table.name, table.shape, parameters)
