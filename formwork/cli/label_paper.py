"""The label paper that a person asks for by the size of its labels."""

from __future__ import annotations

import re

import click

from formwork.errors import FormworkError
from formwork.packet.label_papers import Grid, grid_of, sizes_on
from formwork.packet.papers import Paper
from formwork.units import parse, show
from formwork.units.show import UnitSystem

_SIZE = re.compile(r"^(?P<width>.+?)\s*(?:x|by|\u00d7)\s*(?P<height>.+)$", re.IGNORECASE)
_UNIT = re.compile(r"[a-z\"'\u2032\u2033]+\s*$", re.IGNORECASE)


def label_grid(text: str, paper: Paper, units: UnitSystem) -> Grid:
    """The label paper of a size as typed, as "70 x 37 mm"; a number without a unit is in the other's, or the project's.

    Raises:
        click.BadParameter: if it cannot be read, or no label paper of that size is known.
    """
    known = "; ".join(_told(grid, units) for grid in sizes_on(paper))
    want = f"want the size of a label as it stands on its box, on {paper.name} one of: {known}"
    found = _SIZE.match(text.strip())
    if not found:
        raise click.BadParameter(f"got '{text}', {want}", param_hint="--labels")
    unit = _UNIT.search(found["height"])
    sides = []
    for side in (found["width"], found["height"]):
        try:
            sides.append(
                1000.0
                * parse.read(
                    side if _UNIT.search(side) else f"{side} {unit[0] if unit else units}", "length", None
                )
            )
        except FormworkError as error:
            raise click.BadParameter(f"got '{text}': {error}; {want}", param_hint="--labels") from error
    grid = grid_of(paper, *sides)
    if grid is None:
        raise click.BadParameter(f"got '{text}', {want}", param_hint="--labels")
    return grid


def _told(grid: Grid, units: UnitSystem) -> str:
    width, height = (show.length(side / 1000.0, units) for side in (grid.width, grid.height))
    return f"{width} x {height} ({grid.across * grid.down} on a sheet)"
