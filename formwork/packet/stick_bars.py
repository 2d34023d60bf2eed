"""Sticks as bars: where each cut falls, seen at a glance, all to one scale.

What the saw takes between the cuts is too little to be seen and is shown with what is left over.
"""

from __future__ import annotations

from itertools import accumulate

from formwork.cutting.records import StickLayout
from formwork.packet.print_blocks import Entry
from formwork.units import show
from formwork.units.show import UnitSystem


def stick_bars(sticks: tuple[StickLayout, ...], units: UnitSystem) -> Entry:
    """A bar for each way of cutting a stick; shares are of the longest stick.

    Args:
        sticks: layouts, in the order of their table.
        units: of the person.
    """
    longest = max(layout.length for layout in sticks)
    return {"kind": "bars", "bars": [_bar(layout, longest, units) for layout in sticks]}


def _bar(layout: StickLayout, longest: float, units: UnitSystem) -> Entry:
    many = f"{layout.count} x " if layout.count > 1 else ""
    lengths = [length for _, length in layout.cuts]
    starts = list(accumulate(lengths, initial=0.0))
    return {
        "title": f"{many}{layout.stock.name}, {show.length(layout.length, units)}",
        "share": layout.length / longest,
        "cuts": [
            {"label": label, "at": start / longest, "share": length / longest}
            for (label, length), start in zip(layout.cuts, starts, strict=False)
        ],
        "offcut": f"{show.length(layout.offcut, units)} left over",
    }
