"""What ``formwork weigh`` prints: the density, the verdict, and what to add."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import click

from formwork.cli.at_hand import AtHand, at_hand
from formwork.cli.outcome import CHECK_FAILS, DONE
from formwork.cli.typed import optional, quantity, units_of
from formwork.cli.weigh_cup import cup
from formwork.mix.limits import refuse_wet_density
from formwork.mix.records import CellularWanted, Foam
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.text import print_out
from formwork.packet.wording import counted
from formwork.pour import advice
from formwork.pour.correction import Correction, Slurry, correct
from formwork.pour.measure import Measure, against_belief, wanted_net
from formwork.pour.reading import Reading, Verdict, judge, refuse_density, weigh
from formwork.pour.survival import Made, Survival, learn
from formwork.record import record
from formwork.units import show
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem
from formwork.units.table import Kind

_BASIS: dict[UnitSystem, float] = {"in": show.FOOT**3, "mm": 0.1}
"""Mix that a correction is worked for where the batch is not given, m3."""
_FAR_OFF = (
    " So far off, weigh again first: a cup not full, a wrong tare or a wrong cup is likelier than such a mix."
)
_BUCKET: dict[UnitSystem, str] = {"in": "5 gal", "mm": "10 L"}


@record
class _Weighed:
    """All that is known after a reading: what was asked, what was read, and what follows."""

    shop: AtHand
    units: UnitSystem
    wanted: CellularWanted
    wet: float
    tolerance: float
    tare: float
    cup: Measure
    reading: Reading
    verdict: Verdict
    foam: Foam
    learnt: Survival | None
    whole: bool
    made: Correction
    bucket: float


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
    units = units_of(typed["units"], (typed["wet"], reading))
    done = _weighed(reading, typed, units)
    text = print_out([_section(done, typed)])
    return text, CHECK_FAILS if done.verdict in ("too heavy", "too light") else DONE


def _weighed(reading: str, typed: Mapping[str, str | None], units: UnitSystem) -> _Weighed:
    declared: UnitSystem | None = units if typed["units"] else None
    shop = at_hand(typed["shop"], units)
    wet = quantity("--wet", typed["wet"] or "", "density", declared)
    wanted = CellularWanted(
        wet,
        None,
        quantity("--water-cement", typed["water_cement"] or "", "ratio"),
        quantity("--sand", typed["sand"] or "0", "ratio"),
    )
    slurry = advice.slurry_of(wanted, shop.cement)
    refuse_wet_density(wet, slurry.density, shop.foam)
    step = _positive("--scale", typed["scale"] or "", "mass", declared)
    tare = quantity("--tare", typed["tare"], "mass", declared) if typed["tare"] else 0.0
    holds = cup(typed, tare, step, declared)
    read_off = weigh(quantity("READING", reading, "mass", declared), tare, holds, step)
    meant = optional("--cup-meant", typed["cup_meant"], "volume", declared)
    if meant is not None:
        holds = against_belief(holds, meant, read_off.net, units)
    refuse_density(read_off.density, shop.foam.density, slurry.density)
    tolerance = quantity("--tolerance", typed["tolerance"] or "", "density", declared)
    mass = _batch_mass(typed["batch"], read_off.density, declared)
    learnt = _learn(typed, read_off, mass, slurry, shop.foam, declared)
    foam = replace(shop.foam, survival=learnt.usable) if learnt else shop.foam
    return _Weighed(
        shop=shop,
        units=units,
        wanted=wanted,
        wet=wet,
        tolerance=tolerance,
        tare=tare,
        cup=holds,
        reading=read_off,
        verdict=judge(read_off.density, wet, tolerance),
        foam=foam,
        learnt=learnt,
        whole=mass is not None,
        made=correct(
            _BASIS[units] * read_off.density if mass is None else mass, read_off.density, wet, slurry, foam
        ),
        bucket=_positive("--bucket", typed["bucket"] or _BUCKET[units], "volume", declared),
    )


def _positive(option: str, text: str, kind: Kind, declared: UnitSystem | None) -> float:
    """A quantity that is more than 0.

    Raises:
        click.BadParameter: for any other.
    """
    value = quantity(option, text, kind, declared)
    if not value > 0.0:
        raise click.BadParameter(f'got "{text}", want more than 0', param_hint=option)
    return value


def _batch_mass(text: str | None, density: float, declared: UnitSystem | None) -> float | None:
    """Mass of the batch, kg, given as a mass or as the volume that stands in the mixer.

    Raises:
        click.BadParameter: if it is neither.
    """
    if text is None:
        return None
    try:
        return read(text, "volume", None) * density
    except QuantityError:
        return quantity("--batch", text, "mass", declared)


def _learn(
    typed: Mapping[str, str | None],
    reading: Reading,
    mass: float | None,
    slurry: Slurry,
    foam: Foam,
    declared: UnitSystem | None,
) -> Survival | None:
    """The survival that this batch shows, where the foam that went into it is given.

    Raises:
        click.UsageError: if the batch's mass is not known, or is less than its foam's.
    """
    volume = optional("--foam-in", typed["foam_in"], "volume", declared)
    if volume is None:
        return None
    if mass is None:
        raise click.UsageError("--foam-in tells how much air was lost only with the batch's mass: --batch")
    cement = (mass - foam.density * volume) / slurry.mass
    if cement <= 0.0:
        raise click.UsageError("--foam-in: that foam alone weighs more than the whole batch")
    return learn([Made(cement, slurry, volume, foam.density, reading.density, reading.spread)])


def _section(done: _Weighed, typed: Mapping[str, str | None]) -> Section:
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


def _read_line(done: _Weighed) -> str:
    units, spread = done.units, show.density(2.0 * done.reading.spread, done.units)
    return (
        f"{show.mass(done.reading.net, units)} of mix in a cup of {show.volume(done.cup.volume, units)} "
        f"({done.cup.how}): {show.density(done.reading.density, units)}, give or take {spread} (two "
        "standard deviations)."
    )


def _wanted_line(done: _Weighed) -> str:
    units, net = done.units, wanted_net(done.cup, done.wet)
    reads = show.mass(net + done.tare, units)
    cup_too = f", on the scale {reads} with the cup" if done.tare else ""
    return (
        f"Wanted: {show.density(done.wet, units)}, give or take {show.density(done.tolerance, units)}; that is "
        f"{show.mass(net, units)} of mix in this cup{cup_too}."
    )


def _verdict_line(done: _Weighed) -> str:
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


def _addition(done: _Weighed) -> list[Block]:
    units, made = done.units, done.made
    whose = (
        ""
        if done.whole
        else f"for each {show.volume(_BASIS[units], units)} in the mixer (say --batch for the whole): "
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


def _foam_rows(done: _Weighed) -> list[tuple[str, ...]]:
    made, units = done.made, done.units
    seconds = [] if made.foam_seconds is None else [f"{show.time(made.foam_seconds)} of the generator"]
    measured = "; ".join([*seconds, _buckets(made.foam_volume, done.bucket, units)])
    return [
        ("foam", show.volume(made.foam_volume, units), measured),
        ("", show.mass(made.foam_mass, units), f"if {show.share(done.foam.survival)} of its air stays"),
    ]


def _slurry_rows(done: _Weighed) -> list[tuple[str, ...]]:
    made, units = done.made, done.units
    rows: list[tuple[str, ...]] = [
        ("slurry", show.volume(made.slurry_volume, units), _buckets(made.slurry_volume, done.bucket, units))
    ]
    for name, mass in (("cement", made.cement), ("water", made.water), ("sand", made.sand)):
        if mass > 0.0:
            rows.append((f"  {name}", show.mass(mass, units), "in it"))
    return rows


def _buckets(volume: float, bucket: float, units: UnitSystem) -> str:
    """A volume in whole buckets and one filled to a mark."""
    whole = int(volume / bucket + 1e-9)
    part = volume - whole * bucket
    size, mark = show.volume(bucket, units, liquid=True), show.volume(part, units, liquid=True)
    full = f"{counted(whole, 'full bucket')} of {size}" if whole else ""
    last = f"a bucket up to its {mark} mark" if part > 1e-3 * bucket else ""
    return " and ".join(each for each in (full, last) if each) or "a trace"


def _fit(done: _Weighed) -> str:
    units, mixer = done.units, done.shop.mixer
    out = advice.mix_to_take_out(done.made, mixer)
    usable = show.volume(mixer.usable, units)
    if not out:
        return f"It fits the mixer ({mixer.name}: {usable})."
    share = mixer.usable / done.made.volume
    return (
        f"It DOES NOT FIT the mixer ({mixer.name}: {usable}): take out {show.volume(out, units)} of mix first, then "
        f"add {show.share(share)} of the amounts above."
    )


def _survival(done: _Weighed, typed: Mapping[str, str | None]) -> list[Block]:
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


def _rest(done: _Weighed, typed: Mapping[str, str | None]) -> list[Block]:
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


def _assumed(done: _Weighed, typed: Mapping[str, str | None]) -> list[str]:
    said = []
    if not typed["tare"]:
        said.append(
            "No tare was given: the reading is taken as the mix alone, the scale set to nought with the cup."
        )
    if not typed["shop"]:
        said.append(
            f"No shop file: foam of {show.density(done.shop.foam.density, done.units)}, of whose air "
            f"{show.share(done.shop.foam.survival)} stays, cement of specific gravity {done.shop.cement.gravity:g}, "
            f"and a mixer that turns out {show.volume(done.shop.mixer.usable, done.units)} are taken."
        )
    return said
