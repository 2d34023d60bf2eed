"""Bodies turned about an upright axis: a profile of straight legs and arcs, swept round it. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, cos, pi, sin, tau

from formwork.geometry.outlines import Leg, Outline, area, box, legs, moment, reversed_outline, scaled
from formwork.geometry.vectors import Vec
from formwork.record import record


@record
class Turned:
    """A profile swept about an upright axis.

    Attributes:
        profile: distance from the axis and height z, counter-clockwise; no point of it beyond the axis.
        axis: x and y of the axis.
        start: direction from the axis where the sweep begins, rad.
        sweep: angle swept, counter-clockwise; a whole turn where nothing else is said.
    """

    profile: Outline
    axis: tuple[float, float] = (0.0, 0.0)
    start: float = 0.0
    sweep: float = tau

    @property
    def whole(self) -> bool:
        """It goes all the way round."""
        return self.sweep > tau - 1e-12

    def volume(self) -> float:
        """Volume, m3.

        Source: Pappus's second theorem: the area of the profile times the way of its centroid.

        >>> from formwork.geometry.outlines import circle
        >>> round(Turned(circle((2.0, 0.0), 1.0)).volume(), 6)
        39.478418
        """
        return self.sweep * moment(self.profile)

    def radius(self, height: float) -> float:
        """Greatest distance from the axis at a height, m; 0 where the body does not reach it.

        >>> from formwork.geometry.outlines import circle
        >>> round(Turned(circle((2.0, 0.0), 1.0)).radius(0.6), 12)
        2.8
        """
        return max((r for leg in legs(self.profile) for r in _met(leg, height)), default=0.0)

    def in_plan(self) -> float:
        """Area within its widest round, m2; no level section of it is larger."""
        return self.sweep / 2.0 * box(self.profile)[1][0] ** 2

    def section(self) -> float:
        """Area of the profile, m2."""
        return area(self.profile)

    def box(self) -> tuple[Vec, Vec]:
        """Least and greatest corner of the box round it."""
        (inner, low), (outer, high) = box(self.profile)
        x, y = self.axis
        places = [(r * cos(a), r * sin(a)) for r in (inner, outer) for a in self._furthest()]
        xs, ys = [p for p, _ in places], [q for _, q in places]
        return (x + min(xs), y + min(ys), low), (x + max(xs), y + max(ys), high)

    def _furthest(self) -> list[float]:
        """Directions in which it may reach furthest along an axis."""
        end = self.start + self.sweep
        first = int(self.start // (pi / 2.0)) + 1
        quarters = [k * pi / 2.0 for k in range(first, first + 5) if k * pi / 2.0 < end]
        return [self.start, *quarters, end]

    def shifted(self, by: Vec) -> Turned:
        """The body carried along by a translation."""
        points = tuple((r, z + by[2]) for r, z in self.profile.points)
        place = (self.axis[0] + by[0], self.axis[1] + by[1])
        return Turned(Outline(points, self.profile.bulges), place, self.start, self.sweep)

    def grown(self, factor: float) -> Turned:
        """The body after a scaling of space about the origin."""
        place = (self.axis[0] * factor, self.axis[1] * factor)
        return Turned(scaled(self.profile, factor), place, self.start, self.sweep)

    def turned_over(self, height: float) -> Turned:
        """The body after a half turn about its length: y and z change sign, the top comes to z = 0."""
        points = tuple((r, height - z) for r, z in self.profile.points)
        flipped = reversed_outline(Outline(points, tuple(-b for b in self.profile.bulges)))
        return Turned(flipped, (self.axis[0], -self.axis[1]), -self.start - self.sweep, self.sweep)


def _met(leg: Leg, height: float) -> Iterator[float]:
    """Distances from the axis at which a leg of a profile is as high as this."""
    (r0, z0), (r1, z1) = leg.start, leg.end
    yield from (r for r, z in (leg.start, leg.end) if z == height)
    if leg.bulge == 0.0:
        if min(z0, z1) < height < max(z0, z1):
            yield r0 + (r1 - r0) * (height - z0) / (z1 - z0)
        return
    arc = leg.arc()
    rise = (height - arc.centre[1]) / arc.radius
    if abs(rise) <= 1.0:
        for angle in (asin(rise), pi - asin(rise)):
            share = (
                ((angle - arc.start) % tau) / arc.sweep
                if arc.sweep > 0.0
                else ((arc.start - angle) % tau) / -arc.sweep
            )
            if share <= 1.0:
                yield arc.centre[0] + arc.radius * cos(angle)
