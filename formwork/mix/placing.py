"""What a mix does once it stands in a mold: it settles under its own head, and shrinks as it dries."""

from __future__ import annotations

from math import log1p

from formwork.errors import RangeError
from formwork.mix.both_units import density_text, length_text
from formwork.mix.records import Mix
from formwork.mix.shrinkage import SOURCE, shrinkage

GRAVITY = 9.80665
"""m/s2."""

ATMOSPHERE = 101_325.0
"""Pa."""

_NOTICEABLE = 0.001
"""Settlement worth a word, m."""


def head_settlement(wet_density: float, air: float, depth: float) -> float:
    """How far the surface sinks when the mix squeezes its own bubbles, m: an upper bound.

    dh = a*(h - p0/(rho*g)*ln(1 + rho*g*h/p0)). Source: derived from Boyle's law for bubbles of no strength;
    no published rule.
    Valid: wet density and depth above 0, air 0 to 1.

    Args:
        wet_density: kg/m3, as mixed.
        air: volume of air per volume of mix.
        depth: of the lift, m.

    Raises:
        RangeError: outside the limits.

    >>> head_settlement(600.0, 0.659, 1.2) * 1000.0  # mm
    26.3
    """
    if not (0.0 < wet_density < float("inf") and 0.0 <= air <= 1.0 and 0.0 < depth < float("inf")):
        raise RangeError(
            f"settlement: got {density_text(wet_density)}, air {air:g}, depth {length_text(depth)}, want a density and "
            "a depth above 0 and air from 0 to 1"
        )
    weight = wet_density * GRAVITY
    return air * (depth - ATMOSPHERE / weight * log1p(weight * depth / ATMOSPHERE))


def placing_cautions(mix: Mix, depth: float, length: float) -> tuple[str, ...]:
    """What to mind of a cellular mix in a mold of this depth and length; empty for ordinary concrete.

    Args:
        mix: one cubic metre of it.
        depth: of the filling, m.
        length: greatest length of the piece, m.

    Raises:
        RangeError: for a depth of 0 or less.
    """
    if mix.kind != "cellular":
        return ()
    return (*_settling(mix, depth), *_shrinking(mix, length))


def _settling(mix: Mix, depth: float) -> list[str]:
    drop = head_settlement(mix.wet_density, mix.air, depth)
    if drop < _NOTICEABLE:
        return []
    return [
        f"Filled to {length_text(depth)}, the surface may sink by up to {length_text(drop)} as the mix squeezes its "
        "own bubbles: keep some mix back to top up before striking off. If it sinks by more than 3 to 5 % of "
        "the depth, stop and find out why."
    ]


def _shrinking(mix: Mix, length: float) -> list[str]:
    try:
        low, high = shrinkage(mix.dry_density)
    except RangeError:
        return []
    return [
        f"Drying shrinks it by {1000.0 * low:.1f} to {1000.0 * high:.1f} mm a metre, {length_text(high * length)} at "
        f"most over {length_text(length)} ({SOURCE}): draw cores before that, and dry it slowly."
    ]
