"""The order in which the parts of a mold leave the piece, the way each goes, and what is locked.

A group of parts that move as one may leave along a way on which it closes on nothing it touches. Candidate ways
come from the planes it shares with the piece and with the groups still standing; the space it would pass through,
worked out exactly, confirms one or names what is in the way. Screws are out before any of this. Lengths in m, angles
in rad.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import asin, floor, pi, radians

from formwork.geometry.cells import Cell
from formwork.geometry.planes import Planes
from formwork.geometry.scene import PIECE, Group, Scene, Touch, set_up
from formwork.geometry.sweeps import Bulk, Clash, clash
from formwork.geometry.vectors import Vec, add, cross, dot, length, scale
from formwork.record import record

__all__ = ["Group", "Locked", "Order", "Step", "order"]

EASY = radians(9.0)
"""More draft than casters give a face makes no way easier; ways are then told apart by how plain they are.

Source: bulletin of the cast stone trade (caststone.org), "7 to 9 deg usually", read in excerpt.
"""
_TELL = radians(0.5)
"""Ways whose drafts differ by less than about this are as good as each other (ours)."""
MOST_WAYS = 40
"""So many candidate ways of one group are followed to the end, best first."""
_LEVEL = 1e-9
_AXES: tuple[Vec, ...] = (
    (0.0, 0.0, 1.0),
    (1.0, 0.0, 0.0),
    (-1.0, 0.0, 0.0),
    (0.0, 1.0, 0.0),
    (0.0, -1.0, 0.0),
    (0.0, 0.0, -1.0),
)


@record
class Step:
    """One group leaves.

    Attributes:
        group: its name; groups that are joined leave as one, "base and core".
        way: the way it goes, a unit vector.
        draft: the least angle at which it comes off the faces of the piece; a right angle where it touches none.
        members: names of the groups it is made of: more than one where they are joined.
    """

    group: str
    way: Vec
    draft: float
    members: tuple[str, ...]


@record
class Locked:
    """A group that cannot leave.

    Attributes:
        group: its name.
        blocked_by: "piece", or the name of the group in its way, or "way it is fastened" where its own joined
            parts leave it none.
        at: where.
        way: the most promising way, on which it is blocked.
        members: names of the groups it is made of: more than one where they are joined.
    """

    group: str
    blocked_by: str
    at: Vec
    way: Vec
    members: tuple[str, ...]

    def __str__(self) -> str:
        """One line for a carpenter, the place in mm from the mold's origin."""
        x, y, z = (f"{1000.0 * value + 0.0:.0f}" for value in self.at)
        return f"{self.group} is locked by the {self.blocked_by} at x={x}, y={y}, z={z} mm"


@record
class Order:
    """The stripping order, and the groups that are still on the piece at its end."""

    steps: tuple[Step, ...]
    locked: tuple[Locked, ...]


def order(
    planes: Planes, piece: Sequence[Cell], groups: Sequence[Group], joins: Sequence[tuple[str, str]] = ()
) -> Order:
    """Take the mold off the piece, group by group.

    Args:
        planes: the register that all cells refer to.
        piece: the concrete as disjoint cells, its round holes not taken out.
        groups: what is taken off.
        joins: names of groups that are fastened together and move as one.

    Raises:
        GeometryError: if a join names a group that is not there.
    """
    scene = set_up(planes, piece, groups, joins)
    standing = sorted(range(len(scene.movers)), key=lambda k: (scene.movers[k].priority, k))
    waits: dict[int, frozenset[int]] = {}
    steps: list[Step] = []
    while (found := _first_free(scene, standing, waits)) is not None:
        mover, step = found
        steps.append(step)
        standing.remove(mover)
    return Order(tuple(steps), tuple(_why_locked(scene, mover, standing) for mover in standing))


def _first_free(
    scene: Scene, standing: Sequence[int], waits: dict[int, frozenset[int]]
) -> tuple[int, Step] | None:
    """The first group that can leave; one that could not is asked again once something it met has left."""
    there = frozenset(standing)
    for mover in standing:
        if mover in waits and waits[mover] <= there:
            continue
        touches = _touching(scene, mover, there)
        met = {touch.other for touch in touches} | {guide.other for guide in scene.guides[mover]}
        for way in _ways(scene, mover, touches, there)[:MOST_WAYS]:
            stop = next(_stops(scene, mover, way, standing), None)
            if stop is None:
                body = scene.movers[mover]
                return mover, Step(body.name, way, _draft(scene, mover, touches, way), body.members)
            met.add(stop[0])
        waits[mover] = (frozenset(met) - {PIECE}) & there
    return None


def _touching(scene: Scene, mover: int, there: frozenset[int]) -> list[Touch]:
    """What the group touches of the piece and of the groups still standing."""
    return [touch for touch in scene.touches[mover] if touch.other == PIECE or touch.other in there]


def _ways(scene: Scene, mover: int, touches: Sequence[Touch], there: frozenset[int]) -> list[Vec]:
    """Candidate ways on which the group closes on nothing it touches, best first."""
    normals = _distinct(touch.normal for touch in touches)
    free = [
        way
        for way in _candidates(scene, mover, touches, there)
        if all(dot(way, normal) >= -_LEVEL for normal in normals)
    ]
    off = max((t for t in touches if t.other == PIECE), key=lambda t: round(t.area, 9), default=None)
    return sorted(
        free,
        key=lambda way: _preference(way, _draft(scene, mover, touches, way), off.normal if off else _AXES[0]),
    )


def _candidates(scene: Scene, mover: int, touches: Sequence[Touch], there: frozenset[int]) -> list[Vec]:
    """The ways its seat or its plugs leave it; else axes, normals, their level parts and sums, shared edges."""
    ways = scene.movers[mover].ways
    for guide in scene.guides[mover]:
        if guide.other == PIECE or guide.other in there:
            ways = guide.ways if ways is None else tuple(way for way in ways if _among(way, guide.ways))
    return _edges_and_normals(touches) if ways is None else list(ways)


def _edges_and_normals(touches: Sequence[Touch]) -> list[Vec]:
    normals = _distinct(touch.normal for touch in touches)
    of_piece = _distinct(touch.normal for touch in touches if touch.other == PIECE)
    level = [(x, y, 0.0) for x, y, _ in normals]
    found = [*_AXES, *level, *normals, _sum(of_piece), _sum(normals)]
    for k, normal in enumerate(normals):
        for other in normals[k + 1 :]:
            edge = cross(normal, other)
            found += [edge, scale(edge, -1.0)]
    return _distinct(scale(way, 1.0 / size) for way in found if (size := length(way)) > 1e-6)


def _sum(vectors: Iterable[Vec]) -> Vec:
    total: Vec = (0.0, 0.0, 0.0)
    for vector in vectors:
        total = add(total, vector)
    return total


def _distinct(ways: Iterable[Vec]) -> list[Vec]:
    """The ways without repeats, the first of equals kept."""
    seen: dict[Vec, Vec] = {}
    for way in ways:
        seen.setdefault((round(way[0], 8) + 0.0, round(way[1], 8) + 0.0, round(way[2], 8) + 0.0), way)
    return list(seen.values())


def _among(way: Vec, ways: Iterable[Vec]) -> bool:
    return any(dot(way, other) > 1.0 - _LEVEL for other in ways)


def _draft(scene: Scene, mover: int, touches: Sequence[Touch], way: Vec) -> float:
    """Least angle between the way and the faces of the piece that the group lies on, rad."""
    least = min((dot(way, touch.normal) for touch in touches if touch.other == PIECE), default=1.0)
    plugs = [guide.draft for guide in scene.guides[mover] if guide.other == PIECE]
    return min(asin(min(1.0, max(0.0, least))), *plugs, pi / 2.0)


def _preference(way: Vec, draft: float, off: Vec) -> tuple[int, bool, bool, float, Vec]:
    """What makes a way better: draft, not downwards, plumb or level and square to ``off``, near to ``off``."""
    x, y, z = (round(-value, 9) + 0.0 for value in way)
    square = abs(way[0] * off[1] - way[1] * off[0]) < _LEVEL and abs(z) < _LEVEL
    plumb = abs(z) > 1.0 - _LEVEL
    grade = floor((min(draft, EASY) + 0.2 * _TELL) / _TELL)
    return (-grade, z > _LEVEL, not (square or plumb), -round(dot(way, off), 6), (z, x, y))


def _stops(scene: Scene, mover: int, way: Vec, standing: Iterable[int]) -> Iterator[tuple[int, Clash]]:
    """What is in the way, the piece first: by number, and where."""
    body = scene.movers[mover]
    found = _run_into(scene, body.bulks, scene.piece, way)
    if found is not None:
        yield PIECE, found
    for k in standing:
        if k != mover:
            other = scene.movers[k]
            found = _run_into(scene, body.bulks, other.bulks, way)
            if found is None and (k, mover) not in scene.fitted:
                found = _run_into(scene, body.bulks, other.pegs, way)
            if found is None and (mover, k) not in scene.fitted:
                found = _run_into(scene, body.pegs, other.bulks, way)
            if found is not None:
                yield k, found


def _run_into(scene: Scene, bodies: Sequence[Bulk], others: Sequence[Bulk], way: Vec) -> Clash | None:
    for body in bodies:
        found = clash(scene.planes, body, others, way, scene.reach)
        if found is not None:
            return found
    return None


def _why_locked(scene: Scene, mover: int, standing: Sequence[int]) -> Locked:
    """What holds a group on its most promising way."""
    there = frozenset(standing)
    touches = _touching(scene, mover, there)
    body = scene.movers[mover]
    for way in _ways(scene, mover, touches, there):
        other, found = max(_stops(scene, mover, way, standing), key=lambda stop: stop[1].volume)
        return Locked(body.name, _name(scene, other), found.at, way, body.members)
    return _pinched(scene, mover, touches, there)


def _pinched(scene: Scene, mover: int, touches: Sequence[Touch], there: frozenset[int]) -> Locked:
    """A group that closes on something it touches whichever way it goes: what it closes on least."""
    normals = _distinct(touch.normal for touch in touches)
    ways = _candidates(scene, mover, touches, there)
    if not ways:
        return _held_by_seats(scene, mover, there)
    way = max(ways, key=lambda way: min(dot(way, normal) for normal in normals))
    worst = min(touches, key=lambda touch: dot(way, touch.normal))
    body = scene.movers[mover]
    return Locked(body.name, _name(scene, worst.other), worst.at, way, body.members)


def _held_by_seats(scene: Scene, mover: int, there: frozenset[int]) -> Locked:
    """A group that has no way at all: what one of its plugs or seats allows, another forbids."""
    body = scene.movers[mover]
    guides = [guide for guide in scene.guides[mover] if guide.other == PIECE or guide.other in there]
    if not guides:
        at = scale(add(body.bulks[0].low, body.bulks[0].high), 0.5)
        return Locked(body.name, "way it is fastened", at, _AXES[0], body.members)
    last = guides[-1]
    return Locked(body.name, _name(scene, last.other), last.at, last.ways[0], body.members)


def _name(scene: Scene, number: int) -> str:
    return "piece" if number == PIECE else scene.movers[number].name
