"""Labels: one for each part that is cut and one for each mold, on label paper or on plain paper to cut apart."""

from __future__ import annotations

from collections.abc import Iterator

from formwork.cutting.cut_list import CutLine
from formwork.molds.mold import Blank, Mold
from formwork.packet.cut_sections import BY_TRAMMEL, TO_TEMPLATE, names_of
from formwork.packet.papers import Paper
from formwork.packet.print_blocks import Entry
from formwork.packet.saw import curve_cuts, struck_radii
from formwork.packet.typeset import breakable, typeset
from formwork.packet.wording import size
from formwork.plan import Plan
from formwork.record import record
from formwork.units import show

TEMPLATE = "labels.typ"


@record
class Grid:
    """Labels on a sheet of paper, mm.

    Attributes:
        across: labels side by side.
        down: labels one above the other.
        width: of a label.
        height: of a label.
        apart: between labels side by side; one above the other they touch.
        left: from the edge of the paper to the first label.
        top: likewise, from the upper edge.
    """

    across: int
    down: int
    width: float
    height: float
    apart: float
    left: float
    top: float


GRIDS = {
    "A4": Grid(3, 8, 70.0, 37.0, 0.0, 0.0, 0.5),
    "Letter": Grid(3, 10, 66.675, 25.4, 3.175, 4.7625, 12.7),
    "A3": Grid(4, 11, 70.0, 37.0, 0.0, 8.5, 6.5),
    "Tabloid": Grid(4, 16, 66.675, 25.4, 3.175, 1.59, 12.7),
}
"""Common label paper: 24 labels of 70 x 37 mm on A4, 30 of 2 5/8 x 1 in on Letter (common practice, no source)."""


def labels(plan: Plan, paper: Paper) -> bytes | None:
    """The labels as a PDF; None where nothing is cut.

    Args:
        plan: the plan.
        paper: to print on.

    Raises:
        InternalError: if the page template refuses them.
    """
    found = [entry for line in plan.cut_list for entry in _of(line, plan)]
    if not found:
        return None
    found += [entry for mold in plan.molds for entry in _limits(mold)]
    grid = GRIDS[paper.name]
    data: Entry = {
        "title": plan.project.title,
        "paper": {"width": paper.width, "height": paper.height},
        "grid": {
            name: getattr(grid, name)
            for name in ("across", "down", "width", "height", "apart", "left", "top")
        },
        "labels": found,
    }
    return typeset(TEMPLATE, data, {})


def _of(line: CutLine, plan: Plan) -> Iterator[Entry]:
    """A label for each part of a line; what stays in the concrete needs none."""
    if line.part.kind == "hardware":
        return
    units, blank = plan.project.units, line.part.blank
    pieces = {mold.name: mold.piece.name for mold in plan.molds}
    pieces |= {built.name: built.order.name for built in plan.centres}
    sizes = [size(blank.length, units), size(blank.width, units), show.length(blank.thickness, units)]
    if blank.wall:
        sizes = [size(blank.length, units), f"{show.length(blank.width, units)} outside"]
    for number in range(1, line.quantity + 1):
        yield {
            "label": line.label,
            "number": f"{number} of {line.quantity}",
            "name": breakable(names_of(line)),
            "size": " x ".join(sizes) + _by_hand(blank),
            "piece": breakable(pieces.get(line.mold, "")),
            "mold": breakable(line.mold),
        }


def _limits(mold: Mold) -> Iterator[Entry]:
    """A label for each mold, of what it may be filled with; one that the shop has bears its own."""
    said = mold.limits
    if said is None or mold.owned:
        return
    for number in range(1, mold.copies + 1):
        yield {
            "label": breakable(mold.name),
            "number": f"{number} of {mold.copies}",
            "size": said.density,
            "name": f"{said.height}, {said.rate}; {said.head}",
            "piece": "",
            "mold": "",
        }


def _by_hand(blank: Blank) -> str:
    """How a part is marked that straight cuts do not make; nothing for any other."""
    if not blank.openings and not curve_cuts(blank):
        return ""
    return f", {BY_TRAMMEL if struck_radii(blank) else TO_TEMPLATE}"
