"""The mix that a project asks for: from its ``[mix]`` table to what the solver takes."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from formwork.errors import Fault, RangeError
from formwork.mix.limits import bagged_mix
from formwork.mix.records import BaggedWanted, CellularWanted, Ingredient, OrdinaryWanted, Vibrated, Wanted
from formwork.project.faults import Table, check, fault, one_of
from formwork.project.load import Source
from formwork.project.tables import BaggedTable, CellularTable, OrdinaryTable, PlacedTable
from formwork.shapes.register import register
from formwork.units.fields import nearest
from formwork.units.wording import written

_KINDS = ("cellular", "ordinary", "bagged")
_WATER = 1000.0
"""kg/m3: bags say a volume of water, the mix takes its mass."""
_DENSITIES = ("wet_density", "dry_density", "aim_class", "aim_strength", "aim_conductivity")
"""The keys that the density of a cellular mix follows from, one of which is given."""


def mix_wanted(source: Source, place: Table) -> Wanted | tuple[Fault, ...] | None:
    """The mix of a project file, or its faults; None where the file only builds what is not cast.

    Args:
        source: the file.
        place: its top table.
    """
    data = source.data.get("mix")
    if data is None and _only_built(source):
        return None
    if data is None:
        want = "a [mix] table with wet_density or dry_density"
        return () if source.faults else (fault(source, ("mix",), "nothing", want),)
    if not isinstance(data, dict):
        return (fault(source, ("mix",), written(data), "a table: [mix]"),)
    return _of_kind(data, data.get("kind", "cellular"), replace(place, at=("mix",), also=()))


def _of_kind(data: dict[str, Any], kind: object, at: Table) -> Wanted | tuple[Fault, ...]:
    match kind:
        case "cellular":
            return _cellular(data, at)
        case "ordinary":
            return _ordinary(data, at)
        case "bagged":
            return _bagged(data, at)
    hint = nearest(kind, _KINDS) if isinstance(kind, str) else ""
    return (fault(at.source, ("mix", "kind"), written(kind), one_of(_KINDS), hint),)


def _only_built(source: Source) -> bool:
    """Every shape that the file names is known and is built, none is cast: such a project needs no mix."""
    rows = source.data.get("piece")
    names = [row.get("shape") for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []
    shapes = [register().get(name) if isinstance(name, str) else None for name in names]
    return bool(shapes) and all(shape is not None and not shape.casts for shape in shapes)


def _cellular(data: dict[str, Any], at: Table) -> CellularWanted | tuple[Fault, ...]:
    table = check(CellularTable, data, at)
    given = [key for key in _DENSITIES if key in data]
    faults = table if isinstance(table, tuple) else ()
    if len(given) != 1 and not at.source.faults:
        got = f"both {given[0]} and {given[1]}" if given else "no density"
        faults += (fault(at.source, ("mix", *given[1:2]), got, f"one of {', '.join(_DENSITIES)}"),)
    if isinstance(table, tuple):
        return faults
    faults += _misnamed(table, at.source)
    wanted = CellularWanted(
        wet_density=table.wet_density,
        dry_density=table.dry_density,
        water_cement=table.water_cement,
        sand=table.sand,
        ash=table.ash,
        sand_gravity=table.sand_gravity,
        ash_gravity=table.ash_gravity,
        others=tuple(Ingredient(row.name, row.share, row.gravity, row.counts) for row in table.ingredient),
        fibres=table.fibres,
        fibre_gravity=table.fibre_gravity,
    )
    if faults or not given[0].startswith("aim_"):
        return faults or wanted
    return _aimed(wanted, table, given[0], at.source)


def _misnamed(table: CellularTable, source: Source) -> tuple[Fault, ...]:
    """Ingredients that are ready-bagged mixes, and names that stand twice."""
    names = [row.name for row in table.ingredient]
    want = (
        "a powder or an admixture (a ready-bagged mix holds sand or gravel, which sinks and breaks the foam)"
    )
    return tuple(
        fault(
            source,
            ("mix", "ingredient", index, "name"),
            written(name) if bagged_mix(name) else f"{written(name)} again",
            want if bagged_mix(name) else "a name of its own for each ingredient",
        )
        for index, name in enumerate(names)
        if bagged_mix(name) or name in names[:index]
    )


def _aimed(
    wanted: CellularWanted, table: CellularTable, key: str, source: Source
) -> CellularWanted | tuple[Fault, ...]:
    """The mix with the density of the published class that it aims at."""
    from formwork.mix import aims  # noqa: PLC0415 - only where a class is aimed at

    try:
        match key:
            case "aim_class":
                found = aims.class_named(table.aim_class or "")
            case "aim_strength":
                found = aims.class_of_strength(table.aim_strength or 0.0)
            case _:
                found = aims.class_of_conductivity(table.aim_conductivity or 0.0)
    except RangeError as error:
        got, _, want = str(error).removeprefix("got ").partition(", want ")
        return (fault(source, ("mix", key), got, want),)
    if found.basis == "wet":
        return replace(wanted, aim=found.said(), wet_density=found.density)
    return replace(wanted, aim=found.said(), dry_density=found.density)


def _ordinary(data: dict[str, Any], at: Table) -> OrdinaryWanted | tuple[Fault, ...]:
    table = check(OrdinaryTable, data, at)
    if isinstance(table, tuple):
        return table
    vibrated = _vibrated(table, at.source)
    if isinstance(vibrated, tuple):
        return vibrated
    return OrdinaryWanted(table.wet_density, table.cement, table.water, table.sand, table.gravel, vibrated)


def _bagged(data: dict[str, Any], at: Table) -> BaggedWanted | tuple[Fault, ...]:
    table = check(BaggedTable, data, at)
    if isinstance(table, tuple):
        return table
    vibrated = _vibrated(table, at.source)
    if isinstance(vibrated, tuple):
        return vibrated
    return BaggedWanted(table.name, table.bag, _WATER * table.water, table.yields, vibrated, table.price)


def _vibrated(table: PlacedTable, source: Source) -> Vibrated | tuple[Fault, ...] | None:
    """How it is placed, once all is said that its pressure follows from; nothing where nothing is said."""
    asked = ("rise_per_hour", "placed_at", "slump")
    said = [key for key in (*asked, "setting") if key in table.model_fields_set]
    if not said:
        return None
    if table.rise_per_hour is None or table.placed_at is None or table.slump is None:
        missing = [key for key in asked if getattr(table, key) is None]
        want = f"{' and '.join(missing)} as well, for the pressure of concrete that stiffens while the forms fill"
        return (fault(source, ("mix", said[0]), "this alone", want),)
    return Vibrated(table.rise_per_hour / 3600.0, table.placed_at, table.slump, table.setting)
