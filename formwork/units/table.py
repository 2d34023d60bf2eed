"""The units that people of this trade write, by kind, with exact factors to SI.

Every factor is a Fraction, so that ``15 mm`` is the same float as 0.015 and a value on the edge of a range is
inside it. The table is tested entry by entry against pint; a unit that is not in it is read by pint, which is
imported only then (import and registry cost half a second).

In the kinds *force* and *pressure* a pound is the force of one, as it is on a drawing.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

Kind = Literal[
    "length",
    "area",
    "volume",
    "mass",
    "density",
    "temperature",
    "flow",
    "pressure",
    "force",
    "angle",
    "time",
    "ratio",
]

Declared = Literal["in", "mm", "SI"]
"""What a bare number means: the units of an inch file, of a metric file, or SI (inside the program)."""

SI_UNIT: dict[Kind, str] = {
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "mass": "kg",
    "density": "kg/m3",
    "temperature": "K",
    "flow": "m3/s",
    "pressure": "Pa",
    "force": "N",
    "angle": "rad",
    "time": "s",
    "ratio": "",
}

BARE: dict[Declared, dict[Kind, str]] = {
    "in": {
        "length": "in",
        "mass": "lb",
        "density": "lb/ft3",
        "temperature": "F",
        "angle": "deg",
        "ratio": "",
    },
    "mm": {
        "length": "mm",
        "mass": "kg",
        "density": "kg/m3",
        "temperature": "C",
        "angle": "deg",
        "ratio": "",
    },
    "SI": SI_UNIT,
}
"""The unit of a bare number by what the file declares. A kind that is missing (a volume may be gallons, cubic
feet, litres) must carry its unit."""

EXAMPLES: dict[Kind, tuple[str, ...]] = {
    "length": ("23 1/2 in", "2 ft 6 in", "600 mm"),
    "area": ("32 ft2", "2.5 m2"),
    "volume": ("3 ft3", "5 gal", "90 L"),
    "mass": ("94 lb", "25 kg"),
    "density": ("30 lb/ft3", "480 kg/m3"),
    "temperature": ("70 F", "20 C"),
    "flow": ("10 ft3/min", "30 L/min"),
    "pressure": ("75 lb/ft2", "3.6 kPa"),
    "force": ("100 lb", "450 N"),
    "angle": ("5 deg",),
    "time": ("45 s", "24 h"),
    "ratio": ("5 %", "0.05"),
}

_IN = Fraction(254, 10000)
_FT = 12 * _IN
_YD = 3 * _FT
_LB = Fraction(45359237, 100000000)
_GRAVITY = Fraction(980665, 100000)
_LBF = _LB * _GRAVITY
_GAL = 231 * _IN**3
_LITRE = Fraction(1, 1000)
_MINUTE = Fraction(60)

_FACTORS: dict[Kind, tuple[tuple[str, Fraction], ...]] = {
    "length": (
        ('in inch inches "', _IN),
        ("ft foot feet '", _FT),
        ("yd yard yards", _YD),
        ("mm millimeter millimeters millimetre millimetres", Fraction(1, 1000)),
        ("cm centimeter centimeters centimetre centimetres", Fraction(1, 100)),
        ("m meter meters metre metres", Fraction(1)),
    ),
    "area": (
        ("in2 sqin", _IN**2),
        ("ft2 sqft", _FT**2),
        ("yd2 sqyd", _YD**2),
        ("mm2", Fraction(1, 10**6)),
        ("cm2", Fraction(1, 10**4)),
        ("m2", Fraction(1)),
    ),
    "volume": (
        ("in3 cuin", _IN**3),
        ("ft3 cuft", _FT**3),
        ("yd3 cuyd", _YD**3),
        ("gal gallon gallons", _GAL),
        ("qt quart quarts", _GAL / 4),
        ("pt pint pints", _GAL / 8),
        ("floz", _GAL / 128),
        ("L liter liters litre litres", _LITRE),
        ("mL milliliter milliliters millilitre millilitres cm3 cc", _LITRE / 1000),
        ("mm3", Fraction(1, 10**9)),
        ("m3", Fraction(1)),
    ),
    "mass": (
        ("lb lbs pound pounds", _LB),
        ("oz ounce ounces", _LB / 16),
        ("ton tons", 2000 * _LB),
        ("g gram grams", Fraction(1, 1000)),
        ("kg kilogram kilograms", Fraction(1)),
        ("t tonne tonnes", Fraction(1000)),
    ),
    "density": (
        ("lb/ft3 lb/cuft lbs/ft3 lbs/cuft pcf", _LB / _FT**3),
        ("lb/yd3 lb/cuyd lbs/yd3 lbs/cuyd", _LB / _YD**3),
        ("lb/gal lbs/gal", _LB / _GAL),
        ("kg/m3", Fraction(1)),
        ("kg/L g/cm3 g/mL g/cc kg/dm3 t/m3", Fraction(1000)),
        ("g/L", Fraction(1)),
    ),
    "flow": (
        ("ft3/min cuft/min cfm", _FT**3 / _MINUTE),
        ("gal/min gpm", _GAL / _MINUTE),
        ("L/min", _LITRE / _MINUTE),
        ("L/s", _LITRE),
        ("m3/min", 1 / _MINUTE),
        ("m3/h m3/hr", Fraction(1, 3600)),
        ("m3/s", Fraction(1)),
    ),
    "pressure": (
        ("lb/ft2 lb/sqft lbf/ft2 psf", _LBF / _FT**2),
        ("lb/in2 lb/sqin lbf/in2 psi", _LBF / _IN**2),
        ("Pa", Fraction(1)),
        ("kPa kN/m2", Fraction(1000)),
        ("MPa N/mm2", Fraction(10**6)),
        ("bar", Fraction(10**5)),
    ),
    "force": (
        ("lb lbs lbf pound pounds", _LBF),
        ("kgf", _GRAVITY),
        ("N", Fraction(1)),
        ("kN", Fraction(1000)),
    ),
    "angle": (
        ("deg degree degrees °", Fraction(math.pi) / 180),
        ("rad", Fraction(1)),
    ),
    "time": (
        ("s sec second seconds", Fraction(1)),
        ("min minute minutes", _MINUTE),
        ("h hr hour hours", Fraction(3600)),
        ("d day days", Fraction(86400)),
    ),
    "ratio": (("%  percent", Fraction(1, 100)),),
    "temperature": (
        ("K", Fraction(1)),
        ("C degC °C celsius", Fraction(1)),
        ("F degF °F fahrenheit", Fraction(5, 9)),
    ),
}

ZERO: dict[str, Fraction] = {
    "C": Fraction(27315, 100),
    "F": Fraction(45967, 100) * Fraction(5, 9),
}
"""Kelvin at zero of a temperature scale that does not start at absolute zero, by its first spelling."""


def _spellings() -> dict[Kind, dict[str, tuple[str, Fraction]]]:
    table: dict[Kind, dict[str, tuple[str, Fraction]]] = {}
    for kind, rows in _FACTORS.items():
        table[kind] = {name: (names.split()[0], factor) for names, factor in rows for name in names.split()}
    return table


TABLE: dict[Kind, dict[str, tuple[str, Fraction]]] = _spellings()
"""For each kind: spelling -> (first spelling of that unit, factor to SI)."""

_FOLDED: dict[Kind, dict[str, tuple[str, Fraction]]] = {
    kind: {name.casefold(): row for name, row in rows.items()} for kind, rows in TABLE.items()
}


def find(name: str, kind: Kind) -> tuple[str, Fraction] | None:
    """The first spelling of a unit and its factor to SI, or None where the table has it not.

    Case is forgiven in ``MM``, ``Inches`` and ``kpa``, not in ``mPa``, where it may be meant.

    Args:
        name: the unit as written, already tidied (``ft3``, not ``cu. ft``).
        kind: what is measured.

    >>> find("inches", "length")
    ('in', Fraction(127, 5000))
    """
    exact = TABLE[kind].get(name)
    if exact is not None or not (name.islower() or name.isupper() or name.istitle()):
        return exact
    return _FOLDED[kind].get(name.casefold())


def kinds_of(name: str) -> tuple[Kind, ...]:
    """The kinds that a unit of the table measures, in the table's order.

    Args:
        name: the unit as written.

    >>> kinds_of("lb")
    ('mass', 'force')
    """
    return tuple(kind for kind in TABLE if find(name, kind) is not None)
