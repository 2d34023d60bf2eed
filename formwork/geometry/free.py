"""Free space among bodies: carved into convex cells, and the doors by which those open into one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from formwork.geometry.cells import Cell, crossing, split
from formwork.geometry.flats import Outline, hull, middle, outline_area, overlap, perimeter, width
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, across, dot
from formwork.record import record

HAIR = 1e-7
"""A gap narrower than about twice this (m) is rounding, not a gap."""


@record
class Door:
    """An opening between two places.

    Attributes:
        here: number of the one place.
        there: number of the other.
        centre: centre of area of the opening.
        width: its least width, m.
        area: its area, m2.
        top: its highest level, m.
        plane: number of the plane it lies on; 0 for the mouth of a hole.
        outline: the opening itself in the plane's own axes; empty for the mouth of a hole.
    """

    here: int
    there: int
    centre: Vec
    width: float
    area: float
    top: float
    plane: int = 0
    outline: Outline = ()


@record
class _Side:
    """A facet of a free cell, flat in its plane's own axes, with its box."""

    place: int
    outline: Outline
    low: tuple[float, float]
    high: tuple[float, float]


def carve(planes: Planes, room: Cell, tools: Sequence[Cell]) -> list[Cell]:
    """The room without any of the tools, as disjoint cells.

    The largest tool cuts first, so that small ones only cut small cells; each cell carries along only the
    tools that have not yet cut it.
    """
    order = sorted(range(len(tools)), key=lambda k: (-tools[k].volume(), k))
    waiting = [(room, [tools[k] for k in order])]
    free: list[Cell] = []
    while waiting:
        body, pending = waiting.pop()
        parts = _first_cut(planes, body, pending)
        if parts is None:
            free.append(body)
        else:
            waiting.extend(parts)
    return free


def _first_cut(planes: Planes, body: Cell, pending: Sequence[Cell]) -> list[tuple[Cell, list[Cell]]] | None:
    """The body cut by the first tool that takes anything of it, each part with the tools still to come."""
    for k, tool in enumerate(pending):
        through = crossing(planes, body, tool)
        if through is None:
            continue
        rest: Cell | None = body
        left: list[Cell] = []
        for reference in through:
            if rest is None:
                break
            rest, out = split(planes, rest, reference)
            if out is not None:
                left.append(out)
        if rest is not None:
            return [(part, _near(part, pending[k + 1 :])) for part in left]
    return None


def _near(body: Cell, tools: Sequence[Cell]) -> list[Cell]:
    """The tools whose box meets the body's."""
    (ax, ay, az), (bx, by, bz) = body.box()
    near = []
    for tool in tools:
        (cx, cy, cz), (dx, dy, dz) = tool.box()
        if ax < dx and cx < bx and ay < dy and cy < by and az < dz and cz < bz:
            near.append(tool)
    return near


def contacts(planes: Planes, cells: Sequence[Cell]) -> Iterator[tuple[int, _Side, _Side]]:
    """Pairs of facets on opposite sides of one plane whose flat boxes overlap, with the plane's number."""
    sides: dict[int, list[tuple[int, tuple[Vec, ...]]]] = {}
    for place, body in enumerate(cells):
        for reference, polygon in body.facets.items():
            sides.setdefault(reference, []).append((place, polygon))
    for plane in sorted(k for k in sides if k > 0 and -k in sides):
        u, v = across(planes.normal(plane))
        fronts = [_side(place, polygon, u, v) for place, polygon in sides[plane]]
        backs = [_side(place, polygon[::-1], u, v) for place, polygon in sides[-plane]]
        backs.sort(key=lambda side: side.low)
        for front in fronts:
            for back in backs:
                if back.low[0] >= front.high[0] - HAIR:
                    break
                if (
                    back.high[0] > front.low[0] + HAIR
                    and back.low[1] < front.high[1] - HAIR
                    and back.high[1] > front.low[1] + HAIR
                ):
                    yield plane, front, back


def _side(place: int, polygon: tuple[Vec, ...], u: Vec, v: Vec) -> _Side:
    outline = tuple((dot(p, u), dot(p, v)) for p in polygon)
    xs, ys = zip(*outline, strict=True)
    return _Side(place, outline, (min(xs), min(ys)), (max(xs), max(ys)))


def opening(front: _Side, back: _Side) -> Outline:
    """What two facets on one plane share; empty where that is no wider than a hair."""
    shared = overlap(front.outline, back.outline)
    if len(shared) < 3 or outline_area(shared) <= HAIR * perimeter(shared):
        return ()
    return shared


def rooms(planes: Planes, cells: Sequence[Cell]) -> list[int]:
    """For each cell the number of the first cell it is joined to, through any number of others."""
    leads = list(range(len(cells)))
    for _, front, back in contacts(planes, cells):
        a, b = lead(leads, front.place), lead(leads, back.place)
        if a != b and opening(front, back):
            leads[max(a, b)] = min(a, b)
    return [lead(leads, k) for k in range(len(cells))]


def lead(leads: list[int], place: int) -> int:
    """The first place of the room that a place belongs to (union-find, halving the way each time)."""
    while leads[place] != place:
        leads[place] = leads[leads[place]]
        place = leads[place]
    return place


def doors(planes: Planes, cells: Sequence[Cell]) -> list[Door]:
    """Every opening between two cells."""
    found = []
    for plane, front, back in contacts(planes, cells):
        shared = opening(front, back)
        if shared:
            found.append(_door(planes, plane, front.place, back.place, shared))
    return found


def way_out(planes: Planes, reference: int, place: int, body: Cell, outside: int) -> Door:
    """The door through a whole facet of a cell to the outside."""
    plane = abs(reference)
    u, v = across(planes.normal(plane))
    polygon = body.facets[reference] if reference > 0 else body.facets[reference][::-1]
    return _door(planes, plane, place, outside, _side(place, polygon, u, v).outline)


def thrown_together(doors: Sequence[Door]) -> Door:
    """Doors side by side on one plane as the one opening they make."""
    first = doors[0]
    outline = hull(spot for door in doors for spot in door.outline)
    area = sum(door.area for door in doors)
    x, y, z = (sum(door.area * door.centre[k] for door in doors) / area for k in range(3))
    top = max(door.top for door in doors)
    return Door(first.here, first.there, (x, y, z), width(outline), area, top, first.plane, outline)


def _door(planes: Planes, plane: int, here: int, there: int, shared: Outline) -> Door:
    half = planes.half(plane)
    n, d = half.normal, half.offset
    u, v = across(n)
    x, y = middle(shared)
    top = max(p * u[2] + q * v[2] for p, q in shared) + d * n[2]
    centre = (
        x * u[0] + y * v[0] + d * n[0],
        x * u[1] + y * v[1] + d * n[1],
        x * u[2] + y * v[2] + d * n[2],
    )
    return Door(here, there, centre, width(shared), outline_area(shared), top, plane, shared)
