"""The limits a formula is valid in, held: outside them a RangeError that says name, got and want."""

from __future__ import annotations

from math import isfinite

from formwork.errors import RangeError


def within(name: str, value: float, low: float, high: float, unit: str) -> None:
    """Refuse a value outside the closed range ``low`` to ``high``.

    Args:
        name: what it is called in the formula's docstring.
        value: the value, in ``unit``.
        low: least value, in ``unit``.
        high: greatest value, in ``unit``.
        unit: as printed in the message.

    Raises:
        RangeError: the value is not a number in the range.

    >>> within("slump", 0.3, 0.0, 0.178, "m")
    Traceback (most recent call last):
    formwork.errors.RangeError: slump: got 0.3 m, want 0 to 0.178 m
    """
    if not low <= value <= high:
        raise RangeError(f"{name}: got {value:g} {unit}, want {low:g} to {high:g} {unit}".replace("  ", " "))


def positive(name: str, value: float, unit: str) -> None:
    """Refuse a value that is not a finite number above zero.

    Args:
        name: what it is called in the formula's docstring.
        value: the value, in ``unit``.
        unit: as printed in the message.

    Raises:
        RangeError: the value is zero, negative, infinite or not a number.

    >>> positive("span", -1.0, "m")
    Traceback (most recent call last):
    formwork.errors.RangeError: span: got -1 m, want more than 0 m
    """
    if not (value > 0.0 and isfinite(value)):
        raise RangeError(f"{name}: got {value:g} {unit}, want more than 0 {unit}")


def not_negative(name: str, value: float, unit: str) -> None:
    """Refuse a value that is not a finite number of zero or more.

    Args:
        name: what it is called in the formula's docstring.
        value: the value, in ``unit``.
        unit: as printed in the message.

    Raises:
        RangeError: the value is negative, infinite or not a number.

    >>> not_negative("depth", 0.0, "m")
    """
    if not (value >= 0.0 and isfinite(value)):
        raise RangeError(f"{name}: got {value:g} {unit}, want 0 {unit} or more")
