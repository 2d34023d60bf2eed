"""Fields of the models that files are checked with: a quantity or a whole number that says what it wants.

A shape writes ``wall: Annotated[float, quantity("length", 0.015, 0.3)] = Field(default=0.05, ...)``.
The field then reads ``"2 in"``, ``50`` (in the units the file declares) or, from Python, plain SI floats; it
checks the range and speaks the person's units when something is wrong.

What a bare number means comes with the validation context, ``{"units": "in" | "mm" | None}``; without any
context the caller is the program itself and bare numbers are SI.

Pydantic's own errors were rejected for these fields: they know neither the unit written nor the one meant.
"""

from __future__ import annotations

import types
from dataclasses import dataclass, replace
from typing import Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, PydanticCustomError, PydanticUndefined, core_schema

from formwork.units import show
from formwork.units.parse import QuantityError, number_part, read, wanted, written
from formwork.units.table import BARE, EXAMPLES, Declared, Kind

COMMON: dict[Kind, tuple[str, ...]] = {
    "length": ("in", "mm", "cm", "ft", "m"),
    "area": ("ft2", "m2"),
    "volume": ("ft3", "gal", "L", "m3"),
    "mass": ("lb", "kg", "oz", "g"),
    "density": ("lb/ft3", "kg/m3", "kg/L"),
    "temperature": ("F", "C"),
    "flow": ("ft3/min", "L/min"),
    "ratio": ("%",),
}
"""Units a person may have meant, in the order in which they are asked about."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity with its range, to annotate a float field with; made by ``quantity``.

    Attributes:
        kind: what is measured.
        least: smallest value allowed, SI.
        most: largest value allowed, SI.
    """

    kind: Kind
    least: float
    most: float

    def check(self, typed: object, info: core_schema.ValidationInfo) -> float:
        """The SI value of what was typed.

        Raises:
            PydanticCustomError: with got, want and hint, if it cannot be read or is out of range.
        """
        declared = _declared(info)
        try:
            value = read(typed, self.kind, declared)
        except QuantityError as error:
            raise _fault("quantity", error.got, error.want, error.hint) from error
        if self.least <= value <= self.most:
            return value
        raise _fault(
            "range", _as_meant(typed, self.kind, declared), self.range(declared), self.asked(typed, declared)
        )

    def range(self, declared: Declared | None) -> str:
        """The range in the person's units; in both where none is declared."""
        if declared in ("in", "mm"):
            return show.span(self.least, self.most, self.kind, declared)
        both = [show.span(self.least, self.most, self.kind, units) for units in ("in", "mm")]
        return both[0] if both[0] == both[1] else f"{both[0]} ({both[1]})"

    def asked(self, typed: object, declared: Declared | None) -> str:
        """The question to ask where the same number would be in range in another unit; else empty."""
        part = number_part(typed)
        units = COMMON.get(self.kind, ()) if part else ()
        fitting = [f"{part} {unit}" for unit in units if self._fits(part, unit)]
        if not fitting:
            return ""
        unit_missing = isinstance(typed, int | float) or part == typed
        return f"did you mean {' or '.join(fitting[:2])}?" + (" write the unit" if unit_missing else "")

    def _fits(self, number: str, unit: str) -> bool:
        try:
            return self.least <= read(f"{number} {unit}", self.kind, None) <= self.most
        except QuantityError:
            return False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        text = {"type": "string", "pattern": r"\d|[¼½¾⅛⅜⅝⅞]", "examples": list(EXAMPLES[self.kind])}
        if self.kind in BARE["mm"]:
            return {"anyOf": [{"type": "number"}, text]}
        return text


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number with its range, to annotate an int field with; made by ``whole``."""

    least: int
    most: int

    def check(self, typed: object) -> int:
        """The number itself.

        Raises:
            PydanticCustomError: with got, want and hint, if it is not a whole number or out of range.
        """
        want = f"a whole number from {self.least} to {self.most}"
        if isinstance(typed, bool) or not isinstance(typed, int):
            hint = "without quotes" if isinstance(typed, str) and typed.strip().isdigit() else ""
            raise _fault("whole", written(typed), want, hint)
        if not self.least <= typed <= self.most:
            raise _fault("range", written(typed), want, "")
        return typed

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


def quantity(kind: Kind, least: float, most: float) -> Quantity:
    """A quantity field's annotation.

    Args:
        kind: what is measured.
        least: smallest value allowed, SI.
        most: largest value allowed, SI.

    Raises:
        ValueError: if the range is empty.
    """
    if not least <= most:
        raise ValueError(f"least {least} is above most {most}")
    return Quantity(kind, least, most)


def whole(least: int, most: int) -> Whole:
    """A whole-number field's annotation.

    Args:
        least: smallest number allowed.
        most: largest number allowed.

    Raises:
        ValueError: if the range is empty.
    """
    if least > most:
        raise ValueError(f"least {least} is above most {most}")
    return Whole(least, most)


def nearest(word: str, known: tuple[str, ...]) -> str:
    """The known word a person may have meant, as ``did you mean 'planter'?``; empty where none is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - only for a message

    near = get_close_matches(word.casefold(), [name.casefold() for name in known], n=1, cutoff=0.6)
    return next((f"did you mean '{name}'?" for name in known if near and name.casefold() == near[0]), "")


@dataclass(frozen=True, slots=True)
class FieldNote:
    """What a person must know of one key.

    Attributes:
        key: as written in the file; keys of a sub-table with dots.
        kind: what is measured, or "whole number", "number", "choice", "yes or no", "text", "table".
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
            return f"{self.least:g} to {self.most:g}"
        return show.span(self.least, self.most, _kind(self.kind), units)

    def default_text(self, units: show.UnitSystem) -> str:
        """What holds without the key, as it would be written in the file; empty where nothing does."""
        if self.required or self.default is None:
            return ""
        if isinstance(self.default, bool):
            return "true" if self.default else "false"
        if isinstance(self.default, int | float) and self.kind in EXAMPLES:
            return f'"{show.quantity(self.default, _kind(self.kind), units)}"'
        return f'"{self.default}"' if isinstance(self.default, str) else str(self.default)


def describe(model: type[BaseModel]) -> tuple[FieldNote, ...]:
    """Every key of a model with its kind, range, default and meaning, its own keys before inherited ones.

    Args:
        model: a shape's parameters, or any other model whose fields are annotated from this module.
    """
    notes: list[FieldNote] = []
    for name in _reading_order(model):
        field = model.model_fields[name]
        inner = _inner_models(field.annotation)
        notes.append(_note(name, field, bool(inner)))
        notes += [replace(note, key=f"{name}.{note.key}") for part in inner for note in describe(part)]
    return tuple(notes)


def _declared(info: core_schema.ValidationInfo) -> Declared | None:
    if info.context is None:
        return "SI"
    units: Declared | None = info.context.get("units")
    return units


def _fault(code: str, got: str, want: str, hint: str) -> PydanticCustomError:
    return PydanticCustomError(code, "got {got}, want {want}", {"got": got, "want": want, "hint": hint})


def _as_meant(typed: object, kind: Kind, declared: Declared | None) -> str:
    """A bare number with the unit it was given by its file, anything else as it was written."""
    unit = BARE[declared].get(kind, "") if declared else ""
    bare = isinstance(typed, int | float) and unit
    return f"{typed} {unit}" if bare else written(typed)


def _kind(name: str) -> Kind:
    return next(kind for kind in EXAMPLES if kind == name)


def _reading_order(model: type[BaseModel]) -> list[str]:
    inherited = {
        name for parent in model.__bases__ if issubclass(parent, BaseModel) for name in parent.model_fields
    }
    return sorted(model.model_fields, key=lambda name: name in inherited)


def _inner_models(annotation: Any) -> list[type[BaseModel]]:
    """The models inside an annotation: of a sub-table, or of each kind of table a list may hold."""
    if isinstance(annotation, type) and not get_origin(annotation):
        return [annotation] if issubclass(annotation, BaseModel) else []
    return [inner for part in get_args(annotation) for inner in _inner_models(part)]


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
    return [annotation]


def _note(key: str, field: FieldInfo, table: bool) -> FieldNote:
    required = field.is_required()
    default = None if required or field.default is PydanticUndefined else field.default
    kind, least, most, choices = ("table", None, None, ()) if table else _sort(field)
    return FieldNote(key, kind, least, most, choices, required, default, field.description or "")


def _sort(field: FieldInfo) -> tuple[str, float | None, float | None, tuple[str, ...]]:
    for mark in _marks(field):
        if isinstance(mark, Quantity):
            return mark.kind, mark.least, mark.most, ()
        if isinstance(mark, Whole):
            return "whole number", mark.least, mark.most, ()
    kinds = _bare_types(field.annotation)
    words = tuple(str(word) for kind in kinds if get_origin(kind) is Literal for word in get_args(kind))
    if words:
        return "choice", None, None, words
    if bool in kinds:
        return "yes or no", None, None, ()
    if int in kinds or float in kinds:
        name = "whole number" if int in kinds else "number"
        return name, _bound(field, "ge"), _bound(field, "le"), ()
    return "text", None, None, ()


def _bound(field: FieldInfo, name: str) -> float | None:
    return next((getattr(mark, name) for mark in field.metadata if hasattr(mark, name)), None)


def wanted_of(mark: Quantity | Whole, declared: Declared | None) -> str:
    """What a field wants, for a key that is missing altogether.

    Args:
        mark: the field's annotation.
        declared: what a bare number means.
    """
    if isinstance(mark, Whole):
        return f"a whole number from {mark.least} to {mark.most}"
    return f"{wanted(mark.kind, declared)}, {mark.range(declared)}"
