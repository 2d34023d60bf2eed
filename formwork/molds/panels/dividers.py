"""A gang's divider with one cavity full and the next one empty: how it spans, and how hard it pushes its end screws.

Filling all cavities together is what the plan asks for; a divider is made to bear the mistake all the same. It is
taken to span level from end to end: nothing fastens its foot. Layers are taken to bend side by side, glue or none.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from formwork.molds.load import PANEL_LIMIT, Load
from formwork.molds.mold import Part
from formwork.molds.panels.lining import Frame
from formwork.molds.strengths import section_of
from formwork.record import record
from formwork.strength.panels import Bay, panel_verdicts
from formwork.strength.working import Judged, Step, Unjudged, Verdict, given, step

MOST_LAYERS = 3
"""A divider thicker than so many sheets is not laid up; a shorter gang is the better answer (ours)."""


@record
class Push:
    """What the screws at one end of a divider must hold across their axis, N for each m of height, and its steps."""

    across: float
    steps: tuple[Step, ...]


def dividers(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The dividers of a mold."""
    return tuple(part for part in parts if part.role == "divider")


def divider_verdicts(frame: Frame, load: Load, divider: Part) -> tuple[Judged, ...]:
    """Bending, shear and bulge of the lowest strip of a divider; or what is missing of its sheet.

    Args:
        frame: the mold.
        load: the mix on one side.
        divider: the part.
    """
    sheet = frame.stocks.sheet
    section = section_of(sheet, "across" if _grain_level(divider) else "along")
    if isinstance(section, Unjudged):
        return (section,)
    bay = Bay(load.pressure(0.0) / divider.layers, level_length(divider))
    return panel_verdicts(section, bay, PANEL_LIMIT)


def layers_wanted(frame: Frame, load: Load, parts: Sequence[Part]) -> int:
    """How many layers of sheet the dividers need to hold a full cavity beside an empty one.

    Returns:
        1 where there are none, nobody knows the sheet, or not even ``MOST_LAYERS`` would do; the check then says so.
    """
    found = [one for part in dividers(parts) for one in divider_verdicts(frame, load, part)]
    worst = max((one.utilisation for one in found if isinstance(one, Verdict)), default=0.0)
    layers = max(1, ceil(worst - 1e-9))
    return layers if layers <= MOST_LAYERS else 1


def divider_push(load: Load, parts: Sequence[Part]) -> Push:
    """The push at the foot of the longest divider on the screws at each of its ends; every mold asked has one."""
    longest = max(level_length(part) for part in dividers(parts))
    pressure = load.pressure(0.0)
    across = pressure * longest / 2.0
    return Push(
        across,
        (
            given("p", pressure / 1e6, "MPa", "pressure at the foot, taken over the whole height"),
            step("v", "p * L / 2", across / 1000.0, "N/mm", p=pressure / 1e6, L=longest * 1000.0),
        ),
    )


def level_length(divider: Part) -> float:
    """Length of a divider from end to end, m."""
    return divider.blank.length if _grain_level(divider) else divider.blank.width


def upright(divider: Part) -> float:
    """Height of a divider, m."""
    return divider.blank.width if _grain_level(divider) else divider.blank.length


def _grain_level(divider: Part) -> bool:
    return abs(divider.placement.along[2]) < 0.5
