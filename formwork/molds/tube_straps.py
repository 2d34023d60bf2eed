"""Straps round a tube that is slit: its wall no longer holds the mix together, so straps must, all of it."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, tau

from formwork.errors import StockError
from formwork.molds.load import Load
from formwork.molds.mold import Hardware
from formwork.molds.tube_lining import Choice
from formwork.record import record
from formwork.stock.records import StrapStock
from formwork.strength.bands import Strap, allowed_tension, hoop_tension
from formwork.units import show
from formwork.units.show import UnitSystem

FARTHEST = 0.3
"""No two straps stand further apart, m (common practice, no source)."""
_CLOSEST = 0.05


@record
class Strapped:
    """The straps of a slit tube.

    Attributes:
        strap: what its label says.
        count: how many.
        spacing: from one to the next, and from the foot to twice the first, m.
        tension: in the lowest one, N.
        radius: of the face that the mix presses on, m.
        reach: round the tube, m.
    """

    strap: Strap
    count: int
    spacing: float
    tension: float
    radius: float
    reach: float

    def hardware(self, units: UnitSystem) -> tuple[Hardware, ...]:
        """What is bought."""
        size = self.strap.name or f"for a working load of {show.force(self.tension, units)} or more"
        use = (
            f"round the slit tube every {show.length(self.spacing, units)}, {show.length(self.reach, units)} round; "
            "polyamide or steel, for alkali attacks polyester"
        )
        return (Hardware("strap", size, float(self.count), "piece", use),)


def strapped(choice: Choice, load: Load, known: Sequence[StrapStock], name: str | None) -> Strapped | None:
    """The straps of a tube that is slit; None where it is not.

    Args:
        choice: of the tube.
        load: the mix.
        known: straps of the shop.
        name: of the strap that is asked for; None: the shop's first with a rating.

    Raises:
        StockError: where no such strap reaches round the tube.
    """
    if choice.off != "slit":
        return None
    radius, tall, reach = choice.tube.inside / 2.0, choice.work.height, tau * choice.tube.outer
    strap = _strap(known, name, reach, choice)
    pressure = load.pressure(0.0)
    allowed = allowed_tension(strap)
    spacing = FARTHEST
    if allowed is not None:
        spacing = max(_CLOSEST, min(FARTHEST, allowed / hoop_tension(pressure, radius, 1.0)))
    count = max(2, ceil(tall / spacing - 1e-9))
    each = tall / count
    return Strapped(strap, count, each, hoop_tension(pressure, radius, each), radius, reach)


def _strap(known: Sequence[StrapStock], name: str | None, reach: float, choice: Choice) -> Strap:
    wanted = [one for one in known if name in (None, one.name)]
    fits = [one for one in wanted if one.length >= reach]
    if name is not None and not fits:
        raise StockError(
            f"{choice.work.piece.name}: mold.strap: {name} does not reach round the tube, "
            f"{show.length(reach, choice.units)}; name a longer one"
        )
    if not fits:
        return Strap("")
    best = fits[0]
    return Strap(best.name, best.lashing, best.breaking, best.polyester)
