"""Ribs of a dome's form, cut from sheet: how far a segment may turn, how many there are, how they nest.

A rib follows a meridian of the form; its segments end on normals of that meridian, so that they butt. What must fit
a sheet is the box round a segment laid with its chord along the sheet: the depth of the rib counts, not the sagitta
alone. Lengths in m, angles in rad.
"""

from __future__ import annotations

from math import acos, asin, atan2, ceil, cos, pi, sin, sqrt

from formwork.errors import GeometryError
from formwork.geometry.meridians import Meridian, outlined
from formwork.geometry.outlines import Outline, box, shifted, turned_by

_SMALL = 1e-9


def greatest_turn(radius: float, depth: float, width: float, length: float) -> float:
    """The most that one segment of a circular rib may turn, cut from a strip of sheet.

    Args:
        radius: of the rib's outer edge.
        depth: of the rib, radially.
        width: of the strip.
        length: of the strip.

    Returns:
        th = min(2 acos((R - W) / (R - d)), 2 asin(L / 2R)), rad; never more than half a turn.

    Raises:
        GeometryError: where the rib is deeper than the strip is wide, or than its own radius.

    Source: the chord of the outer edge is the segment's length, 2 R sin(th / 2); the height from the inner corners to
    the crown of the outer edge is its width, R - (R - d) cos(th / 2).
    """
    _refuse_deep(radius, depth, width)
    by_width = 2.0 * acos(max(0.0, (radius - width) / (radius - depth)))
    by_length = 2.0 * asin(min(1.0, length / (2.0 * radius)))
    return min(by_width, by_length, pi)


def _refuse_deep(radius: float, depth: float, width: float) -> None:
    if depth >= width:
        raise GeometryError(
            f"ribs {1000.0 * depth:.0f} mm deep do not fit a sheet {1000.0 * width:.0f} mm wide: less depth, or a "
            "wider sheet"
        )
    if depth >= radius:
        raise GeometryError(
            f"ribs {1000.0 * depth:.0f} mm deep are deeper than the {1000.0 * radius:.0f} mm they turn on"
        )


def box_of_segment(radius: float, depth: float, turn: float) -> tuple[float, float]:
    """Length and width of the box round a segment of a circular rib laid with its chord along the sheet.

    Args:
        radius: of the outer edge.
        depth: of the rib.
        turn: of the segment, up to half a turn.

    >>> length, width = box_of_segment(60.0, 4.0, greatest_turn(60.0, 4.0, 12.0, 96.0))
    >>> round(length, 3), round(width, 3)
    (61.809, 12.0)
    """
    return 2.0 * radius * sin(turn / 2.0), radius - (radius - depth) * cos(turn / 2.0)


def segment_count(turn: float, greatest: float) -> int:
    """How many equal segments make a rib that turns so far."""
    return max(1, ceil(turn / greatest - _SMALL))


def nesting_pitch(radius: float, depth: float, turn: float) -> float:
    """Distance from one segment to the next, laid one above another so that they touch; add the kerf.

    Args:
        radius: of the outer edge.
        depth: of the rib.
        turn: of the segment, up to half a turn.

    Returns:
        sqrt(R2 - x2) - (R - d) cos(th / 2), with x = (R - d) sin(th / 2), m.

    Source: the inner corners of one segment rest on the outer edge of the next.
    """
    reach = (radius - depth) * sin(turn / 2.0)
    return sqrt(radius * radius - reach * reach) - (radius - depth) * cos(turn / 2.0)


def nested(width: float, box_width: float, pitch: float) -> int:
    """How many segments nest in a sheet of this width, each further one a pitch higher."""
    return 0 if box_width > width + _SMALL else 1 + int((width - box_width + _SMALL) / pitch)


def sagitta(radius: float, chord: float) -> float:
    """Rise of an arc over its chord: R - sqrt(R2 - c2 / 4), m; c2 / 8R reads low on a tight curve.

    >>> round(sagitta(72.0, 40.0), 5)
    2.83353
    """
    return radius - sqrt(radius * radius - chord * chord / 4.0)


def rib_count(widest: float, spacing: float) -> int:
    """How many ribs stand round a circle of radius ``widest``, no further apart than a spacing: a multiple of 4.

    >>> rib_count(1.5, 0.4)
    24
    """
    return 4 * max(2, ceil(2.0 * pi * widest / spacing / 4.0 - _SMALL))


def ring_radius(ribs: int, thickness: float) -> float:
    """Least radius of the ring or hub on which so many ribs end side by side: N t / 2 pi, m."""
    return ribs * thickness / (2.0 * pi)


def hoop_length(radius: float, ribs: int, thickness: float) -> float:
    """Length of a straight purlin between two ribs, long points, its ends on the ribs' sides, m.

    Args:
        radius: of the ribs' outer edges at that level.
        ribs: all round.
        thickness: of a rib.
    """
    half = pi / ribs
    return 2.0 * radius * sin(half) - thickness / cos(half)


def bow(radius: float, ribs: int) -> float:
    """How far the middle of a flat facet between two ribs lies inside the circle through the ribs, m.

    >>> round(bow(72.0, 24), 3)
    0.616
    """
    return radius * (1.0 - cos(pi / ribs))


def segment(outer: Meridian, depth: float, low: tuple[float, float], high: tuple[float, float]) -> Outline:
    """A segment of a rib in the plane of its meridian, (r, z), outer edge first, upward.

    Args:
        outer: the rib's outer edge.
        depth: how far its inner edge runs inside.
        low: polar angles of its lower end, on the outer and on the inner edge; equal where it is cut on a normal.
        high: those of its upper end.
    """
    inner = outer.moved(-depth)
    return outlined(outer.traced(low[0], high[0]), inner.traced(high[1], low[1]))


def laid(outline: Outline, first: int, last: int) -> tuple[Outline, float]:
    """An outline turned so that the line between two of its corners lies along x, in the corner of its box.

    Returns:
        The outline as it lies on the sheet, and the angle it was turned by.
    """
    (x0, y0), (x1, y1) = outline.points[first], outline.points[last]
    angle = -atan2(y1 - y0, x1 - x0)
    lying = turned_by(outline, angle)
    low, _ = box(lying)
    return shifted(lying, (-low[0], -low[1])), angle
