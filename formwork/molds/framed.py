"""The framed method: pipe cut to length, straight and bolted at the nodes or bent to radius; built, not cast."""

from __future__ import annotations

from math import pi

from formwork.errors import StockError
from formwork.molds.frames.bent import bent
from formwork.molds.frames.pipework import Cut
from formwork.molds.frames.strutted import strutted
from formwork.molds.mold import Hardware
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.shapes.piece import Frame
from formwork.stock.records import StickStock
from formwork.units.show import UnitSystem


@record
class BuiltFrame:
    """A frame with the pipe it is built of.

    Attributes:
        order: what is wanted.
        frame: nodes, members, hubs.
        pipe: the stock.
        cuts: its pipes, class by class.
        hardware: everything bought by the piece, for one frame.
        stack: thickness of the flattened ends on the fullest node, m; 0 where none are flattened.
        instructions: how its pipes are made and put up.
    """

    order: PieceOrder
    frame: Frame
    pipe: StickStock
    cuts: tuple[Cut, ...]
    hardware: tuple[Hardware, ...]
    stack: float
    instructions: tuple[str, ...]

    @property
    def name(self) -> str:
        """What the project calls it."""
        return self.frame.name

    @property
    def copies(self) -> int:
        """How many are built."""
        return self.order.count

    @property
    def mass(self) -> float:
        """Of the pipes of one frame as cut, bolts and sleeves left out, kg."""
        section = pi * (self.pipe.width - self.pipe.wall) * self.pipe.wall
        return section * self.pipe.density * sum(cut.each * cut.part.blank.length for cut in self.cuts)


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
