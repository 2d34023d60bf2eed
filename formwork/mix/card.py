"""A batch card: a volume of mix with no mold behind it."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.mix.batches import batches, leftover, order_volume, totals
from formwork.mix.cautions import cautions
from formwork.mix.design import mix_for
from formwork.mix.leftovers import put_away
from formwork.mix.pour_records import Card, LeftoverMold
from formwork.mix.records import AskedSplit, Cement, Foam, Mixer, Wanted
from formwork.mix.ways import settled, ways


def card(
    volume: float,
    wanted: Wanted,
    cement: Cement,
    foam: Foam,
    mixer: Mixer,
    *,
    split: AskedSplit = "equal",
    overfill: float = 0.0,
    loss: float = 0.0,
    leftover_molds: Sequence[LeftoverMold] = (),
) -> Card:
    """Mix, batches and totals for a volume of mix.

    Args:
        volume: asked for, m3.
        wanted: the mix, densities in kg/m3.
        cement: at hand.
        foam: at hand.
        mixer: at hand.
        split: how batches are cut to size.
        overfill: mix above the volume, as a fraction.
        loss: mix lost after the mixer, as a fraction of what leaves it.
        leftover_molds: where leftover goes, the preferred one first.

    Raises:
        RangeError: for a mix that cannot exist or a mixer that cannot make it.

    >>> from formwork.mix.records import CellularWanted
    >>> wanted, cement = CellularWanted(600.0, None, 0.5), Cement("portland", 3.15, 25.0)
    >>> mixer = Mixer("drum", "tilting drum", 0.100, "whole drum", 0.060, 0.002)
    >>> made = card(0.200, wanted, cement, Foam(45.0, 1.0, 40.0), mixer)
    >>> len(made.batches), made.totals.bags, made.totals.cement / made.totals.volume
    (4, 4, 379.302)
    """
    mix = mix_for(wanted, cement, foam)
    mixed = order_volume(volume, overfill, loss)
    cut = ways(mixed, mix, mixer, split)
    loads = batches(mixed, mix, mixer, foam, settled(split, cut))
    over = leftover(mixed, loads, mixer)
    filled, remains = put_away(over, leftover_molds, overfill=overfill, loss=loss)
    return Card(
        volume=volume,
        mixed=mixed,
        mix=mix,
        batches=loads,
        totals=totals(loads),
        leftover=over,
        cautions=cautions(mix, mixer),
        ways=cut,
        put_away=filled,
        remains=remains,
    )
