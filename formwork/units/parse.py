"""From what a person types to an SI float: our own numbers, the shipped table's units, pint's for the rest.

The number is always read here, as an exact Fraction, because general unit libraries misread what a shop
writes (``23 1/2 in`` as 23 x 1/2, ``2 ft 6 in`` as a product, ``1,5 m`` as 15 m). Only the unit's name ever
reaches pint.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from formwork.errors import FormworkError
from formwork.units.table import BARE, EXAMPLES, SI_UNIT, TABLE, ZERO, Declared, Kind, find, kinds_of

LONGEST = 80
"""Longest text that can be a quantity; a longer one is something else."""

GREATEST = 1e12
"""No quantity of this trade, in SI, is as large as this."""

KIND_NAMES: dict[Kind, str] = {
    "length": "a length",
    "area": "an area",
    "volume": "a volume",
    "mass": "a mass",
    "density": "a density",
    "temperature": "a temperature",
    "flow": "a flow",
    "pressure": "a pressure",
    "force": "a force",
    "angle": "an angle",
    "time": "a time",
    "ratio": "a share",
}

_VULGAR = dict(
    zip(
        "¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞",
        [
            "1/4",
            "1/2",
            "3/4",
            "1/3",
            "2/3",
            "1/5",
            "2/5",
            "3/5",
            "4/5",
            "1/6",
            "5/6",
            "1/8",
            "3/8",
            "5/8",
            "7/8",
        ],
        strict=True,
    )
)

_SIGNS = str.maketrans("″”“′’‘⁄−–\u00a0\u202f\u2009²³·", "\"\"\"'''/--   23*")

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?:"
    r"(?P<whole>\d+)(?:\s*-\s*|\s+)(?P<over>\d+)\s*/\s*(?P<under>\d+)"
    r"|(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"
    r"|(?P<decimal>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)(?![\d/])"
    r")"
)
_PINT_WORD = re.compile(r"([A-Za-zµ_]+)(?:\^?(-?\d))?")
_NEXT_NUMBER = re.compile(r"(?<![\^*/A-Za-z\d])-?\s*(?=[\d.])")

_SMALLER = {"ft": ("in", 12), "lb": ("oz", 16)}
"""The unit that may follow a whole number of another, and how many of it make one."""

_SPELLINGS = (
    (r"\s*/\s*|\s+per\s+", "/"),
    (r"\b(?:cubic|cu\b\.?)\s*", "cu"),
    (r"\b(?:square|sq\b\.?)\s*", "sq"),
    (r"\b(?:fl\b\.?|fluid)\s*(?:oz|ounces?)\b", "floz"),
    (r"\b(cu|sq)(?:feet|foot)\b", r"\1ft"),
    (r"\b(cu|sq)inch(?:es)?\b", r"\1in"),
    (r"\b(cu|sq)yards?\b", r"\1yd"),
    (r"\bpounds?/", "lb/"),
    (r"\bgallons?\b", "gal"),
    (r"\.(?=$|/|\s)", ""),
)
"""How trade spellings become the table's: ``pounds per cu. ft`` is ``lb/cuft``. Compiled only when one is met."""


class QuantityError(FormworkError, ValueError):
    """A text or number that cannot be read as the quantity asked for.

    Attributes:
        got: what was typed.
        want: what would be right.
        hint: what to try; may be empty.
    """

    def __init__(self, got: str, want: str, hint: str = "") -> None:
        self.got, self.want, self.hint = got, want, hint
        super().__init__(f"got {got}, want {want}" + (f" ({hint})" if hint else ""))


@dataclass(frozen=True, slots=True)
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
            value = _text(_tidy(typed), asked)
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


def wanted(kind: Kind, declared: Declared | None) -> str:
    """What a quantity should look like: ``a length such as "23 1/2 in" or "600 mm"``.

    Args:
        kind: what is measured.
        declared: what a bare number means; None where it means nothing.
    """
    ordered = EXAMPLES[kind][::-1] if declared == "mm" else EXAMPLES[kind]
    *early, last = (f'"{example}"' for example in ordered)
    examples = f"{', '.join(early)} or {last}" if early else last
    with_unit = "" if declared and kind in BARE[declared] else " with its unit,"
    return f"{KIND_NAMES[kind]}{with_unit} such as {examples}"


def written(typed: object) -> str:
    """A value as its writer would recognise it: texts in quotes, true and false as in TOML."""
    match typed:
        case bool():
            return "true" if typed else "false"
        case str():
            return f'"{printable(typed)}"'
        case dict():
            return "a table"
        case list() | tuple():
            return f"a list of {len(typed)}"
        case int() if abs(typed) >= 10**LONGEST:
            return "a number of more than 80 digits"
        case _:
            return str(typed)


def printable(text: str) -> str:
    r"""A text fit for one line of a terminal: not too long, and control signs written out.

    >>> printable("two" + chr(10) + "lines")
    'two\\nlines'
    """
    short = text if len(text) <= LONGEST else f"{text[:LONGEST]}..."
    return "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in short)


def number_part(typed: object) -> str:
    """The number of a quantity that is one number with at most one unit, as written; empty for any other.

    >>> number_part("23 1/2 in")
    '23 1/2'
    """
    if isinstance(typed, bool):
        return ""
    if isinstance(typed, int | float):
        return str(typed)
    match = _NUMBER.match(_tidy(typed)) if isinstance(typed, str) else None
    if match is None or _NEXT_NUMBER.search(match.string, match.end()):
        return ""
    return match[0]


def number(text: str) -> Fraction:
    """An exact number as a person writes it: ``3``, ``2.5``, ``1/2``, ``23 1/2``, ``23-1/2``, ``23½``.

    Args:
        text: the number alone.

    Raises:
        QuantityError: if the text is anything else.

    >>> number("23-1/2")
    Fraction(47, 2)
    """
    match = _NUMBER.fullmatch(_tidy(text))
    if match is None or len(text) > LONGEST:
        raise QuantityError(written(text), "a number such as 3, 2.5 or 23 1/2")
    return _value(match)


def _bare(typed: float, asked: _Asked) -> float:
    if isinstance(typed, float) and not math.isfinite(typed):
        raise asked.refuse()
    if asked.bare_unit is None:
        raise asked.refuse_bare()
    if abs(typed) > GREATEST * 10**6:
        raise asked.refuse("no mold needs a number of that size")
    return _scaled(Fraction(str(typed)), asked.bare_unit, asked)


def _text(text: str, asked: _Asked) -> float:
    first = _NUMBER.match(text) if len(text) <= LONGEST else None
    if first is None:
        raise asked.refuse(_number_hint(text))
    rest = text[first.end() :].strip()
    if any(mark in rest for mark in ",;"):
        raise asked.refuse("write a decimal point, and no comma between thousands")
    try:
        value = _value(first)
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
    second = _NEXT_NUMBER.search(rest)
    if second is None or second.start() == 0:
        return _scaled(value, _unit_name(rest), asked)
    unit, more = rest[: second.start()], rest[second.start() :]
    whole, name = _compound(abs(value), _unit_name(unit), more.removeprefix("-").strip(), asked)
    return _scaled(-whole if negative else whole, name, asked)


def _compound(value: Fraction, unit: str, more: str, asked: _Asked) -> tuple[Fraction, str]:
    """Feet and inches, or pounds and ounces, as a number of the smaller unit."""
    row = find(unit, asked.kind)
    larger = row[0] if row else ""
    second = _NUMBER.match(more)
    if larger not in _SMALLER or second is None or second["sign"] or value.denominator != 1:
        raise asked.refuse("only whole feet with inches, or whole pounds with ounces, go together")
    name, limit = _SMALLER[larger]
    found = find(_unit_name(more[second.end() :]), asked.kind)
    if found is None or found[0] != name:
        raise asked.refuse(f"after {larger} comes {name}: write the unit of both numbers")
    try:
        part = _value(second)
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
    expression = _expression(unit)
    if not expression or asked.kind == "temperature":
        raise asked.refuse(_unit_hint(unit, asked.kind))
    factor = _asked_of_pint(expression, SI_UNIT[asked.kind])
    if factor is None:
        raise asked.refuse(_unit_hint(unit, asked.kind))
    return Fraction(factor)


def _expression(unit: str) -> str:
    """The unit's name as pint reads it, with no number in it but exponents; else empty."""
    words = re.split(r"\s*([*/ ])\s*", unit)
    parts = [_PINT_WORD.fullmatch(word) for word in words[::2]]
    names = [part[1] + (f"**{part[2]}" if part[2] else "") for part in parts if part is not None]
    if len(names) < len(parts):
        return ""
    signs = ["/" if sign == "/" else "*" for sign in words[1::2]] + [""]
    return "".join(name + sign for name, sign in zip(names, signs, strict=True))


def _asked_of_pint(expression: str, si_unit: str) -> float | None:
    import pint  # noqa: PLC0415 - half a second, needed for rare units only

    registry = pint.get_application_registry()
    try:
        one = registry.Quantity(1.0, registry.Unit(expression))
        return float(one.to(_expression(si_unit) or "dimensionless").magnitude)
    except (pint.PintError, ValueError, TypeError, AttributeError, KeyError):
        return None


def _unit_hint(unit: str, kind: Kind) -> str:
    from difflib import get_close_matches  # noqa: PLC0415 - only for a message

    near = get_close_matches(unit, TABLE[kind], n=1, cutoff=0.6)
    return (
        f"did you mean {near[0]}?"
        if near
        else f'"{printable(unit)}" is no unit of {KIND_NAMES[kind].split()[-1]}'
    )


def _tidy(text: str) -> str:
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    return text.translate(_SIGNS).replace("''", '"').strip()


def _unit_name(text: str) -> str:
    """A unit in the table's spelling: ``cu. ft`` and ``cubic feet`` are ``cuft``, ``ft^3`` is ``ft3``."""
    name = text.strip()
    if kinds_of(name):
        return name
    for pattern, spelling in _SPELLINGS:
        name = re.sub(pattern, spelling, name)
    return re.sub(r"\^(?=\d)", "", name.replace("**", "^"))


def _value(match: re.Match[str]) -> Fraction:
    over, under = match["over"] or match["top"], match["under"] or match["bottom"]
    value = Fraction(match["decimal"]) if over is None else Fraction(int(over), int(under))
    value += int(match["whole"] or "0")
    return -value if match["sign"] == "-" else value
