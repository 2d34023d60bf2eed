"""Rings and discs cut from sheet: what the saw makes of each, and where it lies in the mold.

Lengths in m, angles in rad.

Rings are cut whole where the sheet has room, else in segments whose joints stand over the middles of those below. Half
rings of a mold that parts through the axis have an ear at either end, through which the two halves are bolted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import asin, cos, pi, sin, sqrt, tau
from typing import Literal

from formwork.geometry.outlines import (
    Outline,
    Point,
    box,
    circle,
    mirrored,
    polygon,
    ring_sector,
    shifted,
    turned_by,
)
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, add, scale
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.molds.stacks.layers import Layer
from formwork.record import record
from formwork.stock.records import SheetStock

EAR = 0.06
"""How far an ear stands out beyond its ring, m: room for a washer and a spanner (common practice, no source)."""
EAR_DEEP = 0.045
"""Depth of an ear behind the parting plane, m (common practice, no source)."""
_PIECES = (1, 2, 3, 4, 6, 8)
Face = Literal["upper", "lower"]
UP: Vec = (0.0, 0.0, 1.0)
DOWN: Vec = (0.0, 0.0, -1.0)


@record
class Ring:
    """One layer of the wall, or one of its segments.

    Attributes:
        layer: where it lies and how its inner edge is cut.
        outer: radius of its outer edge.
        start: direction in which it begins.
        sweep: angle it goes round.
        ears: an ear stands at its start, at its end.
    """

    layer: Layer
    outer: float
    start: float = 0.0
    sweep: float = tau
    ears: tuple[bool, bool] = (False, False)


def ring_part(ring: Ring, name: str, group: str, sheet: SheetStock, work: str) -> Part:
    """A ring, or a segment of one, as a part.

    Args:
        ring: the ring.
        name: of the part.
        group: that it comes off with.
        sheet: that it is cut from.
        work: what is done to it besides.
    """
    if ring.sweep > tau - 1e-9:
        return _whole(ring, name, group, sheet, work)
    layer = ring.layer
    plan = _plan(ring)
    face: Face = "lower" if layer.foot <= layer.head else "upper"
    blank, placement = _laid(plan, ring.start + ring.sweep / 2.0, layer, face, sheet)
    inner = len(plan.points) - 1
    bevels = [abs(layer.lean) if i == inner else 0.0 for i in range(len(plan.points))]
    if face == "lower":
        bevels = bevels[::-1]
    return board(
        name,
        "ring",
        group,
        sheet,
        Blank(*blank, tuple(bevels), bulges=_bulges(plan, face)),
        placement,
        turned=(Turned(_profile(ring), (0.0, 0.0), ring.start, ring.sweep),),
        prisms=tuple(_ears(ring)),
        work=work,
    )


def _whole(ring: Ring, name: str, group: str, sheet: SheetStock, work: str) -> Part:
    """A ring in one piece: its inner edge is an opening, drawn where it is least; a bevel is said in words."""
    layer = ring.layer
    face: Face = "lower" if layer.foot <= layer.head else "upper"
    (length, width, thickness, outline), placement = _laid(
        circle((0.0, 0.0), ring.outer), pi / 2.0, layer, face, sheet
    )
    return board(
        name,
        "ring",
        group,
        sheet,
        Blank(
            length,
            width,
            thickness,
            outline,
            (0.0,) * len(outline),
            bulges=circle((0.0, 0.0), ring.outer).bulges,
            openings=(circle((ring.outer, ring.outer), layer.least),),
        ),
        placement,
        turned=(Turned(_profile(ring)),),
        work=work,
    )


def disc_part(layer: Layer, name: str, role: PartRole, group: str, sheet: SheetStock, work: str) -> Part:
    """A disc of a core; its larger face is the one that is drawn."""
    face: Face = "lower" if layer.foot > layer.head else "upper"
    plan = circle((0.0, 0.0), layer.greatest)
    blank, placement = _laid(plan, pi / 2.0, layer, face, sheet)
    corners = ((0.0, layer.low), (layer.foot, layer.low), (layer.head, layer.high), (0.0, layer.high))
    return board(
        name,
        role,
        group,
        sheet,
        Blank(*blank, (abs(layer.lean),) * 4, bulges=plan.bulges),
        placement,
        turned=(Turned(polygon(corners)),),
        work=work,
    )


def board(
    name: str,
    role: PartRole,
    group: str,
    sheet: SheetStock,
    blank: Blank,
    placement: Placement,
    *,
    turned: tuple[Turned, ...] = (),
    prisms: tuple[Prism, ...] = (),
    work: str,
) -> Part:
    """A part of one layer of sheet, by the bodies that it fills."""
    return Part(
        name=name,
        role=role,
        kind="panel",
        stock=sheet.name,
        group=group,
        cells=(),
        blank=blank,
        placement=placement,
        work=work,
        turned=turned,
        prisms=prisms,
    )


def _profile(ring: Ring) -> Outline:
    layer = ring.layer
    return polygon(
        (
            (layer.foot, layer.low),
            (ring.outer, layer.low),
            (ring.outer, layer.high),
            (layer.head, layer.high),
        )
    )


def _plan(ring: Ring) -> Outline:
    """A segment in plan, its inner arc as the last leg, at its least radius."""
    inner, outer, start, end = ring.layer.least, ring.outer, ring.start, ring.start + ring.sweep
    if not any(ring.ears):
        return ring_sector(inner, outer, start, ring.sweep)
    first, last = ring.ears
    from_, to = start + (_turn(outer) if first else 0.0), end - (_turn(outer) if last else 0.0)
    points = [_polar(inner, start), *(_ear(outer, start, 1.0) if first else ()), _polar(outer, from_)]
    points += [_polar(outer, to), *(_ear(outer, end, -1.0)[::-1] if last else ()), _polar(inner, end)]
    arc = 3 if first else 1
    bulges = [0.0] * len(points)
    bulges[arc], bulges[-1] = _bulge(to - from_), -_bulge(ring.sweep)
    return Outline(tuple(points), tuple(bulges))


def _bulge(sweep: float) -> float:
    return sin(sweep / 4.0) / cos(sweep / 4.0)


def _turn(outer: float) -> float:
    """Angle from the parting plane to where an ear's back meets the ring."""
    return asin(EAR_DEEP / outer)


def _polar(r: float, angle: float) -> Point:
    return (r * cos(angle), r * sin(angle))


def _ear(outer: float, angle: float, way: float) -> tuple[Point, Point]:
    """The two outer corners of an ear on the parting plane that lies in a direction, and behind it."""
    (c, s), far = (cos(angle), sin(angle)), outer + EAR
    return (far * c, far * s), (far * c - way * EAR_DEEP * s, far * s + way * EAR_DEEP * c)


def _ears(ring: Ring) -> Iterator[Prism]:
    """What of the ears stands outside the ring."""
    layer, outer = ring.layer, ring.outer
    turn = _turn(outer) if any(ring.ears) else 0.0
    for there, angle, way in (
        (ring.ears[0], ring.start, 1.0),
        (ring.ears[1], ring.start + ring.sweep, -1.0),
    ):
        if there:
            near, far = _ear(outer, angle, way)
            corners = [_polar(outer, angle), near, far, _polar(outer, angle + way * turn)]
            bulges = [0.0, 0.0, 0.0, -way * _bulge(turn)]
            outline = Outline(tuple(corners), tuple(bulges))
            if way < 0.0:
                outline = _backward(outline)
            yield Prism(outline, layer.thickness, (0.0, 0.0, layer.low))


def _backward(outline: Outline) -> Outline:
    return Outline(
        (outline.points[0], *outline.points[:0:-1]), tuple(-bulge for bulge in outline.bulges[::-1])
    )


_Laid = tuple[tuple[float, float, float, tuple[Point, ...]], Placement]


def _laid(plan: Outline, middle: float, layer: Layer, face: Face, sheet: SheetStock) -> _Laid:
    """Size and outline of a plan as a blank with its middle across the grain, and where it lies.

    Args:
        plan: seen from above.
        middle: the direction that comes to lie across the grain.
        layer: it lies in.
        face: of the layer that the outline is drawn on.
        sheet: it is cut from.
    """
    flat = turned_by(plan, pi / 2.0 - middle)
    radial, tangent = _polar(1.0, middle), _polar(1.0, middle - pi / 2.0)
    if face == "lower":
        flat, tangent = mirrored(flat), (-tangent[0], -tangent[1])
    (x, y), (far, wide) = box(flat)
    along, across = (*tangent, 0.0), (*radial, 0.0)
    z = layer.high if face == "upper" else layer.low
    origin = add(add(scale(along, x), scale(across, y)), (0.0, 0.0, z))
    moved = shifted(flat, (-x, -y))
    into = DOWN if face == "upper" else UP
    return (far - x, wide - y, sheet.thickness, moved.points), Placement(origin, along, across, into)


def _bulges(plan: Outline, face: Face) -> tuple[float, ...]:
    return plan.bulges if face == "upper" else mirrored(plan).bulges


def bounds(start: float, sweep: float, count: int, shifted_round: bool) -> tuple[tuple[float, float], ...]:
    """Start and sweep of each segment of a ring or half ring; every second layer is shifted by half a segment.

    Args:
        start: where the ring begins.
        sweep: a whole turn, or half of one for a mold that parts.
        count: segments.
        shifted_round: this layer is shifted; a half ring then begins and ends with half a segment.
    """
    if count == 1:
        return ((start, sweep),)
    each = sweep / count
    if not shifted_round:
        return tuple((start + k * each, each) for k in range(count))
    if sweep > tau - 1e-9:
        return tuple((start + (k + 0.5) * each, each) for k in range(count))
    inner = tuple((start + (k + 0.5) * each, each) for k in range(count - 1))
    return ((start, each / 2.0), *inner, (start + sweep - each / 2.0, each / 2.0))


def segments_wanted(
    stack: Sequence[Layer], outer: float, parted: bool, sheet: SheetStock, trim: float
) -> int | None:
    """In how many segments to cut each ring (each half ring): the fewest that take at most one sheet more than must be.

    None where not even the shortest segment fits the sheet.

    Args:
        stack: the layers.
        outer: greatest radius of the rings.
        parted: half rings with ears.
        sheet: that they are cut from.
        trim: taken off each edge of it.
    """
    inner = min(layer.least for layer in stack)
    room = (sheet.length - 2.0 * trim, sheet.width - 2.0 * trim)
    wanted: dict[int, int] = {}
    for count in _PIECES:
        length, width = _box(inner, outer, (pi if parted else tau) / count, parted)
        fit = int(room[0] / length) * int(room[1] / width)
        if fit:
            number = len(stack) * count * (2 if parted else 1)
            wanted[count] = -(-number // fit)
    if not wanted:
        return None
    least = min(wanted.values())
    return next(count for count, sheets in wanted.items() if sheets <= least + 1)


def _box(inner: float, outer: float, sweep: float, parted: bool) -> tuple[float, float]:
    """Length and width of the box round a segment."""
    if sweep > pi + 1e-9:
        return 2.0 * outer, 2.0 * outer
    length = 2.0 * outer * sin(sweep / 2.0)
    width = outer - inner * cos(sweep / 2.0)
    ear = EAR if parted else 0.0
    return length + 2.0 * ear, max(width, sqrt(2.0) * ear)
