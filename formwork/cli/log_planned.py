"""What the plan of a project says of a pour and its batches, to be entered in the log without typing it again."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from formwork.cli.at_hand import AtHand, at_hand, of_project
from formwork.mix.pour_records import Batch
from formwork.mix.records import CellularWanted
from formwork.pour.log.entries import Entry, current, last, things
from formwork.pour.log.file import Log
from formwork.pour.log.kinds import Value, Values
from formwork.record import record
from formwork.units.show import UnitSystem

if TYPE_CHECKING:
    from formwork.plan import Plan

_OTHER = 2.6
"""Specific gravity of all else where there is nothing else."""


@record
class Day:
    """What the day's entries may be taken from: the plan of a project, and what is at hand.

    Attributes:
        plan: of the project; None where none is named.
        hand: mixer, foam, cement and cup; None where neither a project nor a shop is named.
    """

    plan: Plan | None
    hand: AtHand | None


def day(project: str | None, shop: str | None, units: UnitSystem, *, planned: bool) -> Day:
    """What a project file or a shop file says.

    Args:
        project: the project file; None where none is named.
        shop: the shop file; None where none is named.
        units: of a shop that declares none.
        planned: the plan is needed, not only what is at hand.

    Raises:
        InputError: with every fault of the file.
        click.UsageError: if both are named.
    """
    if project is None:
        return Day(None, at_hand(shop, units) if shop else None)
    if shop is not None:
        raise click.UsageError("--project names its own shop: leave out --shop")
    from formwork.project.read import read_project  # noqa: PLC0415 - models of the files, only where one is read

    read = read_project(Path(project))
    if not planned:
        return Day(None, of_project(read))
    from formwork.plan import plan  # noqa: PLC0415 - only for what is planned

    return Day(plan(read), of_project(read))


def pour_values(log: Log, made: Plan, given: Values) -> dict[str, Value]:
    """A pour as it is planned, what is typed going before: the next one of the plan, unless another is named.

    One that is given a title of its own, and no number, is none of the plan's: only its mix is taken from it.

    Args:
        log: open.
        made: the plan.
        given: what is typed, SI, by column.

    Raises:
        click.UsageError: if the plan has no such pour, or none at all.
    """
    title = str(given.get("title") or made.project.title)
    done = sum(each.text_of("title") == title for each in things(log, "pour"))
    which = given.get("plan_pour")
    number = int(which) if isinstance(which, float) else min(done + 1, max(len(made.pours), 1))
    if made.mix is None or not 1 <= number <= len(made.pours):
        raise click.UsageError(f"got pour {number}, want one of the {len(made.pours)} that the project has")
    planned: dict[str, Value] = {
        "title": title,
        "wet_density_kg_m3": made.mix.wet_density,
        "foam_density_kg_m3": made.project.shop.foam.density,
        "cement_gravity": made.project.shop.cement.gravity,
        **_gravities(made),
    }
    if title == made.project.title or which is not None:
        planned |= {"planned_m3": made.pours[number - 1].volume, "plan_pour": float(number)}
    return {**planned, **given}


def batch_values(log: Log, made: Plan, given: Values, belongs: int | None) -> dict[str, Value]:
    """The next batch of a pour as it is planned, what is typed going before.

    Args:
        log: open.
        made: the plan.
        given: what is typed, SI, by column.
        belongs: number of the pour in the log; None for the last one.

    Raises:
        click.UsageError: if the plan has no further batch of it.
    """
    pour = last(log, "pour") if belongs is None else current(log, belongs)
    if pour is None:
        raise click.UsageError("--as-planned wants a pour first: formwork log --project FILE pour")
    batches = made.pours[_number(pour, made) - 1].batches
    entered = len(things(log, "batch", pour.number))
    if entered >= len(batches):
        raise click.UsageError(
            f"--as-planned: the plan has {len(batches)} for pour {_number(pour, made)}, and as many are entered; say "
            "what went in"
        )
    return {**_amounts(batches[entered]), **given}


def _number(pour: Entry, made: Plan) -> int:
    number = int(pour.number_of("plan_pour")) or 1
    if number > len(made.pours):
        raise click.UsageError(
            f"--as-planned: the project has {len(made.pours)} pours, and this one is number {number}"
        )
    return number


def _amounts(batch: Batch) -> dict[str, Value]:
    return {
        "cement_kg": batch.cement,
        "water_kg": batch.water,
        "sand_kg": batch.sand,
        "ash_kg": batch.ash,
        "foam_m3": batch.foam_volume,
        "other_kg": batch.gravel + batch.fibres + sum(mass for _, mass in batch.others),
        "planned_m3": batch.volume,
    }


def _gravities(made: Plan) -> dict[str, Value]:
    """Specific gravities of the mix; of all else together the one that its mass and volume come to."""
    wanted, mix = made.project.mix, made.mix
    if not isinstance(wanted, CellularWanted) or mix is None:
        return {}
    parts = [(dict(mix.others)[each.name], each.gravity) for each in wanted.others]
    parts += [(mix.fibres, wanted.fibre_gravity)] if mix.fibres else []
    volume = sum(mass / gravity for mass, gravity in parts)
    return {
        "sand_gravity": wanted.sand_gravity,
        "ash_gravity": wanted.ash_gravity,
        "other_gravity": sum(mass for mass, _ in parts) / volume if parts else _OTHER,
    }
