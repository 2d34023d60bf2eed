"""The section of what is built and not cast: pipes and joints of each frame, and how it is made and put up."""

from __future__ import annotations

from formwork.cutting.cut_list import CutLine
from formwork.molds.frames.pipework import Cut
from formwork.molds.structure import BuiltFrame
from formwork.packet.blocks import Block, Line, Points, Section, Table, table
from formwork.packet.wording import size
from formwork.plan import Plan
from formwork.units import show
from formwork.units.show import UnitSystem


def frames(plan: Plan) -> Section | None:
    """Every frame; None where there is none."""
    if not plan.frames:
        return None
    blocks: list[Block] = []
    for built in plan.frames:
        own = [line for line in plan.cut_list if line.mold == built.name]
        blocks += _frame(built, own, plan.project.units)
    return Section("Frames", tuple(blocks), "frames")


def _frame(built: BuiltFrame, lines: list[CutLine], units: UnitSystem) -> list[Block]:
    hubs = [(hub.name, str(hub.ways), str(hub.count)) for hub in built.frame.hubs]
    pipe = built.pipe
    made = (
        f"{built.name}: {pipe.name}, {show.length(pipe.width, units, exact=True)} across, "
        f"wall {show.length(pipe.wall, units, exact=True)}; the pipes of one frame weigh "
        f"{show.mass(built.mass, units)}."
    )
    return [
        Line(made),
        _bent(built, lines, units) if built.frame.bent else _straight(built, lines, units),
        table(("joint" if built.frame.bent else "hub", ">pipes meet", ">in one frame"), hubs),
        Points((*built.frame.notes, *built.instructions)),
    ]


def _straight(built: BuiltFrame, lines: list[CutLine], units: UnitSystem) -> Table:
    sizes = (f">{what}, {units}" for what in ("hole to hole", "cut"))
    heads = ("mark", "pipe", ">in one frame", *sizes, ">bend of each flat")
    rows = [
        (*_named(line, cut), *_sizes(cut, units), show.angle(cut.bend))
        for line, cut in zip(lines, built.cuts, strict=True)
    ]
    return table(heads, rows)


def _bent(built: BuiltFrame, lines: list[CutLine], units: UnitSystem) -> Table:
    sizes = (f">{what}, {units}" for what in ("arc", "cut", "to radius"))
    heads = ("mark", "pipe", ">in one frame", *sizes, ">through")
    rows = [
        (
            *_named(line, cut),
            *_sizes(cut, units),
            size(cut.radius, units, exact=True),
            show.angle(cut.bend),
        )
        for line, cut in zip(lines, built.cuts, strict=True)
    ]
    return table(heads, rows)


def _named(line: CutLine, cut: Cut) -> tuple[str, ...]:
    return line.label, cut.part.name, str(cut.each)


def _sizes(cut: Cut, units: UnitSystem) -> tuple[str, ...]:
    return size(cut.length, units, exact=True), size(cut.part.blank.length, units, exact=True)


def centres(plan: Plan) -> Section | None:
    """What arches are laid on; None where nothing is."""
    if not plan.centres:
        return None
    units = plan.project.units
    blocks: list[Block] = []
    for built in plan.centres:
        layers = "two layers that run through" if built.through > 1 else "two layers with staggered joints"
        made = (
            f"{built.name}: {built.ribs} {'rib' if built.ribs == 1 else 'ribs'} of {layers} of {built.sheet.name}, "
            f"{show.length(built.depth, units)} deep, tops struck to {show.length(built.radius, units)}, "
            f"{show.length(built.span, units)} from foot to foot; it weighs {show.mass(built.mass, units)} and carries "
            f"{show.force(built.weight, units)} of stones."
        )
        blocks += [Line(made), Points(built.instructions)]
    return Section("Centres for arches", tuple(blocks), "centres")
