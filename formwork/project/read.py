"""From a project file, with its shop file, to a Project; or every fault of both at once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from formwork.errors import Fault, InputError
from formwork.mix.records import Wanted
from formwork.project.declared import declared_units, mistaken_file, named_shape, split_keys
from formwork.project.faults import Table, check, fault, in_order, unknown
from formwork.project.load import Source, load
from formwork.project.locate import Path
from formwork.project.mixes import mix_wanted
from formwork.project.records import (
    BRACING,
    COUNT_OR_HEIGHTS,
    METHODS_WITH,
    BatchRules,
    MoldOptions,
    PieceOrder,
    Project,
    Shop,
)
from formwork.project.shop import built_in
from formwork.project.tables import (
    BatchesTable,
    MoldTable,
    PieceTable,
    ProjectTable,
)
from formwork.record import record
from formwork.shapes.parameters import Keys
from formwork.shapes.shape import Shape
from formwork.units.show import UnitSystem
from formwork.units.wording import written

_APART = ("mix", "piece")
_OF_A_PIECE = (("mold", "[piece.mold]"), ("embed", "[[piece.embed]]"), ("opening", "[[piece.opening]]"))


@record
class _Order:
    """A piece as far as it could be read; without an order it only holds its place among the names."""

    at: Path
    name: str
    order: PieceOrder | None


def read_project(path: FilePath) -> Project:
    """The project of a file, with its shop.

    Args:
        path: the project file.

    Raises:
        InputError: with every fault of the file and of its shop file.
    """
    source = load(path)
    if not source.usable or mistaken_file(source, "project"):
        raise InputError(source.faults or mistaken_file(source, "project"))
    declared, faults = declared_units(source)
    place = Table(source, (), declared, also=_APART, inner=_OF_A_PIECE)
    own = {key: value for key, value in source.data.items() if key not in (*_APART, "units")}
    table = check(ProjectTable, own, place)
    mix = mix_wanted(source, place)
    orders, order_faults = _orders(source, place)
    faults += source.faults + order_faults
    faults += tuple(each for part in (table, mix) if isinstance(part, tuple) for each in part)
    faults = _unexplained(faults)
    shop, shop_faults = _shop(source, declared or "mm")
    if shop is not None:
        faults += _against_shop(orders, shop, source)
    faults = in_order((*faults, *shop_faults))
    if faults or shop is None or not isinstance(table, ProjectTable) or isinstance(mix, tuple):
        raise InputError(faults)
    return _project(path, table, declared, orders, mix, shop)


def _unexplained(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """The faults less those of a whole table that is missing because its heading is misspelt."""
    meant = {name for name in _APART for each in faults if each.hint == f"did you mean '{name}'?"}
    return tuple(each for each in faults if not (each.key in meant and each.got == "nothing"))


def _project(
    path: FilePath,
    table: ProjectTable,
    declared: UnitSystem | None,
    orders: tuple[_Order, ...],
    mix: Wanted | None,
    shop: Shop,
) -> Project:
    notes: list[str] = []
    if table.shop is None:
        notes.append("no shop file: built-in stock without prices, a usual mixer and saw")
    if declared is None:
        shown = "inches" if shop.units == "in" else "millimetres"
        notes.append(f"the project declares no units: sizes are printed in {shown}")
    return Project(
        path=str(path),
        title=table.title or path.stem,
        units=declared or shop.units,
        orders=tuple(each.order for each in orders if each.order is not None),
        mix=mix,
        batches=_batch_rules(table.batches),
        shop=shop,
        notes=tuple(notes),
    )


def _batch_rules(table: BatchesTable) -> BatchRules:
    return BatchRules(table.split, table.overfill, table.loss)


def _shop(source: Source, units: UnitSystem) -> tuple[Shop | None, tuple[Fault, ...]]:
    """The shop that the project names, beside the project file; the built-in one where it names none."""
    name = source.data.get("shop")
    if not isinstance(name, str) or not name.strip():
        return built_in(units), ()
    from formwork.project.shop_file import open_shop  # noqa: PLC0415 - models that only a shop file needs

    path = FilePath(source.path).parent / name.strip()
    shop, faults = open_shop(path, units)
    missing = [each for each in faults if each.where == str(path) and not each.key]
    if not missing:
        return shop, faults
    own_name = FilePath(source.path).name
    return None, tuple(_no_shop(source, each, name, own_name) for each in missing)


def _no_shop(source: Source, each: Fault, name: str, own_name: str) -> Fault:
    hint = "" if own_name in each.hint else each.hint
    return fault(source, ("shop",), f"{written(name)}, which is {each.got}", "a shop file", hint)


def _orders(source: Source, place: Table) -> tuple[tuple[_Order, ...], tuple[Fault, ...]]:
    rows = source.data.get("piece")
    if rows is None or rows == []:
        missing = fault(source, ("piece",), "nothing", "at least one [[piece]] table")
        return (), () if source.faults else (missing,)
    if not isinstance(rows, list):
        hint = "write two brackets on each side" if isinstance(rows, dict) else ""
        return (), (fault(source, ("piece",), written(rows), "tables headed [[piece]]", hint),)
    orders: list[_Order] = []
    faults: list[Fault] = []
    for index, row in enumerate(rows):
        order, more = _order(row, ("piece", index), place)
        orders.append(order)
        faults += more
    return tuple(orders), (*faults, *_repeated(orders, source))


def _order(row: Any, at: Path, place: Table) -> tuple[_Order, tuple[Fault, ...]]:
    own, shaped = split_keys(row, PieceTable)
    shape, shape_faults = named_shape(row, at, place.source)
    table = check(PieceTable, {**own, "shape": shape.name if shape else "unknown"}, replace(place, at=at))
    parameters: Keys | tuple[Fault, ...] = ()
    if shape is not None:
        parameters = check(
            shape.parameters, shaped, replace(place, at=at, also=tuple(PieceTable.model_fields))
        )
    faults = (
        *shape_faults,
        *(each for part in (table, parameters) if isinstance(part, tuple) for each in part),
    )
    if shape is None or isinstance(table, tuple) or isinstance(parameters, tuple):
        return _Order(at, _name_of(row), None), faults
    options, method_faults = _options(table.mold, shape, at, place.source)
    name = table.name or shape.name
    order = PieceOrder(
        name,
        shape.name,
        parameters,
        table.count,
        table.molds,
        options,
        place.source.where(at),
        table.spares if shape.casts else 0,
    )
    return _Order(at, name, order), faults + method_faults + _of_molds(own, shape, at, place.source)


def _of_molds(own: dict[str, Any], shape: Shape, at: Path, source: Source) -> tuple[Fault, ...]:
    """What is said of molds for a shape that has none."""
    if shape.casts:
        return ()
    mold = own.get("mold")
    said: dict[Path, Any] = {("molds",): own["molds"]} if "molds" in own else {}
    if isinstance(mold, dict):
        said |= {("mold", key): value for key, value in mold.items() if key != "method"}
    want = f"nothing: a {shape.name} is built, there is no mold"
    return tuple(fault(source, (*at, *key), written(value), want) for key, value in said.items())


def _options(
    table: MoldTable, shape: Shape, at: Path, source: Source
) -> tuple[MoldOptions, tuple[Fault, ...]]:
    method = table.method or shape.methods[0]
    faults = (
        () if method in shape.methods else (unknown(source, (*at, "mold", "method"), method, shape.methods),)
    )
    options = MoldOptions(
        method=method,
        joint=table.joint,
        sides=table.sides,
        base=table.base,
        sheet=table.sheet,
        stick=table.stick,
        uses=table.uses,
        owned=table.owned,
        skin=table.skin,
        tube=table.tube,
        strap=table.strap,
        ribs=table.ribs,
        edge=table.edge,
        core=table.core,
        tube_off=table.tube_off,
        core_tube=table.core_tube,
        core_out=table.core_out,
        lift=table.lift,
        design_density=table.design_density,
        **{key: getattr(table, key) for key in BRACING},
    )
    return options, faults + _of_other_methods(table, method, at, source) + _said_twice(table, at, source)


def _said_twice(table: MoldTable, at: Path, source: Source) -> tuple[Fault, ...]:
    """A number of rails, rings or straps beside their heights."""
    return tuple(
        fault(source, (*at, "mold", heights), f"both {count} and {heights}", "one of them")
        for count, heights in COUNT_OR_HEIGHTS
        if getattr(table, count) is not None and getattr(table, heights) is not None
    )


def _of_other_methods(table: MoldTable, method: str, at: Path, source: Source) -> tuple[Fault, ...]:
    """Keys that only other ways of building have a use for."""
    return tuple(
        fault(
            source,
            (*at, "mold", key),
            written(getattr(table, key)),
            f"nothing: a {method} mold has no {key}; it belongs to {' and '.join(methods)} molds",
        )
        for key, methods in METHODS_WITH.items()
        if key in table.model_fields_set and method not in methods
    )


def _name_of(row: Any) -> str:
    """What a piece that could not be read would be called; empty where not even that is known."""
    names = [row.get(key) for key in ("name", "shape")] if isinstance(row, dict) else []
    return next((name.strip() for name in names if isinstance(name, str)), "")


def _repeated(orders: list[_Order], source: Source) -> tuple[Fault, ...]:
    names = [each.name for each in orders]
    return tuple(
        fault(source, (*each.at, "name"), f"{written(each.name)} again", "a name of its own for each piece")
        for index, each in enumerate(orders)
        if each.name and each.name in names[:index]
    )


def _against_shop(orders: tuple[_Order, ...], shop: Shop, source: Source) -> tuple[Fault, ...]:
    """Names of sheets, sticks and molds that the shop does not have."""
    faults: list[Fault] = []
    for each in orders:
        if each.order is None:
            continue
        options = each.order.mold
        stock = {
            "sheet": (options.sheet, [sheet.name for sheet in shop.sheets]),
            "stick": (options.stick, [stick.name for stick in shop.sticks]),
            "skin": (options.skin, [sheet.name for sheet in shop.sheets]),
            "tube": (options.tube, [tube.name for tube in shop.tubes]),
            "strap": (options.strap, [strap.name for strap in shop.straps]),
            "core_tube": (
                options.core_tube,
                [tube.name for tube in shop.tubes] + [pipe.name for pipe in shop.pipes],
            ),
            "owned": (options.owned, [mold.name for mold in shop.owned]),
        }
        for key, (name, known) in stock.items():
            of_use = options.method in METHODS_WITH.get(key, (options.method,))
            if of_use and name is not None and name not in known:
                faults.append(unknown(source, (*each.at, "mold", key), name, dict.fromkeys(known)))
        faults += _owned_of_other_shape(each, shop, source)
    return tuple(faults)


def _owned_of_other_shape(each: _Order, shop: Shop, source: Source) -> list[Fault]:
    order = each.order
    if order is None:
        return []
    return [
        fault(
            source,
            (*each.at, "mold", "owned"),
            f'"{mold.name}", a mold for a {mold.shape}',
            f"a {order.shape} mold",
        )
        for mold in shop.owned
        if mold.name == order.mold.owned and mold.shape != order.shape
    ]
