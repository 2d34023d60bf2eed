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
from formwork.mix.records import CellularWanted, Cement, Foam, Ingredient, Mix
from formwork.mix.working import step
from formwork.record import record

_CEMENT = 100.0
"""Cement the steps are worked for, kg; the result does not depend on it."""


@record
class _Solution:
    """The mix that 100 kg of cement make: masses in kg, volumes in m3, densities in kg/m3.

    Fibres are given by the cubic metre of finished mix: ``room`` is what they leave of it, and ``bare`` the wet density
    of what fills that room.
    """

    wanted: CellularWanted
    cement: Cement
    foam: Foam
    slurry_mass: float
    slurry_volume: float
    wet_density: float
    effective: float
    foam_volume: float
    made: float
    room: float
    bare: float


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
    solids = ((1.0, cement.gravity), *((each.share, each.gravity) for each in wanted.ingredients))
    mass = _CEMENT * (1.0 + wanted.water_cement + sum(each.share for each in wanted.ingredients))
    volume = _CEMENT * absolute_volume(solids, wanted.water_cement)
    effective = effective_volume(foam.density, foam.survival)
    room = 1.0 - wanted.fibres / (wanted.fibre_gravity * WATER)
    if wanted.wet_density:
        bare, named = (wanted.wet_density - wanted.fibres) / room, "wet density"
    else:
        bare = _wet_from_dry(wanted, foam, mass, volume, effective, room)
        named = "wet density of what dries to the dry density"
    named += " without its fibres" if wanted.fibres else ""
    refuse_wet_density(bare, mass / volume, foam, named)
    needed = foam_needed(mass, volume, min(bare, mass / volume), foam.density, survival=foam.survival)
    return _Solution(
        wanted=wanted,
        cement=cement,
        foam=foam,
        slurry_mass=mass,
        slurry_volume=volume,
        wet_density=wanted.wet_density or bare * room + wanted.fibres,
        effective=effective,
        foam_volume=needed,
        made=(volume + effective * needed) / room,
        room=room,
        bare=bare,
    )


def _wet_from_dry(
    wanted: CellularWanted, foam: Foam, mass: float, volume: float, effective: float, room: float
) -> float:
    """The wet density whose mix dries to the one wanted; both without the fibres.

    Raises:
        RangeError: if the slurry by itself dries to less.
    """
    dry = ((wanted.dry_density or 0.0) - wanted.fibres) / room
    made = _dry_mass(wanted) / dry if dry > 0.0 else 0.0
    if made < volume * (1.0 - 1e-12):
        raise RangeError(
            f"dry density: got {density_text(dry)}, want {density_text(_dry_mass(wanted) / volume)} or less, "
            "what the slurry dries to without foam (use less water, or sand)"
        )
    return (mass + foam.density * (made - volume) / effective) / made


def _dry_mass(wanted: CellularWanted) -> float:
    return _CEMENT * (1.0 + BOUND_WATER + sum(_stays(each) * each.share for each in wanted.ingredients))


def _stays(ingredient: Ingredient) -> float:
    """What is left of a kilogram of it in the oven, with the water that it has bound."""
    return {"cement": 1.0 + BOUND_WATER, "filler": 1.0, "water": 0.0}[ingredient.counts]


def _counting(wanted: CellularWanted, counts: str) -> float:
    """Over cement, all that counts as that."""
    return sum(each.share for each in wanted.ingredients if each.counts == counts)


def _per_cubic_metre(solution: _Solution) -> Mix:
    wanted, foam = solution.wanted, solution.foam
    cement = _CEMENT / solution.made
    foam_volume = solution.foam_volume / solution.made
    water, foam_mass = wanted.water_cement * cement, foam.density * foam_volume
    binder = 1.0 + _counting(wanted, "cement")
    return Mix(
        kind="cellular",
        wet_density=solution.wet_density,
        dry_density=oven_dry_density(
            binder * cement, _counting(wanted, "filler") * cement + wanted.fibres, 1.0
        ),
        slurry_density=solution.slurry_mass / solution.slurry_volume,
        water_cement=wanted.water_cement,
        water_cement_total=(water + foam_mass) / cement + _counting(wanted, "water"),
        cement=cement,
        water=water,
        sand=wanted.sand * cement,
        ash=wanted.ash * cement,
        gravel=0.0,
        foam_volume=foam_volume,
        foam_mass=foam_mass,
        air=air_content(foam_volume, foam.density, foam.survival, 1.0),
        bag=solution.cement.bag,
        others=tuple((each.name, each.share * cement) for each in wanted.others),
        fibres=wanted.fibres,
        water_binder=wanted.water_cement / binder,
        aim=wanted.aim,
    )


def _judge(solution: _Solution, mix: Mix) -> None:
    """Masses must add up to the wet density, volumes to one cubic metre.

    Raises:
        InternalError: if either is off by more than 1e-9.
    """
    wanted = solution.wanted
    parts = [(each.share * mix.cement, each.gravity) for each in wanted.ingredients]
    solids = [(mix.cement, solution.cement.gravity), *parts, (mix.fibres, wanted.fibre_gravity)]
    mass = sum(part for part, _ in solids) + mix.water + mix.foam_mass
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


def _lettered(wanted: CellularWanted) -> tuple[tuple[str, str, str, Ingredient], ...]:
    """What the slurry takes beside cement and water, each with the symbols of its ratio, its gravity and its mass."""
    letters = {"sand": ("s", "G_s", "S"), "fly ash": ("a", "G_a", "A")}
    usual, others = wanted.ingredients[: -len(wanted.others) or None], wanted.others
    return (
        *((*letters[each.name], each) for each in usual),
        *((f"p{i}", f"G_{i}", f"P{i}", each) for i, each in enumerate(others, start=1)),
    )


def _slurry_steps(solution: _Solution, mix: Mix) -> list[str]:
    wanted = solution.wanted
    parts = _lettered(wanted)
    ratios = "".join(f" + {ratio}" for ratio, *_ in parts)
    volumes = "".join(f" + {ratio} / {gravity}" for ratio, gravity, *_ in parts)
    values = {"wc": wanted.water_cement, "G_c": solution.cement.gravity, "C_1": _CEMENT, "rho_w": WATER}
    values |= {ratio: each.share for ratio, _, _, each in parts}
    values |= {gravity: each.gravity for _, gravity, _, each in parts}
    found = {"m_s": solution.slurry_mass, "V_s": solution.slurry_volume}
    return [
        step("slurry of 100 kg of cement m_s", f"C_1 * (1 + wc{ratios})", values, solution.slurry_mass, "kg"),
        step(
            "its volume V_s", f"C_1 * (1 / G_c + wc{volumes}) / rho_w", values, solution.slurry_volume, "m3"
        ),
        step("slurry density rho_s", "m_s / V_s", found, mix.slurry_density, "kg/m3"),
    ]


def _foam_steps(solution: _Solution) -> list[str]:
    """Foam for the slurry of 100 kg of cement; with fibres, to the density D_0 of what is not fibre."""
    wanted, foam = solution.wanted, solution.foam
    values = {
        "eta": foam.survival,
        "rho_f": foam.density,
        "rho_w": WATER,
        "m_s": solution.slurry_mass,
        "V_s": solution.slurry_volume,
        "v_eff": solution.effective,
        "D": solution.wet_density,
        "D_0": solution.bare,
        "V_f": solution.foam_volume,
        "q": wanted.fibres,
        "G_q": wanted.fibre_gravity,
        "e": solution.room,
    }
    density = "D_0" if wanted.fibres else "D"
    whole = "(V_s + v_eff * V_f) / e" if wanted.fibres else "V_s + v_eff * V_f"
    needed = f"(m_s - {density} * V_s) / ({density} * v_eff - rho_f)"
    added = "eta * (1 - rho_f / rho_w) + rho_f / rho_w"
    return [
        step("volume that 1 m3 of foam adds v_eff", added, values, solution.effective, "m3"),
        *_fibre_steps(solution, values),
        *_dry_steps(solution, values),
        step("foam for this slurry V_f", needed, values, solution.foam_volume, "m3"),
        step("mix made of it Y", whole, values, solution.made, "m3"),
    ]


def _fibre_steps(solution: _Solution, values: dict[str, float]) -> list[str]:
    """What fibres leave of a cubic metre, and the wet density of that; none without fibres."""
    if not solution.wanted.fibres:
        return []
    left = step("share of the mix that is not fibre e", "1 - q / (G_q * rho_w)", values, solution.room)
    if solution.wanted.dry_density:
        return [left]
    return [left, step("wet density without fibres D_0", "(D - q) / e", values, solution.bare, "kg/m3")]


def _dry_steps(solution: _Solution, values: dict[str, float]) -> list[str]:
    """How the wet density follows from the dry one; none where the wet density was given."""
    wanted = solution.wanted
    if wanted.dry_density is None:
        return []
    own = {**values, "C_1": _CEMENT, "b": BOUND_WATER, "rho_od": wanted.dry_density}
    own |= {ratio: each.share for ratio, _, _, each in _lettered(wanted)}
    made = solution.made * solution.room
    fibres = wanted.fibres > 0.0
    dry = f"C_1 * (1 + b{_left_when_dry(wanted, 'ratio')}) / {'((rho_od - q) / e)' if fibres else 'rho_od'}"
    own["Y_d"] = made
    name = "wet density without fibres D_0" if fibres else "wet density D"
    wet = "(m_s + rho_f * (Y_d - V_s) / v_eff) / Y_d"
    steps = [
        step("mix that dries to it Y_d", dry, own, made, "m3"),
        step(name, wet, own, solution.bare, "kg/m3"),
    ]
    whole = step("wet density D", "D_0 * e + q", own, solution.wet_density, "kg/m3")
    return [*steps, whole] if fibres else steps


def _left_when_dry(wanted: CellularWanted, what: str) -> str:
    """The symbols of all that stays in the oven, each with the water it has bound: of its ratio or of its mass."""
    terms = {"cement": " + (1 + b) * {}", "filler": " + {}", "water": ""}
    return "".join(
        terms[each.counts].format(ratio if what == "ratio" else mass)
        for ratio, _, mass, each in _lettered(wanted)
    )


def _ingredient_steps(solution: _Solution, mix: Mix) -> list[str]:
    values = {"C_1": _CEMENT, "Y": solution.made, "C": mix.cement, "wc": solution.wanted.water_cement}
    values |= {"V_f": solution.foam_volume, "F": mix.foam_volume, "rho_f": solution.foam.density}
    steps = [
        step("cement C", "C_1 / Y", values, mix.cement, "kg/m3"),
        step("water in the mixer W", "wc * C", values, mix.water, "kg/m3"),
    ]
    for ratio, _, mass, each in _lettered(solution.wanted):
        own = {**values, ratio: each.share}
        steps.append(step(f"{each.name} {mass}", f"{ratio} * C", own, each.share * mix.cement, "kg/m3"))
    return [
        *steps,
        step("foam F", "V_f / Y", values, mix.foam_volume, "m3/m3"),
        step("foam's mass m_f", "rho_f * F", values, mix.foam_mass, "kg/m3"),
    ]


def _result_steps(solution: _Solution, mix: Mix) -> list[str]:
    wanted, foam = solution.wanted, solution.foam
    parts = _lettered(wanted)
    fibres = " + q" if wanted.fibres else ""
    masses = "".join(f" + {mass}" for _, _, mass, _ in parts)
    liquids = "".join(f" + {mass}" for _, _, mass, each in parts if each.counts == "water")
    values = {"C": mix.cement, "W": mix.water, "m_f": mix.foam_mass, "b": BOUND_WATER, "q": mix.fibres}
    values |= {mass: each.share * mix.cement for _, _, mass, each in parts}
    values |= {"eta": foam.survival, "rho_f": foam.density, "rho_w": WATER, "F": mix.foam_volume}
    dry = f"(1 + b) * C{_left_when_dry(wanted, 'mass')}{fibres}"
    total = "water-cement ratio with the foam's water wct"
    return [
        step(total, f"(W + m_f{liquids}) / C", values, mix.water_cement_total),
        step("air", "eta * (1 - rho_f / rho_w) * F", values, mix.air, "m3/m3"),
        step("oven-dry density rho_od", dry, values, mix.dry_density, "kg/m3"),
        step("wet density by its masses D", f"C + W{masses}{fibres} + m_f", values, mix.wet_density, "kg/m3"),
    ]
