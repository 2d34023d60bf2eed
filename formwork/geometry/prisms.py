"""Bodies with an outline for a base: straight up, or drawn in towards the head. Lengths in m."""

from __future__ import annotations

from math import cos

from formwork.geometry.outlines import Leg, Outline, Point, area, between, box, legs, scaled
from formwork.geometry.quadrature import integral
from formwork.geometry.vectors import Vec, add, cross, scale
from formwork.record import record

X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
ORIGIN: Vec = (0.0, 0.0, 0.0)


@record
class Prism:
    """An outline with a height.

    Attributes:
        outline: at the foot, in the plane of ``along`` and ``across``.
        height: square to that plane, the way that makes ``along``, ``across`` and it right-handed.
        origin: where the outline's own origin stands.
        along: the outline's x, a unit vector.
        across: the outline's y, a unit vector square to it.
        head: the outline at the head, leg for leg, where it is another; every leg runs straight from the one to the
            other.
        openings: outlines through it, at the foot; the same at the head where nothing else is said.
        head_openings: the openings at the head, leg for leg, where they are others.
    """

    outline: Outline
    height: float
    origin: Vec = ORIGIN
    along: Vec = X
    across: Vec = Y
    head: Outline | None = None
    openings: tuple[Outline, ...] = ()
    head_openings: tuple[Outline, ...] = ()

    @property
    def axis(self) -> Vec:
        """The way of its height, a unit vector."""
        return cross(self.along, self.across)

    @property
    def top(self) -> Outline:
        """The outline at the head."""
        return self.head or self.outline

    def at(self, share: float) -> Outline:
        """The outline at a share of the height."""
        return between(self.outline, self.top, share)

    def openings_at(self, share: float) -> tuple[Outline, ...]:
        """The openings at a share of the height."""
        heads = self.head_openings or self.openings
        return tuple(between(foot, head, share) for foot, head in zip(self.openings, heads, strict=True))

    def volume(self) -> float:
        """Volume, m3.

        Source: the area of an outline whose every point moves straight from foot to head is a quadratic in the height
        (mixed areas, Minkowski), which the prismatoid formula of the CRC mensuration formulas takes exactly.

        >>> from formwork.geometry.outlines import circle
        >>> round(Prism(circle((0.0, 0.0), 2.0), 3.0, head=circle((0.0, 0.0), 1.0)).volume(), 6)
        21.991149
        """
        pairs = (
            (self.outline, self.top),
            *zip(self.openings, self.head_openings or self.openings, strict=True),
        )
        whole, *open_ones = (_mean(foot, head) for foot, head in pairs)
        return self.height * (whole - sum(open_ones))

    def in_plan(self) -> float:
        """An area that no level section of it exceeds, m2: its larger end, of a body that lies the box round it."""
        if abs(self.axis[2]) > 1.0 - 1e-9:
            return max(area(self.outline), area(self.top))
        low, high = self.box()
        return (high[0] - low[0]) * (high[1] - low[1])

    def place(self, x: float, y: float, up: float) -> Vec:
        """A point of its own frame in space."""
        level = add(scale(self.along, x), scale(self.across, y))
        return add(self.origin, add(level, scale(self.axis, up)))

    def box(self) -> tuple[Vec, Vec]:
        """Least and greatest corner of a box round it: exact where its sides run along the axes."""
        corners = []
        for outline, up in ((self.outline, 0.0), (self.top, self.height)):
            (x0, y0), (x1, y1) = box(outline)
            corners += [self.place(x, y, up) for x in (x0, x1) for y in (y0, y1)]
        low, high = (tuple(pick(c[i] for c in corners) for i in range(3)) for pick in (min, max))
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def shifted(self, by: Vec) -> Prism:
        """The body carried along by a translation."""
        return self._at(add(self.origin, by))

    def _at(self, origin: Vec) -> Prism:
        return Prism(
            self.outline,
            self.height,
            origin,
            self.along,
            self.across,
            self.head,
            self.openings,
            self.head_openings,
        )

    def grown(self, factor: float) -> Prism:
        """The body after a scaling of space about the origin."""
        head = scaled(self.head, factor) if self.head else None
        return Prism(
            scaled(self.outline, factor),
            self.height * factor,
            scale(self.origin, factor),
            self.along,
            self.across,
            head,
            tuple(scaled(one, factor) for one in self.openings),
            tuple(scaled(one, factor) for one in self.head_openings),
        )

    def turned_over(self, height: float) -> Prism:
        """The body after a half turn about its length: y and z change sign, ``height`` comes to z = 0."""
        x, y, z = self.origin
        (ax, ay, az), (bx, by, bz) = self.along, self.across
        return Prism(
            self.outline,
            self.height,
            (x, -y, height - z),
            (ax, -ay, -az),
            (bx, -by, -bz),
            self.head,
            self.openings,
            self.head_openings,
        )


def _mean(foot: Outline, head: Outline) -> float:
    """Mean area between two outlines that have the same legs, m2.

    At a share s of the height it is (1 - s)^2 A + 2 s (1 - s) M + s^2 B, M the mixed area of both, so its mean is
    (A + M + B) / 3. Where every leg keeps its bulge the outline half way up is of the same kind, and Simpson's rule,
    exact for a quadratic, gives the mean at once.
    """
    if foot is head:
        return area(foot)
    if foot.bulges == head.bulges:
        return (area(foot) + 4.0 * area(between(foot, head, 0.5)) + area(head)) / 6.0
    mixed = sum(_mixed(low, high) for low, high in zip(legs(foot), legs(head), strict=True))
    return (area(foot) + mixed + area(head)) / 3.0


def _mixed(low: Leg, high: Leg) -> float:
    """A leg's share of the mixed area: half the integral of the place on one across the way along the other."""
    if low.bulge == high.bulge == 0.0:
        x, y = (low.end[0] - low.start[0]), (low.end[1] - low.start[1])
        return ((high.start[0] + high.end[0]) * y - (high.start[1] + high.end[1]) * x) / 4.0
    if low.bulge == high.bulge:
        one, other = high.arc(), low.arc()
        x, y = (low.end[0] - low.start[0]), (low.end[1] - low.start[1])
        turned = one.radius * other.radius * other.sweep * cos(other.start - one.start)
        return (one.centre[0] * y - one.centre[1] * x + turned) / 2.0

    def across(share: float) -> float:
        (x, y), (u, v) = _on(high, share), _along(low, share)
        return x * v - y * u

    return integral(across, 0.0, 1.0) / 2.0


def _on(leg: Leg, share: float) -> Point:
    if leg.bulge:
        return leg.arc().at(share)
    return (
        leg.start[0] + share * (leg.end[0] - leg.start[0]),
        leg.start[1] + share * (leg.end[1] - leg.start[1]),
    )


def _along(leg: Leg, share: float) -> Point:
    """How fast the place on a leg moves as the share grows."""
    if not leg.bulge:
        return (leg.end[0] - leg.start[0], leg.end[1] - leg.start[1])
    arc = leg.arc()
    x, y = arc.at(share)
    return (-(y - arc.centre[1]) * arc.sweep, (x - arc.centre[0]) * arc.sweep)
