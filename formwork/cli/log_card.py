"""What ``formwork log`` prints of entries: one as it was entered, the verdict on a reading, pours, and a whole pour."""

from __future__ import annotations

from itertools import islice

from formwork.cli.log_verdict import BEYOND
from formwork.errors import RangeError
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.text import print_out
from formwork.packet.wording import counted
from formwork.pour import findings
from formwork.pour.log.entries import Entry, history, last, latest, things
from formwork.pour.log.file import Log
from formwork.pour.log.kinds import KINDS, Field, Value
from formwork.pour.measure import on_scale
from formwork.pour.survival import Survival
from formwork.units import show
from formwork.units.show import UnitSystem

_SURVIVAL = 0.95
"""Share of the foam's air taken to stay until a day's readings say another (common practice)."""
_DILUTION = 40.0
_FOAM_OFF = 0.05
"""Share by which the foam may differ from what the pour says before that is to be put right (common practice)."""


def entered(made: Entry, units: UnitSystem) -> str:
    """What was entered, as one line.

    Args:
        made: the entry.
        units: of the person.
    """
    what = "entered" if made.entry == made.number else "corrected"
    owner = f" of {KINDS[made.kind].belongs} {made.belongs}" if made.belongs else ""
    return f"{made.kind} {made.number}{owner} {what}: {_told(made, units)}\n"


def pour_list(log: Log, count: int, units: UnitSystem) -> str:
    """The last pours, the newest first.

    Args:
        log: open.
        count: most of them.
        units: of the person.
    """
    pours = tuple(islice(latest(log, "pour"), count))
    if not pours:
        return "no pours yet: formwork log pour --title TEXT --wet DENSITY\n"
    heads = (">number", "when", "what", ">wanted", ">batches", ">read last, mean", ">foam's air that stayed")
    return print_out(
        [Section("Pours", (table(heads, [_pour_row(log, pour, units) for pour in pours]),), "pours")]
    )


def shown(log: Log, number: int | None, units: UnitSystem) -> str:
    """A pour with all that belongs to it, or any entry with its corrections.

    Args:
        log: open.
        number: of the thing; None for the last pour.
        units: of the person.

    Raises:
        RangeError: if there is none.
    """
    if number is None:
        newest = last(log, "pour")
        if newest is None:
            return pour_list(log, 1, units)
        number = newest.number
    entries = history(log, number)
    versions = _versions(entries, units)
    if entries[-1].kind == "pour" and not entries[-1].struck:
        return print_out([versions, *_pour_sections(log, entries[-1], units)])
    return print_out([versions])


def _pour_row(log: Log, pour: Entry, units: UnitSystem) -> tuple[str, ...]:
    found = findings.batches(log, pour)
    read = [each.readings[-1].number_of("density_kg_m3") for each in found if each.readings]
    mean = show.density(sum(read) / len(read), units) if read else ""
    learnt = findings.survival(log, pour)
    return (
        str(pour.number),
        _when(pour),
        pour.text_of("title"),
        show.density(pour.number_of("wet_density_kg_m3"), units),
        str(len(found)),
        mean,
        _stayed(learnt),
    )


def _stayed(learnt: Survival | None) -> str:
    if learnt is None:
        return ""
    return f"{show.share(learnt.mean)} +- {show.share(learnt.spread)}"


def _versions(entries: tuple[Entry, ...], units: UnitSystem) -> Section:
    first = entries[0]
    rows = [
        (_when(each), _told(each, units) if not each.struck else "struck out", each.note) for each in entries
    ]
    block: Block = table(("when", "says", "note"), rows)
    return Section(f"{first.kind.capitalize()} {first.number}", (block,), "entry")


def _pour_sections(log: Log, pour: Entry, units: UnitSystem) -> list[Section]:
    found = findings.batches(log, pour)
    heads = (">batch", "went in", ">read first", ">read last", "added", ">yield", ">of plan")
    rows = [_batch_row(each, units) for each in found]
    blocks: list[Block] = [table(heads, rows)] if rows else [Line("none yet")]
    blocks += [*_to_go_lines(pour, found, units), *_learnt_lines(log, pour, found, units)]
    sections = [Section("Batches", tuple(blocks), "batches")]
    others = [
        f"{kind.name} {each.number}, {_when(each)}: {_told(each, units)}{f' ({each.note})' if each.note else ''}"
        for kind in KINDS.values()
        for owner in ([pour.number] if kind.belongs == "pour" else [one.batch.number for one in found])
        if kind.name in ("surface", "weather", "piece", "photo")
        for each in things(log, kind.name, owner)
    ]
    return [*sections, Section("Also", (Points(tuple(others)),), "also")] if others else sections


def _to_go_lines(pour: Entry, found: tuple[findings.BatchFound, ...], units: UnitSystem) -> list[Block]:
    """How much mix is made of what the pour needs, and how many more batches that is."""
    now = findings.to_go(pour, found)
    if now is None or not found:
        return []
    whole, by = show.volume(now.planned, units), counted(now.read, "reading")
    said = f"Made so far {show.volume(now.made, units)} of the {whole} that the pour needs, by {by}"
    if not now.left > 1e-3 * now.planned:
        return [Line(f"{said}: enough.")]
    more = counted(now.batches, "batch", "batches")
    return [Line(f"{said}; {show.volume(now.left, units)} to go, {more} more like the last.")]


def _learnt_lines(
    log: Log, pour: Entry, found: tuple[findings.BatchFound, ...], units: UnitSystem
) -> list[Block]:
    """How much of the foam's air stayed, and the foam of the next batch."""
    learnt = findings.survival(log, pour)
    if learnt is None:
        return [Line(BEYOND)] if findings.unbelievable(found) else []
    batch = found[-1].batch
    try:
        foam = show.volume(findings.next_foam(pour, batch, learnt.usable), units)
    except RangeError as error:
        return [Line(f"No foam for the next batch can be worked out: {error}.")]
    aside = (
        f" ({counted(len(learnt.set_aside), 'batch', 'batches')} beyond belief left out)"
        if learnt.set_aside
        else ""
    )
    return [
        Line(
            f"{_stayed(learnt)} of the foam's air stayed, by {counted(learnt.count, 'batch', 'batches')}{aside}. "
            f"Another batch like {batch.number} takes {foam} of foam at that."
        )
    ]


def _batch_row(found: findings.BatchFound, units: UnitSystem) -> tuple[str, ...]:
    read = [show.density(each.number_of("density_kg_m3"), units) for each in found.readings]
    return (
        str(found.batch.number),
        _told(found.batch, units),
        read[0] if read else "",
        read[-1] if read else "",
        "; ".join(_told(each, units) for each in found.added),
        show.volume(found.made, units) if found.made is not None else "",
        show.plain(found.relative_yield, 3, keep=True) if found.relative_yield is not None else "",
    )


def _when(entry: Entry) -> str:
    return entry.at[:16].replace("T", " ")


def _told(entry: Entry, units: UnitSystem) -> str:
    """The values of an entry that say something, in the order of its fields, with the density that follows."""
    parts = [
        f"{field.name} {_shown(field, value, units)}"
        for field in KINDS[entry.kind].fields
        if (value := entry.values.get(field.column)) not in (None, 0.0)
    ]
    density = entry.number_of("density_kg_m3")
    return ", ".join([*parts, f"density {show.density(density, units)}"] if density else parts)


def _shown(field: Field, value: Value, units: UnitSystem) -> str:
    if isinstance(value, str) or value is None:
        return value or ""
    match field.sort:
        case "number":
            return show.plain(value, 3)
        case "speed":
            return f"{show.plain(value / 0.44704, 1)} mph" if units == "in" else f"{show.plain(value, 1)} m/s"
        case "text" | "choice":
            return str(value)
        case "mass" if field.column in ("gross_kg", "tare_kg"):
            return on_scale(value, findings.SCALE, units)
        case kind:
            return show.quantity(value, kind, units)
