"""Smooth curves as arcs that run on from one another, no further from the curve than a tolerance. Lengths in m."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, hypot, pi, sin, tan, tau

from formwork.errors import GeometryError
from formwork.geometry.outlines import Leg, Point
from formwork.record import record

_DEEPEST = 12
_SAMPLES = (0.12, 0.25, 0.38, 0.5, 0.62, 0.75, 0.88)
_FLAT = 1e-7


@record
class Spot:
    """A place on a curve, and the way the curve runs there, a unit vector."""

    place: Point
    way: Point


Curve = Callable[[float], Spot]
"""From a parameter to the spot on a curve."""


def as_arcs(curve: Curve, start: float, end: float, tolerance: float) -> tuple[Leg, ...]:
    """A smooth stretch of a curve as arcs and straight legs that run on smoothly from one another.

    Pairs of arcs with a common way at their joint, halved until they stay within the tolerance (a biarc is tried at
    seven places between its ends).

    Args:
        curve: from parameter to spot; smooth between start and end.
        start: its first parameter.
        end: its last.
        tolerance: greatest distance from the curve, m.

    Raises:
        GeometryError: where 4096 pairs of arcs do not follow it.
    """
    return _within(curve, (start, end), tolerance, 0)


def _within(curve: Curve, stretch: tuple[float, float], tolerance: float, depth: int) -> tuple[Leg, ...]:
    start, end = stretch
    first, last = curve(start), curve(end)
    pair = biarc(first, last)
    between = [curve(start + share * (end - start)).place for share in _SAMPLES]
    if pair and all(min(_distance(leg, p) for leg in pair) <= tolerance for p in between):
        return pair
    if depth == _DEEPEST:
        raise GeometryError(f"a curve at {first.place[0]:.6g}, {first.place[1]:.6g} is too sharp to follow")
    middle = (start + end) / 2.0
    return (
        *_within(curve, (start, middle), tolerance, depth + 1),
        *_within(curve, (middle, end), tolerance, depth + 1),
    )


def biarc(first: Spot, last: Spot) -> tuple[Leg, ...]:
    """Two arcs from one spot to another that leave and arrive the way the curve runs; one straight leg where it does.

    Nothing where no pair of arcs with equal tangents does so.
    """
    (x0, y0), (x1, y1) = first.place, last.place
    vx, vy = x1 - x0, y1 - y0
    (ax, ay), (bx, by) = first.way, last.way
    size = hypot(vx, vy)
    if size == 0.0:
        return ()
    d = _tangent_length((vx, vy), first.way, last.way)
    if d is None or d <= 0.0:
        return ()
    middle = (x0 + vx / 2.0 + d * (ax - bx) / 2.0, y0 + vy / 2.0 + d * (ay - by) / 2.0)
    legs = (_from(first.place, first.way, middle), _to(middle, last.place, last.way))
    if any(leg is None for leg in legs):
        return ()
    made = tuple(leg for leg in legs if leg is not None)
    return (Leg(first.place, last.place, 0.0),) if all(leg.bulge == 0.0 for leg in made) else made


def _tangent_length(v: Point, a: Point, b: Point) -> float | None:
    """The length d for which first + d a and last - d b lie 2 d apart: so both arcs join in one way."""
    sx, sy = a[0] + b[0], a[1] + b[1]
    vs, vv = v[0] * sx + v[1] * sy, v[0] ** 2 + v[1] ** 2
    quad = 2.0 * (1.0 - (a[0] * b[0] + a[1] * b[1]))
    if quad < 1e-12:
        return vv / (2.0 * vs) if vs > 0.0 else None
    return float((-vs + (vs * vs + quad * vv) ** 0.5) / quad)


def _from(start: Point, way: Point, end: Point) -> Leg | None:
    """The arc that leaves ``start`` that way and arrives at ``end``; None beyond three quarters of a turn."""
    ux, uy = end[0] - start[0], end[1] - start[1]
    half = atan2(way[0] * uy - way[1] * ux, way[0] * ux + way[1] * uy)
    if abs(half) > 0.375 * tau:
        return None
    return Leg(start, end, 0.0 if abs(half) * hypot(ux, uy) < _FLAT else tan(half / 2.0))


def _to(start: Point, end: Point, way: Point) -> Leg | None:
    back = _from(end, (-way[0], -way[1]), start)
    return None if back is None else Leg(start, end, -back.bulge if back.bulge else 0.0)


def _distance(leg: Leg, point: Point) -> float:
    """Distance of a point from a leg, taken square to it; from its ends where it does not stand abreast of it."""
    ends = min(hypot(point[0] - x, point[1] - y) for x, y in (leg.start, leg.end))
    if leg.bulge == 0.0:
        ux, uy = leg.end[0] - leg.start[0], leg.end[1] - leg.start[1]
        px, py = point[0] - leg.start[0], point[1] - leg.start[1]
        share = (ux * px + uy * py) / leg.chord**2
        return abs(ux * py - uy * px) / leg.chord if 0.0 <= share <= 1.0 else ends
    arc = leg.arc()
    dx, dy = point[0] - arc.centre[0], point[1] - arc.centre[1]
    turned = ((atan2(dy, dx) - arc.start) * (1.0 if arc.sweep > 0.0 else -1.0)) % tau
    return abs(hypot(dx, dy) - arc.radius) if turned <= abs(arc.sweep) else ends


def arc_leg(centre: Point, radius: float, start: float, sweep: float) -> Leg:
    """An arc by its circle: direction of its start from the centre and the angle it turns through, less than a turn.

    >>> arc_leg((0.0, 0.0), 1.0, 0.0, pi / 2.0).end
    (0.0, 1.0)
    """
    ends = [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in (start, start + sweep)]
    tidy = [tuple(round(value, 12) + 0.0 for value in point) for point in ends]
    return Leg((tidy[0][0], tidy[0][1]), (tidy[1][0], tidy[1][1]), tan(sweep / 4.0))


def through(start: Point, via: Point, end: Point) -> float:
    """Bulge of the arc from one point through a second to a third; 0 where they lie on one line.

    >>> round(through((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)), 9)
    1.0
    """
    ax, ay, bx, by = start[0] - via[0], start[1] - via[1], end[0] - via[0], end[1] - via[1]
    inscribed = atan2(bx * ay - by * ax, ax * bx + ay * by)
    rest = (pi - abs(inscribed)) * (1.0 if inscribed > 0.0 else -1.0)
    return 0.0 if abs(rest) < _FLAT else tan(rest / 2.0)
