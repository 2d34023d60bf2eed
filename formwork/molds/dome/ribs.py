"""Ribs of a dome's form: plies cut in segments from sheet, joints staggered or spliced, outer edges bevelled.

A rib stands on an upright plane through the axis and has its plies on both sides of it. Facets of skin fall away from
that plane by the tangent of half a bay's angle, level; so the edge that carries the skin is bevelled, and every level
cut of a rib is a true wedge. Ribs at the joints of two sections leave in halves, one ply to each section; key ribs
stand between such halves, reach to the mix, and have parallel sides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import atan, atan2, cos, hypot, sin, tan

from formwork.errors import GeometryError
from formwork.geometry.meridians import Meridian
from formwork.geometry.outlines import Leg, Outline, Point, box, mirrored, shifted, turned_by
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec
from formwork.molds.dome.form import DomeForm, Side, arcs, setback
from formwork.molds.dome.plies import SPLICE, Ply, plies
from formwork.molds.mold import Blank, Part, Placement
from formwork.record import record

_UP: Vec = (0.0, 0.0, 1.0)
_MOST_SEGMENTS = 24
_LEAST_TURN = 0.02
"""Least turn of a segment, rad."""


@record
class Edges:
    """The two edges of a ply as meridians, and which of them is bevelled.

    Attributes:
        outer: the edge away from the axis.
        inner: the edge towards it.
        carries: the edge that the skin lies on.
    """

    outer: Meridian
    inner: Meridian
    carries: Side


@record
class _Cut:
    """A ply's segment in the rib's plane: its legs in order, and how upright each bevelled one is."""

    legs: tuple[Leg, ...]
    bevelled: tuple[float | None, ...]


def ribs(form: DomeForm, side: Side) -> Iterator[Part]:
    """Every segment of every ply of one of the forms, and the plates that splice single plies."""
    known: dict[tuple[object, ...], list[Ends]] = {}
    for ply in plies(form, side):
        both = edges(form, side, ply.exposed)
        key = (ply.exposed, ply.staggered, ply.near, ply.low, ply.top)
        if key not in known:
            known[key] = _fitting(form, side, ply, both)
        yield from _ply_parts(form, side, ply, both, known[key])


def edges(form: DomeForm, side: Side, exposed: bool) -> Edges:
    """The edges of a ply."""
    line = form.rib_line(side)
    if side == "outer":
        return Edges(line.moved(form.depth), line, "inner")
    return Edges(form.shell.inside if exposed else line, line.moved(-form.depth), "outer")


def _ply_parts(form: DomeForm, side: Side, ply: Ply, both: Edges, stops: list[Ends]) -> Iterator[Part]:
    name = _name(side, ply)
    for number, (low, high) in enumerate(pairwise(stops), start=1):
        yield _segment(form, ply, both, (low, high), f"{name} segment {number}")
    if ply.spliced:
        beyond = replace(ply, near=ply.near + form.ply)
        for number, joint in enumerate(stops[1:-1], start=1):
            reach = SPLICE * form.ply / 2.0 / both.outer.bend(joint[0])
            ends = tuple((turn + sign * reach,) * 2 for turn, sign in ((joint[0], 1.0), (joint[0], -1.0)))
            yield _segment(form, beyond, both, (ends[0], ends[1]), f"{name} splice plate {number}")


def _name(side: Side, ply: Ply) -> str:
    hand = "left" if ply.sign > 0 else "right"
    return f"{side} {ply.kind.format(ply.rib + 1)} {hand} ply"


Ends = tuple[float, float]
"""Polar angles of one end of a segment, on its outer and on its inner edge."""


def _fitting(form: DomeForm, side: Side, ply: Ply, both: Edges) -> list[Ends]:
    """Ends of the fewest segments that all fit the sheet.

    Raises:
        GeometryError: where no number does.
    """
    foot = _foot(form, side, both) if ply.low is None else (ply.low, ply.low)
    top = _top(form, ply, both)
    for count in range(1, _MOST_SEGMENTS + 1):
        plain = _stops(foot, top, count, staggered=ply.staggered)
        clear = _kept_clear(form, both, plain) if ply.spliced else plain
        for stops in (clear, plain):
            if all(
                _fits(form, _lying(form.ply, _outline(_legs(both, ends, 0.0)), ())[0])
                for ends in pairwise(stops)
            ):
                return stops
    raise GeometryError(
        f"{form.piece.name}: ribs {1000 * form.depth:.0f} mm deep do not fit a sheet of {form.sheet.name}; name a "
        "larger sheet in the piece's mold table"
    )


def _stops(foot: Ends, top: Ends, count: int, *, staggered: bool) -> list[Ends]:
    """Ends of equal segments; of a staggered ply the first is half as long as the others."""
    shares = [i / count for i in range(1, count)]
    if staggered:
        shares = [(i + 0.5) / count for i in range(count)]
    turns = [foot[0] + (top[0] - foot[0]) * share for share in shares]
    return [foot, *((turn, turn) for turn in turns), top]


def _kept_clear(form: DomeForm, both: Edges, stops: list[Ends]) -> list[Ends]:
    """Ends whose joints are moved to where purlins leave room for splice plates; as they were, should two meet."""
    moved = [stops[0], *(_clear_of_purlins(form, both, one) for one in stops[1:-1]), stops[-1]]
    ordered = all(low[0] - high[0] > _LEAST_TURN for low, high in pairwise(moved))
    return moved if ordered else stops


def _clear_of_purlins(form: DomeForm, both: Edges, joint: Ends) -> Ends:
    """A joint moved to the nearest place where its splice plate has room between two purlins, if there is one."""
    reach = (SPLICE * form.ply + form.strut.width + 0.02) / 2.0 / both.outer.bend(joint[0])
    taken = (form.shell.inside.springing, *form.hoops, form.rib_line("inner").at_radius(form.top))
    rooms = [(low - reach, high + reach) for low, high in pairwise(taken) if low - reach > high + reach]
    if not rooms:
        return joint
    places = [min(max(joint[0], high), low) for low, high in rooms]
    nearest = min(places, key=lambda place: abs(place - joint[0]))
    return nearest, nearest


def _fits(form: DomeForm, blank: Blank) -> bool:
    room = min(form.sheet.width - 0.02, form.passing)
    return blank.length <= form.sheet.length - 0.02 and blank.width <= room


def _foot(form: DomeForm, side: Side, both: Edges) -> Ends:
    """Inner ribs stand level at the springing's height; outer ribs stand on the board under the shell."""
    if side == "outer" and form.shell.radial:
        return form.outside.springing, form.outside.springing
    return _at_height(both.outer, 0.0), _at_height(both.inner, 0.0)


def _top(form: DomeForm, ply: Ply, both: Edges) -> Ends:
    if ply.top is not None:
        return ply.top, ply.top
    radius = form.top + setback(form, ply.near + form.ply)
    return _at_radius(both.outer, radius), _at_radius(both.inner, radius)


def _segment(form: DomeForm, ply: Ply, both: Edges, ends: tuple[Ends, Ends], name: str) -> Part:
    near, far = (_legs(both, ends, setback(form, y)) for y in (ply.near, ply.near + form.ply))
    larger, seen_near = (near, True) if both.carries == "outer" else (far, False)
    facing = -ply.sign if seen_near else ply.sign
    blank, placement = _placed(form, ply, larger, facing, ply.near if seen_near else ply.near + form.ply)
    return Part(
        name=name,
        role="rib",
        kind="panel",
        stock=form.sheet.name,
        group=ply.group,
        cells=(),
        blank=blank,
        placement=placement,
        work="bevel the edge that carries the skin, more at the foot than at the crown",
        prisms=(_prism(form, ply, near, far),),
    )


@lru_cache(maxsize=4096)
def _legs(both: Edges, ends: tuple[Ends, Ends], back: float) -> _Cut:
    """A segment's legs, counter-clockwise from the foot of its outer edge; the carrying edge set back level."""
    (low_out, low_in), (high_out, high_in) = ends
    by = {"outer": 0.0, "inner": 0.0, both.carries: -back}
    up = [_moved(leg, by["outer"]) for leg in arcs(both.outer, low_out, high_out)]
    down = [_moved(leg, by["inner"]) for leg in arcs(both.inner, high_in, low_in)]
    carried = up if both.carries == "outer" else down
    legs: list[Leg] = []
    bevelled: list[float | None] = []
    for path, after in ((up, down), (down, up)):
        for leg in path:
            legs.append(leg)
            bevelled.append(_slope(leg) if path is carried else None)
        legs.append(Leg(path[-1].end, after[0].start, 0.0))
        bevelled.append(None)
    return _Cut(tuple(legs), tuple(bevelled))


@lru_cache(maxsize=128)
def _at_radius(line: Meridian, radius: float) -> float:
    return line.at_radius(radius)


@lru_cache(maxsize=128)
def _at_height(line: Meridian, height: float) -> float:
    return line.at_height(height)


def _moved(leg: Leg, by: float) -> Leg:
    (x0, y0), (x1, y1) = leg.start, leg.end
    return Leg((x0 + by, y0), (x1 + by, y1), leg.bulge)


def _slope(leg: Leg) -> float:
    """How far a leg's normal leans from the upright, as the level share of it."""
    (x0, y0), (x1, y1) = leg.start, leg.end
    return abs(y1 - y0) / hypot(x1 - x0, y1 - y0)


@lru_cache(maxsize=4096)
def _outline(cut: _Cut) -> Outline:
    return Outline(tuple(leg.start for leg in cut.legs), tuple(leg.bulge for leg in cut.legs))


def _prism(form: DomeForm, ply: Ply, near: _Cut, far: _Cut) -> Prism:
    """The ply in space: its height runs clockwise, so its foot is its far face on the counter-clockwise side."""
    direction = form.bearing(ply.rib)
    c, s = cos(direction), sin(direction)
    foot, head, off = (far, near, ply.near + form.ply) if ply.sign > 0 else (near, far, -ply.near)
    return Prism(
        outline=_outline(foot),
        height=form.ply,
        origin=(-s * off, c * off, 0.0),
        along=(c, s, 0.0),
        across=_UP,
        head=_outline(head),
    )


@lru_cache(maxsize=4096)
def _lying(ply: float, outline: Outline, bevels: tuple[float, ...]) -> tuple[Blank, float, Point]:
    """An outline on the sheet, its longest chord from its first corner along the grain; how it was turned and moved."""
    first = outline.points[0]
    last = max(outline.points, key=lambda p: (p[0] - first[0]) ** 2 + (p[1] - first[1]) ** 2)
    turn = -_direction(first, last)
    lying = turned_by(outline, turn)
    (x0, y0), (x1, y1) = box(lying)
    laid = shifted(lying, (-x0, -y0))
    blank = Blank(x1 - x0, y1 - y0, ply, laid.points, bevels, bulges=laid.bulges)
    return blank, turn, (-x0, -y0)


def _direction(a: Point, b: Point) -> float:
    return atan2(b[1] - a[1], b[0] - a[0])


def _placed(form: DomeForm, ply: Ply, cut: _Cut, facing: int, off: float) -> tuple[Blank, Placement]:
    """The blank as its larger face is seen, and where that face stands.

    Seen clockwise of its plane the rib's r runs to the right; from the other side it is mirrored.
    """
    lean = tan(form.half)
    outline = _outline(cut)
    bevels = tuple(0.0 if level is None else atan(lean * level) for level in cut.bevelled)
    direction = form.bearing(ply.rib)
    c, s = cos(direction), sin(direction)
    right: Vec = (c, s, 0.0)
    if facing > 0:
        outline, bevels, right = mirrored(outline), bevels[::-1], (-c, -s, 0.0)
    made, turn, shift = _lying(form.ply, outline, bevels)
    cut_c, cut_s = cos(turn), sin(turn)
    along = _combined(right, cut_c, -cut_s)
    across = _combined(right, cut_s, cut_c)
    x, y = (-cut_c * shift[0] - cut_s * shift[1], cut_s * shift[0] - cut_c * shift[1])
    start = _combined(right, x, y)
    at = ply.sign * off
    origin = (start[0] - s * at, start[1] + c * at, start[2])
    into: Vec = (s * facing, -c * facing, 0.0)
    return made, Placement(origin, along, across, into)


def _combined(right: Vec, x: float, y: float) -> Vec:
    """A vector of x to the right and y up."""
    return (right[0] * x, right[1] * x, y)


def carried(prism: Prism) -> list[tuple[Leg, float]]:
    """The bevelled legs of a rib's prism, which carry skin, and how far each moves level from foot to head."""
    heads = (*prism.top.points[1:], prism.top.points[0])
    ends = (*prism.outline.points[1:], prism.outline.points[0])
    found = []
    for start, end, bulge, up, after in zip(
        prism.outline.points, ends, prism.outline.bulges, prism.top.points, heads, strict=True
    ):
        first, last = up[0] - start[0], after[0] - end[0]
        if abs(first) > 1e-9 and abs(first - last) < 1e-9:
            found.append((Leg(start, end, bulge), first))
    return found


def segments_of(parts: Sequence[Part], side: Side) -> list[Part]:
    """The segments of ribs of one of the forms, key ribs and splice plates left out."""
    return [
        one
        for one in parts
        if one.role == "rib" and one.name.startswith(f"{side} rib") and "segment" in one.name
    ]
