"""What a tube mold needs besides sheet, stick and tube: screws, soft strip, wrap, plugs, a rod for its core, straps."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.molds.foot_strip import strip_lines
from formwork.molds.hardware import gathered, lines_of
from formwork.molds.mold import Hardware, Part
from formwork.molds.tubes.joints import Held
from formwork.molds.tubes.lining import WRAP_STOCK, Choice
from formwork.molds.tubes.straight import Core
from formwork.molds.tubes.straps import Strapped
from formwork.units import show
from formwork.units.show import UnitSystem

_ROD_OVER = 0.1
"""A rod reaches this much beyond its core, through plate or bar and nuts, m."""


def bought(
    choice: Choice, parts: Sequence[Part], joints: Sequence[Held], straps: Strapped | None, uses: int
) -> tuple[Hardware, ...]:
    """What is bought by the piece to hold one tube mold together, and what every filling of it takes.

    Args:
        choice: of tube and core.
        parts: of the lining.
        joints: with their fasteners.
        straps: round a tube that is slit.
        uses: fillings.
    """
    units = choice.units
    found = [line for one in joints for line in lines_of(one.fastening)]
    found += strip_lines(parts)
    found += [
        Hardware(
            WRAP_STOCK,
            show.length(part.blank.thickness, units),
            part.blank.length * part.blank.width * uses,
            "m2",
            f"round the core tube for each of {uses} fillings",
        )
        for part in parts
        if part.stock == WRAP_STOCK
    ]
    found += [
        Hardware("dowel or stopper", _plug_size(part, units), 1.0, "piece", "drain plugs")
        for part in parts
        if part.role == "plug"
    ]
    if any(part.name == "core cap" for part in parts) and choice.work.core is not None:
        found += _rod(choice.work.core, units)
    return (*gathered(found), *(straps.hardware(units) if straps else ()))


def _rod(core: Core, units: UnitSystem) -> list[Hardware]:
    size = "M8" if units == "mm" else "5/16 in"
    length = show.length(core.high - core.low + _ROD_OVER, units)
    use = "through the disc at the core's cap, to draw the core to the plate or the bar"
    return [
        Hardware("threaded rod", f"{size} x {length}", 1.0, "piece", use),
        Hardware("plate washer", f"{show.length(0.05, units)} square", 2.0, "piece", use),
        Hardware("nut", size, 2.0, "piece", use),
    ]


def _plug_size(part: Part, units: UnitSystem) -> str:
    return f"{show.length(part.blank.width, units)} across, {show.length(part.blank.length, units)} long"
