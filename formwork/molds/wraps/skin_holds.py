"""How a bent skin carries the mix between two rings, and how far apart they may then stand.

Where the tension that a skin may carry is known, it carries the mix by it, as a barrel does: its ends are screwed to
the battens of the seams, which span from ring to ring. Where only its bending strength is known, a strip of it spans
from ring to ring. Where neither is, the rings stand as close as practice has them, and the check says what is missing.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, inf

from formwork.errors import RangeError
from formwork.molds.joints import CLOSE
from formwork.molds.load import PANEL_LIMIT, Load, panel_span
from formwork.molds.panels.corner_pull import sideways
from formwork.molds.strengths import grade_of_stick, gravity_of, section_of
from formwork.molds.wraps.bent_strength import bent_of
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.ring_ribs import Batten
from formwork.molds.wraps.skins import Skin, tension_of
from formwork.record import record
from formwork.stock.records import SheetStock, StickStock, StrapStock
from formwork.strength.beams import beam_span
from formwork.strength.bending import hoop_stress
from formwork.strength.fasteners import screw
from formwork.strength.lumber import Adjusted, Section, Service, adjust
from formwork.strength.outside_pressure import Shell, buckling
from formwork.strength.panels import PanelSection
from formwork.strength.thin_plates import through_plate
from formwork.strength.working import Force, Unjudged
from formwork.units.parse import read

FARTHEST = 0.45
"""Greatest distance of two rings that keep a skin round, m (common practice, no source)."""
CLOSEST = 0.12
"""Rings stand no closer than this for the sake of their straps, m: a stronger strap is the remedy then (ours)."""
UNKNOWN = 0.25
"""Distance of two rings where nobody says what the skin carries, m (common practice, no source)."""
ROWS = 2
"""Most rows of screws that find room along a seam batten (ours)."""
_LEAST_PITCH = 0.03
"""Least distance of two screws of a row, m (common practice, no source)."""
_STEP = 0.005
_HALVINGS = 30


def strip_of(skin: Skin) -> PanelSection | Unjudged:
    """What an upright strip of a skin carries from ring to ring, or why nobody says."""
    return section_of(skin.sheet, "across" if skin.way == "across" or not skin.sheet.grain else "along")


@record
class SeamScrew:
    """The screw that holds the edge of a skin to its batten: size as printed, what it holds, or why nobody says."""

    size: str
    hold: Force | Unjudged


def seam_screw(skin: SheetStock, batten: Batten, sizes: Sequence[str], pull: float) -> SeamScrew:
    """The shortest screw of which enough find room along a seam; else the one that holds most.

    Only screws count that bite well in the batten and do not come out of it.

    Args:
        skin: under its head.
        batten: that holds its point.
        sizes: of the shop's screws as printed, the shortest first.
        pull: of the skin along the round, N for each m of seam.
    """
    fit = [size for size in sizes if 0.025 <= screw_length(size) - skin.thickness <= batten.deep - 0.002]
    found = [SeamScrew(size, _sideways(size, skin, batten.stick)) for size in fit or sizes[:1]]
    known = [(one.hold.force, one) for one in found if isinstance(one.hold, Force)]
    if not known:
        return found[0] if found else SeamScrew("", Unjudged("seam of the skin", "the shop lists no screw"))
    enough = [one for force, one in known if ROWS * force >= pull * _LEAST_PITCH]
    return enough[0] if enough else max(known, key=lambda pair: pair[0])[1]


def screw_length(size: str) -> float:
    """Length of a screw, m, from its size as printed."""
    return read(size.split(" x ", 1)[1], "length", None)


def _sideways(size: str, skin: SheetStock, stick: StickStock) -> Force | Unjudged:
    bite = screw_length(size) - skin.thickness
    found: Force | None = None
    if skin.material == "sheet steel":
        found = _through_steel(size, skin.thickness, bite, stick)
    elif "plywood" in skin.material:
        found = sideways(size, skin.thickness, bite, stick)
    if found is None:
        what = f"{skin.material} of {skin.thickness * 1e3:.1f} mm"
        return Unjudged("seam of the skin", f"no source gives what a screw holds at the edge of {what}")
    return found


def _through_steel(size: str, plate: float, bite: float, stick: StickStock) -> Force | None:
    """What a screw holds through a steel skin; None where the skin is too thick for the formula."""
    try:
        held = through_plate(screw(size), plate, bite, gravity_of(stick))
    except RangeError:
        return None
    return Force(held.value, held.steps)


@record
class Holds:
    """How the skin of a shell is held.

    Attributes:
        skin: the skin.
        screw: at its edges.
        batten: along its edges.
        strap: round the rings; None where the shop lists none.
    """

    skin: Skin
    screw: SeamScrew
    batten: Batten
    strap: StrapStock | None

    def by_tension(self, pressure: float, radius: float) -> bool:
        """The skin carries this pressure by tension, and screws enough find room at its edges."""
        stress = tension_of(self.skin.sheet)
        if isinstance(stress, Unjudged) or isinstance(self.screw.hold, Unjudged):
            return False
        skin_holds = hoop_stress(stress, pressure, radius, self.skin.sheet.thickness).ok
        return skin_holds and pressure * radius * _LEAST_PITCH <= ROWS * self.screw.hold.force

    def rows(self, pressure: float, radius: float) -> int:
        """Rows of screws along a seam: a second one where one would stand too close."""
        if isinstance(self.screw.hold, Unjudged):
            return 1
        return 1 if pressure * radius * _LEAST_PITCH <= self.screw.hold.force else ROWS

    def pitch(self, pressure: float, radius: float) -> float:
        """Distance of the screws of a row, m: in steps of 5 mm, as the pull at the foot asks, while there is room."""
        if isinstance(self.screw.hold, Unjudged) or pressure * radius <= 0.0:
            return CLOSE
        asked = self.rows(pressure, radius) * self.screw.hold.force / (pressure * radius)
        return min(CLOSE, max(_LEAST_PITCH, floor(asked / _STEP) * _STEP))


def core_bay(skin: Skin, load: Load, radius: float) -> float:
    """The greatest distance of two ribs inside a core's skin, m: what a strip of it spans at the foot unbuckled.

    Args:
        skin: of the core.
        load: the mix.
        radius: greatest radius of the core's face, m.
    """
    section, pressure = strip_of(skin), load.pressure(0.0)
    strip = UNKNOWN if isinstance(section, Unjudged) else panel_span(section, pressure, 0.0) or UNKNOWN
    return min(FARTHEST, strip, _unbuckled(skin, pressure, radius))


def _unbuckled(skin: Skin, pressure: float, radius: float) -> float:
    """The greatest distance of two ribs at which a skin does not buckle inward, m; no limit where nobody knows it."""
    bent = bent_of(skin.sheet, grain_round=skin.way == "along")
    if isinstance(bent, Unjudged) or pressure <= 0.0:
        return inf
    middle = radius - skin.sheet.thickness / 2.0

    def holds(apart: float) -> bool:
        return buckling(Shell(bent.bend, bent.stretch, middle, apart, bent.source), pressure).ok

    least, most = 2.0 * skin.sheet.thickness, FARTHEST
    if holds(most):
        return most
    for _ in range(_HALVINGS):
        apart = (least + most) / 2.0
        least, most = (apart, most) if holds(apart) else (least, apart)
    return least


def batten_values(batten: Batten) -> tuple[Adjusted, Section]:
    """Design values of a batten that the skin pulls along the mold's round, and its section so loaded."""
    section = Section(breadth=batten.deep, depth=batten.thick)
    return adjust(grade_of_stick(batten.stick, max(batten.deep, batten.thick)), section, Service()), section


def batten_span(batten: Batten, pull: float) -> float:
    """Greatest distance of two rings that a batten spans under a pull of the skin (N/m), m."""
    if pull <= 0.0:
        return inf
    values, section = batten_values(batten)
    return beam_span(values, section, pull, 1, PANEL_LIMIT).least


def bay(holds: Holds, side: Cone, load: Load, height: float, strap_limit: float) -> float:
    """The greatest distance of two rings from a height up, m.

    Args:
        holds: the skin and what holds it.
        side: of the piece.
        load: the mix.
        height: of the lower ring.
        strap_limit: tension that the strap may carry, N; infinite where none is known.
    """
    foot = side.foot[1]
    worst, radius = load.pressure(foot), max(side.foot[0], side.head[0])
    pull = load.pressure(height) * radius
    by_strap = max(CLOSEST, strap_limit / pull) if pull > 0.0 else inf
    section = strip_of(holds.skin)
    if holds.by_tension(worst, radius):
        carried = batten_span(holds.batten, pull)
    elif isinstance(section, Unjudged):
        carried = UNKNOWN
    else:
        carried = panel_span(section, load.pressure(height), 0.0) or UNKNOWN
    return min(FARTHEST, carried, by_strap)
