"""From SI floats to what a person reads, in the units of the project: inches with sixteenths, or millimetres.

Ties go up, away from nought: 1/32 in is shown as 1/16 in, 0.25 mm as 0.3 mm. (Rounding half to even would
show equal steps as unequal ones.) A quotient within a millionth of a tie counts as the tie.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from formwork.units.table import ZERO, Kind, find

UnitSystem = Literal["in", "mm"]
Rounding = Literal["half up", "up", "down"]

INCH = 0.0254
FOOT = 12 * INCH
_SIXTEENTHS = 16

SPAN_UNITS: dict[UnitSystem, dict[Kind, str]] = {
    "in": {
        "length": "in",
        "area": "ft2",
        "volume": "ft3",
        "mass": "lb",
        "density": "lb/ft3",
        "temperature": "F",
        "flow": "ft3/min",
        "pressure": "lb/ft2",
        "force": "lb",
        "angle": "deg",
        "time": "min",
        "ratio": "%",
    },
    "mm": {
        "length": "mm",
        "area": "m2",
        "volume": "L",
        "mass": "kg",
        "density": "kg/m3",
        "temperature": "C",
        "flow": "L/min",
        "pressure": "kPa",
        "force": "N",
        "angle": "deg",
        "time": "min",
        "ratio": "%",
    },
}
"""The unit in which a range is shown."""

_STRESS_UNITS: dict[UnitSystem, str] = {"in": "lb/in2", "mm": "MPa"}
_LEAST_STRESS = 1e5
"""From here up a range of pressures is one of stresses, Pa."""


def length(value: float, units: UnitSystem, *, exact: bool = False, feet: bool = False) -> str:
    """A length as a person reads it: ``23 5/8 in``, ``2 ft 6 in``, ``600 mm``.

    Args:
        value: m.
        units: of the person.
        exact: add the decimal inches where the sixteenth is not the whole truth, ``23 5/8 in (23.622)``; in
            millimetres, give two decimals.
        feet: write feet and inches from two feet up.

    >>> length(0.6, "in", exact=True)
    '23 5/8 in (23.622)'
    >>> length(0.6, "mm")
    '600 mm'
    """
    if units == "mm":
        return f"{plain(value * 1000, 2 if exact or abs(value) < 0.001 else 1)} mm"
    inches = value / INCH
    if value and not _sixteenths(inches):
        return f"{plain(inches, 3)} in"
    text = _feet(inches) if feet and abs(inches) >= 24 else f"{fraction(value)} in"
    off = abs(inches - _sixteenths(inches) / _SIXTEENTHS) > 0.0005
    return f"{text} ({plain(inches, 3)})" if exact and off else text


def both(value: float) -> str:
    """A length where no one person's units govern: metric first, then inches.

    Args:
        value: m.

    >>> both(0.6)
    '600 mm (23 5/8 in)'
    """
    return f"{length(value, 'mm')} ({length(value, 'in')})"


def fraction(value: float) -> str:
    """A length in inches to the nearest sixteenth as a reduced fraction, without its unit.

    Args:
        value: m.

    >>> fraction(0.6)
    '23 5/8'
    """
    return _mixed(_sixteenths(value / INCH))


def mass(value: float, units: UnitSystem) -> str:
    """A mass, ``94 lb`` or ``42.6 kg``; small ones in ounces or grams.

    Args:
        value: kg.
        units: of the person.
    """
    if units == "in":
        pounds = value / _factor("lb", "mass")
        return f"{digits(16 * pounds)} oz" if 0 < abs(pounds) < 0.5 else f"{digits(pounds)} lb"
    return f"{digits(1000 * value)} g" if 0 < abs(value) < 0.5 else f"{digits(value)} kg"


def volume(value: float, units: UnitSystem, *, liquid: bool = False) -> str:
    """A volume: ``1.67 ft3`` or ``47.2 L``; cubic metres from one on, little of it in fl oz or mL.

    Args:
        value: m3.
        units: of the person.
        liquid: a liquid, which an inch shop measures in gallons.
    """
    if units == "mm":
        if abs(value) >= 1:
            return f"{digits(value)} m3"
        return f"{digits(1e6 * value)} mL" if 0 < abs(value) < 0.0005 else f"{digits(1000 * value)} L"
    if not liquid:
        return f"{digits(value / FOOT**3)} ft3"
    gallons = value / _factor("gal", "volume")
    return f"{digits(128 * gallons)} fl oz" if 0 < abs(gallons) < 0.25 else f"{digits(gallons)} gal"


def density(value: float, units: UnitSystem) -> str:
    """A density, ``30.0 lb/ft3`` or ``481 kg/m3``; low ones, as doses of fibre, with three digits.

    Args:
        value: kg/m3.
        units: of the person.
    """
    if units == "mm":
        return f"{digits(value)} kg/m3"
    pounds = value / _factor("lb/ft3", "density")
    return f"{plain(pounds, 1, keep=True) if abs(pounds) >= 10 else digits(pounds)} lb/ft3"


def area(value: float, units: UnitSystem) -> str:
    """An area, ``32 ft2`` or ``2.97 m2``.

    Args:
        value: m2.
        units: of the person.
    """
    return f"{digits(value / FOOT**2)} ft2" if units == "in" else f"{digits(value)} m2"


def pressure(value: float, units: UnitSystem) -> str:
    """A pressure, ``75 lb/ft2`` or ``3.59 kPa``.

    Args:
        value: Pa.
        units: of the person.
    """
    if units == "in":
        return f"{digits(value / _factor('lb/ft2', 'pressure'))} lb/ft2"
    return f"{digits(value / 1000)} kPa"


def force(value: float, units: UnitSystem) -> str:
    """A force, ``111 lb`` or ``494 N``; kilonewtons from one on.

    Args:
        value: N.
        units: of the person.
    """
    if units == "in":
        return f"{digits(value / _factor('lb', 'force'))} lb"
    return f"{digits(value / 1000)} kN" if abs(value) >= 1000 else f"{digits(value)} N"


def flow(value: float, units: UnitSystem) -> str:
    """A flow, ``10.6 ft3/min`` or ``300 L/min``.

    Args:
        value: m3/s.
        units: of the person.
    """
    if units == "in":
        return f"{digits(value / _factor('ft3/min', 'flow'))} ft3/min"
    return f"{digits(value / _factor('L/min', 'flow'))} L/min"


def temperature(value: float, units: UnitSystem) -> str:
    """A temperature, ``70 F`` or ``21 C``.

    Args:
        value: K.
        units: of the person.
    """
    return f"{plain(value * 1.8 - 459.67, 0)} F" if units == "in" else f"{plain(value - 273.15, 0)} C"


def angle(value: float) -> str:
    """An angle in degrees to one decimal, ``44.2 deg``.

    Args:
        value: rad.
    """
    return f"{plain(math.degrees(value), 1)} deg"


def time(value: float) -> str:
    """A time: seconds below two minutes, minutes below two hours, then hours.

    Args:
        value: s.
    """
    if abs(value) < 120:
        return f"{digits(value)} s"
    return f"{digits(value / 60)} min" if abs(value) < 7200 else f"{digits(value / 3600)} h"


def share(value: float) -> str:
    """A ratio in percent, ``5 %``.

    Args:
        value: plain fraction.
    """
    return f"{plain(100 * value, 1)} %"


def money(amount: float, currency: str) -> str:
    """An amount with two decimals: ``$12.50`` after a sign, ``EUR 12.50`` after a code.

    Args:
        amount: in the currency.
        currency: its sign or code.

    >>> money(1234.5, "$")
    '$1,234.50'
    """
    gap = " " if currency[-1:].isalpha() else ""
    sign = "-" if amount < 0 and round(amount, 2) else ""
    return f"{sign}{currency}{gap}{plain(abs(amount), 2, keep=True, commas=True)}"


def quantity(value: float, kind: Kind, units: UnitSystem) -> str:
    """Any quantity by its kind, as the function of that name shows it.

    Args:
        value: SI.
        kind: what is measured.
        units: of the person.
    """
    match kind:
        case "angle":
            return angle(value)
        case "time":
            return time(value)
        case "ratio":
            return share(value)
        case _:
            shown = {
                "length": length, "area": area, "volume": volume, "mass": mass, "density": density,
                "temperature": temperature, "flow": flow, "pressure": pressure, "force": force,
            }  # fmt: skip
            return shown[kind](value, units)


def span(least: float, most: float, kind: Kind, units: UnitSystem) -> str:
    """A range that is allowed, rounded inward, so that what is shown is allowed: ``25 to 150 mm``.

    Inches are sixteenths where those come close to the lower limit, else decimals. A pressure so high that only a
    stress can be meant is shown in the units of data sheets.

    Args:
        least: SI.
        most: SI.
        kind: what is measured.
        units: of the person.

    >>> span(0.025, 0.15, "length", "in")
    '1 to 5 7/8 in'
    """
    if kind == "length" and units == "in":
        low = math.ceil(_steady(least / INCH * _SIXTEENTHS))
        high = math.floor(_steady(most / INCH * _SIXTEENTHS))
        if low <= high and low * INCH / _SIXTEENTHS <= 1.1 * least:
            return f"{_mixed(low)} to {_mixed(high)} in"
    unit = SPAN_UNITS[units][kind]
    if kind == "pressure" and least >= _LEAST_STRESS:
        unit = _STRESS_UNITS[units]
    _, factor = find(unit, kind) or ("", Fraction(1))
    zero = float(ZERO.get(unit, 0)) if kind == "temperature" else 0.0
    low_text = digits((least - zero) / float(factor), "up")
    high_text = digits((most - zero) / float(factor), "down")
    return f"{low_text} to {high_text} {unit}"


def digits(value: float, way: Rounding = "half up") -> str:
    """A number with three digits that count, and its whole part in full: ``94``, ``1.67``, ``1234``.

    Args:
        value: any finite number.
        way: which way to round.
    """
    if not value or not math.isfinite(value):
        return "0" if not value else str(value)
    return plain(value, max(0, 2 - math.floor(math.log10(abs(value)))), way=way)


def plain(
    value: float, decimals: int, *, keep: bool = False, commas: bool = False, way: Rounding = "half up"
) -> str:
    """A number rounded to some decimals, without needless zeros unless they are to be kept.

    Args:
        value: any finite number.
        decimals: most digits after the point.
        keep: keep zeros at the end.
        commas: commas between thousands.
        way: which way to round.
    """
    scaled = _rounded(value * 10**decimals, way)
    text = _decimal(abs(scaled), decimals) if decimals else str(abs(scaled))
    if commas:
        whole, point, rest = text.partition(".")
        text = f"{int(whole):,}{point}{rest}"
    if not keep and "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"-{text}" if scaled < 0 else text


def _rounded(value: float, way: Rounding) -> int:
    steady = _steady(value)
    if way == "half up":
        return math.floor(abs(steady) + 0.5) * (1 if steady >= 0 else -1)
    return math.ceil(steady) if way == "up" else math.floor(steady)


def _decimal(scaled: int, decimals: int) -> str:
    whole, rest = divmod(scaled, 10**decimals)
    return f"{whole}.{rest:0{decimals}d}"


def _steady(value: float) -> float:
    """The value less the last bits of a unit conversion, so that ties and whole numbers are just that."""
    return round(value, 6)


def _sixteenths(inches: float) -> int:
    return _rounded(inches * _SIXTEENTHS, "half up")


def _mixed(sixteenths: int) -> str:
    whole, rest = divmod(abs(sixteenths), _SIXTEENTHS)
    sign = "-" if sixteenths < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, _SIXTEENTHS)
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def _feet(inches: float) -> str:
    sixteenths = _sixteenths(inches)
    whole, rest = divmod(abs(sixteenths), 12 * _SIXTEENTHS)
    text = f"{whole} ft {_mixed(rest)} in" if rest else f"{whole} ft"
    return f"-{text}" if sixteenths < 0 else text


def _factor(unit: str, kind: Kind) -> float:
    row = find(unit, kind)
    if row is None:
        raise KeyError(unit)
    return float(row[1])
