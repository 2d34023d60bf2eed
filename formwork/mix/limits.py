"""What a cellular mix may be: what is refused because it cannot exist, and what is only said aloud."""

from __future__ import annotations

import re

from formwork.errors import RangeError
from formwork.mix.absolute_volume import BOUND_WATER, WATER
from formwork.mix.both_units import density_text
from formwork.mix.records import CellularWanted, Cement, Foam, Ingredient, Mix

LEAST_OVER_FOAM = 1.5
"""A wet density must be more than this many times the foam's (common practice: nothing lighter holds)."""

MOST_FIBRES = 0.05
"""Fibres in a mix, by volume: more cannot be mixed in (common practice: 0.1 to 2 %)."""

_BAGGED_MIX = re.compile(
    r"\b(?:concrete|mortar|grout|sand|masonry|post|stucco)[ -]?mix\b|\b(?:ready|pre)-?mix", re.I
)


def refuse_cement(cement: Cement) -> None:
    """Refuse what cannot be cement.

    Valid: specific gravity 2.6 to 3.4 (portland 3.15, blended about 2.90: PCA Design and Control, 1988, as
    quoted elsewhere), a bag above 0 kg. A ready-bagged mix holds aggregate, which sinks and breaks the foam.

    Raises:
        RangeError: saying what was got and wanted.
    """
    _refuse_bagged_mix("cement", cement.name)
    if not 2.6 <= cement.gravity <= 3.4:
        raise RangeError(
            f"cement specific gravity: got {cement.gravity:g}, want 2.6 to 3.4 "
            "(portland 3.15, blended about 2.9; near 2.65 is sand)"
        )
    _positive("mass of a cement bag", cement.bag)


def refuse_foam(foam: Foam) -> None:
    """Refuse foam that cannot exist.

    Valid: density above 0 and under water's, survival above 0 and not above 1, dilution and reserve 0 or
    more, output above 0 where it was measured.

    Raises:
        RangeError: saying what was got and wanted.
    """
    if not 0.0 < foam.density < WATER:
        raise RangeError(
            f"foam density: got {density_text(foam.density)}, want more than 0 and less than water's"
        )
    if not 0.0 < foam.survival <= 1.0:
        raise RangeError(
            f"foam survival: got {foam.survival:g}, want a fraction above 0 and not above 1 (1 = no loss)"
        )
    _not_negative("foam dilution", foam.dilution)
    _not_negative("foam reserve", foam.reserve)
    if foam.output is not None:
        _positive("foam output", foam.output)


def refuse_wanted(wanted: CellularWanted) -> None:
    """Refuse a wish that contradicts itself.

    Valid: one of wet and dry density; water-cement ratio 0.2 (all of it bound, ASTM C869 footnote A) to 3;
    sand, ash and other ingredients 0 or more; their specific gravities above 0; fibres up to 5 % by volume, less than
    the density wanted.

    Raises:
        RangeError: saying what was got and wanted.
    """
    if (wanted.wet_density is None) == (wanted.dry_density is None):
        raise RangeError("density: want either the wet or the dry density, and not both")
    _positive("wet or dry density", wanted.wet_density or wanted.dry_density or 0.0)
    if not BOUND_WATER <= wanted.water_cement <= 3.0:
        raise RangeError(
            f"water-cement ratio: got {wanted.water_cement:g}, want 0.2 to 3 (usual: 0.45 to 0.6)"
        )
    _not_negative("sand over cement", wanted.sand)
    _not_negative("ash over cement", wanted.ash)
    _positive("sand specific gravity", wanted.sand_gravity)
    _positive("ash specific gravity", wanted.ash_gravity)
    for each in wanted.others:
        _refuse_ingredient(each)
    _refuse_fibres(wanted)


def _refuse_ingredient(ingredient: Ingredient) -> None:
    _refuse_bagged_mix(ingredient.name, ingredient.name)
    _not_negative(f"{ingredient.name} over cement", ingredient.share)
    _positive(f"{ingredient.name} specific gravity", ingredient.gravity)


def _refuse_fibres(wanted: CellularWanted) -> None:
    _not_negative("fibres in a cubic metre", wanted.fibres)
    _positive("fibre specific gravity", wanted.fibre_gravity)
    most = min(
        MOST_FIBRES * wanted.fibre_gravity * WATER,
        0.5 * (wanted.wet_density or wanted.dry_density or 0.0),
    )
    if wanted.fibres > most:
        raise RangeError(
            f"fibres in a cubic metre: got {density_text(wanted.fibres)}, want {density_text(most)} or less, 5 % by "
            "volume and half of the density wanted"
        )


def bagged_mix(name: str) -> bool:
    """Whether a name is that of a ready-bagged mix, which holds aggregate.

    Args:
        name: as printed on the bag.

    >>> bagged_mix("mortar mix"), bagged_mix("portland cement, Type IL")
    (True, False)
    """
    return _BAGGED_MIX.search(name) is not None


def _refuse_bagged_mix(what: str, name: str) -> None:
    if bagged_mix(name):
        raise RangeError(
            f"{what}: got {name!r}, want plain cement and powders (a ready-bagged mix holds sand or gravel; "
            "buy portland cement and give the sand by itself)"
        )


def refuse_wet_density(wet: float, slurry: float, foam: Foam, name: str = "wet density") -> None:
    """Refuse a wet density that no amount of this foam gives.

    Valid: more than 1.5 times the foam's density, and not above the slurry's.

    Args:
        wet: kg/m3.
        slurry: density before foam, kg/m3.
        foam: at hand.
        name: what the density is called in the message.

    Raises:
        RangeError: saying what was got and wanted.
    """
    least = LEAST_OVER_FOAM * foam.density
    if wet <= least:
        raise RangeError(
            f"{name}: got {density_text(wet)}, want more than {density_text(least)}, "
            "one and a half times the foam's density (use lighter foam or a denser mix)"
        )
    if wet > slurry * (1.0 + 1e-12):
        raise RangeError(
            f"{name}: got {density_text(wet)}, want {density_text(slurry)} or less, the slurry's own "
            "density (use less water, or sand)"
        )


def warnings(wanted: CellularWanted, foam: Foam, mix: Mix) -> tuple[str, ...]:
    """What a careful reader should know of this mix; empty where all is usual."""
    return (
        *_water_warnings(wanted, mix),
        *_foam_warnings(foam, mix),
        *_density_warnings(wanted, mix),
        *_additive_warnings(wanted),
    )


def _water_warnings(wanted: CellularWanted, mix: Mix) -> list[str]:
    said = []
    base, total = mix.water_cement, mix.water_cement_total
    if base < 0.45 and not any(each.counts == "water" for each in wanted.others):
        said.append(
            f"Water-cement ratio {base:g} is low: a stiff slurry breaks foam and draws water out of it. "
            "Under 0.45 use a plasticiser that suits the foam (common practice)."
        )
    if base > 0.8:
        said.append(
            f"Water-cement ratio {base:g}: 0.35 to 0.80 is published for low-density cellular concrete."
        )
    if total > 0.8:
        said.append(
            f"Water-cement ratio {total:.2f} with the foam's water, above 0.80: expect it weak and slow."
        )
    return said


def _foam_warnings(foam: Foam, mix: Mix) -> list[str]:
    said = []
    if mix.foam_volume < 1e-9:
        said.append("No foam is needed: the slurry by itself has the wet density asked for.")
    if foam.survival < 0.7:
        said.append(
            f"Only {100.0 * foam.survival:.0f} % of the foam's air is taken to survive: under 70 % the mix "
            "is hard to steer; find out first what breaks the foam."
        )
    if not 25.0 <= foam.density <= 100.0:
        said.append(
            f"Foam of {density_text(foam.density)} is unusual (25 to 100 kg/m3): weigh a measure of it again."
        )
    return said


def _density_warnings(wanted: CellularWanted, mix: Mix) -> list[str]:
    said = []
    if wanted.sand > 0.0 and mix.wet_density < 600.0:
        said.append(
            f"Sand in a mix of {density_text(mix.wet_density)}: below 600 kg/m3 none is used, for it sinks."
        )
    if not 320.0 <= mix.wet_density <= 1920.0:
        said.append(
            f"A wet density of {density_text(mix.wet_density)} is outside what is published for cellular "
            "concrete, 320 to 1920 kg/m3 (20 to 120 lb/ft3; ACI 523.1R-06 and 523.3R-14, abstracts)."
        )
    return said


def _additive_warnings(wanted: CellularWanted) -> list[str]:
    said = []
    powders = [each for each in wanted.ingredients if each.counts != "water" and each.name != "sand"]
    if wanted.ash > 0.0:
        said.append(
            "Much fly ash can break some foams: try the ash at hand with the concentrate at hand first."
        )
    liquids = [each for each in wanted.others if each.counts == "water"]
    if liquids:
        names = " and ".join(each.name for each in liquids)
        said.append(f"Not every admixture leaves foam alone: try {names} with the concentrate at hand first.")
    said += [
        f"{each.name}: a dose of {100.0 * each.share:g} % of the cement is far above the usual 0.1 to 5 % (common "
        "practice): is it the dose on the label?"
        for each in liquids
        if each.share > 0.05
    ]
    if sum(each.share for each in powders) > 1.0:
        said.append("There is more powder than cement: expect it weak and slow until you have tried it.")
    return said


def _positive(name: str, value: float) -> None:
    if not 0.0 < value < float("inf"):
        raise RangeError(f"{name}: got {value:g}, want more than 0")


def _not_negative(name: str, value: float) -> None:
    if not 0.0 <= value < float("inf"):
        raise RangeError(f"{name}: got {value:g}, want 0 or more")
