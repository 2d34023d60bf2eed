"""What is said of blanks that hold several parts, in a row or one in another's opening: where each is marked."""

from __future__ import annotations

from itertools import pairwise

from formwork.cutting.records import Placed, SheetLayout
from formwork.packet.wording import counted, size
from formwork.plan import Plan
from formwork.units import show
from formwork.units.show import UnitSystem

_OUT_OF = (
    "saw the opening of the first from a hole bored inside its line, and keep what falls out: the next part comes from "
    "it, marked about the same middle."
)
_STEP = 1e-4
"""Steps nearer to one another than this, m, are one step."""


def on_sheet(layout: SheetLayout) -> str:
    """What lies on a sheet, equal blanks together: ``30 x A1 in 3 blanks of 10, A2 turned``."""
    blanks: dict[tuple[str, bool], list[Placed]] = {}
    for one in layout.placed:
        blanks.setdefault((one.label, one.turned), []).append(one)
    return ", ".join(_told(some) for some in blanks.values())


def _told(some: list[Placed]) -> str:
    first, count = some[0], len(some)
    turned = " turned" if first.turned else ""
    if not first.nested:
        return f"{count} x {first.label}{turned}" if count > 1 else f"{first.label}{turned}"
    each = len(first.nested)
    if not _in_a_row(first):
        return f"{count} x {first.label}{turned}" if count > 1 else f"{first.label}{turned}"
    blanks = f"{counted(count, 'blank')} of {each}" if count > 1 else "one blank"
    return f"{count * each} x {first.nested[0].label} in {blanks}{turned}"


def how_marked(layout: SheetLayout, units: UnitSystem) -> tuple[str, ...]:
    """For the blanks that hold several parts, where these are marked and how they are cut apart; equal words once."""
    run = "the grain" if layout.stock.grain else "its length"
    same: dict[str, list[str]] = {}
    for one in layout.placed:
        if one.nested:
            words = _marked(one, run, units) if _in_a_row(one) else _OUT_OF
            labels = same.setdefault(words, [])
            labels += [one.label] if one.label not in labels else []
    return tuple(f"{', '.join(labels)}: {words}" for words, labels in same.items())


def _in_a_row(one: Placed) -> bool:
    """Its parts are alike and stand in a row; else each lies in the opening of the one before."""
    return len({spot.label for spot in one.nested}) == 1


def _marked(one: Placed, run: str, units: UnitSystem) -> str:
    long, wide = (one.width, one.length) if one.turned else (one.length, one.width)
    way = "along" if _runs_along(one) else "across"
    head_to_tail = (
        ", every second one head to tail" if one.nested[0].quarters != one.nested[1].quarters else ""
    )
    return (
        f"the blank, {size(long, units)} x {show.length(wide, units)}, gives {len(one.nested)}. Mark them from the "
        f"full-size template, the first in the corner{head_to_tail}, each next one {_steps(one, units)} further {way} "
        f"{run}; cut them apart, curves with a jigsaw or a band saw, straight lines along a guide."
    )


def _runs_along(one: Placed) -> bool:
    """Whether the row runs along the blank's length."""
    first, second = one.nested[:2]
    level = abs(second.x - first.x) > abs(second.y - first.y)
    return level != one.turned


def _steps(one: Placed, units: UnitSystem) -> str:
    """The step from each part to the next, or the two that take turns."""
    steps: list[float] = []
    for first, second in pairwise(one.nested):
        step = abs(second.x - first.x) + abs(second.y - first.y)
        if all(abs(step - known) > _STEP for known in steps):
            steps.append(step)
    if len(steps) == 1:
        return show.length(steps[0], units)
    return f"by turns {size(steps[0], units)} and {show.length(steps[1], units)}"


def in_rows(plan: Plan) -> tuple[str, ...]:
    """For the cut list: which parts come several out of one blank; none where all come out of blanks of their own."""
    labels = dict.fromkeys(spot.label for one in plan.sheets for each in one.placed for spot in each.nested)
    if not labels:
        return ()
    listed = [line.label for line in plan.cut_list if line.label in labels]
    return (f"{', '.join(listed)}: several come out of one blank, as the sheets show.",)
