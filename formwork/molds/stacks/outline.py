"""An outline with a height in a mold of layers: each a board with the outline as an opening, holes as stacked plugs.

Straight sides are cut square; with draft the opening of every layer is sawn with the blade tilted, so that the layers
give the piece exactly.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import atan, degrees

from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import (
    Leg,
    Outline,
    Point,
    area,
    box,
    legs,
    mirrored,
    perimeter,
    rectangle,
    shifted,
)
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec
from formwork.molds.asked import Asked
from formwork.molds.choice import Stocks
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.molds.stacks.layers import bands, heights_that_suit
from formwork.molds.stacks.parts import base, plug_parts
from formwork.molds.stacks.rings import board
from formwork.molds.stacks.stack import WALL, Core, Course, Stack
from formwork.shapes.piece import Curved, CurvedFormer, Piece
from formwork.stock.records import SheetStock
from formwork.strength.working import Force, given, step
from formwork.units import show

WIDTH = 0.07
"""Least wood round an opening, m: room for screws in two rows and for glue (common practice, no source)."""
_UPRIGHT = 1.0 - 1e-9
_UP: Vec = (0.0, 0.0, 1.0)
_DOWN: Vec = (0.0, 0.0, -1.0)
_WHOLE = 1e-5
_UPRIGHT_LEAN = 1e-6


def outline_stack(asked: Asked, stocks: Stocks, form: Curved) -> Stack:
    """The mold of an outline with a height.

    Raises:
        GeometryError: where layers cannot form the piece.
        StockError: where a layer is larger than the sheet.
    """
    outside = _upright(form.outside, asked.piece.name)
    sheet, trim = stocks.sheet, asked.shop.saw.trim
    lean = _lean(outside)
    if asked.order.mold.core == "struck":
        raise GeometryError(f"{asked.piece.name}: mold.core: only a turned core can be struck; leave it out")
    if asked.order.mold.edge == "square" and abs(lean) > _UPRIGHT_LEAN:
        raise GeometryError(
            f'{asked.piece.name}: mold.edge: got "square", but the outline has draft and its layers are sawn with the '
            "blade tilted; leave edge out, or the draft"
        )
    frame = _frame(outside, sheet, trim, asked)
    holes = tuple(_hole(former, asked) for former in form.formers)
    levels = bands(0.0, form.fill, sheet.thickness)
    wall = tuple(
        _layer(outside, frame, low, high, number, sheet, asked)
        for number, (low, high) in enumerate(levels, start=1)
    )
    plugs = tuple(
        part
        for former, body in zip(form.formers, holes, strict=True)
        for part in _discs(former.name, body, levels, sheet, asked)
    )
    return Stack(
        piece=_told(asked, form, levels, sheet),
        stocks=stocks,
        parts=(
            base(frame, sheet, trim, asked.piece.name),
            *wall,
            *plugs,
            *plug_parts(asked.piece, asked.units),
        ),
        courses=tuple(_courses(outside, frame, levels)),
        cores=tuple(
            _core(former, body, len(levels)) for former, body in zip(form.formers, holes, strict=True)
        ),
        parted=False,
        segments=1,
        edge="square" if abs(lean) < _UPRIGHT_LEAN else "bevelled",
        reach=max(frame[1][0] - frame[0][0], frame[1][1] - frame[0][1]) / 2.0,
        lift=_lift(asked, outside),
        way=_DOWN if lean > _UPRIGHT_LEAN else _UP,
        draft=abs(lean),
        wetted=_wetted(outside, holes),
        seams=perimeter(outside.outline) + sum(perimeter(hole.outline) for hole in holes),
    )


def _upright(body: object, name: str) -> Prism:
    if isinstance(body, Prism) and body.axis[2] > _UPRIGHT and body.along[0] > _UPRIGHT:
        return body
    raise GeometryError(
        f"{name}: layers of sheet follow what is turned, or an outline that lies level; this is neither"
    )


def _hole(former: CurvedFormer, asked: Asked) -> Prism:
    if former.kind != "core":
        raise GeometryError(
            f"{asked.piece.name}: layers of sheet leave no room for the {former.name}; leave the chamfer out, or build "
            'the mold another way (mold.method = "edged")'
        )
    return _upright(former.body, asked.piece.name)


def _at(body: Prism, z: float) -> Outline:
    """The outline at a height, in the mold's own plan."""
    x, y, low = body.origin
    return shifted(body.at((z - low) / body.height), (x, y))


def _frame(outside: Prism, sheet: SheetStock, trim: float, asked: Asked) -> tuple[Point, Point]:
    """Two corners of every layer.

    Raises:
        StockError: where it is larger than the sheet.
    """
    corners = [corner for z in (0.0, outside.height) for corner in box(_at(outside, z))]
    low = (min(x for x, _ in corners) - WIDTH, min(y for _, y in corners) - WIDTH)
    high = (max(x for x, _ in corners) + WIDTH, max(y for _, y in corners) + WIDTH)
    long, short = sorted((high[0] - low[0], high[1] - low[1]), reverse=True)
    if long > sheet.length - 2.0 * trim or short > sheet.width - 2.0 * trim:
        raise StockError(
            f"{asked.piece.name}: a layer of its mold, {show.length(long, asked.units)} by "
            f"{show.length(short, asked.units)}, does not fit the sheet '{sheet.name}'; name a larger sheet, or build "
            "the mold another way"
        )
    return low, high


def _layer(
    outside: Prism,
    frame: tuple[Point, Point],
    low: float,
    high: float,
    number: int,
    sheet: SheetStock,
    asked: Asked,
) -> Part:
    """A board with the outline as its opening, drawn as it is on the upper face."""
    (x0, y0), (x1, y1) = frame
    foot, head = _at(outside, low), _at(outside, high)
    tilted = abs(_lean(outside)) > _UPRIGHT_LEAN
    upright = x1 - x0 < y1 - y0
    along, across = ((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)) if upright else ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    start = (x1, y0, high) if upright else (x0, y0, high)
    length, width = (y1 - y0, x1 - x0) if upright else (x1 - x0, y1 - y0)
    opening = _laid(head, start, along, across)
    body = Prism(
        rectangle(*frame),
        high - low,
        (0.0, 0.0, low),
        openings=(foot,),
        head_openings=(head,) if tilted else (),
    )
    blank = Blank(
        length,
        width,
        sheet.thickness,
        rectangle((0.0, 0.0), (length, width)).points,
        (0.0,) * 4,
        openings=(opening,),
    )
    work = _work(high - low, _lean(outside), sheet, asked)
    stands = Placement(start, along, across, _DOWN)
    return board(f"ring {number}", "ring", WALL, sheet, blank, stands, prisms=(body,), work=work)


def _laid(outline: Outline, start: Vec, along: Vec, across: Vec) -> Outline:
    """An outline of the mold's plan in a blank's own frame, which is right-handed seen from above."""
    points = tuple(
        (
            (x - start[0]) * along[0] + (y - start[1]) * along[1],
            (x - start[0]) * across[0] + (y - start[1]) * across[1],
        )
        for x, y in outline.points
    )
    return Outline(points, outline.bulges)


def _discs(
    name: str, body: Prism, levels: Sequence[Point], sheet: SheetStock, asked: Asked
) -> Iterator[Part]:
    """The layers of a plug; the larger face of each, the lower one, is the one that is drawn."""
    for number, (low, high) in enumerate(levels, start=1):
        foot, head = _at(body, low), _at(body, high)
        flat = mirrored(foot)
        (u0, v0), (u1, v1) = box(flat)
        lean = -_lean(body)
        bevels = (lean if abs(lean) > _UPRIGHT_LEAN else 0.0,) * len(flat.points)
        moved = shifted(flat, (-u0, -v0))
        blank = Blank(u1 - u0, v1 - v0, sheet.thickness, moved.points, bevels, bulges=moved.bulges)
        placement = Placement((-u0, v0, low), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), _UP)
        solid = Prism(foot, high - low, (0.0, 0.0, low), head=head if abs(lean) > _UPRIGHT_LEAN else None)
        role: PartRole = "core cap" if number == len(levels) else "core rib"
        work = _planing(high - low, sheet, asked)
        yield board(f"{name} disc {number}", role, name, sheet, blank, placement, prisms=(solid,), work=work)


def _work(thick: float, lean: float, sheet: SheetStock, asked: Asked) -> str:
    said = []
    if abs(lean) > _UPRIGHT_LEAN:
        far = "narrower" if lean > 0.0 else "wider"
        said.append(
            f"saw the opening with the blade tilted {degrees(abs(lean)):.1f} deg, so that it is {far} on the far face"
        )
    if planing := _planing(thick, sheet, asked):
        said.append(planing)
    return "; ".join(said)


def _planing(thick: float, sheet: SheetStock, asked: Asked) -> str:
    if thick > sheet.thickness - _WHOLE:
        return ""
    return f"plane it to {show.length(thick, asked.units)} once it is glued on, or lay it from thinner sheet"


def _lean(body: Prism) -> float:
    """Least lean of a body's sides, above 0 where it widens upward, rad: how far each leg moves out on its way up."""
    moved = [_outward(foot, head) for foot, head in zip(legs(body.outline), legs(body.top), strict=True)]
    return atan(min(moved, key=abs) / body.height)


def _outward(foot: Leg, head: Leg) -> float:
    """How far a leg at the head stands to the right of the one at the foot, which is outward, m."""
    if foot.bulge != 0.0:
        return (head.arc().radius - foot.arc().radius) * (1.0 if foot.bulge > 0.0 else -1.0)
    (x0, y0), (x1, y1) = foot.start, foot.end
    (x, y) = head.start
    return ((y1 - y0) * (x - x0) - (x1 - x0) * (y - y0)) / foot.chord


def _core(former: CurvedFormer, body: Prism, discs: int) -> Core:
    (x0, y0), (x1, y1) = box(body.outline)
    return Core(
        former.name,
        "base",
        body.volume(),
        body.in_plan(),
        min(x1 - x0, y1 - y0) / 2.0,
        discs,
        _DOWN,
        -_lean(body),
    )


def _courses(outside: Prism, frame: tuple[Point, Point], levels: Sequence[Point]) -> Iterator[Course]:
    for low, high in levels:
        (x0, y0), (x1, y1) = box(_at(outside, high))
        around = (x0 - frame[0][0], y0 - frame[0][1], frame[1][0] - x1, frame[1][1] - y1)
        yield Course(low, high, max(x1 - x0, y1 - y0) / 2.0, min(around), max(x1 - x0, y1 - y0))


def _lift(asked: Asked, outside: Prism) -> Force:
    """Net push of the mix on the wall: what stands straight over its foot, less what it holds."""
    foot, held, height = area(outside.outline), outside.volume(), outside.height
    over = foot * height - held
    known = (
        given("A_0", foot, "m2", "area of the outline at the foot"),
        given("V_0", held, "m3", "inside the layers, holes counted in"),
        step("V", "A_0 * H - V_0", over, "m3", A_0=foot, H=height, V_0=held),
    )
    return asked.load.buoyed(over, foot - area(outside.top), known)


def _wetted(outside: Prism, holes: Sequence[Prism]) -> float:
    """Sides of the wall and of the plugs, and the base between them, m2."""
    sides = sum((perimeter(one.outline) + perimeter(one.top)) / 2.0 * one.height for one in (outside, *holes))
    return sides + area(outside.outline) - sum(area(hole.outline) for hole in holes)


def _told(asked: Asked, form: Curved, levels: Sequence[Point], sheet: SheetStock) -> Piece:
    """The piece, which the layers give exactly, with a word on its thickness."""
    low, high = levels[-1]
    notes = ["The layers give the outline as drawn, straight up or at its draft."]
    if high - low < sheet.thickness - _WHOLE:
        least, most = heights_that_suit(form.fill, sheet.thickness)
        notes.append(
            f"The top layer is planed to {show.length(high - low, asked.units)}; whole layers of this sheet give a "
            f"thickness of {show.length(least, asked.units)} or {show.length(most, asked.units)}."
        )
    return replace(asked.piece, notes=(*asked.piece.notes, *notes))
