"""Foam before the first batch: what a full measure of it must weigh, and the solution to make up for a pour."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.errors import RangeError
from formwork.mix.absolute_volume import WATER, effective_volume
from formwork.mix.pour_records import Batch, FoamCheck, Solution
from formwork.mix.records import Foam, Mix
from formwork.units.show import UnitSystem

MEASURE: dict[UnitSystem, float] = {"mm": 1.0e-3, "in": 0.946352946e-3}
"""The measure that is filled with foam, m3: a litre, or a US quart (57.75 in3)."""

NEAR = 0.10
"""Share by which foam may be off its density and still be used as planned (common practice, no source)."""


def foam_check(mix: Mix, foam: Foam, units: UnitSystem) -> FoamCheck | None:
    """What a measure full of foam weighs net, and what foam that is heavier does to the mix; None without foam.

    Foam that is heavier by a share k of its density rho_f, put in by volume, gives the wet density
    (m_s + (1+k)*rho_f*V_f)/(V_s + v_eff'*V_f); put in by weight, its volume is V_f/(1+k). Source: mass and volume
    balance (derived).

    Args:
        mix: one cubic metre of it.
        foam: at hand.
        units: of the person: a litre or a US quart is filled.

    Raises:
        RangeError: for foam so heavy that foam a tenth heavier would not be lighter than water.

    >>> foam = Foam(50.0, 1.0, 40.0)
    >>> from formwork.mix.cellular import design
    >>> from formwork.mix.records import CellularWanted, Cement
    >>> mix = design(CellularWanted(600.0, None, 0.5), Cement("portland", 3.15, 25.0), foam)
    >>> round(foam_check(mix, foam, "mm").net * 1000.0, 6)  # g in a litre
    50.0
    """
    if mix.foam_volume <= 0.0:
        return None
    volume = MEASURE[units]
    net = foam.density * volume
    return FoamCheck(
        density=foam.density,
        volume=volume,
        net=net,
        low=(1.0 - NEAR) * net,
        high=(1.0 + NEAR) * net,
        wet_by_volume=_wet(mix, foam, mix.foam_volume),
        wet_by_weight=_wet(mix, foam, mix.foam_volume / (1.0 + NEAR)),
    )


def _wet(mix: Mix, foam: Foam, volume: float) -> float:
    """Wet density when a volume of foam a tenth too heavy goes into the slurry of one cubic metre of mix."""
    heavier = (1.0 + NEAR) * foam.density
    slurry = 1.0 - effective_volume(foam.density, foam.survival) * mix.foam_volume
    mass = mix.wet_density - mix.foam_mass + heavier * volume
    return mass / (slurry + effective_volume(heavier, foam.survival) * volume)


def solution(batches: Sequence[Batch]) -> Solution | None:
    """Foam solution to make up for a run of batches, reserve for hose and tank in it; None where none takes foam.

    The solution is taken to weigh what water weighs.

    Args:
        batches: the mixer loads.

    Raises:
        RangeError: for a batch with a foam of negative mass.
    """
    concentrate = sum(batch.concentrate + batch.reserve_concentrate for batch in batches)
    water = sum(batch.dilution_water + batch.reserve_water for batch in batches)
    reserve = sum(batch.reserve_concentrate + batch.reserve_water for batch in batches)
    if min(concentrate, water, reserve) < 0.0:
        raise RangeError("foam solution: got a negative mass, want 0 or more")
    if concentrate + water == 0.0:
        return None
    return Solution(
        volume=(concentrate + water) / WATER,
        concentrate=concentrate / WATER,
        water=water / WATER,
        reserve=reserve / WATER,
    )
