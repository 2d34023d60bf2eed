"""Meridians of domes: half of a section through the axis, from the springing up to the crown.

Every meridian is told by ``polar``, the angle between its outward normal and the upright: 0 at the crown, a quarter
turn at the equator. It is the slope of the surface there as well, and curves that run alongside at one distance have
the same polar angle at the two ends of a normal; so a dome's inside, its outside, the skin and the ribs of its form
are one curve at several distances.

The frame is that of the curve first made: r is the distance from the axis, z the height over its springing. Lengths
in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import acos, asinh, atan, ceil, cos, cosh, hypot, pi, sin, sinh, tan
from typing import assert_never

from formwork.errors import GeometryError
from formwork.geometry.outlines import Leg, Outline, Point, moment
from formwork.geometry.quadrature import integral, short_integral
from formwork.record import record

_LEG = pi / 48.0
"""Step of one arc where a meridian that is no circle is drawn by arcs, rad."""


@record
class Sphere:
    """A circle about the axis."""

    radius: float


@record
class Spheroid:
    """An ellipse about the axis: ``half`` its half width at the equator, ``rise`` its half height."""

    half: float
    rise: float


@record
class Catenary:
    """A hanging chain turned over: z falls by ``scale`` (cosh(r / scale) - 1) from the crown."""

    scale: float


Curve = Sphere | Spheroid | Catenary


@record
class Meridian:
    """A meridian of a dome, from its springing to its crown or oculus.

    Attributes:
        curve: the curve it follows.
        crown: height of that curve's crown.
        springing: polar angle of the springing.
        oculus: polar angle of the edge of the oculus; 0 where there is none.
        offset: how far outside that curve it runs, along the normal; below 0 inside.
    """

    curve: Curve
    crown: float
    springing: float
    oculus: float = 0.0
    offset: float = 0.0

    def r(self, polar: float) -> float:
        """Distance from the axis."""
        return _r(self.curve, polar) + self.offset * sin(polar)

    def z(self, polar: float) -> float:
        """Height over the springing of the curve first made."""
        return self.crown - _fall(self.curve, polar) + self.offset * cos(polar)

    def point(self, polar: float) -> Point:
        """The point there, (r, z)."""
        return self.r(polar), self.z(polar)

    def normal(self, polar: float) -> Point:
        """Unit vector outward, (r, z)."""
        return sin(polar), cos(polar)

    def bend(self, polar: float) -> float:
        """Radius of curvature of the meridian."""
        return _bend(self.curve, polar) + self.offset

    def girth(self, polar: float) -> float:
        """The other radius of curvature of the surface: along the normal to the axis."""
        return _girth(self.curve, polar) + self.offset

    def tightest(self) -> float:
        """Least radius of curvature of the surface between springing and oculus, either way.

        Both radii of each of the three curves rise or fall all the way from crown to equator.
        """
        return min(turn(polar) for turn in (self.bend, self.girth) for polar in (self.springing, self.oculus))

    def moved(self, distance: float) -> Meridian:
        """The parallel curve so far outside, along the normal; inside where ``distance`` is below 0.

        Raises:
            GeometryError: where it would run further inside than the surface's radius of curvature.
        """
        if self.tightest() + distance <= 0.0:
            raise GeometryError(
                f"a curve {-1000 * distance:.0f} mm inside a dome that turns on {1000 * self.tightest():.0f} mm "
                "crosses itself"
            )
        if isinstance(self.curve, Sphere):
            return replace(self, curve=Sphere(self.curve.radius + distance), crown=self.crown + distance)
        return replace(self, offset=self.offset + distance)

    def grown(self, factor: float) -> Meridian:
        """The meridian after a scaling of space about the middle of its springing."""
        return replace(
            self,
            curve=_grown(self.curve, factor),
            crown=self.crown * factor,
            offset=self.offset * factor,
        )

    def at_height(self, z: float) -> float:
        """Polar angle at a height, below the springing as well, as far as the curve goes.

        Raises:
            GeometryError: where it does not reach that height.
        """
        lowest = pi / 2.0 if isinstance(self.curve, Catenary) else pi
        end = lowest - 1e-9
        if not self.z(end) <= z <= self.z(0.0):
            raise GeometryError(f"the dome does not reach a height of {1000 * z:.0f} mm")
        return _solved(lambda polar: self.z(polar) - z, 0.0, end)

    def at_radius(self, r: float) -> float:
        """Polar angle above the equator at a distance from the axis.

        Raises:
            GeometryError: where it does not come so far out.
        """
        end = pi / 2.0 - (1e-9 if isinstance(self.curve, Catenary) else 0.0)
        if not 0.0 <= r <= self.r(end):
            raise GeometryError(f"the dome does not reach {1000 * r:.0f} mm from its axis")
        return _solved(lambda polar: r - self.r(polar), 0.0, end)

    def length(self, start: float, end: float) -> float:
        """Along the meridian from one polar angle to a larger one."""
        if isinstance(self.curve, Sphere):
            return self.curve.radius * (end - start)
        own = (
            self.curve.scale * (tan(end) - tan(start))
            if isinstance(self.curve, Catenary)
            else integral(lambda polar: _bend(self.curve, polar), start, end)
        )
        return own + self.offset * (end - start)

    def at_length(self, length: float, start: float = 0.0) -> float:
        """Polar angle at a distance along the meridian, down from another.

        Raises:
            GeometryError: where the meridian ends before.
        """
        end = pi / 2.0 - 1e-9 if isinstance(self.curve, Catenary) else pi
        if not 0.0 <= length <= self.length(start, end):
            raise GeometryError(f"the dome's meridian is not {1000 * length:.0f} mm long")
        return _solved(
            lambda polar: length - (self.length(start, polar) if polar > start else 0.0), start, end
        )

    def area(self, start: float, end: float) -> float:
        """Area of the surface turned from one polar angle to a larger one, m2.

        Source: the zone of a sphere in closed form; else the integral of 2 pi r along the meridian.
        """
        if isinstance(self.curve, Sphere):
            return 2.0 * pi * self.curve.radius**2 * (cos(start) - cos(end))
        return 2.0 * pi * integral(lambda polar: self.r(polar) * self.bend(polar), start, end)

    def inside(self, start: float, end: float) -> float:
        """Volume inside the surface, between the level planes at two polar angles, the larger one last, m3.

        Source: the segment of a sphere in closed form; else the integral of pi r2 over the height.
        """
        if isinstance(self.curve, Sphere):
            (high, low), radius = (cos(start), cos(end)), self.curve.radius
            return pi * radius**3 * ((high - low) - (high**3 - low**3) / 3.0)
        return 2.0 * pi * self.strip(start, end)

    def strip(self, start: float, end: float) -> float:
        """First moment about the axis of what lies between axis and curve, from one polar angle to a larger one, m3."""
        return 0.5 * integral(self._strip, start, end)

    def _strip(self, polar: float) -> float:
        """Twice what a radian adds to the strip."""
        return self.r(polar) ** 2 * self.bend(polar) * sin(polar)

    def shell(self, thickness: float, start: float, end: float) -> float:
        """Volume of a shell outside this surface, thickness along the normal, its edges cut along the normals, m3.

        Source: Steiner's formula of parallel surfaces: V = A t + H t2 + K t3 / 3, where A is the area, H the integral
        of the mean of both curvatures, and K that of their product, 2 pi (cos start - cos end).
        """
        if isinstance(self.curve, Sphere):
            r = self.curve.radius
            return 2.0 * pi / 3.0 * ((r + thickness) ** 3 - r**3) * (cos(start) - cos(end))
        curved = integral(self.r, start, end) + self.z(start) - self.z(end)
        whole = 2.0 * pi * (cos(start) - cos(end))
        return self.area(start, end) * thickness + pi * curved * thickness**2 + whole * thickness**3 / 3.0

    def traced(self, start: float, end: float) -> tuple[Leg, ...]:
        """The curve as circular arcs from one polar angle to another, either way.

        A sphere's are its own. Others are run alongside by arcs that begin and end on them, each bulged so that the
        body turned of it holds exactly what that of the curve holds; they stray by less than 1/20000 of half the span.
        """
        exact = isinstance(self.curve, Sphere)
        stops = _stops(self.curve, start, end)
        return tuple(self._arc(a, b, exact) for a, b in pairwise(stops))

    def _arc(self, start: float, end: float, exact: bool) -> Leg:
        first, last = self.point(start), self.point(end)
        bulge = tan((start - end) / 4.0)
        if not exact:
            low, high = min(start, end), max(start, end)
            held = 0.5 * short_integral(self._strip, low, high) * (1.0 if start > end else -1.0)
            bulge = _bulged(first, last, bulge, held)
        return Leg(first, last, bulge)


def sphere(radius: float, rise: float) -> Meridian:
    """Part of a sphere that rises so far over its springing: less than its radius above the equator, more below.

    Raises:
        GeometryError: where the rise is not between 0 and the whole height of the sphere.
    """
    if not 0.0 < rise < 2.0 * radius:
        raise GeometryError("a sphere rises by more than 0 and less than twice its radius")
    return Meridian(Sphere(radius), rise, acos((radius - rise) / radius))


def radius_over(half: float, rise: float) -> float:
    """Radius of the sphere that springs so far from its axis and rises so far.

    Source: cap of a sphere, R = (a2 + h2) / 2h.

    >>> radius_over(8.0, 4.0)
    10.0
    """
    return (half * half + rise * rise) / (2.0 * rise)


def spheroid(half: float, rise: float) -> Meridian:
    """Upper half of a spheroid: half its width at the equator, and its rise."""
    if abs(half - rise) < 1e-9:
        return sphere(half, half)
    return Meridian(Spheroid(half, rise), rise, pi / 2.0)


def catenary(half: float, rise: float) -> Meridian:
    """A catenary turned about its axis, by half its span and its rise.

    Source: rise = a (cosh(half / a) - 1), solved for a.

    Raises:
        GeometryError: where the rise is so large or so small for the span that it is no dome.
    """
    if not 0.02 * half <= rise <= 10.0 * half:
        raise GeometryError("a catenary's rise must be between 1/100 of its span and 5 spans")
    scale = half / _solved(lambda x: rise / half - (cosh(x) - 1.0) / x, 1e-6, 20.0)
    return Meridian(Catenary(scale), rise, atan(sinh(half / scale)))


def outlined(*paths: tuple[Leg, ...]) -> Outline:
    """The outline of paths that follow one another, joined and closed by straight legs where they do not meet."""
    points: list[Point] = []
    bulges: list[float] = []
    every = [leg for path in paths for leg in path]
    for leg, after in zip(every, [*every[1:], every[0]], strict=True):
        points.append(leg.start)
        bulges.append(leg.bulge)
        if hypot(after.start[0] - leg.end[0], after.start[1] - leg.end[1]) > 1e-12:
            points.append(leg.end)
            bulges.append(0.0)
    return Outline(tuple(points), tuple(bulges))


def _stops(curve: Curve, start: float, end: float) -> tuple[float, ...]:
    """Polar angles between which one arc does; those of a catenary in even steps away from the axis.

    Even steps of the angle would be long ones where a steep catenary runs nearly straight.
    """
    hanging = isinstance(curve, Catenary)
    low, high = (asinh(tan(polar)) if hanging else polar for polar in (start, end))
    step = pi / 2.0 if isinstance(curve, Sphere) else _LEG
    count = max(1, ceil(abs(high - low) / step - 1e-9))
    even = [low + (high - low) * k / count for k in range(1, count)]
    return (start, *(atan(sinh(stop)) if hanging else stop for stop in even), end)


def _bulged(first: Point, last: Point, bulge: float, held: float) -> float:
    """The bulge near another at which an arc holds the first moment wanted between itself and the axis."""

    def missing(b: float) -> float:
        return moment(Outline((first, last), (b, 0.0))) - beyond

    beyond = held - _chord(first, last)
    low, high = bulge, bulge * 1.001
    at_low, at_high = missing(low), missing(high)
    for _ in range(4):
        if at_high == at_low:
            break
        low, high = high, high - at_high * (high - low) / (at_high - at_low)
        at_low, at_high = at_high, missing(high)
    return high


def _chord(first: Point, last: Point) -> float:
    """First moment about the axis of what lies between it and a straight line."""
    (r0, z0), (r1, z1) = first, last
    return (z1 - z0) * (r0 * r0 + r0 * r1 + r1 * r1) / 6.0


def _solved(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a falling function passes 0.

    False position; an end that stays put twice counts half (Illinois). Every fourth step halves instead, so that no
    function takes more than four times what halving alone would.
    """
    at_low, at_high, stays = function(low), function(high), ""
    for step in range(1, 240):
        if at_low <= 0.0 or at_high >= 0.0:
            break
        share = 0.5 if step % 4 == 0 else at_low / (at_low - at_high)
        middle = low + share * (high - low)
        if middle in (low, high):
            break
        at_middle = function(middle)
        if at_middle > 0.0:
            low, at_low = middle, at_middle
            at_high, stays = (at_high / 2.0 if stays == "high" else at_high), "high"
        else:
            high, at_high = middle, at_middle
            at_low, stays = (at_low / 2.0 if stays == "low" else at_low), "low"
    return low if abs(function(low)) < abs(function(high)) else high


def _grown(curve: Curve, factor: float) -> Curve:
    match curve:
        case Sphere(radius):
            return Sphere(radius * factor)
        case Spheroid(half, rise):
            return Spheroid(half * factor, rise * factor)
        case Catenary(scale):
            return Catenary(scale * factor)
        case _:
            assert_never(curve)


def _r(curve: Curve, polar: float) -> float:
    match curve:
        case Sphere(radius):
            return radius * sin(polar)
        case Spheroid(half, rise):
            return half * half * sin(polar) / hypot(half * sin(polar), rise * cos(polar))
        case Catenary(scale):
            return scale * asinh(tan(polar))
        case _:
            assert_never(curve)


def _fall(curve: Curve, polar: float) -> float:
    """How far below the crown."""
    match curve:
        case Sphere(radius):
            return 2.0 * radius * sin(polar / 2.0) ** 2
        case Spheroid(half, rise):
            return rise - rise * rise * cos(polar) / hypot(half * sin(polar), rise * cos(polar))
        case Catenary(scale):
            return scale * (1.0 / cos(polar) - 1.0)
        case _:
            assert_never(curve)


def _bend(curve: Curve, polar: float) -> float:
    match curve:
        case Sphere(radius):
            return radius
        case Spheroid(half, rise):
            return (half * rise) ** 2 / hypot(half * sin(polar), rise * cos(polar)) ** 3
        case Catenary(scale):
            return scale / cos(polar) ** 2
        case _:
            assert_never(curve)


def _girth(curve: Curve, polar: float) -> float:
    match curve:
        case Sphere(radius):
            return radius
        case Spheroid(half, rise):
            return half * half / hypot(half * sin(polar), rise * cos(polar))
        case Catenary(scale):
            return scale if polar < 1e-9 else scale * asinh(tan(polar)) / sin(polar)
        case _:
            assert_never(curve)
