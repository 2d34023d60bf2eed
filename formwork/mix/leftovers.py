"""Leftover mix has somewhere to go: small molds of the shop, filled in its order of preference."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from formwork.errors import RangeError
from formwork.mix.batches import order_volume
from formwork.mix.pour_records import LeftoverMold

_SLACK = 1e-9
"""Share of a mold that may be wanting to a full one, against rounding."""


def put_away(
    leftover: float, molds: Sequence[LeftoverMold], *, overfill: float = 0.0, loss: float = 0.0
) -> tuple[tuple[tuple[str, int], ...], float]:
    """How many of each mold the leftover of a pour fills, the preferred ones first, and what still remains.

    A mold is filled whole or not at all. Source: definition; overfill and loss as for any other mold.

    Args:
        leftover: mix that left the mixer and is not needed, m3.
        molds: of the shop, the preferred one first.
        overfill: mix above a mold's volume, for striking off, as a fraction.
        loss: mix lost on the way, as a fraction of what leaves the mixer.

    Raises:
        RangeError: for a leftover under 0, a mold's volume of 0 or less, or a count under 1.

    >>> put_away(0.0050, (LeftoverMold("edging", 0.0020, 1), LeftoverMold("brick", 0.0012, 4)))
    ((('edging', 1), ('brick', 2)), 0.0006)
    """
    if not 0.0 <= leftover < float("inf"):
        raise RangeError(f"leftover: got {leftover:g} m3, want 0 or more")
    filled: list[tuple[str, int]] = []
    remains = leftover
    for mold in molds:
        _refuse(mold)
        takes = order_volume(mold.volume, overfill, loss)
        count = min(mold.count, floor(remains / takes + _SLACK))
        if count:
            filled.append((mold.name, count))
            remains = max(remains - count * takes, 0.0)
    return tuple(filled), remains


def _refuse(mold: LeftoverMold) -> None:
    if not 0.0 < mold.volume < float("inf"):
        raise RangeError(f"leftover mold {mold.name}: got a volume of {mold.volume:g} m3, want more than 0")
    if mold.count < 1:
        raise RangeError(f"leftover mold {mold.name}: got a count of {mold.count}, want 1 or more")
