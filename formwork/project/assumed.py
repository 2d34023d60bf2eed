"""What was taken from the built-in defaults, in lines a person can read."""

from __future__ import annotations

from collections.abc import Collection

from formwork.mix.pour_records import Times
from formwork.mix.records import Cement, Foam, Mixer
from formwork.project.defaults import BAG, END_TRIM, KERF, TRIM
from formwork.stock.records import SheetStock, StickStock
from formwork.stock.tubes import TubeStock
from formwork.units import show
from formwork.units.show import UnitSystem


def sheets(stock: tuple[SheetStock, ...]) -> str:
    """The line of a usual yard's sheets.

    Args:
        stock: the sheets.
    """
    return f"sheets: a usual yard's, without prices: {', '.join(sheet.name for sheet in stock)}"


def sticks(stock: tuple[StickStock, ...]) -> str:
    """The line of a usual yard's sticks.

    Args:
        stock: the sticks.
    """
    return f"sticks: a usual yard's, without prices: {', '.join(stick.name for stick in stock)}"


def pipes(stock: tuple[StickStock, ...]) -> str:
    """The line of a usual yard's pipes.

    Args:
        stock: the pipes.
    """
    return f"pipes: a usual yard's, without prices: {', '.join(pipe.name for pipe in stock)}"


def tubes(stock: tuple[TubeStock, ...]) -> str:
    """The line of a usual yard's tubes.

    Args:
        stock: the tubes.
    """
    return (
        f"tubes: a usual yard's, without prices, measured by nobody: {', '.join(tube.name for tube in stock)}"
    )


def saw(units: UnitSystem, given: Collection[str] = ()) -> list[str]:
    """A line for each figure of the saw that was not given.

    Args:
        units: of the shop.
        given: keys that were.
    """
    lines = {
        "kerf": f"saw kerf: {KERF[units]}",
        "trim": f"trim off each sheet edge: {TRIM[units]}",
        "end_trim": f"trim off each end of a stick: {END_TRIM[units]}",
    }
    return [line for key, line in lines.items() if key not in given]


def mixer(usual: Mixer, units: UnitSystem) -> str:
    """The line of a mixer that was not given at all.

    Args:
        usual: the mixer taken.
        units: of the shop.
    """
    rated, usable = show.volume(usual.rated, units), show.volume(usual.usable, units)
    return f"mixer: {usual.name} of {rated}, {usable} of finished mix a batch"


def usable(volume: float, share: float, units: UnitSystem) -> str:
    """The line of a mixer's usable volume.

    Args:
        volume: m3.
        share: of the rated volume.
        units: of the shop.
    """
    return f"finished mix of one batch: {show.volume(volume, units)}, {show.share(share)} of the rated volume"


def residue(volume: float, units: UnitSystem) -> str:
    """The line of what stays in the mixer.

    Args:
        volume: m3.
        units: of the shop.
    """
    return f"mix left in the mixer after a batch: {show.volume(volume, units)}"


def foam(taken: Foam, units: UnitSystem, given: Collection[str] = ()) -> list[str]:
    """A line for each figure of the foam that was not given.

    Args:
        taken: the foam.
        units: of the shop.
        given: keys that were.
    """
    lines = {
        "density": f"foam density: {show.density(taken.density, units)}",
        "survival": f"foam's air still in the mix once placed: {show.share(taken.survival)}",
        "dilution": f"foam concentrate: 1 part in {taken.dilution:g} parts of water",
        "reserve": f"foam solution made up beyond need: {show.share(taken.reserve)}",
    }
    return [line for key, line in lines.items() if key not in given]


def times(taken: Times, given: Collection[str] = ()) -> list[str]:
    """One line for all the times of the shop that were not given.

    Args:
        taken: the times.
        given: keys that were.
    """
    said = {
        "mixing": f"slurry of a batch {show.time(taken.mixing)}",
        "blending": f"blending its foam in {show.time(taken.blending)}",
        "placing": f"placing it {show.time(taken.placing)}",
        "workable": f"mix workable after its foam went in {show.time(taken.workable)} (a shop's 15 to 20 min)",
        "next_lift": f"next lift after {show.time(taken.next_lift)}",
        "strip": f"molds come off after {show.time(taken.strip)} (24 to 48 h, longer below 15 C)",
        "turn_round": f"molds ready again {show.time(taken.turn_round)} later",
        "cover": f"pieces under film {show.time(taken.cover)}",
        "day": f"a working day of {show.time(taken.day)}",
    }
    missing = [text for key, text in said.items() if key not in given]
    return [f"times: {', '.join(missing)}"] if missing else []


def cement(taken: Cement, units: UnitSystem, given: Collection[str] = ()) -> list[str]:
    """A line for each figure of the cement that was not given.

    Args:
        taken: the cement.
        units: of the shop.
        given: keys that were.
    """
    lines = {
        "bag": f"cement bag: {BAG[units]}",
        "gravity": f"specific gravity of the cement: {taken.gravity:g}",
    }
    return [line for key, line in lines.items() if key not in given]
