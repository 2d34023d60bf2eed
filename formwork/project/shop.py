"""The shop: read from its file, or the built-in one of someone who has no shop file."""

from __future__ import annotations

from pathlib import Path

from formwork.errors import InputError
from formwork.project import assumed
from formwork.project.defaults import CURRENCY, USUAL_TIMES, usual_cement, usual_foam, usual_mixer, usual_saw
from formwork.project.records import Shop
from formwork.stock import catalogue, pipes, tubes
from formwork.units.show import UnitSystem


def read_shop(path: Path | None, units: UnitSystem = "in") -> Shop:
    """The shop of a file, or the built-in one.

    Args:
        path: the shop file; None for the built-in shop.
        units: of a shop that declares none itself, and of the built-in one.

    Raises:
        InputError: with every fault of the file.
    """
    if path is None:
        return built_in(units)
    from formwork.project.shop_file import open_shop  # noqa: PLC0415 - models that only a shop file needs

    shop, faults = open_shop(path, units)
    if shop is None:
        raise InputError(faults)
    return shop


def built_in(units: UnitSystem) -> Shop:
    """The shop of someone who has no shop file: a usual yard's stock, no prices.

    Args:
        units: "in" or "mm".
    """
    sheets, sticks = catalogue.sheets(units), catalogue.sticks(units)
    yard_pipes, yard_tubes = pipes.pipes(units), tubes.tubes(units)
    saw, mixer, foam, cement = usual_saw(units), usual_mixer(units), usual_foam(), usual_cement(units)
    lines = (
        assumed.sheets(sheets),
        assumed.sticks(sticks),
        *assumed.saw(units),
        assumed.mixer(mixer, units),
        *assumed.foam(foam, units),
        *assumed.times(USUAL_TIMES),
        *assumed.cement(cement, units),
    )
    return Shop(
        name="the shop",
        units=units,
        currency=CURRENCY[units],
        sheets=sheets,
        sticks=sticks,
        hardware=catalogue.hardware(units),
        saw=saw,
        mixer=mixer,
        foam=foam,
        cement=cement,
        owned=(),
        assumed=lines,
        pipes=yard_pipes,
        pipes_assumed=(assumed.pipes(yard_pipes),),
        tubes=yard_tubes,
        tubes_assumed=(assumed.tubes(yard_tubes),),
    )
