"""Words of messages: what was typed as its writer knows it, what a quantity should look like."""

from __future__ import annotations

from formwork.errors import FormworkError
from formwork.units.table import BARE, EXAMPLES, Declared, Kind

LONGEST = 80
"""Longest text that can be a quantity; a longer one is something else."""

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
