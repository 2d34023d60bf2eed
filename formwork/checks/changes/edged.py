"""What may be changed of edge forms: how close their blocks stand, the stick of the blocks, strips and what is bent."""

from __future__ import annotations

from formwork.checks.changes.ladder import Ladder, lengths, sheets, sticks
from formwork.checks.edged import bays
from formwork.molds.edged import Built
from formwork.molds.edges.backing import LONG
from formwork.project.records import Shop
from formwork.stock.records import SheetStock

_SHARES = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)
_OF_BLOCKS = ("straight strips", "wet edge", "blocks held down", "strips held down")
_LEAST = LONG + 0.005


def ladders(built: Built, shop: Shop) -> tuple[Ladder, ...]:
    """Everything that there can be more of."""
    apart = built.order.mold.blocks_apart or max(one.apart for one in bays(built))
    closer = [share * apart for share in _SHARES if share * apart > _LEAST]
    bent = [edge.stock for edge in built.lined.edges if edge.stretch.bent]
    skin = next((stock for stock in bent if isinstance(stock, SheetStock)), None)
    return (
        lengths("blocks_apart", closer, built.lined.units, _OF_BLOCKS),
        sticks(shop, built.timber.stick, (*_OF_BLOCKS,)),
        sheets("sheet", shop, built.lined.sheet, ("straight strips", "strips held down", "wet edge")),
        *((sheets("skin", shop, skin, ("strips bend", "kerfs", "bent strips")),) if skin else ()),
    )
