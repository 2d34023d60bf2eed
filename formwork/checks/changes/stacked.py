"""What may be changed of a mold of rings: bolts of its ears, its sheet, the stick of its bars."""

from __future__ import annotations

from formwork.checks.changes.ladder import Ladder, counted, sheets, sticks
from formwork.molds.stacked import Built
from formwork.molds.stacks.joints import EARS
from formwork.project.records import Shop


def ladders(built: Built, shop: Shop) -> tuple[Ladder, ...]:
    """Everything that there can be more of."""
    stocks = built.lined.stack.stocks
    ears = next((one for one in built.fastenings if one.joint.group == EARS), None)
    bolts = (
        (counted("ear_bolts", ears.count // 2, ears.joint.most // 2, ("bolts across", "ears")),)
        if ears
        else ()
    )
    return (
        *bolts,
        sheets("sheet", shop, stocks.sheet, ()),
        sticks(shop, stocks.stick, ("core bars", "core")),
    )
