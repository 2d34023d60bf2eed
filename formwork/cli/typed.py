"""Quantities typed as options: read to SI, or told what would be right."""

from __future__ import annotations

import re
from collections.abc import Iterable

import click

from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem
from formwork.units.table import Kind

_CUSTOMARY = re.compile(r"(?<![A-Za-z])(in|ft|yd|gal|qt|pt|lbs?|oz|cu|pcf|F|mph)\w*\b|[\"']")


def quantity(option: str, text: str, kind: Kind, declared: UnitSystem | None = None) -> float:
    """The SI value of what was typed.

    Args:
        option: as typed, for the message.
        text: what was typed for it.
        kind: what is measured.
        declared: units of a bare number; None where it must carry its unit.

    Raises:
        click.BadParameter: with what would be right.
    """
    try:
        return read(text, kind, "mm" if kind == "ratio" and declared is None else declared)
    except QuantityError as error:
        hint = "write the unit" if error.hint.startswith("write the unit") else error.hint
        hint = f" ({hint})" if hint else ""
        raise click.BadParameter(f"got {error.got}, want {error.want}{hint}", param_hint=option) from error


def optional(option: str, text: str | None, kind: Kind, declared: UnitSystem | None = None) -> float | None:
    """The SI value of what was typed, None where nothing was.

    Args:
        option: as typed, for the message.
        text: what was typed for it.
        kind: what is measured.
        declared: units of a bare number; None where it must carry its unit.

    Raises:
        click.BadParameter: with what would be right.
    """
    return None if text is None else quantity(option, text, kind, declared)


def units_of(asked: str | None, texts: Iterable[str | None]) -> UnitSystem:
    """The units to print: those asked for, else those of what was typed.

    Args:
        asked: "in", "mm" or None.
        texts: what was typed, the telling ones first.
    """
    if asked:
        return "in" if asked == "in" else "mm"
    first = next((text for text in texts if text), "")
    return "in" if _CUSTOMARY.search(first) else "mm"
