"""The core of a turned piece in a mold of rings: discs laid up, or mortar struck with the template.

A struck core stands on the base: lean mortar heaped over screws that are left standing there, and drawn to the profile
with the core's template turned about a pin on the axis. It has the profile as drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from formwork.errors import GeometryError, StockError
from formwork.geometry import sides
from formwork.geometry.outlines import Point, rectangle
from formwork.geometry.sides import Side
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.asked import Asked
from formwork.molds.mold import Blank, Hardware, Part, PartRole, Placement
from formwork.molds.stacks.layers import Edge, Layer, bands, formed, laid_up, miss
from formwork.molds.stacks.parts import bench_work
from formwork.molds.stacks.rings import disc_part
from formwork.molds.stacks.stack import Core
from formwork.record import record
from formwork.shapes.piece import Curved, CurvedFormer
from formwork.stock.records import SheetStock
from formwork.units import show

MORTAR = 1900.0
"""Density of lean mortar, one part of cement or lime to six or more of sand, kg/m3 (common practice, no source)."""
MIX = "lean mortar"
_UP: Vec = (0.0, 0.0, 1.0)
_DOWN: Vec = (0.0, 0.0, -1.0)


@record
class RoundCore:
    """A core as it will be made.

    Attributes:
        former: what it forms.
        drawn: its side as drawn.
        side: its side as made.
        layers: its discs, the lowest first; none where it is struck.
    """

    former: CurvedFormer
    drawn: Side
    side: Side
    layers: tuple[Layer, ...]

    @property
    def hung(self) -> bool:
        """It hangs from bars, and leaves upward."""
        return self.former.seat == "hung"

    @property
    def off(self) -> tuple[float, Point]:
        """How far the side as made is off the one as drawn, m, and where."""
        return miss(self.drawn, self.layers) if self.layers else (0.0, self.drawn.points[0])


def round_core(asked: Asked, form: Curved, sheet: SheetStock, edge: Edge) -> RoundCore | None:
    """The core of a form; None where it has none.

    Raises:
        GeometryError: where there is more than one core, one that is not turned, or a struck one that would hang.
    """
    struck = asked.order.mold.core == "struck"
    if not form.formers:
        if struck:
            raise GeometryError(f"{asked.piece.name}: mold.core: the piece has no hollow; leave it out")
        return None
    former = form.formers[0]
    if len(form.formers) > 1 or not isinstance(former.body, Turned):
        raise GeometryError(
            f"{asked.piece.name}: a stacked mold of rings takes one core, turned about the same axis"
        )
    side = sides.side_of(former.body.profile)
    if struck:
        if former.seat == "hung":
            raise GeometryError(
                f"{asked.piece.name}: mold.core: a core that hangs over a floor cannot be struck of mortar; cast the "
                "piece over, so that its core stands on the base"
            )
        return RoundCore(former, side, side, ())
    layers = laid_up(side, bands(side.foot, side.head, sheet.thickness, downward=former.seat == "hung"), edge)
    return RoundCore(former, side, formed(layers), layers)


def told(core: RoundCore) -> Core:
    """The core as what holds it down sees it."""
    body = Turned(sides.solid(core.side))
    volume = body.volume()
    top = core.side.points[-1][0] if core.hung else core.side.points[0][0]
    lean = _lean(core.layers, up=core.hung) if core.layers else sides.draft(core.side, up=core.hung)
    return Core(
        core.former.name,
        core.former.seat,
        volume,
        body.in_plan(),
        top,
        len(core.layers),
        _UP if core.hung else _DOWN,
        lean,
        0.0 if core.layers else MORTAR * volume,
    )


def _lean(layers: Sequence[Layer], up: bool) -> float:
    """Least lean of a stack on its way: of a bevelled layer its own, of steps that from middle to middle, rad."""
    turn = 1.0 if up else -1.0
    leans = [turn * layer.lean for layer in layers if abs(layer.lean) > 1e-9]
    steps = [
        Layer((low.low + low.high) / 2.0, (high.low + high.high) / 2.0, low.greatest, high.greatest)
        for low, high in pairwise(layers)
        if abs(low.lean) <= 1e-9 or abs(high.lean) <= 1e-9
    ]
    return min((*leans, *(turn * one.lean for one in steps)), default=0.0)


def core_parts(core: RoundCore, sheet: SheetStock, asked: Asked) -> Iterator[Part]:
    """Its discs, from its seat on; or its mortar.

    Raises:
        StockError: where a disc does not fit the sheet.
    """
    name = core.former.name
    if not core.layers:
        yield _mortar(core)
        return
    widest = 2.0 * max(layer.greatest for layer in core.layers)
    if widest > min(sheet.length, sheet.width) - 2.0 * asked.shop.saw.trim:
        raise StockError(
            f"{asked.piece.name}: a core of discs {show.length(widest, asked.units)} across does not fit the sheet "
            f"'{sheet.name}'; name a larger sheet, or cast the piece over a struck core (mold.core = \"struck\")"
        )
    order = core.layers[::-1] if core.hung else core.layers
    for number, layer in enumerate(order, start=1):
        role: PartRole = "core cap" if number == len(order) else "core rib"
        work = bench_work(layer, sheet, asked.units, whole=False)
        yield disc_part(layer, f"{name} disc {number}", role, name, sheet, work)


def _mortar(core: RoundCore) -> Part:
    body = Turned(sides.solid(core.side))
    wide, high = 2.0 * max(core.side.fine())[0], core.side.height
    return Part(
        name=core.former.name,
        role="core cap",
        kind="hardware",
        stock=MIX,
        group=core.former.name,
        cells=(),
        blank=Blank(wide, wide, high, rectangle((0.0, 0.0), (wide, wide)).points, (0.0,) * 4),
        placement=Placement(
            (-wide / 2.0, -wide / 2.0, core.side.foot), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), _UP
        ),
        work="strike it with the core template turned about a pin on the axis",
        turned=(body,),
    )


def mortar(cores: Sequence[Core]) -> Iterator[Hardware]:
    """What struck cores are made of, a tenth over."""
    for core in cores:
        if core.discs == 0:
            use = f"for the {core.name}: 1 part cement or lime to 6 of sand, a tenth over; sealed, it serves again"
            yield Hardware(MIX, "", 1.1 * core.volume, "m3", use)
