"""Labels: one for each part that is cut and one for each mold, on label paper or on plain paper to cut apart."""

from __future__ import annotations

from collections.abc import Iterator

from formwork.cutting.cut_list import CutLine
from formwork.molds.mold import Blank, Mold
from formwork.packet.codes import code_svg
from formwork.packet.cut_sections import BY_TRAMMEL, TO_TEMPLATE, names_of
from formwork.packet.label_papers import Grid, usual_grid
from formwork.packet.papers import Paper
from formwork.packet.print_blocks import Entry
from formwork.packet.saw import curve_cuts, struck_radii
from formwork.packet.step_places import anchor, used_in
from formwork.packet.typeset import breakable, typeset
from formwork.packet.wording import runs, size
from formwork.plan import Plan
from formwork.record import record
from formwork.units import show

TEMPLATE = "labels.typ"
_AROUND, _LARGEST_CODE = 9.0, 24.0
"""Height of a label that a code leaves free, and the side of the largest one, mm."""
_MODULE = 0.4
"""The least module that a telephone's camera is trusted with, mm (common practice, no source)."""
_HOLDS = ((230, 61), (192, 57), (154, 53), (134, 49), (106, 45), (78, 41), (53, 37))
"""How many bytes a code holds at the least error correction, and its modules with the white round it, versions 9 to 3.

Source: ISO/IEC 18004, capacities of versions 3 to 9 at level L, byte mode (from memory; a test makes each of them).
"""


def labels(plan: Plan, paper: Paper, grid: Grid | None = None, address: str = "") -> bytes | None:
    """The labels as a PDF; None where nothing is cut.

    Each part's label bears a code for a telephone, which opens the step that the part is used in: on the front page
    where it is known under which address that can be reached, else as words in the code itself.

    Args:
        plan: the plan.
        paper: to print on.
        grid: the label paper; without it the usual one of that paper.
        address: of the folder that holds the packet, as a telephone in the shop reaches it; empty where it cannot.

    Raises:
        InternalError: if the page template refuses them.
    """
    grid = grid or usual_grid(paper)
    codes = _Codes(grid, address.rstrip("/"), {})
    found = [entry for line in plan.cut_list for entry in _of(line, plan, codes)]
    if not found:
        return None
    found += [entry for mold in plan.molds for entry in _limits(mold)]
    data: Entry = {
        "title": plan.project.title,
        "paper": {"width": paper.width, "height": paper.height},
        "grid": {
            name: getattr(grid, name)
            for name in ("across", "down", "width", "height", "apart", "left", "top")
        },
        "code": codes.side,
        "labels": found,
    }
    return typeset(TEMPLATE, data, codes.pictures)


@record
class _Codes:
    """The codes of the labels, each drawn once.

    Attributes:
        grid: the label paper.
        address: where the packet can be reached; empty where it cannot.
        pictures: the codes as SVG by their file name.
    """

    grid: Grid
    address: str
    pictures: dict[str, str]

    @property
    def side(self) -> float:
        """Of the square that a code stands in, mm."""
        return min(self.grid.height - _AROUND, 0.35 * self.grid.width, _LARGEST_CODE)

    def draw(self, line: CutLine, plan: Plan) -> tuple[str, str]:
        """Which step a part is used in, and the file of its code; both empty where none is told."""
        number, mold = next(
            ((k, one) for k, one in enumerate(plan.molds, start=1) if one.name == line.mold), (0, None)
        )
        steps = used_in(mold, line.names) if mold else ()
        if mold is None or not steps:
            return "", ""
        name = f"code-{line.label}.svg"
        if self.address:
            text = f"{self.address}/index.html#{anchor(number, steps[0])}"
        else:
            told = f"{line.label}, step {steps[0]} of {mold.name}: {mold.steps[steps[0] - 1].text}"
            text = self._short(told)
        self.pictures[name] = code_svg(text)
        return f"step{'' if len(steps) == 1 else 's'} {runs(list(steps))}", name

    def _short(self, text: str) -> str:
        """As much of a text as a code can hold whose modules a camera still tells apart."""
        room = next(
            letters
            for letters, modules in _HOLDS
            if self.side / modules >= _MODULE or letters == _HOLDS[-1][0]
        )
        if len(text.encode()) <= room:
            return text
        return text.encode()[: room - 3].decode(errors="ignore").rstrip() + "..."


def _of(line: CutLine, plan: Plan, codes: _Codes) -> Iterator[Entry]:
    """A label for each part of a line; what stays in the concrete needs none."""
    if line.part.kind == "hardware":
        return
    units, blank = plan.project.units, line.part.blank
    pieces = {mold.name: mold.piece.name for mold in plan.molds}
    pieces |= {built.name: built.order.name for built in plan.centres}
    sizes = [size(blank.length, units), size(blank.width, units), show.length(blank.thickness, units)]
    if blank.wall:
        sizes = [size(blank.length, units), f"{show.length(blank.width, units)} outside"]
    step, code = codes.draw(line, plan)
    for number in range(1, line.quantity + 1):
        yield {
            "step": step,
            "code": code,
            "label": line.label,
            "number": f"{number} of {line.quantity}",
            "name": breakable(names_of(line)),
            "size": " x ".join(sizes) + _by_hand(blank),
            "mold": breakable(_in_full(line.mold, pieces.get(line.mold, ""))),
        }


def _in_full(mold: str, piece: str) -> str:
    """A mold with the piece that it casts, unless its name says so.

    >>> _in_full("tub mold", "tub"), _in_full("form 1", "tub")
    ('tub mold', 'form 1 (tub)')
    """
    return mold if not piece or mold.startswith(piece) else f"{mold} ({piece})"


def _limits(mold: Mold) -> Iterator[Entry]:
    """A label for each mold, of what it may be filled with; one that the shop has bears its own."""
    said = mold.limits
    if said is None or mold.owned:
        return
    for number in range(1, mold.copies + 1):
        yield {
            "step": "",
            "code": "",
            "label": breakable(mold.name),
            "number": f"{number} of {mold.copies}",
            "size": said.density,
            "name": f"{said.height}, {said.rate}; {said.head}",
            "mold": "",
        }


def _by_hand(blank: Blank) -> str:
    """How a part is marked that straight cuts do not make; nothing for any other."""
    if not blank.openings and not curve_cuts(blank):
        return ""
    return f", {BY_TRAMMEL if struck_radii(blank) else TO_TEMPLATE}"
