"""Batches for the mixer at hand.

Each batch makes its share of what must leave the mixer and the residue that stays in it. A batch is never
larger than the mixer's usable volume of finished mix, nor smaller than the least it handles; mix that this
makes beyond the need is the leftover.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor
from typing import assert_never

from formwork.errors import RangeError
from formwork.mix.absolute_volume import concentrate_in
from formwork.mix.both_units import volume_text
from formwork.mix.mixers import handled
from formwork.mix.pour_records import Batch, Totals
from formwork.mix.records import Foam, Mix, Mixer, Split

MOST_BATCHES = 1000
"""Batches in one run; more of them means that a unit slipped."""

_SLACK = 1e-9
"""Share of a batch or bag by which a count may be exceeded without another one, against rounding."""


def order_volume(volume: float, overfill: float, loss: float) -> float:
    """Mix that must leave the mixer for a volume of molds, m3.

    Source: definition; overfill is counted on the molds' volume, loss on what leaves the mixer.
    Valid: overfill 0 or more, loss 0 or more and less than 1.

    Args:
        volume: of the molds, m3.
        overfill: mix above it, for striking off, as a fraction.
        loss: mix lost on the way, as a fraction of what leaves the mixer.

    Raises:
        RangeError: outside the limits.

    >>> order_volume(0.100, 0.05, 0.0)
    0.105
    """
    if not 0.0 <= overfill < float("inf"):
        raise RangeError(f"overfill: got {overfill:g}, want 0 or more (0.05 = 5 %)")
    if not 0.0 <= loss < 1.0:
        raise RangeError(f"loss: got {loss:g}, want 0 or more and less than 1 (0.05 = 5 %)")
    return volume * (1.0 + overfill) / (1.0 - loss)


def batches(volume: float, mix: Mix, mixer: Mixer, foam: Foam, split: Split = "equal") -> tuple[Batch, ...]:
    """The mixer loads for a volume of mix that must leave the mixer.

    Source: common practice; masses in proportion to volume.
    Valid: see ``handled``; whole or half bags need a mixer that holds what one of them makes.

    Args:
        volume: that must leave the mixer, m3.
        mix: one cubic metre of it.
        mixer: at hand.
        foam: at hand, for its dilution, reserve and output.
        split: equal batches; whole or half bags of cement in every batch, the last with what bags remain; whole bags
            and a last batch that is weighed; or full batches and a last one with the rest.

    Raises:
        RangeError: for a volume of 0 or less, or a mixer that cannot make it.
    """
    sizes = batch_sizes(volume, mix, mixer, split)
    loads = {size: load(size, mix, foam) for size in dict.fromkeys(sizes)}
    return tuple(loads[size] for size in sizes)


def batch_sizes(volume: float, mix: Mix, mixer: Mixer, split: Split) -> list[float]:
    """Finished mix of each load for a volume of mix that must leave the mixer, m3.

    Args:
        volume: m3.
        mix: one cubic metre of it.
        mixer: at hand.
        split: as for ``batches``.

    Raises:
        RangeError: for a volume of 0 or less, or a mixer that cannot make it.
    """
    least, most = handled(mixer, mix)
    if not 0.0 < volume < float("inf"):
        raise RangeError(f"volume of mix: got {volume:g} m3, want more than 0")
    match split:
        case "equal":
            return _equal(volume, least, most, mixer)
        case "full":
            return _full(volume, least, most, mixer)
        case "whole bags":
            return _by_bags(volume, 1.0 / mix.bags, least, most, mixer)
        case "bags and a rest":
            return _bags_and_rest(volume, 1.0 / mix.bags, least, most, mixer)
        case "half bags":
            return _by_bags(volume, 0.5 / mix.bags, least, most, mixer)
        case _:
            assert_never(split)


def load(volume: float, mix: Mix, foam: Foam) -> Batch:
    """One batch of a volume of finished mix, its residue included.

    Args:
        volume: m3.
        mix: one cubic metre of it.
        foam: at hand, for its dilution, reserve and output.
    """
    foam_volume, foam_mass = volume * mix.foam_volume, volume * mix.foam_mass
    concentrate = concentrate_in(foam_mass, foam.dilution)
    return Batch(
        volume=volume,
        cement=volume * mix.cement,
        water=volume * mix.water,
        sand=volume * mix.sand,
        ash=volume * mix.ash,
        gravel=volume * mix.gravel,
        bags=round(volume * mix.bags, 9),
        foam_volume=foam_volume,
        foam_mass=foam_mass,
        foam_seconds=None if foam.output is None else foam_volume / foam.output,
        concentrate=concentrate,
        dilution_water=foam_mass - concentrate,
        reserve_concentrate=foam.reserve * concentrate,
        reserve_water=foam.reserve * (foam_mass - concentrate),
        others=tuple((name, volume * amount) for name, amount in mix.others),
        fibres=volume * mix.fibres,
    )


def leftover(volume: float, made: Sequence[Batch], mixer: Mixer) -> float:
    """Mix made that is neither needed nor kept by the mixer, m3.

    Args:
        volume: that must leave the mixer, m3.
        made: the batches.
        mixer: that made them.
    """
    return max(sum(batch.volume - mixer.residue for batch in made) - volume, 0.0)


def totals(made: Sequence[Batch]) -> Totals:
    """What a run of batches takes altogether; cement in whole bags, counted over the whole run."""
    return Totals(
        volume=sum(batch.volume for batch in made),
        cement=sum(batch.cement for batch in made),
        water=sum(batch.water for batch in made),
        sand=sum(batch.sand for batch in made),
        ash=sum(batch.ash for batch in made),
        gravel=sum(batch.gravel for batch in made),
        bags=ceil(sum(batch.bags for batch in made) - _SLACK),
        foam_volume=sum(batch.foam_volume for batch in made),
        foam_mass=sum(batch.foam_mass for batch in made),
        concentrate=sum(batch.concentrate + batch.reserve_concentrate for batch in made),
        dilution_water=sum(batch.dilution_water + batch.reserve_water for batch in made),
        others=_others(made),
        fibres=sum(batch.fibres for batch in made),
    )


def _others(made: Sequence[Batch]) -> tuple[tuple[str, float], ...]:
    """Other powders and admixtures of all batches, by name."""
    names = dict.fromkeys(name for batch in made for name, _ in batch.others)
    return tuple((name, sum(dict(batch.others).get(name, 0.0) for batch in made)) for name in names)


def _equal(volume: float, least: float, most: float, mixer: Mixer) -> list[float]:
    count = _count(volume, most - mixer.residue, mixer)
    return [max(volume / count + mixer.residue, least)] * count


def _full(volume: float, least: float, most: float, mixer: Mixer) -> list[float]:
    count = _count(volume, most - mixer.residue, mixer)
    return _fill(volume + count * mixer.residue, count, most, least)


def _by_bags(volume: float, bag: float, least: float, most: float, mixer: Mixer) -> list[float]:
    """Batches of so many bags, or half bags, each of which makes a volume of mix."""
    fewest, greatest = max(ceil(least / bag - _SLACK), 1), floor(most / bag + _SLACK)
    _refuse_bags(greatest, fewest, bag, most, mixer)
    count = _count(volume, greatest * bag - mixer.residue, mixer)
    needed = ceil((volume + count * mixer.residue) / bag - _SLACK)
    return [bags * bag for bags in _fill(needed, count, greatest, fewest)]


def _bags_and_rest(volume: float, bag: float, least: float, most: float, mixer: Mixer) -> list[float]:
    """Batches of as many whole bags as fit, and a last one of what is still needed."""
    fewest, greatest = max(ceil(least / bag - _SLACK), 1), floor(most / bag + _SLACK)
    _refuse_bags(greatest, fewest, bag, most, mixer)
    full = greatest * bag
    count = _count(volume, full - mixer.residue, mixer)
    rest = volume + count * mixer.residue - (count - 1) * full
    return [full] * (count - 1) + [max(min(rest, full), least)]


def _fill(total: float, count: int, full: float, least: float) -> list[float]:
    """Sizes of batches that come to a total, or to more only where every one of them is the least.

    The first are full; the last takes the rest, or, where that would be less than the least, what the ones
    before it give up.
    """
    gap, spare = full - least, max(total - count * least, 0.0)
    fulls = count if gap == 0.0 else min(floor(spare / gap + _SLACK), count)
    between = [least + max(spare - fulls * gap, 0.0)]
    return ([full] * fulls + between + [least] * (count - fulls - 1))[:count]


def _count(volume: float, share: float, mixer: Mixer) -> int:
    count = max(ceil(volume / share - _SLACK), 1)
    if count > MOST_BATCHES:
        raise RangeError(
            f"mixer {mixer.name}: got {volume_text(volume)} of mix in batches of {volume_text(share)}, want "
            f"{MOST_BATCHES} batches or fewer (is a unit wrong?)"
        )
    return count


def _refuse_bags(greatest: int, fewest: int, bag: float, most: float, mixer: Mixer) -> None:
    if greatest < 1 or greatest * bag <= mixer.residue:
        raise RangeError(
            f"mixer {mixer.name}: got a usable volume of {volume_text(most)}, want "
            f"{volume_text(bag)} and its residue, what one bag makes (split by equal or full batches instead)"
        )
    if fewest > greatest:
        raise RangeError(
            f"mixer {mixer.name}: got {greatest} bags as the most that fit and {fewest} as the least it handles, "
            "want a whole number of bags between (split by equal or full batches instead)"
        )
