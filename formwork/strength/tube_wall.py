"""The wall of a tube that mix fills: its hoop tension, and the height of concrete that its maker allows.

Source: hoop tension w h D / 2: lecture notes on water tanks (``bands``); stress: statics of a thin ring.
"""

from __future__ import annotations

from formwork.strength.bands import hoop_tension
from formwork.strength.customary import GRAVITY, MM, MPA
from formwork.strength.valid import positive
from formwork.strength.working import Step, Verdict, given, step

ORDINARY = 2400.0
"""Density of the concrete that makers mean by a height of concrete, kg/m3 (from memory: 150 lb/ft3)."""


def allowed_head(height: float) -> float:
    """Pressure at the foot of the concrete that a maker allows in a tube, Pa.

    Args:
        height: of ordinary concrete, m.

    Raises:
        RangeError: a height that is not above zero.

    >>> round(allowed_head(3.0))
    70608
    """
    positive("height", height, "m")
    return ORDINARY * GRAVITY * height


def wall_tension(
    pressure: float, radius: float, wall: float, strength: float, before: tuple[Step, ...] = ()
) -> Verdict:
    """Tension along the circumference of a tube's wall against what it may carry.

    Args:
        pressure: at the foot, Pa.
        radius: of its inside, m.
        wall: thickness, m.
        strength: that its maker allows, Pa.
        before: how the pressure was found.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: a wall of less than a tenth of the radius; nothing for a seam or for wet cardboard is taken off.
    """
    positive("wall", wall, "m")
    positive("strength", strength, "Pa")
    tension = hoop_tension(pressure, radius, 1.0)
    stress = tension / wall
    steps = (
        *before,
        step("T", "p * r", tension / 1e3, "N/mm", p=pressure / 1e6, r=radius / MM),
        step("f", "T / t", stress / MPA, "MPa", T=tension / 1e3, t=wall / MM),
        given("f_max", strength / MPA, "MPa", "the maker's, from the shop file"),
    )
    return Verdict(
        "tube wall in tension", stress / MPA, strength / MPA, "MPa", "hoop tension, statics", steps
    )
