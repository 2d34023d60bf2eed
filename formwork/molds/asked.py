"""What a mold method is asked for, and what every method gives back at each of its two stages."""

from __future__ import annotations

from math import ceil
from typing import Any, Protocol

from formwork.molds.load import Load
from formwork.molds.mold import Mold
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.shapes.piece import Piece
from formwork.units.show import UnitSystem


@record
class Asked:
    """One mold that is wanted.

    Attributes:
        order: for this piece.
        piece: as cast.
        shop: what the mold is built from.
        load: the mix, as the mold must take it.
        uses: fillings it is built for.
        owned: the shop has the mold already.
        units: how a person here reads a length.
    """

    order: PieceOrder
    piece: Piece
    shop: Shop
    load: Load
    uses: int
    owned: bool
    units: UnitSystem


class Lining(Protocol):
    """A mold's lining, before anything holds it; what else it holds is its method's own."""

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""

    @property
    def layers(self) -> int:
        """Sheets that each divider of a gang must be laid up from; 1 where there are none."""


class BuiltMold(Protocol):
    """A mold with its bracing; what else it holds is for the checks of its method."""

    @property
    def mold(self) -> Mold:
        """What every output reads."""

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""


class Method(Protocol):
    """A file of ``molds/``, of the method's own name."""

    def lined(self, asked: Asked) -> Lining:
        """What the piece decides: the faces that hold the mix.

        Raises:
            GeometryError: where the piece or its mold cannot exist.
            StockError: where the shop has nothing to build it from.
        """

    def brace(self, lined: Any) -> BuiltMold:
        """What the mix decides: the lining with all that holds it; takes what ``lined`` gave.

        Raises:
            GeometryError: where a part has no room.
            StockError: where a joint finds no screw.
        """


def fillings(order: PieceOrder, cavities: int) -> int:
    """How often each mold of an order is filled until every piece is cast, so many at a filling."""
    return ceil(order.cast / (order.molds * cavities))
