"""What ``formwork weigh`` prints: the density, the verdict, and what to add."""

from __future__ import annotations

from collections.abc import Mapping

import click

from formwork.cli.buckets import buckets
from formwork.cli.outcome import CHECK_FAILS, DONE
from formwork.cli.typed import optional
from formwork.cli.weighed import BASIS, Weighed, weighed
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.text import print_out
from formwork.packet.wording import counted
from formwork.pour import advice
from formwork.pour.measure import on_scale, wanted_net
from formwork.units import show

_FAR_OFF = (
    " So far off, weigh again first: a cup not full, a wrong tare or a wrong cup is likelier than such a mix."
)


def weigh_card(reading: str, typed: Mapping[str, str | None]) -> tuple[str, int]:
    """The card as text, and the exit status: 0 in tolerance, 1 out of it.

    Args:
        reading: mass of the full cup, as typed.
        typed: the options, as typed, by their names.

    Raises:
        click.UsageError: for an option that cannot be read or is missing.
        InputError: for a shop file that is wrong.
        RangeError: for a reading that cannot be.
    """
    done = weighed(reading, typed)
    text = print_out([_section(done, typed)])
    return text, CHECK_FAILS if done.verdict in ("too heavy", "too light") else DONE


def _section(done: Weighed, typed: Mapping[str, str | None]) -> Section:
    units = done.units
    blocks: list[Block] = [Line(_read_line(done)), Line(_wanted_line(done)), Line(_verdict_line(done))]
    if done.verdict != "as wanted":
        blocks += _addition(done)
    blocks.append(Points(advice.steps(done.verdict, done.made), numbered=True))
    blocks += _survival(done, typed)
    blocks += _rest(done, typed)
    notes = (*done.cup.notes, *done.reading.notes, *_assumed(done, typed))
    if notes:
        blocks += [Line("To know:"), Points(notes)]
    return Section(f"Weighed {show.density(done.reading.density, units)}", tuple(blocks), "weigh")


def _read_line(done: Weighed) -> str:
    units, spread = done.units, show.density(2.0 * done.reading.spread, done.units)
    return (
        f"{on_scale(done.reading.net, done.step, units)} of mix in a cup of {show.volume(done.cup.volume, units)} "
        f"({done.cup.how}): {show.density(done.reading.density, units)}, give or take {spread} (two "
        "standard deviations)."
    )


def _wanted_line(done: Weighed) -> str:
    units, net = done.units, wanted_net(done.cup, done.wet)
    reads = on_scale(net + done.tare, done.step, units)
    cup_too = f", on the scale {reads} with the cup" if done.tare else ""
    return (
        f"Wanted: {show.density(done.wet, units)}, give or take {show.density(done.tolerance, units)}; that is "
        f"{on_scale(net, done.step, units)} of mix in this cup{cup_too}."
    )


def _verdict_line(done: Weighed) -> str:
    off = done.reading.density - done.wet
    by = f"{show.density(abs(off), done.units)} ({show.share(abs(off) / done.wet)})"
    way = "heavy" if off > 0 else "light"
    unsure = abs(off) < 2.0 * done.reading.spread
    doubt = " That is less than this cup and scale can tell." if unsure and off else ""
    match done.verdict:
        case "as wanted":
            return f"As wanted: off by {by}.{doubt}"
        case "in tolerance":
            return f"In tolerance, a little {way}: off by {by}.{doubt}"
        case _:
            far = _FAR_OFF if abs(off) > 0.25 * done.wet else ""
            return f"TOO {way.upper()} by {by}: out of tolerance.{doubt}{far}"


def _addition(done: Weighed) -> list[Block]:
    units, made = done.units, done.made
    whose = (
        ""
        if done.whole
        else f"for each {show.volume(BASIS[units], units)} in the mixer (say --batch for the whole): "
    )
    rows = _foam_rows(done) if made.adds == "foam" else _slurry_rows(done)
    then = (
        f"The batch then is {show.volume(made.volume, units)} and weighs {show.mass(made.mass, units)}; it was "
        f"{show.volume(made.volume_before, units)}."
    )
    blocks: list[Block] = [
        Line(f"To add, {whose}".rstrip(" :,") + ":"),
        table(("add", ">amount", "measured as"), rows),
    ]
    return [*blocks, *([Line(f"{then} {_fit(done)}")] if done.whole else [])]


def _foam_rows(done: Weighed) -> list[tuple[str, ...]]:
    made, units = done.made, done.units
    seconds = [] if made.foam_seconds is None else [f"{show.time(made.foam_seconds)} of the generator"]
    measured = "; ".join([*seconds, buckets(made.foam_volume, done.bucket, units)])
    return [
        ("foam", show.volume(made.foam_volume, units), measured),
        ("", show.mass(made.foam_mass, units), f"if {show.share(done.foam.survival)} of its air stays"),
    ]


def _slurry_rows(done: Weighed) -> list[tuple[str, ...]]:
    made, units = done.made, done.units
    rows: list[tuple[str, ...]] = [
        ("slurry", show.volume(made.slurry_volume, units), buckets(made.slurry_volume, done.bucket, units))
    ]
    parts = (("cement", made.cement), ("water", made.water), ("sand", made.sand), ("fly ash", made.ash))
    for name, mass in (*parts, *made.others):
        if mass > 0.0:
            rows.append((f"  {name}", show.mass(mass, units), "in it"))
    return rows


def _fit(done: Weighed) -> str:
    units, mixer = done.units, done.shop.mixer
    out = advice.mix_to_take_out(done.made, mixer)
    holds, where = show.volume(mixer.holds, units), "second tub" if mixer.tub else "mixer"
    if not out:
        return f"It fits the {where} ({mixer.name}: {holds})."
    share = mixer.holds / done.made.volume
    return (
        f"It DOES NOT FIT the {where} ({mixer.name}: {holds}): take out {show.volume(out, units)} of mix first, then "
        f"add {show.share(share)} of the amounts above."
    )


def _survival(done: Weighed, typed: Mapping[str, str | None]) -> list[Block]:
    if not typed["foam_in"]:
        return []
    if done.learnt is None:
        return [
            Line(
                "The amounts given and this reading do not go together: the share of the foam's air that stayed comes "
                "out beyond belief. Check the foam's density, the amounts and the cup; the shop's "
                f"{show.share(done.shop.foam.survival)} is kept."
            )
        ]
    learnt = done.learnt
    return [
        Line(
            f"Foam: {show.share(learnt.mean)} of its air stayed in this batch, give or take "
            f"{show.share(2.0 * learnt.spread)} by the reading alone (taken before: "
            f"{show.share(done.shop.foam.survival)}). The figures here use {show.share(learnt.usable)}; "
            "a log of the day learns it from all batches."
        )
    ]


def _rest(done: Weighed, typed: Mapping[str, str | None]) -> list[Block]:
    needed = optional("--still", typed["still"], "volume", done.units if typed["units"] else None)
    if needed is None:
        return []
    if not done.whole:
        raise click.UsageError("--still needs the batch that is in the mixer: --batch")
    units = done.units
    after = advice.rest(needed, done.made, done.wanted, done.shop.cement, done.foam, done.shop.mixer)
    if not after.batches:
        return [Line(f"This batch is enough; {show.volume(after.over, units)} will be left over.")]
    one = after.batches[0]
    seconds = "" if one.foam_seconds is None else f" ({show.time(one.foam_seconds)} of the generator)"
    return [
        Line(
            f"After this batch the molds need {show.volume(after.volume, units)} more: "
            f"{counted(len(after.batches), 'batch', 'batches')} of {show.volume(one.volume, units)}, each "
            f"{show.mass(one.cement, units)} of cement, {show.mass(one.water, units)} of water"
            f"{f', {show.mass(one.sand, units)} of sand' if one.sand else ''} and "
            f"{show.volume(one.foam_volume, units)} of foam{seconds}."
        )
    ]


def _assumed(done: Weighed, typed: Mapping[str, str | None]) -> list[str]:
    said = []
    if not done.tare:
        said.append(
            "No tare was given: the reading is taken as the mix alone, the scale set to nought with the cup."
        )
    if not typed["shop"] and not typed["project"]:
        said.append(
            f"No shop file: foam of {show.density(done.shop.foam.density, done.units)}, of whose air "
            f"{show.share(done.shop.foam.survival)} stays, cement of specific gravity {done.shop.cement.gravity:g}, "
            f"and a mixer that turns out {show.volume(done.shop.mixer.holds, done.units)} are taken."
        )
    return said
