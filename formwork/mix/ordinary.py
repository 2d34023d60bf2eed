"""Ordinary concrete or mortar: proportions and fresh density in, the cubic metre out."""

from __future__ import annotations

from dataclasses import replace

from formwork.errors import RangeError
from formwork.mix.absolute_volume import BOUND_WATER, WATER, absolute_volume, oven_dry_density
from formwork.mix.both_units import density_text
from formwork.mix.limits import refuse_cement
from formwork.mix.records import Cement, Mix, OrdinaryWanted
from formwork.mix.working import step

ROCK = 2.65
"""Specific gravity taken for sand and gravel, whose own is not asked: that of quartz (from memory)."""

AIR = 0.02
"""Air left in ordinary concrete once it is placed, where nobody measured its fresh density (common practice)."""

_MOST_AIR = 0.12
"""More air than this in an ordinary mix says that density and proportions do not belong together."""


def design_ordinary(wanted: OrdinaryWanted, cement: Cement) -> Mix:
    """One cubic metre of a mix of the proportions and the fresh density given.

    Source: yield from masses and measured density, ASTM C138/C138M-17; oven-dry density with the bound water
    of ASTM C869-91(1999), Table 1, footnote A (the same factor in C567, from memory).
    Valid: cement above 0, water at least what it binds (0.2), sand and gravel 0 and more, density 1000 to
    3000 kg/m3.

    Args:
        wanted: proportions by mass in any common unit, fresh density in kg/m3.
        cement: at hand.

    Raises:
        RangeError: outside the limits.

    >>> wanted = OrdinaryWanted(2400.0, 1.0, 0.5, 2.0, 3.0)
    >>> mix = design_ordinary(wanted, Cement("portland", 3.15, 25.0))
    >>> round(mix.cement, 1), round(mix.cement + mix.water + mix.sand + mix.gravel, 1)
    (369.2, 2400.0)
    """
    refuse_cement(cement)
    _refuse(wanted)
    fresh = wanted.wet_density or _with_usual_air(wanted, cement)
    share = fresh / (wanted.cement + wanted.water + wanted.sand + wanted.gravel)
    binder, water = share * wanted.cement, share * wanted.water
    sand, gravel = share * wanted.sand, share * wanted.gravel
    solid = absolute_volume([(binder, cement.gravity), (sand, ROCK), (gravel, ROCK)], water)
    mix = Mix(
        kind="ordinary",
        wet_density=fresh,
        dry_density=oven_dry_density(binder, sand + gravel, 1.0),
        slurry_density=fresh,
        water_cement=wanted.water / wanted.cement,
        water_cement_total=wanted.water / wanted.cement,
        cement=binder,
        water=water,
        sand=sand,
        ash=0.0,
        gravel=gravel,
        foam_volume=0.0,
        foam_mass=0.0,
        air=max(1.0 - solid, 0.0),
        bag=cement.bag,
        vibrated=wanted.vibrated,
    )
    return replace(mix, warnings=_warnings(mix, solid), working=_working(wanted, cement, mix, solid))


def _with_usual_air(wanted: OrdinaryWanted, cement: Cement) -> float:
    """Fresh density of the proportions with ``AIR`` in them, kg/m3."""
    solids = [(wanted.cement, cement.gravity), (wanted.sand, ROCK), (wanted.gravel, ROCK)]
    mass = wanted.cement + wanted.water + wanted.sand + wanted.gravel
    return mass / absolute_volume(solids, wanted.water) * (1.0 - AIR)


def _refuse(wanted: OrdinaryWanted) -> None:
    if wanted.wet_density is not None and not 1000.0 <= wanted.wet_density <= 3000.0:
        raise RangeError(
            f"fresh density: got {density_text(wanted.wet_density)}, "
            "want 1000 to 3000 kg/m3 (62 to 187 lb/ft3)"
        )
    if not 0.0 < wanted.cement < float("inf"):
        raise RangeError(f"cement in the proportions: got {wanted.cement:g}, want more than 0")
    if not BOUND_WATER * wanted.cement <= wanted.water <= 3.0 * wanted.cement:
        raise RangeError(f"water in the proportions: got {wanted.water:g}, want 0.2 to 3 times the cement")
    for name, amount in (("sand", wanted.sand), ("gravel", wanted.gravel)):
        if not 0.0 <= amount < float("inf"):
            raise RangeError(f"{name} in the proportions: got {amount:g}, want 0 or more")


def _warnings(mix: Mix, solid: float) -> tuple[str, ...]:
    said = []
    if solid > 1.0:
        said.append(
            f"At {density_text(mix.wet_density)} these proportions would fill {solid:.3f} m3 in each "
            f"(sand and gravel taken at {ROCK:g}): the density is too high, or the aggregate a heavy one."
        )
    if mix.air > _MOST_AIR:
        said.append(
            f"At {density_text(mix.wet_density)} these proportions leave {100.0 * mix.air:.0f} % "
            f"air (sand and gravel taken at {ROCK:g}): the density is too low, or the aggregate a light one."
        )
    if mix.water_cement > 0.7:
        said.append(f"Water-cement ratio {mix.water_cement:.2f}: above 0.70 expect a weak, porous piece.")
    return tuple(said)


def _working(wanted: OrdinaryWanted, cement: Cement, mix: Mix, solid: float) -> tuple[str, ...]:
    given = {
        "c": wanted.cement,
        "w": wanted.water,
        "s": wanted.sand,
        "g": wanted.gravel,
        "D": mix.wet_density,
    }
    made = {"C": mix.cement, "W": mix.water, "S": mix.sand, "G": mix.gravel, "b": BOUND_WATER}
    made |= {"G_c": cement.gravity, "G_r": ROCK, "rho_w": WATER}
    parts = "c + w + s + g"
    return (
        step("cement C", f"D * c / ({parts})", given, mix.cement, "kg/m3"),
        step("water W", f"D * w / ({parts})", given, mix.water, "kg/m3"),
        step("sand S", f"D * s / ({parts})", given, mix.sand, "kg/m3"),
        step("gravel G", f"D * g / ({parts})", given, mix.gravel, "kg/m3"),
        step("water-cement ratio wc", "W / C", made, mix.water_cement),
        step("volume without air", "(C / G_c + W + (S + G) / G_r) / rho_w", made, solid, "m3/m3"),
        step("oven-dry density rho_od", "(1 + b) * C + S + G", made, mix.dry_density, "kg/m3"),
        step("fresh density by its masses D", "C + W + S + G", made, mix.wet_density, "kg/m3"),
    )
