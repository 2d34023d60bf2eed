"""The batch sheets: what each mixer load takes, and room for what was weighed, read and put right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from formwork.mix.cautions import cautions, in_short
from formwork.mix.pour_records import Batch, Pour, PourLift
from formwork.packet.blocks import Line, Points, Section, Table
from formwork.packet.pour_day import day_lines, lift_line, pour_notes, wait_line
from formwork.packet.pour_sections import alike_pours, batch_table, pour_line
from formwork.packet.print_blocks import Entry, entries
from formwork.packet.wording import runs
from formwork.plan import Plan
from formwork.pour.measure import on_scale
from formwork.units import show

_TO_WRITE = ("added", "read again", "time", "by")


def batch_entries(plan: Plan, mix: Section | None) -> list[Entry]:
    """The mix, then for pours that are alike what each batch takes and a line to fill in for every batch.

    Args:
        plan: the plan.
        mix: the section of the mix, where there is one.
    """
    if not plan.pours:
        return []
    blocks = entries(mix.blocks) if mix else []
    blocks += entries([Line(line) for line in day_lines(plan)])
    if plan.mix:
        blocks += entries(
            [Line("Mind, before anything is mixed:"), Points(cautions(plan.mix, plan.project.shop.mixer))]
        )
    for alike in alike_pours(plan):
        blocks += _alike(alike, plan)
    return [{"title": "Batch sheets", "level": 1, "blocks": blocks}]


def _alike(alike: list[Pour], plan: Plan) -> Iterator[Entry]:
    """Pours that are alike, lift by lift where they are placed in lifts."""
    pour, head = alike[0], pour_line(alike, plan.project.units)
    if not pour.lifts:
        yield {"kind": "heading", "text": head, "note": _note(pour, plan)}
        yield from _to_fill_in(alike, 1, len(pour.batches), plan)
        return
    yield {"kind": "heading", "text": head, "note": ""}
    for lift in pour.lifts:
        yield {"kind": "heading", "text": lift_line(lift, pour, plan), "note": _note(lift, plan)}
        yield from _to_fill_in(alike, lift.first, lift.last, plan)
        if lift is not pour.lifts[-1]:
            yield from entries([Line(wait_line(plan))])


def _note(spell: Pour | PourLift, plan: Plan) -> str:
    """What belongs to a pour or a lift, and, on every one of them, what to mind."""
    return " ".join((*pour_notes(spell, plan), *((in_short(plan.mix),) if plan.mix else ())))


def _to_fill_in(alike: list[Pour], first: int, last: int, plan: Plan) -> list[Entry]:
    """A table for each run of equal batches: what is wanted at its head, then a line for every batch of every pour."""
    wanted = _wanted(plan)
    found: list[Entry] = []
    numbered = list(enumerate(alike[0].batches[first - 1 : last], start=first))
    for batch, group in groupby(numbered, key=lambda entry: entry[1]):
        numbers = [number for number, _ in group]
        found.append(_record(batch, numbers, alike, plan, wanted))
    return found


def _wanted(plan: Plan) -> str:
    """What is to be read: on the scale where the shop's cup is known, else the density."""
    units = plan.project.units
    if plan.cup:
        return on_scale(plan.cup.wanted, plan.cup.cup.step, units)
    return show.density(plan.mix.wet_density, units) if plan.mix else ""


def _record(batch: Batch, numbers: list[int], alike: list[Pour], plan: Plan, wanted: str) -> Entry:
    told = batch_table((batch,), plan.project.units)
    first = "cup reads" if plan.cup else "density read"
    assert isinstance(told, Table)
    (row,) = told.rows
    rows = [[str(pour.number), str(number)] for pour in alike for number in numbers]
    word = "Batch" if len(numbers) == 1 else "Batches"
    return {
        "kind": "record",
        "title": f"{word} {runs(numbers)} of {len(alike[0].batches)}, {row[1]} each",
        "headings": ["pour", "batch", *told.headings[2:], first, *_TO_WRITE],
        "wanted": ["", "wanted", *row[2:], wanted, *("" for _ in _TO_WRITE)],
        "rows": rows,
    }
