"""The judge of parts that come out of one blank: true shapes inside it, a kerf apart from one another.

It knows outlines and places and nothing of how rows are made: edges are measured against edges.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import hypot, tan

from formwork.cutting.records import Placed, SheetPlan, Spot
from formwork.cutting.replay import TOLERANCE, Box, box_of, fault
from formwork.geometry.outlines import Outline, Point, flattened
from formwork.molds.mold import Blank
from formwork.stock.records import Saw

_CHORD = 2e-4
"""Arcs are measured as chords that lie no further from them than this, m."""

Corners = tuple[Point, ...]
Shape = tuple[Corners, ...]
"""An outline, then its openings."""


def judge_rows(blanks: Mapping[str, Blank], saw: Saw, plan: SheetPlan) -> None:
    """Check every blank that holds several parts.

    Args:
        blanks: of the parts, by label.
        saw: its kerf, m.
        plan: the plan.

    Raises:
        InternalError: naming the sheet and the fault.
    """
    passed: set[tuple[object, ...]] = set()
    for number, layout in enumerate(plan.layouts, start=1):
        where = f"sheet layout {number}"
        for placed in layout.placed:
            if placed.nested:
                _judge_blank(where, placed, blanks, saw.kerf, passed)


def _judge_blank(
    where: str, placed: Placed, blanks: Mapping[str, Blank], kerf: float, passed: set[tuple[object, ...]]
) -> None:
    shapes = [(spot, _shape(spot, blanks[spot.label])) for spot in placed.nested]
    if placed.label != _called([spot.label for spot in placed.nested]):
        fault(where, f"{placed.label} holds other parts than its name says")
    for spot, shape in shapes:
        if not box_of(placed).holds(_box(shape[0])):
            fault(where, f"a {spot.label} reaches out of the blank {placed.label}")
    for (one, first), (other, second) in combinations(shapes, 2):
        key = _apart(one, other)
        gap = kerf + 2.0 * _CHORD + _leaning_out(blanks[one.label]) + _leaning_out(blanks[other.label])
        if key not in passed and _near(first, second, gap):
            fault(
                where, f"{one.label} and {other.label} in the blank {placed.label} leave no room for the saw"
            )
        passed.add(key)


def _leaning_out(blank: Blank) -> float:
    """What the saw cuts under the outline's neighbours, m, where an edge leans out."""
    return max((blank.thickness * tan(-bevel) for bevel in blank.bevels if bevel < 0.0), default=0.0)


def _called(labels: Sequence[str]) -> str:
    """What a blank is called: by number where its parts are alike, else by their names, the outermost first."""
    return f"{len(labels)} x {labels[0]}" if len(set(labels)) == 1 else " with ".join(labels)


def _apart(one: Spot, other: Spot) -> tuple[object, ...]:
    """What two pairs that lie to one another alike have in common."""
    return (
        one.label,
        other.label,
        one.quarters,
        other.quarters,
        round((other.x - one.x) / TOLERANCE),
        round((other.y - one.y) / TOLERANCE),
    )


def _shape(spot: Spot, blank: Blank) -> Shape:
    return tuple(_corners(spot, blank, outline) for outline in (blank.edge, *blank.openings))


def _corners(spot: Spot, blank: Blank, outline: Outline) -> Corners:
    corners = flattened(outline, _CHORD)
    length, width = blank.length, blank.width
    for _ in range(spot.quarters):
        corners = tuple((width - y, x) for x, y in corners)
        length, width = width, length
    return tuple((spot.x + x, spot.y + y) for x, y in corners)


def _box(corners: Corners) -> Box:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _near(first: Shape, second: Shape, gap: float) -> bool:
    """Two shapes come nearer than the gap, or one lies in the wood of the other."""
    if not _close(_box(first[0]), _box(second[0]), gap):
        return False
    if _inside(first[0][0], second) or _inside(second[0][0], first):
        return True
    others = [(_box(edge), edge) for corners in second for edge in _edges(corners)]
    return any(
        _close(_box(edge), box, gap) and _distance(edge, other) < gap - TOLERANCE
        for corners in first
        for edge in _edges(corners)
        for box, other in others
    )


def _edges(corners: Corners) -> Iterator[Corners]:
    yield from zip(corners, (*corners[1:], corners[0]), strict=True)


def _close(one: Box, other: Box, gap: float) -> bool:
    return (
        one.left < other.right + gap
        and other.left < one.right + gap
        and one.bottom < other.top + gap
        and other.bottom < one.top + gap
    )


def _distance(one: Sequence[Point], other: Sequence[Point]) -> float:
    """Between two straight edges, m; 0 where they cross."""
    (a, b), (c, d) = one, other
    if _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0:
        return 0.0
    ends = ((a, (c, d)), (b, (c, d)), (c, (a, b)), (d, (a, b)))
    return min(_from_edge(point, edge) for point, edge in ends)


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _from_edge(p: Point, edge: tuple[Point, Point]) -> float:
    (ax, ay), (bx, by) = edge
    run, rise = bx - ax, by - ay
    square = run * run + rise * rise
    along = 0.0 if square == 0.0 else ((p[0] - ax) * run + (p[1] - ay) * rise) / square
    along = min(1.0, max(0.0, along))
    return hypot(p[0] - ax - along * run, p[1] - ay - along * rise)


def _inside(p: Point, shape: Shape) -> bool:
    """A ray from the point to the right crosses outline and openings an odd number of times."""
    inside = False
    for (ax, ay), (bx, by) in (edge for corners in shape for edge in _edges(corners)):
        if (ay > p[1]) != (by > p[1]) and p[0] < ax + (p[1] - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside
