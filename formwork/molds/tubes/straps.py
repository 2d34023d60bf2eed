"""Straps round a tube that is slit: its wall no longer holds the mix together, so straps must, all of it.

Each holds the mix in a band of the tube's height; the bands are lower below, where the mix presses more.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf, tau

from formwork.errors import GeometryError
from formwork.molds.levels import Levels, most_of
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
"""No strap holds more of the height, m (common practice, no source)."""
CLOSEST = 0.05
"""Straps stand no closer, m (ours)."""
_FEWEST = 2
_HALVINGS = 50


@record
class Strapped:
    """The straps of a slit tube.

    Attributes:
        stock: of the shop; None where it lists none that reaches round.
        heights: of the straps, the lowest first, m.
        bands: lower and upper end of what each holds, m.
        tensions: in each, N.
        radius: of the face that the mix presses on, m.
    """

    stock: StrapStock | None
    heights: tuple[float, ...]
    bands: tuple[tuple[float, float], ...]
    tensions: tuple[float, ...]
    radius: float

    @property
    def count(self) -> int:
        """How many."""
        return len(self.heights)

    @property
    def tension(self) -> float:
        """In the strap that is worst off, N."""
        return max(self.tensions)

    @property
    def worst(self) -> tuple[float, float]:
        """The band of the strap that is worst off."""
        return self.bands[self.tensions.index(self.tension)]

    @property
    def strap(self) -> Strap:
        """As the formulas take it."""
        return as_strap(self.stock) if self.stock else Strap("")

    def hardware(self, units: UnitSystem) -> tuple[Hardware, ...]:
        """What is bought."""
        where = f"round the slit tube, {self.places(units)} above the plate"
        return strap_lines(self.stock, self.tension, self.count, where, units)

    def places(self, units: UnitSystem) -> str:
        """Their heights, as a person reads them."""
        some = [show.length(height, units) for height in self.heights]
        return some[0] if len(some) == 1 else f"{', '.join(some[:-1])} and {some[-1]}"


def strapped(
    choice: Choice, load: Load, known: Sequence[StrapStock], asked: Levels, name: str | None
) -> Strapped | None:
    """The straps of a tube that is slit, closer together where the strap is weak; None where it is not slit.

    Args:
        choice: of the tube.
        load: the mix.
        known: straps of the shop.
        asked: what the person asks for of their number or heights.
        name: of the strap that is asked for; None where it is chosen.

    Raises:
        GeometryError: where straps find no room as they are asked for.
        StockError: where the strap that is asked for does not reach round the tube.
    """
    if choice.off != "slit":
        return None
    radius, piece = choice.tube.inside / 2.0, choice.work.piece.name
    round_it = tau * choice.tube.outer + TAIL
    pull = hoop_tension(load.pressure(0.0), radius, FARTHEST)
    stock = strap_for(known, name, pull, round_it, piece, choice.units)
    heights, edges = _placed(
        asked, load, radius, choice.work.height, (allowed(stock) if stock else 0.0) or inf
    )
    bands = tuple(pairwise(edges))
    tensions = tuple(hoop_tension(load.pressure(low), radius, high - low) for low, high in bands)
    return Strapped(stock, heights, bands, tensions, radius)


def _placed(
    asked: Levels, load: Load, radius: float, tall: float, carries: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Heights of the straps, and the ends of their bands, m.

    Args:
        asked: by the person.
        load: the mix.
        radius: of the face that it presses on.
        tall: how high the tube stands.
        carries: what one strap carries, N.

    Raises:
        GeometryError: where they find no room as they are asked for.
    """
    if asked.heights is not None:
        return asked.heights, _between(asked, asked.heights, tall)

    most = max(1, most_of(0.0, tall, CLOSEST) - 1)
    if asked.count is not None and not 1 <= asked.count <= most:
        raise GeometryError(
            f"{asked.name}: mold.straps: got {asked.count}, want 1 to {most}: more find no room"
        )
    counts = (asked.count,) if asked.count is not None else range(min(_FEWEST, most), most + 1)
    edges: tuple[float, ...] = ()
    for count in counts:
        edges = _even(load, radius, tall, count)
        bands = list(pairwise(edges))
        slack = max(load.pressure(low) * radius * (high - low) for low, high in bands) <= carries
        if slack and max(high - low for low, high in bands) <= FARTHEST + 1e-9:
            break
    return tuple((low + high) / 2.0 for low, high in pairwise(edges)), edges


def _even(load: Load, radius: float, tall: float, count: int) -> tuple[float, ...]:
    """Ends of so many bands of a tension as even as may be: lower below, none above higher than need be, m."""
    cap = max(FARTHEST, tall / count)

    def walk(tension: float) -> list[float]:
        found = [0.0]
        for _ in range(count):
            pull = load.pressure(min(found[-1], tall)) * radius
            band = min(cap, tension / pull) if pull > 0.0 else cap
            found.append(found[-1] + max(band, CLOSEST))
        return found

    least, enough = 0.0, load.pressure(0.0) * radius * cap
    for _ in range(_HALVINGS):
        middle = (least + enough) / 2.0
        least, enough = (middle, enough) if walk(middle)[-1] < tall else (least, middle)
    inside = [edge for edge in walk(enough)[1:-1] if edge < tall - CLOSEST / 2.0]
    even = len(inside) == count - 1
    return (0.0, *inside, tall) if even else tuple(tall * i / count for i in range(count + 1))


def _between(asked: Levels, heights: tuple[float, ...], tall: float) -> tuple[float, ...]:
    """The ends of the bands of straps that stand where the person wants them: the middles between them.

    Raises:
        GeometryError: where they would touch, or one does not stand on the tube.
    """
    for lower, upper in pairwise((-CLOSEST, *heights, tall + CLOSEST)):
        if upper - lower < CLOSEST - 1e-6:
            wrong = show.length(upper if upper in heights else lower, asked.units)
            raise GeometryError(
                f"{asked.name}: mold.strap_heights: got {wrong}, want heights from the lowest up, at least "
                f"{show.length(CLOSEST, asked.units)} apart, at most {show.length(tall, asked.units)}"
            )
    return (0.0, *((lower + upper) / 2.0 for lower, upper in pairwise(heights)), tall)
