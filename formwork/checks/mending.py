"""What would make a failed check pass, found by designing the mold again with one thing changed after another.

Each method says what there can be more of (``changes``); the shop's other stock, lower lifts, another method and a
lighter mix are tried of every mold. A change is told only where the whole design with it passes every check and leaves
none unmade that was made before. Where no single change does, the one that leaves least to mend is kept and others are
tried on top of it. Nothing of this runs while all checks pass, and no more than so many parts are designed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import chain, islice
from math import ceil
from typing import Any

from formwork.checks.changes.ladder import STEP, Ladder
from formwork.checks.changes.unlisted import ladders as ladders_unlisted
from formwork.checks.changes.unlisted import sticks as sticks_unlisted
from formwork.checks.check import Check
from formwork.checks.telling import told
from formwork.checks.trials import OF_THE_SHAPE, Bench, Change, Trial, Trials, changes_of
from formwork.mix.records import Mix
from formwork.molds.asked import BuiltMold
from formwork.project.records import BRACING, PieceOrder, Shop
from formwork.shapes.register import register
from formwork.units.show import UnitSystem

LIGHTEST = 400.0
"""A mix lighter than this is no remedy, kg/m3 (ours)."""
_MOST_TOLD = 3
_MOST_CHANGES = 3
_LIFTS = (2, 3, 4, 6)
_NAMED = ("stick", "strap")
_ENOUGH = 3
_SHARES = (0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)


def mended(
    made: Sequence[Check],
    molds: Sequence[BuiltMold],
    orders: Sequence[PieceOrder],
    shop: Shop,
    mix: Mix | None,
    units: UnitSystem,
) -> tuple[Check, ...]:
    """The same checks; those that fail and that other bracing may mend with the remedy that was found for them.

    Args:
        made: every check of the plan.
        molds: of the plan.
        orders: what the molds are for, as the project has it.
        shop: what other stock there is.
        mix: what the molds hold.
        units: how a person here reads a length.
    """
    remedies: dict[tuple[str, str], str] = {}
    for one in molds:
        failed = [
            each
            for each in made
            if each.mold == one.mold.name and not each.ok and each.name not in OF_THE_SHAPE
        ]
        if failed:
            trials = Trials(Bench(one, _order_of(one, orders), shop, mix, units))
            say = partial(told, trials, _found(trials))
            remedies |= {(each.mold, each.name): say(each) for each in failed}
    return tuple(replace(one, remedy=remedies.get((one.mold, one.name), one.remedy)) for one in made)


def _order_of(one: BuiltMold, orders: Sequence[PieceOrder]) -> PieceOrder:
    """The project's order for a mold: one of several pieces of a shape is named after it."""
    name, where = one.order.name, one.order.where
    return max(
        (order for order in orders if order.where == where and name.startswith(order.name)),
        key=lambda order: len(order.name),
    )


def _found(trials: Trials) -> list[Trial]:
    """The designs that pass: of each ladder its first rung, of one change, else of two, else of three; then lighter."""
    base, climbed = trials.first, frozenset[str]()
    for _ in range(_MOST_CHANGES):
        ladders = [one for one in _ladders(trials) if one.key not in climbed and one.may_help(base.fails)]
        tried = chain(_left_out(trials, base), (_climbed(trials, base.change, ladder) for ladder in ladders))
        passing = list(islice((one for one in tried if one is not None and trials.passes(one)), _MOST_TOLD))
        if passing:
            return passing
        better = _least(trials, base, (one for one in trials.done.values() if one is not None))
        if better is base:
            break
        base, climbed = better, frozenset(key for key, value in better.change if value is not None)
    trials.left = max(trials.left, _ENOUGH * trials.first.parts)
    bought = _unlisted(trials, base)
    if bought is not None:
        return [bought]
    lighter = _lighter(trials, base.change) or _lighter(trials, _stoutest(trials, base.change))
    last = lighter or base
    return [last] if last is not trials.first else []


def _left_out(trials: Trials, base: Trial) -> Iterator[Trial | None]:
    """The designs with all bracing left to the program that the person has fixed, and then its stock as well."""
    options, changed = trials.bench.order.mold, dict(base.change)
    tried: tuple[str, ...] = ()
    for keys in (BRACING, (*BRACING, *_NAMED)):
        fixed = tuple(key for key in keys if key not in changed and getattr(options, key) is not None)
        if fixed != tried:
            yield trials.of((*base.change, *((key, None) for key in fixed)))
        tried = fixed


def _least(trials: Trials, base: Trial, tried: Iterable[Trial]) -> Trial:
    """Of the designs that leave nothing unmade, the one that leaves fewest checks failing, and those least."""
    found = [one for one in tried if one.unmade <= trials.first.unmade]
    return min([base, *found], key=lambda one: (len(one.fails), _waits(one), round(one.worst, 9)))


def _waits(one: Trial) -> bool:
    """It takes days more than the mold as it is: lifts must set."""
    return any(key == "lift" for key, _ in one.change)


def _ladders(trials: Trials) -> tuple[Ladder, ...]:
    """What the mold's method offers, lower lifts, and the other ways of building the shape."""
    bench = trials.bench
    built, options = bench.built, bench.order.mold
    lower = Ladder("lift", _lower_lifts(built, bench.units), rising=True)
    if options.owned is not None:
        return (lower,)
    shape = register()[bench.order.shape]
    ways = Ladder("method", tuple(one for one in shape.methods if one != options.method))
    return (*changes_of(built).ladders(built, bench.shop), lower, ways)


def _unlisted(trials: Trials, base: Trial) -> Trial | None:
    """The best design with stock that the shop does not list, where that passes."""
    bench = trials.bench
    if bench.order.mold.owned is not None:
        return None
    for ladder in ladders_unlisted(bench.shop, bench.units, bench.built.mold.method):
        kept = tuple((key, value) for key, value in base.change if key != ladder.key)
        found = _climbed(trials, kept, ladder) if ladder.may_help(base.fails) else None
        if found is not None:
            return found
    return None


def _lower_lifts(built: BuiltMold, units: UnitSystem) -> tuple[float, ...]:
    """Lifts of a half of the filling, a third and so on, in whole steps, so that what is told is what was tried."""
    fill, step = built.mold.piece.form.fill, STEP[units]
    lifts = [round(step * ceil(fill / parts / step - 1e-9), 9) for parts in _LIFTS]
    return tuple(dict.fromkeys(one for one in lifts if 0.05 <= one < fill))


def _climbed(trials: Trials, base: Change, ladder: Ladder) -> Trial | None:
    """The first rung that passes; of a ladder that rises it is found by leaps, then by halving."""
    kept = tuple((key, value) for key, value in base if key != ladder.key)

    def at(rung: int) -> Trial | None:
        return trials.of((*kept, (ladder.key, ladder.rungs[rung])))

    if not ladder.rising:
        return next((one for one in map(at, range(len(ladder.rungs))) if trials.passes(one)), None)
    failing, leap, last = -1, 1, len(ladder.rungs) - 1
    while failing < last:
        rung = min(last, failing + leap)
        found = at(rung)
        if trials.passes(found):
            return _first(trials, at, failing, rung)
        if found is None and leap > 1:
            last = rung - 1
            leap = 1
            continue
        failing, leap = rung, 2 * leap
        if found is None:
            return None
    return None


def _first(trials: Trials, at: Any, failing: int, passing: int) -> Trial | None:
    """The first rung that passes between one that fails and one that passes."""
    while passing - failing > 1:
        middle = (failing + passing) // 2
        if trials.passes(at(middle)):
            passing = middle
        else:
            failing = middle
    found: Trial | None = at(passing)
    return found


def _stoutest(trials: Trials, change: Change) -> Change:
    """A change with the stoutest stick that yards sell in place of the one it names."""
    bench = trials.bench
    names = [one.name for one in sticks_unlisted(bench.shop, bench.units, 0.0)]
    kept = tuple((key, value) for key, value in change if key != "stick")
    return (*kept, ("stick", names[-1])) if names and bench.order.mold.owned is None else change


def _lighter(trials: Trials, change: Change) -> Trial | None:
    """The heaviest of ever lighter mixes for which a design passes; None where none does."""
    mix = trials.bench.mix
    if mix is None:
        return None
    rungs = [10.0 * int(share * mix.wet_density / 10.0) for share in _SHARES]
    rungs = [one for one in rungs if one >= LIGHTEST]
    trials.left = max(trials.left, _ENOUGH * trials.first.parts)

    def at(rung: int) -> Trial | None:
        return trials.of(change, rungs[rung])

    if not rungs or not trials.passes(at(len(rungs) - 1)):
        return None
    return _first(trials, at, -1, len(rungs) - 1)
