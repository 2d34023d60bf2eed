"""What a mixer holds: what its rating means, and what is refused."""

from __future__ import annotations

from typing import Literal

from formwork.errors import RangeError
from formwork.mix.records import Mixer

_FILL = {"tilting drum": 0.6, "paddle": 0.6, "drill and tub": 0.8}
"""Finished mix over the whole drum or tub (common practice, no source); a turning drum spills first."""

_CUBIC_FOOT = 0.028316846592


def volume_text(volume: float) -> str:
    """A volume in both systems.

    >>> volume_text(0.0566337)
    '56.6 L (2.00 ft3)'
    """
    return f"{1000.0 * volume:.1f} L ({volume / _CUBIC_FOOT:.2f} ft3)"


def usable_volume(
    kind: Literal["tilting drum", "paddle", "drill and tub"],
    rated: float,
    rating: Literal["whole drum", "mixed output"],
) -> float:
    """Finished mix that one batch may come to, m3, where the shop has not measured it.

    Source: common practice, no source: 60 % of a whole drum, 80 % of a tub; a rating of mixed output stands
    as it is.

    Args:
        kind: of mixer.
        rated: volume on its plate, m3.
        rating: what that volume means.

    Raises:
        RangeError: for a rating of 0 or less.

    >>> usable_volume("tilting drum", 0.100, "whole drum"), usable_volume("paddle", 0.100, "mixed output")
    (0.06, 0.1)
    """
    if not 0.0 < rated < float("inf"):
        raise RangeError(f"mixer's rated volume: got {rated:g} m3, want more than 0")
    return rated * _FILL[kind] if rating == "whole drum" else rated


def refuse_mixer(mixer: Mixer) -> None:
    """Refuse a mixer that cannot work.

    Valid: usable volume above 0 and not above a whole drum's; residue and least batch under the usable
    volume.

    Raises:
        RangeError: saying what was got and wanted.
    """
    usable = volume_text(mixer.usable)
    if not 0.0 < mixer.usable < float("inf"):
        raise RangeError(f"mixer {mixer.name}: got a usable volume of {usable}, want more than 0")
    if mixer.rating == "whole drum" and mixer.usable > mixer.rated:
        raise RangeError(
            f"mixer {mixer.name}: got a usable volume of {usable}, want {volume_text(mixer.rated)} or less"
        )
    if not 0.0 <= mixer.residue < mixer.usable:
        raise RangeError(
            f"mixer {mixer.name}: got a residue of {volume_text(mixer.residue)}, want 0 or more and less "
            f"than the usable {usable}"
        )
    if not 0.0 <= mixer.least <= mixer.usable:
        raise RangeError(
            f"mixer {mixer.name}: got a least batch of {volume_text(mixer.least)}, want 0 or more and not "
            f"above the usable {usable}"
        )
