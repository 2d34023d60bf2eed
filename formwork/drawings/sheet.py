"""The drawing of one cut sheet: true outlines of the parts at their places, a layer for each operation.

The origin is the lower left corner of the untrimmed sheet, x along its length and its face grain. A machine reads the
closed outlines (cut outside), circles (drill, or cut inside where they are too large for a drill) and labels; a person
reads the saw lines and the sizes. Bevelled edges show the larger face; their angle from square stands beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import atan2, hypot, pi

import shapely

from formwork.cutting.cut_list import CutLine
from formwork.cutting.records import Cut, Offcut, Placed, SheetLayout
from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.balloons import Target, with_balloons
from formwork.drawings.clearance import Box, Piece, crosses, line_pieces, overlap, text_boxes
from formwork.drawings.dimensioning import Wanted, dimensioned
from formwork.drawings.frames import Point
from formwork.drawings.layers import (
    BEVEL,
    CUT_INSIDE,
    CUT_OUTSIDE,
    LABEL,
    OFFCUT,
    SAW_LINE,
    SHEET_EDGE,
    TEXTS,
    Layer,
    drill,
)
from formwork.drawings.lists import part_list
from formwork.drawings.page import Titles
from formwork.drawings.piece import figures
from formwork.drawings.scene import Circle, Item, Line, Polyline, Scene, Text, Units, placed, text_box
from formwork.errors import InternalError
from formwork.project.records import Project
from formwork.units import show

LARGEST_DRILL = 0.04
"""A round hole wider than this (m) is cut, not drilled (ours: common hole saws and spade bits end about here)."""
_SQUARE = 0.0044
"""An edge nearer to square than this (rad, a quarter of a degree) is cut square (ours: no table saw is set finer)."""
_LEAST = 190.0
_ROWS = 14


def sheet_drawing(
    layout: SheetLayout,
    cut_list: Sequence[CutLine],
    project_file: Project,
    *,
    index: int = 1,
    number: str = "",
    page: str = "1 / 1",
) -> Scene:
    """The drawing of one way of cutting a sheet.

    Args:
        layout: what is cut where.
        cut_list: gives each label's outline.
        project_file: its project: units, shop, saw.
        index: number of the layout in the plan, for the file's name.
        number: identification number for the title block.
        page: "1 / 3" for the title block.

    Raises:
        InternalError: if a label on the sheet is not in the cut list.
    """
    lines = {line.label: line for line in cut_list}
    missing = [one.label for one in layout.placed if one.label not in lines]
    if missing:
        raise InternalError(f"sheet {index}: {missing[0]} is not in the cut list")
    units = project_file.units
    shown = figures(units)
    stock = layout.stock
    titles = Titles(
        project_file.shop.name, f"sheet {index}: {stock.name}", project_file.title, "cut sheet", number, page
    )
    outside = _outlines(layout, lines, units)
    saw = _saw_lines(layout, project_file.shop.saw.kerf)

    def panes(n: float) -> Sequence[Pane]:
        return (_sheet_pane(layout, lines, (*outside, *saw), shown, n), _list_pane(layout, lines, shown))

    return compose(
        f"sheet-{index}", titles, units, None, _notes(layout, units), _LEAST,
        [Bare(0, 0, stock.length, stock.width)], panes,
    )  # fmt: skip


def part_outline(one: Placed, line: CutLine) -> tuple[Point, ...]:
    """The part's true outline at its place on the sheet, m."""
    return tuple(_at(one, line, point) for point in line.part.blank.outline)


def _at(one: Placed, line: CutLine, point: Point) -> Point:
    """A point of the blank on the sheet; a turned blank is turned by a quarter, never mirrored."""
    x, y = point
    if one.turned:
        x, y = line.part.blank.width - y, x
    return (one.x + x, one.y + y)


def _outlines(layout: SheetLayout, lines: Mapping[str, CutLine], units: Units) -> tuple[Item, ...]:
    stock = layout.stock
    edge = ((0.0, 0.0), (stock.length, 0.0), (stock.length, stock.width), (0.0, stock.width))
    items: list[Item] = [Polyline(SHEET_EDGE, edge)]
    for one in layout.placed:
        line = lines[one.label]
        items.append(Polyline(CUT_OUTSIDE, part_outline(one, line)))
        for x, y, diameter in line.part.blank.holes:
            items.append(Circle(hole_layer(diameter, units), _at(one, line, (x, y)), diameter / 2.0))
    return tuple(items)


def hole_layer(diameter: float, units: Units) -> Layer:
    """The layer of a round hole: of its drill, or of inside cuts.

    Args:
        diameter: m.
        units: of the person: the drill's size stands in the layer's name.
    """
    if diameter > LARGEST_DRILL + 1e-9:
        return CUT_INSIDE
    size = f"{diameter / 0.0254:.4f}" if units == "in" else f"{diameter * 1000.0:.2f}"
    return drill(f"{size.rstrip('0').rstrip('.')}{units.upper()}")


@dataclass(frozen=True, slots=True)
class _Rectangle:
    low: Point
    high: Point


def _saw_lines(layout: SheetLayout, kerf: float) -> tuple[Item, ...]:
    """The middle of each saw kerf, in the order of the cuts."""
    pieces = {0: _Rectangle((0.0, 0.0), (layout.stock.length, layout.stock.width))}
    items: list[Item] = []
    for cut in layout.cuts:
        line, near, far = _cut(pieces[cut.piece], cut, kerf)
        items.append(line)
        for number, piece in zip(cut.gives, (near, far), strict=True):
            if number >= 0:
                pieces[number] = piece
    return tuple(items)


def _cut(piece: _Rectangle, cut: Cut, kerf: float) -> tuple[Line, _Rectangle, _Rectangle]:
    """The line of one cut, and the pieces on the near and the far side of the fence."""
    axis = 1 if cut.along == "length" else 0
    low, high = piece.low[axis], piece.high[axis]
    from_low = cut.from_edge in ("left", "bottom")
    near_side = low + cut.at if from_low else high - cut.at
    far_side = near_side + kerf if from_low else near_side - kerf
    first = _between(piece, axis, *sorted((low if from_low else high, near_side)))
    rest = _between(piece, axis, *sorted((far_side, high if from_low else low)))
    middle = (near_side + far_side) / 2.0
    ends = (piece.low[1 - axis], piece.high[1 - axis])
    start, end = ((middle, v) if axis == 0 else (v, middle) for v in ends)
    return Line(SAW_LINE, start, end), first, rest


def _between(piece: _Rectangle, axis: int, low: float, high: float) -> _Rectangle:
    least, most = list(piece.low), list(piece.high)
    least[axis], most[axis] = low, high
    return _Rectangle((least[0], least[1]), (most[0], most[1]))


def _sheet_pane(
    layout: SheetLayout,
    lines: Mapping[str, CutLine],
    items: Sequence[Item],
    shown: Callable[[float], str],
    n: float,
) -> Pane:
    stock = layout.stock
    drawn = [*items, *_offcuts(layout.offcuts)]
    writer = _Writer(drawn, n)
    apart = [
        Target(one.label, _middle(part_outline(one, lines[one.label])))
        for one in layout.placed
        if not writer.write_in(part_outline(one, lines[one.label]), *_words(one, lines[one.label], shown))
    ]
    for one in layout.placed:
        writer.bevels(part_outline(one, lines[one.label]), lines[one.label].part.blank.bevels)
    for offcut in layout.offcuts:
        words = f"{shown(offcut.length)} x {shown(offcut.width)}"
        writer.write_in(_corners(offcut), (("offcut", LABEL, 2.5), (words, TEXTS, 2.5)))
    wanted = (
        Wanted("sheet length", (0.0, 0.0), (stock.length, 0.0), sides=("below",)),
        Wanted("sheet width", (0.0, 0.0), (0.0, stock.width), sides=("left",)),
    )
    whole = dimensioned([*drawn, *writer.written], wanted, n, shown)
    return Pane("sheet", 0, 0, with_balloons(whole, apart, n))


Words = tuple[tuple[str, Layer, float], ...]


def _words(one: Placed, line: CutLine, shown: Callable[[float], str]) -> tuple[Words, Words]:
    """What is written on a part: label and size, or where there is less room the label alone."""
    blank = line.part.blank
    label = (one.label, LABEL, 3.5)
    size = (f"{shown(blank.length)} x {shown(blank.width)}", TEXTS, 2.5)
    return (label, size), ((one.label, LABEL, 2.5),)


def _corners(offcut: Offcut) -> tuple[Point, ...]:
    x, y = offcut.x, offcut.y
    return ((x, y), (x + offcut.length, y), (x + offcut.length, y + offcut.width), (x, y + offcut.width))


def _offcuts(offcuts: Sequence[Offcut]) -> list[Item]:
    return [Polyline(OFFCUT, _corners(offcut)) for offcut in offcuts]


def _middle(outline: Sequence[Point]) -> Point:
    point = shapely.Polygon(outline).representative_point()
    return (float(point.x), float(point.y))


@dataclass(frozen=True, slots=True)
class _Room:
    """Where one part may be written on, mm: inside its outline, and the lines that run there."""

    region: shapely.Polygon
    lines: list[Piece]

    def holds(self, box: Box) -> bool:
        """Whether a box lies in it; one wider than the whole is told without asking for every place."""
        x0, y0, x1, y1 = self.region.bounds
        inside = all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in box)
        return inside and bool(self.region.contains(shapely.Polygon(box)))


class _Writer:
    """Writes on parts where nothing is covered; keeps what it wrote, m."""

    def __init__(self, drawn: Sequence[Item], n: float) -> None:
        self.factor = 1000.0 / n
        page = [placed(item, self.factor, (0.0, 0.0)) for item in drawn]
        self._lines: list[Piece] = [piece for item in page for piece in line_pieces(item)]
        self._texts: list[Box] = text_boxes(page)
        self.written: list[Item] = []

    def write_in(self, outline: Sequence[Point], *choices: Words) -> bool:
        """Write the first of the choices that fits inside an outline (m), level or upright; whether one did."""
        room = self._room(outline)
        for words in choices:
            for angle in (0.0, pi / 2.0):
                for middle in _spots(room.region):
                    texts = _block(words, middle, angle)
                    if self._free(texts, room):
                        self._keep(texts)
                        return True
        return False

    def bevels(self, outline: Sequence[Point], angles: Sequence[float]) -> None:
        """The angle from square inside each edge that is not square, where there is room."""
        room = self._room(outline)
        for k, angle in enumerate(angles):
            if abs(angle) < _SQUARE:
                continue
            start, end = outline[k], outline[(k + 1) % len(outline)]
            for text in self._bevel_texts(start, end, show.angle(angle)):
                if self._free([text], room):
                    self._keep([text])
                    break

    def _room(self, outline: Sequence[Point]) -> _Room:
        region = shapely.Polygon([(x * self.factor, y * self.factor) for x, y in outline])
        x0, y0, x1, y1 = region.bounds
        lines = [
            ((ax, ay), (bx, by))
            for (ax, ay), (bx, by) in self._lines
            if max(ax, bx) >= x0 and min(ax, bx) <= x1 and max(ay, by) >= y0 and min(ay, by) <= y1
        ]
        return _Room(region.buffer(-0.4), lines)

    def _bevel_texts(self, start: Point, end: Point, words: str) -> Iterator[Text]:
        """Places for an edge's angle: along it, inside the outline, its middle first."""
        run = hypot(end[0] - start[0], end[1] - start[1])
        ux, uy = (end[0] - start[0]) / run, (end[1] - start[1]) / run
        size = 1.8
        flipped = ux < -1e-9 or (abs(ux) <= 1e-9 and uy < 0.0)
        off = 1.0 + (size if flipped else 0.0)
        turn = atan2(uy, ux) + (pi if flipped else 0.0)
        for part in (0.5, 0.25, 0.75):
            x = (start[0] + part * (end[0] - start[0])) * self.factor - off * uy
            y = (start[1] + part * (end[1] - start[1])) * self.factor + off * ux
            yield Text(BEVEL, (x, y), words, size, "middle", turn)

    def _free(self, texts: Sequence[Text], room: _Room) -> bool:
        boxes = [text_box(text) for text in texts]
        return (
            all(room.holds(box) for box in boxes)
            and not any(crosses(box, line) for box in boxes for line in room.lines)
            and not any(overlap(box, other) for box in boxes for other in self._texts)
        )

    def _keep(self, texts: Sequence[Text]) -> None:
        self._texts.extend(text_box(text) for text in texts)
        self.written.extend(placed(text, 1.0 / self.factor, (0.0, 0.0)) for text in texts)


def _spots(region: shapely.Polygon) -> Iterator[Point]:
    """Places to write at: the middle, then a grid over the region's box, from its middle outward."""
    if region.is_empty:
        return
    x0, y0, x1, y1 = region.bounds
    centre = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    yield centre
    grid = [(x0 + i * (x1 - x0) / 8.0, y0 + j * (y1 - y0) / 8.0) for i in range(1, 8) for j in range(1, 8)]
    yield from sorted(grid, key=lambda p: (round(hypot(p[0] - centre[0], p[1] - centre[1]), 6), p))


def _block(words: Words, middle: Point, angle: float) -> list[Text]:
    """Lines of text one under the other about a point."""
    sizes = [size for _, _, size in words]
    total = sum(sizes) + 1.6 * (len(sizes) - 1)
    texts: list[Text] = []
    at = total / 2.0
    for text, layer, size in words:
        at -= size
        offset = (0.0, at) if angle == 0.0 else (-at, 0.0)
        texts.append(Text(layer, (middle[0] + offset[0], middle[1] + offset[1]), text, size, "middle", angle))
        at -= 1.6
    return texts


def _list_pane(layout: SheetLayout, lines: Mapping[str, CutLine], shown: Callable[[float], str]) -> Pane:
    counts: dict[str, int] = {}
    for one in layout.placed:
        counts[one.label] = counts.get(one.label, 0) + 1
    ordered = sorted(counts, key=lambda label: (len(label), label))
    rows = [replace(lines[label], quantity=counts[label]) for label in ordered]
    return Pane("parts", 0, 1, part_list(rows, 1, shown, _ROWS), aligned=False, paper=True)


def _notes(layout: SheetLayout, units: Units) -> list[str]:
    stock = layout.stock
    thickness = show.length(stock.thickness, units, exact=True)
    return [
        f"{layout.count} x {stock.name}, {stock.material}, {thickness} thick."
        + (" Cut alike." if layout.count > 1 else ""),
        "Origin: lower left corner of the untrimmed sheet. x runs along its length"
        + (", with the face grain." if stock.grain else "."),
        "Outlines are one face of each part. Angles are from square: plus leans in going down from that face, "
        "minus leans out. Dashed: middle of the saw cut.",
    ]
