"""Pours: how often the molds are filled until every piece is cast, and the batches of each filling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from formwork.errors import RangeError
from formwork.mix.placed import Filling, Means, poured
from formwork.mix.pour_records import LeftoverMold, PieceToPour, Pour, Times
from formwork.mix.records import AskedSplit, Foam, Mix, Mixer

MOST_POURS = 10_000
"""Pours in one project; more of them means that a count slipped."""


def pours_needed(order: PieceToPour) -> int:
    """Fillings of its molds until the pieces wanted are cast.

    Raises:
        RangeError: for a count, molds or cavities under 1, a volume of 0 or less, or more than 10 000
            fillings.

    >>> pours_needed(PieceToPour("block", 30, 1, 12, 0.010))
    3
    """
    for name, number in (("count", order.count), ("molds", order.molds), ("cavities", order.cavities)):
        if number < 1:
            raise RangeError(f"{order.name}: got {name} {number}, want 1 or more")
    if not 0.0 < order.volume < float("inf"):
        raise RangeError(f"{order.name}: got a volume of {order.volume:g} m3, want more than 0")
    needed = ceil(order.count / (order.molds * order.cavities))
    if needed > MOST_POURS:
        raise RangeError(f"{order.name}: got {needed} pours, want {MOST_POURS} or fewer (more molds?)")
    return needed


def pours(
    orders: Sequence[PieceToPour],
    mix: Mix,
    mixer: Mixer,
    foam: Foam,
    *,
    split: AskedSplit = "equal",
    overfill: float = 0.0,
    loss: float = 0.0,
    leftover_molds: Sequence[LeftoverMold] = (),
    times: Times | None = None,
) -> tuple[Pour, ...]:
    """Every pour until all pieces are cast; each fills all molds that still have pieces to give.

    The last filling of a mold casts only what is still wanted, so that pieces poured and pieces wanted are
    one number.

    Args:
        orders: the kinds of piece; a name once.
        mix: one cubic metre of it.
        mixer: at hand.
        foam: at hand.
        split: how batches are cut to size.
        overfill: mix above the molds' volume, as a fraction.
        loss: mix lost between mixer and mold, as a fraction of what leaves the mixer.
        leftover_molds: where leftover goes, the preferred one first.
        times: of the shop; None where nobody asks how long it takes.

    Raises:
        RangeError: for orders that cannot be cast or a mixer that cannot make the mix.
    """
    if len({order.name for order in orders}) < len(orders):
        raise RangeError("pieces to pour: got one name twice, want each once")
    last = max((pours_needed(order) for order in orders), default=0)
    fillings = [_filling(orders, number) for number in range(1, last + 1)]
    means = Means(mix, mixer, foam, split, overfill, loss, tuple(leftover_molds), times)
    kinds = {order.name: order for order in orders}
    made = {filling: poured(filling, kinds, means) for filling in dict.fromkeys(fillings)}
    return tuple(replace(made[filling], number=number) for number, filling in enumerate(fillings, start=1))


def _filling(orders: Sequence[PieceToPour], number: int) -> Filling:
    """Pieces of each kind cast in the pour of that number; kinds that are finished are left out."""
    counts = []
    for order in orders:
        gang = order.molds * order.cavities
        now = min(gang, order.count - gang * (number - 1))
        if now > 0:
            counts.append((order.name, now))
    return tuple(counts)
