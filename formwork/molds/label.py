"""What is written on a mold, so that nobody fills it later with something heavier than it was built for."""

from __future__ import annotations

from formwork.molds.load import Load
from formwork.units import show
from formwork.units.show import UnitSystem


def label(load: Load, units: UnitSystem, *, owned: bool) -> str:
    """Greatest density and fill height; a mold that the shop owns has its label already, which must allow as much.

    Args:
        load: that the mold was built for.
        units: how a person here reads it.
        owned: the shop has the mold already.
    """
    most = f"mix of at most {show.density(load.density, units)}, filled at most {show.length(load.fill, units)} high"
    head = f"full liquid head, {show.pressure(load.pressure(0.0), units)} at the foot"
    if owned:
        return f"Read the label of the mold before you fill it; it must allow this much: {most}, at any rate ({head})."
    return f"Write on the mold: {most}, at any rate (braced for the {head})."
