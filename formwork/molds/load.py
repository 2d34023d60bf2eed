"""What the mix does to a panel and its rails: its pressure, the span a sheet carries, the load on a rail.

The head of the whole filling height counts: batches placed before the one below has set are one head. Two things make
it press less: lifts, each of which has set before the next goes on, press with their own height alone; and ordinary
concrete that is vibrated and rises no faster than the person says (ACI 347). Both lower what presses on the sides; the
base carries the weight of everything all the same. The density is the upper end of the tolerance, since corrections and
collapsed foam weigh more, or the heavier mix that a person wants the mold to hold.

A lift may begin at any height: nobody stops to the millimetre, and a short one below moves all that follow. So each
place is braced for the greatest pressure that any lift no higher than asked can bring to it: that lift's whole head, or
the head up to the rim where that is less.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import ceil, inf

from formwork.errors import RangeError
from formwork.mix.records import Mix
from formwork.molds.strengths import grade_of_stick, section_of
from formwork.project.records import MoldOptions
from formwork.record import record
from formwork.stock.records import SheetStock, StickStock
from formwork.strength.aci347 import COLUMN_SIDE, Member, Placing, aci_pressure, least_of
from formwork.strength.beams import Run, beam_verdicts
from formwork.strength.customary import GRAVITY
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.panels import PanelSection
from formwork.strength.pressure import Lift, head_steps, liquid_head
from formwork.strength.spanning import max_span
from formwork.strength.spans import DeflectionLimit
from formwork.strength.working import Force, Step, Unjudged, Verdict, given, step
from formwork.units import show
from formwork.units.show import UnitSystem

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
        cap: pressure on the sides that it never exceeds then, Pa.
        lifts: into how many equal lifts the filling is parted, each set before the next goes on.
    """

    density: float
    fill: float
    cellular: bool = True
    placing: Placing | None = None
    cap: float = inf
    lifts: int = 1

    @property
    def lift(self) -> float:
        """Height of mix that is fresh at once, m: a lift, or all of it."""
        return self.fill / self.lifts

    def depth(self, height: float) -> float:
        """Greatest depth of fresh mix over a place at a height above the base, m."""
        return min(max(0.0, self.fill - height), self.lift)

    def head(self, height: float) -> float:
        """What fresh mix presses a level face with, up or down, at a height above the base, Pa: nothing takes of it."""
        return liquid_head(self.density, self.depth(height))

    def pressure(self, height: float) -> float:
        """Pressure on the sides at a height above the base, Pa."""
        return min(self.head(height), self.cap)

    def weight(self, height: float) -> float:
        """What all mix over a level face weighs on it, Pa: lifts that have set lie on it as well."""
        return liquid_head(self.density, max(0.0, self.fill - height))

    def push(self, low: float, high: float) -> float:
        """Force between two heights on a strip of unit width, N/m, at the pressure that each is braced for."""
        cap = min(self.cap, liquid_head(self.density, self.lift))
        return Lift(self.density, self.fill, cap=cap).resultant(low, high)

    @property
    def depth_of_fall(self) -> float:
        """Below the fill plane, over which the pressure on the sides falls from its greatest to nothing, m."""
        return self.pressure(0.0) / liquid_head(self.density, 1.0)

    @property
    def arm(self) -> float:
        """Height above the base at which the whole push acts, m: a third of a fluid head's.

        It is the middle of an even pressure up to where it begins to fall, and of a triangle above.
        """
        h, f = self.fill, self.depth_of_fall
        return (h * h / 2.0 - h * f / 2.0 + f * f / 6.0) / (h - f / 2.0)

    def steps(self, height: float) -> tuple[Step, ...]:
        """The working of the pressure at a height above the base."""
        if self.placing is None:
            return self.head_steps(height)
        head = self.head_steps(height, "P_h")
        return (*head, *least_of(head[-1].value, self.placing))

    def head_steps(self, height: float, symbol: str = "P") -> tuple[Step, ...]:
        """The working of the head of fresh mix over a height above the base."""
        if self.lifts == 1:
            return self.weight_steps(height, symbol)
        above = max(0.0, self.fill - height)
        return (
            given("h_l", self.lift, "m", f"one of {self.lifts} lifts, each set before the next goes on"),
            step("h", "min(H, h_l)", self.depth(height), "m", H=above, h_l=self.lift),
            *head_steps(self.density, self.depth(height), symbol),
        )

    def weight_steps(self, height: float, symbol: str = "P") -> tuple[Step, ...]:
        """The working of the weight of all mix over a height above the base."""
        return head_steps(self.density, max(0.0, self.fill - height), symbol)

    def buoyed(self, space: float, plan: float, known: tuple[Step, ...], symbol: str = "U") -> Force:
        """What fresh mix lifts a part with that it gets under, or whose faces lean over it.

        One lift reaches over its own height alone: it lifts no more of the part than stands in so much height over its
        widest level section. Mix is taken to get under that much of it, and what has set below is not counted on to
        hold the part; it does keep the mix of this lift from its foot.

        Args:
            space: that the part takes up, or that lies over its leaning faces, up to the fill plane, m3.
            plan: area of its widest level section, or of those faces in plan, m2.
            known: steps that end in the space.
            symbol: of the lift.
        """
        v = known[-1].symbol
        if self.lifts == 1:
            force = liquid_head(self.density, 1.0) * space
            numbers = {"rho": self.density, "g": GRAVITY, v: space}
            return Force(force, (*known, step(symbol, f"rho * g * {v}", force, "N", **numbers)))
        counted = min(space, plan * self.lift)
        force = liquid_head(self.density, 1.0) * counted
        return Force(
            force,
            (
                *known,
                given("A", plan, "m2", "the same in plan, where it is widest"),
                given("h_l", self.lift, "m", f"one of {self.lifts} lifts, each set before the next goes on"),
                step("V_l", f"min({v}, A * h_l)", counted, "m3", **{v: space, "A": plan, "h_l": self.lift}),
                step(symbol, "rho * g * V_l", force, "N", rho=self.density, g=GRAVITY, V_l=counted),
            ),
        )


def lifts_in(fill: float, lift: float | None) -> int:
    """Into how many equal lifts a filling is parted, none of them higher than asked; 1 where nobody asks.

    >>> lifts_in(0.6, 0.25), lifts_in(0.6, 0.3), lifts_in(0.6, 2.0), lifts_in(0.6, None)
    (3, 2, 1, 1)
    """
    return 1 if lift is None else max(1, ceil(fill / lift - 1e-6))


def design_density(mix: Mix, asked: float | None, units: UnitSystem = "mm") -> float:
    """The density a mold is designed for, kg/m3: the upper end of the mix's tolerance, or the heavier one asked for.

    Raises:
        RangeError: where a lighter one is asked for.
    """
    most = mix.wet_density + (TOLERANCE if mix.kind == "cellular" else 0.0)
    if asked is None:
        return most
    if asked < most * (1.0 - 1e-9):
        wanted = show.density(most, units)
        raise RangeError(
            f"mold.design_density: got {show.density(asked, units)}, want {wanted} or more, the heaviest that the "
            "mix of this project may turn out; leave it out for a mold that holds just that"
        )
    return asked


def load_of(
    mix: Mix,
    fill: float,
    broadest: float = inf,
    options: MoldOptions | None = None,
    units: UnitSystem = "mm",
) -> Load:
    """The load of a mix that fills a mold.

    Args:
        mix: what is poured.
        fill: how high, m.
        broadest: greatest level side of the piece, which tells a column from a wall, m.
        options: what the person asks of the mold: lifts, a heavier design density; None for neither.
        units: how a person here reads a density.

    Raises:
        RangeError: where a mix that stiffens while the form fills is outside the limits of its formula, or the density
            asked for is less than the mix's.
    """
    asked = options or MoldOptions()
    density = design_density(mix, asked.design_density, units)
    lifts, cellular, said = lifts_in(fill, asked.lift), mix.kind == "cellular", mix.vibrated
    if said is None:
        return Load(density, fill, cellular, lifts=lifts)
    member: Member = "column" if broadest <= COLUMN_SIDE else "wall"
    placing = Placing(density, fill / lifts, said.rise, said.temperature, member, said.setting, said.slump)
    return Load(density, fill, cellular, placing, aci_pressure(placing), lifts)


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
    values = adjust(grade_of_stick(stick, max(deep, broad)), section, Service())
    verdicts = [
        verdict
        for index in range(len(heights))
        for verdict in beam_verdicts(values, section, Run(rail_load(load, heights, index), span), PANEL_LIMIT)
    ]
    return max(verdicts, key=lambda verdict: verdict.utilisation)
