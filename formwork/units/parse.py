"""From what a person types to an SI float: our own numbers, the shipped table's units, pint's for the rest.

The number is always read here, as an exact Fraction, because general unit libraries misread what a shop
writes (``23 1/2 in`` as 23 x 1/2, ``2 ft 6 in`` as a product, ``1,5 m`` as 15 m). Only the unit's name ever
reaches pint.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction

from formwork.record import record
from formwork.units import numbers
from formwork.units.names import pint_factor, unit_hint, unit_name
from formwork.units.numbers import NEXT_NUMBER, NUMBER, tidy
from formwork.units.table import BARE, SI_UNIT, ZERO, Declared, Kind, find, kinds_of
from formwork.units.wording import KIND_NAMES, LONGEST, QuantityError, wanted, written

__all__ = ["QuantityError", "read", "read_money"]

GREATEST = 1e12
"""No quantity of this trade, in SI, is as large as this."""

_SMALLER = {"ft": ("in", 12), "lb": ("oz", 16)}
"""The unit that may follow a whole number of another, and how many of it make one."""


@record
class _Asked:
    """One question: what was typed, what it is to measure, and what a bare number means."""

    typed: object
    kind: Kind
    declared: Declared | None

    @property
    def bare_unit(self) -> str | None:
        return BARE[self.declared].get(self.kind) if self.declared else None

    def refuse(self, hint: str = "") -> QuantityError:
        return QuantityError(written(self.typed), wanted(self.kind, self.declared), hint)

    def refuse_bare(self) -> QuantityError:
        if self.declared is None:
            return self.refuse('write the unit, or declare units = "in" or "mm" at the top of the file')
        return self.refuse(f"a bare number says too little for {KIND_NAMES[self.kind]}: write the unit")


def read(typed: object, kind: Kind, declared: Declared | None) -> float:
    """The SI value of a quantity as a person types it.

    Args:
        typed: a text such as ``2'-6 1/2"`` or ``30 lb/ft3``, or a bare number.
        kind: what is measured.
        declared: what a bare number means; None where nothing says so, and then a bare number is refused.

    Returns:
        The value in m, m2, m3, kg, kg/m3, K, m3/s, Pa, N, rad, s or as a plain fraction.

    Raises:
        QuantityError: if it cannot be read, is not finite, or is absurdly large.

    >>> read("23 1/2 in", "length", None)
    0.5969
    >>> read(600, "length", "mm")
    0.6
    """
    asked = _Asked(typed, kind, declared)
    match typed:
        case bool():
            raise asked.refuse()
        case int() | float():
            value = _bare(typed, asked)
        case str():
            value = _text(tidy(typed), asked)
        case _:
            raise asked.refuse()
    if abs(value) > GREATEST:
        raise asked.refuse("no mold needs a number of that size")
    return value


def read_money(typed: object, currency: str) -> float:
    """An amount of money: a bare number, or one with the currency's sign before it or behind it.

    Args:
        typed: ``42.5``, ``"$42.50"``, ``"42.50 EUR"`` or ``"1,250.00"``.
        currency: the sign or code that may stand there.

    Raises:
        QuantityError: if it cannot be read, is not finite, or is in another currency.

    >>> read_money("$1,250.50", "$")
    1250.5
    """
    want = f'an amount such as 42.50 or "{currency}42.50"' if currency else "an amount such as 42.50"
    if isinstance(typed, bool) or not isinstance(typed, str | int | float):
        raise QuantityError(written(typed), want)
    if not isinstance(typed, str):
        if not abs(typed) <= GREATEST:
            raise QuantityError(written(typed), want)
        return float(typed)
    amount = typed.strip()
    if currency:
        amount = amount.removeprefix(currency).removesuffix(currency).strip()
    if not re.fullmatch(r"\d{1,12}(\.\d{1,4})?|\d{1,3}(,\d{3}){1,3}(\.\d{1,4})?", amount):
        hint = f"amounts here are in {currency}" if currency and amount[:1].isdigit() else ""
        raise QuantityError(written(typed), want, hint)
    return float(amount.replace(",", ""))


def _bare(typed: float, asked: _Asked) -> float:
    if isinstance(typed, float) and not math.isfinite(typed):
        raise asked.refuse()
    if asked.bare_unit is None:
        raise asked.refuse_bare()
    if abs(typed) > GREATEST * 10**6:
        raise asked.refuse("no mold needs a number of that size")
    return _scaled(Fraction(str(typed)), asked.bare_unit, asked)


def _text(text: str, asked: _Asked) -> float:
    first = NUMBER.match(text) if len(text) <= LONGEST else None
    if first is None:
        raise asked.refuse(_number_hint(text))
    rest = text[first.end() :].strip()
    if any(mark in rest for mark in ",;"):
        raise asked.refuse("write a decimal point, and no comma between thousands")
    try:
        value = numbers.value(first)
    except ZeroDivisionError:
        raise asked.refuse("a fraction cannot have nought below its line") from None
    if rest:
        return _with_unit(value, rest, first["sign"] == "-", asked)
    if asked.bare_unit is None:
        raise asked.refuse_bare()
    return _scaled(value, asked.bare_unit, asked)


def _number_hint(text: str) -> str:
    if not text or len(text) > LONGEST or text.lower().lstrip("+-") in ("nan", "inf", "infinity"):
        return ""
    return "the number comes first" if any(sign.isdigit() for sign in text) else "there is no number in it"


def _with_unit(value: Fraction, rest: str, negative: bool, asked: _Asked) -> float:
    second = NEXT_NUMBER.search(rest)
    if second is None or second.start() == 0:
        return _scaled(value, unit_name(rest), asked)
    unit, more = rest[: second.start()], rest[second.start() :]
    whole, name = _compound(abs(value), unit_name(unit), more.removeprefix("-").strip(), asked)
    return _scaled(-whole if negative else whole, name, asked)


def _compound(value: Fraction, unit: str, more: str, asked: _Asked) -> tuple[Fraction, str]:
    """Feet and inches, or pounds and ounces, as a number of the smaller unit."""
    row = find(unit, asked.kind)
    larger = row[0] if row else ""
    second = NUMBER.match(more)
    if larger not in _SMALLER or second is None or second["sign"] or value.denominator != 1:
        raise asked.refuse("only whole feet with inches, or whole pounds with ounces, go together")
    name, limit = _SMALLER[larger]
    found = find(unit_name(more[second.end() :]), asked.kind)
    if found is None or found[0] != name:
        raise asked.refuse(f"after {larger} comes {name}: write the unit of both numbers")
    try:
        part = numbers.value(second)
    except ZeroDivisionError:
        raise asked.refuse("a fraction cannot have nought below its line") from None
    if part >= limit:
        raise asked.refuse(f"after {larger} comes less than {limit} {name}")
    return limit * value + part, name


def _scaled(value: Fraction, unit: str, asked: _Asked) -> float:
    row = (unit, Fraction(1)) if not unit and asked.kind == "ratio" else find(unit, asked.kind)
    if row is None:
        row = unit, _factor_beyond_table(unit, asked)
    zero = ZERO.get(row[0], Fraction(0)) if asked.kind == "temperature" else Fraction(0)
    try:
        return float(value * row[1] + zero)
    except OverflowError:
        raise asked.refuse("no mold needs a number of that size") from None


def _factor_beyond_table(unit: str, asked: _Asked) -> Fraction:
    others = kinds_of(unit)
    if others:
        raise asked.refuse(f"{unit} measures {KIND_NAMES[others[0]]}")
    factor = None if asked.kind == "temperature" else pint_factor(unit, SI_UNIT[asked.kind])
    if factor is None:
        raise asked.refuse(unit_hint(unit, asked.kind))
    return Fraction(factor)
