"""What may be changed of a wrapped mold: rings, ribs of its core, its skin, straps, sheet and stick."""

from __future__ import annotations

from itertools import pairwise

from formwork.checks.changes.ladder import Ladder, counted, sheets, sticks, straps, with_one_more
from formwork.molds.levels import most_of
from formwork.molds.wrapped import WrappedMold
from formwork.project.records import Shop

_OF_RINGS = ("outer skin between rings", "seam battens", "ring straps")
_OF_SKIN = ("outer skin", "skin seams", "core skin", "seam battens")


def ladders(built: WrappedMold, shop: Shop) -> tuple[Ladder, ...]:
    """Everything that there can be more of."""
    lined = built.lined
    strap = lined.shell.strap
    return (
        _rings(built),
        *_ribs(built),
        straps(shop, strap.name if strap else None, ("ring straps",)),
        sheets("skin", shop, lined.shell.skin.sheet, _OF_SKIN),
        sheets("sheet", shop, lined.stocks.sheet, ("core caps", "core skin", "core", "shells")),
        sticks(
            shop, lined.shell.batten.stick, ("seam battens", "core bars", "skin seams", "outer skin", "core")
        ),
    )


def _rings(built: WrappedMold) -> Ladder:
    """More rings on every side; one more at a height in the worst bay where the person gave heights."""
    lined, load = built.lined, built.lined.asked.load
    asked, thick = lined.order.mold.ring_heights, lined.stocks.sheet.thickness
    if asked is None:
        room = min(most_of(s.foot[1] + thick, s.head[1] - thick, 2.0 * thick) for s in lined.sides)
        return counted("rings", min(len(some) for some in built.heights), room, _OF_RINGS)
    found = tuple(height for some in built.heights for height in some)
    strained = [load.pressure(low) * (high - low) ** 3 for low, high in pairwise(found)]
    worst = max(range(len(strained)), key=lambda i: strained[i], default=0)
    return with_one_more("ring_heights", asked, found, lined.asked.units, worst)


def _ribs(built: WrappedMold) -> tuple[Ladder, ...]:
    core = built.lined.core
    if core is None:
        return ()
    between = len(core.ribs) - 3
    return (counted("core_ribs", max(0, between), max(0, between) + 12, ("core skin",)),)
