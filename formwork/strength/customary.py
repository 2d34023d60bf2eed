"""United States customary units in SI: the tables of this room are printed in pounds and inches.

Source: NIST SP 811 (2008), appendix B: inch and avoirdupois pound by definition, standard gravity 9.80665
m/s2.
"""

from __future__ import annotations

GRAVITY = 9.80665
"""Standard gravity, m/s2."""

INCH = 0.0254
"""One inch, m."""

FOOT = 12.0 * INCH
"""One foot, m."""

POUND = 0.45359237
"""One pound of mass, kg."""

LBF = POUND * GRAVITY
"""One pound of force, N."""

PSI = LBF / INCH**2
"""One pound a square inch, Pa."""

PSF = LBF / FOOT**2
"""One pound a square foot, Pa."""

PLF = LBF / FOOT
"""One pound a foot of length, N/m."""

PCF = POUND / FOOT**3
"""One pound a cubic foot, kg/m3."""

MM = 1e-3
"""One millimetre, m: workings are printed in N and mm."""

MPA = 1e6
"""One N/mm2, Pa."""


def kelvin_of_fahrenheit(degrees: float) -> float:
    """A temperature in kelvin.

    Args:
        degrees: temperature, degree Fahrenheit.

    Returns:
        Temperature, K.

    Source: NIST SP 811, appendix B.8: (t + 459.67) / 1.8.

    >>> round(kelvin_of_fahrenheit(32.0), 2)
    273.15
    """
    return (degrees + 459.67) / 1.8


def fahrenheit_of_kelvin(temperature: float) -> float:
    """A temperature in degree Fahrenheit.

    Args:
        temperature: K.

    Returns:
        Temperature, degree Fahrenheit.

    Source: NIST SP 811, appendix B.8.

    >>> round(fahrenheit_of_kelvin(293.15), 6)
    68.0
    """
    return temperature * 1.8 - 459.67
