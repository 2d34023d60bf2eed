"""Density of water by temperature, to calibrate a measure with.

The mix is worked with 1000 kg/m3; here the fourth digit counts.
"""

from __future__ import annotations

from formwork.errors import RangeError

ZERO = 273.15
"""Kelvin at 0 C."""

_A1, _A2, _A3, _A4, _A5 = -3.983035, 301.797, 522528.9, 69.34881, 999.974950


def water_density(temperature: float) -> float:
    """Density of air-free water, kg/m3.

    rho = a5*(1 - (t + a1)^2*(t + a2)/(a3*(t + a4))), t in C.
    Source: Tanaka and others, Metrologia 38 (2001), as recommended by CIPM; coefficients from memory, checked
    against printed tables. Valid: 0 to 40 C.

    Args:
        temperature: K.

    Raises:
        RangeError: outside the limits.

    >>> water_density(273.15 + 20.0)
    998.2067
    """
    t = temperature - ZERO
    if not -1e-9 <= t <= 40.0 + 1e-9:
        raise RangeError(
            f"temperature of the water: got {t:.1f} C ({1.8 * t + 32.0:.0f} F), want 0 to 40 C (32 to 104 F)"
        )
    return _A5 * (1.0 - (t + _A1) ** 2 * (t + _A2) / (_A3 * (t + _A4)))
