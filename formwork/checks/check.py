"""The record of one check: what loads it, what it can take, how that was worked out, and who says so."""

from __future__ import annotations

from collections.abc import Iterable

from formwork.record import record
from formwork.strength.working import Step, Verdict


@record
class Check:
    """One check of one mold.

    Attributes:
        name: what is checked ("cavity against piece", "core held down").
        mold: name of the mold.
        demand: the load, in ``unit``.
        capacity: the limit, in ``unit``.
        unit: unit of both, as printed ("N", "m3").
        ok: the demand is within the capacity.
        source: where the rule comes from.
        working: the steps, each a line "value = formula = numbers = result unit".
        remedy: what would make it pass; empty where it passes.
    """

    name: str
    mold: str
    demand: float
    capacity: float
    unit: str
    ok: bool
    source: str
    working: tuple[str, ...]
    remedy: str = ""

    @property
    def utilisation(self) -> float:
        """Demand over capacity, 1 = at the limit."""
        return self.demand / self.capacity if self.capacity else (0.0 if self.demand == 0.0 else float("inf"))


@record
class NotChecked:
    """A check that could not be made, and why."""

    name: str
    mold: str
    why: str


Found = Check | NotChecked
"""What a check comes to."""


def told(name: str, mold: str, verdict: Verdict, remedy: str, before: Iterable[Step] = ()) -> Check:
    """A verdict as a check of a mold.

    Args:
        name: what is checked.
        mold: name of the mold.
        verdict: load and limit.
        remedy: what would make it pass, said only where it fails.
        before: steps that found the load.
    """
    return Check(
        name=name,
        mold=mold,
        demand=verdict.load,
        capacity=verdict.limit,
        unit=verdict.unit,
        ok=verdict.ok,
        source=verdict.source,
        working=(*(str(each) for each in before), *verdict.lines),
        remedy="" if verdict.ok else remedy,
    )
