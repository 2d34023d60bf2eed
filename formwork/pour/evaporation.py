"""Water that a fresh surface loses to the air, and when that asks for something to be done.

Rates are in kg/m2 an hour, as they are published.
"""

from __future__ import annotations

from math import pow

from formwork.errors import RangeError
from formwork.record import record

LB_FT2 = 4.882427636
"""kg/m2 in a lb/ft2."""
MPH = 0.44704
"""m/s in a mile an hour."""


@record
class Threshold:
    """A rate from which something is to be done.

    Attributes:
        rate: kg/m2 an hour.
        action: what, in short.
        source: who says so.
    """

    rate: float
    action: str
    source: str


CELLULAR = (
    Threshold(
        0.05 * LB_FT2,
        "have film and a windbreak ready, cover as soon as it is struck off",
        "judgement: foam keeps water from bleeding (British Cement Association, 1994, abstract), so the surface has "
        "little to lose",
    ),
    Threshold(
        0.10 * LB_FT2,
        "do not pour in the open: windbreak, shade, film at once",
        "precautions for concretes that hardly bleed, as published for latex-modified and silica-fume concrete",
    ),
)
"""For cellular concrete, mildest first."""

ORDINARY = (
    Threshold(
        0.20 * LB_FT2,
        "precautions are required: windbreak, shade, fog or film, start curing sooner",
        "ACI 305R-91 and 308-92 as quoted for silica-fume concrete; ACI 308-81",
    ),
)
"""For ordinary concrete."""


def evaporation_us(T_c: float, T_a: float, r: float, V: float) -> float:
    """Evaporation in US units, lb/ft2 an hour: E = (T_c^2.5 - r*T_a^2.5)*(1 + 0.4*V)*1e-6, never below 0.

    Source: Uno, ACI Materials Journal 95-M34 (1998), the equation of the ACI 305R chart, as quoted by a ready-mix page.
    Valid: 0 to 140 F, humidity 0 to 1, wind 0 to 60 mph. The true rate may differ by 40 % either way (Hover, ACI
    SP-338).

    Args:
        T_c: temperature of the concrete, F.
        T_a: temperature of the air, F.
        r: relative humidity, as a fraction.
        V: wind half a metre (20 in) above the surface, mph.

    Raises:
        RangeError: outside the limits.

    The chart's example reads 0.25:

    >>> evaporation_us(87.0, 80.0, 0.5, 12.0)
    0.2435
    """
    for name, value in (("air", T_a), ("concrete", T_c)):
        if not 0.0 <= value <= 140.0:
            raise RangeError(
                f"temperature of the {name}: got {value:.0f} F ({(value - 32.0) / 1.8:.0f} C), want 0 to 140 F (-17 to "
                "60 C)"
            )
    if not 0.0 <= r <= 1.0:
        raise RangeError(
            f'relative humidity: got {100.0 * r:g} %, want 0 to 100 % (written with its sign: "50 %")'
        )
    if not 0.0 <= V <= 60.0:
        raise RangeError(f"wind: got {V:.3g} mph ({V * MPH:.3g} m/s), want 0 to 60 mph (27 m/s)")
    return max((pow(T_c, 2.5) - r * pow(T_a, 2.5)) * (1.0 + 0.4 * V) * 1e-6, 0.0)


def evaporation_rounded(T_c: float, T_a: float, r: float, V: float) -> float:
    """Evaporation by the rounded metric form, kg/m2 an hour, which reads 4 to 5 % low.

    E = 5*((T_c + 18)^2.5 - r*(T_a + 18)^2.5)*(V + 4)*1e-6, never below 0.
    Source: Uno, ACI Materials Journal 95-M34 (1998), as quoted. Valid: as for ``evaporation_us``.

    Args:
        T_c: temperature of the concrete, C.
        T_a: temperature of the air, C.
        r: relative humidity, as a fraction.
        V: wind half a metre above the surface, km/h.

    >>> evaporation_rounded(31.0, 27.0, 0.5, 19.0)
    1.1517
    """
    return max(5.0 * (pow(T_c + 18.0, 2.5) - r * pow(T_a + 18.0, 2.5)) * (V + 4.0) * 1e-6, 0.0)


def evaporation(concrete: float, air: float, humidity: float, wind: float) -> float:
    """Evaporation, kg/m2 an hour: the US form, converted exactly.

    Source and limits: ``evaporation_us``.

    Args:
        concrete: temperature, K.
        air: temperature, K.
        humidity: relative, as a fraction.
        wind: half a metre above the surface, m/s.

    Raises:
        RangeError: outside the limits.

    >>> evaporation(273.15 + 31.0, 273.15 + 27.0, 0.5, 19.0 / 3.6)
    1.2034
    """
    return LB_FT2 * evaporation_us(_fahrenheit(concrete), _fahrenheit(air), humidity, wind / MPH)


def reached(rate: float, thresholds: tuple[Threshold, ...] = CELLULAR) -> Threshold | None:
    """The highest threshold that a rate reaches; None where it reaches none.

    Args:
        rate: kg/m2 an hour.
        thresholds: mildest first.
    """
    return next((each for each in reversed(thresholds) if rate >= each.rate), None)


def _fahrenheit(temperature: float) -> float:
    return 1.8 * temperature - 459.67
