"""How far bodies, parts and the outsides of pieces reach. All lengths in m."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import sqrt

from formwork.drawings.polyhedra import Curve
from formwork.drawings.stations import grazing, outline_path, step_of
from formwork.geometry.cells import Cell
from formwork.geometry.outlines import Leg, Outline, legs
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Part

Box = tuple[Vec, Vec]
Reach = tuple[float, float]


def part_box(part: Part) -> Box:
    """Least and greatest corner of the box round a part."""
    return box_round(part_bodies(part))


def part_bodies(part: Part) -> tuple[Cell | Curve, ...]:
    """Everything a part fills."""
    return (*part.cells, *part.rounds, *part.turned, *part.prisms)


def standing(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts that stand in a mold: a template does not."""
    return tuple(part for part in parts if part_bodies(part) and part.role != "template")


def parts_box(parts: Iterable[Part]) -> Box:
    """Least and greatest corner of the box round several parts."""
    return box_round([body for part in parts for body in part_bodies(part)])


def box_round(bodies: Sequence[Cell | Curve]) -> Box:
    """Least and greatest corner of the box round several bodies."""
    boxes = [body_box(body) for body in bodies]
    low, high = (
        tuple(pick(box[end][i] for box in boxes) for i in range(3)) for end, pick in ((0, min), (1, max))
    )
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def body_box(body: Cell | Curve) -> Box:
    """Least and greatest corner of the box round one body, true whichever way it lies."""
    match body:
        case Round():
            return _round_box(body)
        case Prism():
            points = [*_corners(body, body.outline, 0.0), *_corners(body, body.top, body.height)]
            low, high = (tuple(pick(p[i] for p in points) for i in range(3)) for pick in (min, max))
            return (low[0], low[1], low[2]), (high[0], high[1], high[2])
        case _:
            return body.box()


def _round_box(body: Round) -> Box:
    ends = ((body.foot, body.foot_radius), (body.head(), body.head_radius))
    lean = [sqrt(max(0.0, 1.0 - a * a)) for a in body.axis]
    low = tuple(min(p[i] - r * lean[i] for p, r in ends) for i in range(3))
    high = tuple(max(p[i] + r * lean[i] for p, r in ends) for i in range(3))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _corners(body: Prism, outline: Outline, up: float) -> Iterator[Vec]:
    """The corners of a rim, and where its arcs reach furthest along an axis of space."""
    for point, _ in outline_path(outline, step_of, grazing(body.along, body.across)):
        yield body.place(*point, up)


def level_reach(body: Turned | Prism, level: float) -> tuple[Reach, Reach] | None:
    """How far a body reaches along x and along y at a level; None where it does not come there."""
    if isinstance(body, Prism):
        low, high = body_box(body)
        return ((low[0], high[0]), (low[1], high[1])) if body.head is None else _drawn_in(body, level)
    radius = radius_at(body, level)
    if radius is None:
        return None
    x, y = body.axis
    return (x - radius, x + radius), (y - radius, y + radius)


def _drawn_in(body: Prism, level: float) -> tuple[Reach, Reach] | None:
    """The same of a prism that is another at its head; None where it does not stand upright."""
    up = (level - body.origin[2]) * body.axis[2]
    if abs(abs(body.axis[2]) - 1.0) > 1e-9 or not -1e-6 <= up <= body.height + 1e-6:
        return None
    points = list(_corners(body, body.at(up / body.height), up))
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), max(xs)), (min(ys), max(ys))


def radius_at(body: Turned, level: float) -> float | None:
    """The greatest radius of a turned body at a level; None where it does not come there."""
    found = [r for leg in legs(body.profile) for r in radii_of(leg, level)]
    return max(found) if found else None


def radii_of(leg: Leg, level: float) -> Iterator[float]:
    """Where a leg of a profile meets a level."""
    for r, z in (leg.start, leg.end):
        if abs(z - level) < 1e-9:
            yield r
    if leg.bulge == 0.0:
        (r, z), (s, w) = leg.start, leg.end
        if min(z, w) < level < max(z, w):
            yield r + (s - r) * (level - z) / (w - z)
        return
    arc = leg.arc()
    rise = level - arc.centre[1]
    if abs(rise) < arc.radius:
        for side in (1.0, -1.0):
            yield from _on_arc(leg, arc.centre[0] + side * sqrt(arc.radius**2 - rise**2), level)


def _on_arc(leg: Leg, r: float, z: float) -> Iterator[float]:
    """A point of an arc's circle, where the arc itself goes through it: on the side of the chord that it bulges to."""
    (r0, z0), (r1, z1) = leg.start, leg.end
    off = (r1 - r0) * (z - z0) - (z1 - z0) * (r - r0)
    if off * leg.bulge < 0.0:
        yield r
