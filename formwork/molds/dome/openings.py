"""Openings of a dome, and what passes them when its form is taken out.

A box passes where two of its sides fit the opening, the third going ahead; that it can be turned inside the dome is
seen on the spot.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations
from math import cos, hypot, inf, pi, sin

from formwork.geometry.meridians import Meridian
from formwork.geometry.outlines import Leg, Outline, box, legs
from formwork.geometry.prisms import Prism
from formwork.record import record
from formwork.shapes.piece import Curved

Box = tuple[float, float, float]
_SAMPLES = 24
_THIN = 0.97
"""Share of an opening that a thin board may be wide (ours)."""


@record
class Opening:
    """A way out of a dome.

    Attributes:
        name: "oculus", "door 1".
        outline: as seen along the way through it; None for a round one.
        across: diameter of a round one, m.
    """

    name: str
    outline: Outline | None
    across: float = 0.0

    def passes(self, first: float, second: float) -> bool:
        """Whether a body of this width and height goes through."""
        if self.outline is None:
            return hypot(first, second) <= self.across
        _, (_, top) = box(self.outline)
        return second <= top and 2.0 * half_width(self.outline, second) >= first


def openings(form: Curved, squeeze: float) -> tuple[Opening, ...]:
    """The ways out of a dome as formed.

    Args:
        form: its geometry.
        squeeze: clear width of a polygon over the diameter of the circle through its corners.
    """
    shell = form.shell
    found = [Opening(one.name, one.body.outline) for one in form.formers if isinstance(one.body, Prism)]
    if shell is not None and shell.oculus > 0.0:
        found.append(Opening("oculus", None, 2.0 * shell.oculus * squeeze))
    return tuple(found)


def widest(ways: Sequence[Opening]) -> float:
    """Greatest width of a thin board that passes one of the openings, m; no limit where there are none."""
    return max((_width(way) for way in ways), default=inf)


def _width(way: Opening) -> float:
    if way.outline is None:
        return _THIN * way.across
    (x0, y0), (x1, y1) = box(way.outline)
    return _THIN * max(x1 - x0, y1 - y0)


def half_width(outline: Outline, height: float) -> float:
    """Half the clear width of a doorway at a height, its middle at x = 0, m; 0 where it is closed there."""
    return max((x for leg in legs(outline) for x in _crossed(leg, height)), default=0.0)


def _crossed(leg: Leg, height: float) -> Iterator[float]:
    """Where a leg passes a height."""
    (x0, z0), (x1, z1) = leg.start, leg.end
    if leg.bulge == 0.0:
        if min(z0, z1) <= height <= max(z0, z1):
            share = 0.5 if z0 == z1 else (height - z0) / (z1 - z0)
            yield max(x0, x1) if z0 == z1 else x0 + share * (x1 - x0)
        return
    arc = leg.arc()
    rise = height - arc.centre[1]
    if abs(rise) <= arc.radius and min(z0, z1) - 1e-12 <= height <= max(z0, z1) + 1e-12:
        reach = (arc.radius**2 - rise**2) ** 0.5
        low, high = sorted((x0, x1))
        yield from (
            x for x in (arc.centre[0] - reach, arc.centre[0] + reach) if low - 1e-9 <= x <= high + 1e-9
        )


def way_out(ways: Sequence[Opening], size: Box) -> str:
    """Name of the first opening that a box passes, any side ahead; empty where it passes none."""
    for way in ways:
        if any(way.passes(one, other) for one, other, _ in permutations(size)):
            return way.name
    return ""


def section_box(face: Meridian, depth: float, half: float) -> Box:
    """Length, width and depth of the box round a section of a form, laid along the chord of its rib.

    Args:
        face: meridian of the skin's face, between its springing and its upper end.
        depth: of skin and ribs together, m.
        half: half the angle that the section takes round the axis, rad.
    """
    inner = face.moved(-depth)
    turns = [face.oculus + (face.springing - face.oculus) * i / _SAMPLES for i in range(_SAMPLES + 1)]
    outside = [face.point(turn) for turn in turns]
    sides = [(r * cos(half), z) for r, z in (inner.point(turn) for turn in turns)]
    (r0, z0), (r1, z1) = outside[-1], outside[0]
    size = hypot(r1 - r0, z1 - z0)
    along = ((r1 - r0) / size, (z1 - z0) / size)
    points = [*outside, *sides]
    lengths = [r * along[0] + z * along[1] for r, z in points]
    depths = [z * along[0] - r * along[1] for r, z in points]
    widest = max(r for r, _ in outside)
    width = 2.0 * widest * (1.0 if half >= pi / 2.0 else sin(half))
    return max(lengths) - min(lengths), width, max(depths) - min(depths)
