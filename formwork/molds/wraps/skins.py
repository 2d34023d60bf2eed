"""Skins bent round a straight side, cylinder or cone: how tightly they bend, their flat pattern, where they stand.

The pattern is that of the skin's middle, which bending neither stretches nor
squeezes; the ends are cut level once it is bent. All lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product
from math import cos, sin

from formwork.errors import StockError
from formwork.geometry.outlines import box, transposed
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Blank, Placement
from formwork.molds.wraps.cones import Cone, flat
from formwork.project.records import Shop
from formwork.record import record
from formwork.stock.records import Saw, SheetStock
from formwork.strength.bending import Bend, Tension, Way, published, tension
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.show import UnitSystem

_THICKEST = 0.013
"""Sheets thicker than this are not chosen to be bent, m; a named one may be thicker (ours)."""
_PREFERRED = ("birch plywood", "plywood", "bending plywood", "sheet steel", "hardboard", "plastic sheet")
_MOST_PANELS = 12
_MOST_TIERS = 4


@record
class Skin:
    """A sheet that is bent round a side, and how.

    Attributes:
        sheet: what it is.
        way: how its grain lies to the bend.
        panels: how many of them go round the part of a turn that is covered.
        bend: the least radius of the sheet this way.
        tiers: how many of them stand one above the other on a side that is higher than the sheet.
    """

    sheet: SheetStock
    way: Way
    panels: int
    bend: Bend
    tiers: int = 1

    @property
    def upright(self) -> bool:
        """The blank's length stands upright."""
        return self.way == "across"


@record
class Wanted:
    """What a skin must do.

    Attributes:
        sides: that it covers, one above the other.
        hollow: least radius of its hollow face.
        sweep: angle that its panels share.
        out: the sheet lies outside of the sides, else inside.
        what: of the mold it is, for messages.
    """

    sides: tuple[Cone, ...]
    hollow: float
    sweep: float
    out: bool
    what: str

    def hollow_radius(self, sheet: SheetStock) -> float:
        """Least radius of the hollow face of a sheet that lies on these sides."""
        return self.hollow if self.out else self.hollow - sheet.thickness


def bend_of(sheet: SheetStock, way: Way) -> Bend | Unjudged:
    """The least radius of a sheet: what the shop says of it, else what is published.

    What the shop says holds the easy way of a sheet with grain; the other way only what is published does.
    """
    if sheet.bend_radius is not None and (way == "across" or not sheet.grain):
        return Bend(sheet.bend_radius, "said of this sheet")
    return published(sheet.material, sheet.thickness, way)


def skin_for(
    shop: Shop,
    named: str | None,
    wanted: Wanted,
    name: str,
    units: UnitSystem,
    *,
    strict: bool = True,
    carries: Callable[[Skin], bool] = lambda _: True,
) -> Skin:
    """The sheet to bend round some sides: the named one, else the one that makes fewest panels of the usual kinds.

    Args:
        shop: what it is chosen from.
        named: by the project; None where it leaves the choice.
        wanted: what it must do.
        name: of the piece, for messages.
        units: how a person here reads a length.
        strict: a named sheet that does not bend so tightly is refused; else another one is taken for it.
        carries: whether a skin is known to carry the mix: one that is goes before the others.

    Raises:
        StockError: where the named one does not bend so tightly, or none does; names what would do.
    """
    whole = [sheet for sheet in shop.sheets if not sheet.offcut]
    if named is not None:
        chosen = next(sheet for sheet in whole if sheet.name == named)
        skin = _bent(chosen, wanted, shop.saw)
        if skin is not None:
            return skin
    if named is not None and strict:
        raise StockError(
            f"{name}: mold.skin: {_why_not(chosen, wanted, units)}; {_others(whole, wanted, shop.saw)}"
        )
    found = [
        skin
        for sheet in whole
        if sheet.thickness <= _THICKEST and (skin := _bent(sheet, wanted, shop.saw)) is not None
    ]
    if not found:
        tried = "; ".join(_why_not(sheet, wanted, units) for sheet in whole if sheet.thickness <= _THICKEST)
        raise StockError(
            f"{name}: no sheet of the shop bends round the {wanted.what}: {tried or 'none is thin enough'}. Add a "
            "thinner sheet, or one with its bend_radius, to the shop file"
        )
    return min(found, key=lambda skin: (not carries(skin), *_rank(skin, wanted.out)))


def _rank(skin: Skin, out: bool) -> tuple[bool, int, int, float, str]:
    """What is known to carry the mix first, then the usual kinds, few panels, and thick rather than thin.

    Outside of a piece that is tension round the skin; a core has none.
    """
    sheet = skin.sheet
    order = _PREFERRED.index(sheet.material) if sheet.material in _PREFERRED else len(_PREFERRED)
    unknown = out and isinstance(tension_of(sheet), Unjudged)
    return unknown, order, skin.tiers * skin.panels, -sheet.thickness, sheet.name


def tension_of(sheet: SheetStock) -> Tension | Unjudged:
    """Tension that a skin may carry: what the shop says of it, else what is published."""
    if sheet.tension is not None:
        return Tension(sheet.tension, "said of this sheet")
    return tension(sheet.material)


def _others(sheets: Sequence[SheetStock], wanted: Wanted, saw: Saw) -> str:
    names = [sheet.name for sheet in sheets if _bent(sheet, wanted, saw) is not None]
    if not names:
        return "no sheet of the shop would do; add a thinner one, or one with its bend_radius"
    return f"{' or '.join(dict.fromkeys(names))} would do"


def _why_not(sheet: SheetStock, wanted: Wanted, units: UnitSystem) -> str:
    """Why a sheet cannot be bent round these sides."""
    tight = wanted.hollow_radius(sheet)
    found = [bend_of(sheet, way) for way in _ways(sheet)]
    known = [bend for bend in found if isinstance(bend, Bend)]
    if not known:
        return f"{sheet.name}: {next(bend.why for bend in found if isinstance(bend, Unjudged))}"
    least = min(known, key=lambda bend: bend.radius)
    if least.radius > tight:
        return (
            f"{sheet.name} bends to a radius of {show.length(least.radius, units)} at the least ({least.source}), and "
            f"the {wanted.what} has {show.length(tight, units)}"
        )
    return f"the {wanted.what} is too high for {sheet.name}"


def _ways(sheet: SheetStock) -> tuple[Way, ...]:
    return ("across", "along") if sheet.grain else ("across",)


def _bent(sheet: SheetStock, wanted: Wanted, saw: Saw) -> Skin | None:
    """The sheet the way that takes fewest panels; None where it is too stiff or too small."""
    made = [
        skin
        for way in ("across", "along")
        if isinstance(bend := bend_of(sheet, way), Bend)
        and bend.radius <= wanted.hollow_radius(sheet) + 1e-9
        and (skin := _panelled(sheet, way, bend, wanted, saw)) is not None
    ]
    return min(made, key=lambda skin: (skin.tiers, skin.panels)) if made else None


def _panelled(sheet: SheetStock, way: Way, bend: Bend, wanted: Wanted, saw: Saw) -> Skin | None:
    most = _MOST_TIERS if wanted.out else 1
    for tiers, panels in product(range(1, most + 1), range(1, _MOST_PANELS + 1)):
        skin = Skin(sheet, way, panels, bend, tiers)
        lie = [middle(one, sheet, wanted.out) for side in wanted.sides for one in side.tiers(tiers)]
        if all(_fits(skin, one, wanted.sweep / panels, saw) for one in lie):
            return skin
    return None


def middle(side: Cone, sheet: SheetStock, out: bool) -> Cone:
    """The middle of a sheet that lies on a side."""
    return side.moved(sheet.thickness / 2.0 if out else -sheet.thickness / 2.0)


def _fits(skin: Skin, side: Cone, sweep: float, saw: Saw) -> bool:
    blank = skin_blank(skin, side, sweep)
    return (
        blank.length <= skin.sheet.length - 2.0 * saw.trim
        and blank.width <= skin.sheet.width - 2.0 * saw.trim
    )


def skin_blank(skin: Skin, side: Cone, sweep: float) -> Blank:
    """The flat pattern of one panel, grain along the blank's length."""
    pattern = flat(side, sweep)
    if skin.upright:
        pattern = transposed(pattern)
    _, (length, width) = box(pattern)
    return Blank(
        length,
        width,
        skin.sheet.thickness,
        pattern.points,
        (0.0,) * len(pattern.points),
        bulges=pattern.bulges if any(pattern.bulges) else (),
    )


def tangent(side: Cone, blank: Blank, at: float, upright: bool, out: bool) -> Placement:
    """Where a flat pattern touches its side before it is bent: along the line in the middle of the panel.

    Args:
        side: that the sheet lies on.
        blank: of the panel.
        at: direction of the panel's middle from the axis.
        upright: the blank's length stands upright.
        out: the sheet lies outside of the side.
    """
    lean = side.lean
    radial: Vec = (cos(at), sin(at), 0.0)
    round_about: Vec = (-sin(at), cos(at), 0.0)
    up: Vec = (radial[0] * sin(lean), radial[1] * sin(lean), cos(lean))
    off: Vec = (radial[0] * cos(lean), radial[1] * cos(lean), -sin(lean))
    into = off if out else (-off[0], -off[1], -off[2])
    along, across = (up, round_about) if upright else (round_about, up)
    wide = blank.width if upright else blank.length
    foot = (radial[0] * side.foot[0], radial[1] * side.foot[0], side.foot[1])
    origin = (foot[0] - round_about[0] * wide / 2.0, foot[1] - round_about[1] * wide / 2.0, foot[2])
    return Placement(origin, along, across, into)


def starts(first: float, sweep: float, panels: int) -> Iterator[float]:
    """Directions in which the panels of a part of a turn begin."""
    yield from (first + sweep * k / panels for k in range(panels))
