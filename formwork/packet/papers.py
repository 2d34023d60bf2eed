"""The paper that job sheets are printed on: sizes of ISO 216 and of the US series, standing."""

from __future__ import annotations

from formwork.record import record
from formwork.units.show import UnitSystem


@record
class Paper:
    """A size of paper, standing.

    Attributes:
        name: as it is asked for.
        width: mm.
        height: mm.
    """

    name: str
    width: float
    height: float


PAPERS = {
    paper.name: paper
    for paper in (
        Paper("A4", 210.0, 297.0),
        Paper("Letter", 215.9, 279.4),
        Paper("A3", 297.0, 420.0),
        Paper("Tabloid", 279.4, 431.8),
    )
}
"""Paper by its name (ISO 216; ANSI A and B)."""


def usual_paper(units: UnitSystem) -> Paper:
    """The paper that lies in the printer where these units are used.

    >>> usual_paper("in").name, usual_paper("mm").name
    ('Letter', 'A4')
    """
    return PAPERS["Letter" if units == "in" else "A4"]
