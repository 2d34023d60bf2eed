"""The framed method: pipe cut to length, straight and bolted at the nodes or bent to radius; built, not cast."""

from __future__ import annotations

from formwork.errors import StockError
from formwork.molds.frames.bent import bent
from formwork.molds.frames.strutted import strutted
from formwork.molds.structure import BuiltFrame
from formwork.project.records import PieceOrder, Shop
from formwork.shapes.piece import Frame
from formwork.stock.records import StickStock
from formwork.units.show import UnitSystem


def framed(order: PieceOrder, frame: Frame, shop: Shop, units: UnitSystem) -> BuiltFrame:
    """The frame as this shop builds it.

    Args:
        order: what is wanted.
        frame: as laid out.
        shop: what it is built from.
        units: how a person here reads a length.

    Raises:
        StockError: where the shop has no such pipe, no bolt that is long enough, or a pipe that cannot be bent so.
    """
    pipe = _pipe(frame, shop)
    made = bent(frame, pipe, shop.saw, units) if frame.bent else strutted(frame, pipe, shop.hardware, units)
    return BuiltFrame(order, frame, pipe, made.cuts, made.hardware, made.stack, made.instructions)


def _pipe(frame: Frame, shop: Shop) -> StickStock:
    """The pipe that is named, or the shop's first.

    Raises:
        StockError: where there is none of that name.
    """
    if not frame.pipe:
        return shop.pipes[0]
    for pipe in shop.pipes:
        if pipe.name == frame.pipe:
            return pipe
    names = [pipe.name for pipe in shop.pipes]
    from difflib import get_close_matches  # noqa: PLC0415 - only a wrong name needs it

    close = get_close_matches(frame.pipe, names, n=1)
    hint = f" (did you mean '{close[0]}'?)" if close else ""
    raise StockError(
        f"{frame.name}: pipe: got '{frame.pipe}', want one of {', '.join(names)}{hint}; "
        "another one goes in the shop file as [[pipe]]"
    )
