"""What may be changed of a mold that is a tube: straps where it is slit, the tube itself, the stick of its cage."""

from __future__ import annotations

from formwork.checks.changes.ladder import STEP, Ladder, counted, sticks, straps
from formwork.molds.tube import Built
from formwork.molds.tubes.straps import CLOSEST, Strapped
from formwork.project.records import Shop

_OF_STRAPS = ("straps round the slit tube",)


def ladders(built: Built, shop: Shop) -> tuple[Ladder, ...]:
    """Everything that there can be more of, and the shop's other tubes."""
    now, strapped = built.lined.choice.tube.tube, built.straps
    stock = strapped.stock if strapped else None
    others = tuple(tube.name for tube in shop.tubes if tube.name != now.name)
    return (
        *((_straps(built, strapped),) if strapped else ()),
        *((straps(shop, stock.name if stock else None, _OF_STRAPS),) if strapped else ()),
        Ladder("tube", others, ("pressure in the tube", "tube wall")),
        sticks(shop, built.cage.stick, ()),
    )


def _straps(built: Built, strapped: Strapped) -> Ladder:
    """More straps; one more beside the strap that is worst off where the person gave heights."""
    asked, tall = built.order.mold.strap_heights, built.lined.choice.work.height
    if asked is None:
        return counted("straps", strapped.count, int(tall / CLOSEST), _OF_STRAPS)
    step = STEP[built.lined.asked.units]
    low, high = strapped.worst
    places = [round(low + (high - low) * share, 9) for share in (0.25, 0.75, 0.1, 0.9)]
    rounded = (round(step * round(place / step), 9) for place in places)
    return Ladder(
        "strap_heights",
        tuple(tuple(sorted((*asked, place))) for place in rounded if place not in asked),
        _OF_STRAPS,
    )
