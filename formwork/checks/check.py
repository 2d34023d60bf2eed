"""The record of one check: what loads it, what it can take, how that was worked out, and who says so."""

from __future__ import annotations

from formwork.record import record


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
