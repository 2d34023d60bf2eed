"""Pieces with four sides: the leaning faces, chamfer strips and turns that planters, blocks and slabs share.

Frame: x along the length, y along the width, z up, the middle of the base at the origin. All lengths in m.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, tan

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace, behind
from formwork.geometry.vectors import Vec, add, cross, dot, scale, sub, unit
from formwork.shapes.piece import Face, Former, Seat
from formwork.units import show

SIDES: tuple[tuple[str, float, float], ...] = (
    ("front", 0.0, -1.0),
    ("right", 1.0, 0.0),
    ("back", 0.0, 1.0),
    ("left", -1.0, 0.0),
)
"""Name and level outward direction of each side, counter-clockwise seen from above, the front first."""
UP: Vec = (0.0, 0.0, 1.0)
_LEAST_CHAMFER = 0.0005


def leaning(name: str, way: tuple[float, float], low: float, high: float, height: float) -> HalfSpace:
    """The side that stands ``low`` from the axis at z = 0 and ``high`` from it at z = height."""
    normal = (way[0] * height, way[1] * height, low - high)
    return behind(normal, (way[0] * low, way[1] * low, 0.0), name)


def side(name: str, way: tuple[float, float], at: float, level: float, lean: float) -> HalfSpace:
    """The side that stands ``at`` from the axis at z = level and leans outward, going up, by ``lean`` rad."""
    normal = (way[0] * cos(lean), way[1] * cos(lean), -cos(lean) * tan(lean))
    return behind(normal, (way[0] * at, way[1] * at, level), name)


def level(name: str, height: float, up: bool) -> HalfSpace:
    """A level face: below ``height`` (its outside is up), or above it."""
    return HalfSpace(UP if up else scale(UP, -1.0), height if up else -height, name)


def refuse_chamfer(leg: float, least: float, what: str, deep: bool, name: str) -> None:
    """Refuse a chamfer that eats the piece, or one too small for any tool.

    Args:
        leg: of the chamfer along each face, m; 0 for none.
        least: the thickness it is taken from, m.
        what: what that is ("wall").
        deep: the person said that it may be deeper than a quarter.
        name: of the piece.

    Raises:
        GeometryError: where it is deeper than a quarter and nobody said that it may be, or under half a millimetre.
    """
    if 0.0 < leg < _LEAST_CHAMFER:
        raise GeometryError(
            f"{name}: a chamfer of {show.both(leg)} is too small to make; make it at least "
            f"{show.both(_LEAST_CHAMFER)}, or 0 for none"
        )
    if leg > least / 4.0 + 1e-12 and not deep:
        raise GeometryError(
            f"{name}: a chamfer of {show.both(leg)} is more than a quarter of the {what}, {show.both(least)}; "
            f"make it at most {show.both(least / 4.0)}, or say deep_chamfer = true"
        )


def chamfer(first: HalfSpace, second: HalfSpace, leg: float, name: str) -> HalfSpace:
    """The plane that takes ``leg`` (m, along each face) off the edge of two faces; its inside is the piece."""
    edge = unit(cross(first.normal, second.normal))
    corner = _meeting(first, second, edge)
    along = unit(sub(scale(first.normal, dot(first.normal, second.normal)), second.normal))
    return behind(add(first.normal, second.normal), add(corner, scale(along, leg)), name)


def _meeting(first: HalfSpace, second: HalfSpace, edge: Vec) -> Vec:
    """A point on the line where two planes meet."""
    a = cross(second.normal, edge)
    b = cross(edge, first.normal)
    size = dot(first.normal, a)
    return scale(add(scale(a, first.offset), scale(b, second.offset)), 1.0 / size)


def strips(
    edges: Sequence[tuple[str, HalfSpace, HalfSpace]],
    leg: float,
    bounds: Sequence[HalfSpace],
    seats: Sequence[tuple[Seat, str]],
) -> tuple[Former, ...]:
    """Chamfer strips in the named edges; where strips meet they are parted on the bisector of their faces.

    Args:
        edges: name of each strip and the two faces whose edge it fills.
        leg: size along each face, m.
        bounds: what else ends every strip (the envelope, the underside of a rim).
        seats: what each strip is fastened to.
    """
    planes = [chamfer(first, second, leg, name) for name, first, second in edges]
    made = []
    for i, (name, first, second) in enumerate(edges):
        lead = planes[i].flipped(name)
        others = [bisector(planes[i], other) for j, other in enumerate(planes) if j != i]
        made.append(
            Former(name, "strip", (first, second, lead, *bounds, *others), "solid", *seats[i], lead=lead)
        )
    return tuple(made)


def bisector(mine: HalfSpace, other: HalfSpace) -> HalfSpace:
    """Where two formers meet: the side on which a point lies further beyond ``mine`` than beyond ``other``."""
    normal = sub(other.normal, mine.normal)
    size = dot(normal, normal) ** 0.5
    return HalfSpace(scale(normal, 1.0 / size), (other.offset - mine.offset) / size, "bisector")


def turned(half: HalfSpace, height: float) -> HalfSpace:
    """The half-space after the piece is turned over about its length: y and z change sign, the top comes to z = 0."""
    nx, ny, nz = half.normal
    return HalfSpace((nx, -ny, -nz), half.offset - nz * height, half.name)


def turned_point(point: Vec, height: float) -> Vec:
    """A point of the piece after it is turned over."""
    return (point[0], -point[1], height - point[2])


def turned_former(former: Former, height: float) -> Former:
    """A former carried along when the piece is turned over."""
    lead = turned(former.lead, height) if former.lead else None
    halves = tuple(turned(half, height) for half in former.halves)
    return Former(former.name, former.kind, halves, former.build, former.seat, former.on, lead)


def turned_faces(faces: Sequence[Face], height: float) -> tuple[Face, ...]:
    """The envelope turned over, again counter-clockwise seen from above, base and fill last."""
    sides = [Face(f.name, f.role, turned(f.half, height)) for f in faces if f.role == "panel"]
    ends = [Face(f.name, f.role, turned(f.half, height)) for f in faces if f.role != "panel"]
    return (*sides[::-1], *ends)


def obelisk(length: float, width: float, top_length: float, top_width: float, height: float) -> float:
    """Volume of a body with level rectangular ends and four plane sides, m3.

    Source: prismatoid formula, CRC mensuration formulas; the rectangular case is the obelisk.

    >>> round(obelisk(24.0, 12.0, 30.0, 20.0, 16.0), 3)
    6976.0
    """
    middle = (length + top_length) * (width + top_width) / 4.0
    return height / 6.0 * (length * width + 4.0 * middle + top_length * top_width)


def row(count: int, length: float) -> tuple[float, ...]:
    """Places of ``count`` equal bays' middles along a length, measured from its middle, m.

    >>> row(2, 1.0)
    (-0.25, 0.25)
    """
    return tuple((i + 0.5) / count * length - length / 2.0 for i in range(count))
