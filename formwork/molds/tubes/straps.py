"""Straps round a tube that is slit: its wall no longer holds the mix together, so straps must, all of it."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, tau

from formwork.molds.load import Load
from formwork.molds.mold import Hardware
from formwork.molds.straps import TAIL, allowed, as_strap, strap_for, strap_lines
from formwork.molds.tubes.lining import Choice
from formwork.record import record
from formwork.stock.records import StrapStock
from formwork.strength.bands import Strap, hoop_tension
from formwork.units import show
from formwork.units.show import UnitSystem

FARTHEST = 0.3
"""No two straps stand further apart, m (common practice, no source)."""
_CLOSEST = 0.05


@record
class Strapped:
    """The straps of a slit tube.

    Attributes:
        stock: of the shop; None where it lists none that reaches round.
        count: how many.
        spacing: from one to the next, and from the foot to twice the first, m.
        tension: in the lowest one, N.
        radius: of the face that the mix presses on, m.
    """

    stock: StrapStock | None
    count: int
    spacing: float
    tension: float
    radius: float

    @property
    def strap(self) -> Strap:
        """As the formulas take it."""
        return as_strap(self.stock) if self.stock else Strap("")

    def hardware(self, units: UnitSystem) -> tuple[Hardware, ...]:
        """What is bought."""
        where = f"round the slit tube every {show.length(self.spacing, units)}"
        return strap_lines(self.stock, self.tension, self.count, where, units)


def strapped(choice: Choice, load: Load, known: Sequence[StrapStock], name: str | None) -> Strapped | None:
    """The straps of a tube that is slit, closer together where the strap is weak; None where it is not slit.

    Args:
        choice: of the tube.
        load: the mix.
        known: straps of the shop.
        name: of the strap that is asked for; None where it is chosen.

    Raises:
        StockError: where the strap that is asked for does not reach round the tube.
    """
    if choice.off != "slit":
        return None
    radius, tall = choice.tube.inside / 2.0, choice.work.height
    each_metre = hoop_tension(load.pressure(0.0), radius, 1.0)
    round_it = tau * choice.tube.outer + TAIL
    stock = strap_for(known, name, each_metre * FARTHEST, round_it, choice.work.piece.name, choice.units)
    most = allowed(stock) / each_metre if stock else 0.0
    spacing = max(_CLOSEST, min(FARTHEST, most)) if most else FARTHEST
    count = max(2, ceil(tall / spacing - 1e-9))
    return Strapped(stock, count, tall / count, each_metre * tall / count, radius)
