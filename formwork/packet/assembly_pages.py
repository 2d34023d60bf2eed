"""Putting molds together, on paper: each step with a box to tick, what it says, its marks and the mold after it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from formwork.molds.assembly import numbered
from formwork.molds.mold import AssemblyStep, Mold
from formwork.molds.structure import BuiltCentre
from formwork.packet.blocks import Block, Points
from formwork.packet.drawing_pages import Shown
from formwork.packet.typeset import breakable
from formwork.plan import CutLine, Plan

Built = Mold | BuiltCentre
_ROOM = (112.0, 80.0)
"""That a picture is drawn for, mm."""
_SHRUNK = 0.7
"""What is shown of it: figures of 3 mm become 2.1 mm, and lines of 0.5 and 0.25 mm those of 0.35 and 0.18 mm."""
_MOST_MARKS = 24


def assembly_parts(
    plan: Plan, keep: Callable[[Shown], dict[str, Any]]
) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Heading and blocks for each mold and centre that has steps.

    Args:
        plan: the plan.
        keep: takes a picture into the print and says how the template reads it.
    """
    built: tuple[Built, ...] = (*plan.molds, *plan.centres)
    for one in built:
        if one.steps:
            yield f"Putting together: {one.name}", [_assembly(one, plan, keep)]


def _assembly(one: Built, plan: Plan, keep: Callable[[Shown], dict[str, Any]]) -> dict[str, Any]:
    from formwork.drawings.assembling import assembling  # noqa: PLC0415 - drawings are slow to load
    from formwork.drawings.svg import svg  # noqa: PLC0415 - the same

    scenes = assembling(one, plan.cut_list, plan.project.units, _ROOM)
    lines = [line for line in plan.cut_list if line.mold == one.name]
    rows = []
    for number, (step, scene) in enumerate(zip(one.steps, scenes, strict=True), start=1):
        shown = scene and Shown(svg(scene), _SHRUNK * scene.sheet.length, _SHRUNK * scene.sheet.height, "")
        rows.append(
            {
                "number": str(number),
                "text": breakable(step.text),
                "marks": breakable(_marks(step, lines)),
                "pictures": [keep(shown)] if shown else [],
            }
        )
    return {"kind": "assembly", "rows": rows}


def _marks(step: AssemblyStep, lines: Sequence[CutLine]) -> str:
    """The marks of what a step adds, with their number where it is more than one."""
    found = []
    for line in lines:
        count = sum(name in step.parts for name in line.names)
        if count:
            found.append(line.label if count == 1 else f"{count} x {line.label}")
    return ", ".join(found) if len(found) <= _MOST_MARKS else f"{found[0]} to {found[-1]}"


def without_steps(blocks: Sequence[Block], plan: Plan) -> list[Block]:
    """Blocks without the lines that are printed as steps, where these stand on pages of their own."""
    built: tuple[Built, ...] = (*plan.molds, *plan.centres)
    told = {line for one in built for line in (*numbered(one.steps), *(step.text for step in one.steps))}
    kept: list[Block] = []
    for block in blocks:
        if isinstance(block, Points):
            lines = tuple(line for line in block.lines if line not in told)
            kept += [Points(lines, block.numbered)] if lines else []
        else:
            kept.append(block)
    return kept
