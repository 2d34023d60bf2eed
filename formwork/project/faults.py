"""From what validation says to faults a person can act on: file and line, key, got, want, hint."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path as FilePath
from typing import Any, Literal, TypeVar, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from formwork.errors import Fault
from formwork.project.load import Source
from formwork.project.locate import Path
from formwork.record import record
from formwork.units.fields import nearest
from formwork.units.notes import FieldNote, inner_models, note_of, reading_order
from formwork.units.show import UnitSystem
from formwork.units.table import EXAMPLES
from formwork.units.wording import printable, wanted, written

M = TypeVar("M", bound=BaseModel)

_LONGEST_LIST = 12
_PLAIN_WANTS = {
    "a table": ("model_type", "model_attributes_type", "dict_type"),
    "a list, in square brackets": ("tuple_type", "list_type"),
}


@record
class Table:
    """Where a table stands and how its values are to be read.

    Attributes:
        source: the file.
        at: path of the table in it.
        units: what bare numbers mean.
        currency: sign that may stand with a price.
        also: keys that are known in this table besides its model's, for "did you mean".
        inner: keys that belong in a table further in, and how that is headed.
    """

    source: Source
    at: Path
    units: UnitSystem | None
    currency: str = ""
    also: tuple[str, ...] = ()
    inner: tuple[tuple[str, str], ...] = ()


def check(model: type[M], data: dict[str, Any], table: Table) -> M | tuple[Fault, ...]:
    """A table of a file as its model, or every fault of it.

    Args:
        model: what the table must be.
        data: the table's raw values.
        table: where it stands.
    """
    folder = str(FilePath(table.source.path).parent)
    context = {"units": table.units, "currency": table.currency, "folder": folder}
    try:
        return model.model_validate(_frozen(data), strict=True, context=context)
    except ValidationError as error:
        details = [each for each in error.errors(include_url=False) if not _only_seems_short(each)]
        faults = dict.fromkeys(_fault(model, each, table) for each in details if each["type"] != "missing")
        return (*faults, *_missing(model, details, table, tuple(faults)))


def _missing(
    model: type[BaseModel], details: list[ErrorDetails], table: Table, others: tuple[Fault, ...]
) -> tuple[Fault, ...]:
    """Faults of missing keys, less those that a misspelt key or a line that is no TOML explains."""
    if table.source.faults:
        return ()
    meant = {each.key.rpartition(".")[0] + each.hint for each in others}
    faults = (_fault(model, each, table) for each in details if each["type"] == "missing")
    return tuple(each for each in faults if _misspelt(each.key) not in meant)


def _only_seems_short(detail: ErrorDetails) -> bool:
    """A list that is long enough, but for elements that have faults of their own."""
    return detail["type"] == "too_short" and len(detail["input"]) >= detail["ctx"]["min_length"]


def _misspelt(key: str) -> str:
    table, _, name = key.rpartition(".")
    return f"{table}did you mean '{name}'?"


def fault(source: Source, path: Path, got: str, want: str, hint: str = "") -> Fault:
    """One fault of a key of a file.

    Args:
        source: the file.
        path: of the key.
        got: what stands there.
        want: what would be right.
        hint: what to try.
    """
    return Fault(source.where(path), printable(".".join(str(part) for part in path)), got, want, hint)


def unknown(source: Source, path: Path, word: object, known: Iterable[str]) -> Fault:
    """The fault of a name that is none of those known.

    Args:
        source: the file.
        path: of the key that holds the name.
        word: what stands there.
        known: the names that would be right.
    """
    names = tuple(known)
    hint = nearest(word, names) if isinstance(word, str) else ""
    return fault(source, path, written(word), one_of(names), hint)


def one_of(names: tuple[str, ...]) -> str:
    """``one of planter, slab``; the first dozen where there are more.

    Args:
        names: what would be right.
    """
    if not names:
        return "none: there are none to name"
    listed = ", ".join(names[:_LONGEST_LIST]) + (", ..." if len(names) > _LONGEST_LIST else "")
    return f"one of {listed}" if len(names) > 1 else listed


def in_order(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults without repeats in the order of their lines, file by file as they come."""
    unique = list(dict.fromkeys(faults))
    files = list(dict.fromkeys(_place(each)[0] for each in unique))
    return tuple(sorted(unique, key=lambda each: (files.index(_place(each)[0]), _place(each)[1])))


def _place(each: Fault) -> tuple[str, int]:
    name, _, line = each.where.rpartition(":")
    return (name, int(line)) if name and line.isdigit() else (each.where, 0)


def _frozen(value: Any) -> Any:
    """The same values with tuples for lists, as strict validation wants them."""
    if isinstance(value, dict):
        return {key: _frozen(inner) for key, inner in value.items()}
    return tuple(_frozen(inner) for inner in value) if isinstance(value, list) else value


def _fault(model: type[BaseModel], detail: ErrorDetails, table: Table) -> Fault:
    path = (*table.at, *_without_tags(model, detail["loc"]))
    context = detail.get("ctx", {})
    if "want" in context:
        return fault(table.source, path, context["got"], context["want"], context["hint"])
    if detail["type"] == "extra_forbidden":
        return _unknown_key(model, detail, table, path)
    if detail["type"].startswith("union_tag"):
        return _wrong_kind(model, detail, table.source, path)
    return _wrong_value(model, detail, table, path)


def _wrong_value(model: type[BaseModel], detail: ErrorDetails, table: Table, path: Path) -> Fault:
    found = _field(model, detail["loc"])
    note = note_of(str(path[-1]), found) if found is not None else None
    want = _want(note, table.units, detail)
    if detail["type"] == "missing":
        return fault(table.source, path, "nothing", want, note.meaning if note else "")
    chosen = note is not None and note.choices and isinstance(detail["input"], str)
    hint = nearest(detail["input"], note.choices) if note is not None and chosen else ""
    return fault(table.source, path, written(detail["input"]), want, hint)


def _unknown_key(model: type[BaseModel], detail: ErrorDetails, table: Table, path: Path) -> Fault:
    models = _models_at(model, detail["loc"][:-1])
    known = tuple(name for each in models for name in reading_order(each))
    if len(detail["loc"]) == 1:
        known = (*known, *table.also)
    key = str(path[-1])
    head = dict(table.inner).get(key) if len(detail["loc"]) == 1 else None
    hint = f"write {head}, below the piece it is for" if head else nearest(key, known)
    return fault(table.source, path, "an unknown key", one_of(known), hint)


def _wrong_kind(model: type[BaseModel], detail: ErrorDetails, source: Source, path: Path) -> Fault:
    """The fault of a table in a list of several kinds that names none of them."""
    key = str(detail["ctx"]["discriminator"]).strip("'")
    known = tuple(
        str(word)
        for each in _models_at(model, detail["loc"])
        if key in each.model_fields
        for word in get_args(each.model_fields[key].annotation)
    )
    if key not in detail["input"]:
        return fault(source, (*path, key), "nothing", one_of(known), f"{key} says which keys the table has")
    return unknown(source, (*path, key), detail["input"][key], known)


def _want(note: FieldNote | None, units: UnitSystem | None, detail: ErrorDetails) -> str:
    for want, kinds in _PLAIN_WANTS.items():
        if detail["type"] in kinds:
            return want
    if detail["type"] == "too_short":
        return f"a list of at least {detail['ctx']['min_length']}"
    if note is None or detail["type"] in ("value_error", "assertion_error"):
        return detail["msg"].removeprefix("Value error, ").removeprefix("Assertion failed, ")
    return _want_of_field(note, units)


def _want_of_field(note: FieldNote, units: UnitSystem | None) -> str:
    for kind in EXAMPLES:
        if note.kind == kind:
            return note.range_text(units) if units else wanted(kind, None)
    if note.choices:
        return one_of(note.choices)
    limits = note.range_text("mm")
    plain = {
        "yes or no": limits,
        "money": "an amount such as 42.50",
        "table": "a table",
        "text": "a text, in quotes",
    }
    return plain.get(note.kind) or (f"a {note.kind} from {limits}" if limits else f"a {note.kind}")


def _without_tags(model: type[BaseModel], loc: tuple[int | str, ...]) -> Path:
    """The path of an error in the file: without the names of union members that validation puts in."""
    path: Path = ()
    models: tuple[type[BaseModel], ...] = (model,)
    for step, part in enumerate(loc):
        inner = _step(models, part)
        last = step == len(loc) - 1
        if isinstance(part, int) or _known(models, part) is not None or (last and inner is models):
            path = (*path, part)
        models = inner
    return path


def _models_at(model: type[BaseModel], loc: tuple[int | str, ...]) -> tuple[type[BaseModel], ...]:
    models: tuple[type[BaseModel], ...] = (model,)
    for part in loc:
        models = _step(models, part)
    return models


def _field(model: type[BaseModel], loc: tuple[int | str, ...]) -> FieldInfo | None:
    names = [place for place, part in enumerate(loc) if isinstance(part, str)]
    if not names:
        return None
    return _known(_models_at(model, loc[: names[-1]]), str(loc[names[-1]]))


def _known(models: tuple[type[BaseModel], ...], name: str | int) -> FieldInfo | None:
    return next((each.model_fields[name] for each in models if name in each.model_fields), None)


def _step(models: tuple[type[BaseModel], ...], part: int | str) -> tuple[type[BaseModel], ...]:
    """The models one step further: into a field, or to the member of a union that a tag names."""
    if isinstance(part, int):
        return models
    found = _known(models, part)
    if found is not None:
        return tuple(inner_models(found.annotation))
    tagged = tuple(each for each in models if part in _tags(each))
    return tagged or models


def _tags(model: type[BaseModel]) -> tuple[str, ...]:
    return tuple(
        str(word)
        for each in model.model_fields.values()
        if get_origin(each.annotation) is Literal
        for word in get_args(each.annotation)
    )
