"""Stations along arcs: the points that stand for a curve when it is reckoned with. Lengths in m, angles in rad.

Stations round a circle are whole steps from its own first axis, with one wherever a view along an axis of space meets
its outline: so what is seen from the front, the side and above has its true size.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import atan2, ceil, floor, hypot, pi, sqrt, tau

from formwork.geometry.outlines import Leg, Outline, Point, legs
from formwork.geometry.vectors import Vec, dot

STEPS = (36, 48, 72)
"""Facets round a whole circle, for small and for large ones; no two neighbours lean apart by more than 10 degrees."""
_CHORD = 1e-4
_FINE = 2e-5
_NEAR = 1e-7
_SAME_ANGLE = 1e-6
_AXES: tuple[Vec, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

Step = Callable[[float], float]
"""From the radius of a circle, m, to the angle between stations round it, rad."""


def step_of(radius: float) -> float:
    """Stations for what is only looked at."""
    wanted = tau / sqrt(8.0 * _CHORD / max(radius, _CHORD))
    return tau / next((steps for steps in STEPS if steps >= wanted), STEPS[-1])


def fine_step(radius: float) -> float:
    """Stations for the outline of a cut face: no chord lies further than 0.02 mm from its arc."""
    return tau / (4 * max(STEPS[0] // 4, ceil(tau / 4.0 / sqrt(8.0 * _FINE / max(radius, _FINE)))))


def stations(start: float, sweep: float, step: float, grazed: Iterable[float] = ()) -> list[float]:
    """Angles along an arc: its ends, whole steps between them, and the grazed angles that fall within.

    Args:
        start: of the arc, rad.
        sweep: of the arc, rad, below 0 clockwise.
        step: between stations, rad.
        grazed: angles that must be among them, each with every whole turn more or less, rad.
    """
    low, high = sorted((start, start + sweep))
    wanted = [k * step for k in range(ceil(low / step), floor(high / step) + 1)]
    wanted += [a + tau * k for a in grazed for k in range(ceil((low - a) / tau), floor((high - a) / tau) + 1)]
    found = [low]
    for angle in sorted(wanted):
        if angle - found[-1] > _SAME_ANGLE and high - angle > _SAME_ANGLE:
            found.append(angle)
    found.append(high)
    return found if sweep > 0.0 else found[::-1]


def grazing(u: Vec, v: Vec) -> list[float]:
    """Where, round a circle in the plane of two unit vectors, a view along an axis of space grazes its cylinder."""
    found = []
    for axis in _AXES:
        p, q = dot(u, axis), dot(v, axis)
        if hypot(p, q) > _NEAR:
            found += [atan2(q, p) + pi / 2.0, atan2(q, p) - pi / 2.0]
    return found


Path = list[tuple[Point, Leg]]


def profile_path(outline: Outline, steps_of: Step = step_of) -> Path:
    """Points along a profile, each with the leg that goes on from it; what is nearly on the axis is on it."""
    return [((0.0 if abs(p[0]) < 1e-9 else p[0], p[1]), leg) for p, leg in outline_path(outline, steps_of)]


def outline_path(outline: Outline, steps_of: Step = step_of, grazed: Sequence[float] = ()) -> Path:
    """Points along an outline, with stations along its arcs, each with the leg that goes on from it."""
    return [
        (share_point(leg, share), leg)
        for leg in legs(outline)
        for share in leg_shares(leg, grazed, steps_of)[:-1]
    ]


def leg_shares(leg: Leg, grazed: Iterable[float], steps_of: Step) -> list[float]:
    """The stations of a leg as shares of its way."""
    if leg.bulge == 0.0:
        return [0.0, 1.0]
    arc = leg.arc()
    found = stations(arc.start, arc.sweep, steps_of(arc.radius), grazed)
    return [0.0, *((angle - arc.start) / arc.sweep for angle in found[1:-1]), 1.0]


def share_point(leg: Leg, share: float) -> Point:
    """The point of a leg at a share of its way."""
    if share in (0.0, 1.0):
        return leg.start if share == 0.0 else leg.end
    if leg.bulge == 0.0:
        (x0, y0), (x1, y1) = leg.start, leg.end
        return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
    return leg.arc().at(share)
