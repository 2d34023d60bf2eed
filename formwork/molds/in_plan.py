"""What edge forms on a base enclose, from the prisms of the parts alone: level sections, and their areas up the height.

Between two heights at which a part begins or ends, the area enclosed changes as a quadratic of the height where every
arc keeps its angle; three Gauss points take it exactly, and to far below the check's limit where an arc turns a little.
The lowest and the highest of them lie within an eighth of the height from foot and head, so that a gap at either shows.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from formwork.geometry.crossings import encloses, share_of
from formwork.geometry.outlines import Leg, Outline, Point, legs, shifted
from formwork.geometry.prisms import Prism
from formwork.geometry.regions import Free, Section, free_round
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Part
from formwork.record import record

_GAUSS = ((-(0.6**0.5), 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.6**0.5, 5.0 / 9.0))
_SAME = 1e-9


@record
class InPlan:
    """What parts enclose up to the fill plane: its volume (m3), and every way out as a line."""

    volume: float
    leaks: tuple[str, ...]


def plan_cavity(parts: Sequence[Part], fill: float, pour_points: Sequence[Vec]) -> InPlan:
    """The cavity of a mold whose parts are upright prisms that stand on a base.

    Args:
        parts: of the mold, as far as they hold mix.
        fill: height of the fill plane, m.
        pour_points: one point in each cavity.
    """
    bodies = [(part.name, body) for part in parts for body in part.prisms]
    marks = sorted({0.0, fill, *(z for _, body in bodies for z in _ends(body) if 0.0 < z < fill)})
    leaks: list[str] = []
    volume = 0.0
    for x, y, _ in pour_points:
        for low, high in pairwise(marks):
            if high - low > _SAME:
                size, out = _slab(bodies, low, high, (x, y))
                volume += size
                leaks += out
    leaks += _through_floor(bodies)
    return InPlan(0.0 if leaks else volume, tuple(dict.fromkeys(leaks)))


def _ends(body: Prism) -> tuple[float, float]:
    return body.origin[2], body.origin[2] + body.height


def _slab(
    bodies: Sequence[tuple[str, Prism]], low: float, high: float, place: Point
) -> tuple[float, list[str]]:
    """Volume enclosed between two heights, or the ways out."""
    half, total = (high - low) / 2.0, 0.0
    for node, weight in _GAUSS:
        z = low + half * (1.0 + node)
        found = free_round(sections(bodies, z), place)
        if found.area is None:
            return 0.0, [_leak(found, z)]
        total += weight * half * found.area
    return total, []


def sections(bodies: Sequence[tuple[str, Prism]], z: float) -> list[Section]:
    """Level sections of bodies at a height."""
    cut = []
    for name, body in bodies:
        low, high = _ends(body)
        if low < z < high:
            share, by = (z - low) / body.height, (body.origin[0], body.origin[1])
            openings = tuple(shifted(one, by) for one in body.openings_at(share))
            cut.append(Section(name, shifted(body.at(share), by), openings))
    return cut


def _leak(found: Free, z: float) -> str:
    one, other = found.between
    if not one:
        return "the mix runs out: no part stands between it and the outside"
    x, y = found.place
    return (
        f"the mix runs out between the {one} and the {other}, {found.width * 1000.0:.1f} mm apart, at "
        f"x {x * 1000.0:.0f} mm, y {y * 1000.0:.0f} mm, {z * 1000.0:.0f} mm above the base"
    )


def _through_floor(bodies: Sequence[tuple[str, Prism]]) -> list[str]:
    """Parts that stand on the base and reach beyond it, so that mix finds a way down beside it."""
    floor = [
        shifted(body.outline, (body.origin[0], body.origin[1]))
        for _, body in bodies
        if abs(_ends(body)[1]) < _SAME
    ]
    standing = [(name, one) for name, body in bodies if abs(_ends(body)[0]) < _SAME for one in _feet(body)]
    return [
        f"the {name} stands over the edge of the base"
        for name, foot in standing
        if not all(_on_floor(point, floor) for point in foot.points)
    ]


def _feet(body: Prism) -> list[Outline]:
    return [shifted(body.outline, (body.origin[0], body.origin[1]))]


def _on_floor(point: Point, floor: Sequence[Outline]) -> bool:
    return any(encloses(board, point) or any(_on(leg, point) for leg in legs(board)) for board in floor)


def _on(leg: Leg, point: Point) -> bool:
    return share_of(leg, point) is not None
