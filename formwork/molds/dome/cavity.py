"""What the parts of a dome's form enclose, from the parts alone, and every bay in which the mix would run out.

The lines that the skin follows are taken off the ribs as they stand, its thickness off its blanks, its ends off the
boards that close it, the doorways off their templates. Nothing here knows the dome's own meridians, except for the
outside of an open form, which is struck off.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin, sqrt, tan, tau

from formwork.geometry.outlines import Leg, Point
from formwork.molds.dome.doors import TEMPLATE, doorway
from formwork.molds.dome.form import DomeForm, Side
from formwork.molds.dome.formed import Room, formed_room, held
from formwork.molds.dome.gores import upper_end
from formwork.molds.dome.ribs import carried, segments_of
from formwork.molds.mold import Part
from formwork.record import record

_CLOSE = 1e-6


@record
class Enclosed:
    """What the parts enclose: its volume, m3, and every way out as a line."""

    volume: float
    leaks: tuple[str, ...]


def enclosed(form: DomeForm, parts: Sequence[Part]) -> Enclosed:
    """The cavity from the parts: rib lines, skin, boards and caps; the outside of an open form is struck off."""
    leaks = [line for side in form.sides for line in _open_bays(form, parts, side)]
    lines = {side: _line(parts, side) for side in form.sides}
    missing = [side for side, line in lines.items() if not line]
    if missing:
        return Enclosed(0.0, (*leaks, *(f"no rib of the {side} form reaches the crown" for side in missing)))
    seat = _seat(parts)
    end = _crown_radius(form, parts)
    inner = _trimmed(lines["inner"], seat, end)
    outer = _trimmed(lines["outer"], seat, end) if form.fluid else formed_room(form).outer
    caps = {side: _cap_level(parts, side) for side in form.sides}
    if form.closed:
        inner = _levelled(inner, caps["inner"])
        outer = _levelled(outer, caps.get("outer"))
    count = sum(one.role == "base" for one in parts)
    doors = [doorway(one) for one in parts if one.name.endswith(TEMPLATE)]
    volume = held(Room(inner, outer, form.closed), count, form.turn, doors)
    return Enclosed(volume, tuple(dict.fromkeys(leaks)))


def _line(parts: Sequence[Part], side: Side) -> tuple[Leg, ...]:
    """The face of the skin over a whole rib, from the foot up: the bevelled edge of its ply, and the skin on it."""
    skin = next((one.layers * one.blank.thickness for one in parts if one.role == "skin"), 0.0)
    by_ply: dict[str, list[Leg]] = defaultdict(list)
    for part in segments_of(parts, side):
        body = part.prisms[0]
        level = hypot(body.origin[0], body.origin[1])
        if level > body.height + 1e-9:
            continue
        for leg, by in carried(body):
            moved = by if level > 1e-9 else 0.0
            near = Leg((leg.start[0] + moved, leg.start[1]), (leg.end[0] + moved, leg.end[1]), leg.bulge)
            by_ply[part.name.split(" segment")[0]].append(_upward(near))
    whole = [
        line
        for line in (sorted(legs, key=lambda one: one.start[1]) for legs in by_ply.values())
        if _joined(line)
    ]
    if not whole:
        return ()
    low = min(line[0].start[1] for line in whole)
    full = [line for line in whole if line[0].start[1] < low + _CLOSE]
    best = max(full, key=lambda line: line[-1].end[1])
    return tuple(_offset(leg, skin if side == "inner" else -skin) for leg in best)


def _upward(leg: Leg) -> Leg:
    return leg if leg.end[1] >= leg.start[1] else Leg(leg.end, leg.start, -leg.bulge)


def _joined(line: Sequence[Leg]) -> bool:
    return all(hypot(a.end[0] - b.start[0], a.end[1] - b.start[1]) < _CLOSE for a, b in pairwise(line))


def _offset(leg: Leg, by: float) -> Leg:
    """A leg moved along its normals, away from the axis where ``by`` is above 0."""
    (r0, z0), (r1, z1) = leg.start, leg.end
    if leg.bulge == 0.0:
        size = hypot(r1 - r0, z1 - z0)
        nr, nz = (z1 - z0) / size * by, (r0 - r1) / size * by
        return Leg((r0 + nr, z0 + nz), (r1 + nr, z1 + nz), 0.0)
    (cr, cz), share = leg.arc().centre, 1.0 + by / leg.arc().radius
    return Leg(
        (cr + share * (r0 - cr), cz + share * (z0 - cz)),
        (cr + share * (r1 - cr), cz + share * (z1 - cz)),
        leg.bulge,
    )


def _seat(parts: Sequence[Part]) -> tuple[Point, Point]:
    """The line on which the shell stands, off the upper face of the boards: from its inner to its outer edge."""
    body = next(one for one in parts if one.role == "base").cells[0]
    rim = sorted({(round(hypot(x, y), 12), z) for x, y, z in body.points()})
    inner = max(rim[:2], key=lambda p: p[1])
    outer = max(rim[2:], key=lambda p: p[1])
    return inner, outer


def _crown_radius(form: DomeForm, parts: Sequence[Part]) -> float:
    """Where the skin ends at the crown: at the corners of the cap, or of the curb's outer faces."""
    if form.closed:
        cap = next(one for one in parts if one.name == "inner crown cap").prisms[0]
        return max(hypot(x, y) for x, y in cap.outline.points)
    boards = [one for one in parts if one.name.startswith("curb board")]
    return max(hypot(x, y) for x, y, _ in boards[0].cells[0].points())


def _cap_level(parts: Sequence[Part], side: Side) -> float | None:
    cap = next((one.prisms[0] for one in parts if one.name == f"{side} crown cap"), None)
    if cap is None:
        return None
    return cap.origin[2] + (cap.height if side == "inner" else 0.0)


def _levelled(legs: tuple[Leg, ...], level: float | None) -> tuple[Leg, ...]:
    """Legs that end at the height of a cap."""
    if level is None:
        return legs
    last = legs[-1]
    return (*legs[:-1], Leg(last.start, (last.end[0], level), last.bulge))


def _trimmed(legs: Sequence[Leg], seat: tuple[Point, Point], end: float) -> tuple[Leg, ...]:
    """Legs carried on, or cut off, at the line that they stand on and at the radius where they end."""
    first, last = legs[0], legs[-1]
    start = _on_line(first, seat)
    made = [Leg(start, first.end, _bulge(first, start, first.end)), *legs[1:]]
    last = made[-1]
    stop = _on_radius(last, end)
    made[-1] = Leg(last.start, stop, _bulge(last, last.start, stop))
    return tuple(made)


def _bulge(leg: Leg, start: Point, end: Point) -> float:
    """The bulge of the circle of a leg between two points on it."""
    if leg.bulge == 0.0:
        return 0.0
    (cr, cz) = leg.arc().centre
    a, b = (atan2(z - cz, r - cr) for r, z in (start, end))
    return tan((b - a) / 4.0)


def _on_line(leg: Leg, line: tuple[Point, Point]) -> Point:
    """Where a leg's circle meets a line, nearest to the leg's start."""
    (ar, az), (br, bz) = line
    dr, dz = br - ar, bz - az
    size = hypot(dr, dz)
    dr, dz = dr / size, dz / size
    if leg.bulge == 0.0:
        (r0, z0), (r1, z1) = leg.start, leg.end
        share = ((ar - r0) * dz - (az - z0) * dr) / ((r1 - r0) * dz - (z1 - z0) * dr)
        return r0 + share * (r1 - r0), z0 + share * (z1 - z0)
    (cr, cz), radius = leg.arc().centre, leg.arc().radius
    along = (cr - ar) * dr + (cz - az) * dz
    off = hypot(cr - ar - along * dr, cz - az - along * dz)
    reach = sqrt(max(0.0, radius * radius - off * off))
    found = [(ar + (along + s) * dr, az + (along + s) * dz) for s in (-reach, reach)]
    return min(found, key=lambda p: hypot(p[0] - leg.start[0], p[1] - leg.start[1]))


def _on_radius(leg: Leg, radius: float) -> Point:
    """Where a leg's circle meets an upright line at a distance from the axis, its upper side."""
    if leg.bulge == 0.0:
        (r0, z0), (r1, z1) = leg.start, leg.end
        return radius, z0 + (radius - r0) / (r1 - r0) * (z1 - z0)
    (cr, cz), size = leg.arc().centre, leg.arc().radius
    return radius, cz + sqrt(size * size - (radius - cr) ** 2)


def _open_bays(form: DomeForm, parts: Sequence[Part], side: Side) -> Iterator[str]:
    """Bays of a form whose skin has a gap, does not reach the board it stands on, or ends short of the crown."""
    by_bay: dict[int, list[tuple[Point, ...]]] = defaultdict(list)
    for part in parts:
        if part.role == "skin" and part.name.startswith(f"{side} gore"):
            for body in part.cells:
                x, y, _ = body.centroid()
                bay = round(((atan2(y, x) - form.turn) % tau) / (2.0 * form.half) - 0.5) % form.count
                way = form.bearing(bay + 0.5)
                by_bay[bay].append(_section(body.points(), way))
    foot, top = _ends(form, parts, side)
    for bay in range(form.count):
        yield from _gaps(f"{side} form, bay {bay + 1}", by_bay.get(bay, []), foot, top)


def _section(points: Sequence[tuple[float, float, float]], way: float) -> tuple[Point, ...]:
    """A strip's cross-section in the middle of its bay."""
    c, s = cos(way), sin(way)
    return tuple(dict.fromkeys((round(x * c + y * s, 7), round(z, 7)) for x, y, z in points))


def _ends(form: DomeForm, parts: Sequence[Part], side: Side) -> tuple[Point, Point]:
    """Where the skin's face must meet the board under the shell, and the cap or curb at the crown."""
    squeeze = cos(pi / form.count)
    (r, z), _ = _seat(parts)
    if side == "outer":
        r, z = form.edge
    end = _crown_radius(form, parts)
    level = form.face(side).z(upper_end(form, side))
    if form.closed:
        level = _cap_level(parts, side) or 0.0
    return (r * squeeze, z), (end * squeeze, level)


def _gaps(where: str, strips: Sequence[tuple[Point, ...]], foot: Point, top: Point) -> Iterator[str]:
    if not strips:
        yield f"the mix runs out: no skin in the {where}"
        return
    corners = [p for strip in strips for p in strip]
    for what, point in (("foot", foot), ("crown", top)):
        if not any(hypot(p[0] - point[0], p[1] - point[1]) < 1e-5 for p in corners):
            yield f"the mix runs out: the skin does not reach the {what} in the {where}"
    groups = _linked(strips)
    if groups > 1:
        yield f"the mix runs out: the skin has a gap in the {where}"


def _linked(strips: Sequence[tuple[Point, ...]]) -> int:
    """In how many pieces strips hang together by whole edges."""
    owners: dict[Point, list[int]] = defaultdict(list)
    for number, strip in enumerate(strips):
        for point in strip:
            owners[point].append(number)
    lead = list(range(len(strips)))

    def find(one: int) -> int:
        while lead[one] != one:
            one = lead[one]
        return one

    shared: dict[tuple[int, int], int] = defaultdict(int)
    for some in owners.values():
        for i, a in enumerate(some):
            for b in some[i + 1 :]:
                shared[min(a, b), max(a, b)] += 1
    for (a, b), corners in shared.items():
        if corners >= 2:
            lead[find(a)] = find(b)
    return len({find(one) for one in range(len(strips))})
