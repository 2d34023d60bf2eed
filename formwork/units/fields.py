"""Fields of the models that files are checked with: a quantity or a whole number that says what it wants.

A shape writes ``wall: Annotated[float, quantity("length", 0.015, 0.3)] = Field(default=0.05, ...)``.
The field then reads ``"2 in"``, ``50`` (in the units the file declares) or, from Python, plain SI floats; it
checks the range and speaks the person's units when something is wrong.

What a bare number means comes with the validation context, ``{"units": "in" | "mm" | None}``; without any
context the caller is the program itself and bare numbers are SI.

Pydantic's own errors were rejected for these fields: they know neither the unit written nor the one meant.
"""

from __future__ import annotations

from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from formwork.record import record
from formwork.units import show
from formwork.units.numbers import number_part
from formwork.units.parse import read, read_money
from formwork.units.table import BARE, EXAMPLES, Declared, Kind
from formwork.units.wording import QuantityError, written

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


@record
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


@record
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
            raise _fault("whole", written(typed), want, _unquoted(typed))
        if not self.least <= typed <= self.most:
            raise _fault("range", written(typed), want, "")
        return typed

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


@record
class Number:
    """A number without a unit, with its range, to annotate a float field with; made by ``number``."""

    least: float
    most: float

    def check(self, typed: object) -> float:
        """The number itself.

        Raises:
            PydanticCustomError: with got, want and hint, if it is not a number or out of range.
        """
        want = f"a number from {show.plain(self.least, 3)} to {show.plain(self.most, 3)}"
        if isinstance(typed, bool) or not isinstance(typed, int | float):
            raise _fault("number", written(typed), want, _unquoted(typed))
        if not self.least <= typed <= self.most:
            raise _fault("range", written(typed), want, "")
        return float(typed)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "number", "minimum": self.least, "maximum": self.most}


@record
class Text:
    """A line of text with its greatest length, to annotate a str field with; made by ``text``."""

    longest: int

    def check(self, typed: object) -> str:
        """The text without spaces round it.

        Raises:
            PydanticCustomError: with got, want and hint, if it is no text, empty, too long or not one line.
        """
        want = f"a text of 1 to {self.longest} letters on one line, in quotes"
        if not isinstance(typed, str):
            raise _fault("text", written(typed), want, "")
        tidy = typed.strip()
        if not tidy or len(tidy) > self.longest or not tidy.isprintable():
            raise _fault("text", written(typed), want, "")
        return tidy

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "minLength": 1, "maxLength": self.longest}


@record
class Money:
    """A price, to annotate a float field with: ``42.5``, ``"$42.50"`` or ``"42.50 EUR"``."""

    most: float = 1e6

    def check(self, typed: object, info: core_schema.ValidationInfo) -> float:
        """The amount, in the currency of the file (``currency`` in the validation context).

        Raises:
            PydanticCustomError: with got, want and hint, if it is no amount of that currency or out of range.
        """
        currency = (info.context or {}).get("currency", "")
        try:
            amount = read_money(typed, currency)
        except QuantityError as error:
            raise _fault("money", error.got, error.want, error.hint) from error
        if not 0.0 <= amount <= self.most:
            raise _fault("range", written(typed), f"a price from 0 to {self.most:,.0f}", "")
        return amount

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        amount = {"type": "number", "minimum": 0, "maximum": self.most}
        return {"anyOf": [amount, {"type": "string", "pattern": r"\d", "examples": ["$42.50", "42.50 EUR"]}]}


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


def number(least: float, most: float) -> Number:
    """A plain number field's annotation.

    Args:
        least: smallest number allowed.
        most: largest number allowed.

    Raises:
        ValueError: if the range is empty.
    """
    if not least <= most:
        raise ValueError(f"least {least} is above most {most}")
    return Number(least, most)


def text(longest: int) -> Text:
    """A text field's annotation.

    Args:
        longest: most letters allowed.
    """
    return Text(longest)


def nearest(word: str, known: tuple[str, ...]) -> str:
    """The known word a person may have meant, as ``did you mean 'planter'?``; empty where none is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - only for a message

    near = get_close_matches(word.casefold(), [name.casefold() for name in known], n=1, cutoff=0.6)
    return next((f"did you mean '{name}'?" for name in known if near and name.casefold() == near[0]), "")


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


def _unquoted(typed: object) -> str:
    looks_right = isinstance(typed, str) and typed.strip().replace(".", "", 1).isdigit()
    return "write it without quotes" if looks_right else ""
