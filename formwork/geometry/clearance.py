"""How near outlines come to one another, and where inside one there is most room. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from formwork.geometry.crossings import encloses
from formwork.geometry.outlines import Leg, Outline, Point, box, flattened, legs

_FINE = 5e-4
_ACROSS = 16


def reach(leg: Leg, point: Point) -> tuple[float, Point]:
    """Distance of a point from a straight leg, and the point of the leg that is nearest."""
    (ax, ay), (bx, by) = leg.start, leg.end
    ux, uy = bx - ax, by - ay
    size = ux * ux + uy * uy
    share = 0.0 if size == 0.0 else max(0.0, min(1.0, ((point[0] - ax) * ux + (point[1] - ay) * uy) / size))
    near = (ax + share * ux, ay + share * uy)
    return hypot(point[0] - near[0], point[1] - near[1]), near


def gap(one: Outline, other: Outline) -> tuple[float, Point]:
    """Least distance between two outlines, to half a millimetre, and where on the first."""
    mine, theirs = _chords(one), _chords(other)
    found = [(reach(leg, chord.start)[0], chord.start) for chord in mine for leg in theirs]
    found += [reach(leg, chord.start) for chord in theirs for leg in mine]
    return min(found)


def roomiest(outline: Outline, holes: Sequence[Outline]) -> Point:
    """A place inside an outline, outside its holes, far from both: the best of a fine grid."""
    (x0, y0), (x1, y1) = box(outline)
    every = [chord for one in (outline, *holes) for chord in _chords(one)]
    best = (-1.0, (0.0, 0.0))
    for i in range(1, _ACROSS):
        for j in range(1, _ACROSS):
            place = (x0 + (x1 - x0) * i / _ACROSS, y0 + (y1 - y0) * j / _ACROSS)
            if encloses(outline, place) and not any(encloses(hole, place) for hole in holes):
                best = max(best, (min(reach(chord, place)[0] for chord in every), place))
    return best[1]


def _chords(outline: Outline) -> list[Leg]:
    points = flattened(outline, _FINE)
    return list(legs(Outline(points, (0.0,) * len(points))))
