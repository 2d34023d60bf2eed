"""The outer shells of a round mold: skin, covers of its joints, half rings and battens, on every side of the piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import pi, tau

from formwork.errors import GeometryError
from formwork.molds.asked import Asked
from formwork.molds.choice import Stocks, usual_sticks
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.straps import TAIL, strap_for
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.ring_ribs import (
    BACK,
    FRONT,
    Batten,
    Rib,
    battens,
    half_round,
    layer_parts,
    ribs,
    segments_of,
    shell_skin,
)
from formwork.molds.wraps.skin_covers import covers
from formwork.molds.wraps.skin_holds import (
    CLOSEST,
    FARTHEST,
    Holds,
    batten_span,
    screw_length,
    seam_screw,
    strip_of,
)
from formwork.molds.wraps.skins import Skin, Wanted, skin_for, starts
from formwork.record import record
from formwork.stock.records import SheetStock, StrapStock
from formwork.strength.working import Unjudged
from formwork.units import show

_ROOM = 1.5
"""Least radius of a piece over the thickness of its seam battens, so that half a ring is left between them (ours)."""


@record
class Shell:
    """What the two shells are made of.

    Attributes:
        skin: the outer skin; its panels are those of one shell.
        sheet: that rings are cut from.
        holds: what holds the skin.
    """

    skin: Skin
    sheet: SheetStock
    holds: Holds

    @property
    def strap(self) -> StrapStock | None:
        """Round each ring; None where the shop lists none that reaches."""
        return self.holds.strap

    @property
    def batten(self) -> Batten:
        """Along each seam."""
        return self.holds.batten

    def outside(self, side: Cone) -> Cone:
        """Outer face of the skin on a side of the piece."""
        return side.moved(self.skin.sheet.thickness)

    def pulls(
        self, side: Cone, heights: Sequence[float], load: Load
    ) -> tuple[tuple[float, float, float], ...]:
        """Of each ring: the height it serves down to, how much of the height it serves, its tension (m, m, N)."""
        found = []
        for index in range(len(heights)):
            low = side.foot[1] if index == 0 else (heights[index - 1] + heights[index]) / 2.0
            last = index == len(heights) - 1
            high = side.head[1] if last else (heights[index] + heights[index + 1]) / 2.0
            radius = max(side.radius(low), side.radius(high))
            found.append((low, high - low, load.pressure(low) * radius * (high - low)))
        return tuple(found)

    def brim(self, side: Cone) -> tuple[float, float]:
        """Inner and outer radius of the ring at the head of a side."""
        thick = self.sheet.thickness
        _, upper = ribs(self.outside(side), (side.head[1] - thick,), thick, self.batten)[0]
        return upper.head, upper.outer

    def worst_pull(self, sides: Sequence[Cone], heights: Sequence[Sequence[float]], load: Load) -> float:
        """Tension of the ring that is worst off, N."""
        return max(
            pull
            for side, some in zip(sides, heights, strict=True)
            for _, _, pull in self.pulls(side, some, load)
        )


def shell(asked: Asked, sides: tuple[Cone, ...], stocks: Stocks) -> Shell:
    """The skin for some sides, and what holds it.

    Raises:
        GeometryError: where a side is too low for a ring.
        StockError: where no sheet bends so tightly, or the strap named does not reach round.
    """
    name, options = asked.order.name, asked.order.mold
    low = min(side.height for side in sides)
    if low < 2.0 * stocks.sheet.thickness:
        raise GeometryError(
            f"{name}: a side is {show.both(low)} high, and a ring of two layers needs "
            f"{show.both(2.0 * stocks.sheet.thickness)}; name a thinner sheet"
        )
    narrow, least = min(side.narrowest for side in sides), _ROOM * stocks.broad
    if narrow < least:
        raise GeometryError(
            f"{name}: it is {show.both(2.0 * narrow)} across where it is narrowest; seam battens of "
            f"{show.both(stocks.broad)} find room round {show.both(2.0 * least)} or more: name a thinner stick"
        )
    wanted = Wanted(sides, narrow, pi, True, "outside")
    radius = max(max(side.foot[0], side.head[0]) for side in sides)

    def carries(skin: Skin) -> bool:
        held = _held(asked, skin, narrow, radius)
        by_tension = held.by_tension(asked.load.pressure(0.0), radius)
        return by_tension or not isinstance(strip_of(skin), Unjudged)

    skin = skin_for(asked.shop, options.skin, wanted, name, asked.units, carries=carries)
    held = _held(asked, skin, narrow, radius)
    round_it = tau * (radius + 2.0 * held.batten.deep) + TAIL
    pull = asked.load.pressure(0.0) * radius * FARTHEST / 2.0
    strap = strap_for(asked.shop.straps, options.strap, pull, round_it, name, asked.units)
    return Shell(skin, stocks.sheet, replace(held, strap=strap))


def _held(asked: Asked, skin: Skin, narrow: float, radius: float) -> Holds:
    """The smallest stick and the shortest screw that carry the pull of the skin at its seams; the smallest if none do.

    Args:
        asked: what is wanted.
        skin: the skin.
        narrow: least radius of the piece, m.
        radius: greatest radius of the piece, m.
    """
    sizes = (one.size for one in asked.shop.hardware if one.item == "screw" and " x " in one.size)
    screws = sorted(sizes, key=screw_length)
    pressure = asked.load.pressure(0.0)
    tried = []
    for stick in usual_sticks(asked.shop, asked.order.mold):
        batten = Batten(stick, stick.thickness, stick.width)
        holds = Holds(skin, seam_screw(skin.sheet, batten, screws, pressure * radius), batten, None)
        tried.append(holds)
        room = _ROOM * batten.thick <= narrow
        if room and holds.by_tension(pressure, radius) and batten_span(batten, pressure * radius) >= CLOSEST:
            return holds
    return tried[0]


def shell_parts(
    made: Shell, sides: Sequence[Cone], heights: Sequence[Sequence[float]], stocks: Stocks, asked: Asked
) -> tuple[tuple[Part, ...], float]:
    """Every part of both shells, and how far the rings reach from the axis, m.

    Raises:
        StockError: where a ring finds no room on the sheet.
    """
    back: list[Part] = []
    reach = 0.0
    for number, (side, some) in enumerate(zip(sides, heights, strict=True), start=1):
        tag = BACK if len(sides) == 1 else f"{BACK}, side {number},"
        rings = ribs(made.outside(side), some, made.sheet.thickness, made.batten)
        reach = max(reach, *(upper.outer for _, upper in rings))
        back += shell_skin(made.skin, side, f"{tag} skin")
        back += _covers(made, side, rings, tag)
        back += battens(made.outside(side), made.batten, f"{tag} batten")
        back += _rings(made, rings, asked, tag)
    return (*back, *map(half_round, back)), reach


def _rings(made: Shell, rings: Sequence[tuple[Rib, Rib]], asked: Asked, tag: str) -> Iterator[Part]:
    """Two layers to a ring; where one takes several segments, the other takes one more, so that joints never meet."""
    thick, saw = made.batten.thick, asked.shop.saw
    for number, (lower, upper) in enumerate(rings, start=1):
        count = max(segments_of(rib, thick, made.sheet, saw, asked.order.name) for rib in (lower, upper))
        counts = (count, count if count == 1 else count + 1)
        for word, rib, cuts in zip(("lower", "upper"), (lower, upper), counts, strict=True):
            yield from layer_parts(rib, cuts, thick, made.sheet, f"{tag} ring {number}, {word} layer")


def _covers(made: Shell, side: Cone, rings: Sequence[tuple[Rib, Rib]], tag: str) -> Iterator[Part]:
    """Strips over the joints between the panels of one shell; the seams at its ends have battens."""
    joints = [*starts(0.0, pi, made.skin.panels)][1:]
    bays = [
        (below[1].high, above[0].low)
        for below, above in pairwise(rings)
        if above[0].low - below[1].high > made.sheet.thickness
    ]
    strips = covers(made.skin, made.outside(side), bays, joints, out=True)
    for number, (_, _, part) in enumerate(strips, start=1):
        yield replace(part, name=f"{tag} cover strip {number}", group=BACK)


__all__ = ["BACK", "FRONT", "Shell", "shell", "shell_parts"]
