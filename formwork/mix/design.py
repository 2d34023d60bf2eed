"""The mix for whatever kind was asked for."""

from __future__ import annotations

from typing import assert_never

from formwork.mix.cellular import design
from formwork.mix.ordinary import design_ordinary
from formwork.mix.records import BaggedWanted, CellularWanted, Cement, Foam, Mix, OrdinaryWanted, Wanted


def mix_for(wanted: Wanted, cement: Cement, foam: Foam) -> Mix:
    """One cubic metre of the mix wanted; an ordinary mix takes no foam.

    Raises:
        RangeError: for a mix that cannot exist.
    """
    match wanted:
        case CellularWanted():
            return design(wanted, cement, foam)
        case OrdinaryWanted():
            return design_ordinary(wanted, cement)
        case BaggedWanted():
            from formwork.mix.bagged import design_bagged  # noqa: PLC0415 - only for a ready-bagged mix

            return design_bagged(wanted)
        case _:
            assert_never(wanted)
