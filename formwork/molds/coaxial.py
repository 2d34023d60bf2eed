"""What parts round one upright axis enclose, from the parts alone, in the half-plane of radius and height.

Every part that goes all the way round is a region of that half-plane: a body turned about the axis, segments of a ring
that close it, a disc, the part of a board that no turn leaves. The free space below the fill that no way leads out of,
and that holds the place where the mix is poured, is the cavity; turned about the axis it has a volume (Pappus). What
stands to one side only, as a batten does, seals nothing and is left out. Lengths in m.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from math import hypot, tau
from typing import Any

from formwork.geometry.cells import Cell
from formwork.geometry.outlines import Outline, flattened, moment, polygon
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Part
from formwork.record import record

CHORD = 1e-7
"""Arcs in plan become chords no further from them than this, m."""
FINE = 1e-8
"""Arcs of profiles do, m: what a thin shell loses to its chords stays far below the limit of the check."""
GRID = 1e-9
_ROOM = 0.1
_CLOSED = 1e-9
_UPRIGHT = 1.0 - 1e-9
_HALVINGS = 30
_BAR = 1e-6

Point = tuple[float, float]
Region = Any
"""A polygon of shapely, whose library is imported late."""


@record
class Coaxial:
    """What the parts of a mold round one axis enclose: its volume (m3), and every way out as a line."""

    volume: float
    leaks: tuple[str, ...]


def coaxial_cavity(
    parts: Sequence[Part], fill: float, pour_points: Sequence[Vec], axis: Point = (0.0, 0.0)
) -> Coaxial:
    """The cavity of a mold whose parts stand round one upright axis.

    Args:
        parts: of the mold; bars above the fill plane are left out.
        fill: height of the fill plane, m.
        pour_points: one point in each cavity.
        axis: x and y of the axis.
    """
    import shapely  # noqa: PLC0415 - slow to import, and only round molds need it

    holding = [part for part in parts if part.role != "bar"]
    named = [(name, shapely.Polygon(flattened(one, FINE))) for name, one in _regions(holding, axis)]
    free = _free([region for _, region in named], fill)
    plugs = [body for part in holding for body in part.rounds if not _on_axis(body, axis)]
    volume, leaks = 0.0, list(_open_rings(holding, axis))
    for place in dict.fromkeys((hypot(x - axis[0], y - axis[1]), z) for x, y, z in pour_points):
        room = next((one for one in shapely.get_parts(free) if one.covers(shapely.Point(place))), None)
        if room is None:
            leaks.append("the mix would be poured on a part of the mold, not into it")
        elif _reaches_out(room, free):
            leaks.append(_leak(named, fill, place))
        else:
            volume += tau * sum(_moment(one) for one in shapely.get_parts(room))
    return Coaxial(volume - sum(_within(body, fill) for body in plugs), tuple(dict.fromkeys(leaks)))


def _within(body: Round, fill: float) -> float:
    """Volume of a plug up to the fill plane, m3; plugs stand upright."""
    low, high = sorted((body.foot[2], body.head()[2]))
    share = min(1.0, max(0.0, (fill - low) / (high - low)))
    return body.volume() * share


def _free(regions: Sequence[Region], fill: float) -> Region:
    """What no part fills of a box round all of them, its top at the fill plane."""
    import shapely  # noqa: PLC0415 - as above

    solid = shapely.union_all(list(regions), grid_size=GRID)
    _, low, wide, _ = solid.bounds
    room = shapely.box(0.0, low - _ROOM, wide + _ROOM, fill)
    return shapely.difference(room, solid, grid_size=GRID)


def _reaches_out(room: Region, free: Region) -> bool:
    """Whether a free space reaches the side or the bottom of the box."""
    _, low, wide, _ = free.bounds
    return bool(room.bounds[1] < low + GRID or room.bounds[2] > wide - GRID)


def _moment(region: Region) -> float:
    rings = (region.exterior, *region.interiors)
    whole, *gaps = (abs(moment(polygon([(x, y) for x, y in ring.coords[:-1]]))) for ring in rings)
    return whole - sum(gaps)


def _leak(named: Sequence[tuple[str, Region]], fill: float, place: Point) -> str:
    """The gap on the way out: the least widening of all parts that closes it, and the two that then meet.

    Two parts with a third between them, or that face one another across the cavity, have no gap the mix runs out by.
    """
    import shapely  # noqa: PLC0415 - as above

    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        free = _free([region.buffer(middle, join_style="mitre") for _, region in named], fill)
        room = next((one for one in shapely.get_parts(free) if one.covers(shapely.Point(place))), None)
        low, high = (middle, high) if room is not None and _reaches_out(room, free) else (low, middle)
    open_ = _free([region for _, region in named], fill)
    gaps = [
        (first.distance(second), one, other, line)
        for (one, first), (other, second) in combinations(named, 2)
        if one != other
        and _CLOSED < first.distance(second) <= 2.0 * high + GRID
        and open_.covers((line := shapely.shortest_line(first, second)).interpolate(0.5, normalized=True))
    ]
    if not gaps:
        return "the mix runs out: no part stands between it and the outside"
    ranked = sorted(gaps, key=lambda gap: -gap[0])
    width, one, other, line = next((gap for gap in ranked if _stops(open_, gap[3], place)), ranked[0])
    (r, z), *_ = line.coords
    return (
        f"the mix runs out between the {one} and the {other}, {width * 1000.0:.1f} mm apart, {r * 1000.0:.0f} mm from "
        f"the axis and {z * 1000.0:.0f} mm above the base"
    )


def _stops(free: Region, line: Any, place: Point) -> bool:
    """Whether a bar across a gap alone would keep the mix in."""
    import shapely  # noqa: PLC0415 - as above

    barred = shapely.difference(free, line.buffer(_BAR, cap_style="square"))
    room = next((one for one in shapely.get_parts(barred) if one.covers(shapely.Point(place))), None)
    return room is not None and not _reaches_out(room, free)


def _regions(parts: Iterable[Part], axis: Point) -> Iterator[tuple[str, Outline]]:
    """Each part's share of the half-plane, under its name; ring segments under the name of the first."""
    rings: dict[tuple[Point, ...], list[tuple[str, Turned]]] = defaultdict(list)
    for part in parts:
        for body in part.turned:
            if not _about(body.axis, axis):
                continue
            if body.whole:
                yield part.name, body.profile
            else:
                rings[_key(body)].append((part.name, body))
        yield from ((part.name, found) for found in _others(part, axis))
    for some in rings.values():
        yield some[0][0], some[0][1].profile


def _others(part: Part, axis: Point) -> Iterator[Outline]:
    """Shares of the bodies of a part that are not turned."""
    found: list[Outline | None] = [_disc(body, axis) for body in part.prisms]
    found += [_board(body, axis) for body in part.cells]
    found += [_plug(body) for body in part.rounds if _on_axis(body, axis)]
    yield from (one for one in found if one is not None)


def _key(body: Turned) -> tuple[Point, ...]:
    return tuple((round(r, 7), round(z, 7)) for r, z in body.profile.points)


def _open_rings(parts: Iterable[Part], axis: Point) -> Iterator[str]:
    """Rings of segments that do not go all the way round."""
    rings: dict[tuple[Point, ...], list[tuple[str, Turned]]] = defaultdict(list)
    for part in parts:
        for body in part.turned:
            if _about(body.axis, axis) and not body.whole:
                rings[_key(body)].append((part.name, body))
    for some in rings.values():
        turn = sum(body.sweep for _, body in some)
        if turn < tau - 1e-6:
            yield f"the ring that begins with the {some[0][0]} is open over {360.0 * (1.0 - turn / tau):.1f} degrees"


def _about(place: Point, axis: Point) -> bool:
    return hypot(place[0] - axis[0], place[1] - axis[1]) < 1e-9


def _on_axis(body: Round, axis: Point) -> bool:
    return abs(body.axis[2]) > _UPRIGHT and _about((body.foot[0], body.foot[1]), axis)


def _plug(body: Round) -> Outline:
    """The profile of a round body on the axis."""
    foot, head = body.foot[2], body.head()[2]
    profile = ((0.0, foot), (body.foot_radius, foot), (body.head_radius, head), (0.0, head))
    return polygon(profile if head > foot else profile[::-1])


def _disc(body: Prism, axis: Point) -> Outline | None:
    """What of an upright prism with straight sides no turn about the axis leaves; None where there is none."""
    if abs(body.axis[2]) < _UPRIGHT or body.head is not None or not _round_axis(body, axis):
        return None
    low, high = sorted((body.origin[2], body.place(0.0, 0.0, body.height)[2]))
    outer = [_from_axis(body, one, axis) for one in flattened(body.outline, CHORD)]
    inner = [_farthest(body, opening, axis) for opening in body.openings]
    near, far = max(inner, default=0.0), _nearest(outer)
    return None if far - near < GRID else _ring(near, far, low, high)


def _round_axis(body: Prism, axis: Point) -> bool:
    """Whether the box round a body has the axis in it; a body beside the axis, as an ear is, seals nothing."""
    low, high = body.box()
    return low[0] < axis[0] < high[0] and low[1] < axis[1] < high[1]


def _from_axis(body: Prism, place: Point, axis: Point) -> Point:
    x, y, _ = body.place(place[0], place[1], 0.0)
    return (x - axis[0], y - axis[1])


def _farthest(body: Prism, opening: Outline, axis: Point) -> float:
    return max(hypot(*_from_axis(body, one, axis)) for one in flattened(opening, CHORD))


def _nearest(points: Sequence[Point]) -> float:
    """Radius of the greatest circle about the origin within a path; 0 where the origin is outside it.

    Corners of a fine path round a circle lie on it, so the radius is taken to the corner where a leg is short.
    """
    import shapely  # noqa: PLC0415 - as above

    ring = shapely.Polygon(points)
    middle = shapely.Point(0.0, 0.0)
    if not ring.contains(middle):
        return 0.0
    distance = float(ring.exterior.distance(middle))
    nearest_corner = min(hypot(x, y) for x, y in points)
    return nearest_corner if nearest_corner - distance < 2.0 * CHORD else distance


def _board(body: Cell, axis: Point) -> Outline | None:
    """What of a level board no turn about the axis leaves; None where its faces are not level and upright."""
    low, high = body.box()
    level = [p for p in body.points() if abs(p[2] - low[2]) > GRID and abs(p[2] - high[2]) > GRID]
    foot = {(round(x, 9), round(y, 9)) for x, y, z in body.points() if abs(z - low[2]) < GRID}
    head = {(round(x, 9), round(y, 9)) for x, y, z in body.points() if abs(z - high[2]) < GRID}
    if level or foot != head:
        return None
    ring = next(face for face in body.facets.values() if all(abs(p[2] - high[2]) < GRID for p in face))
    far = _nearest([(x - axis[0], y - axis[1]) for x, y, _ in ring])
    return None if far < GRID else _ring(0.0, far, low[2], high[2])


def _ring(near: float, far: float, low: float, high: float) -> Outline:
    return polygon(((near, low), (far, low), (far, high), (near, high)))
