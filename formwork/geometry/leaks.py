"""The way out of a mold that the mix would find: the widest path through openings, and its narrowest one."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush

from formwork.geometry.free import Door, thrown_together

MOST = 8
"""So many leaks are looked for from one pour point; a mold with more is mended before the next look."""


def bottlenecks(doors: Sequence[Door], start: int, outside: int) -> list[Door]:
    """The narrowest opening on the widest way out; then, with that one shut, on the next way, and so on.

    An opening that other cells cut into several doors, all on one plane and from one cell, counts as one.
    """
    shut: set[int] = set()
    found: list[Door] = []
    while len(found) < MOST:
        path = _widest_way(doors, start, outside, shut)
        if not path:
            break
        least = min(doors[k].width for k, _ in path)
        first = next(k for k, _ in path if doors[k].width <= least + 1e-9)
        beyond = next(place for k, place in path if k == first)
        beside = _beside(doors, first, beyond, shut)
        shut.update(beside)
        found.append(thrown_together([doors[k] for k in beside]) if doors[first].plane else doors[first])
    return found


def _beside(doors: Sequence[Door], first: int, beyond: int, shut: set[int]) -> list[int]:
    """A door and the others that lead to the same place through the same plane from the same side."""
    door = doors[first]
    if not door.plane:
        return [first]
    side = door.there == beyond
    return [first] + [
        k
        for k, other in enumerate(doors)
        if k != first
        and k not in shut
        and other.plane == door.plane
        and (other.there if side else other.here) == beyond
    ]


def _widest_way(doors: Sequence[Door], start: int, outside: int, shut: set[int]) -> list[tuple[int, int]]:
    """The way out whose narrowest door is widest: each door's number and the place behind it; empty for none."""
    leading: dict[int, list[tuple[int, int]]] = {}
    for k, door in enumerate(doors):
        if k not in shut:
            leading.setdefault(door.here, []).append((k, door.there))
            leading.setdefault(door.there, []).append((k, door.here))
    came: dict[int, tuple[int, int]] = {}
    done: set[int] = set()
    waiting = [(-float("inf"), 0, start, -1, -1)]
    while waiting:
        wide, steps, place, through, before = heappop(waiting)
        if place in done:
            continue
        done.add(place)
        came[place] = (through, before)
        if place == outside:
            return _back_to(came, outside)
        for k, there in leading.get(place, ()):
            if there not in done:
                heappush(waiting, (max(wide, -doors[k].width), steps + 1, there, k, place))
    return []


def _back_to(came: dict[int, tuple[int, int]], place: int) -> list[tuple[int, int]]:
    path = []
    through, before = came[place]
    while through >= 0:
        path.append((through, place))
        place = before
        through, before = came[place]
    return path[::-1]
