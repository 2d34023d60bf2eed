"""Straps round a mold: which of the shop's is taken, and what the mold needs of one that the shop does not list."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.errors import StockError
from formwork.molds.mold import Hardware
from formwork.stock.records import StrapStock
from formwork.strength.bands import Strap, allowed_tension
from formwork.units import show
from formwork.units.show import UnitSystem

TAIL = 0.3
"""Length of a strap beyond the way round, m: through the ratchet (common practice, no source)."""
_WHAT = "polyamide or steel, for alkali attacks polyester"


def as_strap(stock: StrapStock) -> Strap:
    """A strap of the shop as the formulas take it."""
    return Strap(stock.name, stock.lashing, stock.breaking, stock.polyester)


def allowed(stock: StrapStock) -> float:
    """Tension a strap of the shop may carry, N; 0 where its label gives none."""
    return allowed_tension(as_strap(stock)) or 0.0


def strap_for(
    straps: Sequence[StrapStock],
    named: str | None,
    pull: float,
    round_it: float,
    name: str,
    units: UnitSystem,
) -> StrapStock | None:
    """The strap for a mold: the named one, else the cheapest that carries the pull; else the strongest that reaches.

    Without prices it is the weakest that does; one that alkali attacks is the last choice.

    Args:
        straps: what it is chosen from.
        named: by the project; None where it leaves the choice.
        pull: in the band that is worst off, N.
        round_it: length of the way round, m.
        name: of the piece, for messages.
        units: how a person here reads a length.

    Returns:
        The strap; None where the shop lists none that reaches.

    Raises:
        StockError: where the named one does not reach round.
    """
    if named is not None:
        one = next(strap for strap in straps if strap.name == named)
        if one.length < round_it:
            raise StockError(
                f"{name}: mold.strap: {one.name} is {show.length(one.length, units)} long and the mold "
                f"{show.length(round_it, units)} round; name a longer one"
            )
        return one
    reach = [strap for strap in straps if strap.length >= round_it]
    enough = [strap for strap in reach if allowed(strap) >= pull]
    if enough:
        priced = all(strap.price is not None for strap in enough)
        return min(
            enough,
            key=lambda strap: (strap.polyester, strap.price if priced else 0.0, allowed(strap), strap.name),
        )
    return max(reach, key=lambda strap: (allowed(strap), strap.name), default=None)


def strap_lines(
    strap: StrapStock | None, pull: float, count: int, where: str, units: UnitSystem
) -> tuple[Hardware, ...]:
    """The straps of a mold as they are bought: by name, else by the working load that their label must give.

    Args:
        strap: of the shop; None where it lists none.
        pull: in the band that is worst off, N.
        count: how many.
        where: what they go round.
        units: how a person here reads a force.
    """
    if strap is None:
        size = f"for a working load of {show.force(pull, units)} or more"
        return (Hardware("strap", size, float(count), "piece", f"{where}; {_WHAT}"),)
    kept = "; keep the mix off it, for alkali attacks polyester" if strap.polyester else ""
    return (Hardware("strap", strap.name, float(count), "piece", f"{where}{kept}"),)
