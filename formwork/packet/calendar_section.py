"""The section on days and money: the calendar, molds filled in part, other numbers of molds, cost of a piece."""

from __future__ import annotations

from formwork.cutting.alternatives import Alternative
from formwork.cutting.whole_job import PieceCost, WholeJob
from formwork.mix.calendar import PourDay
from formwork.mix.part_filled import PartFilled
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.wording import counted, runs
from formwork.plan import Plan
from formwork.units import show
from formwork.units.show import UnitSystem

_MOST_ROWS = 30
"""Pours that are printed; of more than that the first ones and the last."""


def calendar(plan: Plan) -> Section | None:
    """When each pour is made, its molds come off and its pieces are done; None where nothing is poured."""
    job = plan.job
    if job is None:
        return None
    blocks: list[Block] = [_days(plan, job), Line(_ends(job, plan.project.units))]
    late = [day.number for day in job.calendar.pours if day.overruns]
    if late:
        blocks.append(Line(_overrun(late)))
    if job.part_filled:
        blocks.append(Points(tuple(_part(one) for one in job.part_filled[:_MOST_ROWS])))
    if len(job.alternatives) > 1:
        blocks += [Line(f"With other numbers of molds{_at_cost(job)}:"), _alternatives(plan, job)]
    if job.costs:
        blocks += [
            Line("What a piece costs, its molds spread over all that are cast in them:"),
            _costs(plan, job),
        ]
        blocks += [Line(line) for line in _uncounted(job.costs)]
    return Section("Calendar", tuple(blocks), "calendar")


def _days(plan: Plan, job: WholeJob) -> Block:
    cast = {pour.number: str(sum(count for _, count in pour.pieces)) for pour in plan.pours}
    rows = [
        (_placed_on(row), str(row.number), cast[row.number], f"day {row.strip}", f"day {row.uncovered}")
        for row in job.calendar.pours
    ]
    if len(rows) > _MOST_ROWS:
        rows = [*rows[: _MOST_ROWS - 1], ("...", "", "", "", ""), rows[-1]]
    return table(("on", ">pour", ">pieces", "molds off", "out of film"), rows)


def _placed_on(row: PourDay) -> str:
    """The day of a pour, or those of its lifts."""
    days = sorted(set(row.lifts)) or [row.day]
    return f"day {days[0]}" if len(days) == 1 else f"lifts on days {runs(days)}"


def _ends(job: WholeJob, units: UnitSystem) -> str:
    days = job.calendar
    floor = f", {show.area(days.floor, units)} of floor without the room to walk" if days.floor else ""
    return (
        f"The last molds come off on day {days.cast}; every piece is out of its film on day {days.done}. "
        f"Room to keep {counted(days.curing, 'piece')} under film at once{floor}. Cold days stretch all of this."
    )


def _overrun(late: list[int]) -> str:
    return (
        f"{counted(len(late), 'pour takes', 'pours take')} longer than a working day, from pour {late[0]} on."
    )


def _part(one: PartFilled) -> str:
    said = []
    empty = one.cavities - one.filled
    if empty:
        which = f"{one.filled + 1} to {one.cavities}" if empty > 1 else f"{one.cavities}"
        said.append(
            f"of the last mold fill the first {counted(one.filled, 'cavity', 'cavities')} from one end and blank "
            f"{which}; brace the last divider, which mix presses from one side only"
        )
    if one.idle:
        said.append(f"{counted(one.idle, 'mold stands', 'molds stand')} idle")
    return f"pour {one.pour}, {one.name}: {'; '.join(said)}"


def _at_cost(job: WholeJob) -> str:
    return ", and about what is bought for them, whole sheets, sticks and boxes" if job.costs else ""


def _alternatives(plan: Plan, job: WholeJob) -> Block:
    heads = ("molds", ">pours", "last molds off", "out of film", *((">molds cost",) if job.costs else ()))
    currency = plan.project.shop.currency
    rows = [
        (
            _molds(one),
            str(one.pours),
            f"day {one.cast}",
            f"day {one.done}",
            *((show.money(one.mold_cost or 0.0, currency),) if job.costs else ()),
        )
        for one in job.alternatives
    ]
    return table(heads, rows)


def _molds(one: Alternative) -> str:
    """How many molds, in one number where there are as many of each kind."""
    numbers = {count for _, count in one.molds}
    each = " of each" if len(one.molds) > 1 else ""
    said = (
        f"{numbers.pop()}{each}"
        if len(numbers) == 1
        else ", ".join(f"{count} {name}" for name, count in one.molds)
    )
    return f"{said} (as planned)" if one.planned else said


def _costs(plan: Plan, job: WholeJob) -> Block:
    currency = plan.project.shop.currency
    spent = any(one.spent for one in job.costs)
    used_up = (">used up, each",) if spent else ()
    heads = (
        "piece",
        ">one mold",
        ">molds",
        ">spread over",
        ">mold, each",
        *used_up,
        ">mix, each",
        ">together",
    )
    return table(heads, [_cost(one, currency, spent) for one in job.costs])


def _cost(one: PieceCost, currency: str, spent: bool) -> tuple[str, ...]:
    """A row; what is cut away or stays in has a column where any piece has such a thing."""
    amounts = (one.mold_share, *((one.spent,) if spent else ()), one.mix, one.total)
    return (
        one.name,
        show.money(one.mold, currency),
        str(one.molds),
        counted(one.over, "piece"),
        *(show.money(amount, currency) for amount in amounts),
    )


def _uncounted(costs: tuple[PieceCost, ...]) -> tuple[str, ...]:
    missing = tuple(dict.fromkeys(name for one in costs for name in one.unpriced))
    return (f"Not counted, for want of a price: {', '.join(missing)}.",) if missing else ()
