"""What would make a failed check pass, found by designing the mold again with one thing changed after another.

Each method says what there can be more of (``changes``); the shop's other stock, lower lifts, another method and a
lighter mix are tried of every mold. A change is told only where the whole design with it passes every check and leaves
none unmade that was made before. Where no single change does, the one that leaves least to mend is kept and others are
tried on top of it. Nothing of this runs while all checks pass, and no more than so many parts are designed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from importlib import import_module
from itertools import chain, islice
from math import ceil
from typing import Any, Protocol

from formwork.checks.all import mold_checks, parted
from formwork.checks.changes.ladder import STEP, Ladder, Value
from formwork.checks.changes.unlisted import ladders as ladders_unlisted
from formwork.checks.changes.unlisted import sticks as sticks_unlisted
from formwork.checks.changes.unlisted import with_unlisted
from formwork.checks.check import Check
from formwork.errors import GeometryError, RangeError, StockError
from formwork.mix.both_units import density_text
from formwork.mix.records import Mix
from formwork.molds.asked import BuiltMold, Lining
from formwork.molds.design import brace, line
from formwork.molds.structure import BuiltCentre, BuiltFrame
from formwork.project.records import BRACING, COUNT_OR_HEIGHTS, METHODS_WITH, MoldOptions, PieceOrder, Shop
from formwork.record import record
from formwork.shapes.register import register
from formwork.units import show
from formwork.units.show import UnitSystem

MOST_PARTS = 8_000
"""Parts of all designs that are tried for one mold, so that its remedies take seconds."""
LIGHTEST = 400.0
"""A mix lighter than this is no remedy, kg/m3 (ours)."""
OF_THE_SHAPE = ("cavity against piece", "comes off in order", "draft of core")
"""Checks that no bracing mends: what they name themselves stands."""
_MOST_TOLD = 3
_MOST_CHANGES = 3
_LIFTS = (2, 3, 4, 6)
_MOST_DESIGNS = 40
_NAMED = ("stick", "strap")
_ENOUGH = 3
_SHARES = (0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)

Change = tuple[tuple[str, Value | None], ...]
"""Keys of the piece's mold table and what they are to be; None where they are left out."""


class Changes(Protocol):
    """A file of ``changes/``, of the name of a mold method."""

    def ladders(self, built: Any, shop: Shop) -> tuple[Ladder, ...]:
        """Everything of a mold that there can be more of; takes what the method's ``brace`` gave."""


@record
class Bench:
    """What a mold is designed again from.

    Attributes:
        built: the mold as it fails.
        order: what it is for, as the project has it.
        shop: what stock there is.
        mix: what it holds.
        units: how a person here reads a length.
    """

    built: BuiltMold
    order: PieceOrder
    shop: Shop
    mix: Mix | None
    units: UnitSystem

    def lined(self, change: Change, density: float | None = None) -> Lining:
        """The mold's lining with a change of its options, for a lighter mix where a wet density is given (kg/m3).

        Raises:
            GeometryError: where it cannot be built so.
            StockError: where it finds no stock.
            RangeError: where a formula does not hold for it.
        """
        cast = replace(self.mix, wet_density=density) if self.mix and density else self.mix
        order = replace(self.order, mold=_changed(self.order.mold, change))
        name = self.built.order.name
        shop = with_unlisted(self.shop, self.units, tuple(value for _, value in change))
        return next(
            one
            for one in line(order, shop, cast, self.units)
            if not isinstance(one, BuiltFrame | BuiltCentre) and one.order.name == name
        )


def _changed(options: MoldOptions, change: Change) -> MoldOptions:
    """The options with a change; what another method has no use for, or says the same thing twice, left out."""
    keys: dict[str, Any] = dict(change)
    method = keys.get("method", options.method)
    if method != options.method:
        keys |= {
            key: None for key, of in METHODS_WITH.items() if method not in of and _is_choice(options, key)
        }
    for pair in COUNT_OR_HEIGHTS:
        for said, other in (pair, pair[::-1]):
            if keys.get(said) is not None:
                keys[other] = None
    return replace(options, **keys)


def _is_choice(options: MoldOptions, key: str) -> bool:
    """The person said it, and nothing may be said instead."""
    return getattr(MoldOptions(), key) is None and getattr(options, key) is not None


@record
class Trial:
    """One design: its change, mix, how far every check is used, which fail, what is not checked.

    It is ``whole`` where every part of it was designed, not only what its method decides before its parts.
    """

    change: Change
    density: float | None
    stands: Mapping[str, float]
    fails: frozenset[str]
    unmade: frozenset[str]
    parts: int
    whole: bool = True

    @property
    def worst(self) -> float:
        """Of the checks that fail, the greatest share of the limit; 0 where none does."""
        return max((self.stands[name] for name in self.fails), default=0.0)


class Trials:
    """The designs that were tried for one mold, each once, until so many parts have been designed."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.left = MOST_PARTS
        self.first = _judged((), None, bench.built)
        self.done: dict[tuple[Change, float | None], Trial | None] = {((), None): self.first}

    def of(self, change: Change, density: float | None = None) -> Trial | None:
        """The design with a change; None where it cannot be built, or no more are to be tried."""
        place = (change, density)
        if place not in self.done:
            if self.left <= 0:
                return None
            try:
                self.done[place] = self._made(change, density)
            except (GeometryError, StockError, RangeError):
                self.done[place] = None
        return self.done[place]

    def _made(self, change: Change, density: float | None) -> Trial:
        """The whole design; no more of it than its method can judge before its parts are made, where that fails."""
        lining = self.bench.lined(change, density)
        sketch = getattr(_changes(self.bench.built), "sketch", None)
        if sketch is not None and lining.order.mold.method == self.bench.built.mold.method:
            self.left -= self.first.parts // 50
            found = _judged(change, density, sketch(self.bench.built, lining))
            needs_parts = getattr(_changes(self.bench.built), "NEEDS_PARTS", ())
            if found.fails.difference(needs_parts, OF_THE_SHAPE):
                return replace(found, whole=False)
        self.left -= max(self.first.parts, MOST_PARTS // _MOST_DESIGNS)
        return _judged(change, density, brace(lining))

    def passes(self, trial: Trial | None) -> bool:
        """Every check of the mold passes that bracing can mend, and none is left unmade that was made before."""
        return (
            trial is not None
            and trial.whole
            and not trial.fails - self.first.fails.intersection(OF_THE_SHAPE)
            and trial.unmade <= self.first.unmade
        )


def _judged(change: Change, density: float | None, built: BuiltMold) -> Trial:
    made, unmade = parted(mold_checks(built))
    stands: dict[str, float] = {}
    for each in made:
        stands[each.name] = max(stands.get(each.name, 0.0), each.utilisation)
    fails = frozenset(each.name for each in made if not each.ok)
    return Trial(
        change, density, stands, fails, frozenset(each.name for each in unmade), len(built.mold.parts)
    )


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
            say = partial(_told, trials, _found(trials))
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
    return (*_changes(built).ladders(built, bench.shop), lower, ways)


def _changes(built: BuiltMold) -> Changes:
    """What may be changed of a mold, as its method says."""
    found: Changes = import_module(f"formwork.checks.changes.{built.mold.method}")
    return found


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


def _told(trials: Trials, found: Sequence[Trial], failed: Check) -> str:
    """What to do, where this check stands then, and whether the others pass; what is left where nothing does."""
    units = trials.bench.units
    passing = [one for one in found if trials.passes(one)]
    if passing:
        ways = "; or ".join(_way(one, failed, units) for one in passing)
        rest = ", ".join(sorted(passing[0].fails))
        every = f"every check of this mold but {rest}" if rest else "every check of this mold"
        return f"in the piece's mold table {ways}: {every} passes then{_to_list(trials, passing)}"
    said = [f"none of {len(trials.done) - 1} other designs passes every check"]
    if found:
        rest = ", ".join(sorted(found[0].fails))
        said.append(f"{_way(found[0], failed, units)} leaves least to mend ({rest})")
    said.append("left are a shorter or lower piece, and stock that the shop file does not list yet")
    if failed.remedy:
        said.append(f"not tried: {failed.remedy}")
    return "; ".join(said)


def _to_list(trials: Trials, passing: Sequence[Trial]) -> str:
    """What of the stock that is told the shop file does not list."""
    shop = trials.bench.shop
    listed = {stick.name for stick in shop.sticks} | {strap.name for strap in shop.straps}
    names = [
        value
        for one in passing
        for key, value in one.change
        if key in ("stick", "strap") and value is not None and value not in listed
    ]
    return f"; the shop file does not list {' and '.join(map(str, names))} yet" if names else ""


def _way(one: Trial, failed: Check, units: UnitSystem) -> str:
    """A change as it is written in the file, and where the check stands with it."""
    keys = [f"{key} = {_value(value, units)}" for key, value in one.change if value is not None]
    out = [key for key, value in one.change if value is None]
    if out:
        keys.append(f"leave {' and '.join(out)} out")
    if one.density is not None:
        keys.append(f"a mix of {density_text(one.density)} at most")
    share = one.stands.get(failed.name)
    return " and ".join(keys) + ("" if share is None else f" ({100.0 * share:.0f} % of the limit)")


def _value(value: Value, units: UnitSystem) -> str:
    match value:
        case str():
            return f'"{value}"'
        case int():
            return str(value)
        case float():
            return f'"{show.length(value, units)}"'
        case _:
            return "[" + ", ".join(_value(each, units) for each in value) + "]"
