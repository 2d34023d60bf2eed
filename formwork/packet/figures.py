"""Numbers as they go into files: nine significant digits, no minus zero, and nothing that is not a number."""

from __future__ import annotations

from math import degrees, isfinite


def nine(value: float) -> float:
    """The number to nine significant digits; minus zero becomes zero.

    >>> nine(0.1 + 0.2), nine(-0.0), nine(123456789.87)
    (0.3, 0.0, 123456790.0)
    """
    return float(f"{value:.9g}") + 0.0


def nine_or_none(value: float | None) -> float | None:
    """The same, where there is a finite number at all."""
    return None if value is None or not isfinite(value) else nine(value)


def millimetres(metres: float) -> float:
    """Metres as millimetres, to nine significant digits.

    >>> millimetres(0.6)
    600.0
    """
    return nine(metres * 1000.0)


def degrees_of(radians: float) -> float:
    """Radians as degrees, to nine significant digits; what rounding leaves of a square edge is square.

    >>> degrees_of(1e-14)
    0.0
    """
    turned = degrees(radians)
    return 0.0 if abs(turned) < 1e-9 else nine(turned)
