"""What ``formwork batch`` prints: the card of a mix that goes into no mold of ours."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import get_args

import click

from formwork.errors import RangeError
from formwork.mix.card import card
from formwork.mix.foam_check import foam_check
from formwork.mix.pour_records import Card
from formwork.mix.records import AskedSplit, CellularWanted, Wanted
from formwork.packet.blocks import Block, Line, Points, Section
from formwork.packet.pour_day import cup_lines, foam_lines, left_over, ways_lines
from formwork.packet.pour_sections import batch_table, indicated, mix_lines
from formwork.packet.text import print_out
from formwork.packet.wording import counted
from formwork.pour.reading import reading_wanted
from formwork.project.records import Shop
from formwork.record import record
from formwork.units import show
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem
from formwork.units.table import Kind

_OF_THE_MIX = ("mixer", "foam", "cement", "specific gravity")
_CUSTOMARY = re.compile(r"(in|ft|yd|gal|qt|pt|lb|cu\w+)\w*\b")


def batch_card(volume: str, typed: Mapping[str, str | None]) -> str:
    """The card as text.

    Args:
        volume: of mix, as typed.
        typed: the options, as typed, by their names.

    Raises:
        click.UsageError: for an option that cannot be read, or densities that contradict one another.
        InputError: for a shop file that is wrong.
        RangeError: for a mix that cannot exist.
    """
    asked = _asked(volume, typed)
    split = typed["split"] or asked.split
    made = card(
        _read("VOLUME", volume, "volume"),
        asked.wanted,
        asked.shop.cement,
        asked.shop.foam,
        asked.shop.mixer,
        split=next((each for each in get_args(AskedSplit) if each == split), "best"),
        loss=_read("--loss", typed["loss"] or "0", "ratio"),
        leftover_molds=asked.shop.leftover_molds,
    )
    return print_out([_section(made, asked.shop, asked.units)])


@record
class _Asked:
    """A mix and a shop: of a project file, or as typed."""

    wanted: Wanted
    shop: Shop
    units: UnitSystem
    split: str


_OF_THE_PROJECT = ("wet", "dry", "aim", "water_cement", "sand", "ash", "shop")
"""Options that say what a project file says."""


def _asked(volume: str, typed: Mapping[str, str | None]) -> _Asked:
    if typed["project"]:
        return _of_project(typed["project"], typed)
    shop_file = typed["shop"]
    shop = _shop(shop_file, _units(volume, typed))
    units: UnitSystem = _units(volume, typed) if typed["units"] or not shop_file else shop.units
    return _Asked(_wanted(typed), shop, units, "best")


def _of_project(file: str, typed: Mapping[str, str | None]) -> _Asked:
    from formwork.project.read import read_project  # noqa: PLC0415 - models of the files, only where one is read

    twice = [f"--{name.replace('_', '-')}" for name in _OF_THE_PROJECT if typed[name] is not None]
    if twice:
        raise click.UsageError(f"--project says the mix and its shop: leave out {' and '.join(twice)}")
    project = read_project(Path(file))
    if project.mix is None:
        raise click.BadParameter("got a project without a mix, want one with [mix]", param_hint="--project")
    units: UnitSystem = _units("", typed) if typed["units"] else project.units
    return _Asked(project.mix, project.shop, units, project.batches.split)


def _shop(file: str | None, units: UnitSystem) -> Shop:
    from formwork.project.shop import read_shop  # noqa: PLC0415 - models of the files, only for this command

    return read_shop(Path(file) if file else None, units)


def _units(volume: str, typed: Mapping[str, str | None]) -> UnitSystem:
    """The units asked for, else those that the volume is given in."""
    if typed["units"]:
        return "in" if typed["units"] == "in" else "mm"
    return "in" if _CUSTOMARY.search(volume.casefold()) else "mm"


def _wanted(typed: Mapping[str, str | None]) -> CellularWanted:
    given = [name for name in ("wet", "dry", "aim") if typed[name] is not None]
    if len(given) != 1:
        got = " and ".join(f"--{name}" for name in given) or "none"
        raise click.UsageError(f"the density: got {got}, want one of --wet, --dry and --aim, or a --project")
    wanted = CellularWanted(
        wet_density=_read("--wet", typed["wet"], "density") if typed["wet"] else None,
        dry_density=_read("--dry", typed["dry"], "density") if typed["dry"] else None,
        water_cement=_read("--water-cement", typed["water_cement"] or "0.5", "ratio"),
        sand=_read("--sand", typed["sand"] or "0", "ratio"),
        ash=_read("--ash", typed["ash"] or "0", "ratio"),
    )
    return wanted if typed["aim"] is None else _aimed(wanted, typed["aim"])


def _aimed(wanted: CellularWanted, aim: str) -> CellularWanted:
    """The mix with the density of a published class, by its name or by its strength."""
    from formwork.mix import aims  # noqa: PLC0415 - only where a class is aimed at

    try:
        found = aims.class_of_strength(read(aim, "pressure", None))
    except QuantityError:
        try:
            found = aims.class_named(aim)
        except RangeError as error:
            raise click.BadParameter(f"{error}, or a strength as 1 MPa", param_hint="--aim") from error
    except RangeError as error:
        raise click.BadParameter(str(error), param_hint="--aim") from error
    if found.basis == "wet":
        return replace(wanted, aim=found.said(), wet_density=found.density)
    return replace(wanted, aim=found.said(), dry_density=found.density)


def _read(option: str, text: str, kind: Kind) -> float:
    """The SI value of what was typed.

    Raises:
        click.BadParameter: with what would be right.
    """
    try:
        return read(text, kind, "mm" if kind == "ratio" else None)
    except QuantityError as error:
        raise click.BadParameter(f"got {error.got}, want {error.want}", param_hint=option) from error


def _section(made: Card, shop: Shop, units: UnitSystem) -> Section:
    batches = counted(len(made.batches), "batch", "batches")
    cup = reading_wanted(shop.cup, made.mix.wet_density) if shop.cup else None
    weighed = (*foam_lines(foam_check(made.mix, shop.foam, units), units), *cup_lines(cup, units))
    blocks: list[Block] = [Line(line) for line in (*mix_lines(made.mix, units), *weighed, *made.mix.warnings)]
    blocks += [
        *indicated(made.mix, units),
        Line(f"{shop.mixer.name}: {batches}, {show.volume(made.mixed, units)} of mix in all."),
        batch_table(made.batches, units),
        *(Line(line) for line in ways_lines(made.ways, units)),
        Line(_totals(made, units)),
    ]
    blocks += [Line(line) for line in left_over(made, "", units)]
    if made.cautions:
        blocks.append(Points(made.cautions))
    assumed = tuple(line for line in shop.assumed if line.startswith(_OF_THE_MIX))
    if assumed:
        blocks += [
            Line("Taken as given, because the shop file does not say it or there is none:"),
            Points(assumed),
        ]
    return Section(f"Batch card for {show.volume(made.volume, units)}", tuple(blocks), "batch")


def _totals(made: Card, units: UnitSystem) -> str:
    totals, dry_mix = made.totals, made.mix.dry_mix
    solids = (
        (f"cement ({counted(totals.bags, 'bag')})", totals.cement),
        ("sand", totals.sand),
        ("gravel", totals.gravel),
        ("fly ash", totals.ash),
        *(
            (f"{name} ({counted(totals.bags, 'bag')})" if name == dry_mix else name, mass)
            for name, mass in totals.others
        ),
        ("fibres", totals.fibres),
        ("water in the mixer", totals.water),
    )
    parts = [f"{show.mass(mass, units)} of {name}" for name, mass in solids if mass]
    if totals.foam_volume:
        parts += [
            f"{show.volume(totals.foam_volume, units)} of foam",
            f"{show.mass(totals.concentrate, units)} of concentrate "
            f"in {show.mass(totals.dilution_water, units)} of water",
        ]
    return f"Have ready: {', '.join(parts)}."
