"""What the piece decides of a wrapped mold: its sides, the sheets that bend to them, its core, its stock."""

from __future__ import annotations

from math import tau

from formwork.errors import GeometryError
from formwork.geometry.turned import Turned
from formwork.molds.asked import Asked
from formwork.molds.choice import FEW_USES, Stocks, usual_sheet, usual_sticks
from formwork.molds.wraps.cones import Cone, cones
from formwork.molds.wraps.round_core import CLEAR, RoundCore, core_side, is_apart
from formwork.molds.wraps.round_shell import Shell, shell
from formwork.molds.wraps.skin_holds import core_bay
from formwork.molds.wraps.skins import Wanted, skin_for
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.piece import Curved, CurvedFormer, curved
from formwork.stock.records import SheetStock

SLENDER = 3.0
"""Height over breadth at the foot above which a mold is propped (common practice, no source)."""


@record
class Lined:
    """What the piece decides of a wrapped mold.

    Attributes:
        asked: what is wanted.
        sides: of the piece, from the foot up; one higher than the skin's sheet in tiers.
        shell: the outer skin, its battens and its strap.
        core: the core; None of a solid piece.
        stocks: sheet, stick and hardware.
    """

    asked: Asked
    sides: tuple[Cone, ...]
    shell: Shell
    core: RoundCore | None
    stocks: Stocks

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.asked.order

    @property
    def layers(self) -> int:
        """There are no dividers."""
        return 1

    @property
    def form(self) -> Curved:
        """The geometry of the piece."""
        return curved(self.asked.piece)


def lined(asked: Asked) -> Lined:
    """What the piece decides: its sides, the sheets that bend to them, the stock for the rest.

    Raises:
        GeometryError: where the piece is not turned of straight sides with one round core at most.
        StockError: where no sheet bends so tightly, or the shop lacks sheet or stick.
    """
    form, name, shop = curved(asked.piece), asked.order.name, asked.shop
    if not isinstance(form.outside, Turned):
        raise GeometryError(f"{name}: a wrapped mold is round; this piece has an outline of its own")
    sheet = usual_sheet(shop, asked.order.mold, asked.uses)
    sticks = usual_sticks(shop, asked.order.mold)
    stick = min(sticks, key=lambda one: one.thickness * one.width)
    bolted = asked.uses > FEW_USES
    stocks = Stocks(sheet, stick, stick.width, stick.thickness, stick, shop.sticks, shop.hardware, bolted)
    sides = cones(form.outside, name)
    outer = shell(asked, sides, stocks)
    tiers = tuple(tier for side in sides for tier in side.tiers(outer.skin.tiers))
    return Lined(asked, tiers, outer, _core(asked, _former(form, name), sheet), stocks)


def _former(form: Curved, name: str) -> CurvedFormer | None:
    """The core, where there is one.

    Raises:
        GeometryError: where there are other formers than it and strips round the foot, or two cores.
    """
    cores = [one for one in form.formers if one.kind == "core"]
    if len(form.formers) > len(cores) + len(foot_strips(form)) or len(cores) > 1:
        names = ", ".join(one.name for one in form.formers)
        raise GeometryError(
            f"{name}: a wrapped mold has one core and a chamfer round the foot, no other former; this piece has "
            f"{names}"
        )
    return cores[0] if cores else None


def slender(lined: Lined) -> bool:
    """It stands more than three times as high as it is broad at the foot, so that a push upsets it."""
    return lined.form.fill > SLENDER * 2.0 * lined.sides[0].foot[0]


def foot_strips(form: Curved) -> tuple[CurvedFormer, ...]:
    """What shapes a chamfer round the foot."""
    return tuple(one for one in form.formers if one.kind == "strip" and one.seat == "base")


def _core(asked: Asked, former: CurvedFormer | None, sheet: SheetStock) -> RoundCore | None:
    asked_ribs = asked.order.mold.core_ribs
    if former is None:
        if asked_ribs is not None:
            raise GeometryError(
                f"{asked.order.name}: mold.core_ribs: got {asked_ribs}, want nothing: the piece has no hollow"
            )
        return None
    face = core_side(former, asked.order.name, sheet.thickness)
    tight = CLEAR if is_apart(former, face) else 0.0
    wanted = Wanted((face,), face.narrowest - tight, tau, False, former.name)
    named = asked.order.mold.skin
    skin = skin_for(asked.shop, named, wanted, asked.order.name, asked.units, strict=False)
    bay = core_bay(skin, asked.load, max(face.foot[0], face.head[0]))
    return RoundCore(former, face, skin, sheet, bay, asked.order.name, asked_ribs)
