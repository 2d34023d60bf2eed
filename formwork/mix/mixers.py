"""What a mixer must be able to do, and what is refused."""

from __future__ import annotations

from formwork.errors import RangeError
from formwork.mix.both_units import volume_text
from formwork.mix.records import Mixer


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
