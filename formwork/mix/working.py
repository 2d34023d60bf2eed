"""Steps of a computation as a person reads them: value = formula = numbers = result unit."""

from __future__ import annotations

import re
from collections.abc import Mapping

_SYMBOL = re.compile(r"[A-Za-z]\w*")


def step(name: str, formula: str, values: Mapping[str, float], result: float, unit: str = "") -> str:
    """One recorded step.

    The numbers are put into the formula here, so that the two cannot disagree; the result is the one the
    program computed, so that a reader can work the numbers and compare.

    Args:
        name: what is computed, its symbol last ("slurry density rho_s").
        formula: with symbols, in plain arithmetic signs.
        values: of every symbol in the formula.
        result: as computed, in ``unit``.
        unit: of the result; empty for a ratio.

    Raises:
        KeyError: if a symbol of the formula has no value.

    >>> step("slurry density rho_s", "m_s / V_s", {"m_s": 150.0, "V_s": 0.08174603}, 1834.951, "kg/m3")
    'slurry density rho_s = m_s / V_s = 150 / 0.081746 = 1834.95 kg/m3'
    """
    numbers = _SYMBOL.sub(lambda found: shown(values[found.group()]), formula)
    return f"{name} = {formula} = {numbers} = {shown(result)} {unit}".rstrip()


def shown(value: float) -> str:
    """A number to six significant digits, as the steps print it.

    >>> shown(1834.9514), shown(0.5)
    ('1834.95', '0.5')
    """
    return f"{value:.6g}"
