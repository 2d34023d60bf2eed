"""The printed plan, section by section, in the order in which a person needs it."""

from __future__ import annotations

from functools import partial

from formwork.checks.check import Check, NotChecked
from formwork.packet import cut_sections, frame_sections, pour_sections
from formwork.packet.blocks import Block, Line, Points, Section, Steps, Table, by_mold, table
from formwork.packet.calendar_section import calendar
from formwork.packet.check_words import load_and_limit
from formwork.packet.wording import counted, runs
from formwork.plan import PieceSummary, Plan
from formwork.units.show import UnitSystem


def sections(plan: Plan, *, working: bool = False) -> tuple[Section, ...]:
    """Everything a person wants of a plan.

    Args:
        plan: the plan.
        working: show the steps and the source of every check, and of the mix.
    """
    found = (
        _opening(plan),
        pour_sections.pieces(plan),
        pour_sections.molds(plan),
        pour_sections.cast_in(plan),
        frame_sections.centres(plan),
        frame_sections.frames(plan),
        cut_sections.cut_list(plan),
        cut_sections.layouts(plan),
        cut_sections.buying(plan),
        pour_sections.mixing(plan),
        pour_sections.pouring(plan),
        calendar(plan),
        pour_sections.stripping(plan),
        checks(plan, working=working),
        _mix_working(plan) if working else None,
        _not_checked(plan),
        _cautions(plan),
        _assumed(plan),
    )
    return tuple(section for section in found if section is not None)


def verdict(plan: Plan) -> str:
    """Whether every check passes, and whether every mold is full while its mix can still be moved."""
    late = [pour.number for pour in plan.pours if pour.timing and not pour.timing.in_time]
    word = "pour" if len(late) == 1 else "pours"
    slow = (
        f" But TOO SLOW: {word} {runs(late)} would stiffen before a mold is full; see Pours." if late else ""
    )
    return _checked(plan) + slow


def _checked(plan: Plan) -> str:
    """In one sentence, whether every check passes."""
    failed = sum(not check.ok for check in plan.checks)
    if not plan.checks:
        return "Nothing could be checked."
    if failed:
        return f"{failed} of {counted(len(plan.checks), 'check')} FAIL: do not build before this is mended."
    return f"All {len(plan.checks)} checks pass." if len(plan.checks) > 1 else "The one check passes."


def passes(plan: Plan) -> bool:
    """No check of the plan fails."""
    return all(check.ok for check in plan.checks)


def _opening(plan: Plan) -> Section:
    cast = ", ".join(f"{piece.order.count} {piece.order.name}{_spares(piece)}" for piece in plan.pieces)
    built = ", ".join(f"{frame.copies} {frame.name}" for frame in plan.frames)
    blocks: list[Block] = [Line(f"To cast: {cast}.")] if cast else []
    blocks += [Line(f"To build: {built}.")] if built else []
    blocks.append(Line(verdict(plan)))
    return Section(plan.project.title, tuple(blocks), "start")


def _spares(piece: PieceSummary) -> str:
    return f" (and {counted(piece.order.spares, 'spare')})" if piece.order.spares else ""


_IN_WORKING = (
    "In the working what stands without a unit is in mm, N and MPa (N/mm2), angles in rad; a density in kg/m3 and a "
    "depth of mix in m."
)


def checks(plan: Plan, *, working: bool = False) -> Section:
    """Load, limit and percent of limit of every check, and what would mend those that fail."""
    units = plan.project.units
    if not plan.checks:
        return Section("Checks", (Line(verdict(plan)),), "checks")
    blocks: list[Block] = [*by_mold(plan.checks, partial(_check_table, units=units))]
    remedies = tuple(f"{c.name}, {c.mold}: {c.remedy}" for c in plan.checks if not c.ok and c.remedy)
    blocks += [Points(remedies)] if remedies else []
    if working:
        blocks.append(Line(_IN_WORKING))
        blocks += [_steps(check) for check in plan.checks]
    return Section("Checks", tuple(blocks), "checks")


def _check_table(checks: list[Check], units: UnitSystem) -> Table:
    heads = ("check", ">load", ">limit", ">of limit", "result")
    return table(heads, [_check_row(check, units) for check in checks])


def _check_row(check: Check, units: UnitSystem) -> tuple[str, ...]:
    return (check.name, *load_and_limit(check, units), "passes" if check.ok else "FAILS")


def _steps(check: Check) -> Steps:
    result = "passes" if check.ok else "FAILS"
    return Steps(f"{check.name}, {check.mold}: {result}", (*check.working, f"Source: {check.source}"))


def _mix_working(plan: Plan) -> Section | None:
    if plan.mix is None:
        return None
    return Section("Working of the mix", (Steps("Per cubic metre", plan.mix.working),), "mix-working")


def _not_checked(plan: Plan) -> Section | None:
    blocks = tuple(by_mold(plan.not_checked, _unchecked))
    return Section("Not checked", blocks, "not-checked") if blocks else None


def _unchecked(entries: list[NotChecked]) -> Points:
    return Points(tuple(f"{entry.name}: {entry.why}" for entry in entries))


def _cautions(plan: Plan) -> Section | None:
    return Section("Cautions", (Points(plan.cautions),), "cautions") if plan.cautions else None


def _assumed(plan: Plan) -> Section | None:
    lines = tuple(dict.fromkeys((*plan.project.notes, *plan.assumed)))
    return Section("Taken as given", (Points(lines),), "assumed") if lines else None
