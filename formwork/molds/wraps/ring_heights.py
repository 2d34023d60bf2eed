"""Where the rings of a wrapped mold stand: closer below, where the mix presses more; or where the person wants them."""

from __future__ import annotations

from math import inf

from formwork.errors import GeometryError
from formwork.molds.levels import Levels, asked_for
from formwork.molds.load import spaced
from formwork.molds.straps import allowed
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.skin_holds import bay
from formwork.molds.wraps.wrapping import Lined
from formwork.units import show


def ring_heights(lined: Lined) -> tuple[tuple[float, ...], ...]:
    """Heights of the rings' middles on every side, the lowest first, m.

    Raises:
        GeometryError: where rings find no room as the person asks for them.
    """
    wanted = lined.order.mold.ring_heights or ()
    fill, units = lined.form.fill, lined.asked.units
    beyond = [height for height in wanted if not 0.0 < height < fill]
    if beyond:
        raise GeometryError(
            f"{lined.order.name}: mold.ring_heights: got {show.length(beyond[0], units)}, want heights above the base "
            f"and below the brim, {show.length(fill, units)}"
        )
    return tuple(_of_side(lined, side) for side in lined.sides)


def _of_side(lined: Lined, side: Cone) -> tuple[float, ...]:
    """One at the foot, one at the head, others between."""
    shell, load, options = lined.shell, lined.asked.load, lined.order.mold
    thick = shell.sheet.thickness
    limit = allowed(shell.strap) if shell.strap else inf
    low, high = side.foot[1] + thick, side.head[1] - thick

    def span(height: float) -> float:
        return bay(shell.holds, side, load, height, limit)

    here = None
    if options.ring_heights is not None:
        here = tuple(height for height in options.ring_heights if side.foot[1] <= height < side.head[1])
    levels = Levels("ring", options.rings, here, lined.order.name, lined.asked.units)
    if levels.asked:
        return asked_for(levels, low, high, 2.0 * thick, span)
    return spaced(low, high, 2.0 * thick, span)
