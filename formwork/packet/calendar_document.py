"""Calendar, other numbers of molds and costs as they stand in the JSON document."""

from __future__ import annotations

from typing import Any

from formwork.cutting.whole_job import WholeJob
from formwork.packet.figures import nine

Entry = dict[str, Any]


def calendar_entry(job: WholeJob) -> Entry:
    """The days of a job, counted from day 1, and its costs in the shop's currency.

    Args:
        job: of the plan.
    """
    days = job.calendar
    return {
        "last_molds_off_day": days.cast,
        "all_out_of_film_day": days.done,
        "most_pieces_under_film": days.curing,
        "floor_under_film_m2": nine(days.floor),
        "pours": [
            {"number": row.number, "day": row.day, "molds_off_day": row.strip, "out_of_film_day": row.uncovered,
             "longer_than_a_day": row.overruns, "lift_days": list(row.lifts)}
            for row in days.pours
        ],
        "part_filled": [
            {"pour": one.pour, "piece": one.name, "cavities_filled": one.filled, "cavities": one.cavities,
             "molds_idle": one.idle}
            for one in job.part_filled
        ],
        "alternatives": [
            {"molds": dict(one.molds), "planned": one.planned, "pours": one.pours, "last_molds_off_day": one.cast,
             "all_out_of_film_day": one.done, "molds_cost": None if one.mold_cost is None else nine(one.mold_cost)}
            for one in job.alternatives
        ],
        "costs": [
            {"piece": one.name, "mold_cost": nine(one.mold), "molds": one.molds, "spread_over": one.over,
             "mold_cost_each": nine(one.mold_share), "used_up_cost_each": nine(one.spent),
             "mix_cost_each": nine(one.mix), "cost_each": nine(one.total),
             "unpriced": list(one.unpriced)}
            for one in job.costs
        ],
    }  # fmt: skip
