"""Bodies cut by a level plane: how much of one lies below a height. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import acos, pi, sqrt

from formwork.geometry.cells import Cell, plan_area
from formwork.geometry.outlines import Outline, area, flattened
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec

Body = Cell | Round | Turned | Prism
_CHORD = 1e-5
"""Arcs are cut as chords no further from them than this, m."""
_UPRIGHT = 1.0 - 1e-12
_SLICES = 64
"""Slices of a body that leans, an even number for Simpson's rule."""


def below(body: Body, height: float) -> float:
    """Volume of the part of a body that lies below a height, m3.

    A cell is cut exactly; arcs are taken as fine chords, and a prism or a round that leans in slices across its axis,
    both brought to the whole volume of the body.

    >>> round(below(Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 3.0, 2.0, 1.0), 3.0), 6)
    21.991149
    """
    match body:
        case Cell():
            return sum(_under(polygon, height) for polygon in body.facets.values())
        case Turned():
            return _turned(body, height)
        case Prism():
            return _prism(body, height)
        case Round():
            return _round(body, height)


def _under(polygon: Sequence[Vec], height: float) -> float:
    """A facet's share of the volume below a height: the flow of (0, 0, z - height) through what of it lies below.

    Source: divergence theorem; nothing flows through the level cut itself.
    """
    kept = _clipped([(*corner, corner[2] - height) for corner in polygon])
    if len(kept) < 3:
        return 0.0
    first = kept[0]
    return sum(
        ((b[0] - first[0]) * (c[1] - first[1]) - (c[0] - first[0]) * (b[1] - first[1]))
        * (first[3] + b[3] + c[3])
        / 6.0
        for b, c in pairwise(kept[1:])
    )


def _clipped(corners: Sequence[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """What of a polygon lies where the last number of its corners is not above 0."""
    kept: list[tuple[float, ...]] = []
    for before, corner in pairwise((corners[-1], *corners)):
        if (before[-1] > 0.0) != (corner[-1] > 0.0):
            share = before[-1] / (before[-1] - corner[-1])
            kept.append(tuple(a + share * (b - a) for a, b in zip(before, corner, strict=True)))
        if corner[-1] <= 0.0:
            kept.append(corner)
    return kept


def _turned(body: Turned, height: float) -> float:
    corners = flattened(body.profile, _CHORD)
    whole = _first_moment(corners)
    kept = _clipped([(r, z, z - height) for r, z in corners])
    return body.volume() * _first_moment(kept) / whole if len(kept) > 2 else 0.0


def _first_moment(corners: Sequence[Sequence[float]]) -> float:
    """First moment of a polygon about the axis, m3: the integral of r over it."""
    return sum(
        (a[0] * b[1] - b[0] * a[1]) * (a[0] + b[0]) for a, b in pairwise((*corners, corners[0]))
    ) / 6.0  # fmt: skip


def _prism(body: Prism, height: float) -> float:
    lean, foot = body.axis[2], body.origin[2]
    if abs(lean) > _UPRIGHT:
        share = min(1.0, max(0.0, lean * (height - foot) / body.height))
        part = body.height * share * _simpson([_open(body, share * k / 2.0) for k in range(3)])
        return part if lean > 0.0 else body.volume() - part
    whole = _simpson([_open(body, k / _SLICES) for k in range(_SLICES + 1)])
    part = _simpson([_slice(body, k / _SLICES, height) for k in range(_SLICES + 1)])
    return body.volume() * part / whole


def _open(body: Prism, share: float) -> float:
    return area(body.at(share)) - sum(area(one) for one in body.openings_at(share))


def _slice(body: Prism, share: float, height: float) -> float:
    """Area below a height of a leaning prism's section at a share of its own height."""
    level = body.origin[2] + body.axis[2] * body.height * share - height

    def cut(outline: Outline) -> float:
        kept = _clipped(
            [(x, y, level + body.along[2] * x + body.across[2] * y) for x, y in flattened(outline, _CHORD)]
        )
        return abs(plan_area(tuple((x, y, 0.0) for x, y, _ in kept))) if len(kept) > 2 else 0.0

    return cut(body.at(share)) - sum(cut(one) for one in body.openings_at(share))


def _round(body: Round, height: float) -> float:
    rise = body.axis[2]
    if abs(rise) > _UPRIGHT:
        share = min(1.0, max(0.0, rise * (height - body.foot[2]) / body.length))
        at = body.foot_radius + share * (body.head_radius - body.foot_radius)
        part = Round(body.foot, body.axis, share * body.length, body.foot_radius, at).volume()
        return part if rise > 0.0 else body.volume() - part
    across = sqrt(1.0 - rise * rise)

    def disc(share: float) -> float:
        radius = body.foot_radius + share * (body.head_radius - body.foot_radius)
        reach = (height - body.foot[2] - rise * body.length * share) / (across * radius)
        return radius * radius * _segment(reach)

    return body.length * _simpson([disc(k / _SLICES) for k in range(_SLICES + 1)])


def _segment(reach: float) -> float:
    """Area of a unit disc on the near side of a chord so far beyond its middle, m2."""
    reach = min(1.0, max(-1.0, reach))
    return pi - acos(reach) + reach * sqrt(1.0 - reach * reach)


def _simpson(values: Sequence[float]) -> float:
    """Mean of a function between the ends of its range, given at an odd number of even places."""
    last = len(values) - 1
    return (values[0] + values[-1] + 4.0 * sum(values[1:-1:2]) + 2.0 * sum(values[2:-1:2])) / (3.0 * last)
