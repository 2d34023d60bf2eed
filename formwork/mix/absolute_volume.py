"""The absolute volume method: what slurry and foam come to in volume, mass and density.

Every formula here that needs the density of water takes it as an argument, and is then valid in any
consistent units (kg and m3 with 1000, lb and ft3 with 62.4).

Symbols: rho_w water, rho_f foam, eta survival, D wet density, m_s and V_s mass and volume of the slurry, V_f
volume of foam. Foam is liquid and air: each volume of it brings rho_f/rho_w of liquid, which stays, and the
rest air, of which the fraction eta stays.
"""

from __future__ import annotations

from collections.abc import Iterable

from formwork.errors import RangeError

WATER = 1000.0
"""Density of water in mix design, kg/m3."""

BOUND_WATER = 0.2
"""Water that hydration binds, over the cement's mass (ASTM C869-91(1999), Table 1, footnote A)."""


def absolute_volume(
    solids: Iterable[tuple[float, float]], water: float, water_density: float = WATER
) -> float:
    """Volume of solids and water without air, m3.

    Source: the total absolute volume of the components in the batch, ASTM C138/C138M-17, section 3.
    Valid: masses of 0 and more, specific gravities above 0.

    Args:
        solids: mass, kg, and specific gravity of each solid.
        water: mass of water, kg.
        water_density: kg/m3.

    Raises:
        RangeError: outside the limits.

    >>> absolute_volume([(1.0, 3.15)], 0.5) * 1000.0  # litres of neat paste of one kilogram of cement
    0.81746
    """
    solids = tuple(solids)
    for mass, gravity in solids:
        _at_least("mass of a solid", mass, 0.0)
        _above("specific gravity", gravity, 0.0)
    _at_least("mass of water", water, 0.0)
    return (sum(mass / gravity for mass, gravity in solids) + water) / water_density


def effective_volume(foam_density: float, survival: float, water_density: float = WATER) -> float:
    """Volume v_eff that one volume of foam adds to a mix, when only part of its air survives.

    v_eff = eta*(1 - rho_f/rho_w) + rho_f/rho_w. Source: volume balance of liquid and air (derived).
    Valid: foam lighter than water, survival above 0 and not above 1.

    Args:
        foam_density: kg/m3.
        survival: fraction of the foam's air still in the mix.
        water_density: kg/m3.

    Raises:
        RangeError: outside the limits.

    >>> effective_volume(50.0, 1.0)
    1.0
    """
    _above("foam density", foam_density, 0.0)
    if not foam_density < water_density:
        raise RangeError(f"foam density: got {foam_density:g}, want less than water's {water_density:g}")
    if not 0.0 < survival <= 1.0:
        raise RangeError(f"foam survival: got {survival:g}, want a fraction above 0 and not above 1")
    liquid = foam_density / water_density
    return survival * (1.0 - liquid) + liquid


def foam_needed(
    mass: float,
    volume: float,
    wet_density: float,
    foam_density: float,
    *,
    survival: float = 1.0,
    water_density: float = WATER,
) -> float:
    """Foam that brings a slurry, or a batch that came out too heavy, to a wet density: V_f, m3.

    V_f = (m_s - D*V_s)/(D*v_eff - rho_f). Source: mass and volume balance (derived).
    Valid: rho_f < D*v_eff, and D not above the density of what is there already.

    Args:
        mass: of the slurry or batch, kg.
        volume: of the slurry or batch, m3.
        wet_density: wanted, kg/m3.
        foam_density: kg/m3.
        survival: fraction of the foam's air still in the mix.
        water_density: kg/m3.

    Raises:
        RangeError: outside the limits.

    One bag of 94 lb at water-cement ratio 0.50, foam of 2.5 lb/ft3, to 30 lb/ft3, in ft3:

    >>> foam_needed(141.0, 1.2314, 30.0, 2.5, water_density=62.4)
    3.784
    """
    _above("volume", volume, 0.0)
    _above("wet density", wet_density, 0.0)
    added = effective_volume(foam_density, survival, water_density)
    if not wet_density * added > foam_density:
        raise RangeError(
            f"wet density: got {wet_density:g}, want more than {foam_density / added:g}, "
            f"which foam of density {foam_density:g} and survival {survival:g} comes to by itself"
        )
    surplus = mass - wet_density * volume
    if surplus < -1e-12 * mass:
        raise RangeError(
            f"wet density: got {wet_density:g}, want {mass / volume:g} or less: foam only makes a mix lighter"
        )
    return max(surplus, 0.0) / (wet_density * added - foam_density)


def base_water_cement(
    total: float,
    wet_density: float,
    solids: Iterable[tuple[float, float]],
    foam_density: float,
    *,
    survival: float = 1.0,
    water_density: float = WATER,
) -> float:
    """Water-cement ratio at the mixer when the total ratio, with the foam's water, is given.

    Source: derived; that ASTM C796 counts the foam's water inside the total and finds the foam from the
    volume of air is from memory.
    Valid: the total ratio holds at least the foam's own water, and leaves room for air.

    Args:
        total: water of mixer and foam over cement.
        wet_density: kg/m3.
        solids: mass over the cement's, and specific gravity, of each solid; the cement itself as (1,
            gravity).
        foam_density: kg/m3.
        survival: fraction of the foam's air still in the mix.
        water_density: kg/m3.

    Raises:
        RangeError: outside the limits.

    >>> base_water_cement(0.58, 641.0, [(1.0, 3.15)], 45.0) * 405.70  # kg of water in the mixer, per m3
    205.34
    """
    solids = tuple(solids)
    _above("total water-cement ratio", total, 0.0)
    cement = wet_density / (total + sum(mass for mass, _ in solids))
    air = 1.0 - cement * absolute_volume(solids, total, water_density)
    if air < 0.0:
        raise RangeError(f"wet density: got {wet_density:g}, want {wet_density / (1.0 - air):g} or less")
    held = effective_volume(foam_density, survival, water_density) - foam_density / water_density
    base = total - foam_density * air / held / cement
    if base < 0.0:
        raise RangeError(
            f"total water-cement ratio: got {total:g}, want {total - base:g} or more: the foam's own water"
        )
    return base


def air_content(
    foam_volume: float, foam_density: float, survival: float, volume: float, water_density: float = WATER
) -> float:
    """Volume of air per volume of mix, the foam's air that survived.

    Source: derived; with no loss it is the gravimetric air content of ASTM C138, (T - D)/T, T the density
    without air.

    Args:
        foam_volume: m3 of foam put in.
        foam_density: kg/m3.
        survival: fraction of the foam's air still in the mix.
        volume: of the mix made, m3.
        water_density: kg/m3.

    Raises:
        RangeError: for a volume of 0 or less, or foam outside the limits of ``effective_volume``.

    >>> air_content(0.66587, 45.0, 1.0, 1.0)  # the C796 standard batch at 641 kg/m3
    0.6359
    """
    _above("volume", volume, 0.0)
    held = effective_volume(foam_density, survival, water_density) - foam_density / water_density
    return held * foam_volume / volume


def oven_dry_density(cement: float, inert: float, volume: float) -> float:
    """Oven-dry density, kg/m3: dry solids and the water that hydration binds.

    rho_od = (1.2*C + inert)/Y. Source: ASTM C869-91(1999), Table 1, footnote A: water of hydration taken as
    20 % of the mass of the cement.

    Args:
        cement: kg, with any other powder that is to be counted as binding water.
        inert: dry sand, gravel and powders that bind none, kg.
        volume: of the mix made of them, m3.

    Raises:
        RangeError: for a volume of 0 or less.

    ASTM C869 prints 487 and 469 kg/m3 for its standard batches:

    >>> round(oven_dry_density(641.0 / 1.58, 0.0, 1.0)), round(oven_dry_density(641.0 / 1.64, 0.0, 1.0))
    (487, 469)
    """
    _above("volume", volume, 0.0)
    return ((1.0 + BOUND_WATER) * cement + inert) / volume


def air_dry_density(oven_dry: float) -> float:
    """Density in equilibrium with room air, kg/m3: about 50 more than oven-dry.

    Source: ASTM C567-05a, clause 5, written for structural lightweight-aggregate concrete; for cellular
    concrete an estimate only.

    Args:
        oven_dry: kg/m3.

    >>> air_dry_density(487.0)
    537.0
    """
    return oven_dry + 50.0


def concentrate_in(foam_mass: float, dilution: float) -> float:
    """Concentrate in the foam's liquid, kg, the liquid taken to weigh what water weighs.

    Source: the definition of a dilution by volume, R parts of water to one of concentrate.
    Valid: dilution of 0 and more.

    Args:
        foam_mass: kg of foam, all of it liquid.
        dilution: parts of water to one of concentrate, by volume.

    Raises:
        RangeError: outside the limits.

    >>> concentrate_in(31.05, 40.0)
    0.757
    """
    _at_least("dilution", dilution, 0.0)
    return foam_mass / (dilution + 1.0)


def _above(name: str, value: float, limit: float) -> None:
    if not limit < value < float("inf"):
        raise RangeError(f"{name}: got {value:g}, want more than {limit:g}")


def _at_least(name: str, value: float, limit: float) -> None:
    if not limit <= value < float("inf"):
        raise RangeError(f"{name}: got {value:g}, want {limit:g} or more")
