"""From what was typed for ``formwork weigh`` to all that is known after a reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import click

from formwork.cli.at_hand import AtHand, at_hand, cellular_project, of_project
from formwork.cli.buckets import BUCKET
from formwork.cli.typed import optional, quantity, units_of
from formwork.cli.weigh_cup import WAYS, cup
from formwork.mix.cellular import design
from formwork.mix.limits import refuse_wet_density
from formwork.mix.records import CellularWanted, Foam
from formwork.pour import advice
from formwork.pour.correction import Correction, Slurry, correct
from formwork.pour.measure import Measure, against_belief
from formwork.pour.reading import Reading, Verdict, judge, refuse_density, weigh
from formwork.pour.survival import Made, Survival, learn
from formwork.record import record
from formwork.units import show
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem
from formwork.units.table import Kind

BASIS: dict[UnitSystem, float] = {"in": show.FOOT**3, "mm": 0.1}
"""Mix that a correction is worked for where the batch is not given, m3."""


@record
class Weighed:
    """All that is known after a reading: what was asked, what was read, and what follows."""

    shop: AtHand
    units: UnitSystem
    wanted: CellularWanted
    wet: float
    tolerance: float
    tare: float
    step: float
    cup: Measure
    reading: Reading
    verdict: Verdict
    foam: Foam
    learnt: Survival | None
    whole: bool
    made: Correction
    bucket: float


@record
class Asked:
    """What is to be weighed: of a project file, or as typed."""

    units: UnitSystem
    shop: AtHand
    wanted: CellularWanted
    wet: float


_OF_THE_PROJECT = ("wet", "shop", "water_cement", "sand", "ash")
"""Options that say what a project file says."""


def _asked(reading: str, typed: Mapping[str, str | None]) -> Asked:
    if typed["project"]:
        twice = [f"--{name.replace('_', '-')}" for name in _OF_THE_PROJECT if typed[name] is not None]
        if twice:
            raise click.UsageError(f"--project says the mix and its shop: leave out {' and '.join(twice)}")
        project, wanted = cellular_project(typed["project"])
        units: UnitSystem = units_of(typed["units"], ()) if typed["units"] else project.units
        shop = of_project(project)
        return Asked(units, shop, wanted, design(wanted, shop.cement, shop.foam).wet_density)
    if not typed["wet"]:
        raise click.UsageError("say what density is wanted: --wet DENSITY, or --project FILE")
    units = units_of(typed["units"], (typed["wet"], reading))
    wet = quantity("--wet", typed["wet"], "density", units if typed["units"] else None)
    wanted = CellularWanted(
        wet,
        None,
        quantity("--water-cement", typed["water_cement"] or "0.5", "ratio"),
        quantity("--sand", typed["sand"] or "0", "ratio"),
        quantity("--ash", typed["ash"] or "0", "ratio"),
    )
    return Asked(units, at_hand(typed["shop"], units), wanted, wet)


def weighed(reading: str, typed: Mapping[str, str | None]) -> Weighed:
    """The reading, the verdict and the correction.

    Args:
        reading: mass of the full cup, as typed.
        typed: the options, as typed, by their names.

    Raises:
        click.UsageError: for an option that cannot be read or is missing.
        InputError: for a project or shop file that is wrong.
        RangeError: for a reading that cannot be.
    """
    asked = _asked(reading, typed)
    units, shop, wanted, wet = asked.units, asked.shop, asked.wanted, asked.wet
    declared: UnitSystem | None = units if typed["units"] else None
    slurry = advice.slurry_of(wanted, shop.cement)
    refuse_wet_density(wet, slurry.density, shop.foam)
    own = shop.cup
    step = (
        _positive("--scale", typed["scale"], "mass", declared)
        if typed["scale"]
        else own.step
        if own
        else 0.001
    )
    tare = quantity("--tare", typed["tare"], "mass", declared) if typed["tare"] else own.tare if own else 0.0
    holds = own.holds if own and not any(typed[way] for way in WAYS) else cup(typed, tare, step, declared)
    read_off = weigh(quantity("READING", reading, "mass", declared), tare, holds, step)
    meant = optional("--cup-meant", typed["cup_meant"], "volume", declared)
    if meant is not None:
        holds = against_belief(holds, meant, read_off.net, units)
    refuse_density(read_off.density, shop.foam.density, slurry.density)
    tolerance = quantity("--tolerance", typed["tolerance"] or "", "density", declared)
    mass = _batch_mass(typed["batch"], read_off.density, declared)
    learnt = _learn(typed, read_off, mass, slurry, shop.foam, declared)
    foam = replace(shop.foam, survival=learnt.usable) if learnt else shop.foam
    return Weighed(
        shop=shop,
        units=units,
        wanted=wanted,
        wet=wet,
        tolerance=tolerance,
        tare=tare,
        step=step,
        cup=holds,
        reading=read_off,
        verdict=judge(read_off.density, wet, tolerance),
        foam=foam,
        learnt=learnt,
        whole=mass is not None,
        made=correct(
            BASIS[units] * read_off.density if mass is None else mass, read_off.density, wet, slurry, foam
        ),
        bucket=_positive("--bucket", typed["bucket"] or BUCKET[units], "volume", declared),
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
