"""What the table of checks says of each: load, limit and percent of limit, or words where those would mislead."""

from __future__ import annotations

from math import ceil, floor, log10

from formwork.checks.check import Check
from formwork.packet.wording import amount, counted, percent
from formwork.units import show
from formwork.units.show import UnitSystem

_CLOSES = "cavity against piece"
_COMES_OFF = "locked groups"
_LEAST = "deg"
"""The unit of angles: those that are checked have a least value, and more is better."""


def load_and_limit(check: Check, units: UnitSystem) -> tuple[str, str, str]:
    """Load, limit and percent of limit of a check; where it asks for a least value, what there is and that.

    Args:
        check: of a mold or a frame.
        units: of the person.
    """
    if check.name == _CLOSES:
        return _closes(check, units), "", ""
    if check.unit == _COMES_OFF:
        return "yes" if check.ok else f"no: {counted(round(check.demand), 'part')} locked", "", ""
    load, limit = (amount(value, check.unit, units) for value in (check.demand, check.capacity))
    if check.unit == _LEAST:
        return f"has {limit}", f"least {load}", ""
    return load, limit, percent(check.utilisation)


def _closes(check: Check, units: UnitSystem) -> str:
    """Within what the mold closes; of one that does not, by how much it is off, or that it leaks."""
    if check.ok:
        return f"closes to within {_small(check.capacity, units)}"
    return "leaks" if check.demand <= check.capacity else f"off by {amount(check.demand, 'm3', units)}"


def _small(volume: float, units: UnitSystem) -> str:
    """A very small volume (m3), rounded up to its first digit: in3, or mL."""
    value, unit = (volume / show.INCH**3, "in3") if units == "in" else (volume * 1e6, "mL")
    if value <= 0.0:
        return f"0 {unit}"
    decimals = max(0, -floor(log10(value) + 1e-9))
    return f"{show.plain(ceil(value * 10**decimals - 1e-9) / 10**decimals, decimals)} {unit}"
