"""A surface that sinks in the mold: air is lost, and what stays is denser."""

from __future__ import annotations

from typing import Literal

from formwork.errors import RangeError
from formwork.mix.both_units import length_text
from formwork.record import record

WATCH, STOP = 0.03, 0.05
"""Shares of the depth lost at which to watch, and to stop (common practice; no published limit could be read)."""


@record
class Settled:
    """What a sunken surface means.

    Attributes:
        lost: share of the volume lost, all of it air.
        density: of what stays, kg/m3; None where the density poured is not known.
        verdict: whether to go on.
    """

    lost: float
    density: float | None
    verdict: Literal["go on", "watch", "stop"]


def settled(drop: float, depth: float, wet_density: float | None = None) -> Settled:
    """Air lost and the density after, from the drop of a surface in a mold that does not leak.

    lost = dh/h, rho' = rho/(1 - dh/h). Source: mass balance (derived); limits by common practice.
    Valid: straight sides; a drop of 0 and more and less than the depth.

    Args:
        drop: of the surface, m.
        depth: of the mix as poured, m.
        wet_density: as poured, kg/m3.

    Raises:
        RangeError: outside the limits.

    600 to 650 kg/m3 is a drop of 7.7 %:

    >>> settled(0.0231, 0.3, 600.0).density
    650.1
    """
    if not 0.0 < depth <= 20.0:
        raise RangeError(f"depth: got {length_text(depth)}, want more than 0 and up to 20 m")
    if not 0.0 <= drop < depth:
        raise RangeError(
            f"drop of the surface: got {length_text(drop)}, want 0 or more and less than the depth, "
            f"{length_text(depth)}"
        )
    lost = drop / depth
    density = None if wet_density is None else wet_density / (1.0 - lost)
    verdict: Literal["go on", "watch", "stop"] = (
        "stop" if lost > STOP else "watch" if lost > WATCH else "go on"
    )
    return Settled(lost, density, verdict)
