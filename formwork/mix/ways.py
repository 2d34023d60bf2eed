"""All ways to cut a volume of mix into batches, so that a person may choose another one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import get_args

from formwork.errors import RangeError
from formwork.mix.batches import batch_sizes
from formwork.mix.pour_records import Way
from formwork.mix.records import AskedSplit, Mix, Mixer, Split

_NAMES: tuple[Split, ...] = ("whole bags", "half bags", "equal", "bags and a rest", "full")
"""Which name goes first of ways that come to the same batches."""
_SAME = 1e-6
"""Share of the volume by which two leftovers may differ and still be the same."""


def ways(volume: float, mix: Mix, mixer: Mixer, asked: AskedSplit) -> tuple[Way, ...]:
    """Every way to cut a volume of mix that this mixer can make, the best one first.

    Best is the least leftover, then the fewest kinds of batch, then the fewest batches; of what is equal in all of
    that, whole bags, for nothing is weighed then. Ways that come to the same batches are named once. Source: common
    practice.

    Args:
        volume: that must leave the mixer, m3.
        mix: one cubic metre of it.
        mixer: at hand.
        asked: the way that was asked for, or the best one.
    """
    made = [way for split in get_args(Split) if (way := _way(volume, mix, mixer, split, asked)) is not None]
    by_sizes: dict[tuple[tuple[int, int], ...], Way] = {}
    for way in sorted(made, key=lambda way: (not way.chosen, _NAMES.index(way.split))):
        by_sizes.setdefault(_sizes(way, volume), way)
    ranked = sorted(by_sizes.values(), key=lambda way: _rank(way, volume))
    return tuple(
        Way(
            way.split,
            way.sizes,
            way.leftover,
            way.bags,
            best=not place,
            chosen=not place if asked == "best" else way.chosen,
        )
        for place, way in enumerate(ranked)
    )


def settled(asked: AskedSplit, cut: Sequence[Way]) -> Split:
    """The way that batches are cut, where the best one was asked for.

    Args:
        asked: by a person.
        cut: all ways, the best one first; where the mixer can make none of them, equal batches say why.
    """
    if asked != "best":
        return asked
    return cut[0].split if cut else "equal"


def _way(volume: float, mix: Mix, mixer: Mixer, split: Split, asked: AskedSplit) -> Way | None:
    """One of them; None where this mixer cannot make it."""
    try:
        sizes = batch_sizes(volume, mix, mixer, split)
    except RangeError:
        return None
    runs = tuple((len(list(run)), size) for size, run in groupby(sizes))
    over = max(sum(sizes) - len(sizes) * mixer.residue - volume, 0.0)
    bags = tuple(round(size * mix.bags, 9) for _, size in runs)
    return Way(split, runs, over, bags, chosen=split == asked)


def _sizes(way: Way, volume: float) -> tuple[tuple[int, int], ...]:
    return tuple((count, round(size / (_SAME * volume))) for count, size in way.sizes)


def _rank(way: Way, volume: float) -> tuple[int, int, int, int]:
    whole = all(bags == round(bags) for bags in way.bags)
    return (
        round(way.leftover / (_SAME * volume)),
        len(way.sizes),
        sum(count for count, _ in way.sizes),
        0 if whole else 1,
    )
