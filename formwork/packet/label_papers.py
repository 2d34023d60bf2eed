"""Paper of labels that come off it one by one, by their dimensions; and plain paper to cut apart."""

from __future__ import annotations

from formwork.packet.papers import PAPERS, Paper
from formwork.record import record

_INCH = 25.4
_SLACK = 0.6
"""A size typed to the nearest 1/32 in or half a millimetre is the size meant, mm."""


@record
class Grid:
    """Labels on a sheet of paper, mm, in the middle of it; one above the other they touch.

    Attributes:
        paper: its name.
        across: labels side by side.
        down: labels one above the other.
        width: of a label.
        height: of a label.
        apart: between labels side by side.
    """

    paper: str
    across: int
    down: int
    width: float
    height: float
    apart: float = 0.0

    @property
    def left(self) -> float:
        """From the edge of the paper to the first label."""
        return (PAPERS[self.paper].width - self.across * self.width - (self.across - 1) * self.apart) / 2.0

    @property
    def top(self) -> float:
        """From the upper edge of the paper to the first label."""
        return (PAPERS[self.paper].height - self.down * self.height) / 2.0


GRIDS = (
    Grid("A4", 3, 8, 70.0, 37.0),
    Grid("A4", 3, 7, 63.5, 38.1, 2.5),
    Grid("A4", 2, 7, 99.1, 38.1, 2.5),
    Grid("A4", 2, 4, 99.1, 67.7, 2.5),
    Grid("A4", 2, 4, 105.0, 74.0),
    Grid("Letter", 3, 10, 2.625 * _INCH, _INCH, _INCH / 8.0),
    Grid("Letter", 2, 10, 4.0 * _INCH, _INCH, 3.0 * _INCH / 16.0),
    Grid("Letter", 2, 5, 4.0 * _INCH, 2.0 * _INCH, 3.0 * _INCH / 16.0),
    Grid("Letter", 2, 3, 4.0 * _INCH, 10.0 * _INCH / 3.0, 3.0 * _INCH / 16.0),
    Grid("A3", 4, 11, 70.0, 37.0),
    Grid("Tabloid", 4, 16, 2.625 * _INCH, _INCH, _INCH / 8.0),
)
"""Common label paper of A4 and Letter, the first of each taken where none is asked for; A3 and Tabloid are cut apart.

Common practice, no source: makers print these dimensions on the box.
"""


def usual_grid(paper: Paper) -> Grid:
    """The labels printed where no label paper is asked for."""
    return next(grid for grid in GRIDS if grid.paper == paper.name)


def grid_of(paper: Paper, width: float, height: float) -> Grid | None:
    """The label paper of a size of label, mm, either way round; None where it is not known for that paper."""
    return next(
        (
            grid
            for grid in GRIDS
            if grid.paper == paper.name
            and any(
                abs(grid.width - w) <= _SLACK and abs(grid.height - h) <= _SLACK
                for w, h in ((width, height), (height, width))
            )
        ),
        None,
    )


def sizes_on(paper: Paper) -> tuple[Grid, ...]:
    """Every label paper known for a paper."""
    return tuple(grid for grid in GRIDS if grid.paper == paper.name)
