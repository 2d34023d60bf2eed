"""Molds that a pour does not fill whole: which cavities of the last gang stay empty, which molds stand idle."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.mix.pour_records import PieceToPour, Pour
from formwork.record import record


@record
class PartFilled:
    """Molds of one kind in one pour, where not all of their cavities are filled.

    Attributes:
        pour: number of the pour.
        name: of the piece.
        filled: cavities filled in the last mold used, the first ones in it.
        cavities: that it has.
        idle: molds of the kind that are not used at all.
    """

    pour: int
    name: str
    filled: int
    cavities: int
    idle: int


def part_filled(pours: Sequence[Pour], orders: Sequence[PieceToPour]) -> tuple[PartFilled, ...]:
    """Every kind of mold in every pour that is not filled whole; whole molds are filled first.

    Args:
        pours: in their order.
        orders: the kinds of piece.

    Raises:
        KeyError: for a pour of a piece that is not ordered.
    """
    kinds = {order.name: order for order in orders}
    return tuple(
        found
        for pour in pours
        for name, count in pour.pieces
        if (found := _part(pour.number, kinds[name], count))
    )


def _part(pour: int, kind: PieceToPour, count: int) -> PartFilled | None:
    used = -(-count // kind.cavities)
    filled, idle = count - kind.cavities * (used - 1), kind.molds - used
    if filled == kind.cavities and not idle:
        return None
    return PartFilled(pour, kind.name, filled, kind.cavities, idle)
