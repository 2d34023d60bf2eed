"""Closed outlines of straight legs and circular arcs, in a plane of their own. All lengths in m, angles in rad.

An arc is told by its bulge, the tangent of a quarter of the angle it turns through, above 0 where it turns
counter-clockwise (the measure that drawing exchange files use): so an outline is two lists, and nothing of it is
rounded when it is written or read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan, atan2, ceil, cos, hypot, pi, sin, tan

from formwork.record import record

Point = tuple[float, float]


@record
class Outline:
    """A closed path, counter-clockwise round what it encloses.

    Attributes:
        points: its corners.
        bulges: of the leg from each corner to the next; 0 where it is straight.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...]


@record
class Arc:
    """A circular leg: centre, radius, direction of its start from the centre, and the angle it turns through."""

    centre: Point
    radius: float
    start: float
    sweep: float

    def at(self, share: float) -> Point:
        """The point at a share of its turn."""
        angle = self.start + share * self.sweep
        return (self.centre[0] + self.radius * cos(angle), self.centre[1] + self.radius * sin(angle))


@record
class Leg:
    """One leg of an outline, from corner to corner."""

    start: Point
    end: Point
    bulge: float

    @property
    def chord(self) -> float:
        """Distance between its ends, m."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def sweep(self) -> float:
        """Angle it turns through, rad, above 0 counter-clockwise; 0 where it is straight."""
        return 4.0 * atan(self.bulge)

    @property
    def radius(self) -> float:
        """Of the circle it runs on, m.

        Raises:
            ZeroDivisionError: where it is straight.
        """
        return self.chord * (1.0 + self.bulge * self.bulge) / (4.0 * abs(self.bulge))

    @property
    def length(self) -> float:
        """Along the leg, m."""
        return self.chord if self.bulge == 0.0 else self.radius * abs(self.sweep)

    def arc(self) -> Arc:
        """The circle it runs on.

        Raises:
            ZeroDivisionError: where it is straight.
        """
        (x0, y0), (x1, y1), b = self.start, self.end, self.bulge
        off = (b - 1.0 / b) / 4.0
        centre = ((x0 + x1) / 2.0 + off * (y1 - y0), (y0 + y1) / 2.0 - off * (x1 - x0))
        return Arc(centre, self.radius, atan2(y0 - centre[1], x0 - centre[0]), self.sweep)


def polygon(points: Sequence[Point]) -> Outline:
    """An outline of straight legs alone."""
    return Outline(tuple(points), (0.0,) * len(points))


def rectangle(low: Point, high: Point) -> Outline:
    """The rectangle between two opposite corners."""
    return polygon(((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])))


def circle(centre: Point, radius: float) -> Outline:
    """A whole circle, as four quarter arcs."""
    x, y = centre
    corners = ((x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius))
    return Outline(corners, (tan(pi / 8.0),) * 4)


def ring_sector(inner: float, outer: float, start: float, sweep: float) -> Outline:
    """A segment of a flat ring about the origin, less than a whole turn."""
    bulge = tan(sweep / 4.0)
    ends = [(cos(angle), sin(angle)) for angle in (start, start + sweep)]
    (c0, s0), (c1, s1) = ends
    corners = (
        (inner * c0, inner * s0),
        (outer * c0, outer * s0),
        (outer * c1, outer * s1),
        (inner * c1, inner * s1),
    )
    return Outline(corners, (0.0, bulge, 0.0, -bulge))


def legs(outline: Outline) -> Iterator[Leg]:
    """Its legs in order; the last one closes it."""
    ends = (*outline.points[1:], outline.points[0])
    for start, end, bulge in zip(outline.points, ends, outline.bulges, strict=True):
        yield Leg(start, end, bulge)


def area(outline: Outline) -> float:
    """Area it encloses, m2; below 0 where it runs clockwise.

    >>> round(area(circle((3.0, 1.0), 2.0)) / pi, 12)
    4.0
    """
    return sum(_area(leg) for leg in legs(outline))


def _area(leg: Leg) -> float:
    """Shoelace share of the chord, and the segment between chord and arc."""
    (x0, y0), (x1, y1) = leg.start, leg.end
    flat = (x0 * y1 - x1 * y0) / 2.0
    return flat if leg.bulge == 0.0 else flat + _segment(leg)


def _segment(leg: Leg) -> float:
    sweep = leg.sweep
    return leg.radius**2 / 2.0 * (sweep - sin(sweep))


def moment(outline: Outline) -> float:
    """First moment of its area about the y axis, m3: the integral of x.

    Source: Green's theorem for the chords; area and centroid of a circular segment for the arcs.

    >>> round(moment(circle((3.0, 1.0), 2.0)) / pi, 12)
    12.0
    """
    return sum(_moment(leg) for leg in legs(outline))


def _moment(leg: Leg) -> float:
    (x0, y0), (x1, y1) = leg.start, leg.end
    flat = (y1 - y0) * (x0 * x0 + x0 * x1 + x1 * x1) / 6.0
    if leg.bulge == 0.0:
        return flat
    arc = leg.arc()
    middle = arc.start + arc.sweep / 2.0
    outward = 2.0 / 3.0 * arc.radius**3 * sin(arc.sweep / 2.0) ** 3 * cos(middle)
    return flat + _segment(leg) * arc.centre[0] + outward


def centroid(outline: Outline) -> Point:
    """Centre of its area."""
    size = area(outline)
    return (moment(outline) / size, moment(transposed(outline)) / size)


def transposed(outline: Outline) -> Outline:
    """With x and y exchanged, counter-clockwise again."""
    return reversed_outline(
        Outline(tuple((y, x) for x, y in outline.points), tuple(-b for b in outline.bulges))
    )


def reversed_outline(outline: Outline) -> Outline:
    """The same path run the other way round."""
    points = (outline.points[0], *outline.points[:0:-1])
    return Outline(points, tuple(-b for b in outline.bulges[::-1]))


def mirrored(outline: Outline) -> Outline:
    """Mirrored in the y axis, counter-clockwise again: as it reads from the other side."""
    return reversed_outline(
        Outline(tuple((-x, y) for x, y in outline.points), tuple(-b for b in outline.bulges))
    )


def perimeter(outline: Outline) -> float:
    """Length of the whole path, m."""
    return sum(leg.length for leg in legs(outline))


def shifted(outline: Outline, by: Point) -> Outline:
    """Carried along by a translation."""
    return Outline(tuple((x + by[0], y + by[1]) for x, y in outline.points), outline.bulges)


def scaled(outline: Outline, factor: float) -> Outline:
    """Scaled about the origin."""
    return Outline(tuple((x * factor, y * factor) for x, y in outline.points), outline.bulges)


def turned_by(outline: Outline, angle: float) -> Outline:
    """Turned about the origin, counter-clockwise."""
    c, s = cos(angle), sin(angle)
    return Outline(tuple((c * x - s * y, s * x + c * y) for x, y in outline.points), outline.bulges)


def between(first: Outline, last: Outline, share: float) -> Outline:
    """The outline at a share of the way from one to another that has the same legs; bulges change in step."""
    points = tuple(
        (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
        for (x0, y0), (x1, y1) in zip(first.points, last.points, strict=True)
    )
    bulges = tuple(b0 + share * (b1 - b0) for b0, b1 in zip(first.bulges, last.bulges, strict=True))
    return Outline(points, bulges)


def box(outline: Outline) -> tuple[Point, Point]:
    """Least and greatest corner of the box round it, arcs as far as they reach."""
    reach = [point for leg in legs(outline) for point in (leg.start, *_turning_points(leg))]
    xs, ys = [x for x, _ in reach], [y for _, y in reach]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _turning_points(leg: Leg) -> Iterator[Point]:
    """Where an arc reaches furthest along an axis."""
    if leg.bulge == 0.0:
        return
    arc = leg.arc()
    low, high = sorted((arc.start, arc.start + arc.sweep))
    quarter = pi / 2.0
    for k in range(ceil(low / quarter), int(high // quarter) + 1):
        yield arc.at((k * quarter - arc.start) / arc.sweep)


def flattened(outline: Outline, chord: float) -> tuple[Point, ...]:
    """Its corners, with points along every arc so that no chord lies further than ``chord`` (m) from it."""
    return tuple(point for leg in legs(outline) for point in flattened_leg(leg, chord)[:-1])


def flattened_leg(leg: Leg, chord: float) -> tuple[Point, ...]:
    """Both ends of a leg, with points along an arc so that no chord lies further than ``chord`` (m) from it."""
    if leg.bulge == 0.0:
        return (leg.start, leg.end)
    arc = leg.arc()
    steps = max(2, ceil(abs(arc.sweep) / (8.0 * chord / arc.radius) ** 0.5))
    return (leg.start, *(arc.at(k / steps) for k in range(1, steps)), leg.end)
