"""What a person must know of a model's keys: for the list of shapes, starter files and messages."""

from __future__ import annotations

import math
import types
from dataclasses import replace
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from formwork.record import record
from formwork.units import show
from formwork.units.fields import Money, Number, Quantity, Text, Whole
from formwork.units.table import EXAMPLES, Kind

_Sort = tuple[str, float | None, float | None, tuple[str, ...]]
"""Kind, least, most and choices of a field."""


@record
class FieldNote:
    """What a person must know of one key.

    Attributes:
        key: as written in the file; keys of a sub-table with dots.
        kind: what is measured, or "whole number", "number", "choice", "yes or no", "text", "list", "money", "table".
        least: smallest value allowed (SI for a quantity); None where there is no range.
        most: largest value allowed.
        choices: the words allowed, for a choice.
        required: the key must be there.
        default: what holds without it (SI for a quantity); None where the key is required or nothing holds.
        meaning: one line.
    """

    key: str
    kind: str
    least: float | None
    most: float | None
    choices: tuple[str, ...]
    required: bool
    default: object
    meaning: str

    def range_text(self, units: show.UnitSystem) -> str:
        """What is allowed, as a person reads it: ``25 to 150 mm``, ``1 to 12``, ``long or short``."""
        if self.choices:
            return " or ".join(self.choices)
        if self.least is None or self.most is None:
            return {"yes or no": "true or false"}.get(self.kind, "")
        if self.kind in ("whole number", "number"):
            return f"{show.plain(self.least, 3)} to {show.plain(self.most, 3)}"
        return show.span(self.least, self.most, _kind(self.kind), units)

    def default_text(self, units: show.UnitSystem) -> str:
        """What holds without the key, as it would be written in the file; empty where nothing does."""
        if self.required or self.default is None:
            return ""
        if isinstance(self.default, bool):
            return "true" if self.default else "false"
        if isinstance(self.default, int | float) and self.kind in EXAMPLES:
            return f'"{_exactly(self.default, _kind(self.kind), units)}"'
        return f'"{self.default}"' if isinstance(self.default, str) else str(self.default)


def describe(model: type[BaseModel]) -> tuple[FieldNote, ...]:
    """Every key of a model with its kind, range, default and meaning, its own keys before inherited ones.

    Args:
        model: a shape's parameters, or any other model whose fields are annotated from this module.
    """
    notes: list[FieldNote] = []
    for name in reading_order(model):
        field = model.model_fields[name]
        inner = inner_models(field.annotation)
        notes.append(note_of(name, field))
        notes += [replace(note, key=f"{name}.{note.key}") for part in inner for note in describe(part)]
    return tuple(notes)


def _exactly(value: float, kind: Kind, units: show.UnitSystem) -> str:
    """A default as a person may write it, in the other units where these have no sixteenth for it."""
    if kind == "angle":
        return f"{math.degrees(value):.4g} deg"
    text = show.quantity(value, kind, units)
    if kind == "length" and "(" in show.length(value, units, exact=True):
        return show.length(value, "mm")
    return text


def _kind(name: str) -> Kind:
    return next(kind for kind in EXAMPLES if kind == name)


def reading_order(model: type[BaseModel]) -> list[str]:
    """The keys of a model as a person should read them: its own before those it shares with others.

    Args:
        model: any.
    """
    inherited = {
        name for parent in model.__bases__ if issubclass(parent, BaseModel) for name in parent.model_fields
    }
    return sorted(model.model_fields, key=lambda name: name in inherited)


def inner_models(annotation: Any) -> list[type[BaseModel]]:
    """The models inside an annotation: of a sub-table, or of each kind of table a list may hold.

    Args:
        annotation: a field's.
    """
    if isinstance(annotation, type) and not get_origin(annotation):
        return [annotation] if issubclass(annotation, BaseModel) else []
    return [inner for part in get_args(annotation) for inner in inner_models(part)]


def _marks(field: FieldInfo) -> list[Any]:
    """The annotations of a field, those inside ``X | None`` among them."""
    marks = list(field.metadata)
    if get_origin(field.annotation) in (Union, types.UnionType):
        for part in get_args(field.annotation):
            marks += getattr(part, "__metadata__", ())
    return marks


def _bare_types(annotation: Any) -> list[Any]:
    if get_origin(annotation) in (Union, types.UnionType):
        return [kind for part in get_args(annotation) for kind in _bare_types(part) if kind is not type(None)]
    if get_origin(annotation) is Annotated:
        return _bare_types(get_args(annotation)[0])
    return [annotation]


def note_of(key: str, field: FieldInfo) -> FieldNote:
    """What a person must know of one field of a model.

    Args:
        key: the field's name.
        field: as pydantic keeps it.
    """
    required = field.is_required()
    default = None if required or field.default is PydanticUndefined else field.default
    kind, least, most, choices = ("table", None, None, ()) if inner_models(field.annotation) else _sort(field)
    return FieldNote(key, kind, least, most, choices, required, default, field.description or "")


def _sort(field: FieldInfo) -> _Sort:
    marked = [sort for mark in _marks(field) if (sort := _sort_of_mark(mark)) is not None]
    return marked[0] if marked else _sort_of_type(field)


def _sort_of_mark(mark: object) -> _Sort | None:
    match mark:
        case Quantity():
            return mark.kind, mark.least, mark.most, ()
        case Whole():
            return "whole number", mark.least, mark.most, ()
        case Number():
            return "number", mark.least, mark.most, ()
        case Text():
            return "text", None, None, ()
        case Money():
            return "money", None, None, ()
        case _:
            return None


def _sort_of_type(field: FieldInfo) -> _Sort:
    kinds = _bare_types(field.annotation)
    words = tuple(str(word) for kind in kinds if get_origin(kind) is Literal for word in get_args(kind))
    if words:
        return "choice", None, None, words
    if bool in kinds:
        return "yes or no", None, None, ()
    if int in kinds or float in kinds:
        name = "whole number" if int in kinds else "number"
        return name, _bound(field, "ge"), _bound(field, "le"), ()
    listed = any(get_origin(kind) is tuple for kind in kinds)
    return "list" if listed else "text", None, None, ()


def _bound(field: FieldInfo, name: str) -> float | None:
    marks = [inner for mark in _marks(field) for inner in getattr(mark, "metadata", (mark,))]
    return next((getattr(mark, name) for mark in marks if hasattr(mark, name)), None)
