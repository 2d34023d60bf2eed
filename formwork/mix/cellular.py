"""A cellular mix from what is wanted of it: one cubic metre, every step recorded."""

from __future__ import annotations

from dataclasses import replace

from formwork.errors import InternalError, RangeError
from formwork.mix.absolute_volume import (
    BOUND_WATER,
    WATER,
    absolute_volume,
    air_content,
    effective_volume,
    foam_needed,
    oven_dry_density,
)
from formwork.mix.both_units import density_text
from formwork.mix.limits import (
    refuse_cement,
    refuse_foam,
    refuse_wanted,
    refuse_wet_density,
    warnings,
)
from formwork.mix.records import CellularWanted, Cement, Foam, Mix
from formwork.mix.working import step
from formwork.record import record

_CEMENT = 100.0
"""Cement the steps are worked for, kg; the result does not depend on it."""


@record
class _Solution:
    """The mix that 100 kg of cement make: masses in kg, volumes in m3, densities in kg/m3."""

    wanted: CellularWanted
    cement: Cement
    foam: Foam
    slurry_mass: float
    slurry_volume: float
    wet_density: float
    effective: float
    foam_volume: float
    made: float


def design(wanted: CellularWanted, cement: Cement, foam: Foam) -> Mix:
    """One cubic metre of a cellular mix of the wet or the oven-dry density wanted.

    Source: absolute volumes (ASTM C138/C138M-17) and the balance of foam's liquid and air; oven-dry density
    with the bound water of ASTM C869-91(1999), Table 1, footnote A, fly ash counted as inert.
    Valid: see the ``refuse`` functions of ``limits``.

    Args:
        wanted: densities in kg/m3, proportions over cement.
        cement: at hand.
        foam: at hand, density in kg/m3.

    Raises:
        RangeError: for a mix that cannot exist.

    The standard batch of ASTM C796, for which ASTM C869 prints an oven-dry density of 487 kg/m3; its base
    ratio is 205.34/405.70:

    >>> cement, foam = Cement("Type I", 3.15, 42.6), Foam(45.0, 1.0, 40.0)
    >>> mix = design(CellularWanted(641.0, None, 205.34 / 405.70), cement, foam)
    >>> round(mix.dry_density), round(mix.water_cement_total, 3), round(mix.foam_volume, 4)
    (487, 0.58, 0.6659)
    """
    refuse_cement(cement)
    refuse_foam(foam)
    refuse_wanted(wanted)
    solution = _solve(wanted, cement, foam)
    mix = _per_cubic_metre(solution)
    _judge(solution, mix)
    return replace(mix, warnings=warnings(wanted, foam, mix), working=_working(solution, mix))


def _solve(wanted: CellularWanted, cement: Cement, foam: Foam) -> _Solution:
    solids = ((1.0, cement.gravity), (wanted.sand, wanted.sand_gravity), (wanted.ash, wanted.ash_gravity))
    mass = _CEMENT * (1.0 + wanted.water_cement + wanted.sand + wanted.ash)
    volume = _CEMENT * absolute_volume(solids, wanted.water_cement)
    effective = effective_volume(foam.density, foam.survival)
    wet = wanted.wet_density or _wet_from_dry(wanted, foam, mass, volume, effective)
    named = "wet density" if wanted.wet_density else "wet density of what dries to the dry density"
    refuse_wet_density(wet, mass / volume, foam, named)
    needed = foam_needed(mass, volume, min(wet, mass / volume), foam.density, survival=foam.survival)
    return _Solution(wanted, cement, foam, mass, volume, wet, effective, needed, volume + effective * needed)


def _wet_from_dry(wanted: CellularWanted, foam: Foam, mass: float, volume: float, effective: float) -> float:
    """The wet density whose mix dries to the one wanted.

    Raises:
        RangeError: if the slurry by itself dries to less.
    """
    dry = wanted.dry_density or 0.0
    made = _dry_mass(wanted) / dry
    if made < volume * (1.0 - 1e-12):
        raise RangeError(
            f"dry density: got {density_text(dry)}, want {density_text(_dry_mass(wanted) / volume)} or less, "
            "what the slurry dries to without foam (use less water, or sand)"
        )
    return (mass + foam.density * (made - volume) / effective) / made


def _dry_mass(wanted: CellularWanted) -> float:
    return _CEMENT * (1.0 + BOUND_WATER + wanted.sand + wanted.ash)


def _per_cubic_metre(solution: _Solution) -> Mix:
    wanted, foam = solution.wanted, solution.foam
    cement = _CEMENT / solution.made
    foam_volume = solution.foam_volume / solution.made
    water, foam_mass = wanted.water_cement * cement, foam.density * foam_volume
    return Mix(
        kind="cellular",
        wet_density=solution.wet_density,
        dry_density=oven_dry_density(cement, (wanted.sand + wanted.ash) * cement, 1.0),
        slurry_density=solution.slurry_mass / solution.slurry_volume,
        water_cement=wanted.water_cement,
        water_cement_total=(water + foam_mass) / cement,
        cement=cement,
        water=water,
        sand=wanted.sand * cement,
        ash=wanted.ash * cement,
        gravel=0.0,
        foam_volume=foam_volume,
        foam_mass=foam_mass,
        air=air_content(foam_volume, foam.density, foam.survival, 1.0),
        bag=solution.cement.bag,
    )


def _judge(solution: _Solution, mix: Mix) -> None:
    """Masses must add up to the wet density, volumes to one cubic metre.

    Raises:
        InternalError: if either is off by more than 1e-9.
    """
    wanted = solution.wanted
    mass = mix.cement + mix.water + mix.sand + mix.ash + mix.foam_mass
    solids = (
        (mix.cement, solution.cement.gravity),
        (mix.sand, wanted.sand_gravity),
        (mix.ash, wanted.ash_gravity),
    )
    volume = absolute_volume(solids, mix.water + mix.foam_mass) + mix.air
    if abs(mass / mix.wet_density - 1.0) > 1e-9 or abs(volume - 1.0) > 1e-9:
        raise InternalError(
            f"mix does not balance: {mass:.9g} kg in {volume:.12g} m3 for {mix.wet_density:.9g} kg/m3"
        )


def _working(solution: _Solution, mix: Mix) -> tuple[str, ...]:
    return (
        *_slurry_steps(solution, mix),
        *_foam_steps(solution),
        *_ingredient_steps(solution, mix),
        *_result_steps(solution, mix),
    )


def _powders(wanted: CellularWanted) -> tuple[tuple[str, str, str, float, float], ...]:
    """Sand and ash where the mix has them: ratio, gravity and mass symbol, ratio, gravity."""
    both = (
        ("s", "G_s", "S", wanted.sand, wanted.sand_gravity),
        ("a", "G_a", "A", wanted.ash, wanted.ash_gravity),
    )
    return tuple(powder for powder in both if powder[3] > 0.0)


def _slurry_steps(solution: _Solution, mix: Mix) -> list[str]:
    wanted = solution.wanted
    powders = _powders(wanted)
    ratios = "".join(f" + {ratio}" for ratio, *_ in powders)
    volumes = "".join(f" + {ratio} / {gravity}" for ratio, gravity, *_ in powders)
    values = {"wc": wanted.water_cement, "G_c": solution.cement.gravity, "C_1": _CEMENT, "rho_w": WATER}
    values |= {
        symbol: value for ratio, gravity, _, r, g in powders for symbol, value in ((ratio, r), (gravity, g))
    }
    found = {"m_s": solution.slurry_mass, "V_s": solution.slurry_volume}
    return [
        step("slurry of 100 kg of cement m_s", f"C_1 * (1 + wc{ratios})", values, solution.slurry_mass, "kg"),
        step(
            "its volume V_s", f"C_1 * (1 / G_c + wc{volumes}) / rho_w", values, solution.slurry_volume, "m3"
        ),
        step("slurry density rho_s", "m_s / V_s", found, mix.slurry_density, "kg/m3"),
    ]


def _foam_steps(solution: _Solution) -> list[str]:
    foam = solution.foam
    values = {
        "eta": foam.survival,
        "rho_f": foam.density,
        "rho_w": WATER,
        "m_s": solution.slurry_mass,
        "V_s": solution.slurry_volume,
        "v_eff": solution.effective,
        "D": solution.wet_density,
        "V_f": solution.foam_volume,
    }
    added = step(
        "volume that 1 m3 of foam adds v_eff",
        "eta * (1 - rho_f / rho_w) + rho_f / rho_w",
        values,
        solution.effective,
        "m3",
    )
    return [
        added,
        *_dry_steps(solution, values),
        step(
            "foam for this slurry V_f",
            "(m_s - D * V_s) / (D * v_eff - rho_f)",
            values,
            solution.foam_volume,
            "m3",
        ),
        step("mix made of it Y", "V_s + v_eff * V_f", values, solution.made, "m3"),
    ]


def _dry_steps(solution: _Solution, values: dict[str, float]) -> list[str]:
    """How the wet density follows from the dry one; none where the wet density was given."""
    wanted = solution.wanted
    if wanted.dry_density is None:
        return []
    powders = "".join(f" + {ratio}" for ratio, *_ in _powders(wanted))
    made = _dry_mass(wanted) / wanted.dry_density
    own = {
        **values,
        "C_1": _CEMENT,
        "b": BOUND_WATER,
        "s": wanted.sand,
        "a": wanted.ash,
        "rho_od": wanted.dry_density,
        "Y_d": made,
    }
    return [
        step("mix that dries to it Y_d", f"C_1 * (1 + b{powders}) / rho_od", own, made, "m3"),
        step(
            "wet density D", "(m_s + rho_f * (Y_d - V_s) / v_eff) / Y_d", own, solution.wet_density, "kg/m3"
        ),
    ]


def _ingredient_steps(solution: _Solution, mix: Mix) -> list[str]:
    wanted = solution.wanted
    values = {"C_1": _CEMENT, "Y": solution.made, "C": mix.cement, "wc": wanted.water_cement}
    values |= {"V_f": solution.foam_volume, "F": mix.foam_volume, "rho_f": solution.foam.density}
    steps = [
        step("cement C", "C_1 / Y", values, mix.cement, "kg/m3"),
        step("water in the mixer W", "wc * C", values, mix.water, "kg/m3"),
    ]
    names = {"S": "sand S", "A": "fly ash A"}
    for ratio, _, mass, amount, _ in _powders(wanted):
        steps.append(
            step(names[mass], f"{ratio} * C", {**values, ratio: amount}, amount * mix.cement, "kg/m3")
        )
    return [
        *steps,
        step("foam F", "V_f / Y", values, mix.foam_volume, "m3/m3"),
        step("foam's mass m_f", "rho_f * F", values, mix.foam_mass, "kg/m3"),
    ]


def _result_steps(solution: _Solution, mix: Mix) -> list[str]:
    foam = solution.foam
    masses = "".join(f" + {mass}" for _, _, mass, *_ in _powders(solution.wanted))
    values = {
        "C": mix.cement,
        "W": mix.water,
        "S": mix.sand,
        "A": mix.ash,
        "m_f": mix.foam_mass,
        "b": BOUND_WATER,
    }
    values |= {"eta": foam.survival, "rho_f": foam.density, "rho_w": WATER, "F": mix.foam_volume}
    return [
        step("water-cement ratio with the foam's water wct", "(W + m_f) / C", values, mix.water_cement_total),
        step("air", "eta * (1 - rho_f / rho_w) * F", values, mix.air, "m3/m3"),
        step("oven-dry density rho_od", f"(1 + b) * C{masses}", values, mix.dry_density, "kg/m3"),
        step("wet density by its masses D", f"C + W{masses} + m_f", values, mix.wet_density, "kg/m3"),
    ]
