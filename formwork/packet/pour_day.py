"""What the day of a pour needs beside the batches, in sentences: foam weighed first, solution, leftover, time."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from formwork.mix.foam_check import NEAR
from formwork.mix.pour_records import Card, FoamCheck, Pour, PourLift, SlowFill, Solution, Times, Timing, Way
from formwork.packet.wording import counted, runs
from formwork.plan import Plan
from formwork.pour.measure import CupReading, on_scale
from formwork.strength.aci347 import HOUR
from formwork.units import show
from formwork.units.show import UnitSystem

_MEASURE: dict[UnitSystem, str] = {"mm": "litre", "in": "US quart"}
_MILD = 288.15
"""15 C, K: below it lifts wait longer."""
_LEAST_LIFT = 0.05
"""Lowest lift that a mold table takes, m."""
_NOTICED = 1e-3
"""Leftover below this share of a pour is not worth a word."""


def foam_lines(check: FoamCheck | None, units: UnitSystem) -> tuple[str, ...]:
    """What a full measure of foam must weigh before the first batch, and what to do where it does not.

    Args:
        check: of the plan; None where no foam is used.
        units: of the person.
    """
    if check is None:
        return ()
    net, low, high = (show.mass(mass, units) for mass in (check.net, check.low, check.high))
    volume, weight = (show.density(wet, units) for wet in (check.wet_by_volume, check.wet_by_weight))
    return (
        f"Foam before the first batch: a full {_MEASURE[units]} of it, struck off, weighs {net} net "
        f"({show.density(check.density, units)}); {low} to {high} is near enough (common practice). Throw foam "
        "away that visibly drains within 10 minutes. Each weighing takes that much solution more.",
        f"Foam {show.share(NEAR)} heavier than planned makes the mix {volume} when put in by volume and {weight} "
        "by weight: if it stays off, write the density weighed into the shop file and plan again.",
    )


def cup_lines(cup: CupReading | None, units: UnitSystem) -> tuple[str, ...]:
    """What the scale shows when the weighing cup is full of the mix; nothing where the shop names no cup.

    Args:
        cup: of the plan.
        units: of the person.
    """
    if cup is None:
        return ()
    holds, tare = cup.cup.holds, cup.cup.tare
    wanted, low, high = (
        on_scale(cup.at(density), cup.cup.step, units)
        for density in (cup.density, cup.density - cup.tolerance, cup.density + cup.tolerance)
    )
    with_it = (
        f", {on_scale(tare, cup.cup.step, units)} empty," if tare else ", the scale set to nought with it,"
    )
    return (
        f"Weighing cup of {show.volume(holds.volume, units)} ({holds.how}){with_it} full of this mix reads {wanted}; "
        f"{low} to {high} is in tolerance ({show.density(cup.tolerance, units)} either way, ASTM C869).",
        *holds.notes,
    )


def ways_lines(ways: Sequence[Way], units: UnitSystem) -> tuple[str, ...]:
    """Which ways there are to cut a pour into batches, and which of them leaves least; nothing where there is but one.

    Args:
        ways: the best one first.
        units: of the person.
    """
    if len(ways) < 2:
        return ()
    best = next(way for way in ways if way.best)
    others = "; ".join(f"{way.split}: {_cut(way, units)}" for way in ways if not way.chosen)
    kept = (
        "leaves least, in the fewest kinds"
        if best.chosen
        else f"is as asked; {best.split} leaves less or is simpler"
    )
    chosen = next((way.split for way in ways if way.chosen), best.split)
    return (f"Cut into batches: {chosen} {kept}. Other ways: {others}.",)


def _cut(way: Way, units: UnitSystem) -> str:
    """The batches of a way, with the cement of each in bags where that is a whole or a half number."""
    runs_of = []
    for (count, size), bags in zip(way.sizes, way.bags, strict=True):
        of_bags = f" ({_bags(bags)})" if 2.0 * bags == round(2.0 * bags) else ""
        runs_of.append(f"{count} of {show.volume(size, units)}{of_bags}")
    over = show.volume(way.leftover, units) if way.leftover > _NOTICED * way.sizes[0][1] else "nothing"
    return f"{' and '.join(runs_of)}, {over} over"


def _bags(bags: float) -> str:
    whole, half = divmod(round(2.0 * bags), 2)
    if not whole:
        return "half a bag"
    return f"{whole} 1/2 bags" if half else counted(whole, "bag")


def pour_notes(spell: Pour | PourLift, plan: Plan) -> tuple[str, ...]:
    """What belongs below the batches of a pour, or of a lift of one, or of each of several alike.

    Args:
        spell: the first of them.
        plan: the plan.
    """
    units, timing = plan.project.units, spell.timing
    each = "pour" if isinstance(spell, Pour) else "lift"
    lines = (*left_over(spell, f" in each {each}", units), *_solution(spell.solution, each, units))
    if timing is None:
        return lines
    known = "" if timing.foaming_known else ", foaming not counted"
    late = () if timing.in_time else (_late(timing, plan),)
    slow = dict.fromkeys(_slow(one, plan) for one in timing.slow)
    return (*lines, f"Time for each {each}: {show.time(timing.total)}{known}.", *slow, *late)


def lift_line(lift: PourLift, pour: Pour, plan: Plan) -> str:
    """One lift of a pour: which it is, how high each mold is filled, with how much mix in which batches.

    Args:
        lift: of the pour.
        pour: the first of those that are alike.
        plan: the plan.
    """
    units = plan.project.units
    full = {name for one in pour.lifts[lift.number :] for name, _ in one.tops}
    marks = ", ".join(
        f"{name} to the line at {show.length(top, units)}"
        if name in full
        else f"{name} to the top, {show.length(top, units)}"
        for name, top in lift.tops
    )
    word = "batch" if lift.first == lift.last else "batches"
    numbers = runs(list(range(lift.first, lift.last + 1)))
    mixed = show.volume(lift.volume, units)
    return f"Lift {lift.number} of {len(pour.lifts)}: fill {marks}; {mixed} of mix in {word} {numbers}."


def wait_line(plan: Plan) -> str:
    """What is waited for between two lifts."""
    after = show.time(plan.project.shop.times.next_lift)
    mild = show.temperature(_MILD, plan.project.units)
    return (
        f"WAIT until it has set before the next lift: a fingertip leaves no dent, not before {after}; below {mild} "
        "allow 2 days (trade practice). Then roughen the face, brush it, wet it, and wipe off what stands."
    )


def day_lines(plan: Plan) -> tuple[str, ...]:
    """What holds for every pour of a plan: what a batch takes in time, and when a next lift may go on."""
    times = plan.project.shop.times
    timings = [pour.timing for pour in plan.pours if pour.timing]
    if plan.mix is None or not timings:
        return ()
    after, mild = show.time(times.next_lift), show.temperature(_MILD, plan.project.units)
    lift = (
        f"A next lift goes on when a fingertip leaves no dent in the one below, here not before {after}; below "
        f"{mild} allow 2 days (trade practice)."
    )
    told = plan.mix.kind == "cellular" and not any(pour.lifts for pour in plan.pours)
    return (_batch_time(timings, times), *([lift] if told else []))


def _batch_time(timings: Sequence[Timing], times: Times) -> str:
    longest = max(timings, key=lambda timing: timing.batch)
    foaming = f"foam {show.time(longest.foaming)}, blending" if longest.foaming else "blending"
    if not longest.foaming and longest.foaming_known:
        steps = f"mixing {show.time(times.mixing)}, placing {show.time(times.placing)}"
    else:
        steps = (
            f"slurry {show.time(times.mixing)}, {foaming} {show.time(times.blending)}, placing "
            f"{show.time(times.placing)}"
        )
    unknown = "" if longest.foaming_known else "; foaming comes on top: measure the generator's output"
    return f"A batch takes up to {show.time(longest.batch)}: {steps}{unknown}."


def _slow(one: SlowFill, plan: Plan) -> str:
    """That a mold braced for concrete that stiffens as it rises must not be filled faster than that."""
    rise = plan.mix.vibrated.rise * HOUR if plan.mix and plan.mix.vibrated else 0.0
    each = (
        f", {show.time(one.least / one.batches)} for each of its {one.batches} batches"
        if one.batches > 1
        else ""
    )
    return (
        f"NOT FASTER: take at least {show.time(one.least)} to fill a {one.name} mold{each}, placed evenly all round: "
        f"it is braced for concrete that rises {show.length(rise, plan.project.units)} in an hour and no more."
    )


def _late(timing: Timing, plan: Plan) -> str:
    """That the mold that fills most slowly is not full while the first mix in it can still be moved."""
    slowest, times = timing.slowest, plan.project.shop.times
    numbers = runs(list(range(slowest.first, slowest.last + 1)))
    word = "batch" if slowest.first == slowest.last else "batches"
    return (
        f"TOO SLOW: a {slowest.name} mold takes {word} {numbers} and is full {show.time(slowest.seconds)} after the "
        f"first foam in it; the mix stays workable {show.time(times.workable)}. {_remedy(timing, plan)}"
    )


def _remedy(timing: Timing, plan: Plan) -> str:
    slowest, times = timing.slowest, plan.project.shop.times
    if slowest.first == slowest.last:
        return "Make smaller batches, or foam and place them faster."
    if slowest.ahead <= times.workable:
        return f"Mix each slurry while the batch before is placed: then {show.time(slowest.ahead)}."
    high = lift_of_a_batch(slowest.name, plan)
    if high is None:
        return "Use a larger mixer."
    lift = (
        f"{ceil(8.0 * high / show.INCH) / 8.0:g} in"
        if plan.project.units == "in"
        else f"{ceil(1000.0 * high)} mm"
    )
    return (
        f'Use a larger mixer, or write lift = "{lift}" into its mold table: one batch then fills each lift, and each '
        "sets before the next goes on."
    )


def lift_of_a_batch(name: str, plan: Plan) -> float | None:
    """Height of the fewest equal lifts of a piece that one batch fills each, m; None where they would be too low.

    Args:
        name: of the piece.
        plan: the plan.
    """
    from formwork.shapes.filled import shares  # noqa: PLC0415 - only where a mold fills too slowly

    mold = next(one for one in plan.molds if one.piece.name == name)
    rules, mixer, fill = plan.project.batches, plan.project.shop.mixer, mold.piece.form.fill
    whole = mold.nominal / (1.0 - rules.loss)
    for count in range(mold.lifts + 1, int(fill / _LEAST_LIFT) + 1):
        parts = shares(mold.piece, tuple(fill * k / count for k in range(1, count + 1)))
        if whole * max(*parts[:-1], parts[-1] + rules.overfill) <= mixer.usable - mixer.residue:
            return fill / count
    return None


def _solution(made: Solution | None, each: str, units: UnitSystem) -> tuple[str, ...]:
    if made is None:
        return ()
    whole, concentrate, water, reserve = (
        show.volume(volume, units, liquid=True)
        for volume in (made.volume, made.concentrate, made.water, made.reserve)
    )
    return (
        f"Foam solution to make up for each {each}: {whole}, of {concentrate} of concentrate in {water} of water; "
        f"{reserve} of it is reserve for hose and tank.",
    )


def left_over(spell: Pour | PourLift | Card, when: str, units: UnitSystem) -> tuple[str, ...]:
    """Where the mix goes that is left over; nothing where there is none to speak of.

    Args:
        spell: a pour, a lift, or a batch card.
        when: it is left over, in words that follow "left over"; empty for once.
        units: of the person.
    """
    if spell.leftover <= spell.volume * _NOTICED:
        return ()
    over, remains = show.volume(spell.leftover, units), show.volume(spell.remains, units)
    if not spell.put_away:
        return (f"Of that, {over} is left over{when}: have a small mold ready for it.",)
    molds = ", then ".join(f"{count} {name}" for name, count in spell.put_away)
    rest = f"; {remains} fits none of them" if spell.remains > spell.leftover * _NOTICED else ""
    return (f"Of that, {over} is left over{when}: it fills {molds}{rest}.",)
