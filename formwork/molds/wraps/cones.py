"""Straight sides of round pieces, cylinders and cones, and the flat pattern each unrolls to.

A cone unrolls into a sector of a ring. All lengths in m, angles in rad.
"""

from __future__ import annotations

from itertools import pairwise
from math import atan2, cos, hypot, sin, tan

from formwork.errors import GeometryError
from formwork.geometry.outlines import Outline, Point, box, polygon
from formwork.geometry.sides import side_of
from formwork.geometry.turned import Turned
from formwork.record import record
from formwork.units import show

_STRAIGHT = 1e-9


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
