"""From a blank's outline and bevels to saw settings: mitre and blade tilt of each straight edge, both from square.

A curved edge has no mitre to set: it is cut to the full-size template with a jigsaw or a band saw, whose blade may
still tilt. Edges that bend from one to the next by little, as those of a pattern told by ordinates do, are a curve too.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, hypot, pi, tan, tau

from formwork.cutting.curves import arcs_of_one_curve, curved
from formwork.cutting.drops import as_circle
from formwork.geometry.outlines import Point, legs
from formwork.molds.mold import Blank
from formwork.record import record

SQUARE = 0.25 * pi / 180.0
"""A blade tilted less than this (rad, 0.25 degrees) is left square: no shop saw tilts more finely, and the joint opens
by less than a tenth of a millimetre in the thickness of a sheet (ours)."""
ALONG = 0.05 * pi / 180.0
"""A mitre below this (rad, 0.05 degrees) is none; along a metre of edge it is not yet a millimetre."""

_FEWEST_SIDES = 5
_EQUAL = 1e-4
"""Edges of a regular polygon differ by less than this share."""
_ONE_CENTRE = 1e-5
"""Circles whose centres differ by less than this, m, are a ring's."""


@record
class EdgeCut:
    """How one straight edge of a blank is cut.

    Attributes:
        place: which edge it is, seen on the outline face with the grain lying left to right.
        length: of the edge on the outline face, m.
        mitre: angle of an end from square with the grain, of a side from the grain, rad; never negative.
        tilt: angle of the blade from square, rad; positive where the far face is the smaller one.
    """

    place: str
    length: float
    mitre: float
    tilt: float

    @property
    def square(self) -> bool:
        """Neither mitre nor tilt need be set."""
        return self.mitre < ALONG and abs(self.tilt) < SQUARE


@record
class CurveCut:
    """A curve that a blank's outline runs along.

    Attributes:
        place: which it is.
        radii: least and greatest radius of its arcs, m; 0 where it is no arc of a circle.
        tilts: least and greatest tilt of the blade along it, rad; as for a straight edge.
    """

    place: str
    radii: tuple[float, float]
    tilts: tuple[float, float]


def edge_cuts(blank: Blank) -> tuple[EdgeCut, ...]:
    """Every straight edge of the outline, in the outline's order; all lengths in m, angles in rad."""
    along = list(legs(blank.edge))
    bent = curved(along)
    return tuple(
        _edge(leg.start, leg.end, tilt)
        for leg, curve, tilt in zip(along, bent, blank.bevels, strict=True)
        if not curve
    )


def curve_cuts(blank: Blank) -> tuple[CurveCut, ...]:
    """The curves of a blank, those of one radius together, what is no arc of a circle last.

    Where more than two radii curve one way, they are pieces of one curve.
    """
    if regular_sides(blank):
        return ()
    along = list(legs(blank.edge))
    bent = curved(along)
    found = []
    for numbers in arcs_of_one_curve(along):
        radii = [along[number].arc().radius for number in numbers]
        outward = along[numbers[0]].bulge > 0.0
        place = "all round" if len(numbers) == len(along) else "outer curve" if outward else "inner curve"
        found.append(CurveCut(place, (min(radii), max(radii)), _tilts(blank, numbers)))
    free = [number for number, leg in enumerate(along) if bent[number] and not leg.bulge]
    if free:
        found.append(CurveCut("curve through the points", (0.0, 0.0), _tilts(blank, free)))
    return tuple(found)


def struck_radii(blank: Blank) -> tuple[float, ...]:
    """Outer and inner radius of a disc or a flat ring, m, which a trammel strikes; empty for what is neither."""
    circles = [as_circle(one) for one in (blank.edge, *blank.openings)]
    found = [one for one in circles if one is not None]
    if blank.holes or len(found) < len(circles) or len(circles) > 2:
        return ()
    (x, y), _ = found[0]
    if any(hypot(one[0][0] - x, one[0][1] - y) > _ONE_CENTRE for one in found):
        return ()
    return tuple(radius for _, radius in found)


def regular_sides(blank: Blank) -> int:
    """How many sides a blank has that is a regular polygon of five or more, every edge tilted alike; else 0."""
    along = list(legs(blank.edge))
    if len(along) < _FEWEST_SIDES or any(leg.bulge for leg in along):
        return 0
    ways = [atan2(leg.end[1] - leg.start[1], leg.end[0] - leg.start[0]) for leg in along]
    turns = [(way - ways[i - 1]) % tau for i, way in enumerate(ways)]
    even = max(turns) - min(turns) < ALONG and max(blank.bevels) - min(blank.bevels) < ALONG
    long = [leg.chord for leg in along]
    return len(along) if even and max(long) - min(long) < _EQUAL * max(long) else 0


def _tilts(blank: Blank, numbers: Sequence[int]) -> tuple[float, float]:
    tilts = [blank.bevels[number] for number in numbers]
    return min(tilts), max(tilts)


def _edge(a: Point, b: Point, tilt: float) -> EdgeCut:
    run, rise = b[0] - a[0], b[1] - a[1]
    end = abs(rise) > abs(run)
    mitre = atan2(abs(run), abs(rise)) if end else atan2(abs(rise), abs(run))
    return EdgeCut(_place(run, rise, end), hypot(run, rise), mitre, tilt)


def _place(run: float, rise: float, end: bool) -> str:
    """The outline runs counter-clockwise, so what lies outside an edge lies to its right."""
    if end:
        return "right end" if rise > 0.0 else "left end"
    return "lower edge" if run > 0.0 else "upper edge"


def settings(blank: Blank) -> tuple[tuple[str, float, float], ...]:
    """The straight edges that are not square: places, mitre and tilt (rad), equal settings taken together.

    Two edges share a setting where both angles differ by less than a saw can tell. Of a regular polygon the mitre is
    half of what the edge turns by at each corner.
    """
    sides = regular_sides(blank)
    if sides:
        return ((f"all {sides} equal edges, at each corner", pi / sides, blank.bevels[0]),)
    found: list[tuple[list[str], float, float]] = []
    for cut in edge_cuts(blank):
        if cut.square:
            continue
        for places, mitre, tilt in found:
            if abs(mitre - cut.mitre) < ALONG and _tilted_alike(tilt, cut.tilt):
                places.append(cut.place)
                break
        else:
            found.append(([cut.place], cut.mitre, cut.tilt))
    return tuple((_together(places), mitre, tilt) for places, mitre, tilt in found)


def _tilted_alike(one: float, other: float) -> bool:
    """Both are left square, or neither is and no saw could tell them apart."""
    square = abs(one) < SQUARE, abs(other) < SQUARE
    return all(square) or (not any(square) and abs(one - other) < ALONG)


def left_open(blank: Blank) -> float:
    """The most by which a joint of this blank opens, m, because tilts too small to set are left square."""
    small = (abs(tilt) for tilt in blank.bevels if abs(tilt) < SQUARE)
    return blank.thickness * tan(max(small, default=0.0))


def _together(places: list[str]) -> str:
    """``left end and right end`` as ``both ends``; repeated names once."""
    once = list(dict.fromkeys(places))
    pairs = {"ends": {"left end", "right end"}, "edges": {"lower edge", "upper edge"}}
    if len(once) == 4:
        return "all edges"
    for word, pair in pairs.items():
        if pair <= set(once):
            return " and ".join([f"both {word}", *(place for place in once if place not in pair)])
    return " and ".join(once)
