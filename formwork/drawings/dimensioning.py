"""Where dimensions go: outside the outline, short ones nearest to it, no figure over a line or another figure.

Each dimension tries the rows on both sides and takes the free place that costs least: rows far out, extension lines
that run through the view, and lines that cross cost something; a covered figure is never accepted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, hypot, pi, sin

from formwork.drawings.clearance import Box, Lines, Piece, crosses, line_pieces, overlap, text_boxes
from formwork.drawings.frames import Point
from formwork.drawings.layers import DIMENSIONS
from formwork.drawings.lettering import width
from formwork.drawings.scene import OVER_LINE, Dimension, Item, bounds, is_outline, placed, upright

FIRST_ROW = 10.0
"""From the outline to the first dimension line, mm."""
ROW = 8.0
"""Between dimension lines, mm."""
ROWS = 9
SIZE = 3.5
"""Height of the figures, mm."""
_BESIDE = 2.0
_APART = 6.5
_FROM_TEXT = 4.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """A dimension to place, in the axes of its view, m.

    Attributes:
        name: what is measured.
        start, end: the points.
        angle: direction it is measured in, rad; None for the straight distance of the points.
        sides: where its line may go: below, above, left, right.
        sign: what stands before the figure: that of a diameter.
    """

    name: str
    start: Point
    end: Point
    angle: float | None = None
    sides: tuple[str, ...] = ("below", "above", "left", "right")
    sign: str = ""

    def direction(self) -> float:
        """Direction it is measured in, rad."""
        if self.angle is not None:
            return self.angle
        return atan2(self.end[1] - self.start[1], self.end[0] - self.start[0])

    def span(self) -> float:
        """The distance measured, m."""
        a = self.direction()
        return abs((self.end[0] - self.start[0]) * cos(a) + (self.end[1] - self.start[1]) * sin(a))


def dimensioned(
    items: Sequence[Item], wanted: Sequence[Wanted], scale: float, show: Callable[[float], str]
) -> tuple[Item, ...]:
    """The items of a view with their dimensions.

    Args:
        items: of the view, m.
        wanted: what to measure.
        scale: n of 1:n.
        show: from m to the figures a person reads.

    Returns:
        The items and the dimensions, m. None is left out: one that finds no clear place in the rows stands outside
        everything drawn.
    """
    factor = 1000.0 / scale
    page = [placed(item, factor, (0.0, 0.0)) for item in items]
    outline = bounds([item for item in page if is_outline(item)])
    real = [one for one in wanted if one.span() > 1e-6]
    marks = [piece for one in real for point in (one.start, one.end) for piece in _cross(point, factor)]
    lines, texts = [p for item in page for p in line_pieces(item)], text_boxes(page)

    def fresh() -> _Paper:
        return _Paper(outline, Lines(lines), list(texts), [], marks)

    order = sorted(real, key=lambda w: (round(w.span(), 6), w.name, w.start))
    dims = _in_order(order, factor, show, fresh)
    return (*items, *(placed(dim, 1.0 / factor, (0.0, 0.0)) for dim in dims))


def _cross(point: Point, factor: float) -> tuple[Piece, Piece]:
    """A mark at a measured point, mm, so that no figure lies over a point that another dimension starts from."""
    x, y = point[0] * factor, point[1] * factor
    return ((x - 1.0, y), (x + 1.0, y)), ((x, y - 1.0), (x, y + 1.0))


def _in_order(
    order: list[Wanted], factor: float, show: Callable[[float], str], fresh: Callable[[], _Paper]
) -> list[Dimension]:
    """The dimensions one after another; one that finds no place is placed first in a new attempt."""
    for attempt in range(len(order) + 1):
        paper = fresh()
        done: list[Dimension] = []
        stuck: Wanted | None = None
        for one in order:
            figure = one.sign + show(one.span())
            dim = _best(one, factor, figure, paper)
            if dim is None:
                stuck = stuck or one
                dim = _outside(one, factor, figure, paper)
            paper.take(dim)
            done.append(dim)
        if stuck is None or attempt == len(order):
            break
        order = [stuck, *(one for one in order if one is not stuck)]
    return done


@dataclass(slots=True)
class _Paper:
    """What is on paper so far, mm; on ``marks`` no figure may stand, though lines may run there."""

    outline: tuple[Point, Point]
    lines: Lines
    texts: list[Box]
    rows: list[Piece]
    marks: list[Piece]

    def take(self, dim: Dimension) -> None:
        self.lines.add(line_pieces(dim))
        self.texts.extend(text_boxes([dim]))
        self.rows.append(dim.feet())


def _best(one: Wanted, factor: float, text: str, paper: _Paper) -> Dimension | None:
    """The clear place that costs least, or None."""
    best: tuple[float, int, Dimension] | None = None
    for order, dim in enumerate(_places(one, factor, text, paper.outline)):
        if best is not None and _reach(dim, paper.outline) + 0.01 * order >= best[0]:
            continue
        cost = _cost(dim, paper, order)
        if cost is not None and (best is None or (cost, order) < best[:2]):
            best = (cost, order, dim)
    return best[2] if best else None


def _outside(one: Wanted, factor: float, text: str, paper: _Paper) -> Dimension:
    """Outside everything drawn so far."""
    return next(_places(replace(one, sides=("below", "left")), factor, text, _grown(paper)))


def _grown(paper: _Paper) -> tuple[Point, Point]:
    """An outline round everything drawn so far, for a dimension that finds no place nearer."""
    points = [p for piece in paper.lines.pieces for p in piece] + [p for box in paper.texts for p in box]
    return (min(p[0] for p in points), min(p[1] for p in points)), (
        max(p[0] for p in points),
        max(p[1] for p in points),
    )


def _places(one: Wanted, factor: float, text: str, outline: tuple[Point, Point]) -> Iterator[Dimension]:
    """Every place worth trying, the dearest last."""
    start = (one.start[0] * factor, one.start[1] * factor)
    end = (one.end[0] * factor, one.end[1] * factor)
    angle = upright(one.direction())
    for line in _line_points(start, end, angle, one.sides, outline):
        bare = Dimension(DIMENSIONS, start, end, line, angle, text, (0.0, 0.0), SIZE, one.name)
        for at in _text_places(bare):
            yield replace(bare, text_at=at)


def _line_points(
    start: Point, end: Point, angle: float, sides: tuple[str, ...], outline: tuple[Point, Point]
) -> Iterator[Point]:
    (x0, y0), (x1, y1) = outline
    for row in range(ROWS):
        off = FIRST_ROW + ROW * row
        if abs(angle) < 1e-9:
            at = {"below": (start[0], y0 - off), "above": (start[0], y1 + off)}
        elif abs(angle - pi / 2.0) < 1e-9:
            at = {"left": (x0 - off, start[1]), "right": (x1 + off, start[1])}
        else:
            n = (-sin(angle), cos(angle))
            out = 0.0 if row == 0 else off - ROW
            at = {
                s: (start[0] + k * out * n[0], start[1] + k * out * n[1])
                for s, k in (("below", -1), ("above", 1))
            }
        yield from (at[side] for side in sides if side in at)


def _text_places(dim: Dimension) -> Iterator[Point]:
    """Middle of the dimension line, and beside either end of it."""
    first, last = dim.feet()
    c, s = cos(dim.angle), sin(dim.angle)
    up = (-s * OVER_LINE, c * OVER_LINE)
    if first[0] * c + first[1] * s > last[0] * c + last[1] * s:
        first, last = last, first
    room = hypot(last[0] - first[0], last[1] - first[1])
    half = width(dim.text, dim.size) / 2.0
    if 2.0 * half + 3.0 <= room:
        yield ((first[0] + last[0]) / 2.0 + up[0], (first[1] + last[1]) / 2.0 + up[1])
        for part in (0.3, 0.7):
            if 2.0 * half + 3.0 <= 2.0 * room * min(part, 1.0 - part):
                yield (
                    first[0] + part * (last[0] - first[0]) + up[0],
                    first[1] + part * (last[1] - first[1]) + up[1],
                )
    else:
        off = half + _BESIDE
        yield (last[0] + off * c + up[0], last[1] + off * s + up[1])
        yield (first[0] - off * c + up[0], first[1] - off * s + up[1])


def _cost(dim: Dimension, paper: _Paper, order: int) -> float | None:
    """What a place costs; None where a figure would be covered or two dimension lines run into one another."""
    lines = line_pieces(dim)
    boxes = text_boxes([dim])
    if any(_run_together(dim, boxes[0], row) for row in paper.rows):
        return None
    if any(crosses(box, piece) for box in boxes for piece in lines):
        return None
    wide = [_margin(box) for box in boxes]
    if any(overlap(_margin(box, _FROM_TEXT), other) for box in boxes for other in paper.texts):
        return None
    if any(crosses(_margin(box), piece) for box in paper.texts for piece in lines):
        return None
    if any(crosses(box, piece) for box in wide for piece in paper.marks) or any(
        paper.lines.entering(box) for box in wide
    ):
        return None
    crossings = sum(paper.lines.met_by(line) for line in lines)
    return 4.0 * crossings + _reach(dim, paper.outline) + 0.01 * order


def _reach(dim: Dimension, outline: tuple[Point, Point]) -> float:
    """What the extension lines cost: a little outside the outline, much where they run through the view."""
    total = 0.0
    for point, foot in zip((dim.start, dim.end), dim.feet(), strict=True):
        whole = hypot(foot[0] - point[0], foot[1] - point[1])
        inside = whole - sum(_beyond(foot[i], outline[0][i], outline[1][i]) for i in (0, 1))
        total += 0.05 * whole + 0.6 * max(0.0, inside)
    return total


def _beyond(value: float, low: float, high: float) -> float:
    return max(0.0, low - value, value - high)


def _margin(box: Box, air: float = 0.7) -> Box:
    """A text's box with a little air (mm) at its ends."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = box
    size = hypot(bx - ax, by - ay) or 1.0
    ux, uy = air * (bx - ax) / size, air * (by - ay) / size
    return ((ax - ux, ay - uy), (bx + ux, by + uy), (cx + ux, cy + uy), (dx - ux, dy - uy))


def _run_together(dim: Dimension, box: Box, row: Piece) -> bool:
    """Whether the dimension line lies too near along another dimension line."""
    c, s = cos(dim.angle), sin(dim.angle)
    (ax, ay), (bx, by) = row
    if abs((bx - ax) * s - (by - ay) * c) > 1e-6:
        return False
    off = abs((ax - dim.line[0]) * s - (ay - dim.line[1]) * c)
    if off > _APART:
        return False
    mine = [p[0] * c + p[1] * s for p in (*dim.feet(), *box)]
    theirs = [p[0] * c + p[1] * s for p in row]
    overlapping = min(max(mine), max(theirs)) - max(min(mine), min(theirs))
    return overlapping > (-0.5 if off > 0.5 else 1e-6)
