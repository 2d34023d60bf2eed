"""The cavity that the parts of a mold enclose, worked out from the parts alone, and the leaks that open it.

A box round all parts, its top at the fill plane, less every part, leaves free cells; those joined through
facets make rooms; the room that holds the pour point is the cavity, unless it reaches a side or the bottom of the
box. Nothing here knows the piece: that is what makes the comparison with it a check. Lengths in m.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import pi
from typing import Literal, assert_never

from formwork.errors import GeometryError
from formwork.geometry import plugs
from formwork.geometry.cells import Cell, box_of, cell, meet
from formwork.geometry.flats import reach
from formwork.geometry.free import Door, carve, doors, lead, rooms, way_out
from formwork.geometry.leaks import bottlenecks
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.rounds import Round
from formwork.geometry.vectors import Vec
from formwork.record import record

_BEYOND = 1e-4
_SLIVER = 1e-10
_AGREE = 1e-7


@record
class Solid:
    """A part as the cavity sees it.

    Attributes:
        name: what a carpenter calls it.
        cells: the flat-faced space it fills.
        rounds: round bodies it fills besides (a plug).
        holes: round holes drilled through its cells.
    """

    name: str
    cells: tuple[Cell, ...]
    rounds: tuple[Round, ...] = ()
    holes: tuple[Round, ...] = ()


@record
class Leak:
    """A way by which the mix leaves the mold.

    Attributes:
        at: centre of the narrowest opening on the way out.
        width: that opening's least width, m.
        area: its area, m2.
        between: names of the parts nearest to it, the nearest first; one name for a hole through a part.
        kind: a gap between two parts, over the top of one (it reaches the fill plane), or a drilled hole that
            nothing fills.
    """

    at: Vec
    width: float
    area: float
    between: tuple[str, ...]
    kind: Literal["between", "over", "hole"] = "between"

    def __str__(self) -> str:
        """One line for a carpenter, sizes in mm from the mold's origin."""
        x, y, z = (f"{1000.0 * value + 0.0:.0f}" for value in self.at)
        size = f"{1000.0 * self.width:.3g} mm"
        match self.kind:
            case "hole":
                what = f"open hole {size} wide through {self.between[0]}"
            case "over":
                what = f"leak {size} high over the top of {self.between[0]}"
            case "between":
                what = f"leak {size} wide between {' and '.join(self.between)}"
            case _:
                assert_never(self.kind)
        return f"{what} at x={x}, y={y}, z={z} mm"


@record
class Cavity:
    """What the parts enclose below the fill plane.

    Attributes:
        volume: of all cavities together, each counted once, plugs taken off, m3.
        volumes: of the cavity at each pour point, m3; 0 where it leaks.
        cells: the cavities as disjoint cells, plugs not taken out.
        leaks: every way out that was found; empty for a mold that holds.
    """

    volume: float
    volumes: tuple[float, ...]
    cells: tuple[Cell, ...]
    leaks: tuple[Leak, ...]


@record
class _Hole:
    """A drilled hole that nothing fills, and the part it is drilled in."""

    part: str
    body: Round


@record
class _Free:
    """Free space: cells and open holes as places numbered through, the room each is in, and the ways out.

    Attributes:
        cells: the free cells.
        holes: the drilled holes that nothing fills, numbered after the cells.
        rooms: for each place the number of its room.
        facets: places with facets on a side or the bottom of the box: place, reference.
        passages: doors that holes lead through.
        outside: the number that stands for the outside, one past the last place.
        fill: level of the fill plane, m.
    """

    cells: list[Cell]
    holes: list[_Hole]
    rooms: list[int]
    facets: list[tuple[int, int]]
    passages: list[Door]
    outside: int
    fill: float

    def open_rooms(self) -> set[int]:
        """Numbers of the rooms that reach the outside."""
        places = {place for place, _ in self.facets}
        places.update(door.here for door in self.passages if door.there == self.outside)
        return {self.rooms[place] for place in places}


def enclosed(planes: Planes, parts: Sequence[Solid], fill: float, pour_points: Sequence[Vec]) -> Cavity:
    """The cavity that the parts enclose below the level ``fill`` (m) round each pour point.

    Raises:
        GeometryError: if a pour point lies in a part or outside the mold's box, or a plug runs into a part.
    """
    free = _free_space(planes, parts, fill)
    starts = [_place_of(planes, free.cells, parts, point) for point in pour_points]
    open_rooms = free.open_rooms()
    chosen = sorted({free.rooms[start] for start in starts} - open_rooms)
    by_room = {
        room: [c for c, r in zip(free.cells, free.rooms, strict=False) if r == room] for room in chosen
    }
    volumes = {room: sum(c.volume() for c in by_room[room]) for room in chosen}
    for place, hole in enumerate(free.holes, start=len(free.cells)):
        if free.rooms[place] in volumes:
            volumes[free.rooms[place]] += hole.body.volume()
    _take_off_plugs(planes, parts, fill, by_room, volumes)
    leaking = sorted({start for start in starts if free.rooms[start] in open_rooms})
    return Cavity(
        sum(volumes[room] for room in chosen),
        tuple(volumes.get(free.rooms[start], 0.0) for start in starts),
        tuple(c for room in chosen for c in by_room[room]),
        _leaks(planes, parts, free, leaking),
    )


def overlaps(planes: Planes, parts: Sequence[Solid]) -> list[tuple[str, str, float]]:
    """Pairs of parts that claim the same space, with its volume (m3); parts that only touch are left out."""
    found: dict[tuple[int, int], float] = {}
    order = sorted(
        (
            (body.box()[0][0], body.box()[1][0], k, body)
            for k, part in enumerate(parts)
            for body in part.cells
        ),
        key=lambda entry: entry[:3],
    )
    for place, (_, end, k, body) in enumerate(order):
        for start, _, j, other in order[place + 1 :]:
            if start >= end:
                break
            both = meet(planes, body, other) if j != k else None
            if both is not None:
                pair = (min(j, k), max(j, k))
                found[pair] = found.get(pair, 0.0) + both.volume()
    return [(parts[a].name, parts[b].name, size) for (a, b), size in sorted(found.items()) if size > _SLIVER]


def _shared(planes: Planes, body: Cell, others: Sequence[Cell]) -> float:
    """Volume that a cell shares with disjoint others, m3."""
    return sum(both.volume() for other in others if (both := meet(planes, body, other)) is not None)


def _free_space(planes: Planes, parts: Sequence[Solid], fill: float) -> _Free:
    tools = [c for part in parts for c in part.cells]
    room, edges = _room(planes, tools, fill)
    cells = carve(planes, room, tools)
    holes = _open_holes(parts)
    outside = len(cells) + len(holes)
    leads = rooms(planes, cells) + list(range(len(cells), outside))
    passages = _passages(planes, cells, holes, edges)
    for door in passages:
        if door.there != outside:
            a, b = lead(leads, door.here), lead(leads, door.there)
            leads[max(a, b)] = min(a, b)
    facets = [(k, ref) for k, body in enumerate(cells) for ref in body.facets if ref in edges]
    return _Free(cells, holes, [lead(leads, k) for k in range(outside)], facets, passages, outside, fill)


def _room(planes: Planes, tools: Sequence[Cell], fill: float) -> tuple[Cell, frozenset[int]]:
    """The box round the parts up to the fill plane, and the references of its sides and bottom."""
    if not tools:
        raise GeometryError("a mold without parts encloses nothing")
    low, high = box_of(tools)
    halves = [
        HalfSpace((0.0, 0.0, 1.0), fill, "fill plane"),
        HalfSpace((0.0, 0.0, -1.0), -low[2], "underside"),
        HalfSpace((1.0, 0.0, 0.0), high[0], "right"),
        HalfSpace((-1.0, 0.0, 0.0), -low[0], "left"),
        HalfSpace((0.0, 1.0, 0.0), high[1], "back"),
        HalfSpace((0.0, -1.0, 0.0), -low[1], "front"),
    ]
    room = cell(planes, halves, "box round the mold")
    if room is None:
        raise GeometryError("every part of the mold lies above its fill plane")
    return room, frozenset(planes.enter(half) for half in halves[1:])


def _place_of(planes: Planes, cells: Sequence[Cell], parts: Sequence[Solid], point: Vec) -> int:
    for place, body in enumerate(cells):
        if _inside(planes, body, point):
            return place
    spot = ", ".join(f"{1000.0 * value:.0f}" for value in point)
    for part in parts:
        if any(_inside(planes, body, point) for body in part.cells):
            raise GeometryError(f"the pour point at {spot} mm lies in the {part.name}")
    raise GeometryError(f"the pour point at {spot} mm lies outside the mold")


def _inside(planes: Planes, body: Cell, point: Vec) -> bool:
    return all(planes.half(reference).depth(point) >= 0.0 for reference in body.facets)


def _open_holes(parts: Sequence[Solid]) -> list[_Hole]:
    """Every hole that no plug fills."""
    fillers = [plug for part in parts for plug in part.rounds]
    return [
        _Hole(part.name, hole)
        for part in parts
        for hole in part.holes
        if not any(plugs.fills(plug, hole) for plug in fillers)
    ]


def _passages(
    planes: Planes, cells: Sequence[Cell], holes: Sequence[_Hole], edges: frozenset[int]
) -> list[Door]:
    """The doors by which open holes lead into cells, into one another and out of the box."""
    found: dict[tuple[int, int], Door] = {}
    for number, hole in enumerate(holes, start=len(cells)):
        ends = plugs.end_spots(hole.body, _BEYOND)
        for spots, radius in zip(ends, (hole.body.foot_radius, hole.body.head_radius), strict=True):
            for there in _places_at(planes, cells, holes, edges, spots):
                mouth = Door(number, there, spots[0], 2.0 * radius, pi * radius * radius, spots[0][2])
                if there != number:
                    found.setdefault((number, there), mouth)
    return list(found.values())


def _places_at(
    planes: Planes,
    cells: Sequence[Cell],
    holes: Sequence[_Hole],
    edges: frozenset[int],
    spots: Sequence[Vec],
) -> list[int]:
    """Numbers of the cells and holes in which a spot lies, and of the outside where one lies out of the box."""
    places = [k for k, body in enumerate(cells) if any(_inside(planes, body, spot) for spot in spots)]
    places += [
        k
        for k, hole in enumerate(holes, start=len(cells))
        if any(plugs.holds(hole.body, spot) for spot in spots)
    ]
    if any(planes.half(edge).depth(spot) < 0.0 for edge in edges for spot in spots):
        places.append(len(cells) + len(holes))
    return places


def _take_off_plugs(
    planes: Planes,
    parts: Sequence[Solid],
    fill: float,
    by_room: dict[int, list[Cell]],
    volumes: dict[int, float],
) -> None:
    """Take every plug's volume off the room it stands in."""
    holes = [hole for part in parts for hole in part.holes]
    taken: list[tuple[str, Cell]] = []
    for part in parts:
        for plug in part.rounds:
            under = plugs.below(plug, fill)
            for length in plugs.outside_of_holes(under, holes) if under is not None else ():
                body = plugs.prism(planes, length, part.name)
                if body is not None:
                    room = _room_of(planes, part.name, body, by_room)
                    _no_clash(planes, part.name, body, taken)
                    if room is not None:
                        volumes[room] -= length.volume()
                        taken.append((part.name, body))


def _room_of(planes: Planes, name: str, body: Cell, by_room: dict[int, list[Cell]]) -> int | None:
    """The room a plug stands in, whole; None where it stands in none."""
    size = body.volume()
    for room, cells in by_room.items():
        shared = _shared(planes, body, cells)
        if shared > (1.0 - _AGREE) * size:
            return room
        if shared > _AGREE * size:
            x, y, z = (1000.0 * value for value in body.centroid())
            raise GeometryError(f"{name} at {x:.0f}, {y:.0f}, {z:.0f} mm runs into another part of the mold")
    return None


def _no_clash(planes: Planes, name: str, body: Cell, taken: Sequence[tuple[str, Cell]]) -> None:
    for other, standing in taken:
        if _shared(planes, body, (standing,)) > _SLIVER:
            raise GeometryError(f"{name} and {other} stand in the same place")


def _leaks(planes: Planes, parts: Sequence[Solid], free: _Free, starts: Sequence[int]) -> tuple[Leak, ...]:
    """The ways out from each of the places, the widest first, one for each pair of parts."""
    if not starts:
        return ()
    graph = doors(planes, free.cells) + free.passages
    graph += [
        way_out(planes, reference, place, free.cells[place], free.outside) for place, reference in free.facets
    ]
    found: dict[tuple[str, ...], Leak] = {}
    for start in starts:
        for door in bottlenecks(graph, start, free.outside):
            leak = _named(parts, free, door)
            found.setdefault(leak.between, leak)
    return tuple(found.values())


def _named(parts: Sequence[Solid], free: _Free, door: Door) -> Leak:
    first = len(free.cells)
    if first <= door.here < first + len(free.holes):
        return Leak(door.centre, door.width, door.area, (free.holes[door.here - first].part,), "hole")
    gaps = sorted((_distance(part, door.centre), k) for k, part in enumerate(parts))
    names = tuple(parts[k].name for _, k in gaps[:2])
    alone = len(gaps) < 2 or gaps[1][0] > 2.0 * gaps[0][0]
    kind: Literal["between", "over"] = "over" if alone and door.top >= free.fill - _BEYOND else "between"
    return Leak(door.centre, door.width, door.area, names, kind)


def _distance(part: Solid, point: Vec) -> float:
    """Distance from a point to a part, m, to a tenth of a micrometre so that equals are equal."""
    gaps = [reach(polygon, point) for body in part.cells for polygon in body.facets.values()]
    return round(min(gaps), 7) if gaps else float("inf")
