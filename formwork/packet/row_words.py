"""What is said of blanks that hold several curved parts in a row: how many come out, and where each is marked."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from formwork.cutting.records import Placed, SheetLayout
from formwork.packet.wording import counted, size
from formwork.plan import Plan
from formwork.units import show
from formwork.units.show import UnitSystem

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
    return f"{count * each} x {first.nested[0].label} in {counted(count, 'blank')} of {each}{turned}"


def how_marked(layout: SheetLayout, units: UnitSystem) -> tuple[str, ...]:
    """For each kind of blank that holds several parts, where they are marked on it and how they are cut apart."""
    kinds = {one.label: one for one in layout.placed if one.nested}
    run = "the grain" if layout.stock.grain else "its length"
    return tuple(_marked(one, run, units) for one in kinds.values())


def _marked(one: Placed, run: str, units: UnitSystem) -> str:
    long, wide = (one.width, one.length) if one.turned else (one.length, one.width)
    label, number = one.nested[0].label, len(one.nested)
    way = "along" if _runs_along(one) else "across"
    head_to_tail = (
        ", every second one head to tail" if one.nested[0].quarters != one.nested[1].quarters else ""
    )
    return (
        f"{one.label}: the blank, {size(long, units)} x {show.length(wide, units)}, gives {number} of {label}. Mark "
        f"them from the full-size template, the first in the corner{head_to_tail}, each next one "
        f"{_steps(one, units)} further {way} {run}; cut them apart with a jigsaw or a band saw."
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
    """For the cut list: which parts come several out of one blank."""
    found: dict[str, dict[int, int]] = {}
    for layout in plan.sheets:
        for one in layout.placed:
            if one.nested:
                counts = found.setdefault(one.nested[0].label, {})
                counts[len(one.nested)] = counts.get(len(one.nested), 0) + layout.count
    return tuple(f"{label}: {_blanks(counts.items())}." for label, counts in found.items())


def _blanks(counts: Iterable[tuple[int, int]]) -> str:
    """``several come out of one blank: 3 blanks of 10, 1 blank of 4; see the sheets``."""
    listed = ", ".join(f"{counted(count, 'blank')} of {number}" for number, count in counts)
    return f"several come out of one blank ({listed}), as the sheets show"
