"""What the day of a pour needs beside the batches, in sentences: foam weighed first, solution made up, leftover."""

from __future__ import annotations

from formwork.mix.foam_check import NEAR
from formwork.mix.records import FoamCheck, Pour, Solution
from formwork.units import show
from formwork.units.show import UnitSystem

_MEASURE: dict[UnitSystem, str] = {"mm": "litre", "in": "US quart"}
_NOTICED = 1e-3
"""Leftover below this share of a pour is not worth a word."""


def foam_lines(check: FoamCheck | None, units: UnitSystem) -> tuple[str, ...]:
    """What a full measure of foam must weigh before the first batch, and what to do where it does not.

    Args:
        check: of the plan; None where no foam is used.
        units: of the person.
    """
    if check is None:
        return ()
    net, low, high = (show.mass(mass, units) for mass in (check.net, check.low, check.high))
    volume, weight = (show.density(wet, units) for wet in (check.wet_by_volume, check.wet_by_weight))
    return (
        f"Foam before the first batch: a full {_MEASURE[units]} of it, struck off, weighs {net} net "
        f"({show.density(check.density, units)}); {low} to {high} is near enough (common practice). Throw foam "
        "away that visibly drains within 10 minutes.",
        f"Foam {show.share(NEAR)} heavier than planned makes the mix {volume} when put in by volume and {weight} "
        "by weight: if it stays off, write the density weighed into the shop file and plan again.",
    )


def pour_notes(pour: Pour, check: FoamCheck | None, units: UnitSystem) -> tuple[str, ...]:
    """What belongs below the batches of a pour, or of each of several alike.

    Args:
        pour: the first of them.
        check: of the foam; None where no foam is used.
        units: of the person.
    """
    return (*_leftover(pour, units), *_solution(pour.solution, check, units))


def _solution(made: Solution | None, check: FoamCheck | None, units: UnitSystem) -> tuple[str, ...]:
    if made is None:
        return ()
    whole, concentrate, water, reserve = (
        show.volume(volume, units, liquid=True)
        for volume in (made.volume, made.concentrate, made.water, made.reserve)
    )
    weighed = f"; weighing the foam takes {show.mass(check.net, units)} of it" if check else ""
    return (
        f"Foam solution to make up for each pour: {whole}, of {concentrate} of concentrate in {water} of water. "
        f"{reserve} of that is reserve for hose and tank{weighed}.",
    )


def _leftover(pour: Pour, units: UnitSystem) -> tuple[str, ...]:
    if pour.leftover <= pour.volume * _NOTICED:
        return ()
    over, remains = show.volume(pour.leftover, units), show.volume(pour.remains, units)
    if not pour.put_away:
        return (f"Of that, {over} is left over in each pour: have a small mold ready for it.",)
    molds = ", then ".join(f"{count} {name}" for name, count in pour.put_away)
    rest = f"; {remains} fits none of them" if pour.remains > pour.leftover * _NOTICED else ""
    return (f"Of that, {over} is left over in each pour: it fills {molds}{rest}.",)
