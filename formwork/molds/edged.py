"""The edged method: strips on edge round an outline, on a base; straight ones, and thin ones bent round its arcs.

Blocks behind the strips hold them; cores laid up from sheet keep holes free. Lengths in m, angles in rad.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos

from formwork.geometry.outlines import area, perimeter
from formwork.molds.bearers import Bearers, bearers
from formwork.molds.edges.backing import (
    Block,
    Timber,
    blocks,
    choose_timber,
)
from formwork.molds.edges.lining import Lined, lined, space_of
from formwork.molds.edges.parts import (
    base_parts,
    extent,
    lean_of,
    wetted_sides,
)
from formwork.molds.edges.screws import Screwed, bought, fixing, screwed
from formwork.molds.edges.stripping import off_the_piece, strips_off
from formwork.molds.edges.words import assembly, instructions
from formwork.molds.hardware import consumables, strip_pins
from formwork.molds.in_plan import InPlan, plan_cavity
from formwork.molds.label import limits
from formwork.molds.mold import Mold, Part
from formwork.molds.weighing import mass
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.body import curved_volume
from formwork.strength.working import Unjudged

__all__ = ["Built", "Lined", "Screwed", "brace", "lined"]

MARGIN = 0.02
"""How far the base reaches beyond what stands on it, m (common practice, no source)."""


@record
class Built:
    """A mold of edge forms, and what the checks must know of how it was designed.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        blocks: behind the strips.
        timber: that they are cut from.
        screws: of every joint, by what it holds: "base", "strip", "corner", "core".
        closing: what the parts enclose.
        bearers: what the base may lie on where the bench is not flat.
    """

    mold: Mold
    lined: Lined
    blocks: tuple[Block, ...]
    timber: Timber
    screws: dict[str, Screwed]
    closing: InPlan
    bearers: Bearers | Unjudged

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return self.closing.leaks


def brace(lined: Lined) -> Built:
    """The mold: strips and cores with the base and the blocks that hold them, and everything bought for it.

    Raises:
        StockError: where a joint finds no screw, or the blocks no stick.
    """
    timber = choose_timber(lined.shop.sticks, lined.order.mold.stick, lined.load.fill, lined.piece.name)
    apart = lined.order.mold.blocks_apart
    found = blocks(lined.edges, timber, lined.load, lined.lean, lined.strips, apart)
    behind = tuple(block.part for block in found)
    reach = extent((*lined.strips, *behind), MARGIN)
    base = base_parts(lined.sheet, reach, lined.shop.saw.trim, lined.piece.name)
    parts = (*base, *lined.formers, *lined.strips, *behind)
    holding = (*base, *lined.formers, *lined.strips)
    closing = plan_cavity(holding, lined.load.fill, lined.piece.pour_points)
    screws = {} if lined.owned else screwed(lined, found, timber)
    under = bearers(lined.sheet, lined.load, lined.units)
    steps = assembly(lined, under, parts)
    words = instructions(lined, steps, screws=bool(screws))
    made = _mold(lined, parts, closing, screws)
    return Built(replace(made, instructions=words, steps=steps), lined, found, timber, screws, closing, under)


def _mold(lined: Lined, parts: tuple[Part, ...], closing: InPlan, screws: dict[str, Screwed]) -> Mold:
    form, outside, lean = lined.form, lined.outside, lined.lean
    cores = [former for former in form.formers if former.kind == "core"]
    steps, locked = strips_off(lined.edges, lean)
    leans = [(core.name, -lean_of(space_of(core))) for core in cores]
    holes = sum(area(space_of(core).outline) for core in cores)
    wet = (
        area(outside.outline) - holes + wetted_sides(outside, lean)
        + sum(wetted_sides(space_of(core), lean_of(space_of(core))) for core in cores)
    )  # fmt: skip
    seam = (
        perimeter(outside.outline) + sum(perimeter(space_of(core).outline) for core in cores)
        + len(lined.edges) * outside.height / cos(lean)
    )  # fmt: skip
    goods = () if lined.owned else bought(lined, screws)
    return Mold(
        name=f"{lined.order.name} mold",
        method=lined.order.mold.method,
        piece=lined.piece,
        planes=lined.planes,
        parts=parts,
        hardware=(*goods, *consumables(wet, seam, lined.uses)),
        cavity=closing.volume,
        nominal=curved_volume(form),
        stripping=(*steps, *off_the_piece(leans, len(cores) < len(form.formers))),
        locked=locked,
        wetted=wet,
        seams=seam,
        uses=lined.uses,
        lifts=lined.load.lifts,
        limits=limits(lined.load, lined.units),
        owned=lined.owned,
        copies=lined.order.molds,
        instructions=(),
        fixings=() if lined.owned else (*map(fixing, screws.values()), *strip_pins(parts)),
        mass=mass(parts, lined.shop),
        under=mass([part for part in parts if part.role in ("base", "board")], lined.shop),
        setting_out=() if lined.owned else (outside.outline, *(space_of(core).outline for core in cores)),
    )
