"""What ``formwork batch`` prints: the card of a mix that goes into no mold of ours."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import get_args

import click

from formwork.mix.card import card
from formwork.mix.foam_check import foam_check
from formwork.mix.records import Card, CellularWanted, Split
from formwork.packet.blocks import Block, Line, Points, Section
from formwork.packet.pour_day import foam_lines, ways_lines
from formwork.packet.pour_sections import batch_table, mix_lines
from formwork.packet.text import print_out
from formwork.packet.wording import counted
from formwork.project.records import Shop
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
    shop_file = typed["shop"]
    shop = _shop(shop_file, _units(volume, typed))
    units: UnitSystem = _units(volume, typed) if typed["units"] or not shop_file else shop.units
    split = typed["split"]
    made = card(
        _read("VOLUME", volume, "volume"),
        _wanted(typed),
        shop.cement,
        shop.foam,
        shop.mixer,
        split=next((each for each in get_args(Split) if each == split), "equal"),
        loss=_read("--loss", typed["loss"] or "0", "ratio"),
    )
    return print_out([_section(made, shop, units)])


def _shop(file: str | None, units: UnitSystem) -> Shop:
    from formwork.project.shop import read_shop  # noqa: PLC0415 - models of the files, only for this command

    return read_shop(Path(file) if file else None, units)


def _units(volume: str, typed: Mapping[str, str | None]) -> UnitSystem:
    """The units asked for, else those that the volume is given in."""
    if typed["units"]:
        return "in" if typed["units"] == "in" else "mm"
    return "in" if _CUSTOMARY.search(volume.casefold()) else "mm"


def _wanted(typed: Mapping[str, str | None]) -> CellularWanted:
    wet, dry = typed["wet"], typed["dry"]
    if (wet is None) == (dry is None):
        raise click.UsageError("give the density as poured (--wet) or oven-dry (--dry), one of the two")
    return CellularWanted(
        wet_density=_read("--wet", wet, "density") if wet else None,
        dry_density=_read("--dry", dry, "density") if dry else None,
        water_cement=_read("--water-cement", typed["water_cement"] or "", "ratio"),
        sand=_read("--sand", typed["sand"] or "0", "ratio"),
    )


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
    weighed = foam_lines(foam_check(made.mix, shop.foam, units), units)
    blocks: list[Block] = [Line(line) for line in (*mix_lines(made.mix, units), *weighed)]
    blocks += [
        Line(f"{shop.mixer.name}: {batches}, {show.volume(made.mixed, units)} of mix in all."),
        batch_table(made.batches, units),
        *(Line(line) for line in ways_lines(made.ways, units)),
        Line(_totals(made, units)),
    ]
    if made.leftover > made.mixed * 1e-3:
        blocks.append(
            Line(
                f"Of that, {show.volume(made.leftover, units)} is left over: have a small mold ready for it."
            )
        )
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
    totals = made.totals
    parts = [
        f"{show.mass(totals.cement, units)} of cement ({counted(totals.bags, 'bag')})",
        f"{show.mass(totals.water, units)} of water in the mixer",
    ]
    if totals.sand:
        parts.append(f"{show.mass(totals.sand, units)} of sand")
    if totals.foam_volume:
        parts += [
            f"{show.volume(totals.foam_volume, units)} of foam",
            f"{show.mass(totals.concentrate, units)} of concentrate "
            f"in {show.mass(totals.dilution_water, units)} of water",
        ]
    return f"Have ready: {', '.join(parts)}."
