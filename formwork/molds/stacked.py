"""The stacked method: rings cut from sheet, laid up round the piece, and discs laid up into its core.

The lining is the whole of what is cut; what the mix decides is how many screws and bolts hold it together. Which
layers there are and what they form is told by ``stack_round`` for what is turned and by ``stack_outline`` for what is
an outline with a height.
"""

from __future__ import annotations

from math import pi

from formwork.errors import GeometryError, StockError
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.molds.asked import Asked
from formwork.molds.bearers import Bearers, bearers
from formwork.molds.choice import Task, choose
from formwork.molds.coaxial import Coaxial, coaxial_cavity
from formwork.molds.fastening import Fastening, fixing
from formwork.molds.gluing import GLUE
from formwork.molds.hardware import consumables, gathered, lines_of
from formwork.molds.in_plan import InPlan, plan_cavity
from formwork.molds.label import limits
from formwork.molds.load import Load
from formwork.molds.mold import Hardware, Mold, Strip
from formwork.molds.panels.strip import way_in_words
from formwork.molds.stacks.core import mortar
from formwork.molds.stacks.joints import stack_fastenings
from formwork.molds.stacks.outline import outline_stack
from formwork.molds.stacks.rings import EAR_DEEP
from formwork.molds.stacks.round import round_stack
from formwork.molds.stacks.stack import BACK, BASE, FRONT, WALL, Core, Stack
from formwork.molds.stacks.telling import stack_assembly, stack_instructions
from formwork.molds.weighing import mass, part_volume
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.shapes.body import curved_volume
from formwork.shapes.piece import curved
from formwork.stock.records import SheetStock
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.show import UnitSystem

_DOWN = (0.0, 0.0, -1.0)
_HALVES = ((FRONT, (0.0, -1.0, 0.0)), (BACK, (0.0, 1.0, 0.0)))
_GLUED = ("ring", "core rib", "core cap")
_SAWN = ("plywood", "overlaid plywood", "birch plywood", "melamine board", "MDF")
_THINNEST = 0.0085
"""Thinnest sheet whose layers hold a screw, m (common practice, no source)."""
_DOWEL = 0.010
"""Diameter of the dowels that bring two half molds back to the same place, m (common practice, no source)."""


@record
class Lined:
    """A stacked mold before anything is screwed: what was asked for, and all that is cut."""

    asked: Asked
    stack: Stack

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.asked.order

    @property
    def layers(self) -> int:
        """It takes no dividers."""
        return 1

    @property
    def load(self) -> Load:
        """The mix."""
        return self.asked.load

    @property
    def shop(self) -> Shop:
        """What it is built from."""
        return self.asked.shop


@record
class Built:
    """A stacked mold, and what the checks must know of how it was designed.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        cavity: what the parts enclose.
        fastenings: the fastener chosen for every joint; none of a mold the shop owns.
        bearers: what the base may lie on where the bench is not flat.
    """

    mold: Mold
    lined: Lined
    cavity: Coaxial | InPlan
    fastenings: tuple[Fastening, ...]
    bearers: Bearers | Unjudged

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return self.cavity.leaks


def lined(asked: Asked) -> Lined:
    """All that is cut for a stacked mold.

    Raises:
        GeometryError: where the piece cannot be formed by layers.
        StockError: where the layers do not fit the sheet, or it cannot be laid up.
    """
    form = curved(asked.piece)
    widest = max(high - low for low, high in list(zip(*form.outside.box(), strict=True))[:2])
    stocks = choose(asked.shop, asked.order.mold, Task(asked.load, widest, asked.uses))
    _refuse_thin(stocks.sheet, asked)
    make = round_stack if isinstance(form.outside, Turned) else outline_stack
    return Lined(asked, make(asked, stocks, form))


def _refuse_thin(sheet: SheetStock, asked: Asked) -> None:
    """Layers are sawn, glued and screwed.

    Raises:
        StockError: where the sheet is no wood, or too thin for that.
    """
    if sheet.material not in _SAWN or sheet.thickness < _THINNEST:
        raise StockError(
            f"{asked.piece.name}: mold.sheet: '{sheet.name}' cannot be laid up: layers are sawn, glued and screwed; "
            f"name a sheet of wood of {show.length(_THINNEST, asked.units)} or more"
        )


def brace(lined: Lined) -> Built:
    """The mold with its screws and bolts, what it encloses, and how it comes off.

    Raises:
        GeometryError: where bolts find no room as the person asks for them.
        StockError: where a joint finds no fastener.
    """
    asked, stack, order = lined.asked, lined.stack, lined.order
    chosen = () if asked.owned else stack_fastenings(stack, asked.load, asked.shop, order.mold.ear_bolts)
    cavity = _cavity(stack)
    rests = bearers(stack.stocks.sheet, asked.load, asked.units)
    steps = _stripping(stack)
    under = [step.group for step in steps if step.way[2] < -0.98]
    mold = Mold(
        name=f"{order.name} mold",
        method=order.mold.method,
        piece=stack.piece,
        planes=Planes(),
        parts=stack.parts,
        hardware=() if asked.owned else _hardware(stack, chosen, asked.units, asked.uses),
        cavity=cavity.volume,
        nominal=_nominal(stack),
        stripping=tuple(step for step in steps if step.group not in dict(stack.locked)),
        locked=stack.locked,
        wetted=stack.wetted,
        seams=stack.seams,
        uses=asked.uses,
        lifts=asked.load.lifts,
        limits=limits(asked.load, asked.units),
        owned=asked.owned,
        copies=order.molds,
        instructions=stack_instructions(asked, stack, rests),
        fixings=tuple(map(fixing, chosen)),
        mass=mass(stack.parts, asked.shop) + sum(core.mortar for core in stack.cores),
        steps=stack_assembly(asked, stack, rests),
        under=mass((part for part in stack.parts if part.group in under), asked.shop)
        + sum(core.mortar for core in stack.cores if core.name in under),
    )
    return Built(mold, lined, cavity, chosen, rests)


def _cavity(stack: Stack) -> Coaxial | InPlan:
    """What the parts enclose, from the parts alone."""
    piece = stack.piece
    if isinstance(curved(piece).outside, Prism):
        return plan_cavity(stack.parts, piece.form.fill, piece.pour_points)
    return coaxial_cavity(stack.parts, piece.form.fill, piece.pour_points)


def _nominal(stack: Stack) -> float:
    """Volume of the piece as its layers form it, m3.

    Raises:
        GeometryError: where the core leaves nothing.
    """
    piece = stack.piece
    found = curved_volume(curved(piece)) - sum(plug.body.volume() for plug in piece.plugs)
    if found <= 0.0:
        raise GeometryError(f"{piece.name}: nothing is left to cast; the core fills the whole piece")
    return found


def _stripping(stack: Stack) -> tuple[Strip, ...]:
    """Hung core, wall, base, standing core; a wall that leaves downward waits for base and core."""
    hung = [_leaving(core) for core in stack.cores if core.seat == "hung"]
    standing = [_leaving(core) for core in stack.cores if core.seat != "hung"]
    base = Strip(BASE, _DOWN, pi / 2.0, way_in_words(_DOWN))
    if stack.parted:
        wall = [Strip(name, way, 0.0, way_in_words(way)) for name, way in _HALVES]
    else:
        wall = [Strip(WALL, stack.way, stack.draft, way_in_words(stack.way))]
    below = [base, *standing]
    last = not stack.parted and stack.way[2] < 0.0
    return (*hung, *below, *wall) if last else (*hung, *wall, *below)


def _leaving(core: Core) -> Strip:
    return Strip(core.name, core.way, core.draft, way_in_words(core.way))


def _hardware(
    stack: Stack, chosen: tuple[Fastening, ...], units: UnitSystem, uses: int
) -> tuple[Hardware, ...]:
    lines = [line for one in chosen for line in lines_of(one)]
    for part in stack.parts:
        if part.role == "plug":
            size = (
                f"{show.length(part.blank.width, units)} across, {show.length(part.blank.length, units)} long"
            )
            lines.append(Hardware("dowel or stopper", size, 1.0, "piece", "drain plugs"))
    if stack.parted:
        size = f"{show.length(_DOWEL, units)} across, {show.length(2.0 * EAR_DEEP, units)} long"
        use = "two in each row of ears, so that the halves come back to the same place"
        lines.append(Hardware("dowel", size, 4.0, "piece", use))
    lines += mortar(stack.cores)
    glued = sum(
        part_volume(part) / part.blank.thickness
        for part in stack.parts
        if part.role in _GLUED and part.kind == "panel"
    )
    lines.append(Hardware(GLUE, "", glued, "m2", "between the layers, all over"))
    return (*gathered(lines), *consumables(stack.wetted, stack.seams, uses))
