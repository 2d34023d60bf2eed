"""The whole job after its pours are known: calendar, molds filled in part, other numbers of molds, cost of a piece."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from formwork.cutting.alternatives import Alternative, alternatives
from formwork.cutting.buy_list import BuyLine
from formwork.cutting.costs import Cost, mix_cost, mold_cost, price_of_molds
from formwork.cutting.cut_list import CutLine, cast_in_besides
from formwork.cutting.layouts import Layouts
from formwork.mix.calendar import Calendar, calendar
from formwork.mix.part_filled import PartFilled, part_filled
from formwork.mix.pour_records import PieceToPour, Pour
from formwork.molds.mold import Mold
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.units.show import UnitSystem


@record
class PieceCost:
    """What one piece costs, as far as the shop gives prices.

    Attributes:
        name: of the piece.
        mold: cost of one of its molds.
        molds: how many there are.
        over: pieces that the molds are spread over: those cast, or all that the molds are built for where that is more.
        mix: cost of the mix in one piece.
        unpriced: what has no price.
        spent: cost of what is cut away at one piece, or stays in it.
    """

    name: str
    mold: float
    molds: int
    over: int
    mix: float
    unpriced: tuple[str, ...]
    spent: float = 0.0

    @property
    def mold_share(self) -> float:
        """What the molds add to each piece."""
        return self.mold * self.molds / self.over

    @property
    def total(self) -> float:
        """Of one piece: its mix, what is used up with it, and its share of the molds."""
        return self.mix + self.spent + self.mold_share


@record
class WholeJob:
    """What the pours of a project come to in days and money.

    Attributes:
        calendar: every pour by day.
        part_filled: molds that a pour does not fill whole.
        alternatives: other numbers of molds, the planned one among them.
        costs: of each kind of piece; empty where the shop gives no price at all.
    """

    calendar: Calendar
    part_filled: tuple[PartFilled, ...]
    alternatives: tuple[Alternative, ...]
    costs: tuple[PieceCost, ...]


def whole_job(
    poured: Sequence[Pour],
    kinds: Sequence[PieceToPour],
    pour: Callable[[Sequence[PieceToPour]], Sequence[Pour]],
    shop: Shop,
    molds: Sequence[tuple[Mold, PieceOrder]],
    cut: tuple[Sequence[CutLine], Layouts],
    mix_bought: Sequence[BuyLine],
    units: UnitSystem,
) -> WholeJob | None:
    """Days and costs of a project's pours; None where nothing is poured.

    Args:
        poured: every pour.
        kinds: what is poured.
        pour: how pours follow from kinds, for other numbers of molds.
        shop: its times and prices.
        molds: each mold with its order.
        cut: the cut list and its layouts.
        mix_bought: lines of the buy list for the mix.
        units: of the person.
    """
    days = calendar(poured, shop.times, {order.name: _floor(mold) for mold, order in molds})
    if days is None:
        return None
    each = [(order.name, mold_cost(mold, *cut, shop.hardware)) for mold, order in molds]
    owned = frozenset(order.name for mold, order in molds if mold.owned)
    costs = _costs(kinds, molds, dict(each), mix_bought)
    named = [(order.name, mold) for mold, order in molds]
    price = partial(price_of_molds, named, *cut, shop.hardware, units)
    found = alternatives(kinds, owned, pour, shop.times, price if costs else None)
    return WholeJob(days, part_filled(poured, kinds), found, costs)


def _costs(
    kinds: Sequence[PieceToPour],
    molds: Sequence[tuple[Mold, PieceOrder]],
    each: dict[str, Cost],
    mix_bought: Sequence[BuyLine],
) -> tuple[PieceCost, ...]:
    whole = sum(kind.count * kind.volume for kind in kinds)
    spread = {order.name: _over(mold, order) for mold, order in molds}
    cast_in = {order.name: tuple(thing.item for thing in cast_in_besides(mold)) for mold, order in molds}
    found = []
    for kind in kinds:
        mix = mix_cost(mix_bought, kind.volume, whole)
        mold = each[kind.name]
        missing = tuple(dict.fromkeys((*mold.unpriced, *mix.unpriced, *cast_in[kind.name])))
        spent = mold.spent / kind.count
        found.append(
            PieceCost(kind.name, mold.amount, kind.molds, spread[kind.name], mix.amount, missing, spent)
        )
    return tuple(found) if any(one.total for one in found) else ()


def _floor(mold: Mold) -> float:
    """Floor that one piece takes as cast, m2: its greatest measures, and of a round one its square."""
    along, across = (
        max((abs(each.end[axis] - each.start[axis]) for each in mold.piece.measures), default=0.0)
        for axis in (0, 1)
    )
    return along * across or max(along, across) ** 2


def _over(mold: Mold, order: PieceOrder) -> int:
    """Pieces that molds are spread over: as many as they are built for, where the project builds them for more."""
    return max(order.cast, (order.mold.uses or 0) * mold.piece.cavities * order.molds)
