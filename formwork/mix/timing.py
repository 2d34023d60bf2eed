"""Time on the day of a pour: mixing, foaming, blending and placing, against how long the mix stays workable.

One mixer makes one batch after another. A mold must be full while the first mix in it can still be moved: the time is
counted from when foam begins to run into that first batch, since foam ages from then on.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate
from types import MappingProxyType

from formwork.errors import RangeError
from formwork.mix.pour_records import Batch, MoldFill, SlowFill, Times, Timing

_SLACK = 1e-9
"""Share of a pour within which a mold and a batch end together, against rounding."""


def timing(
    volume: float,
    batches: Sequence[Batch],
    molds: Sequence[tuple[str, float]],
    residue: float,
    times: Times,
    least: Mapping[str, float] = MappingProxyType({}),
) -> Timing | None:
    """How long a pour takes, and which of its molds is filled most slowly; None for a pour of nothing.

    Source: sums of the shop's own times, the batches placed into the molds in their order.
    Valid: molds that the batches fill, times of 0 and more.

    Args:
        volume: mix that must reach the molds, m3; what the batches give beyond it is left over.
        batches: the mixer loads, in order.
        molds: name and volume of each mold as it is filled, in order; volumes in any common unit.
        residue: mix that stays in the mixer after each batch, m3.
        times: of the shop.
        least: time that a mold of that name takes to fill at the least, s, where it may not be filled at any rate.

    Raises:
        RangeError: for a mold's volume or a time under 0.
    """
    _refuse(molds, times)
    whole = sum(size for _, size in molds)
    if not batches or not whole:
        return None
    takes = [(name, volume * size / whole) for name, size in molds]
    fills = [_fill(*reached, batches, times) for reached in _reached(batches, takes, residue)]
    slowest = max(fills, key=lambda fill: fill.seconds)
    slow = tuple(_slow(fill, least[fill.name]) for fill in fills if least.get(fill.name))
    loads = [_foaming(batch) + times.mixing + _blending(batch, times) + times.placing for batch in batches]
    return Timing(
        batch=max(loads),
        foaming=max(_foaming(batch) for batch in batches),
        foaming_known=all(batch.foam_seconds is not None or not batch.foam_volume for batch in batches),
        total=sum(loads) + sum(one.wait for one in slow),
        age=max(_age(batch, times) for batch in batches),
        slowest=slowest,
        in_time=all(batch.foam_volume == 0.0 for batch in batches) or slowest.seconds <= times.workable,
        slow=slow,
    )


def _foaming(batch: Batch) -> float:
    """Seconds the generator runs; 0 where its output was not measured."""
    return batch.foam_seconds or 0.0


def _age(batch: Batch, times: Times) -> float:
    """Seconds from the first foam in a batch until the whole of it is placed."""
    return _foaming(batch) + _blending(batch, times) + times.placing


def _blending(batch: Batch, times: Times) -> float:
    """Seconds that blending foam in takes; 0 where there is none."""
    return times.blending if batch.foam_volume else 0.0


def _reached(
    batches: Sequence[Batch], molds: Sequence[tuple[str, float]], residue: float
) -> list[tuple[str, int, int]]:
    """The first and the last batch that go into each mold, counted from 0; leftover is what comes last.

    Args:
        batches: the mixer loads, in order.
        molds: name of each and what it takes, m3.
        residue: m3.
    """
    ends = list(accumulate(batch.volume - residue for batch in batches))
    slack = _SLACK * ends[-1]
    found: list[tuple[str, int, int]] = []
    filled = 0.0
    for name, takes in molds:
        start, filled = filled, filled + takes
        first = next((at for at, end in enumerate(ends) if end > start + slack), len(ends) - 1)
        last = next((at for at, end in enumerate(ends) if end > filled - slack), len(ends) - 1)
        found.append((name, first, max(first, last)))
    return found


def _fill(name: str, first: int, last: int, batches: Sequence[Batch], times: Times) -> MoldFill:
    placed = sum(_age(batch, times) for batch in batches[first : last + 1])
    more = last - first
    ahead = placed + more * max(times.mixing - times.placing, 0.0)
    return MoldFill(name, first + 1, last + 1, placed + more * times.mixing, ahead)


def _slow(fill: MoldFill, least: float) -> SlowFill:
    """From the first concrete in a mold until it is full its batches are placed, each mixed when the last one is in."""
    count = fill.last - fill.first + 1
    return SlowFill(fill.name, count, least, max(0.0, least - fill.seconds))


def _refuse(molds: Sequence[tuple[str, float]], times: Times) -> None:
    for name, volume in molds:
        if not 0.0 <= volume < float("inf"):
            raise RangeError(f"{name}: got a volume of {volume:g}, want 0 or more")
    for said in ("mixing", "blending", "placing", "workable"):
        if not 0.0 <= getattr(times, said) < float("inf"):
            raise RangeError(f"time of {said}: got {getattr(times, said):g} s, want 0 or more")
