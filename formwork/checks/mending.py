"""What would make a failed check pass, found by designing the mold again with one thing changed after another.

Tried are the shop's other sheets, the thicker ones first, and its stouter sticks, alone and then together; a thinner
sheet brings more rails, each with less to carry. What none of them mends may hold a lighter mix: the best of the
designs is made again for one ever lighter. Nothing of this runs while all checks pass.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import islice, product
from typing import Protocol

from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.errors import GeometryError, RangeError, StockError
from formwork.mix.both_units import density_text
from formwork.mix.records import Mix
from formwork.molds import panelled
from formwork.molds.asked import BuiltMold
from formwork.molds.design import line
from formwork.molds.load import sheet_section
from formwork.molds.panelled import Built, Lined
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.strength.working import Unjudged
from formwork.units.show import UnitSystem

MENDABLE = ("panels", "core walls", "core caps", "core bars", "rails", "dividers, one side empty")
"""Families of checks that another sheet or stick can mend."""
MOST_TRIES = 30
"""Designs tried for one mold."""
_SHARES = (0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)
LIGHTEST = 400.0
"""A mix lighter than this is no remedy, kg/m3 (ours)."""

Change = tuple[tuple[str, str], ...]
"""Keys of the piece's mold table and the stock they are to name."""


class Again(Protocol):
    """Designs a mold again with a change of its options, for a mix of a share of the density."""

    def __call__(self, one: Built, change: Change, lighter: float = 1.0) -> Built:
        """The mold; raises what its design raises."""


@record
class _Try:
    """One change: the greatest utilisation of every family that is checked then, and the families that fail."""

    change: Change
    stands: Mapping[str, float]
    fails: frozenset[str]


def mended(
    made: Sequence[Check],
    molds: Sequence[BuiltMold],
    orders: Sequence[PieceOrder],
    shop: Shop,
    mix: Mix | None,
    units: UnitSystem,
) -> tuple[Check, ...]:
    """The same checks; those that fail for want of sheet or stick with the remedy that was found for them.

    Args:
        made: every check of the plan.
        molds: of the plan; those of the panelled method are designed again.
        orders: what the molds are for, as the project has it.
        shop: what other stock there is.
        mix: what the molds hold.
        units: how a person here reads a length.
    """

    def again(one: Built, change: Change, lighter: float = 1.0) -> Built:
        cast = replace(mix, wet_density=lighter * mix.wet_density) if mix else None
        order = _order_of(one, orders)
        keys = dict(change)
        sheet, stick = keys.get("sheet", order.mold.sheet), keys.get("stick", order.mold.stick)
        changed = replace(order, mold=replace(order.mold, sheet=sheet, stick=stick))
        lots = line(changed, shop, cast, units)
        return panelled.brace(
            next(lot for lot in lots if isinstance(lot, Lined) and lot.order.name == one.lined.order.name)
        )

    remedies: dict[tuple[str, str], str] = {}
    for one in (each for each in molds if isinstance(each, Built)):
        failed = [each for each in made if each.mold == one.mold.name and not each.ok]
        wanted = {_family(each) for each in failed} & set(MENDABLE)
        if wanted and not one.lined.owned:
            tries = list(islice(_tries(one, shop, again), MOST_TRIES))
            lighter = partial(_lighter, one, mix, again)
            remedies |= {
                (each.mold, each.name): _remedy(each, wanted, tries) or lighter(each, tries)
                for each in failed
                if _family(each) in wanted
            }
    return tuple(replace(one, remedy=remedies.get((one.mold, one.name), one.remedy)) for one in made)


def _order_of(one: Built, orders: Sequence[PieceOrder]) -> PieceOrder:
    """The project's order for a mold: one of several pieces of a shape is named after it."""
    name, where = one.lined.order.name, one.lined.order.where
    return max(
        (order for order in orders if order.where == where and name.startswith(order.name)),
        key=lambda order: len(order.name),
    )


def _family(one: Check) -> str:
    return one.name.split(":")[0]


def _tries(one: Built, shop: Shop, again: Again) -> Iterator[_Try]:
    """The designs that another sheet or stick gives; a change that cannot be built is left out."""
    for change in _changes(one, shop):
        found = _judged(one, change, again)
        if found is not None:
            yield found


def _judged(one: Built, change: Change, again: Again, lighter: float = 1.0) -> _Try | None:
    try:
        made, _ = check([again(one, change, lighter)])
    except (GeometryError, StockError, RangeError):
        return None
    stands: dict[str, float] = {}
    for each in made:
        stands[_family(each)] = max(stands.get(_family(each), 0.0), each.utilisation)
    return _Try(change, stands, frozenset(_family(each) for each in made if not each.ok))


def _changes(one: Built, shop: Shop) -> Iterator[Change]:
    """Sheets alone, sticks alone, both; sheets of which nobody knows the strength mend nothing."""
    stocks = one.lined.frame.stocks
    sheet, section = stocks.sheet, stocks.stick.thickness * stocks.stick.width
    others = sorted(
        (other.thickness < sheet.thickness, other.material != sheet.material, other.thickness, other.name)
        for other in {each.name: each for each in shop.sheets if not each.offcut}.values()
        if other.name != sheet.name and not isinstance(sheet_section(other, upright_grain=True), Unjudged)
    )
    stouter = sorted(
        (other.thickness * other.width, other.name)
        for other in {each.name: each for each in shop.sticks}.values()
        if other.thickness * other.width > section + 1e-9
    )
    sheets = [("sheet", name) for *_, name in others]
    sticks = [("stick", name) for _, name in stouter]
    yield from ((change,) for change in (*sheets, *sticks))
    yield from product(sheets, sticks)


def _remedy(failed: Check, wanted: set[str], tries: Sequence[_Try]) -> str:
    """The first change that mends all of the mold; else one that mends this; empty where none does."""
    family = _family(failed)
    helps = [each for each in tries if family in each.stands and family not in each.fails]
    whole = [each for each in helps if wanted <= each.stands.keys() and not each.fails]
    if whole:
        return f"{_written(whole[0], family)}; every check of this mold passes then"
    if helps:
        rest = ", ".join(sorted(helps[0].fails))
        also = f"; {rest} still to mend" if rest else ""
        return f"{_written(helps[0], family)}{also}"
    return ""


def _lighter(one: Built, mix: Mix | None, again: Again, failed: Check, tries: Sequence[_Try]) -> str:
    """The heaviest of ever lighter mixes for which the best design passes; what is left where none does."""
    family = _family(failed)
    best = min(
        (each for each in tries if family in each.stands), key=lambda each: each.stands[family], default=None
    )
    change: Change = best.change if best and best.stands[family] < failed.utilisation else ()
    none = "no sheet or stick of the shop holds this"
    for share in _SHARES:
        if mix is None or share * mix.wet_density < LIGHTEST:
            break
        found = _judged(one, change, again, share)
        if found is not None and family in found.stands and family not in found.fails:
            keys = f"{_keys(change)} and " if change else ""
            return f"{none}; {keys}a mix of {density_text(share * mix.wet_density)} would: {_stands(found, family)}"
    return f"{none}: a shorter or lower piece, or stock that the shop file does not list yet"


def _written(found: _Try, family: str) -> str:
    return f"in the piece's mold table {_keys(found.change)}: {_stands(found, family)}"


def _keys(change: Change) -> str:
    return " and ".join(f'{key} = "{name}"' for key, name in change)


def _stands(found: _Try, family: str) -> str:
    return f"{family} come to {100.0 * found.stands[family]:.0f} % of the limit"
