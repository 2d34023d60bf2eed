"""Level openings through a turned shell, as a doorway through a dome: what they take out. Lengths in m."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import asin, ceil, cos, pi, sin, sqrt, tan

from formwork.errors import GeometryError
from formwork.geometry.outlines import Leg, Outline, legs, polygon
from formwork.geometry.quadrature import integral
from formwork.geometry.turned import Turned
from formwork.record import record

_TURN = 0.03
"""Step along an arc where a passage is looked for on it, rad."""


@record
class Passage:
    """An opening on the level z = 0, the same on both sides of its middle.

    Attributes:
        width: clear.
        height: clear, in the middle.
        arched: its head is half a circle over the whole width; else it is level.
    """

    width: float
    height: float
    arched: bool

    @property
    def jamb(self) -> float:
        """Height of its upright sides."""
        return self.height - self.width / 2.0 if self.arched else self.height

    def half(self, z: float) -> float:
        """Half its width at a height."""
        if z <= self.jamb or not self.arched:
            return self.width / 2.0
        return sqrt(max(0.0, (self.height - z) * (self.width + z - self.height)))

    def outline(self) -> Outline:
        """It as seen from in front."""
        x, low = self.width / 2.0, self.jamb
        if not self.arched:
            return polygon(((-x, 0.0), (x, 0.0), (x, low), (-x, low)))
        quarter = tan(pi / 8.0)
        head = ((x, low), (0.0, self.height), (-x, low))
        if low < 1e-9:
            return Outline(head, (quarter, quarter, 0.0))
        return Outline(((-x, 0.0), (x, 0.0), *head), (0.0, 0.0, quarter, quarter, 0.0))


def taken(body: Turned, passage: Passage) -> float:
    """Volume of a turned body inside a passage that runs from its axis outward, m3.

    The level section at a height is what lies between the circles of the body's surfaces and the sides of the passage;
    it is integrated over the height along every leg of the profile.

    Raises:
        GeometryError: where the passage is wider than the body at some height.
    """
    stops = sorted({0.0, passage.jamb, passage.height})
    return sum(_along(leg, passage, stops) for leg in legs(body.profile))


def _along(leg: Leg, passage: Passage, stops: list[float]) -> float:
    """What lies between the axis and a leg inside a passage, above 0 where the leg rises."""
    if abs(leg.end[1] - leg.start[1]) < 1e-15 and leg.bulge == 0.0:
        return 0.0
    total, place = 0.0, _runs(leg)
    for start, end in pairwise([0.0, *sorted(_crossings(leg, stops)), 1.0]):
        middle = place((start + end) / 2.0)[1]
        if end - start > 1e-12 and stops[0] < middle < stops[-1]:
            total += _stretch(leg, passage, start, end)
    return total


def _stretch(leg: Leg, passage: Passage, start: float, end: float) -> float:
    """A stretch of a leg that passes no corner of the passage.

    The substitution 3u2 - 2u3 slows down at both ends, where the width of an arched head changes as a square root.
    """
    place = _runs(leg)

    def slice_at(u: float) -> float:
        r, z, rising = place(start + (end - start) * u * u * (3.0 - 2.0 * u))
        return _section(r, passage.half(z)) * rising * (end - start) * 6.0 * u * (1.0 - u)

    return integral(slice_at, 0.0, 1.0, 1e-11)


def _section(r: float, half: float) -> float:
    """Area of half a disc within a strip along its middle, m2."""
    if half > r:
        raise GeometryError("a passage is wider than what it passes through")
    return half * sqrt(r * r - half * half) + r * r * asin(half / r) if r > 0.0 else 0.0


def _runs(leg: Leg) -> Callable[[float], tuple[float, float, float]]:
    """Radius and height at a share of a leg, and how fast the height changes with the share."""
    (r0, z0), (r1, z1) = leg.start, leg.end
    if leg.bulge == 0.0:
        return lambda share: (r0 + share * (r1 - r0), z0 + share * (z1 - z0), z1 - z0)
    arc = leg.arc()
    (r, z), radius, first, sweep = arc.centre, arc.radius, arc.start, arc.sweep

    def place(share: float) -> tuple[float, float, float]:
        c, s = cos(first + share * sweep), sin(first + share * sweep)
        return r + radius * c, z + radius * s, radius * sweep * c

    return place


def _crossings(leg: Leg, stops: list[float]) -> Iterator[float]:
    """Shares of a leg at which it passes one of some heights, or turns from rising to falling."""
    if leg.bulge == 0.0:
        rise = leg.end[1] - leg.start[1]
        yield from (s for s in ((z - leg.start[1]) / rise for z in stops) if 0.0 < s < 1.0)
        return
    arc = leg.arc()
    sines = [(z - arc.centre[1]) / arc.radius for z in stops]
    angles = [pi / 2.0, -pi / 2.0]
    angles += [angle for s in sines if abs(s) < 1.0 for angle in (asin(s), pi - asin(s))]
    low, high = sorted((arc.start, arc.start + arc.sweep))
    for angle in angles:
        turn = angle + 2.0 * pi * ceil((low - angle) / (2.0 * pi))
        if low < turn < high:
            yield (turn - arc.start) / arc.sweep


def reach(body: Turned, passage: Passage) -> tuple[float, float]:
    """Least and greatest distance from the axis, square to it, at which a passage meets the body.

    Raises:
        GeometryError: where the passage is wider than the body at some height, or does not meet it.
    """
    inside: list[float] = []
    for leg in legs(body.profile):
        place, steps = _runs(leg), 4 + int(abs(leg.sweep) / _TURN)
        for k in range(steps + 1):
            r, z, _ = place(k / steps)
            if -1e-9 <= z <= passage.height + 1e-9:
                half = passage.half(z)
                if half >= r:
                    raise GeometryError("a passage is wider than what it passes through")
                inside += [r, sqrt(r * r - half * half)]
    if not inside:
        raise GeometryError("a passage does not meet what it is to pass through")
    return min(inside), max(inside)
