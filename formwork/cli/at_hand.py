"""What is at hand on the day of the pour: of a project or a shop file, or the usual things.

Without a file no model of one is loaded, so that a reading is answered at once.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from formwork.mix.records import CellularWanted, Cement, Foam, Mixer
from formwork.pour.measure import Cup
from formwork.project.defaults import usual_cement, usual_foam, usual_mixer
from formwork.record import record
from formwork.units.show import UnitSystem

if TYPE_CHECKING:
    from formwork.project.records import Project


@record
class AtHand:
    """Mixer, foam, cement, and the weighing cup where the shop names one."""

    mixer: Mixer
    foam: Foam
    cement: Cement
    cup: Cup | None = None


def at_hand(file: str | None, units: UnitSystem) -> AtHand:
    """What a shop file names, or what is usual.

    Args:
        file: the shop file; None for the usual.
        units: of the usual things, and of a shop that declares none itself.

    Raises:
        InputError: with every fault of the file.
    """
    if file is None:
        return AtHand(usual_mixer(units), usual_foam(), usual_cement(units))
    from formwork.project.shop import read_shop  # noqa: PLC0415 - models of the files, only where a shop is read

    shop = read_shop(Path(file), units)
    return AtHand(shop.mixer, shop.foam, shop.cement, shop.cup)


def of_project(project: Project) -> AtHand:
    """What the shop of a project has.

    Args:
        project: as read.
    """
    shop = project.shop
    return AtHand(shop.mixer, shop.foam, shop.cement, shop.cup)


def cellular_project(file: str) -> tuple[Project, CellularWanted]:
    """A project file and its mix, for what is only asked of mixes with foam.

    Args:
        file: the project file.

    Raises:
        InputError: with every fault of the file.
        click.BadParameter: if its mix is of another kind.
    """
    from formwork.project.read import read_project  # noqa: PLC0415 - models of the files, only where one is read

    project = read_project(Path(file))
    if not isinstance(project.mix, CellularWanted):
        got = "no mix" if project.mix is None else "ordinary concrete"
        raise click.BadParameter(
            f"got a project of {got}, want one of cellular concrete", param_hint="--project"
        )
    return project, project.mix
