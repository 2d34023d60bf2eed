"""What a log tells: the day's foam loss, yields, the control chart's values, dry against wet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from math import ceil
from typing import Literal

from formwork.errors import RangeError
from formwork.mix.absolute_volume import foam_needed
from formwork.mix.records import Ingredient
from formwork.pour.correction import Slurry
from formwork.pour.log.entries import Entry, current, latest, things
from formwork.pour.log.file import Log
from formwork.pour.measure import PRINTED, weighing_spread
from formwork.pour.reading import density_spread
from formwork.pour.survival import Made, Survival, learn
from formwork.record import record

LOOKED_AT = 20
"""For each value of a chart, no more batches than this are looked through for one of the same density wanted."""

SCALE = 0.001
"""Step of the scale's display, kg (common practice)."""

_PARTS = ("cement", "water", "sand", "ash", "other")
"""What a slurry is made of, as the log names it."""

Which = Literal["first", "last"]


@record
class BatchFound:
    """A batch with what was read and added.

    Attributes:
        batch: its entry.
        readings: of the mix, in order.
        added: what was put in afterwards.
        mass: of all that went in, kg.
        made: volume by the last reading, m3; None where there is no reading.
        relative_yield: volume made over the volume planned (ASTM C138); None where either is missing.
    """

    batch: Entry
    readings: tuple[Entry, ...]
    added: tuple[Entry, ...]
    mass: float
    made: float | None
    relative_yield: float | None


@record
class Value:
    """One value of a control chart.

    Attributes:
        batch: number of its batch.
        density: kg/m3.
    """

    batch: int
    density: float


def batches(log: Log, pour: Entry) -> tuple[BatchFound, ...]:
    """The batches of a pour, with yields.

    Yield = mass of all that went in/density; relative yield = yield/planned. Source: ASTM C138.

    Args:
        log: open.
        pour: entry of the pour.
    """
    return tuple(_batch(log, pour, batch) for batch in things(log, "batch", pour.number))


@record
class ToGo:
    """How far a pour has come.

    Attributes:
        planned: mix that the pour needs, m3.
        made: by its batches so far, m3: by their last reading, else as planned.
        read: batches whose volume a reading shows.
        batches: more batches like the last one that it takes.
    """

    planned: float
    made: float
    read: int
    batches: int

    @property
    def left(self) -> float:
        """Mix still to make, m3."""
        return max(self.planned - self.made, 0.0)


def to_go(pour: Entry, found: Sequence[BatchFound]) -> ToGo | None:
    """What is left of a pour after its batches; None where no volume was planned, or nothing is known of a batch.

    What stays in the mixer of each batch is not counted. Source: yields as in ``batches``.

    Args:
        pour: entry of the pour.
        found: its batches.
    """
    planned = pour.number_of("planned_m3")
    volumes = [each.made or each.batch.number_of("planned_m3") for each in found]
    if not planned or not all(volumes):
        return None
    made = sum(volumes)
    more = ceil(max(planned - made, 0.0) / volumes[-1] - 1e-9) if volumes else 0
    return ToGo(planned, made, sum(each.made is not None for each in found), more)


def survival(log: Log, pour: Entry) -> Survival | None:
    """The share of the foam's air that stayed, over the batches of a pour; None where it cannot be told.

    Of each batch the first reading of the mix counts, with what had been put in before it.

    Args:
        log: open.
        pour: entry of the pour.
    """
    made = [_made(pour, found) for found in batches(log, pour)]
    return learn([each for each in made if each is not None])


def unbelievable(found: Sequence[BatchFound]) -> bool:
    """Whether there are batches with foam and a reading: where nothing can be learnt of them, they do not go together.

    Args:
        found: the batches of a pour.
    """
    return any(each.readings and each.batch.number_of("foam_m3") > 0.0 for each in found)


def next_foam(pour: Entry, batch: Entry, survival: float) -> float:
    """Foam for another batch of the same slurry, m3, when this share of its air stays.

    Source: ``foam_needed``.

    Args:
        pour: entry of the pour.
        batch: entry of a batch of it.
        survival: share of the foam's air that stays.

    Raises:
        RangeError: where no foam gives the density that the pour wants.
    """
    slurry, cement = slurry_of(pour, batch), batch.number_of("cement_kg")
    wanted, foam = pour.number_of("wet_density_kg_m3"), pour.number_of("foam_density_kg_m3")
    return foam_needed(cement * slurry.mass, cement * slurry.volume, wanted, foam, survival=survival)


def slurry_of(pour: Entry, *parts: Entry) -> Slurry:
    """The proportions of a slurry, from what went in.

    Args:
        pour: entry of the pour, for the specific gravities.
        parts: a batch and what was added to it, with cement in them.
    """
    cement, water, sand, ash, other = (sum(each.number_of(f"{name}_kg") for each in parts) for name in _PARTS)
    others = (Ingredient("other", other / cement, pour.number_of("other_gravity")),) if other else ()
    return Slurry(
        water / cement,
        sand / cement,
        ash / cement,
        pour.number_of("cement_gravity"),
        pour.number_of("sand_gravity"),
        pour.number_of("ash_gravity"),
        others,
    )


def series(log: Log, wanted: float, count: int, which: Which = "first") -> tuple[Value, ...]:
    """Readings of the newest batches that were wanted at one density, the oldest of them first.

    Args:
        log: open.
        wanted: wet density, kg/m3.
        count: most values.
        which: the first reading of a batch, before any correction, or the last.
    """
    wets: dict[int, float] = {}
    found: list[Value] = []
    for batch in islice(latest(log, "batch"), LOOKED_AT * count):
        if abs(_wanted(log, batch.belongs, wets) - wanted) > 0.5:
            continue
        readings = _of_mix(log, batch.number)
        if readings:
            reading = readings[0 if which == "first" else -1]
            found.append(Value(batch.number, reading.number_of("density_kg_m3")))
        if len(found) == count:
            break
    return tuple(reversed(found))


def dry_against_wet(log: Log, state: str) -> tuple[tuple[float, float], ...]:
    """Wet density of the batch and density of the piece, for every piece in a state.

    Args:
        log: open.
        state: as stripped, air-dry or oven-dry.
    """
    points = []
    for piece in things(log, "piece"):
        readings = _of_mix(log, piece.belongs or 0) if piece.text_of("state") == state else ()
        if readings:
            points.append((readings[-1].number_of("density_kg_m3"), piece.number_of("density_kg_m3")))
    return tuple(points)


def _batch(log: Log, pour: Entry, batch: Entry) -> BatchFound:
    readings, added = _of_mix(log, batch.number), things(log, "added", batch.number)
    foam = pour.number_of("foam_density_kg_m3")
    mass = sum(_mass(each, foam) for each in (batch, *added))
    made = mass / readings[-1].number_of("density_kg_m3") if readings else None
    planned = batch.number_of("planned_m3")
    relative = made / planned if made is not None and planned else None
    return BatchFound(batch, readings, added, mass, made, relative)


def _mass(entry: Entry, foam_density: float) -> float:
    parts = sum(entry.number_of(f"{name}_kg") for name in _PARTS)
    return parts + foam_density * entry.number_of("foam_m3")


def _of_mix(log: Log, batch: int) -> tuple[Entry, ...]:
    return tuple(each for each in things(log, "reading", batch) if each.text_of("what") == "mix")


def _made(pour: Entry, found: BatchFound) -> Made | None:
    """What went into a batch before its first reading of the mix; None where there was no foam or no reading."""
    if not found.readings:
        return None
    first = found.readings[0]
    before = [found.batch, *(each for each in found.added if each.number < first.number)]
    cement, foam = (sum(each.number_of(column) for each in before) for column in ("cement_kg", "foam_m3"))
    if foam <= 0.0:
        return None
    slurry = slurry_of(pour, *before)
    return Made(
        cement,
        slurry,
        foam,
        pour.number_of("foam_density_kg_m3"),
        first.number_of("density_kg_m3"),
        _spread(first),
    )


def _spread(reading: Entry) -> float:
    """Standard uncertainty of a reading whose cup and scale the log knows no more of, kg/m3."""
    net, cup = reading.number_of("gross_kg") - reading.number_of("tare_kg"), reading.number_of("cup_m3")
    return density_spread(net, weighing_spread(SCALE), cup, PRINTED * cup)


def _wanted(log: Log, pour: int | None, known: dict[int, float]) -> float:
    """Density wanted of a pour; of one that was struck out, none that matches."""
    number = pour or 0
    if number not in known:
        try:
            known[number] = current(log, number).number_of("wet_density_kg_m3")
        except RangeError:
            known[number] = float("inf")
    return known[number]
