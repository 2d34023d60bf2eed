"""Bucks of a dome's doorways: boards between the two skins round each opening, and a template of half its outline.

Each board lies on a side of the opening and is scribed to the forms inside and outside; its room is what it takes of
the shell. Boards of an arched head are staves, planed to the template.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import asin, atan2, ceil, dist, hypot, pi, tau

from formwork.errors import GeometryError
from formwork.geometry.cells import Cell, cell, meet
from formwork.geometry.outlines import Outline, Point, area, box, legs
from formwork.geometry.planes import HalfSpace
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec, add, cross, dot, scale
from formwork.molds.dome.form import DomeForm, Side, bay_cell, squeezed
from formwork.molds.dome.gores import upper_end
from formwork.molds.mold import Blank, Part, Placement
from formwork.record import record
from formwork.shapes.piece import curved

_STAVE = pi / 8.0
"""Most that one stave of an arched head turns, rad."""
_STEPS = 12
TEMPLATE = "template"


@record
class _Board:
    """One board of a buck: its outer face from one corner of the opening to the next, and the mitres at its ends."""

    start: Point
    end: Point
    before: Point
    after: Point


def bucks(form: DomeForm) -> Iterator[Part]:
    """Every part of every doorway's buck."""
    for former in curved(form.piece).formers:
        if isinstance(former.body, Prism):
            yield template(form, former.name, former.body)
            yield from _boards(form, former.name, former.body)


def template(form: DomeForm, name: str, body: Prism) -> Part:
    """Half the doorway's outline, full size, to plane and set the boards by; it stays on the bench.

    Raises:
        GeometryError: where it does not fit the sheet.
    """
    half = half_outline(body.outline)
    (x0, y0), (x1, y1) = box(half)
    upright = y1 - y0 > x1 - x0
    points = tuple((y - y0, x1 - x) if upright else (x - x0, y - y0) for x, y in half.points)
    long, wide = (y1 - y0, x1 - x0) if upright else (x1 - x0, y1 - y0)
    if long > form.sheet.length or wide > form.sheet.width:
        raise GeometryError(
            f"{form.piece.name}: {name}: half of it is larger than a sheet of {form.sheet.name}; make it smaller, or "
            "name a larger sheet in the piece's mold table"
        )
    along, up = body.along, body.across
    start = add(body.origin, add(scale(along, x1 if upright else x0), scale(up, y0)))
    return Part(
        name=f"{name} {TEMPLATE}",
        role="template",
        kind="panel",
        stock=form.sheet.name,
        group=name,
        cells=(),
        blank=Blank(long, wide, form.ply, points, (0.0,) * len(points), bulges=half.bulges),
        placement=Placement(
            start,
            up if upright else along,
            scale(along, -1.0) if upright else up,
            body.axis,
        ),
        work="half of the opening: turn it over in the middle for the other side",
    )


def half_outline(outline: Outline) -> Outline:
    """The right half of an opening that is the same on both sides of x = 0, from its sill up."""
    (_, low), (_, high) = box(outline)
    right = [(p, b) for p, b in zip(outline.points, outline.bulges, strict=True) if p[0] > 1e-9]
    right.sort(key=lambda one: one[0][1])
    first = [] if abs(right[0][0][1] - low) > 1e-9 else [((0.0, low), 0.0)]
    points = [*first, *right, ((0.0, high), 0.0)]
    bulges = [b for _, b in points]
    if outline.bulges[outline.points.index(right[-1][0])] == 0.0:
        bulges[-2] = 0.0
    return Outline(tuple(p for p, _ in points), tuple(bulges))


def doorway(part: Part) -> Prism:
    """The whole opening as a template and its place tell it, from the axis outward."""
    blank, at = part.blank, part.placement
    corners = [add(at.origin, add(scale(at.along, x), scale(at.across, y))) for x, y in blank.outline]
    level = cross((0.0, 0.0, 1.0), at.into)
    half = Outline(tuple((dot(level, p), p[2]) for p in corners), blank.bulges)
    if area(half) < 0.0:
        half = Outline(half.points[::-1], tuple(-b for b in (*half.bulges[-2::-1], half.bulges[-1])))
    right = [(p, b) for p, b in zip(half.points, half.bulges, strict=True) if p[0] > 1e-9]
    top = max(half.points, key=lambda p: p[1])
    arched = right[-1][1] != 0.0
    middle = [(top, right[-1][1])] if arched else []
    left = [((-x, y), 0.0) for (x, y), _ in reversed(right)]
    turned = [b for _, b in right[:-1]][::-1]
    bulges = [b for _, b in right[:-1]] + [right[-1][1]] + [b for _, b in middle] + turned + [0.0]
    points = [p for p, _ in (*right, *middle, *left)]
    return Prism(Outline(tuple(points), tuple(bulges)), 1.0, along=level, across=(0.0, 0.0, 1.0))


def _boards(form: DomeForm, name: str, body: Prism) -> Iterator[Part]:
    shell = _shell_cells(form, body)
    for number, board in enumerate(_sides(body.outline), start=1):
        slab = _slab(form, body, board)
        shared = [found for one in shell if (found := meet(form.planes, one, slab)) is not None]
        if shared:
            yield _part(form, f"{name} board {number}", name, body, board, shared)


def _sides(outline: Outline) -> list[_Board]:
    """The boards round an opening, from the foot of one jamb over the head to the other; none at the sill."""
    corners: list[Point] = []
    for leg in legs(outline):
        if leg.bulge == 0.0:
            corners.append(leg.start)
            continue
        arc = leg.arc()
        steps = max(1, ceil(abs(arc.sweep) / _STAVE - 1e-9))
        corners += [arc.at(i / steps) for i in range(steps)]
    low = min(y for _, y in corners)
    first = max((i for i, p in enumerate(corners) if p[1] < low + 1e-9), key=lambda i: corners[i][0])
    path = [*corners[first:], *corners[:first]]
    found = []
    for i in range(len(path) - 1):
        before = path[i - 1] if i else None
        after = path[i + 2] if i + 2 < len(path) else None
        found.append(
            _Board(
                path[i],
                path[i + 1],
                _mitre(before, path[i], path[i + 1]),
                _mitre(path[i], path[i + 1], after),
            )
        )
    return found


def _mitre(before: Point | None, at: Point, after: Point | None) -> Point:
    """Unit normal, along the way, of the plane in which two boards meet; level at the sill."""
    if before is None:
        return 0.0, 1.0
    if after is None:
        return 0.0, -1.0
    a, b = _way(before, at), _way(at, after)
    size = hypot(a[0] + b[0], a[1] + b[1])
    return (a[0] + b[0]) / size, (a[1] + b[1]) / size


def _way(a: Point, b: Point) -> Point:
    size = dist(a, b)
    return (b[0] - a[0]) / size, (b[1] - a[1]) / size


def _slab(form: DomeForm, body: Prism, board: _Board) -> Cell:
    """A board as long as the doorway's box, its outer face on the side of the opening."""
    (dx, dy), ply = _way(board.start, board.end), form.ply
    planes = (
        _plane(body, (dy, -dx), board.start, 0.0),
        _plane(body, (-dy, dx), board.start, ply),
        _plane(body, (-board.before[0], -board.before[1]), board.start, 0.0),
        _plane(body, board.after, board.end, 0.0),
        HalfSpace(body.axis, dot(body.axis, body.origin) + body.height, "outer end"),
        HalfSpace(scale(body.axis, -1.0), -dot(body.axis, body.origin), "inner end"),
    )
    made = cell(form.planes, planes, f"{form.piece.name}: doorway")
    if made is None:
        raise GeometryError(
            f"{form.piece.name}: a doorway is too narrow for boards {1000 * ply:.0f} mm thick on both sides"
        )
    return made


def _plane(body: Prism, normal: Point, at: Point, beyond: float) -> HalfSpace:
    """A plane along the doorway's axis, square to a direction of its outline."""
    way = add(scale(body.along, normal[0]), scale(body.across, normal[1]))
    return HalfSpace(way, dot(way, body.place(at[0], at[1], 0.0)) + beyond, "side of doorway")


def _shell_cells(form: DomeForm, body: Prism) -> list[Cell]:
    """The shell as formed near a doorway, as convex bodies."""
    bearing = atan2(body.axis[1], body.axis[0])
    widest = max(x for x, _ in body.outline.points)
    reach = asin(min(1.0, widest / form.shell.inside.r(form.shell.inside.at_height(0.0)))) + 4.0 * form.half
    strips = [_fronts(form, side) for side in ("inner", "outer")]
    quads = [(strips[0][i], strips[1][i], strips[1][i + 1], strips[0][i + 1]) for i in range(_STEPS)]
    (_, top) = box(body.outline)[1]
    found = []
    for bay in range(form.count):
        way = form.bearing(bay + 0.5)
        if abs((way - bearing + pi) % tau - pi) < max(reach, pi / 3.0 + form.half):
            found += [
                bay_cell(form, way, quad, (form.half, 0.0), (form.half, 0.0), "shell")
                for quad in quads
                if min(z for _, z in quad) < top
            ]
    return found


def _fronts(form: DomeForm, side: Side) -> list[Point]:
    face = form.face(side)
    low, high = face.springing, upper_end(form, side)
    return [squeezed(form, face.point(low + (high - low) * i / _STEPS)) for i in range(_STEPS + 1)]


def _part(form: DomeForm, name: str, group: str, body: Prism, board: _Board, cells: Sequence[Cell]) -> Part:
    """A board, as a rectangle that holds it: it is scribed to the forms."""
    dx, dy = _way(board.start, board.end)
    side: Vec = add(scale(body.along, dx), scale(body.across, dy))
    normal = add(scale(body.along, dy), scale(body.across, -dx))
    points = [p for one in cells for p in one.points()]
    span = [dot(side, p) for p in points]
    deep = [dot(body.axis, p) for p in points]
    high, wide = max(span) - min(span), max(deep) - min(deep)
    face = dot(normal, body.place(board.start[0], board.start[1], 0.0))
    scribe = asin(min(0.9, abs(board.start[0]) / form.foot[0])) or form.half
    mitres = [asin(min(1.0, abs(dx * m[1] - dy * m[0]))) for m in (board.before, board.after)]
    across_first = wide > high
    long, short = (wide, high) if across_first else (high, wide)
    a, b = (body.axis, side) if across_first else (side, body.axis)
    if dot(cross(a, b), normal) < 0.0:
        b = scale(b, -1.0)
    low_a, low_b = min(dot(a, p) for p in points), min(dot(b, p) for p in points)
    bevels = (
        (mitres[0], scribe, mitres[1], scribe) if across_first else (scribe, mitres[1], scribe, mitres[0])
    )
    return Part(
        name=name,
        role="board",
        kind="panel",
        stock=form.sheet.name,
        group=group,
        cells=tuple(cells),
        blank=Blank(long, short, form.ply, ((0.0, 0.0), (long, 0.0), (long, short), (0.0, short)), bevels),
        placement=Placement(
            add(add(scale(a, low_a), scale(b, low_b)), scale(normal, face)), a, b, scale(normal, -1.0)
        ),
        good_face="outline",
        work="scribe the edges to the skins of the forms and bevel them to lie on; plane a stave to the template",
    )
