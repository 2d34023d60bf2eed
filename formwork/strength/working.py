"""The working of a check: steps that a reader with a calculator can redo, and the verdict they lead to.

A step is written once, as it is computed: its formula as text, the numbers that stand in it and the result
that the program really used. Nothing reads source code, and nothing computes from the text; so a test that
puts the printed numbers through the printed formula is a second route to every result.
"""

from __future__ import annotations

import re

from formwork.record import record

_NAME = re.compile(r"[A-Za-z_]\w*'?")
_FUNCTIONS = {"sqrt", "min", "max", "pi", "sin", "cos"}


@record
class Step:
    """One line of working.

    Attributes:
        symbol: what is found ("M").
        formula: in symbols, ``^`` for a power ("p * l^2 / 8").
        numbers: the same with the numbers in place.
        value: the result as the program used it, in ``unit``.
        unit: of the result, as printed; empty for a plain number.
    """

    symbol: str
    formula: str
    numbers: str
    value: float
    unit: str

    def __str__(self) -> str:
        """The line: symbol = formula = numbers = result unit; a value that is taken has no middle."""
        middle = f"{self.formula} = {self.numbers} = " if self.formula else ""
        return f"{self.symbol} = {middle}{written(self.value)} {self.unit}".rstrip()


def written(value: float) -> str:
    """A number of the working as printed: six significant digits.

    Args:
        value: in the unit it is printed in.

    >>> written(1234.56789)
    '1234.57'
    """
    return f"{value:.6g}"


def step(symbol: str, formula: str, value: float, unit: str, **numbers: float) -> Step:
    """Record one step.

    Args:
        symbol: what is found.
        formula: in symbols; every symbol in it is a keyword of ``numbers`` or one of sqrt, min, max, pi, sin,
            cos.
        value: the result, in ``unit``.
        unit: as printed.
        **numbers: what each symbol stands for (a primed one by ``**{"E'": ...}``), in the units that give the
        result in ``unit``.

    Raises:
        KeyError: the formula has a symbol without a number.

    >>> str(step("M", "p * l^2 / 8", 5.0, "N mm/mm", p=0.004, l=100.0))
    'M = p * l^2 / 8 = 0.004 * 100^2 / 8 = 5 N mm/mm'
    """

    def put(found: re.Match[str]) -> str:
        name = found.group()
        if name in _FUNCTIONS:
            return name
        return written(numbers[name]) if numbers[name] >= 0.0 else f"({written(numbers[name])})"

    return Step(symbol, formula, _NAME.sub(put, formula), value, unit)


def given(symbol: str, value: float, unit: str, origin: str = "") -> Step:
    """Record a value that is taken, not computed.

    Args:
        symbol: what it is.
        value: in ``unit``.
        unit: as printed.
        origin: where it is taken from.

    >>> str(given("F_b", 9.86, "MPa", "APA class I"))
    'F_b = 9.86 MPa (APA class I)'
    """
    return Step(symbol, "", "", value, f"{unit} ({origin})".lstrip() if origin else unit)


@record
class Verdict:
    """Load against limit, with the working.

    Attributes:
        name: what is judged ("panel bending").
        load: in ``unit``.
        limit: in ``unit``.
        unit: of both ("MPa", "mm", "N").
        source: where the rule and the limit come from.
        steps: the working.
    """

    name: str
    load: float
    limit: float
    unit: str
    source: str
    steps: tuple[Step, ...]

    @property
    def utilisation(self) -> float:
        """Load over limit, 1 = at the limit."""
        return self.load / self.limit if self.limit > 0.0 else (0.0 if self.load <= 0.0 else float("inf"))

    @property
    def ok(self) -> bool:
        """The load is within the limit, rounding of the last digit apart."""
        return self.load <= self.limit * (1.0 + 1e-9)

    @property
    def lines(self) -> tuple[str, ...]:
        """The working as printed, a line a step."""
        return tuple(str(each) for each in self.steps)


@record
class Force:
    """A force, N, and how it was found; of a lift up is positive."""

    force: float
    steps: tuple[Step, ...]


@record
class Unjudged:
    """What could not be judged, and what is missing."""

    name: str
    why: str


Judged = Verdict | Unjudged
