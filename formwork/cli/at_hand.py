"""What is at hand on the day of the pour: of a shop file, or the usual things.

Without a shop file no model of one is loaded, so that a reading is answered at once.
"""

from __future__ import annotations

from pathlib import Path

from formwork.mix.records import Cement, Foam, Mixer
from formwork.project.defaults import usual_cement, usual_foam, usual_mixer
from formwork.record import record
from formwork.units.show import UnitSystem


@record
class AtHand:
    """Mixer, foam and cement."""

    mixer: Mixer
    foam: Foam
    cement: Cement


def at_hand(file: str | None, units: UnitSystem) -> AtHand:
    """What a shop file names, or what is usual.

    Args:
        file: the shop file; None for the usual.
        units: of the usual things, and of a shop that declares none itself.

    Raises:
        InputError: with every fault of the file.
    """
    if file is None:
        return AtHand(usual_mixer(units), usual_foam(), usual_cement(units))
    from formwork.project.shop import read_shop  # noqa: PLC0415 - models of the files, only where a shop is read

    shop = read_shop(Path(file), units)
    return AtHand(shop.mixer, shop.foam, shop.cement)
