"""Parts that stacked molds have besides their layers: base, bars over a hung core, plugs. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from formwork.errors import StockError
from formwork.geometry.outlines import Point, rectangle
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import across, add, scale, sub
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.molds.stacks.layers import Layer, planed
from formwork.molds.stacks.stack import BASE, Core
from formwork.shapes.piece import Piece, Plug
from formwork.stock.records import SheetStock, StickStock
from formwork.units import show
from formwork.units.show import UnitSystem

MARGIN = 0.02
"""How far the base stands out beyond the layers, m (common practice, no source)."""


def base(reach: float | tuple[Point, Point], sheet: SheetStock, trim: float, name: str) -> Part:
    """The base: a board under the layers, its upper face at z = 0.

    Args:
        reach: half the breadth of what stands on it, or two corners of the box round that.
        sheet: it is cut from.
        trim: taken off each edge of a sheet.
        name: of the piece, for messages.

    Raises:
        StockError: where the sheet is too small.
    """
    low, high = ((-reach, -reach), (reach, reach)) if isinstance(reach, float) else reach
    low, high = (low[0] - MARGIN, low[1] - MARGIN), (high[0] + MARGIN, high[1] + MARGIN)
    length, width = high[0] - low[0], high[1] - low[1]
    turned = width > length
    long, short = max(length, width), min(length, width)
    if long > sheet.length - 2.0 * trim or short > sheet.width - 2.0 * trim:
        raise StockError(
            f"{name}: the base of its mold, {show.both(long)} by {show.both(short)}, does not fit the sheet "
            f"'{sheet.name}'; name a larger sheet"
        )
    t = sheet.thickness
    along = ((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)) if turned else ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    origin = (high[0], low[1], 0.0) if turned else (low[0], low[1], 0.0)
    return Part(
        name="base",
        role="base",
        kind="panel",
        stock=sheet.name,
        group=BASE,
        cells=(),
        blank=_rectangle(long, short, t),
        placement=Placement(origin, *along, (0.0, 0.0, -1.0)),
        good_face="outline",
        prisms=(Prism(rectangle(low, high), t, (0.0, 0.0, -t)),),
    )


def bars(core: Core, reach: float, fill: float, stick: StickStock) -> Iterator[Part]:
    """Sticks laid flat across the mold, from which a core hangs: two, or one over a narrow core.

    Args:
        core: that hangs from them.
        reach: half the breadth of the mold.
        fill: height that they lie at.
        stick: they are cut from.
    """
    wide = stick.width
    places = (0.0,) if core.top < 1.25 * wide else (-core.top / 2.0, core.top / 2.0)
    for number, y in enumerate(places, start=1):
        low, high = (-reach, y - wide / 2.0), (reach, y + wide / 2.0)
        yield Part(
            name=f"{core.name} bar {number}",
            role="bar",
            kind="stick",
            stock=stick.name,
            group=core.name,
            cells=(),
            blank=_rectangle(2.0 * reach, wide, stick.thickness),
            placement=Placement(
                (*low, fill + stick.thickness), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)
            ),
            prisms=(Prism(rectangle(low, high), stick.thickness, (0.0, 0.0, fill)),),
        )


def plug_parts(piece: Piece, units: UnitSystem) -> Iterator[Part]:
    """Round plugs, bought as dowel or stopper, each in the group of what it is fastened to."""
    for plug in piece.plugs:
        yield _plug(plug, units)


def _plug(plug: Plug, units: UnitSystem) -> Part:
    body = plug.body
    wide, narrow = (2.0 * pick(body.foot_radius, body.head_radius) for pick in (max, min))
    u, v = across(body.axis)
    taper = f"taper it: {show.length(wide, units)} across at the screwed end, {show.length(narrow, units)} at the other"
    role: PartRole = "plug"
    return Part(
        name=plug.name,
        role=role,
        kind="hardware",
        stock="dowel or stopper",
        group=plug.on if plug.seat == "former" else BASE,
        cells=(),
        blank=_rectangle(body.length, wide, wide),
        placement=Placement(sub(body.foot, scale(add(u, v), wide / 2.0)), body.axis, u, v),
        rounds=(body,),
        work=taper if wide - narrow > 1e-9 else "",
    )


def _rectangle(length: float, width: float, thickness: float) -> Blank:
    return Blank(length, width, thickness, rectangle((0.0, 0.0), (length, width)).points, (0.0,) * 4)


def bench_work(layer: Layer, sheet: SheetStock, units: UnitSystem, *, whole: bool) -> str:
    """What is done to a layer besides sawing its outline; empty where nothing is.

    Args:
        layer: the layer.
        sheet: it is cut from.
        units: how a person here reads a length.
        whole: it is a ring in one piece, whose inner edge is an opening.
    """
    said = []
    if whole and abs(layer.lean) > 1e-9:
        said.append(
            f"saw the inner edge with the blade tilted {degrees(abs(layer.lean)):.1f} deg, on the line of the outline "
            "face, so that the hole is wider on the far face"
        )
    if planed(layer, sheet.thickness):
        said.append(
            f"plane it to {show.length(layer.thickness, units)} once it is glued on, or lay it from thinner sheet"
        )
    return "; ".join(said)
