"""What of an outline no fence guides the saw along: arcs, points that stand for a curve, inner corners, slants."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, pi

from formwork.geometry.outlines import Leg, Outline, Point, legs

BEND = 15.0 * pi / 180.0
"""Straight edges that bend by less than this (rad, 15 degrees) from one to the next run on as one curve (ours)."""
_STRAIGHT_ON = 1e-6
"""Edges that bend by less than this (rad) run straight on but for floating point."""
_NO_CORNER = 0.05 * pi / 180.0
"""An inner corner of less than this (rad) is none: a metre from it it is not yet a millimetre."""
_ROUND = 1e-4
"""Radii nearer to one another than this, m, are one radius."""
_SQUARE = 1e-3
"""An edge that strays no more than this over its length, m, is square to the blank: there is nothing to gain by it."""
ONE_ARC = 4
"""A curve of more arcs than this has no radius that a trammel could strike; a circle has four."""
_MANY = 2
"""More radii than this that curve one way are pieces of one curve."""


def curved(along: Sequence[Leg]) -> list[bool]:
    """Which legs of an outline belong to a curve: arcs, and straight ones among three or more that bend but little."""
    bends = [_bends_little(one, leg) for one, leg in zip((along[-1], *along[:-1]), along, strict=True)]
    twice = [here and then for here, then in zip(bends, (*bends[1:], bends[0]), strict=True)]
    near = zip((twice[-1], *twice[:-1]), twice, (*twice[1:], twice[0]), strict=True)
    return [leg.bulge != 0.0 or any(close) for leg, close in zip(along, near, strict=True)]


def arcs_of_one_curve(along: Sequence[Leg]) -> list[list[int]]:
    """The arcs of an outline by number: those of one radius and way together, all of one way if radii are many."""
    arcs: dict[bool, dict[int, list[int]]] = {}
    for number, leg in enumerate(along):
        if leg.bulge:
            ways = arcs.setdefault(leg.bulge > 0.0, {})
            ways.setdefault(round(leg.arc().radius / _ROUND), []).append(number)
    found: list[list[int]] = []
    for radii in arcs.values():
        many = len(radii) > _MANY
        found += [[number for numbers in radii.values() for number in numbers]] if many else radii.values()
    return found


def told(along: Sequence[Leg]) -> frozenset[int]:
    """The legs that words stand beside: of a curve of many arcs its ends and its middle alone."""
    left_out: set[int] = set()
    for numbers in arcs_of_one_curve(along):
        if len(numbers) > ONE_ARC:
            left_out |= {*numbers} - {numbers[0], numbers[len(numbers) // 2], numbers[-1]}
    return frozenset(range(len(along))) - left_out


def by_jigsaw(outline: Outline) -> bool:
    """Whether straight through cuts do not make it: it has a curve or an inner corner."""
    along = list(legs(outline))
    return any(curved(along)) or any(
        _turn(one, leg) < -_NO_CORNER for one, leg in zip((along[-1], *along[:-1]), along, strict=True)
    )


def aslant(outline: Outline) -> bool:
    """Whether an edge of it runs neither along its blank nor across it."""
    return any(
        min(abs(leg.end[0] - leg.start[0]), abs(leg.end[1] - leg.start[1])) > _SQUARE for leg in legs(outline)
    )


def _bends_little(before: Leg, leg: Leg) -> bool:
    """Two straight legs meet at a slight bend, and do not run straight on."""
    return not (before.bulge or leg.bulge) and _STRAIGHT_ON < abs(_turn(before, leg)) < BEND


def _turn(before: Leg, leg: Leg) -> float:
    """From the chord of one leg to that of the next, rad, above 0 to the left."""
    (ax, ay), (bx, by) = _way(before), _way(leg)
    return atan2(ax * by - ay * bx, ax * bx + ay * by)


def _way(leg: Leg) -> Point:
    return leg.end[0] - leg.start[0], leg.end[1] - leg.start[1]
