"""The weighing cup that the options of ``formwork weigh`` describe."""

from __future__ import annotations

from collections.abc import Mapping

import click

from formwork.cli.typed import optional, quantity
from formwork.pour.measure import Measure, by_pipe, by_print, by_sizes, by_water, named_pipe
from formwork.units.show import UnitSystem

WAYS = {"cup": "--cup", "cup_across": "--cup-across", "cup_pipe": "--cup-pipe", "cup_water": "--cup-water"}


def cup(typed: Mapping[str, str | None], tare: float, step: float, declared: UnitSystem | None) -> Measure:
    """The cup, by the one way in which it is described.

    Args:
        typed: the options, as typed, by their names.
        tare: mass of the empty cup, kg.
        step: of the scale, kg.
        declared: units of bare numbers; None where each must carry its own.

    Raises:
        click.UsageError: if it is described in no way, in two, or by half of one.
        RangeError: for a cup that cannot be.
    """
    ways = [name for name in WAYS if typed[name] is not None]
    if len(ways) != 1:
        got = " and ".join(WAYS[name] for name in ways) or "none"
        raise click.UsageError(
            f"the cup: got {got}, want one of --cup VOLUME, --cup-across with --cup-deep, --cup-pipe with "
            "--cup-deep, or --cup-water with --water-at; or a shop file with a [cup]"
        )
    way, text = ways[0], typed[ways[0]] or ""
    match way:
        case "cup":
            return by_print(quantity("--cup", text, "volume", declared))
        case "cup_across":
            return by_sizes(quantity("--cup-across", text, "length", declared), _deep(typed, declared))
        case "cup_pipe":
            size, schedule = named_pipe(text)
            return by_pipe(size, _deep(typed, declared), schedule)
        case _:
            full = quantity("--cup-water", text, "mass", declared)
            at = optional("--water-at", typed["water_at"], "temperature", declared)
            if at is None:
                raise click.UsageError("--cup-water needs the water's temperature: --water-at")
            return by_water(full, tare, at, step)


def _deep(typed: Mapping[str, str | None], declared: UnitSystem | None) -> float:
    deep = optional("--cup-deep", typed["cup_deep"], "length", declared)
    if deep is None:
        raise click.UsageError("the cup: its inside depth is missing: --cup-deep")
    return deep
