"""What may be changed of a mold of flat panels: rails, ribs of its cores, screws at its corners, sheet and stick."""

from __future__ import annotations

from itertools import pairwise

from formwork.checks.changes.ladder import Ladder, counted, sheets, sticks, with_one_more
from formwork.molds.joints import CORNERS
from formwork.molds.levels import most_of
from formwork.molds.panelled import Built
from formwork.project.records import Shop

_OF_RAILS = ("panels", "rails", "straps round the hoops", "cleats to panels")
_OF_SHEET = ("panels", "core walls", "core caps", "dividers", "rails", "cleats to panels", "base")
_OF_STICK = ("rails", "core bars", "corners", "panels", "cleats to panels", "straps round the hoops")


def ladders(built: Built, shop: Shop) -> tuple[Ladder, ...]:
    """Everything that there can be more of."""
    stocks = built.lined.frame.stocks
    return (
        _rails(built),
        *_ribs(built),
        *_corners(built),
        sheets("sheet", shop, stocks.sheet, _OF_SHEET),
        sticks(shop, stocks.stick, _OF_STICK),
    )


def _rails(built: Built) -> Ladder:
    """More rails; one more at a height in the worst bay where the person gave heights."""
    frame, load, rails = built.lined.frame, built.lined.load, built.rails
    asked = frame.options.rail_heights
    if asked is None:
        broad = frame.stocks.broad
        return counted("rails", len(rails), most_of(broad / 2.0, load.fill - broad / 2.0, broad), _OF_RAILS)
    strained = [load.pressure(low) * (high - low) ** 3 for low, high in pairwise(rails)]
    worst = max(range(len(strained)), key=lambda i: strained[i], default=0)
    return with_one_more("rail_heights", asked, rails, frame.units, worst)


def _ribs(built: Built) -> tuple[Ladder, ...]:
    ribs = [part for part in built.mold.parts if part.role == "core rib" and part.kind == "panel"]
    cores = {part.group for part in built.mold.parts if part.role == "core wall"}
    if not cores:
        return ()
    most = max(sum(part.group == core and part.layers == 1 for part in ribs) for core in cores)
    return (counted("core_ribs", most, most + 12, ("core walls",)),)


def _corners(built: Built) -> tuple[Ladder, ...]:
    held = next((one for one in built.fastenings if one.joint.group == CORNERS), None)
    if held is None:
        return ()
    corners = len(built.lined.frame.corners)
    return (counted("corner_screws", held.count // corners, held.joint.most // corners, ("corners",)),)
