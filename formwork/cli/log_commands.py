"""``formwork log``: enter, correct, list, show, chart, export, back up; each kind of entry has its command."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import click

from formwork.cli.log_planned import Day, batch_values, day, pour_values
from formwork.cli.log_typed import number, values
from formwork.cli.outcome import CHECK_FAILS, DONE
from formwork.pour.log.entries import as_before, correct_entry, enter, strike
from formwork.pour.log.file import Log, back_up, create, damage, opened
from formwork.pour.log.kinds import KINDS, EntryKind, Field, Values
from formwork.units.show import UnitSystem

_METAVARS = {"speed": "SPEED", "number": "NUMBER", "text": "TEXT", "choice": "WORD", "ratio": "SHARE"}


def log_commands() -> dict[str, click.Command]:
    """Every command of the group by its name, in the order in which a day needs them."""
    entering = {kind.name: _entering(kind) for kind in KINDS.values()}
    return {
        "start": _start, **entering, "strike": _strike, "list": _list, "show": _show, "chart": _chart, "dry": _dry,
        "export": _export, "import": _import, "backup": _backup, "check": _check,
    }  # fmt: skip


def _file(context: click.Context) -> Path:
    return Path(context.obj["file"])


def _units(context: click.Context) -> UnitSystem:
    return "in" if context.obj["units"] == "in" else "mm"


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")


def _entering(kind: EntryKind) -> click.Command:
    """The command that enters one kind of thing."""
    options = [
        click.Option([f"--{field.name}"], metavar=_metavar(field), help=_help(field)) for field in kind.fields
    ]
    if kind.belongs:
        belongs = f"Number of the {kind.belongs} it belongs to; the last one if left out."
        options.append(click.Option([f"--{kind.belongs}", "belongs"], metavar="NUMBER", help=belongs))
    options += [
        click.Option(["--note"], default="", help="Anything worth keeping."),
        click.Option(["--at"], metavar="TIME", help="When, as 2026-11-25T14:00; now if left out."),
        click.Option(["--instead-of"], metavar="NUMBER", help="Correct that entry; what is left out stays."),
    ]
    if kind.name == "batch":
        planned = "The amounts that the project has for the next batch; what is typed goes before."
        options.append(click.Option(["--as-planned"], is_flag=True, help=planned))
    return click.Command(kind.name, params=[*options], callback=_entered(kind), help=kind.meaning)


def _metavar(field: Field) -> str:
    return "|".join(field.choices) if field.choices else _METAVARS.get(field.sort, field.sort.upper())


def _help(field: Field) -> str:
    text = f"{field.meaning[0].upper()}{field.meaning[1:]}"
    if field.as_before:
        return f"{text}; as before if left out."
    return f"{text}; must be given." if field.required else f"{text}."


def _entered(kind: EntryKind) -> Callable[..., int]:
    """What the command of a kind does."""

    def run(
        note: str,
        at: str | None,
        instead_of: str | None,
        belongs: str | None = None,
        as_planned: bool = False,
        **typed: str | None,
    ) -> int:
        from formwork.cli.log_card import entered  # noqa: PLC0415 - --help stays quick
        from formwork.cli.log_verdict import verdict  # noqa: PLC0415 - the same

        context = click.get_current_context()
        units, when = _units(context), at or _now()
        given = values(kind, typed, units if context.obj["declared"] else None)
        planned = as_planned or (kind.name == "pour" and instead_of is None)
        today = _today(kind, context, units, planned)
        with opened(_file(context), write=True) as log:
            if instead_of is not None:
                corrected = number("--instead-of", instead_of)
                made = correct_entry(log, corrected, given, when, kind=kind.name, note=note)
            else:
                owner = None if belongs is None else number(f"--{kind.belongs}", belongs)
                taken = _taken(log, kind, given, today, owner, as_planned)
                made = enter(log, kind.name, taken, when, belongs=owner, note=note)
            click.echo(entered(made, units), nl=False)
            text, out = verdict(log, made, units, today.hand)
        click.echo(text, nl=False)
        return CHECK_FAILS if out else DONE

    return run


def _today(kind: EntryKind, context: click.Context, units: UnitSystem, wanted: bool) -> Day:
    """What a project or shop file says of this entry; nothing is read for an entry that takes nothing from it."""
    if kind.name not in ("pour", "batch", "reading"):
        return Day(None, None)
    planned = kind.name in ("pour", "batch") and wanted
    return day(context.obj["project"], context.obj["shop"], units, planned=planned)


def _taken(
    log: Log, kind: EntryKind, given: Values, today: Day, owner: int | None, as_planned: bool
) -> Values:
    """The values of an entry: as typed, else as planned where that is asked for, else as before where that is usual."""
    if as_planned and today.plan is None:
        raise click.UsageError("--as-planned takes the amounts of a plan: formwork log --project FILE batch")
    if kind.name == "pour" and today.plan is not None:
        return pour_values(log, today.plan, given)
    if as_planned and today.plan is not None:
        return batch_values(log, today.plan, given, owner)
    if kind.name == "reading" and today.hand and today.hand.cup:
        cup = today.hand.cup
        return {"cup_m3": cup.holds.volume, "tare_kg": cup.tare, **given}
    return as_before(log, kind.name, given)


@click.command("start")
@click.pass_context
def _start(context: click.Context) -> None:
    """Make a new log; never over a file that exists."""
    create(_file(context))
    click.echo(
        f"{_file(context)} made. Keep it on a disk of this machine, and back it up: formwork log backup FILE"
    )


@click.command("strike")
@click.argument("number", metavar="NUMBER")
@click.option("--why", required=True, metavar="TEXT", help="The reason, kept with it.")
@click.option("--at", metavar="TIME", help="When; now if left out.")
@click.pass_context
def _strike(context: click.Context, number: str, why: str, at: str | None) -> None:
    """Strike out an entry made by mistake; it no longer counts, and can still be seen."""
    which = _number("NUMBER", number)
    with opened(_file(context), write=True) as log:
        strike(log, which, at or _now(), why)
    click.echo(f"number {which} is struck out: {why}")


_number = number


@click.command("list")
@click.option(
    "--count", default="20", metavar="NUMBER", show_default=True, help="How many pours, the last ones."
)
@click.pass_context
def _list(context: click.Context, count: str) -> None:
    """List the last pours."""
    from formwork.cli.log_card import pour_list  # noqa: PLC0415 - --help stays quick

    with opened(_file(context)) as log:
        click.echo(pour_list(log, number("--count", count), _units(context)), nl=False)


@click.command("show")
@click.argument("which", metavar="[NUMBER]", required=False)
@click.pass_context
def _show(context: click.Context, which: str | None) -> None:
    """Show a pour with all that belongs to it, or any entry with its corrections; the last pour without a NUMBER."""
    from formwork.cli.log_card import shown  # noqa: PLC0415 - --help stays quick

    with opened(_file(context)) as log:
        click.echo(shown(log, None if which is None else number("NUMBER", which), _units(context)), nl=False)


@click.command("chart")
@click.option(
    "--count", default="30", metavar="NUMBER", show_default=True, help="How many batches, the last ones."
)
@click.option(
    "--wet", metavar="DENSITY", help="Of pours that were wanted at this density; the last pour's if left out."
)
@click.option("--corrected", is_flag=True, help="The last reading of each batch, not the first.")
@click.option("-o", "--output", metavar="FILE", help="Draw it as SVG to this file too.")
@click.pass_context
def _chart(context: click.Context, count: str, wet: str | None, corrected: bool, output: str | None) -> int:
    """Draw the control chart: are the batches steady? Exit status 1 if a rule is broken."""
    from formwork.cli.log_chart import charted  # noqa: PLC0415 - --help stays quick

    with opened(_file(context)) as log:
        text, out = charted(
            log, number("--count", count), wet, _units(context), corrected=corrected, output=output
        )
    click.echo(text, nl=False)
    return CHECK_FAILS if out else DONE


@click.command("dry")
@click.option(
    "--state",
    type=click.Choice(["as stripped", "air-dry", "oven-dry"]),
    default="oven-dry",
    show_default=True,
)
@click.option("--wet", metavar="DENSITY", help="Tell what a mix of this wet density dries to.")
@click.pass_context
def _dry(context: click.Context, state: str, wet: str | None) -> None:
    """Fit dry density against wet over your own pieces."""
    from formwork.cli.log_chart import dried  # noqa: PLC0415 - --help stays quick

    with opened(_file(context)) as log:
        click.echo(dried(log, state, wet, _units(context)), nl=False)


@click.command("export")
@click.argument("folder")
@click.pass_context
def _export(context: click.Context, folder: str) -> None:
    """Write the whole log to a new FOLDER of CSV files."""
    from formwork.pour.log.exchange import export  # noqa: PLC0415 - only this command needs it

    with opened(_file(context)) as log:
        click.echo(f"{export(log, Path(folder))} entries in {folder}")


@click.command("import")
@click.argument("folder")
@click.pass_context
def _import(context: click.Context, folder: str) -> None:
    """Make a new log from a FOLDER that export wrote; never over a file that exists."""
    from formwork.pour.log.exchange import import_folder  # noqa: PLC0415 - only this command needs it

    click.echo(f"{import_folder(Path(folder), _file(context))} entries in {_file(context)}")


@click.command("backup")
@click.argument("file")
@click.pass_context
def _backup(context: click.Context, file: str) -> None:
    """Copy the log to a new FILE, while others may be writing to it."""
    with opened(_file(context)) as log:
        back_up(log, Path(file))
    click.echo(f"{file} is a copy of {_file(context)} as it stands now")


@click.command("check")
@click.pass_context
def _check(context: click.Context) -> int:
    """Read the whole file and say whether it is sound. Exit status 1 if it is not."""
    with opened(_file(context)) as log:
        found = damage(log)
    if not found:
        click.echo(f"{_file(context)} is sound")
        return DONE
    click.echo(
        "\n".join(
            [f"{_file(context)} is damaged:", *found, "Go on with the last backup; leave this file as it is."]
        )
    )
    return CHECK_FAILS
