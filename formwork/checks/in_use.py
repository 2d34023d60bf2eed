"""A planter full of wet soil: how hard it bends its walls, beside what such a mix is said to bear in tension.

Advice, never a promise and never a check: the strength is an indication with a wide range, and the mix has not been
cast yet. The soil stands up to the rim and presses as a liquid of its own weight, as it may over a clogged drain;
soil that drains presses half as hard (Jaky's 1 - sin phi at 30 degrees). The stress lies between two figures: that of
a plate held at the floor and at the corners, and that of the lesser of two strips, each of which could carry the
wall alone: upright, held by the floor, and level, between the corners.

Source: statics; weight of wet soil: 75 to 100 lb/ft3 for saturated soil mixes (a maker of raised beds), 125 lb/ft3
for soaked earth (Richardson, SEAINT list, 2003); tension an eighth of the compressive strength: the least values of
the standard batch, ASTM C869-91(1999), Table 1 (25 psi to 200 psi).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import assert_never

from formwork.errors import GeometryError, RangeError
from formwork.geometry.cells import Cell
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, dot
from formwork.mix.both_units import length_text
from formwork.mix.indicative import POUND_PER_CUBIC_FOOT, strength_indications
from formwork.mix.records import Mix
from formwork.molds.mold import Mold
from formwork.record import record
from formwork.shapes.body import former_cell, level_width
from formwork.shapes.piece import Curved, Piece, planar
from formwork.strength.plates import coefficients
from formwork.strength.pressure import liquid_head

SOILS = (100.0 * POUND_PER_CUBIC_FOOT, 125.0 * POUND_PER_CUBIC_FOOT)
"""Wet soil mix and soaked earth, kg/m3."""
TENSION = 25.0 / 200.0
"""Tensile over compressive strength."""
_FACING = 0.9
_UPRIGHT = 0.75
_LEVELS = 64
"""Heights at which the thickness of a round wall is taken."""


@record
class Wall:
    """One wall of a hollow, seen from inside, m: greatest width, depth to the rim, least thickness."""

    width: float
    depth: float
    thickness: float


@record
class RoundWall:
    """The wall round a round hollow, m: greatest radius inside, depth to the rim, least thickness."""

    radius: float
    depth: float
    thickness: float


def walls(piece: Piece) -> tuple[Wall | RoundWall, ...]:
    """The walls round the first hollow of a piece; of a curved one its only wall.

    Raises:
        GeometryError: where nothing stands outside a face of the hollow.
    """
    return (_round_wall(piece.form),) if isinstance(piece.form, Curved) else _flat_walls(piece)


def _round_wall(form: Curved) -> RoundWall:
    hollow = next(former.body for former in form.formers if former.kind == "core")
    if not isinstance(hollow, Turned) or not isinstance(form.outside, Turned):
        raise GeometryError("only a round wall is judged under soil")
    (_, _, low), (_, _, high) = hollow.box()
    heights = [low + (high - low) * k / _LEVELS for k in range(_LEVELS + 1)]
    inside = [hollow.radius(height) for height in heights]
    gaps = [form.outside.radius(height) - r for height, r in zip(heights, inside, strict=True) if r > 0.0]
    return RoundWall(max(inside), high - low, min(gaps))


def _flat_walls(piece: Piece) -> tuple[Wall, ...]:
    planes = Planes()
    core = next(former for former in planar(piece).formers if former.kind == "core")
    body = former_cell(planes, piece, core)
    outside = tuple(_outsides(piece))
    return tuple(
        _wall(body, ref, planes.normal(ref), outside)
        for ref in body.facets
        if abs(planes.normal(ref)[2]) < _UPRIGHT
    )


def _outsides(piece: Piece) -> Iterable[HalfSpace]:
    """Every plane that may end a wall outside: sides, backs of liners under a rim, dividers."""
    yield from (face.half for face in planar(piece).faces if face.role == "panel")
    for former in planar(piece).formers:
        if former.kind == "divider":
            yield from former.halves
        elif former.kind == "liner":
            yield former.lead or former.halves[0]


def _wall(body: Cell, ref: int, normal: Vec, outside: Sequence[HalfSpace]) -> Wall:
    points = body.facets[ref]
    heights = [point[2] for point in points]
    gaps = [
        min(half.depth(point) if dot(half.normal, normal) > 0.0 else -half.depth(point) for point in points)
        for half in outside
        if abs(dot(half.normal, normal)) > _FACING
    ]
    before = [gap for gap in gaps if gap > 0.0]
    if not before:
        raise GeometryError("a wall of the hollow has no outside")
    return Wall(level_width(body, ref, normal), max(heights) - min(heights), min(before))


def as_strip(wall: Wall, soil: float) -> float:
    """Greatest bending stress in a wall under wet soil, Pa: the lesser of p H^2 / 6 and p B^2 / 8, over t^2 / 6.

    Args:
        wall: the wall.
        soil: density of the wet soil, kg/m3.

    >>> round(as_strip(Wall(width=0.6, depth=0.3, thickness=0.05), 1600.0))
    169459
    """
    pressure = liquid_head(soil, wall.depth)
    moment = pressure * min(wall.depth**2 / 6.0, wall.width**2 / 8.0)
    return 6.0 * moment / wall.thickness**2


def as_plate(wall: Wall, soil: float) -> float:
    """The same for a plate with a free upper edge, Pa; as a strip where the table of plates does not reach.

    Args:
        wall: the wall.
        soil: density of the wet soil, kg/m3.

    Source: formwork.strength.plates, open top under head.
    """
    try:
        found = coefficients("plate_open_top_head", wall.depth / wall.width)
    except RangeError:
        return as_strip(wall, soil)
    moment = max(found["moment_across"], found["moment_up"]) * liquid_head(soil, wall.depth) * wall.width**2
    return min(6.0 * moment / wall.thickness**2, as_strip(wall, soil))


def as_ring(wall: RoundWall, soil: float) -> float:
    """Greatest tension in a round wall under wet soil that hoops alone carry, Pa: p r / t at the floor.

    Args:
        wall: the wall.
        soil: density of the wet soil, kg/m3.

    >>> round(as_ring(RoundWall(radius=0.2, depth=0.3, thickness=0.05), 1600.0))
    18829
    """
    return liquid_head(soil, wall.depth) * wall.radius / wall.thickness


def as_staves(wall: RoundWall, soil: float) -> float:
    """Greatest tension in a round wall that hoops do not help, as where a crack runs down it, Pa.

    Upright strips fixed in the floor: p H^2 / 6 over t^2 / 6; never less than as a ring.

    Args:
        wall: the wall.
        soil: density of the wet soil, kg/m3.
    """
    return max(liquid_head(soil, wall.depth) * (wall.depth / wall.thickness) ** 2, as_ring(wall, soil))


def tension(mix: Mix) -> tuple[float, float] | None:
    """Least and greatest tensile strength that such a mix is said to have, Pa; None where no document speaks."""
    said = strength_indications(mix)
    if not said:
        return None
    low = min(one.low for one in said)
    return TENSION * low, TENSION * max(one.high or one.low for one in said)


def in_use(mix: Mix, molds: Sequence[Mold]) -> tuple[str, ...]:
    """A line for each piece that will hold soil, then how uncertain they are; nothing where none will."""
    pieces = [mold.piece for mold in molds if mold.piece.holds_soil]
    shut = tuple(
        f"{piece.name} has no drain hole: rain stands in it, the soil stays wet and frost bursts it; ask for one, or "
        "keep it under a roof."
        for piece in pieces
        if not piece.plugs
    )
    lines = tuple(_line(piece, mix) for piece in pieces)
    return (*lines, *shut, _UNCERTAIN) if lines else ()


_UNCERTAIN = (
    "These figures for soil are very uncertain, and no promise: nobody has tested your mix, drying cracks take "
    "strength away, and frozen wet soil or a clogged drain loads a planter more than drained soil. Keep the drain "
    "open over gravel, line the walls with something soft where it freezes, and fill one with wet soil before you "
    "give any away."
)


@record
class _Worst:
    """The wall of a piece that is worst off: its sizes, the least and the most stress (Pa), and what each supposes."""

    sizes: str
    least: float
    most: float
    least_as: str
    most_as: str


def _worst(piece: Piece) -> _Worst:
    found = max(walls(piece), key=lambda one: _most(one, SOILS[1]))
    deep = f"{length_text(found.depth)} deep, {length_text(found.thickness)} thick"
    most = _most(found, SOILS[1])
    match found:
        case Wall():
            sizes = f"{length_text(found.width)} wide, {deep}"
            return _Worst(sizes, as_plate(found, SOILS[0]), most, "as a plate", "as a strip")
        case RoundWall():
            sizes = f"{length_text(2.0 * found.radius)} across inside, {deep}"
            return _Worst(sizes, as_ring(found, SOILS[0]), most, "as a ring", "once cracked upright")
        case _:
            assert_never(found)


def _most(wall: Wall | RoundWall, soil: float) -> float:
    return as_strip(wall, soil) if isinstance(wall, Wall) else as_staves(wall, soil)


def _line(piece: Piece, mix: Mix) -> str:
    worst = _worst(piece)
    return (
        f"{piece.name} in use: wet soil of {SOILS[0]:.0f} to {SOILS[1]:.0f} kg/m3 (100 to 125 lb/ft3) up to the rim, "
        f"over a clogged drain, bends the wall ({worst.sizes}) to {_mpa(worst.least)} MPa (lighter soil, "
        f"{worst.least_as}) to {_mpa(worst.most)} MPa (heavier, {worst.most_as}), half of it when drained; "
        f"{beside(worst.least, worst.most, tension(mix))}"
    )


def beside(least: float, most: float, strength: tuple[float, float] | None) -> str:
    """What a range of stress (Pa) means beside the range of strength (Pa) that others published."""
    if strength is None:
        return "no document gives a strength for this mix: cast a trial piece."
    low, high = strength
    bear = f"{_mpa(low)} to {_mpa(high)} MPa in tension, an eighth of what they bear crushed"
    said = f"such mixes are said to bear {bear}"
    if most <= low:
        return f"{said}: at most {100.0 * most / low:.0f} % of the lesser is used."
    way = "is likely to crack it" if least > high else "may crack it"
    return f"{said}: that {way}. Thicker walls, a denser mix or mesh of alkali-resistant glass help."


def _mpa(stress: float) -> str:
    return f"{stress / 1e6:.2g}"
