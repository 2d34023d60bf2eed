"""What a dome's shell holds as it is formed on flat-bent gores.

Level sections of such a form are regular polygons whose corners lie on the planes of the ribs, so the space between
two forms is that of their rib lines turned, times the share of such a polygon in its circle. Doorways are taken out by
the sections between their sides, summed over their height.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import atan2, cos, sin, sqrt, tau

from formwork.geometry.gores import polygon_share
from formwork.geometry.meridians import outlined
from formwork.geometry.outlines import Leg, Outline, box, moment
from formwork.geometry.prisms import Prism
from formwork.molds.dome.form import DomeForm, arcs
from formwork.molds.dome.gores import upper_end
from formwork.molds.dome.openings import half_width
from formwork.record import record
from formwork.shapes.piece import curved

_PANELS = 6
_LEVEL = 1e-9
_NODES = ((0.1834346424956498, 0.3626837833783620), (0.5255324099163290, 0.3137066458778873),
          (0.7966664774136267, 0.2223810344533745), (0.9602898564975363, 0.1012285362903763))  # fmt: skip
"""Gauss-Legendre, eight nodes. Source: Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4."""


@record
class Room:
    """Half a section through the axis of what a form holds, in the planes of its ribs.

    Attributes:
        inner: legs of its inside, from the foot up.
        outer: legs of its outside, from the foot up.
        closed: the crown is flat and closed by caps; else a curb stands round an oculus.
    """

    inner: tuple[Leg, ...]
    outer: tuple[Leg, ...]
    closed: bool

    def outline(self) -> Outline:
        """It as a closed path, counter-clockwise."""
        down = tuple(Leg(leg.end, leg.start, -leg.bulge) for leg in reversed(self.inner))
        if not self.closed:
            return outlined(self.outer, down)
        over, under = self.outer[-1].end[1], self.inner[-1].end[1]
        across = (Leg(self.outer[-1].end, (0.0, over), 0.0), Leg((0.0, under), self.inner[-1].end, 0.0))
        return outlined(self.outer, across, down)


def formed_room(form: DomeForm) -> Room:
    """What the shell as formed fills, from its own meridians."""
    inside, outside = form.shell.inside, form.outside
    return Room(
        arcs(inside, inside.springing, upper_end(form, "inner")),
        arcs(outside, outside.springing, upper_end(form, "outer")),
        form.closed,
    )


def formed_volume(form: DomeForm) -> float:
    """Concrete in the shell as formed: a polygon's share of the turned one, its doorways taken out, m3."""
    room = formed_room(form)
    doors = [one.body for one in curved(form.piece).formers if isinstance(one.body, Prism)]
    return held(room, form.count, form.turn, doors)


def held(room: Room, count: int, turn: float, doors: Sequence[Prism]) -> float:
    """Volume of a room formed on so many ribs, m3, less what doorways take out of it.

    Args:
        room: half a section in the plane of a rib.
        count: of ribs.
        turn: direction of one of them, rad.
        doors: outlines of doorways, from the axis outward.
    """
    whole = tau * moment(room.outline()) * polygon_share(count)
    return whole - sum(_taken(room, count, turn, door) for door in doors)


def _taken(room: Room, count: int, turn: float, door: Prism) -> float:
    """What a doorway takes out of the room: the level section between its sides, summed over its height.

    Under an arched head the height runs as a square, since its width ends as a square root.
    """
    _, (_, top) = box(door.outline)
    jamb = max(
        (y for (_, y), b in zip(door.outline.points, door.outline.bulges, strict=True) if b == 0.0),
        default=0.0,
    )
    jamb = max(jamb, min(y for _, y in door.outline.points))
    bearing = atan2(door.axis[1], door.axis[0])

    def section(z: float) -> float:
        half = half_width(door.outline, z)
        outer, inner = _radius(room, z, outside=True), _radius(room, z, outside=False)
        return _strip(outer, half, count, turn - bearing) - _strip(inner, half, count, turn - bearing)

    seat = room.outer[0].start[1]
    marks = sorted({0.0, min(max(jamb, 0.0), top), *((seat,) if _LEVEL < seat < top else ())})
    total: float = sum(_integrated(section, a, b) for a, b in pairwise(marks))
    low: float = marks[-1]

    def arched(s: float) -> float:
        return 2.0 * s * (top - low) * section(top - (top - low) * s * s)

    return total + (_integrated(arched, 0.0, 1.0) if top > low + 1e-12 else 0.0)


def _integrated(function: Callable[[float], float], low: float, high: float) -> float:
    half = (high - low) / _PANELS / 2.0
    return half * sum(
        weight * (function(middle + half * node) + function(middle - half * node))
        for middle in (low + (2 * i + 1) * half for i in range(_PANELS))
        for node, weight in _NODES
    )


def _radius(room: Room, z: float, *, outside: bool) -> float:
    """Distance from the axis of a room's inside or outside at a height; 0 above it."""
    legs = room.outer if outside else room.inner
    (r0, z0), (r1, z1) = room.inner[0].start, room.outer[0].start
    if outside and z1 - z0 > _LEVEL and z < z1:
        return r0 + (r1 - r0) * (z - z0) / (z1 - z0)
    for leg in legs:
        low, high = leg.start[1], leg.end[1]
        if low - 1e-12 <= z <= high + 1e-12:
            return _crossed(leg, z)
    return 0.0


def _crossed(leg: Leg, z: float) -> float:
    if leg.bulge == 0.0:
        (r0, z0), (r1, z1) = leg.start, leg.end
        return r0 + (r1 - r0) * (z - z0) / (z1 - z0)
    arc = leg.arc()
    return arc.centre[0] + sqrt(max(0.0, arc.radius**2 - (z - arc.centre[1]) ** 2))


def _strip(radius: float, half: float, count: int, turn: float) -> float:
    """Area of a regular polygon on one side of its middle between two lines along the way of a doorway, m2."""
    if radius <= 0.0 or half <= 0.0:
        return 0.0
    step = tau / count
    first = -turn / step
    corners = []
    for i in range(int(first - count / 4.0) - 2, int(first + count / 4.0) + 3):
        angle = turn + i * step
        corners.append((radius * sin(angle), radius * cos(angle)))
    area = 0.0
    for (y0, x0), (y1, x1) in pairwise(corners):
        low, high = max(y0, -half), min(y1, half)
        if high > low and x0 + x1 > 0.0:
            slope = (x1 - x0) / (y1 - y0)
            area += (high - low) * (x0 + slope * ((low + high) / 2.0 - y0))
    return area
