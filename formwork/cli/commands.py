"""The commands. Each reads what was typed, calls one function of a room, and prints what it gives."""

from __future__ import annotations

import re
import sys
from math import isnan
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from formwork import __version__
from formwork.cli.outcome import CHECK_FAILS, DONE
from formwork.cli.pour_commands import cure, log, weigh

if TYPE_CHECKING:
    from formwork.packet.label_papers import Grid
    from formwork.packet.papers import Paper
    from formwork.plan import Plan
    from formwork.units.show import UnitSystem

_ADDRESS = re.compile(r"https?://[!-~]{1,80}")
_UNITS = click.Choice(["in", "mm"])


class _Number(click.FloatRange):
    """A number in a range, which nan is not."""

    name = "number"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        number = float(super().convert(value, param, ctx))
        if isnan(number):
            self.fail(f"got '{value}', want a number", param, ctx)
        return number


_EFFORT = click.option(
    "--effort",
    type=_Number(1.0, 10_000.0),
    default=1.0,
    metavar="TIMES",
    help="Look that many times as long as usual for fewer sheets; more never gives a dearer plan.",
)
_SECONDS = click.option(
    "--seconds",
    type=_Number(0.0),
    metavar="S",
    help="Stop looking for fewer sheets after so long; the plan then says that it stopped.",
)
_SPLIT = click.Choice(["best", "equal", "whole bags", "half bags", "bags and a rest", "full"])


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="formwork %(version)s")
def commands() -> None:
    """From one project file to a mold that can be bought, cut, built and filled.

    Begin with "formwork start planter", look at the file it writes, and run "formwork plan" on it.

    Exit status: 0 all well; 1 a plan was made and a check fails; 2 no plan can be made.
    """


@commands.command()
@click.argument("name", metavar="[SHAPE]", required=False)
@click.option("--units", type=_UNITS, default="mm", show_default=True, help="Units that ranges are shown in.")
def shapes(name: str | None, units: str) -> None:
    """List the shapes and the keys that each takes."""
    from formwork.cli.shape_list import shape_list  # noqa: PLC0415 - only this command needs it

    click.echo(shape_list(name, "in" if units == "in" else "mm", _width()), nl=False)


@commands.command()
@click.argument("shape")
@click.argument("file", required=False)
def start(shape: str, file: str | None) -> None:
    """Write a commented project file that works as it is.

    SHAPE is one of those that "formwork shapes" lists, or "shop" for a shop file. FILE is where to write it; without
    it the file is named after the shape. A file that exists is never overwritten; "-" prints.
    """
    from formwork.cli.starter import start_file  # noqa: PLC0415 - only this command needs it

    click.echo(start_file(shape, file), nl=False)


@commands.command()
@click.argument("file")
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON and nothing else.")
@click.option("--working", is_flag=True, help="Show the steps and the source of every check.")
@_EFFORT
@_SECONDS
def plan(file: str, as_json: bool, working: bool, effort: float, seconds: float | None) -> int:
    """Work out everything from a project file and print it."""
    made = _plan(file, effort, seconds)
    if as_json:
        from formwork.packet.document import to_json  # noqa: PLC0415 - only where JSON is asked for

        click.echo(to_json(made).encode(), nl=False)
    else:
        from formwork.packet.sections import sections  # noqa: PLC0415 - not needed for JSON
        from formwork.packet.text import print_out  # noqa: PLC0415 - the same

        click.echo(print_out(sections(made, working=working), _width()), nl=False)
    return _status(made)


@commands.command()
@click.argument("file")
@click.option(
    "-o", "--output", "folder", required=True, metavar="DIR", help="Folder to write; made if missing."
)
@click.option(
    "--no-solids", is_flag=True, help="Leave out the 3-D files and pictures; takes a second, not ten."
)
@click.option(
    "--paper", type=click.Choice(["A4", "Letter", "A3", "Tabloid"], case_sensitive=False),
    help="Paper for what is printed; without it Letter where the project is in inches, else A4.",
)  # fmt: skip
@click.option("--labels", metavar="SIZE", help='Label paper by the size of its labels, as "63.5 x 38.1 mm".')
@click.option(
    "--address",
    default="",
    metavar="URL",
    help="Where a telephone in the shop reaches DIR: the codes on the labels then open the step on its front page.",
)
@_EFFORT
@_SECONDS
def packet(
    file: str,
    folder: str,
    no_solids: bool,
    paper: str | None,
    labels: str | None,
    address: str,
    effort: float,
    seconds: float | None,
) -> int:
    """Write every document of a project to one folder.

    That is: drawings, cut sheets, lists, job sheets and 3-D files, with a front page that links them. In an older
    packet only what changed is made anew, and put in its place once all of it is complete; a person's own files
    in it are kept, and so are files of the packet that a person changed, beside those made anew.
    """
    from formwork.cli.progress import progress  # noqa: PLC0415 - only this command needs it
    from formwork.packet.papers import PAPERS, usual_paper  # noqa: PLC0415 - the same
    from formwork.packet.sections import verdict  # noqa: PLC0415 - the same
    from formwork.packet.write import write_packet  # noqa: PLC0415 - the same

    made = _plan(file, effort, seconds)
    if address and not _ADDRESS.fullmatch(address):
        raise click.BadParameter(
            f"got '{address}', want http:// or https:// and at most 80 letters more", param_hint="--address"
        )
    units = made.project.units
    sheet = PAPERS.get(paper or "", usual_paper(units))
    grid = _label_grid(labels, sheet, units) if labels else None
    with progress() as say:
        written = write_packet(
            made, Path(folder), say, solids=not no_solids, paper=sheet, grid=grid, address=address
        )
    click.echo(f"{written.count} files in {folder}; open {Path(folder) / 'index.html'}")
    if len(written.made) < written.count:
        click.echo(f"made anew: {len(written.made) or 'none'}; the others were as they should be")
    if written.changed:
        click.echo(f"changed by hand and made anew: {', '.join(written.changed)}")
    if written.kept:
        click.echo(f"kept what was not of the packet: {', '.join(written.kept)}")
    click.echo(verdict(made))
    return _status(made)


@commands.command()
@click.argument("volume")
@click.option("--wet", metavar="DENSITY", help='Density as poured, as "600 kg/m3" or "37 lb/ft3".')
@click.option("--dry", metavar="DENSITY", help="Oven-dry density instead.")
@click.option(
    "--aim",
    metavar="CLASS",
    help='A published class or strength instead, as "Caltrans III" or "1 MPa": indicative.',
)
@click.option(
    "--water-cement", metavar="SHARE", help="Water over cement by mass, before foam; 0.5 if left out."
)
@click.option("--sand", metavar="SHARE", help="Sand over cement by mass.")
@click.option("--ash", metavar="SHARE", help="Fly ash over cement by mass.")
@click.option("--project", metavar="FILE", help="Project file instead, for a mix of any kind and its shop.")
@click.option("--shop", metavar="FILE", help="Shop file with the mixer, foam and cement.")
@click.option(
    "--split", type=_SPLIT, help="How the batches are cut to size; as the project says, or the best."
)
@click.option("--loss", default="0 %", show_default=True, help="Mix lost between mixer and mold.")
@click.option("--units", type=_UNITS, help="Units to print; without it those of the shop file, or of VOLUME.")
def batch(volume: str, **typed: str | None) -> None:
    """Print a batch card for a mix with no mold.

    VOLUME carries its unit, as "90 L" or "3 ft3", and so does the density: --wet "600 kg/m3". Say one of --wet, --dry,
    --aim and --project.
    """
    from formwork.cli.batch_card import batch_card  # noqa: PLC0415 - only this command needs it

    click.echo(batch_card(volume, typed), nl=False)


commands.add_command(weigh)
commands.add_command(cure)
commands.add_command(log)


def _label_grid(asked: str, paper: Paper, units: UnitSystem) -> Grid:
    """The label paper asked for."""
    from formwork.cli.label_paper import label_grid  # noqa: PLC0415 - only where it is asked for

    return label_grid(asked, paper, units)


def _width() -> int:
    """Columns to print in: the terminal's, between 72 and 132; 100 where there is no terminal."""
    from shutil import get_terminal_size  # noqa: PLC0415 - --help stays quick

    if sys.stdout is None or not sys.stdout.isatty():
        return 100
    return max(72, min(132, get_terminal_size().columns))


def _plan(file: str, effort: float, seconds: float | None) -> Plan:
    from formwork.cli.watch import watched  # noqa: PLC0415 - --help stays quick
    from formwork.plan import plan as work_out  # noqa: PLC0415 - the same
    from formwork.project.read import read_project  # noqa: PLC0415 - the same

    with watched(effort, seconds) as search:
        return work_out(read_project(Path(file)), search)


def _status(made: Plan) -> int:
    from formwork.packet.sections import passes  # noqa: PLC0415 - --help stays quick

    return DONE if passes(made) else CHECK_FAILS
