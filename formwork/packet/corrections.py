"""The correction table: what to add to a batch for every reading of the cup, worked out beforehand.

For a shop with no screen: the same figures as ``formwork weigh`` gives for the whole batch.
"""

from __future__ import annotations

from collections.abc import Iterator

from formwork.mix.pour_records import Batch
from formwork.mix.records import CellularWanted
from formwork.packet.blocks import Block, Line, Points, table
from formwork.packet.print_blocks import Entry, entries
from formwork.plan import Plan
from formwork.pour.advice import AGAIN, NO_RODDING, ONCE, slurry_of
from formwork.pour.correction import Correction, correct
from formwork.units import show
from formwork.units.show import UnitSystem

TITLE = "Correction table"
_READINGS = (1.25, 1.2, 1.15, 1.1, 1.05, 0.95, 0.9, 0.85, 0.8)
"""What the cup may read over what is wanted."""
_SAME = 1e-6


def correction_entries(plan: Plan) -> list[Entry]:
    """A part of the print for a foamed mix; none for any other."""
    wanted = plan.project.mix
    if plan.mix is None or not isinstance(wanted, CellularWanted) or not plan.pours:
        return []
    return [{"title": TITLE, "level": 1, "blocks": entries(list(_blocks(plan, wanted)))}]


def _blocks(plan: Plan, wanted: CellularWanted) -> Iterator[Block]:
    assert plan.mix is not None
    shop, units = plan.project.shop, plan.project.units
    slurry, target = slurry_of(wanted, shop.cement), plan.mix.wet_density
    yield Line(
        f"Wanted: {show.density(target, units)}. Find the line of what the cup reads; between two lines take what lies "
        "between. A reading lower than wanted wants slurry, mixed by itself first; a higher one wants foam."
    )
    for batch in _distinct(plan):
        rows = []
        for share in _READINGS:
            made = correct(_mass(batch), share * target, target, slurry, shop.foam)
            rows.append(
                (show.density(share * target, units), *_added(made, units), show.volume(made.volume, units))
            )
        yield Line(f"For a batch of {show.volume(batch.volume, units)}:")
        yield table((">the cup reads", "add", "of it", ">the batch then"), rows)
    yield Points((AGAIN, ONCE, NO_RODDING))


def _distinct(plan: Plan) -> list[Batch]:
    """Each size of batch once, the largest first."""
    found: list[Batch] = []
    for batch in sorted((b for pour in plan.pours for b in pour.batches), key=lambda b: -b.volume):
        if not found or found[-1].volume - batch.volume > _SAME:
            found.append(batch)
    return found


def _mass(batch: Batch) -> float:
    """Of everything in the mixer, foam included, kg."""
    others = sum(mass for _, mass in batch.others)
    return (
        batch.cement
        + batch.water
        + batch.sand
        + batch.ash
        + batch.gravel
        + batch.foam_mass
        + batch.fibres
        + others
    )


def _added(made: Correction, units: UnitSystem) -> tuple[str, str]:
    """What is added, and how it is measured or what it is of."""
    if made.adds == "foam":
        seconds = "" if made.foam_seconds is None else f", {show.time(made.foam_seconds)} of the generator"
        return (
            f"{show.volume(made.foam_volume, units)} of foam",
            f"{show.mass(made.foam_mass, units)}{seconds}",
        )
    parts = (
        ("cement", made.cement),
        ("water", made.water),
        ("sand", made.sand),
        ("fly ash", made.ash),
        *made.others,
    )
    of_it = ", ".join(f"{show.mass(mass, units)} {name}" for name, mass in parts if mass > 0.0)
    return f"{show.volume(made.slurry_volume, units)} of slurry", of_it
