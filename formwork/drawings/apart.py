"""How far each part of a mold is moved to show it taken apart: sides outward, cores opened, the base let down. In m.

The ways are those of the hand: what stands outside the piece goes away from it, sticks further than the panel that
they are screwed to, strips less far; what stands in the middle opens about its own axis.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from math import hypot

from formwork.drawings.extents import Box, part_box, parts_box
from formwork.geometry.vectors import Vec, add, scale
from formwork.molds.mold import Part, PartRole

_OUT = 0.5
"""How far sides go out, as a share of the mold's greater level size."""
_FURTHER = 0.13
"""How much further a stick goes than its panel, as the same share."""
_DOWN = 0.4
_OPEN = 0.45
"""How far walls of a core go out, as a share of its own greater level size."""
_MIDDLE = 0.12
"""A group whose middle is nearer the mold's than this share of its size stands in the middle."""
_RANK: dict[PartRole, float] = {
    "strip": -0.7,
    "board": -0.7,
    "liner": -0.7,
    "cleat": 1.0,
    "rail": 2.0,
    "ring": 1.0,
}
_ENDS: tuple[PartRole, ...] = ("core cap", "plug", "bar")
_TOUCH = 1e-6
_UP: Vec = (0.0, 0.0, 1.0)


def moved_apart(parts: Sequence[Part]) -> dict[str, Vec]:
    """How far each part is moved, by its name.

    Args:
        parts: that stand in the mold.
    """
    whole = parts_box(parts)
    groups: dict[str, list[Part]] = defaultdict(list)
    for part in parts:
        groups[part.group].append(part)
    moved: dict[str, Vec] = {}
    for some in groups.values():
        moved |= _group_apart(some, whole)
    covered = [part for part in parts if part.group.startswith("core") and part_box(part)[0][2] < _TOUCH]
    rise = 1.1 * parts_box(covered)[1][2] if covered else 0.0
    for some in groups.values():
        if all(part.role in ("ring", "tube") for part in some) and not _stands_aside(some, whole):
            inner = rise and not any(part in covered for part in some)
            moved |= {part.name: add(moved[part.name], scale(_UP, rise if inner else 0.0)) for part in some}
    return moved


def _stands_aside(some: Sequence[Part], whole: Box) -> bool:
    return _away(parts_box(some), whole) != (0.0, 0.0, 0.0)


def groups_apart(parts: Sequence[Part]) -> dict[str, Vec]:
    """The same for groups that stay whole: only those beside the middle are moved, outward."""
    whole = parts_box(parts)
    groups: dict[str, list[Part]] = defaultdict(list)
    for part in parts:
        groups[part.group].append(part)
    moved: dict[str, Vec] = {}
    for some in groups.values():
        by = scale(_away(parts_box(some), whole), _OUT * 0.7 * _breadth(whole))
        moved |= {part.name: by for part in some}
    return moved


def _group_apart(some: Sequence[Part], whole: Box) -> dict[str, Vec]:
    size, high = _breadth(whole), whole[1][2] - whole[0][2]
    if any(part.role == "base" for part in some):
        return {part.name: _with_the_base(part, size) for part in some}
    if any(part.role == "divider" for part in some):
        return {part.name: scale(_UP, 1.1 * high) for part in some}
    box = parts_box(some)
    out = _away(box, whole)
    rises = _layered(some)
    if out != (0.0, 0.0, 0.0):
        return {
            part.name: add(
                scale(out, size * (_OUT + _FURTHER * _RANK.get(part.role, 0.0))), scale(_UP, rises[part.name])
            )
            for part in some
        }
    return {
        part.name: add(_opened(part, box, size, alone=len(some) == 1), scale(_UP, rises[part.name]))
        for part in some
    }


def _with_the_base(part: Part, size: float) -> Vec:
    """The base goes furthest down, what is fastened on it less far."""
    return scale(_UP, -_DOWN * size * (1.0 if part.role == "base" else 0.6))


def _opened(part: Part, box: Box, size: float, *, alone: bool) -> Vec:
    """A part of what stands in the middle: walls outward, caps and bars to their end, the rest where it is."""
    own = part_box(part)
    middle, here = _centre(box), _centre(own)
    way = (here[0] - middle[0], here[1] - middle[1])
    far = hypot(*way)
    if alone:
        return (0.0, 0.0, 0.0)
    if part.role in _ENDS or far < 0.05 * _breadth(box):
        lifted = 0.0 if part.role not in _ENDS else (0.9 if part.role == "plug" else 0.5) * _OPEN * size
        return scale(_UP, lifted if here[2] >= middle[2] else -lifted)
    if part.role in ("cleat", "core rib"):
        return (0.0, 0.0, 0.0)
    return scale((way[0] / far, way[1] / far, 0.0), _OPEN * _breadth(box))


def _layered(some: Sequence[Part]) -> dict[str, float]:
    """How far layers that lie on one another are drawn apart: each by its own thickness more than the one below."""
    rises = {part.name: 0.0 for part in some}
    layers = [part for part in some if part.role == "ring" or part.name.split(" disc ")[0] != part.name]
    levels = sorted({round(part_box(part)[0][2], 5) for part in layers})
    touching = len(levels) > 3
    for part in layers if touching else ():
        low, high = part_box(part)
        rises[part.name] = (levels.index(round(low[2], 5)) + 1) * 1.2 * (high[2] - low[2])
    return rises


def _away(box: Box, whole: Box) -> Vec:
    """The level way from the middle of the mold to a box; none where that is in the middle too."""
    here, middle = _centre(box), _centre(whole)
    way = (here[0] - middle[0], here[1] - middle[1])
    far = hypot(*way)
    if far < _MIDDLE * _breadth(whole):
        return (0.0, 0.0, 0.0)
    return (way[0] / far, way[1] / far, 0.0)


def _centre(box: Box) -> Vec:
    (x0, y0, z0), (x1, y1, z1) = box
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0, (z0 + z1) / 2.0)


def _breadth(box: Box) -> float:
    return max(box[1][0] - box[0][0], box[1][1] - box[0][1])
