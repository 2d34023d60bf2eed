"""The section of what is built and not cast: struts and hubs of each frame, and how it is made and put up."""

from __future__ import annotations

from formwork.cutting.cut_list import CutLine
from formwork.molds.framed import BuiltFrame
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.wording import size
from formwork.plan import Plan
from formwork.shapes.piece import Member
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
    sizes = (f">{what}, {units}" for what in ("hole to hole", "cut"))
    heads = ("mark", "strut", ">in one frame", *sizes, ">bend of each flat")
    rows = [_row(line, member, units) for line, member in zip(lines, built.frame.members, strict=True)]
    hubs = [(hub.name, str(hub.ways), str(hub.count)) for hub in built.frame.hubs]
    pipe = built.pipe
    made = (
        f"{built.name}: {pipe.name}, {show.length(pipe.width, units, exact=True)} across, "
        f"wall {show.length(pipe.wall, units, exact=True)}."
    )
    return [
        Line(made),
        table(heads, rows),
        table(("hub", ">struts meet", ">in one frame"), hubs),
        Points((*built.frame.notes, *built.instructions)),
    ]


def _row(line: CutLine, member: Member, units: UnitSystem) -> tuple[str, ...]:
    return (
        line.label,
        member.name,
        str(len(member.joins)),
        size(member.length, units, exact=True),
        size(member.cut, units, exact=True),
        show.angle(member.bend),
    )
