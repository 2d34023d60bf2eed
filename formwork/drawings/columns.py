"""Many labels of one view in two columns beside everything drawn, in the order of what they name. Lengths in mm.

Each stands as level with its point as the spacing lets it (least squares, by pooling neighbours that would overlap).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf

from formwork.drawings.clearance import Piece, distance
from formwork.drawings.frames import Point

_STEP, _STEPS = 0.1, 80
_OFF = (1.0, 2.0, 4.0, 7.0)
"""How far outside everything drawn a column may stand, in pitches."""
_MORE = 1.5
"""A column with this many times the labels of the other gives some of them away."""

Choice = tuple[int, Point]
"""Number of a label, and the point it is led to."""


def in_columns(
    wanted: Sequence[Sequence[Point]],
    box: tuple[Point, Point],
    pitch: float,
    clear: Callable[[Point, Point], bool],
) -> list[Piece]:
    """Point and place of each label; where no way of standing keeps all leaders off the texts, the nearest to level.

    A column stands further out where its leaders would run through its labels.

    Args:
        wanted: for each label the points it may be led to, the best first.
        box: of everything drawn; the columns stand a pitch outside it, or further.
        pitch: between labels of a column.
        clear: whether the leader from a point to a place runs through no text.
    """
    (x0, _), (x1, _) = box
    placed: dict[int, Piece] = {}
    for column, edge, way in zip(_sides(wanted, (x0 + x1) / 2.0), (x0, x1), (-pitch, pitch), strict=True):
        points = [point for _, point in column]
        tried = [found for off in _OFF if (found := _standing(points, edge + off * way, pitch, clear))]
        level = spread([y for _, y in points], pitch)
        tidy = (places for places in tried if _is_tidy(list(zip(points, places, strict=True)), pitch))
        places = next(tidy, tried[0] if tried else [(edge + way, y) for y in level])
        for (number, point), place in zip(column, places, strict=True):
            placed[number] = (point, place)
    return [placed[number] for number in range(len(wanted))]


def _sides(wanted: Sequence[Sequence[Point]], middle: float) -> tuple[list[Choice], list[Choice]]:
    """The labels of each column, from below; those that may stand on either side take turns."""
    sides: tuple[list[Choice], list[Choice]] = ([], [])
    for number in sorted(range(len(wanted)), key=lambda n: (wanted[n][0][1], wanted[n][0][0])):
        options = [[p for p in wanted[number] if (p[0] > middle) == right] for right in (False, True)]
        side = int(len(sides[1]) < len(sides[0])) if all(options) else int(not options[0])
        sides[side].append((number, options[side][0]))
    less, more = sorted(sides, key=len)
    while len(more) > _MORE * (len(less) + 1):
        over = min(more, key=lambda choice: (abs(choice[1][0] - middle), choice[0]))
        more.remove(over)
        less.append(over)
    for column in sides:
        column.sort(key=lambda choice: (choice[1][1], choice[1][0]))
    return sides


def _standing(
    points: Sequence[Point], x: float, pitch: float, clear: Callable[[Point, Point], bool]
) -> list[Point] | None:
    """A place for each point, from below: as near to level as keeps its leader off the texts; None where none does."""
    places: list[Point] = []
    least = -inf
    for point, level in zip(points, spread([y for _, y in points], pitch), strict=True):
        tried = (level + _STEP * k * pitch for k in sorted(range(-_STEPS, _STEPS + 1), key=abs))
        found = next((y for y in tried if y >= least and clear(point, (x, y))), None)
        if found is None:
            return None
        places.append((x, found))
        least = found + pitch
    return places


def _is_tidy(leaders: Sequence[Piece], pitch: float) -> bool:
    """Whether no leader comes as near to another's label as half a pitch."""
    return all(
        distance(other[1], one) >= pitch / 2.0 for one in leaders for other in leaders if other is not one
    )


def spread(levels: Sequence[float], pitch: float) -> list[float]:
    """Rising levels moved apart to at least a pitch, each as little as the others let it.

    >>> spread([0.0, 0.0, 30.0], 10.0)
    [-5.0, 5.0, 30.0]
    """
    pools: list[tuple[float, int]] = []
    for i, level in enumerate(levels):
        pools.append((level - i * pitch, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, n) = pools[-2:]
            pools[-2:] = [((a * m + b * n) / (m + n), m + n)]
    even = [mean for mean, count in pools for _ in range(count)]
    return [mean + i * pitch for i, mean in enumerate(even)]
