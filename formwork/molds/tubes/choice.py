"""Which tube a piece is cast in, and which keeps its hollow free: by what was measured, never by the label.

A tube that nobody measured may be planned with where its label comes near the size that is wanted; the plan then says
that the size is taken on trust, and what to measure.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from formwork.errors import StockError
from formwork.molds.tubes.straight import Core, Straight
from formwork.project.records import CoreOut, Shop
from formwork.record import record
from formwork.stock.tubes import TubeStock
from formwork.units import show
from formwork.units.show import UnitSystem

SAME = 5e-5
"""Two diameters that a caliper does not tell apart, m: it reads to a tenth of a millimetre."""
NEAR_LABEL = 0.03
"""How far a tube may be off its label, as a share of it (ours): so far a label finds a tube that nobody measured."""
WRAP = 0.003
"""Thickness of the soft wrap that a core tube slides out of, foam underlay or the like, m (ours)."""
_NEAREST = 3
PIPE_KINDS = ("EMT", "steel")


@record
class Fitted:
    """The tube a piece is cast in.

    Attributes:
        tube: of the shop.
        inside: its inside diameter, which is the piece's, m.
        exact: somebody measured it.
    """

    tube: TubeStock
    inside: float
    exact: bool

    @property
    def outer(self) -> float:
        """Radius of its outside, m."""
        return self.inside / 2.0 + self.tube.wall


@record
class CoreFitted:
    """The tube or pipe that keeps a hollow free.

    Attributes:
        stock: its name in the shop.
        kind: what it is made of.
        outside: its outside diameter, m.
        wall: m.
        out: how it leaves the piece.
        exact: somebody measured it, or a standard gives it.
    """

    stock: str
    kind: str
    outside: float
    wall: float
    out: CoreOut
    exact: bool

    @property
    def wrap(self) -> float:
        """Thickness of what it is wrapped in, m."""
        return WRAP if self.out == "wrapped" else 0.0

    @property
    def spent(self) -> bool:
        """Every filling takes a new one."""
        return self.out == "left in" or self.kind == "cardboard"


def choose_tube(shop: Shop, name: str | None, work: Straight, units: UnitSystem) -> Fitted:
    """The tube for a piece: the one that is named, or the cheapest that fits and reaches from plate to brim.

    Raises:
        StockError: where none fits.
    """
    wanted = 2.0 * work.radius
    known = [tube for tube in shop.tubes if name in (None, tube.name)]
    fits = [tube for tube in known if _inside_fits(tube, wanted)]
    if not fits:
        raise StockError(_no_tube(work, known, wanted, name, units))
    reaching = [tube for tube in fits if tube.longest > work.height - 1e-9]
    if not reaching:
        longest = max(tube.longest for tube in fits)
        raise StockError(
            f"{work.piece.name}: no length of {_names(fits)} reaches {show.length(work.height, units)} from plate to "
            f"brim: the longest is {show.length(longest, units)}; list a longer one, or make the piece in two"
        )
    prices = [_price(one, work.height) for one in reaching]
    priced = all(price is not None for price in prices)
    tube, _ = min(
        zip(reaching, prices, strict=True),
        key=lambda one: (one[0].inside is None, (one[1] or 0.0) if priced else 0.0, shop.tubes.index(one[0])),
    )
    return Fitted(tube, wanted, tube.inside is not None)


def _price(tube: TubeStock, height: float) -> float | None:
    """What the tube of one piece costs at the best of the lengths it is cut from; None where none has a price."""
    prices = [
        one.price / int(one.length / height + 1e-9)
        for one in tube.lengths
        if one.price is not None and one.length >= height - 1e-9
    ]
    return min(prices, default=None)


def _inside_fits(tube: TubeStock, wanted: float) -> bool:
    if tube.inside is not None:
        return abs(tube.inside - wanted) < SAME
    return abs(tube.size - wanted) <= NEAR_LABEL * wanted


def _no_tube(
    work: Straight, known: Sequence[TubeStock], wanted: float, name: str | None, units: UnitSystem
) -> str:
    """Why none fits, with the tubes that come near."""
    head = f"{work.piece.name}: its mold is {show.length(wanted, units, exact=True)} inside"
    if not known:
        return f"{head}, and the shop lists no tubes; add a [[tube]] to the shop file"

    def off(tube: TubeStock) -> float:
        return abs((tube.inside or tube.size) - wanted)

    near = sorted(known, key=lambda tube: (off(tube), tube.name))[:_NEAREST]
    said = "; ".join(_described(tube, units) for tube in near)
    lead = "and this tube does not fit" if name else "and no tube of the shop fits; the nearest"
    return (
        f"{head}, {lead}: {said}. Give the piece the inside diameter that you measured in the tube, or build it with "
        'method = "wrapped"'
    )


def _described(tube: TubeStock, units: UnitSystem) -> str:
    if tube.inside is not None:
        return f"{tube.name} measures {show.length(tube.inside, units, exact=True)} inside"
    return f"{tube.name} is labelled {tube.nominal} and measured by nobody"


def _names(tubes: Iterable[TubeStock]) -> str:
    return " or ".join(tube.name for tube in tubes)


def choose_core(
    shop: Shop, name: str | None, out: CoreOut | None, work: Straight, core: Core, units: UnitSystem
) -> CoreFitted:
    """The tube or pipe for a hollow, measured outside: the one that is named, or the first that fits.

    Raises:
        StockError: where none fits, or what is named cannot leave the piece as it is asked to.
    """
    wanted = 2.0 * core.radius
    found = [one for one in _candidates(shop, out) if name in (None, one.stock)]
    fits = [one for one in found if _outside_fits(one, wanted)]
    if not fits:
        raise StockError(_no_core(work, found, wanted, units))
    stiff, fits = fits[0], [one for one in fits if _leaves(one)]
    if not fits:
        raise StockError(
            f"{work.piece.name}: mold.core_out: {stiff.stock} is of {stiff.kind} and neither springs in along a slit "
            'nor is worth sawing in two; say core_out = "wrapped" or "left in"'
        )
    best = min(fits, key=lambda one: not one.exact)
    return CoreFitted(best.stock, best.kind, wanted - 2.0 * best.wrap, best.wall, best.out, best.exact)


def _candidates(shop: Shop, out: CoreOut | None) -> list[CoreFitted]:
    """Every tube and pipe of the shop; of one that nobody measured the outside is what its label leads to expect."""
    found = [
        CoreFitted(
            tube.name,
            tube.kind,
            tube.outside or tube.size,
            tube.wall,
            out or _usual_way(tube.kind),
            tube.outside is not None,
        )
        for tube in shop.tubes
    ]
    return found + [
        CoreFitted(pipe.name, pipe.material, pipe.width, pipe.wall, out or _usual_way(pipe.material), True)
        for pipe in shop.pipes
    ]


def _usual_way(kind: str) -> CoreOut:
    """What springs back is slit; steel is wrapped."""
    return "wrapped" if kind.startswith(PIPE_KINDS) else "slit"


def _leaves(one: CoreFitted) -> bool:
    return one.out in ("wrapped", "left in") or not one.kind.startswith(PIPE_KINDS)


def _outside_fits(one: CoreFitted, wanted: float) -> bool:
    across = one.outside + 2.0 * one.wrap
    if one.exact:
        return abs(across - wanted) < SAME
    return min(abs(across - wanted), abs(across + 2.0 * one.wall - wanted)) <= NEAR_LABEL * wanted


def _no_core(work: Straight, known: Sequence[CoreFitted], wanted: float, units: UnitSystem) -> str:
    head = f"{work.piece.name}: its hollow is {show.length(wanted, units, exact=True)} across"
    if not known:
        return f"{head}, and the shop lists no tube or pipe for its core; add a [[tube]] to the shop file"
    near = sorted(known, key=lambda one: (abs(one.outside + 2.0 * one.wrap - wanted), one.stock))[:_NEAREST]
    said = "; ".join(_core_described(one, units) for one in near)
    return (
        f"{head}, and no tube or pipe of the shop fits; the nearest: {said}. A core tube is measured outside: "
        "give the hollow that diameter"
    )


def _core_described(one: CoreFitted, units: UnitSystem) -> str:
    wrap = f", {show.length(one.outside + 2.0 * one.wrap, units, exact=True)} wrapped" if one.wrap else ""
    known = "measures" if one.exact else "is labelled"
    return f"{one.stock} {known} {show.length(one.outside, units, exact=True)}{wrap}"
