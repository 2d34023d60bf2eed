"""Ladders: one thing of a mold that can be had more of, rung by rung, and which checks more of it may mend.

A rung is a value of a key of the piece's mold table. Whether it mends anything is not said here: the mold is designed
again with it and checked whole (see ``checks/mending``).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import floor

from formwork.molds.choice import stout
from formwork.molds.load import sheet_section
from formwork.project.records import Shop
from formwork.record import record
from formwork.stock.records import SheetStock, StickStock
from formwork.strength.customary import INCH
from formwork.strength.working import Unjudged
from formwork.units.show import UnitSystem

MOST_RUNGS = 64
STEP = {"mm": 0.005, "in": INCH / 4.0}
"""Lengths that are told are whole steps of this much, m, so that what is told is what was tried."""
Value = str | int | float | tuple[float, ...]


@record
class Ladder:
    """Ever more of one thing.

    Attributes:
        key: of the piece's mold table.
        rungs: its values, the least change first.
        helps: how the names of the checks begin that it may mend; all of them where it is empty.
        rising: a rung that mends is followed by rungs that mend as well, so that the first is found by halving.
    """

    key: str
    rungs: tuple[Value, ...]
    helps: tuple[str, ...] = ()
    rising: bool = False

    def may_help(self, names: Iterable[str]) -> bool:
        """Whether one of some checks is among those that it may mend."""
        return bool(self.rungs) and (not self.helps or any(name.startswith(self.helps) for name in names))


def counted(key: str, now: int, most: int, helps: tuple[str, ...], by: int = 1) -> Ladder:
    """More of something: one more, two more, up to as many as find room.

    Args:
        key: of the mold table.
        now: how many there are.
        most: that find room.
        helps: what more of them may mend.
        by: they come in so many at once.
    """
    return Ladder(key, tuple(range(now + by, most + 1, by))[:MOST_RUNGS], helps, rising=True)


def lengths(key: str, values: Iterable[float], units: UnitSystem, helps: tuple[str, ...]) -> Ladder:
    """Lengths as they are told, each once."""
    rounded = (round(floor(value / STEP[units] + 1e-6) * STEP[units], 9) for value in values)
    return Ladder(key, tuple(dict.fromkeys(rounded)), helps, rising=True)


def with_one_more(
    key: str, heights: Sequence[float], ends: Sequence[float], units: UnitSystem, worst: int
) -> Ladder:
    """Heights that the person gave, with one more in the middle of one bay after another, the worst first.

    Args:
        key: of the mold table.
        heights: that the person gave, m.
        ends: everything that stands there, from the lowest up, m.
        units: how a person here reads a length.
        worst: number of the bay that is worst off.
    """
    bays = list(pairwise(ends))
    order = [worst, *(i for i in range(len(bays)) if i != worst)]
    step = STEP[units]
    middles = [round(floor((bays[i][0] + bays[i][1]) / 2.0 / step + 0.5) * step, 9) for i in order]
    return Ladder(key, tuple(tuple(sorted((*heights, middle))) for middle in middles))


def sheets(key: str, shop: Shop, now: SheetStock, helps: tuple[str, ...]) -> Ladder:
    """The shop's other sheets of known strength: thicker ones of the same kind first, each from thin to thick."""
    others = sorted(
        (other.thickness < now.thickness, other.material != now.material, other.thickness, other.name)
        for other in {each.name: each for each in shop.sheets if not each.offcut}.values()
        if other.name != now.name and not isinstance(sheet_section(other, upright_grain=True), Unjudged)
    )
    return Ladder(key, tuple(name for *_, name in others), helps)


def sticks(shop: Shop, now: StickStock, helps: tuple[str, ...]) -> Ladder:
    """The shop's stouter sticks that take a screw in their side, the least first."""
    stouter = sorted(
        (other.thickness * other.width, other.name)
        for other in {each.name: each for each in stout(shop.sticks)}.values()
        if other.thickness * other.width > now.thickness * now.width + 1e-9
    )
    return Ladder("stick", tuple(name for _, name in stouter), helps)


def straps(shop: Shop, now: str | None, helps: tuple[str, ...]) -> Ladder:
    """The shop's other straps, the weakest first; those whose label says nothing mend nothing."""
    known = sorted(
        (one.lashing or (one.breaking or 0.0) / 3.0, one.name)
        for one in shop.straps
        if one.name != now and (one.lashing or one.breaking)
    )
    return Ladder("strap", tuple(name for _, name in known), helps)
