"""From an order to its molds, in two stages: the lining, which the piece decides, and the bracing, for the mix.

How a mold is built is its method's affair: a file of this folder of that name, imported where an order asks for it.
"""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module
from math import inf
from typing import assert_never

from formwork.errors import GeometryError, StockError
from formwork.geometry.planes import Planes
from formwork.mix.records import Mix
from formwork.molds.asked import Asked, BuiltMold, Lining, Method, fillings
from formwork.molds.choice import usual_sheet
from formwork.molds.load import load_of
from formwork.molds.structure import Structure
from formwork.project.records import OwnedMold, PieceOrder, Shop
from formwork.shapes.body import box_round
from formwork.shapes.cast import lots
from formwork.shapes.parameters import Keys, Parameters
from formwork.shapes.piece import Centre, Frame, Lot, Piece
from formwork.shapes.register import register
from formwork.units.show import UnitSystem


def line(order: PieceOrder, shop: Shop, mix: Mix | None, units: UnitSystem) -> tuple[Lining | Structure, ...]:
    """The linings of an order's molds, one for each of its different pieces; its frames and centres, which hold no mix.

    Args:
        order: what is wanted.
        shop: what it is built from.
        mix: what the molds must hold; None where nothing is cast.
        units: how a person here reads a length.

    Raises:
        GeometryError: where a piece or its mold cannot exist.
        StockError: where the shop has nothing to build it from.
    """
    parameters, owned = _as_built(order, shop)
    gang = parameters.gang if isinstance(parameters, Parameters) else 1
    uses = max(fillings(order, gang), order.mold.uses or 0)
    sheet = usual_sheet(shop, order.mold, uses).thickness

    def laid_out(layers: int) -> tuple[Lining | Structure, ...]:
        return tuple(
            _made(order, made, shop, mix, units, owned)
            for made in lots(register()[order.shape], parameters, order.name, layers * sheet)
        )

    single = laid_out(1)
    wanted = 1 if owned else max((one.layers for one in single if not isinstance(one, Structure)), default=1)
    return single if wanted == 1 else laid_out(wanted)


def _made(
    order: PieceOrder,
    made: Lot | Frame | Centre,
    shop: Shop,
    mix: Mix | None,
    units: UnitSystem,
    owned: bool,
) -> Lining | Structure:
    match made:
        case Lot():
            return _lined(_for_lot(order, made), made.piece, shop, mix, units, owned)
        case Frame():
            from formwork.molds.framed import framed  # noqa: PLC0415 - a planter needs neither

            return framed(order, made, shop, units)
        case Centre():
            from formwork.molds.arches.centring import centred  # noqa: PLC0415 - the same

            return centred(order, made, shop, _of_what(order, mix), units)
        case _:
            assert_never(made)


def _of_what(order: PieceOrder, mix: Mix | None) -> Mix:
    if mix is None:
        raise GeometryError(f"{order.name}: it is cast, so the project must say of what mix")
    return mix


def _for_lot(order: PieceOrder, lot: Lot) -> PieceOrder:
    """The order for one of the different pieces of its shape."""
    return replace(order, name=lot.piece.name, count=order.count * lot.each)


def _method(order: PieceOrder) -> Method:
    found: Method = import_module(f"formwork.molds.{order.mold.method}")
    return found


def _lined(
    order: PieceOrder, piece: Piece, shop: Shop, mix: Mix | None, units: UnitSystem, owned: bool
) -> Lining:
    mix = _of_what(order, mix)
    uses = max(fillings(order, piece.cavities), order.mold.uses or 0)
    broadest = _broadest(piece) if mix.vibrated else inf
    load = load_of(mix, piece.form.fill, broadest, order.mold, units)
    return _method(order).lined(Asked(order, piece, shop, load, uses, owned, units))


def _broadest(piece: Piece) -> float:
    """Greatest level side of a piece, m."""
    low, high = box_round(Planes(), piece)
    return max(high[0] - low[0], high[1] - low[1])


def brace(lined: Lining) -> BuiltMold:
    """The mold: its lining with what holds it, everything bought for it, how it closes and how it comes off.

    Raises:
        GeometryError: where a part has no room.
        StockError: where a joint finds no screw.
    """
    return _method(lined.order).brace(lined)


def _as_built(order: PieceOrder, shop: Shop) -> tuple[Keys, bool]:
    """The sizes the mold has: the piece's own, or those of a mold the shop owns.

    Raises:
        StockError: where the shop owns no such mold, or owns it for another shape.
    """
    if order.mold.owned is None:
        return order.parameters, False
    known: dict[str, OwnedMold] = {mold.name: mold for mold in shop.owned}
    found = known.get(order.mold.owned)
    if found is None:
        names = ", ".join(known) or "none"
        raise StockError(
            f"{order.name}: mold.owned: got '{order.mold.owned}', want a mold of the shop file ({names})"
        )
    if found.shape != order.shape:
        raise StockError(
            f"{order.name}: the owned mold '{found.name}' casts a {found.shape}, not a {order.shape}"
        )
    return found.parameters, True
