"""The commands of the day of the pour: weigh, cure, log."""

from __future__ import annotations

import click

_UNITS = click.Choice(["in", "mm"])


@click.command()
@click.argument("reading")
@click.option("--wet", metavar="DENSITY", help='Density wanted, as "600 kg/m3" or "37 lb/ft3".')
@click.option(
    "--project",
    metavar="FILE",
    help="Project file instead, for the mix and its shop, cup and scale among it.",
)
@click.option("--tare", metavar="MASS", help="The empty cup; without it READING is the mix alone.")
@click.option("--cup", metavar="VOLUME", help="Volume of the cup, as printed on it.")
@click.option("--cup-across", metavar="LENGTH", help="Inside diameter of a straight round cup.")
@click.option(
    "--cup-pipe", metavar="SIZE", help='PVC pipe that the cup is cut from: "6 in" or "4 in schedule 80".'
)
@click.option("--cup-deep", metavar="LENGTH", help="Inside depth, with --cup-across or --cup-pipe.")
@click.option(
    "--cup-water", metavar="MASS", help="The cup full of water, weighed as READING is (tare and all)."
)
@click.option("--water-at", metavar="TEMPERATURE", help="Temperature of that water.")
@click.option("--cup-meant", metavar="VOLUME", help="What the cup is taken to hold; says so if it does not.")
@click.option("--scale", metavar="MASS", help="Step of the scale's display; the shop's, or 1 g.")
@click.option("--tolerance", default="48 kg/m3", show_default=True, metavar="DENSITY",
              help="Most that it may be off; the default is 3 lb/ft3, ASTM C869.")  # fmt: skip
@click.option(
    "--batch",
    metavar="AMOUNT",
    help="What is in the mixer, foam and all: its mass, or less surely its volume.",
)
@click.option(
    "--foam-in", metavar="VOLUME", help="Foam that went into this batch: tells how much of it was lost."
)
@click.option("--still", metavar="VOLUME", help="Mix that the molds still need, this batch included.")
@click.option(
    "--water-cement", metavar="SHARE", help="Water over cement of the slurry, by mass; 0.5 if left out."
)
@click.option("--sand", metavar="SHARE", help="Sand over cement, by mass.")
@click.option("--ash", metavar="SHARE", help="Fly ash over cement, by mass.")
@click.option(
    "--bucket", metavar="VOLUME", help="Bucket that foam and slurry are measured in; 5 gal or 10 L."
)
@click.option("--shop", metavar="FILE", help="Shop file with the mixer, foam, cement, cup and scale.")
@click.option("--units", type=_UNITS, help="Units to print, and of bare numbers; without it those of --wet.")
def weigh(reading: str, **typed: str | None) -> int:
    """Tell the density from a weighing cup, and what to add.

    READING is the mass of the full cup, as "710 g" or "1 lb 9 oz". Exit status 1 if the density is out of tolerance.
    """
    from formwork.cli.weigh_card import weigh_card  # noqa: PLC0415 - only this command needs it

    text, status = weigh_card(reading, typed)
    click.echo(text, nl=False)
    return status


@click.command()
@click.option("--air", metavar="TEMPERATURE", help='Of the air, as "30 C" or "86 F".')
@click.option("--concrete", metavar="TEMPERATURE", help="Of the concrete; as the air if left out.")
@click.option("--humidity", metavar="SHARE", help='Relative humidity, as "50 %".')
@click.option(
    "--wind", metavar="SPEED", help='Half a metre above the surface, as "12 mph", "20 km/h" or "5 m/s".'
)
@click.option(
    "--hours", metavar="FILE", help="CSV file of a logger: times and temperatures from the pour on."
)
@click.option("--drop", metavar="LENGTH", help="How far the surface sank, with --depth.")
@click.option("--depth", metavar="LENGTH", help="Depth of the mix as poured.")
@click.option("--wet", metavar="DENSITY", help="Density as poured, with --drop: tells the density after.")
@click.option("--ordinary", is_flag=True, help="Ordinary concrete, not cellular.")
@click.option("--units", type=_UNITS, help="Units to print, and of bare numbers; without it those of --air.")
def cure(ordinary: bool, **typed: str | None) -> int:
    """Tell from the weather how fast a surface dries, when to strip, and how long to cover.

    Exit status 1 if something must be done: against drying, heat, frost, or a surface that sinks.
    """
    from formwork.cli.cure_card import cure_card  # noqa: PLC0415 - only this command needs it

    text, status = cure_card(typed, ordinary=ordinary)
    click.echo(text, nl=False)
    return status


class _Log(click.Group):
    """The group of ``formwork log``, whose commands are made when one of them is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names, in the order in which a day needs them."""
        from formwork.cli.log_commands import log_commands  # noqa: PLC0415 - other commands start without them

        return list(log_commands())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """One of them."""
        from formwork.cli.log_commands import log_commands  # noqa: PLC0415 - other commands start without them

        return log_commands().get(cmd_name)


@click.group(cls=_Log)
@click.option("--file", default="pour-log.db", show_default=True, envvar="FORMWORK_LOG", metavar="FILE",
              help="The log; the variable FORMWORK_LOG names it too.")  # fmt: skip
@click.option("--units", type=_UNITS, envvar="FORMWORK_UNITS", help="Units to print, and of bare numbers.")
@click.option("--shop", envvar="FORMWORK_SHOP", metavar="FILE",
              help="Shop file: its cup, generator and mixer; the variable FORMWORK_SHOP names it too.")  # fmt: skip
@click.option("--project", envvar="FORMWORK_PROJECT", metavar="FILE",
              help="Project file, for what is planned, and its shop; FORMWORK_PROJECT names it too.")  # fmt: skip
@click.pass_context
def log(context: click.Context, file: str, units: str | None, shop: str | None, project: str | None) -> None:
    """Keep the record of pours: one file, rows that are only ever added.

    Begin with "formwork log start", then enter a pour, its batches and their readings. Every entry has a number; it is
    corrected with --instead-of and struck out with "strike", and what stood there before is kept. With --project a pour
    and its batches need not be typed: "formwork log --project FILE pour", then "batch --as-planned".
    """
    context.obj = {
        "file": file,
        "units": units or "mm",
        "declared": units is not None,
        "shop": shop,
        "project": project,
    }
