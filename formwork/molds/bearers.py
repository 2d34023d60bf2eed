"""How far apart bearers may lie under a mold's base: the floor of the mold as a sheet that carries the whole head."""

from __future__ import annotations

from math import floor

from formwork.molds.load import Load, panel_span, sheet_section
from formwork.record import record
from formwork.stock.records import SheetStock
from formwork.strength.customary import INCH
from formwork.strength.panels import Bay, PanelSection
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.show import UnitSystem

STEP = {"mm": 0.05, "in": 2.0 * INCH}
"""Spacings are told in whole steps of this much, m."""
UNKNOWN = 0.3
"""Spacing told where nobody says what the base carries, m (common practice, no source)."""
FARTHEST = 1.2
"""No wider spacing is told, however stiff the base, m (ours)."""


@record
class Bearers:
    """Bearers across the grain of a base.

    Attributes:
        spacing: from middle to middle, m.
        section: what a strip of the base carries.
        bay: the strip between two bearers under the whole head, taken as a single span on edges.
    """

    spacing: float
    section: PanelSection
    bay: Bay


def bearers(sheet: SheetStock, load: Load, units: UnitSystem) -> Bearers | Unjudged:
    """The widest spacing, in whole steps, at which a base holds; not judged where nobody says what its sheet carries.

    It carries the weight of the whole filling, whatever has set of it, and whatever presses less on the sides.

    Args:
        sheet: of the base.
        load: the mix on it.
        units: how a person here reads the spacing.
    """
    section = sheet_section(sheet, upright_grain=True)
    pressure = load.weight(0.0)
    span = panel_span(section, pressure, 0.0)
    if isinstance(section, Unjudged) or span is None:
        why = section.why if isinstance(section, Unjudged) else "no span is known"
        return Unjudged("base between bearers", f"{why}; let the base lie on the bench all over")
    step = STEP[units]
    steps = floor(min(span, FARTHEST) / step + 1e-9)
    if steps < 2:
        return Unjudged(
            "base between bearers", "the head is too great for bearers; let it lie on the bench all over"
        )
    return Bearers(steps * step, section, Bay(pressure, steps * step))


ON_TRESTLES = "Lay the base across two trestles, so that you reach its underside."
"""Before anything is fastened from below or from behind: what has been levelled is not turned over again."""


REACHED = (
    "The screws or bolts beneath come out before the mold comes off: set it where you reach them, on bearers high "
    "enough or part by part over the edge of the bench."
)
"""Where what is undone at every filling goes up through the base."""


def setting_down(
    under: Bearers | Unjudged, units: UnitSystem, what: str = "the base", batten: float = 0.0
) -> str:
    """How the base is set: on a flat bench, or on bearers as far apart as it carries.

    Args:
        under: the bearers it was designed for.
        units: how a person here reads the spacing.
        what: is set down: the base alone, or with what was fastened to it.
        batten: thickness of the battens under the joints of a base of several boards, m; 0 where it is one board.
    """
    clear = "" if what == "the base" else "; no head of a screw or bolt may lift it"
    if batten:
        return _on_battens(under, units, what, batten) + f"{clear}."
    bench = f"Set {what} level in both directions on a flat bench that carries the filled mold"
    if isinstance(under, Unjudged):
        return f"{bench} and bears on it all over{clear}."
    return (
        f"{bench}, or on bearers across its face grain: one under each end and between them at most "
        f"{show.length(under.spacing, units)} from middle to middle{clear}."
    )


def _on_battens(under: Bearers | Unjudged, units: UnitSystem, what: str, batten: float) -> str:
    apart = UNKNOWN if isinstance(under, Unjudged) else under.spacing
    return (
        f"Set {what} level in both directions on its battens and on bearers of their thickness "
        f"({show.length(batten, units)}) across its face grain: one under each end and between them at most "
        f"{show.length(apart, units)} from middle to middle; bearers end at a batten that crosses them"
    )
