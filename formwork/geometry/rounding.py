"""Corners of an outline rounded with a radius. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from math import tan

from formwork.geometry.crossings import direction
from formwork.geometry.joined import Flaw, FlawError
from formwork.geometry.offsets import SMOOTH, turn
from formwork.geometry.outlines import Leg, Outline, Point, legs


def rounded(outline: Outline, radii: Sequence[float]) -> Outline:
    """An outline with an arc at every corner that has a radius.

    Args:
        outline: as its corners say.
        radii: of each corner; 0 where it stays sharp.

    Raises:
        FlawError: where an arc has no room, or a corner lies beside an arc.
    """
    some = list(legs(outline))
    cuts = [_cut(some[i - 1], leg, radius) for i, (leg, radius) in enumerate(zip(some, radii, strict=True))]
    points: list[Point] = []
    bulges: list[float] = []
    for i, leg in enumerate(some):
        before, after = cuts[i], cuts[(i + 1) % len(some)]
        if leg.bulge == 0.0 and before + after > leg.chord + 1e-9:
            raise FlawError(Flaw("the roundings of two corners need more than the edge between them, from",
                                 (leg.start, leg.end)))  # fmt: skip
        if before > 0.0:
            points += [_along(some[i - 1], -before), _along(leg, before)]
            bulges += [tan(turn(some[i - 1], leg) / 4.0), leg.bulge]
        else:
            points.append(leg.start)
            bulges.append(leg.bulge)
    return _without_empty(Outline(tuple(points), tuple(bulges)))


def _cut(before: Leg, after: Leg, radius: float) -> float:
    """What a rounding takes off each leg at its corner."""
    if radius == 0.0:
        return 0.0
    if before.bulge != 0.0 or after.bulge != 0.0:
        raise FlawError(
            Flaw("only a corner between two straight edges can be rounded, not that at", (after.start,))
        )
    angle = abs(turn(before, after))
    if angle < SMOOTH:
        raise FlawError(Flaw("there is no corner to round at", (after.start,)))
    return radius * tan(angle / 2.0)


def _along(leg: Leg, way: float) -> Point:
    """A point of a straight leg: so far from its start, or from its end where the way is below 0."""
    ux, uy = direction(leg)
    x, y = leg.start if way > 0.0 else leg.end
    return (x + way * ux, y + way * uy)


def _without_empty(outline: Outline) -> Outline:
    """The outline without straight legs of no length: where two roundings meet."""
    kept = [(leg.start, leg.bulge) for leg in legs(outline) if leg.chord > 1e-9]
    return Outline(tuple(point for point, _ in kept), tuple(bulge for _, bulge in kept))
