"""Foam and slurry as they are measured at the mixer: in full buckets and one filled to a mark."""

from __future__ import annotations

from formwork.packet.wording import counted
from formwork.units import show
from formwork.units.show import UnitSystem

BUCKET: dict[UnitSystem, str] = {"in": "5 gal", "mm": "10 L"}
"""The bucket that is used where none is named."""


def buckets(volume: float, bucket: float, units: UnitSystem) -> str:
    """A volume in whole buckets and one filled to a mark.

    Args:
        volume: m3.
        bucket: what one holds, m3.
        units: of the person.
    """
    whole = int(volume / bucket + 1e-9)
    part = volume - whole * bucket
    size, mark = show.volume(bucket, units, liquid=True), show.volume(part, units, liquid=True)
    full = f"{counted(whole, 'full bucket')} of {size}" if whole else ""
    last = f"a bucket up to its {mark} mark" if part > 1e-3 * bucket else ""
    return " and ".join(each for each in (full, last) if each) or "a trace"
