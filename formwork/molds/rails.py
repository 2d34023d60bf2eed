"""The rails of a mold of flat panels: how high they stand, and which stick carries them for the least money.

A rail carries the mix between the middles of the bays below and above it from corner to corner. Where the panels alone
would ask for fewer rails than the stick bears, more of them stand closer together, or a stouter stick stands further
apart: whichever costs less.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import ceil

from formwork.errors import GeometryError
from formwork.molds.levels import Levels, asked_for, fewest
from formwork.molds.load import PANEL_LIMIT, Load, panel_span, rail_heights, rail_load
from formwork.molds.strengths import grade_of_stick
from formwork.record import record
from formwork.stock.records import StickStock
from formwork.strength.beams import Run, beam_verdicts
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.panels import PanelSection
from formwork.strength.working import Unjudged, Verdict

_UNIT = 1000.0
_TOUCHING = 1e-6
_STEPS = 64


@record
class Side:
    """What the rails of a mold hold.

    Attributes:
        load: the mix.
        section: what the panels carry from rail to rail.
        span: of a rail between the corners of the mold, m.
        around: length of all rails at one height, m.
        cleats: that stand in the corners.
        levels: what the person asks for.
    """

    load: Load
    section: PanelSection | Unjudged
    span: float
    around: float
    cleats: int
    levels: Levels


@record
class Rails:
    """A stick for rails and cleats, as it lies on the panel, and where the rails stand.

    Attributes:
        stick: that they are cut from.
        deep: side of its section that stands off the panel, m.
        broad: side that lies on it, m.
        heights: of the rails' middles, m.
        strain: of the rail that is worst off, over what it carries.
    """

    stick: StickStock
    deep: float
    broad: float
    heights: tuple[float, ...]
    strain: float

    def length(self, side: Side) -> float:
        """Of all rails and cleats, m: rails end beside the cleats that stand on their panel."""
        return len(self.heights) * (side.around - side.cleats * self.broad) + side.cleats * side.load.fill


def railed(side: Side, stick: StickStock, deep: float) -> Rails:
    """Where rails of a stick stand: as the person asks, else as few as hold; as the panels ask where none do.

    Args:
        side: what they hold.
        stick: that they are cut from.
        deep: side of its section that stands off the panel, m.

    Raises:
        GeometryError: where rails find no room as they are asked for.
    """
    broad = stick.width if deep == stick.thickness else stick.thickness
    each = _strain(stick, deep, broad, side.span)
    low, high = broad / 2.0, side.load.fill - broad / 2.0
    if side.levels.asked:
        bearing = _Bearing(side, broad, each, _spans(side, broad))
        ways = (
            asked_for(side.levels, low, high, broad, span) for span in (bearing.by_panel, bearing.by_both)
        )
        heights = min(ways, key=bearing.worst)
    else:
        heights = rail_heights(side.load, broad, side.section)
        if each * _heaviest(side.load, heights) > 1.0:
            heights = _Bearing(side, broad, each, _spans(side, broad)).more(low, high) or heights
    return Rails(stick, deep, broad, heights, each * _heaviest(side.load, heights))


def _heaviest(load: Load, heights: tuple[float, ...]) -> float:
    """Load of the rail that is worst off, N/m."""
    return max(rail_load(load, heights, index) for index in range(len(heights)))


def _spans(side: Side, broad: float) -> tuple[float, ...]:
    """What a panel spans upward from so many heights, evenly from the base to the brim, m."""
    load = side.load
    found = (panel_span(side.section, load.pressure(load.fill * i / _STEPS), broad) for i in range(_STEPS))
    return tuple(load.fill if span is None else min(load.fill, span) for span in found)


@record
class _Bearing:
    """What panels and rails take up.

    Attributes:
        side: what they hold.
        broad: breadth of a rail, m.
        each: share of a rail's strength that each N/m takes.
        spans: of a panel, upward from so many heights, m.
    """

    side: Side
    broad: float
    each: float
    spans: tuple[float, ...]

    def by_panel(self, height: float) -> float:
        """The bay that a panel spans from a height up, or from a little below, where it spans less, m."""
        return self.spans[max(0, min(_STEPS - 1, int(_STEPS * height / self.side.load.fill)))]

    def by_both(self, height: float) -> float:
        """The same, no more than a rail on either side of it may carry."""
        pressure = self.side.load.pressure(height)
        by_rail = 1.0 / (self.each * pressure) if pressure > 0.0 else self.side.load.fill
        return min(self.by_panel(height), by_rail)

    def worst(self, heights: tuple[float, ...]) -> float:
        """Of the rails, or the bay that is worst off over what it may span."""
        bays = (
            (upper - lower) / self.by_panel(lower)
            for lower, upper in pairwise(heights)
            if upper - lower > self.broad + _TOUCHING
        )
        return max(self.each * _heaviest(self.side.load, heights), *bays, 0.0)

    def more(self, low: float, high: float) -> tuple[float, ...] | None:
        """The fewest rails that hold; None where not even side by side they do."""
        load = self.side.load
        least = ceil(load.push(0.0, load.fill) * self.each)
        ways = (self.by_panel, self.by_both)
        return fewest(low, high, self.broad, ways, lambda at: self.worst(at) <= 1.0, max(2, least))


def _strain(stick: StickStock, deep: float, broad: float, span: float) -> float:
    """Of a rail's limits the share that each N/m takes up; bending, shear and sag grow in proportion to the load."""
    section = Section(breadth=broad, depth=deep)
    values = adjust(grade_of_stick(stick, max(deep, broad)), section, Service())
    found = beam_verdicts(values, section, Run(_UNIT, span), PANEL_LIMIT)
    return max(one.utilisation for one in found if isinstance(one, Verdict)) / _UNIT


def cheapest(side: Side, sticks: Iterable[StickStock], price: dict[str, float]) -> Rails | None:
    """The rails that hold for the least money, flat before on edge; those that are strained least where none hold.

    Args:
        side: what they hold.
        sticks: that may be taken, the first choice first.
        price: of a metre of each, by name.

    Returns:
        The rails; None where there are no sticks.

    Raises:
        GeometryError: where rails of none of them find room as they are asked for.
    """
    tried: list[Rails] = []
    refused: list[tuple[float, GeometryError]] = []
    for stick in sticks:
        for deep in dict.fromkeys((stick.thickness, stick.width)):
            try:
                tried.append(railed(side, stick, deep))
            except GeometryError as crowded:
                refused.append((stick.thickness + stick.width - deep, crowded))
    if refused and not tried:
        raise min(refused, key=lambda one: one[0])[1]
    holding = [one for one in tried if one.strain <= 1.0]
    if holding:
        return min(holding, key=lambda one: round(price[one.stick.name] * one.length(side), 9))
    return min(tried, key=lambda one: one.strain, default=None)
