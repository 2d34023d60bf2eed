"""What a reading or a sunken surface entered in the log means, and what to add to the batch."""

from __future__ import annotations

from formwork.cli.at_hand import AtHand
from formwork.cli.buckets import BUCKET, buckets
from formwork.errors import RangeError
from formwork.mix.records import Foam
from formwork.pour import advice, findings
from formwork.pour.correction import Correction, correct
from formwork.pour.log.entries import Entry, current, history, things
from formwork.pour.log.file import Log
from formwork.pour.reading import Verdict, judge, refuse_density
from formwork.pour.settling import settled
from formwork.pour.survival import Survival
from formwork.units import show
from formwork.units.parse import read
from formwork.units.show import UnitSystem

_SURVIVAL = 0.95
"""Share of the foam's air taken to stay until a day's readings, or the shop, say another (common practice)."""
_DILUTION = 40.0
BEYOND = (
    "What went in and what was read do not go together: the share of the foam's air that stayed is beyond belief. "
    "Check the amounts, the foam's density and the cup."
)
_FOAM_OFF = 0.05
"""Share by which the foam may differ from what the pour says before that is to be put right (common practice)."""


def verdict(log: Log, made: Entry, units: UnitSystem, hand: AtHand | None = None) -> tuple[str, bool]:
    """What a reading of the mix, or a surface that sank, means; and whether it is out of what is allowed.

    Args:
        log: open.
        made: the entry.
        units: of the person.
        hand: mixer and foam of the shop; None where none is named.
    """
    if made.kind == "surface":
        found = settled(made.number_of("drop_m"), made.number_of("depth_m"))
        said = {"go on": "go on", "watch": "watch it", "stop": "STOP, the foam does not hold"}[found.verdict]
        return f"{show.share(found.lost)} of the volume lost: {said}\n", found.verdict == "stop"
    if made.kind != "reading":
        return "", False
    batch = current(log, made.belongs or 0)
    pour, density = current(log, batch.belongs or 0), _density(log, made)
    match made.text_of("what"):
        case "mix":
            return _mix_verdict(log, (pour, batch, made), density, units, hand)
        case "foam":
            return _foam_verdict(pour, density, units)
        case _:
            return f"slurry {show.density(density, units)}\n", False


def _mix_verdict(
    log: Log,
    whose: tuple[Entry, Entry, Entry],
    density: float,
    units: UnitSystem,
    hand: AtHand | None,
) -> tuple[str, bool]:
    """Whether the mix is as the pour wants it; what to add, where this is the last reading of its batch."""
    pour, batch, reading = whose
    wanted = pour.number_of("wet_density_kg_m3")
    try:
        refuse_density(density, pour.number_of("foam_density_kg_m3"), findings.slurry_of(pour, batch).density)
    except RangeError as error:
        return (
            f"{error}\nIt is entered; strike it out if it is wrong: formwork log strike {reading.number} --why TEXT\n",
            True,
        )
    judged = judge(density, wanted)
    later = any(each.number > reading.number for each in things(log, "reading", batch.number))
    remedy = "" if later else _remedy(log, (pour, batch), density, judged, units, hand)
    off = f"{show.density(density, units)}, wanted {show.density(wanted, units)}: {judged}"
    if findings.survival(log, pour) is None and findings.unbelievable(findings.batches(log, pour)):
        remedy += f"\n{BEYOND}"
    return f"{off}{remedy}\n", judged.startswith("too")


def _foam_verdict(pour: Entry, density: float, units: UnitSystem) -> tuple[str, bool]:
    """Whether the foam is as heavy as the pour says."""
    said = pour.number_of("foam_density_kg_m3")
    text = f"foam {show.density(density, units)}, the pour says {show.density(said, units)}"
    if abs(density / said - 1.0) <= _FOAM_OFF:
        return f"{text}\n", False
    return f"{text}: put it right: formwork log pour --instead-of {pour.number} --foam-density ...\n", True


def _density(log: Log, reading: Entry) -> float:
    return history(log, reading.number)[-1].number_of("density_kg_m3")


def _remedy(
    log: Log,
    whose: tuple[Entry, Entry],
    density: float,
    judged: Verdict,
    units: UnitSystem,
    hand: AtHand | None,
) -> str:
    """What to add, where the reading is out of the closer band, and whether the batch then still fits."""
    if judged == "as wanted":
        return ""
    pour, batch = whose
    learnt = findings.survival(log, pour)
    foam = _foam(pour, learnt, hand)
    try:
        made = _correction(log, pour, batch, density, foam)
    except RangeError as error:
        return f"; no correction can be worked out: {error}"
    then = f"; the batch then is {show.volume(made.volume, units)}{_fit(made, units, hand)}. Weigh again."
    return f"; add {_what(made, foam, units)}{then}"


def _what(made: Correction, foam: Foam, units: UnitSystem) -> str:
    """What is added, and how it is measured: foam in seconds of the generator and in buckets, slurry by its parts."""
    bucket = read(BUCKET[units], "volume", None)
    if made.adds == "foam":
        seconds = (
            f"{show.time(made.foam_seconds)} of the generator, or " if made.foam_seconds is not None else ""
        )
        marks = buckets(made.foam_volume, bucket, units)
        return (
            f"{show.volume(made.foam_volume, units)} of foam ({seconds}{marks}), {show.share(foam.survival)} of its "
            "air staying"
        )
    parts = (
        ("cement", made.cement),
        ("water", made.water),
        ("sand", made.sand),
        ("fly ash", made.ash),
        *made.others,
    )
    amounts = [f"{show.mass(mass, units)} of {name}" for name, mass in parts if mass]
    marks = buckets(made.slurry_volume, bucket, units)
    return f"a slurry of {', '.join(amounts)} ({show.volume(made.slurry_volume, units)}: {marks})"


def _fit(made: Correction, units: UnitSystem, hand: AtHand | None) -> str:
    """Whether the batch still fits, where the mixer is known."""
    if hand is None:
        return ""
    out = advice.mix_to_take_out(made, hand.mixer)
    holds = show.volume(hand.mixer.holds, units)
    if not out:
        return f", which fits ({hand.mixer.name}: {holds})"
    share = show.share(hand.mixer.holds / made.volume)
    return (
        f", which DOES NOT FIT ({hand.mixer.name}: {holds}): take out {show.volume(out, units)} first, and add {share} "
        "of that"
    )


def _foam(pour: Entry, learnt: Survival | None, hand: AtHand | None) -> Foam:
    """The foam of the day: its density by the pour, its survival by the day's readings, its output by the shop."""
    usual = hand.foam.survival if hand else _SURVIVAL
    return Foam(
        pour.number_of("foam_density_kg_m3"),
        learnt.usable if learnt else usual,
        _DILUTION,
        hand.foam.output if hand else None,
    )


def _correction(log: Log, pour: Entry, batch: Entry, density: float, foam: Foam) -> Correction:
    found = next(each for each in findings.batches(log, pour) if each.batch.number == batch.number)
    return correct(
        found.mass, density, pour.number_of("wet_density_kg_m3"), findings.slurry_of(pour, batch), foam
    )
