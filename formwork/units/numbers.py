"""Numbers as people of the trade write them, exact: whole, decimal, fraction, mixed fraction with a gap or a hyphen."""

from __future__ import annotations

import re
from fractions import Fraction

from formwork.units.wording import LONGEST, QuantityError, written

_VULGAR = dict(
    zip(
        "¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞",
        "1/4 1/2 3/4 1/3 2/3 1/5 2/5 3/5 4/5 1/6 5/6 1/8 3/8 5/8 7/8".split(),  # noqa: SIM905 - one line says it
        strict=True,
    )
)

_SIGNS = str.maketrans("″”“′’‘⁄−–\u00a0\u202f\u2009²³·", "\"\"\"'''/--   23*")

NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?:"
    r"(?P<whole>\d+)(?:\s*-\s*|\s+)(?P<over>\d+)\s*/\s*(?P<under>\d+)"
    r"|(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"
    r"|(?P<decimal>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)(?![\d/])"
    r")"
)
"""A number at the beginning of a text; ``value`` gives what a match of it is worth."""

NEXT_NUMBER = re.compile(r"(?<![\^*/A-Za-z\d])-?\s*(?=[\d.])")
"""Where a second number begins: not an exponent of a unit, not a divisor."""


def number(text: str) -> Fraction:
    """An exact number as a person writes it: ``3``, ``2.5``, ``1/2``, ``23 1/2``, ``23-1/2``, ``23½``.

    Args:
        text: the number alone.

    Raises:
        QuantityError: if the text is anything else.

    >>> number("23-1/2")
    Fraction(47, 2)
    """
    match = NUMBER.fullmatch(tidy(text)) if len(text) <= LONGEST else None
    if match is None:
        raise QuantityError(written(text), "a number such as 3, 2.5 or 23 1/2")
    return value(match)


def number_part(typed: object) -> str:
    """The number of a quantity that is one number with at most one unit, as written; empty for any other.

    >>> number_part("23 1/2 in")
    '23 1/2'
    """
    if isinstance(typed, bool):
        return ""
    if isinstance(typed, int | float):
        return str(typed)
    match = NUMBER.match(tidy(typed)) if isinstance(typed, str) else None
    if match is None or NEXT_NUMBER.search(match.string, match.end()):
        return ""
    return match[0]


def tidy(text: str) -> str:
    """A text with typographic fractions, quotes and signs as plain ones.

    Args:
        text: as typed.
    """
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    return text.translate(_SIGNS).replace("''", '"').strip()


def value(match: re.Match[str]) -> Fraction:
    """What a match of ``NUMBER`` is worth.

    Args:
        match: of ``NUMBER``.

    Raises:
        ZeroDivisionError: for a fraction over nought.
    """
    over, under = match["over"] or match["top"], match["under"] or match["bottom"]
    worth = Fraction(match["decimal"]) if over is None else Fraction(int(over), int(under))
    worth += int(match["whole"] or "0")
    return -worth if match["sign"] == "-" else worth
