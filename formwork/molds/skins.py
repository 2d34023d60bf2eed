"""Skins bent round a straight side, cylinder or cone: how tightly they bend, their flat pattern, where they stand.

A cone unrolls into a sector of a ring. The pattern is that of the skin's middle, which bending neither stretches nor
squeezes; the ends are cut level once it is bent. All lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from math import atan2, cos, hypot, sin, tan

from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import Outline, Point, box, polygon, transposed
from formwork.geometry.sides import side_of
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Blank, Placement
from formwork.project.records import Shop
from formwork.record import record
from formwork.stock.records import Saw, SheetStock
from formwork.strength.bending import Bend, Tension, Way, published, tension
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.show import UnitSystem

_STRAIGHT = 1e-9
_THICKEST = 0.013
"""Sheets thicker than this are not chosen to be bent, m; a named one may be thicker (ours)."""
_PREFERRED = ("birch plywood", "plywood", "bending plywood", "sheet steel", "hardboard", "plastic sheet")
_MOST_PANELS = 12
_MOST_TIERS = 4


@record
class Cone:
    """A straight side between two heights: radius and height at its foot and at its head."""

    foot: Point
    head: Point

    @property
    def lean(self) -> float:
        """How far it leans outward, going up."""
        return atan2(self.head[0] - self.foot[0], self.height)

    @property
    def height(self) -> float:
        """From foot to head."""
        return self.head[1] - self.foot[1]

    @property
    def slant(self) -> float:
        """Along the side."""
        return hypot(self.height, self.head[0] - self.foot[0])

    @property
    def narrowest(self) -> float:
        """Its least radius."""
        return min(self.foot[0], self.head[0])

    def radius(self, z: float) -> float:
        """Radius at a height."""
        return self.foot[0] + (self.head[0] - self.foot[0]) * (z - self.foot[1]) / self.height

    def moved(self, by: float) -> Cone:
        """The side that lies so far from it, square to it; outward where above 0."""
        out = by / cos(self.lean)
        return Cone((self.foot[0] + out, self.foot[1]), (self.head[0] + out, self.head[1]))

    def between(self, low: float, high: float) -> Cone:
        """The share of it between two heights."""
        return Cone((self.radius(low), low), (self.radius(high), high))

    def tiers(self, count: int) -> tuple[Cone, ...]:
        """As many sides of equal height, one above the other."""
        marks = [self.foot[1] + self.height * k / count for k in range(count + 1)]
        return tuple(self.between(low, high) for low, high in pairwise(marks))

    def layer(self, by: float) -> Outline:
        """Profile of what lies between it and the side ``by`` away from it."""
        other = self.moved(by)
        inner, outer = (self, other) if by > 0.0 else (other, self)
        return polygon((inner.foot, outer.foot, outer.head, inner.head))


def cones(body: Turned, name: str) -> tuple[Cone, ...]:
    """The straight sides of a turned body, from the foot up.

    Raises:
        GeometryError: where a side is an arc, runs level or turns back: no flat sheet bends to it.
    """
    found: list[Cone] = []
    for leg in side_of(body.profile).legs():
        if leg.bulge != 0.0:
            raise GeometryError(
                f"{name}: its side is an arc {_place(leg.start)}; a bent skin is straight from ring to ring, so "
                "build it of stacked rings"
            )
        if leg.end[1] - leg.start[1] < _STRAIGHT:
            raise GeometryError(
                f"{name}: its side has a ledge {_place(leg.start)}; a bent skin has none, so build it of stacked rings"
            )
        made = Cone(leg.start, leg.end)
        if found and abs(found[-1].lean - made.lean) < _STRAIGHT:
            made = Cone(found.pop().foot, made.head)
        found.append(made)
    return tuple(found)


def _place(point: Point) -> str:
    return f"{show.both(point[1])} above the base"


def flat(side: Cone, sweep: float) -> Outline:
    """The flat pattern of a side swept through an angle: its narrow edge below, the middle of it upright.

    Source: the development of a cone: radii along the slant, the angle times the sine of the lean. Written with half
    chords and rises, which stay exact where the lean is slight.

    >>> from math import tau
    >>> round(box(flat(Cone((0.3, 0.0), (0.3, 0.5)), tau))[1][0], 6)
    1.884956
    """
    narrow, wide = sorted((side.foot[0], side.head[0]))
    lean = abs(side.lean)
    if lean < _STRAIGHT:
        width = sweep * narrow
        return polygon(((0.0, 0.0), (width, 0.0), (width, side.slant), (0.0, side.slant)))
    half = sweep * sin(lean) / 2.0
    near, far = narrow / sin(lean), wide / sin(lean)
    low, high, rise = near * sin(half), far * sin(half), side.slant * cos(half)
    points = ((high - low, 0.0), (high + low, 0.0), (2.0 * high, rise), (0.0, rise))
    bulge = tan(half / 2.0)
    return _to_corner(Outline(points, (-bulge, 0.0, bulge, 0.0)))


def _to_corner(outline: Outline) -> Outline:
    (x, y), _ = box(outline)
    return Outline(tuple((px - x, py - y) for px, py in outline.points), outline.bulges)


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
    shop: Shop, named: str | None, wanted: Wanted, name: str, units: UnitSystem, *, strict: bool = True
) -> Skin:
    """The sheet to bend round some sides: the named one, else the one that makes fewest panels of the usual kinds.

    Args:
        shop: what it is chosen from.
        named: by the project; None where it leaves the choice.
        wanted: what it must do.
        name: of the piece, for messages.
        units: how a person here reads a length.
        strict: a named sheet that does not bend so tightly is refused; else another one is taken for it.

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
    return min(found, key=lambda skin: _rank(skin, wanted.out))


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
