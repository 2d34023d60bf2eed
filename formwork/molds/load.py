"""What the mix does to a panel and its rails: its pressure, the span a sheet carries, the load on a rail.

The head of the whole filling height counts: batches placed before the one below has set are one head. Only ordinary
concrete that is vibrated and rises no faster than the person says presses less (ACI 347). The density is the upper end
of the tolerance, since corrections and collapsed foam weigh more.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import inf

from formwork.mix.records import Mix
from formwork.molds.strengths import section_of
from formwork.record import record
from formwork.stock.records import SheetStock, StickStock
from formwork.strength.aci347 import COLUMN_SIDE, Member, Placing, aci_pressure, least_of
from formwork.strength.beams import Run, beam_verdicts
from formwork.strength.lumber import Section, Service, adjust, grade_of
from formwork.strength.panels import PanelSection
from formwork.strength.pressure import Lift, head_steps, liquid_head
from formwork.strength.spanning import max_span
from formwork.strength.spans import DeflectionLimit
from formwork.strength.working import Step, Unjudged, Verdict

TOLERANCE = 48.0
"""Upper tolerance of a cellular mix's wet density, kg/m3. Source: ASTM C869 Table 1 (641 +- 48 kg/m3)."""
_SHARES = (1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)
PANEL_LIMIT = DeflectionLimit(1.0 / 270.0)
"""Bulge of panels and rails accepted: span/270, the coarser of the two limits of the published panel tables."""


@record
class Load:
    """The mix in the mold, as the bracing must take it.

    Attributes:
        density: design density, kg/m3.
        fill: height of the fill plane above the base, m.
        cellular: foam fills the mix, and vibration would break it.
        placing: how it is placed, where it stiffens while the form fills; None for one fluid head.
        cap: pressure it never exceeds then, Pa.
    """

    density: float
    fill: float
    cellular: bool = True
    placing: Placing | None = None
    cap: float = inf

    def pressure(self, height: float) -> float:
        """Pressure at a height above the base, Pa."""
        return min(liquid_head(self.density, max(0.0, self.fill - height)), self.cap)

    def push(self, low: float, high: float) -> float:
        """Force between two heights on a strip of unit width, N/m."""
        return Lift(self.density, self.fill, cap=self.cap if self.placing else None).resultant(low, high)

    def steps(self, height: float) -> tuple[Step, ...]:
        """The working of the pressure at a height above the base."""
        head = head_steps(self.density, max(0.0, self.fill - height))
        return head if self.placing is None else (*head, *least_of(head[-1].value, self.placing))


def load_of(mix: Mix, fill: float, broadest: float = inf) -> Load:
    """The load of a mix that fills a mold.

    Args:
        mix: what is poured.
        fill: how high, m.
        broadest: greatest level side of the piece, which tells a column from a wall, m.

    Raises:
        RangeError: where a mix that stiffens while the form fills is outside the limits of its formula.
    """
    cellular = mix.kind == "cellular"
    density = mix.wet_density + (TOLERANCE if cellular else 0.0)
    said = mix.vibrated
    if said is None:
        return Load(density, fill, cellular)
    member: Member = "column" if broadest <= COLUMN_SIDE else "wall"
    placing = Placing(density, fill, said.rise, said.temperature, member, said.setting, said.slump)
    return Load(density, fill, cellular, placing, aci_pressure(placing))


def sheet_section(sheet: SheetStock, upright_grain: bool) -> PanelSection | Unjudged:
    """What a strip of the sheet carries from rail to rail, or why nobody says.

    Rails run level, so a panel with its face grain upright has the grain across its supports.
    """
    return section_of(sheet, "across" if upright_grain or not sheet.grain else "along")


def panel_span(section: PanelSection | Unjudged, pressure: float, support: float) -> float | None:
    """Greatest distance between the middles of two rails at a pressure (Pa), m; None where no data say."""
    if isinstance(section, Unjudged):
        return None
    if pressure <= 0.0:
        return float("inf")
    return max_span(section, pressure, 1, PANEL_LIMIT, support).least


def rail_heights(load: Load, breadth: float, section: PanelSection | Unjudged) -> tuple[float, ...]:
    """Height of each rail's middle above the base, the lowest first, m: closer below, where the mix presses more.

    One rail at the foot and one at the rim always, a single one where two would touch; between them as few as keep
    every bay of the panel within its span, drawn together evenly; side by side where even that is not enough.

    Args:
        load: the mix.
        breadth: of a rail along the panel, m.
        section: what the panel carries.
    """
    low, high = breadth / 2.0, load.fill - breadth / 2.0

    def span_from(height: float) -> float:
        span = panel_span(section, load.pressure(height), breadth)
        return high - low if span is None else span

    return spaced(low, high, breadth, span_from)


def spaced(low: float, high: float, breadth: float, span: Callable[[float], float]) -> tuple[float, ...]:
    """Heights from the lowest to the highest, as few as keep every bay within its span, drawn together evenly.

    Args:
        low: the lowest.
        high: the highest; a single one stands where two would touch.
        breadth: of what stands there, m: no bay is less.
        span: the greatest bay from a height up, m.
    """
    if high - low < breadth:
        return (low,)

    def span_from(height: float) -> float:
        return max(span(height), breadth)

    for share in _SHARES:
        heights = [low]
        while heights[-1] < high - 1e-9:
            heights.append(heights[-1] + max(share * span_from(heights[-1]), breadth))
        drawn = (high - low) / (heights[-1] - low)
        even = (*(low + drawn * (height - low) for height in heights[:-1]), high)
        if all(breadth - 1e-9 <= upper - lower <= span_from(lower) + 1e-9 for lower, upper in pairwise(even)):
            return even
    bays = int((high - low) / breadth)
    return (*(low + (high - low) * i / bays for i in range(bays)), high)


def rail_load(load: Load, heights: tuple[float, ...], index: int) -> float:
    """Load on a rail, N/m: the mix between the middles of the bays below and above it, at the pressure lowest down."""
    below = 0.0 if index == 0 else (heights[index - 1] + heights[index]) / 2.0
    above = load.fill if index == len(heights) - 1 else (heights[index] + heights[index + 1]) / 2.0
    return load.push(below, above)


def worst_rail(
    load: Load, heights: tuple[float, ...], stick: StickStock, deep: float, span: float
) -> Verdict:
    """The verdict that governs over all rails.

    Args:
        load: the mix.
        heights: of the rails, m.
        stick: what they are cut from.
        deep: side of its section that stands off the panel, m.
        span: between the corners of the mold, m.
    """
    broad = stick.width if deep == stick.thickness else stick.thickness
    section = Section(breadth=broad, depth=deep)
    values = adjust(grade_of(stick.material, max(deep, broad)), section, Service())
    verdicts = [
        verdict
        for index in range(len(heights))
        for verdict in beam_verdicts(values, section, Run(rail_load(load, heights, index), span), PANEL_LIMIT)
    ]
    return max(verdicts, key=lambda verdict: verdict.utilisation)
