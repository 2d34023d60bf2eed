"""Ready-bagged concrete or mortar: what is printed on its bag in, the cubic metre out."""

from __future__ import annotations

from formwork.errors import RangeError
from formwork.mix.absolute_volume import WATER
from formwork.mix.both_units import density_text
from formwork.mix.records import BaggedWanted, Mix
from formwork.mix.working import step

LIGHTEST, HEAVIEST = 1000.0, 3000.0
"""Fresh densities, kg/m3, outside which bag, water and yield do not belong together."""


def design_bagged(wanted: BaggedWanted) -> Mix:
    """One cubic metre of a ready-bagged mix.

    Source: yield = mass/density, ASTM C138/C138M-17, with the yield that is printed on the bag. How much of it is
    cement is not printed: the water-cement ratio given is water over the whole dry mix, and the oven-dry density leaves
    out the water that the cement binds, some 2 to 5 %.
    Valid: bag, water and yield above 0, which come to a fresh density of 1000 to 3000 kg/m3.

    Args:
        wanted: what is printed on the bag.

    Raises:
        RangeError: outside the limits.

    A bag of 80 lb that takes 3 quarts of water and yields 0.60 ft3:

    >>> mix = design_bagged(BaggedWanted("concrete mix", 36.287, 2.839, 0.01699))
    >>> round(mix.wet_density), round(mix.bags, 1)
    (2303, 58.9)
    """
    for name, amount in (
        ("bag", wanted.bag),
        ("water of a bag", wanted.water),
        ("yield of a bag", wanted.yields),
    ):
        if not 0.0 < amount < float("inf"):
            raise RangeError(f"{wanted.name}, {name}: got {amount:g}, want more than 0")
    dry, water = wanted.bag / wanted.yields, wanted.water / wanted.yields
    wet = dry + water
    if not LIGHTEST <= wet <= HEAVIEST:
        raise RangeError(
            f"{wanted.name}: got a bag, water and yield that come to {density_text(wet)}, want 1000 to 3000 kg/m3 (62 "
            "to 187 lb/ft3): read the bag again"
        )
    values = {"B": wanted.bag, "w": wanted.water, "Y_b": wanted.yields, "M": dry, "W": water}
    return Mix(
        kind="ordinary",
        wet_density=wet,
        dry_density=dry,
        slurry_density=wet,
        water_cement=wanted.water / wanted.bag,
        water_cement_total=wanted.water / wanted.bag,
        cement=0.0,
        water=water,
        sand=0.0,
        ash=0.0,
        gravel=0.0,
        foam_volume=0.0,
        foam_mass=0.0,
        air=0.0,
        bag=wanted.bag,
        warnings=_warnings(wanted, dry, water),
        working=(
            step(f"{wanted.name} M", "B / Y_b", values, dry, "kg/m3"),
            step("water W", "w / Y_b", values, water, "kg/m3"),
            step("fresh density D", "M + W", values, wet, "kg/m3"),
        ),
        vibrated=wanted.vibrated,
        others=((wanted.name, dry),),
        dry_mix=wanted.name,
        bag_price=wanted.price,
    )


def _warnings(wanted: BaggedWanted, dry: float, water: float) -> tuple[str, ...]:
    said = []
    share = wanted.water / wanted.bag
    if not 0.05 <= share <= 0.3:
        said.append(
            f"Water is {100.0 * share:.0f} % of the dry mix: bags ask for 7 to 20 % as a rule (common practice); more "
            "of it makes a weak, porous piece."
        )
    if dry / 2650.0 + water / WATER > 1.02:
        said.append("Bag and water would fill more than they are said to yield: the yield may be rounded up.")
    return tuple(said)
