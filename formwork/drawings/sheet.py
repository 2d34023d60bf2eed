"""The drawing of one cut sheet: true outlines of the parts at their places, a layer for each operation.

The origin is the lower left corner of the untrimmed sheet, x along its length and its face grain. A machine reads the
closed outlines (cut outside), circles (drill, or cut inside where they are too large for a drill) and labels; a person
reads the saw lines and the sizes. Bevelled edges show the larger face; their angle from square stands beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely

from formwork.cutting.cut_list import CutLine
from formwork.cutting.records import Cut, Offcut, SheetLayout, Spot, offcut_name, spots
from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.balloons import Target, with_balloons
from formwork.drawings.dimensioning import Wanted, dimensioned
from formwork.drawings.frames import Point
from formwork.drawings.layers import (
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
from formwork.drawings.scene import Circle, Item, Line, Polyline, Scene, Units
from formwork.drawings.writing import Words, Writer
from formwork.errors import InternalError
from formwork.geometry.outlines import Outline, flattened
from formwork.molds.mold import Blank
from formwork.project.records import Project
from formwork.units import show

LARGEST_DRILL = 0.04
"""A round hole wider than this (m) is cut, not drilled (ours: common hole saws and spade bits end about here)."""
_CHORD = 5e-4
"""Where words are fitted in, an arc is chords that lie no further from it than this, m."""
_LEAST = 150.0
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
    missing = [one.label for one in spots_of(layout) if one.label not in lines]
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
        sheet = _sheet_pane(_Sheet(index, layout, outside, saw), lines, shown, n)
        return (sheet, _list_pane(layout, lines, shown))

    return compose(
        f"sheet-{index}", titles, units, None, _notes(layout, lines, units), _LEAST,
        [Bare(0, 0, stock.length, stock.width)], panes,
    )  # fmt: skip


def spots_of(layout: SheetLayout) -> list[Spot]:
    """Every part on a sheet, blank after blank."""
    return [spot for one in layout.placed for spot in spots(one)]


def part_outline(spot: Spot, line: CutLine) -> Outline:
    """The part's true outline at its place on the sheet, m."""
    return _laid(spot, line, line.part.blank.edge)


def _laid(spot: Spot, line: CutLine, outline: Outline) -> Outline:
    """What is told in the blank's own frame, on the sheet."""
    return Outline(tuple(_at(spot, line, point) for point in outline.points), outline.bulges)


def _at(spot: Spot, line: CutLine, point: Point) -> Point:
    """A point of the blank on the sheet; a blank is turned by quarters, never mirrored."""
    x, y = point
    length, width = line.part.blank.length, line.part.blank.width
    for _ in range(spot.quarters):
        x, y = width - y, x
        length, width = width, length
    return (spot.x + x, spot.y + y)


def _closed(layer: Layer, outline: Outline) -> Polyline:
    """An outline as a line; without bulges where every leg is straight."""
    return Polyline(layer, outline.points, bulges=outline.bulges if any(outline.bulges) else ())


def _outlines(layout: SheetLayout, lines: Mapping[str, CutLine], units: Units) -> tuple[Item, ...]:
    stock = layout.stock
    edge = ((0.0, 0.0), (stock.length, 0.0), (stock.length, stock.width), (0.0, stock.width))
    items: list[Item] = [Polyline(SHEET_EDGE, edge)]
    for one in spots_of(layout):
        line = lines[one.label]
        items.append(_closed(CUT_OUTSIDE, part_outline(one, line)))
        items += [_closed(CUT_INSIDE, _laid(one, line, each)) for each in line.part.blank.openings]
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


def _saw_lines(layout: SheetLayout, kerf: float) -> tuple[Line, ...]:
    """The middle of each saw kerf, in the order of the cuts."""
    pieces = {0: _Rectangle((0.0, 0.0), (layout.stock.length, layout.stock.width))}
    items: list[Line] = []
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


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One way of cutting a sheet: its number, what is cut where, the outlines, and the middles of the saw's kerfs."""

    number: int
    layout: SheetLayout
    outlines: tuple[Item, ...]
    saw: tuple[Line, ...]


def _sheet_pane(sheet: _Sheet, lines: Mapping[str, CutLine], shown: Callable[[float], str], n: float) -> Pane:
    layout = sheet.layout
    stock = layout.stock
    drawn = [*sheet.outlines, *sheet.saw, *_offcuts(layout.offcuts)]
    writer = Writer(drawn, n)
    parts = [_on_sheet(spot, lines[spot.label]) for spot in spots_of(layout)]
    apart = [
        Target(one.label, _middle(one.region))
        for one in parts
        if not writer.write_in(one.region, *_words(one, shown))
    ]
    for one in parts:
        writer.bevels(one.region, one.outline, one.blank.bevels)
    for number, offcut in enumerate(layout.offcuts):
        name = f"offcut {offcut_name(sheet.number, number)}"
        words = f"{shown(offcut.length)} x {shown(offcut.width)}"
        writer.write_in(shapely.Polygon(_corners(offcut)), ((name, LABEL, 2.5), (words, TEXTS, 2.5)))
    whole_sheet = shapely.box(0.0, 0.0, stock.length, stock.width)
    for number, cut in enumerate(sheet.saw, start=1):
        writer.ringed(cut.start, cut.end, str(number), whole_sheet)
    wanted = (
        Wanted("sheet length", (0.0, 0.0), (stock.length, 0.0), sides=("below",)),
        Wanted("sheet width", (0.0, 0.0), (0.0, stock.width), sides=("left",)),
    )
    whole = dimensioned([*drawn, *writer.written], wanted, n, shown)
    return Pane("sheet", 0, 0, with_balloons(whole, apart, n))


@dataclass(frozen=True, slots=True)
class _OnSheet:
    """A part at its place: its label, its blank, its outline on the sheet, and what is inside that (m)."""

    label: str
    blank: Blank
    outline: Outline
    region: shapely.Polygon


def _on_sheet(spot: Spot, line: CutLine) -> _OnSheet:
    outline = part_outline(spot, line)
    openings = [flattened(_laid(spot, line, each), _CHORD) for each in line.part.blank.openings]
    return _OnSheet(
        spot.label, line.part.blank, outline, shapely.Polygon(flattened(outline, _CHORD), openings)
    )


def _words(one: _OnSheet, shown: Callable[[float], str]) -> tuple[Words, Words]:
    """What is written on a part: label and size, or where there is less room the label alone."""
    label = (one.label, LABEL, 3.5)
    size = (f"{shown(one.blank.length)} x {shown(one.blank.width)}", TEXTS, 2.5)
    return (label, size), ((one.label, LABEL, 2.5),)


def _corners(offcut: Offcut) -> tuple[Point, ...]:
    x, y = offcut.x, offcut.y
    return ((x, y), (x + offcut.length, y), (x + offcut.length, y + offcut.width), (x, y + offcut.width))


def _offcuts(offcuts: Sequence[Offcut]) -> list[Item]:
    return [Polyline(OFFCUT, _corners(offcut)) for offcut in offcuts]


def _middle(region: shapely.Polygon) -> Point:
    point = region.representative_point()
    return (float(point.x), float(point.y))


def _list_pane(layout: SheetLayout, lines: Mapping[str, CutLine], shown: Callable[[float], str]) -> Pane:
    counts: dict[str, int] = {}
    for one in spots_of(layout):
        counts[one.label] = counts.get(one.label, 0) + 1
    ordered = sorted(counts, key=lambda label: (len(label), label))
    rows = [replace(lines[label], quantity=counts[label]) for label in ordered]
    return Pane("parts", 0, 1, part_list(rows, 1, shown, _ROWS), aligned=False, paper=True)


def _notes(layout: SheetLayout, lines: Mapping[str, CutLine], units: Units) -> list[str]:
    stock = layout.stock
    curved = any(any(lines[spot.label].part.blank.bulges) for spot in spots_of(layout))
    thickness = show.length(stock.thickness, units, exact=True)
    return [
        f"{layout.count} x {stock.name}, {stock.material}, {thickness} thick."
        + (" Cut alike." if layout.count > 1 else ""),
        "Origin: lower left corner of the untrimmed sheet. x runs along its length"
        + (", with the face grain." if stock.grain else "."),
        "Outlines are one face of each part. Angles are from square: plus leans in going down from that face, "
        "minus leans out. Dashed: middle of the saw cut; ringed: its number in the order of the cuts.",
        *(["Curves: a machine follows the arcs; by hand, cut to the full-size template."] if curved else []),
    ]
