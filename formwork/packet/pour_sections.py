"""Sections for the mixer and the day of the pour: pieces, molds, what is cast in, mix, batches, stripping."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import groupby

from formwork.checks.releasing import releasing
from formwork.mix.indicative import CAVEAT, conductivity_indications, strength_indications
from formwork.mix.pour_records import Batch, Pour, PourLift
from formwork.mix.records import Mix
from formwork.molds.mold import Mold, Strip
from formwork.packet.blocks import Block, Line, Points, Section, table
from formwork.packet.fastenings import fastenings, out_first
from formwork.packet.pour_day import (
    cup_lines,
    day_lines,
    foam_lines,
    lift_line,
    pour_notes,
    wait_line,
    ways_lines,
)
from formwork.packet.step_places import anchors
from formwork.packet.wording import counted, draft, runs, size, stretch, way
from formwork.plan import PieceSummary, Plan
from formwork.shapes.piece import Embedded, Face, Planar
from formwork.units import show
from formwork.units.show import UnitSystem

_DOWN = 0.98
"""What goes down by more than this, of 1, is what pieces are lifted off."""


def pieces(plan: Plan) -> Section | None:
    """What is cast, how many, and what each weighs; None where nothing is cast."""
    if not plan.pieces:
        return None
    units = plan.project.units
    weights = (">concrete, each", ">wet, each", ">when stripped", ">dry, each")
    heads = ("piece", "shape", ">wanted", ">molds", ">pours", *weights)
    rows = [_piece_row(piece, units) for piece in plan.pieces]
    notes = tuple(
        dict.fromkeys(f"{mold.piece.name}: {note}" for mold in plan.molds for note in mold.piece.notes)
    )
    blocks: list[Block] = [table(heads, rows)]
    return Section("Pieces", tuple([*blocks, Points(notes)] if notes else blocks), "pieces")


def _piece_row(piece: PieceSummary, units: UnitSystem) -> tuple[str, ...]:
    order = piece.order
    return (
        order.name,
        order.shape,
        str(order.count),
        str(order.molds),
        str(piece.pours),
        show.volume(piece.volume, units),
        show.mass(piece.wet_mass, units),
        show.mass(piece.stripped_mass, units),
        show.mass(piece.dry_mass, units),
    )


def molds(plan: Plan) -> Section | None:
    """Each mold: what it gives, what it is built for, and whether its parts enclose the piece; None without molds."""
    if not plan.molds:
        return None
    units = plan.project.units
    heads = ("mold", "method", ">built", ">casts at once", ">fillings", ">cavity", ">pieces in it", ">to oil",
             ">seams to seal")  # fmt: skip
    blocks: list[Block] = [table(heads, [_mold_row(mold, units) for mold in plan.molds])]
    for mold in plan.molds:
        if mold.instructions:
            blocks += [Line(f"{mold.name}:"), Points(mold.instructions, anchors=anchors(plan, mold))]
        if mold.fixings:
            blocks += [Line(f"Fastenings of the {mold.name}:"), fastenings(mold)]
    return Section("Molds", tuple(blocks), "molds")


def _mold_row(mold: Mold, units: UnitSystem) -> tuple[str, ...]:
    return (
        mold.name,
        mold.method,
        "in the shop" if mold.owned else str(mold.copies),
        str(mold.piece.cavities),
        str(mold.uses),
        show.volume(mold.cavity, units),
        show.volume(mold.nominal, units),
        show.area(mold.wetted, units),
        stretch(mold.seams, units),
    )


def cast_in(plan: Plan) -> Section | None:
    """Bars, mesh and the rest that stay in the pieces; None where there is nothing of the kind."""
    units = plan.project.units
    sizes = (f">{what}, {units}" for what in ("cut", "wide", "openings", "across", "cover"))
    heads = ("piece", "cast in", ">in each", *sizes, ">spacers", ">mass")
    rows = [
        _embedded_row(mold.piece.name, thing, units) for mold in plan.molds for thing in mold.piece.embedded
    ]
    return Section("Cast into the pieces", (table(heads, rows),), "cast-in") if rows else None


def _embedded_row(piece: str, thing: Embedded, units: UnitSystem) -> tuple[str, ...]:
    def given(value: float) -> str:
        return size(value, units) if value else ""

    item = f"{thing.material} {thing.item}".strip()
    return (
        piece,
        f"{item} ({thing.name})" if thing.name != thing.item else item,
        str(thing.count),
        given(thing.length),
        given(thing.width),
        given(thing.pitch),
        given(thing.diameter),
        given(thing.cover),
        str(thing.spacers) if thing.spacers else "",
        show.mass(thing.mass, units),
    )


def mixing(plan: Plan) -> Section | None:
    """The mix: densities, water, foam, what a careful reader should know of it; None where there is none."""
    mix, units = plan.mix, plan.project.units
    if mix is None:
        return None
    blocks: list[Block] = [
        Line(line)
        for line in (
            *mix_lines(mix, units), *foam_lines(plan.foam_check, units), *cup_lines(plan.cup, units),
        )
    ]  # fmt: skip
    if mix.warnings:
        blocks.append(Points(mix.warnings))
    return Section("Mix", (*blocks, *indicated(mix, units)), "mix")


def indicated(mix: Mix, units: UnitSystem) -> tuple[Block, ...]:
    """What others published for such densities, with where it is from and what it is worth; nothing of other mixes."""
    found = (*strength_indications(mix), *conductivity_indications(mix))
    if not found:
        return ()
    head = f"Published of mixes of such a density, {CAVEAT}; no strength follows from a density alone:"
    return Line(head), Points(tuple(each.brief(units) for each in found))


def mix_lines(mix: Mix, units: UnitSystem) -> tuple[str, ...]:
    """The mix in sentences."""
    if mix.dry_mix:
        return _bagged_lines(mix, units)
    lines = [
        f"{mix.kind.capitalize()} concrete: {show.density(mix.wet_density, units)} as poured, "
        f"{show.density(mix.dry_density, units)} oven-dry.",
        f"Water to cement {show.plain(mix.water_cement, 3)} by mass, before foam"
        f" ({show.plain(mix.water_cement_total, 3)} with the foam's water)."
        if mix.foam_volume
        else f"Water to cement {show.plain(mix.water_cement, 3)} by mass.",
    ]
    if mix.foam_volume:
        lines.append(
            f"Slurry before foam {show.density(mix.slurry_density, units)}; "
            f"foam {show.share(mix.foam_volume)} of the finished volume."
        )
    if mix.water_binder and mix.water_binder < mix.water_cement:
        lines.append(f"Water to all that counts as cement {show.plain(mix.water_binder, 3)}.")
    lines += [f"Aimed at {mix.aim}."] if mix.aim else []
    return tuple(lines)


def _bagged_lines(mix: Mix, units: UnitSystem) -> tuple[str, ...]:
    return (
        f"{mix.dry_mix[0].upper()}{mix.dry_mix[1:]}, ready-bagged: {show.density(mix.wet_density, units)} as poured, "
        f"{show.density(mix.dry_density, units)} or a little more oven-dry.",
        f"Water {show.share(mix.water_cement)} of the dry mix by mass; one bag of {show.mass(mix.bag, units)} makes "
        f"{show.volume(1.0 / mix.bags, units)}, as printed on it.",
    )


def pouring(plan: Plan) -> Section | None:
    """Pours, and what goes in the mixer for each; None where nothing is cast."""
    if not plan.pieces:
        return None
    units = plan.project.units
    blocks: list[Block] = []
    for alike in alike_pours(plan):
        blocks.append(Line(pour_line(alike, units)))
        blocks += _lifted(alike[0], plan) if alike[0].lifts else _spell(alike[0], alike[0].batches, 1, plan)
    blocks += [Line(line) for line in day_lines(plan)]
    return Section("Pours and batches", tuple(blocks) or (Line("Nothing is poured."),), "pours")


def _spell(spell: Pour | PourLift, batches: tuple[Batch, ...], first: int, plan: Plan) -> Iterator[Block]:
    """What goes in the mixer for what is placed in one go, and what belongs below it."""
    units = plan.project.units
    if batches:
        yield batch_table(batches, units, first)
    yield from (Line(line) for line in (*ways_lines(spell.ways, units), *pour_notes(spell, plan)))


def _lifted(pour: Pour, plan: Plan) -> Iterator[Block]:
    """A pour lift by lift, with the waiting between them."""
    for lift in pour.lifts:
        yield Line(lift_line(lift, pour, plan))
        yield from _spell(lift, pour.batches[lift.first - 1 : lift.last], lift.first, plan)
        if lift is not pour.lifts[-1]:
            yield Line(wait_line(plan))


def alike_pours(plan: Plan) -> list[list[Pour]]:
    """The pours in their order, equal ones that follow one another together."""
    groups = groupby(plan.pours, key=lambda pour: (pour.pieces, pour.volume, pour.batches))
    return [list(group) for _, group in groups]


def pour_line(alike: list[Pour], units: UnitSystem) -> str:
    """Equal pours in one line: their numbers, what each casts, how much mix in how many batches."""
    first = alike[0]
    numbers = runs([pour.number for pour in alike])
    word, each = ("Pour", "") if len(alike) == 1 else ("Pours", " each")
    cast = ", ".join(f"{count} {name}" for name, count in first.pieces)
    mixed = show.volume(first.volume, units)
    batches = counted(len(first.batches), "batch", "batches")
    lifts = f", in {len(first.lifts)} lifts" if first.lifts else ""
    return f"{word} {numbers}:{each} {cast}; {mixed} of mix in {batches}{lifts}."


_Column = tuple[str, Callable[[Batch, UnitSystem], str], Callable[[Batch], float | None]]

_INGREDIENTS: tuple[_Column, ...] = (
    ("cement", lambda b, u: show.mass(b.cement, u), lambda b: b.cement),
    ("bags", lambda b, _: show.plain(b.bags, 2), lambda b: b.bags),
    ("sand", lambda b, u: show.mass(b.sand, u), lambda b: b.sand),
    ("gravel", lambda b, u: show.mass(b.gravel, u), lambda b: b.gravel),
    ("fly ash", lambda b, u: show.mass(b.ash, u), lambda b: b.ash),
    ("water in mixer", lambda b, u: show.mass(b.water, u), lambda b: b.water),
    ("foam", lambda b, u: show.volume(b.foam_volume, u), lambda b: b.foam_volume),
    ("foam weighs", lambda b, u: show.mass(b.foam_mass, u), lambda b: b.foam_mass),
    ("run foam", lambda b, _: show.time(b.foam_seconds or 0.0), lambda b: b.foam_seconds),
    ("concentrate", lambda b, u: show.mass(b.concentrate, u), lambda b: b.concentrate),
    ("its water", lambda b, u: show.mass(b.dilution_water, u), lambda b: b.dilution_water),
)
_SOLIDS = 5
"""How many of these columns are of solids; other powders and admixtures stand after them."""


def _others(batches: tuple[Batch, ...]) -> tuple[_Column, ...]:
    """A column for each other powder or admixture, and one for fibres."""

    def column(name: str) -> _Column:
        def of(batch: Batch) -> float:
            return dict(batch.others).get(name, 0.0)

        return name, lambda batch, units: show.mass(of(batch), units), of

    names = dict.fromkeys(name for batch in batches for name, _ in batch.others)
    return (
        *(column(name) for name in names),
        ("fibres", lambda b, u: show.mass(b.fibres, u), lambda b: b.fibres),
    )


def batch_table(batches: tuple[Batch, ...], units: UnitSystem, first: int = 1) -> Block:
    """Batches one a row, equal ones in a run together; ingredients that none has are left out.

    Args:
        batches: in order.
        units: of the person.
        first: number of the first of them.
    """
    known = (*_INGREDIENTS[:_SOLIDS], *_others(batches), *_INGREDIENTS[_SOLIDS:])
    used = [entry for entry in known if any(entry[2](batch) for batch in batches)]
    rows: list[tuple[str, ...]] = []
    numbered = list(enumerate(batches, start=first))
    for batch, group in groupby(numbered, key=lambda entry: entry[1]):
        numbers = [number for number, _ in group]
        rows.append(
            (runs(numbers), show.volume(batch.volume, units), *(tell(batch, units) for _, tell, _ in used))
        )
    return table(("batch", ">makes", *(f">{heading}" for heading, _, _ in used)), rows)


def stripping(plan: Plan) -> Section | None:
    """The order in which each mold comes off, and what would not; None without molds."""
    if not plan.molds:
        return None
    blocks: list[Block] = []
    for mold in plan.molds:
        blocks.append(Line(f"{mold.name}, {out_first(mold)} out first:"))
        blocks.append(Points(tuple(_strips(mold)), numbered=True))
        if mold.locked:
            blocks.append(
                Points(tuple(f"LOCKED: {group}. What frees it: {remedy}" for group, remedy in mold.locked))
            )
    if plan.mix is not None:
        blocks.append(Points(releasing(plan.molds, plan.mix, plan.project.shop.times, plan.project.units)))
    return Section("Taking the molds off", tuple(blocks), "stripping")


def _sides(mold: Mold) -> tuple[Face, ...]:
    """The faces that name the sides of a mold; none round a curved one."""
    form = mold.piece.form
    return form.faces if isinstance(form, Planar) else ()


def _strips(mold: Mold) -> Iterator[str]:
    """The steps of taking a mold off; what leaves one after the other in the same way is told together."""
    told = [(step.group, _strip(step, mold)) for step in mold.stripping]
    for way_off, same in groupby(told, key=lambda one: one[1]):
        names = [name for name, _ in same]
        joined = {1: names[0], 2: " and ".join(names)}.get(len(names), f"{names[0]} to {names[-1]}")
        yield f"{joined}: {way_off}"


def _strip(step: Strip, mold: Mold) -> str:
    """The way a part of a mold leaves; of what the pieces of a gang are lifted off, how they are lifted."""
    if mold.piece.cavities > 1 and step.note and step.way[2] < -_DOWN:
        return f"{step.note} ({draft(step.draft)})"
    note = f"; {step.note}" if step.note else ""
    return f"{way(step.way, _sides(mold))} ({draft(step.draft)}){note}"
