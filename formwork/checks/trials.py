"""Designs of one mold with one thing or several changed: each is made whole, judged by every check, and kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from importlib import import_module
from typing import Any, Protocol

from formwork.checks.all import mold_checks, parted
from formwork.checks.changes.ladder import Ladder, Value
from formwork.checks.changes.unlisted import with_unlisted
from formwork.errors import GeometryError, RangeError, StockError
from formwork.mix.records import Mix
from formwork.molds.asked import BuiltMold, Lining
from formwork.molds.design import brace, line
from formwork.molds.structure import BuiltCentre, BuiltFrame
from formwork.project.records import COUNT_OR_HEIGHTS, METHODS_WITH, MoldOptions, PieceOrder, Shop
from formwork.record import record
from formwork.units.show import UnitSystem

MOST_PARTS = 8_000
"""Parts of all designs that are tried for one mold, so that its remedies take seconds."""
OF_THE_SHAPE = ("cavity against piece", "comes off in order", "draft of core")
"""Checks that no bracing mends: what they name themselves stands."""
_MOST_DESIGNS = 40

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
        sketch = getattr(changes_of(self.bench.built), "sketch", None)
        if sketch is not None and lining.order.mold.method == self.bench.built.mold.method:
            self.left -= self.first.parts // 50
            found = _judged(change, density, sketch(self.bench.built, lining))
            needs_parts = getattr(changes_of(self.bench.built), "NEEDS_PARTS", ())
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


def changes_of(built: BuiltMold) -> Changes:
    """What may be changed of a mold, as its method says."""
    found: Changes = import_module(f"formwork.checks.changes.{built.mold.method}")
    return found
