"""What is typed for an entry of the log: to SI values by column."""

from __future__ import annotations

from collections.abc import Mapping

import click

from formwork.cli.typed import quantity
from formwork.pour.log.kinds import EntryKind, Field, Value
from formwork.pour.weather import wind
from formwork.units.numbers import number as exact
from formwork.units.parse import QuantityError
from formwork.units.show import UnitSystem


def values(kind: EntryKind, typed: Mapping[str, str | None], declared: UnitSystem | None) -> dict[str, Value]:
    """The values that were typed, by column.

    Args:
        kind: of the entry.
        typed: the options, as typed, by their names.
        declared: units of bare numbers; None where each must carry its own.

    Raises:
        click.BadParameter: for one that cannot be read.
    """
    given = ((field, typed.get(field.name.replace("-", "_"))) for field in kind.fields)
    return {field.column: _value(field, text, declared) for field, text in given if text is not None}


def number(option: str, text: str) -> int:
    """A whole number from 1.

    Args:
        option: as typed, for the message.
        text: what was typed for it.

    Raises:
        click.BadParameter: for any other.
    """
    if not (text.isascii() and text.isdecimal() and int(text[:12]) > 0 and len(text) <= 12):
        raise click.BadParameter(f"got '{text}', want a whole number from 1", param_hint=option)
    return int(text)


def _value(field: Field, text: str, declared: UnitSystem | None) -> Value:
    option = f"--{field.name}"
    match field.sort:
        case "text" | "choice":
            return text
        case "number" | "speed":
            try:
                return wind(text) if field.sort == "speed" else float(exact(text))
            except (QuantityError, ZeroDivisionError) as error:
                raise click.BadParameter(str(error), param_hint=option) from error
        case kind:
            return quantity(option, text, kind, declared)
