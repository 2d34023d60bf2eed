"""What ``formwork cure`` prints: evaporation, what the weather asks for, times, a sunken surface."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from formwork.cli.outcome import CHECK_FAILS, DONE
from formwork.cli.typed import optional, quantity, units_of
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.text import print_out
from formwork.pour.curing import (
    COOLING_DAY,
    COOLING_HOUR,
    FROST_DAYS,
    HOTTEST,
    PROTECT_BELOW,
    STRIP,
    STRIP_WITH_CARE,
    Schedule,
    fastest_cooling,
    frost,
    heat_and_cold,
    schedule,
)
from formwork.pour.evaporation import CELLULAR, LB_FT2, ORDINARY, evaporation, reached
from formwork.pour.maturity import Interval
from formwork.pour.settling import settled
from formwork.pour.weather import read_hours, wind
from formwork.record import record
from formwork.units import show
from formwork.units.parse import QuantityError
from formwork.units.show import UnitSystem

Typed = Mapping[str, str | None]


@record
class _Part:
    """A section of the card, and whether it asks for something to be done."""

    section: Section
    act: bool


def cure_card(typed: Typed, *, ordinary: bool) -> tuple[str, int]:
    """The card as text, and the exit status: 1 where something must be done, else 0.

    Args:
        typed: the options, as typed, by their names.
        ordinary: ordinary concrete, not cellular.

    Raises:
        click.UsageError: for an option that cannot be read or is missing.
        InputError: for a file of temperatures that is wrong.
        RangeError: for weather that cannot be.
    """
    units = units_of(typed["units"], (typed["air"], typed["depth"], typed["drop"]))
    parts = [part for part in (_weather(typed, units, ordinary), _times(typed, units, ordinary), _surface(typed, units))
             if part is not None]  # fmt: skip
    if not parts:
        raise click.UsageError(
            "give the weather (--air, with --humidity and --wind for evaporation), a record of temperatures (--hours), "
            "or a sunken surface (--drop with --depth)"
        )
    text = print_out([part.section for part in parts])
    return text, CHECK_FAILS if any(part.act for part in parts) else DONE


def _declared(typed: Typed, units: UnitSystem) -> UnitSystem | None:
    return units if typed["units"] else None


def _weather(typed: Typed, units: UnitSystem, ordinary: bool) -> _Part | None:
    """Evaporation and what heat and cold ask for."""
    declared = _declared(typed, units)
    air = optional("--air", typed["air"], "temperature", declared)
    if air is None:
        return None
    given = optional("--concrete", typed["concrete"], "temperature", declared)
    concrete = air if given is None else given
    blocks: list[Block] = []
    act = concrete > HOTTEST or air < PROTECT_BELOW
    if typed["humidity"] and typed["wind"]:
        rate = evaporation(
            concrete, air, quantity("--humidity", typed["humidity"], "ratio"), _wind(typed["wind"])
        )
        step = reached(rate, ORDINARY if ordinary else CELLULAR)
        act = act or (step is not None and rate >= (ORDINARY if ordinary else CELLULAR)[-1].rate)
        blocks += [Line(_rate_line(rate, units, ordinary)), *_evaporation_advice(rate, ordinary)]
    else:
        blocks.append(Line("Evaporation is not worked out: that takes --humidity and --wind as well."))
    advice = heat_and_cold(air, concrete, units)
    if advice:
        blocks.append(Points(advice))
    if given is None:
        blocks.append(
            Line("The concrete is taken to be as warm as the air: say --concrete where it is warmer.")
        )
    return _Part(Section("Weather", tuple(blocks), "weather"), act)


def _wind(text: str) -> float:
    try:
        return wind(text)
    except QuantityError as error:
        hint = f" ({error.hint})" if error.hint else ""
        raise click.BadParameter(f"got {error.got}, want {error.want}{hint}", param_hint="--wind") from error


def _per_hour(rate: float, units: UnitSystem) -> str:
    if units == "in":
        return f"{show.plain(rate / LB_FT2, 3)} lb/ft2 an hour"
    return f"{show.plain(rate, 2)} kg/m2 an hour"


def _rate_line(rate: float, units: UnitSystem, ordinary: bool) -> str:
    limits = ", ".join(_per_hour(each.rate, units) for each in (ORDINARY if ordinary else CELLULAR))
    kind = "ordinary" if ordinary else "cellular"
    return (
        f"Evaporation: {_per_hour(rate, units)} (limits for {kind} concrete: {limits}). By the "
        "equation of the ACI 305R chart (Uno, 1998), wind half a metre (20 in) above the surface; the true rate may "
        "differ by 40 % either way."
    )


def _evaporation_advice(rate: float, ordinary: bool) -> list[Block]:
    step = reached(rate, ORDINARY if ordinary else CELLULAR)
    if step is None:
        return [Line("Little enough: cover as usual.")]
    said = [f"{step.action[0].upper()}{step.action[1:]} ({step.source})."]
    said.append("A windbreak and shade help most; cool concrete loses less than warm.")
    if not ordinary:
        said.append(
            "Film and not fog or ponding while it is fresh: water jets break the bubbles (common practice)."
        )
    return [Points(tuple(said))]


def _times(typed: Typed, units: UnitSystem, ordinary: bool) -> _Part | None:
    """When to strip and uncover."""
    if typed["hours"]:
        intervals = read_hours(Path(typed["hours"]))
    elif typed["air"]:
        intervals = (Interval(1.0, quantity("--air", typed["air"], "temperature", _declared(typed, units))),)
    else:
        return None
    plan = schedule(intervals, ordinary=ordinary)
    cold = frost(intervals)
    blocks: list[Block] = [
        Line(_basis(plan, bool(typed["hours"]))),
        table(("when", ">from the pour"), _rows(plan, ordinary)),
    ]
    notes = [*_cold_notes(cold), *_cooling_notes(intervals, bool(typed["hours"])), *_care(ordinary)]
    return _Part(Section("Stripping and curing", (*blocks, Points(tuple(notes))), "curing"), cold is not None)


def _basis(plan: Schedule, recorded: bool) -> str:
    if not recorded:
        return "Worked out for the air's temperature as it is now, all the time:"
    return (
        f"{show.digits(plan.recorded)} h of temperatures, worth {show.digits(plan.equivalent)} h at 20 C (68 F); after "
        "them the last day is taken to go on:"
    )


def _rows(plan: Schedule, ordinary: bool) -> list[tuple[str, ...]]:
    if ordinary:
        strip: list[tuple[str, ...]] = [("strip wall forms (ACI 347R-94, as quoted)", _hours(plan.strip))]
    else:
        strip = [
            (f"strip sturdy pieces, earliest ({STRIP:g} h at 20 C, 68 F)", _hours(plan.strip)),
            (
                f"strip light mixes, thin walls, and to lift ({STRIP_WITH_CARE:g} h at 20 C, 68 F)",
                _hours(plan.strip_with_care),
            ),
        ]
    return [*strip, ("uncover (7 days at 10 C, 50 F, and more)", _hours(plan.uncover))]


def _hours(hours: float | None) -> str:
    if hours is None:
        return "not at these temperatures: warm it"
    return f"{show.digits(hours)} h" if hours < 72.0 else f"{show.plain(hours / 24.0, 1)} days"


def _cold_notes(cold: float | None) -> list[str]:
    if cold is None:
        return []
    when = "at once" if cold == 0.0 else f"after {show.digits(cold)} h"
    return [
        f"FROST {when}: fresh concrete is kept from freezing for {FROST_DAYS:g} days at least (ACI 306.1-90, 3.4.4, as "
        "quoted by ACI). A piece that froze fresh is not to be relied on."
    ]


def _cooling_notes(intervals: Sequence[Interval], recorded: bool) -> list[str]:
    hour, day = fastest_cooling(intervals) if recorded else (0.0, 0.0)
    if hour <= COOLING_HOUR and day <= COOLING_DAY:
        return []
    return [
        f"It cooled by up to {hour:.1f} C within an hour and {day:.1f} C within a day; 3 C (5 F) an hour and 10 C "
        "(18 F) a day are the most when protection ends (UFGS 03300N): insulate, and uncover bit by bit."
    ]


def _care(ordinary: bool) -> list[str]:
    maturity = (
        "Hours are scaled by maturity (ASTM C1074, Q = 5000 K from memory). C1074 reads strength only off a curve of "
        "your own mix: try a corner before you strip."
    )
    if ordinary:
        return ["Ordinary concrete: hours at 10 C (50 F) and more are added up."]
    return [
        "24 to 48 h, longer when colder, is common practice for cellular concrete; the times of ordinary concrete do "
        "not hold.",
        maturity,
        "Wrap in film clear of the surface; then two to three weeks of slow drying under a loose cover, before paint "
        "or load (common practice).",
    ]


def _surface(typed: Typed, units: UnitSystem) -> _Part | None:
    """A sunken surface."""
    declared = _declared(typed, units)
    drop = optional("--drop", typed["drop"], "length", declared)
    depth = optional("--depth", typed["depth"], "length", declared)
    if drop is None and depth is None:
        return None
    if drop is None or depth is None:
        raise click.UsageError("a sunken surface takes both --drop and --depth")
    found = settled(drop, depth, optional("--wet", typed["wet"], "density", declared))
    then = "" if found.density is None else f" What stays weighs {show.density(found.density, units)}."
    line = f"The surface fell by {show.share(found.lost)} of the depth: that much air is lost, if nothing leaked.{then}"
    said = {
        "go on": "Under 3 %: go on.",
        "watch": "Over 3 %: watch it. Weigh the foam again, pour in lower lifts, look for leaks (common practice).",
        "stop": "STOP: over 5 %. The foam does not hold: pour no more of this mix. Check its density, the concentrate, "
        "oil on the molds, heat, too high a lift (common practice; no published limit could be read).",
    }[found.verdict]
    return _Part(Section("Surface", (Line(line), Line(said)), "surface"), found.verdict == "stop")
