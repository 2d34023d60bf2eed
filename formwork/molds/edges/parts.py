"""Strips, base, cores and edge strips of a mold of edge forms: what is cut for each, and where it stands.

Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, ceil, cos

from formwork.errors import GeometryError, StockError
from formwork.geometry.cells import Cell, cell
from formwork.geometry.crossings import direction
from formwork.geometry.outlines import (
    Leg,
    Outline,
    Point,
    box,
    legs,
    perimeter,
    rectangle,
    shifted,
)
from formwork.geometry.planes import Planes, behind
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec, cross, dot, sub
from formwork.molds.blank import blank
from formwork.molds.edges.edging import Edge, Locate, body
from formwork.molds.edges.skins import bent_strip, kerfed_strip
from formwork.molds.mold import Blank, Part, Placement
from formwork.shapes.piece import CurvedFormer
from formwork.stock.records import SheetStock, StickStock
from formwork.units import show

X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
UP: Vec = (0.0, 0.0, 1.0)
DOWN: Vec = (0.0, 0.0, -1.0)


def strip_parts(
    planes: Planes, edges: Sequence[Edge], fill: float, lean: float, name: str, locate: Locate
) -> tuple[Part, ...]:
    """The strips, as they stand and as they are cut.

    Raises:
        GeometryError: where one has no room between its neighbours, saying where.
    """
    made = []
    for index, edge in enumerate(edges):
        try:
            space = body(edges, index, fill, lean)
        except GeometryError as short:
            place = locate(edge.stretch.middle)
            raise GeometryError(
                f"{name}: the edge at {place}: {short}; a thinner sheet, or the outline cut out of sheets: "
                'method = "stacked"'
            ) from short
        if edge.kerfs:
            made.append(kerfed_strip(edge, space))
        else:
            made.append(
                bent_strip(edge, space, fill, lean) if edge.stretch.bent else _straight(planes, edge, space)
            )
    return tuple(made)


def _straight(planes: Planes, edge: Edge, space: Prism) -> Part:
    """A straight strip: its face towards the mix is the one that must be clean."""
    solid = _polyhedron(planes, space, edge.name)
    leg = edge.stretch.foot[0]
    along: Vec = (leg.end[0] - leg.start[0], leg.end[1] - leg.start[1], 0.0)
    outward = (along[1], -along[0], 0.0)
    faces = sorted(solid.facets, key=lambda ref: dot(planes.normal(ref), outward))
    cut, place = blank(planes, solid, along, faces[0])
    shown: bool = dot(place.into, outward) > 0.0
    return Part(
        name=edge.name,
        role="panel",
        kind="panel" if isinstance(edge.stock, SheetStock) else "stick",
        stock=edge.stock.name,
        group=edge.name,
        cells=(),
        blank=cut,
        placement=place,
        good_face="outline" if shown else "far",
        prisms=(space,),
    )


def _polyhedron(planes: Planes, space: Prism, name: str) -> Cell:
    """A prism with straight legs, as the cell its faces enclose.

    Raises:
        GeometryError: if they enclose nothing.
    """
    halves = [behind(UP, (0.0, 0.0, space.height), name), behind(DOWN, (0.0, 0.0, 0.0), name)]
    for foot, head in zip(legs(space.outline), legs(space.top), strict=True):
        a, b, c = (*foot.start, 0.0), (*foot.end, 0.0), (*head.start, space.height)
        halves.append(behind(cross(sub(b, a), sub(c, a)), a, name))
    found = cell(planes, halves, name)
    if found is None:
        raise GeometryError(f"{name}: there is no room for it")
    return found


def base_parts(sheet: SheetStock, reach: tuple[Point, Point], trim: float, name: str) -> tuple[Part, ...]:
    """The board under the whole mold; boards side by side where one sheet is too small.

    Args:
        sheet: it is cut from.
        reach: least and greatest corner of what stands on it.
        trim: taken off the edges of a sheet.
        name: of the piece, for messages.

    Raises:
        StockError: where more than sixteen boards would be needed.
    """
    (x0, y0), (x1, y1) = reach
    long, wide = sheet.length - 2.0 * trim, sheet.width - 2.0 * trim
    ways = [
        (_parts(x1 - x0, a), _parts(y1 - y0, b), turned)
        for a, b, turned in ((long, wide, 0), (wide, long, 1))
    ]
    columns, rows, turned = min(ways, key=lambda way: (way[0] * way[1], way[2]))
    if columns * rows > 16:
        raise StockError(f"{name}: its base takes more than sixteen boards of {sheet.name}")
    dx, dy = (x1 - x0) / columns, (y1 - y0) / rows
    made: list[Part] = []
    for i in range(columns):
        for j in range(rows):
            called = "base" if columns * rows == 1 else f"base {len(made) + 1}"
            made.append(_board(sheet, called, (x0 + i * dx, y0 + j * dy), (dx, dy), bool(turned)))
    return tuple(made)


def _parts(size: float, most: float) -> int:
    return max(1, ceil(size / most - 1e-9))


def _board(sheet: SheetStock, name: str, corner: Point, size: Point, turned: bool) -> Part:
    """A level board under the mold, its grain along x, or along y where it is turned."""
    x, y = corner
    length, width = (size[1], size[0]) if turned else size
    edge = rectangle((0.0, 0.0), (length, width))
    place = Placement((x, y, 0.0), X, Y, DOWN)
    if turned:
        place = Placement((x + width, y, 0.0), Y, (-1.0, 0.0, 0.0), DOWN)
    board = rectangle((x, y), (x + size[0], y + size[1]))
    return Part(
        name=name,
        role="base",
        kind="panel",
        stock=sheet.name,
        group="base",
        cells=(),
        blank=Blank(length, width, sheet.thickness, edge.points, (0.0,) * 4),
        placement=place,
        good_face="outline",
        prisms=(Prism(board, sheet.thickness, (0.0, 0.0, -sheet.thickness)),),
    )


def core_part(former: CurvedFormer, sheets: Sequence[SheetStock], lean: float) -> Part:
    """A core laid up from sheet and sawn with the table tilted: wide end down on the base.

    The sheet is the one of which whole layers miss the height least, the top layer planed.
    """
    space = former.body
    assert isinstance(space, Prism)
    sheet = min(sheets, key=lambda one: _waste(space.height, one))
    layers = _layers(space.height, sheet)
    over = layers * sheet.thickness - space.height
    (x0, y0), (x1, y1) = box(space.outline)
    edge = shifted(space.outline, (-x0, -y0))
    planed = f", plane its top {show.both(over)} down to stand flush" if over > 1e-4 else ""
    seen = Outline(tuple((x, (y1 - y0) - y) for x, y in edge.points), tuple(-b for b in edge.bulges))
    points, bulges = _backwards(seen)
    return Part(
        name=former.name,
        role="board",
        kind="panel",
        stock=sheet.name,
        group=former.name,
        cells=(),
        blank=Blank(
            x1 - x0,
            y1 - y0,
            sheet.thickness,
            points,
            (lean,) * len(points),
            bulges=bulges if any(bulges) else (),
        ),
        placement=Placement((x0 + space.origin[0], y1 + space.origin[1], 0.0), X, (0.0, -1.0, 0.0), UP),
        good_face="any",
        layers=layers,
        prisms=(space,),
        work=f"glue up {layers} layers, saw round with the blade tilted{planed}"
        if layers > 1 or planed
        else "",
    )


def _backwards(outline: Outline) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """The same path run the other way: seen from below it is counter-clockwise again."""
    points = (outline.points[0], *outline.points[:0:-1])
    return points, tuple(-b for b in outline.bulges[::-1])


def _layers(height: float, sheet: SheetStock) -> int:
    return ceil(height / sheet.thickness - 1e-3)


def _waste(height: float, sheet: SheetStock) -> tuple[float, int, str]:
    count = _layers(height, sheet)
    return round(max(0.0, count * sheet.thickness - height), 4), count, sheet.name


def edge_strip(former: CurvedFormer) -> Part:
    """The strip of the chamfer, bought by the length: it is bent round arcs and mitred at corners."""
    space = former.body
    assert isinstance(space, Prism)
    length, size = perimeter(space.outline), former_size(former)
    outline = rectangle((0.0, 0.0), (length, size)).points
    start = space.outline.points[0]
    return Part(
        name=former.name,
        role="strip",
        kind="hardware",
        stock="chamfer strip, flexible",
        group="base",
        cells=(),
        blank=Blank(length, size, size, outline, (0.0,) * 4),
        placement=Placement((start[0] + space.origin[0], start[1] + space.origin[1], 0.0), X, Y, UP),
        prisms=(space,),
        work="glue and pin it to the base along the strips, mitre it at the corners",
    )


def former_size(former: CurvedFormer) -> float:
    """Size of a chamfer along the good face, m."""
    space = former.body
    assert isinstance(space, Prism)
    return abs(_stands_off(next(iter(legs(space.outline))), next(iter(legs(space.openings[0])))))


def _stands_off(one: Leg, other: Leg) -> float:
    """How far a leg lies to the right of another that it runs beside, m."""
    if one.bulge:
        away = other.arc().radius - one.arc().radius
        return away if one.bulge > 0.0 else -away
    ux, uy = direction(one)
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    return uy * dx - ux * dy


def wetted_sides(outside: Prism, lean: float) -> float:
    """Area of a prism's sides, m2: every leg's mean length times the slant height."""
    pairs = zip(legs(outside.outline), legs(outside.top), strict=True)
    return sum((low.length + high.length) / 2.0 for low, high in pairs) * outside.height / cos(lean)


def lean_of(outside: Prism) -> float:
    """How far the sides of a prism lean outward, going up, rad; below 0 where they lean inward."""
    if outside.head is None:
        return 0.0
    low, high = next(iter(legs(outside.outline))), next(iter(legs(outside.head)))
    return atan(_stands_off(low, high) / outside.height)


def extent(parts: Sequence[Part], margin: float) -> tuple[Point, Point]:
    """Least and greatest corner of what parts take up in plan, with a margin."""
    boxes = [space.box() for part in parts for space in part.prisms]
    low = (min(b[0][0] for b in boxes) - margin, min(b[0][1] for b in boxes) - margin)
    high = (max(b[1][0] for b in boxes) + margin, max(b[1][1] for b in boxes) + margin)
    return low, high


def stick_or_sheet(
    named: StickStock | None, sheet: SheetStock, slant: float, name: str
) -> SheetStock | StickStock:
    """What straight strips are ripped from: the stick that is named, else the sheet.

    Raises:
        StockError: where the stick is not wide enough for the height of the edge.
    """
    if named is None:
        return sheet
    if named.width < slant - 1e-9:
        raise StockError(
            f"{name}: mold.stick: {named.name} is {show.both(named.width)} wide, the edge {show.both(slant)} high; "
            "name a wider stick, or leave it out for strips of sheet"
        )
    return named
