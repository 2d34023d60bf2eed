"""Where ribs stand in a core: evenly, but clear of what is screwed to the cap from inside. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from formwork.geometry.vectors import Vec, dot
from formwork.molds.mold import Part

DRIVER = 0.020
"""Room for a screwdriver between a rib's face and the screw of a plug, m (common practice, no source)."""
_MORE_BAYS = 3


def even(width: float, bays: int) -> tuple[float, ...]:
    """Middles of the ribs between equal bays, from the middle of the core."""
    return tuple(width * i / bays - width / 2.0 for i in range(1, bays))


def gaps(width: float, middles: Sequence[float]) -> tuple[float, ...]:
    """Spans of a wall between its ends and the ribs behind it."""
    return tuple(b - a for a, b in pairwise((-width / 2.0, *sorted(middles), width / 2.0)))


def clear(width: float, bays: int, span: float, screws: Sequence[float], room: float) -> tuple[float, ...]:
    """Middles of as few ribs as carry the wall and stand clear of every screw; evenly where that cannot be.

    Args:
        width: between the middles of the walls that the ribs stand between.
        bays: that carry the wall.
        span: the greatest that it bears; without end where the person said how many ribs.
        screws: where they are, from the middle of the core.
        room: least distance of a rib's middle from one.
    """
    most = 1 if span == float("inf") else _MORE_BAYS
    for count in range(bays, bays + most):
        found = tuple(_beside(one, screws, room) for one in even(width, count))
        free = all(abs(one - screw) >= room - 1e-9 for one in found for screw in screws)
        if (
            free
            and max(gaps(width, found)) <= max(span, width / bays) + 1e-9
            and len(set(found)) == len(found)
        ):
            return found
    return even(width, bays)


def _beside(place: float, screws: Sequence[float], room: float) -> float:
    """The nearest place that is clear of the screw that stands in the way; the further left of equal ones."""
    near = min(screws, key=lambda screw: (abs(screw - place), screw), default=None)
    if near is None or abs(near - place) >= room:
        return place
    return min((near - room, near + room), key=lambda one: (round(abs(one - place), 9), one))


def middle_along(part: Part, along: Vec) -> float:
    """Where the middle of a part lies along a way."""
    reach = [dot(along, point) for cell in part.cells for point in cell.points()]
    return (min(reach) + max(reach)) / 2.0
