"""Names of units: trade spellings as the table has them, and pint for the units it has not.

Only the name of a unit ever reaches pint, never a number: pint reads ``23 1/2 in`` as 23 x 1/2 and ``1,5 m`` as 15 m.
"""

from __future__ import annotations

import re

from formwork.units.table import TABLE, Kind, kinds_of
from formwork.units.wording import KIND_NAMES, printable

_PINT_WORD = re.compile(r"([A-Za-zµ_]+)(?:\^?(-?\d))?")

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


def unit_name(text: str) -> str:
    """A unit in the table's spelling: ``cu. ft`` and ``cubic feet`` are ``cuft``, ``ft^3`` is ``ft3``.

    Args:
        text: as typed, after the number.
    """
    name = text.strip()
    if kinds_of(name):
        return name
    for pattern, spelling in _SPELLINGS:
        name = re.sub(pattern, spelling, name)
    return re.sub(r"\^(?=\d)", "", name.replace("**", "^"))


def pint_factor(unit: str, si_unit: str) -> float | None:
    """How many of the SI unit one of another is, as pint knows it; None where it is no unit of that kind.

    Args:
        unit: its name.
        si_unit: the SI unit of the kind; empty for a ratio.
    """
    expression = _expression(unit)
    if not expression:
        return None
    import pint  # noqa: PLC0415 - half a second, needed for rare units only

    registry = pint.get_application_registry()
    try:
        one = registry.Quantity(1.0, registry.Unit(expression))
        return float(one.to(_expression(si_unit) or "dimensionless").magnitude)
    except (pint.PintError, ValueError, TypeError, AttributeError, KeyError):
        return None


def unit_hint(unit: str, kind: Kind) -> str:
    """What to say of a name that is no unit of a kind.

    Args:
        unit: the name.
        kind: what is measured.
    """
    from difflib import get_close_matches  # noqa: PLC0415 - only for a message

    near = get_close_matches(unit, TABLE[kind], n=1, cutoff=0.6)
    return (
        f"did you mean {near[0]}?"
        if near
        else f'"{printable(unit)}" is no unit of {KIND_NAMES[kind].split()[-1]}'
    )


def _expression(unit: str) -> str:
    """The unit's name as pint reads it, with no number in it but exponents; else empty."""
    words = re.split(r"\s*([*/ ])\s*", unit)
    parts = [_PINT_WORD.fullmatch(word) for word in words[::2]]
    names = [part[1] + (f"**{part[2]}" if part[2] else "") for part in parts if part is not None]
    if len(names) < len(parts):
        return ""
    signs = ["/" if sign == "/" else "*" for sign in words[1::2]] + [""]
    return "".join(name + sign for name, sign in zip(names, signs, strict=True))
