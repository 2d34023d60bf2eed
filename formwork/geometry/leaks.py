"""The way out of a mold that the mix would find: the widest path through openings, and its narrowest one."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush

from formwork.geometry.free import Door

MOST = 8
"""So many leaks are looked for from one pour point; a mold with more is mended before the next look."""


def bottleneck(doors: Sequence[Door], start: int, outside: int) -> list[Door]:
    """The narrowest door on the widest way out; then, with that one shut, on the next, and so on."""
    shut: set[int] = set()
    found: list[Door] = []
    while len(found) < MOST:
        path = _widest_way(doors, start, outside, shut)
        if not path:
            break
        least = min(doors[k].width for k in path)
        first = next(k for k in path if doors[k].width <= least + 1e-9)
        shut.add(first)
        found.append(doors[first])
    return found


def _widest_way(doors: Sequence[Door], start: int, outside: int, shut: set[int]) -> list[int]:
    """Numbers of the doors on the way out whose narrowest door is widest; empty if there is no way out."""
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


def _back_to(came: dict[int, tuple[int, int]], place: int) -> list[int]:
    path = []
    through, before = came[place]
    while through >= 0:
        path.append(through)
        through, before = came[before]
    return path[::-1]
