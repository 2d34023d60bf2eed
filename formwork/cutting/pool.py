"""Choose among all sheets seen, and among sheets filled to suit them: which go together at a lower cost.

Sheets filled in passing are good by themselves and seldom go together. A linear program over all of them tells how
much of each the best mix takes and what each blank is worth in it; sheets filled with the blanks worth most join the
mix until none is worth more than it costs. Then the sheets that the mix takes whole, or nearly, are fixed, and what
is left is mixed again, to the end; given up as soon as the mix alone costs too much.

Source: P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations
Research 9 (1961) 849-859. Sheets are filled by chance and not to the best, so the mix gives no bound.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from formwork.cutting.fill import Filled
from formwork.cutting.program import Program, amounts
from formwork.cutting.repack import Packer

_POOL, _KEPT = 1_500, 800
"""Most sheets seen that the first mix is made of, and most that are kept once it is known."""

_ROUNDS, _ROUNDS_LATER = 8, 2
"""Rounds of filling by worth, for the first mix and for each one after."""

_FILLED, _FILLED_LATER = 150, 60
"""Sheets filled in each round."""

_FIRM = 0.2
"""A number of sheets less than this below a whole one is the whole one."""

_AT_ONCE = 15.0
"""Where the mix takes no sheet whole, one is fixed, and one more for so many sheets in it."""

_LAST = 5.0
"""With a mix of fewer sheets left than this, filling them one after the other is tried as well."""

_TRIES = 8
"""Fillings of each of those sheets, of which the best counts."""

_CLOSE = 30
"""Refillings of a sheet that has lost blanks to others, in search of one without gaps."""

_NEVER = 1 << 59
"""Sheets in a number larger than this are not limited."""

_SMALL = 1e-6
"""Of a sheet: what is nearer is equal."""

Key = tuple[int, tuple[int, ...]]
"""A sheet, and the kinds of the blanks on it."""


class Mix(NamedTuple):
    """A continuous solution: how much of each filling, what a blank of each kind and a sheet are worth."""

    shares: list[float]
    blanks: list[float]
    sheets: list[float]

    def over(self, key: Key) -> float:
        """By how much a filling costs more than its blanks are worth."""
        return self.sheets[key[0]] - sum(self.blanks[kind] for kind in key[1])


def choose_among_seen(
    packer: Packer, packed: list[Filled], limits: Sequence[int], step: float
) -> list[Filled]:
    """A packing of lower cost made of sheets seen and sheets filled by worth, or the packing as it is.

    Args:
        packer: the packer that has seen them.
        packed: a complete packing.
        limits: how many of each sheet can be had.
        step: least by which costs differ.
    """
    return _Choice(packer, packed, limits, packer.worth(packed).cost - step).made() or packed


class _Choice:
    """What is still to be cut and to be had, what is fixed, and the fillings to choose from."""

    def __init__(self, packer: Packer, packed: list[Filled], limits: Sequence[int], ceiling: float) -> None:
        self._packer, self._ceiling = packer, ceiling
        self._left, self._have = list(packer.kinds.wanted), list(limits)
        self._fixed: list[Filled] = []
        self._most = len(packed)
        sizes = [sheet.length * sheet.width for sheet in packer.sheets]
        ranked = sorted(packer.seen.items(), key=lambda item: -item[1].area / sizes[item[1].sheet])
        self._pool: dict[Key, Filled] = dict(ranked[:_POOL]) | {key_of(one): one for one in packed}

    def made(self) -> list[Filled] | None:
        """Mix, fix and mix again; None where that costs more than the ceiling."""
        for turn in range(self._most):
            mix = self._mixed(*((_ROUNDS_LATER, _FILLED_LATER) if turn else (_ROUNDS, _FILLED)))
            room = self._ceiling - self._packer.worth(self._fixed).cost
            if mix is None or (gap := room - self._cost(mix)) < -_SMALL:
                return None
            mix = mix if turn else self._near(mix, gap)
            self._fix(mix)
            rest = self._rest() if any(self._left) and sum(mix.shares) < _LAST else None
            if rest is not None or not any(self._left):
                return without_excess(self._packer, self._fixed + (rest or []))
        return None

    def _mixed(self, rounds: int, number: int) -> Mix | None:
        """The best mix for what is left, of sheets seen and sheets filled by worth."""
        mix = self._solved()
        for _ in range(rounds):
            if mix is None or not self._fill_by_worth(mix, number):
                break
            mix = self._solved()
        return mix

    def _solved(self) -> Mix | None:
        """A row for each kind of blank, then one for each sheet in limited number."""
        kinds, sheets = len(self._left), self._packer.sheets
        limited = [sheet for sheet, count in enumerate(self._have) if count < _NEVER]
        rows = {sheet: kinds + row for row, sheet in enumerate(limited)}
        holds = [_held(some) | ({rows[sheet]: 1} if sheet in rows else {}) for sheet, some in self._pool]
        costs = [sheets[sheet].cost for sheet, _ in self._pool]
        most = {row: self._have[sheet] for sheet, row in rows.items()}
        solved = amounts(Program(costs, holds, [*self._left, *(0 for _ in rows)], most))
        if solved is None:
            return None
        shares, prices = solved
        worth = [one.cost - (prices[rows[n]] if n in rows else 0.0) for n, one in enumerate(sheets)]
        return Mix(shares, prices[:kinds], worth)

    def _cost(self, mix: Mix) -> float:
        pairs = zip(mix.shares, self._pool, strict=True)
        return sum(share * self._packer.sheets[sheet].cost for share, (sheet, _) in pairs)

    def _fill_by_worth(self, mix: Mix, number: int) -> bool:
        """Fill sheets with what is worth most, from nothing or from a sheet of the mix thinned out again and again.

        Returns:
            Whether some are worth more than they cost.
        """
        used = [one for one, share in zip(self._pool.values(), mix.shares, strict=True) if share > _SMALL]
        before = len(self._pool)
        for turn in range(number):
            place = turn % len(used)
            one = used[place]
            start = self._packer.thinned(one) if turn % 4 else self._packer.empty(one.sheet)
            filled = self._packer.fill_by(mix.blanks, self._left, start)
            over = mix.over(key := key_of(filled))
            if over < -_SMALL:
                self._pool.setdefault(key, filled)
            if over <= mix.over(key_of(one)):
                used[place] = filled
        return len(self._pool) > before

    def _near(self, mix: Mix, gap: float) -> Mix:
        """Keep fillings that can be part of a cost below the ceiling, those of the mix and the nearest to it first."""
        shares = dict(zip(self._pool, mix.shares, strict=True))
        able = [key for key in self._pool if shares[key] > 0.0 or mix.over(key) <= gap + _SMALL]
        able.sort(key=lambda key: (-shares[key], mix.over(key)))
        self._pool = {key: self._pool[key] for key in able[:_KEPT]}
        return mix._replace(shares=[shares[key] for key in self._pool])

    def _fix(self, mix: Mix) -> None:
        """Fix what the mix takes whole, or nearly; where there is none, what it takes most of."""
        whole = [int(share + _FIRM) for share in mix.shares]
        if not any(whole):
            most = sorted(range(len(whole)), key=lambda place: -mix.shares[place])
            for place in most[: 1 + int(sum(mix.shares) / _AT_ONCE)]:
                whole[place] = 1
        for one, count in zip(self._pool.values(), whole, strict=True):
            for _ in range(min(count, self._have[one.sheet])):
                self._fixed.append(one)
                self._have[one.sheet] -= 1
                for kind in key_of(one)[1]:
                    self._left[kind] = max(0, self._left[kind] - 1)

    def _rest(self) -> list[Filled] | None:
        """What is left, filled sheet after sheet, if that stays below the ceiling."""
        room = self._ceiling - self._packer.worth(self._fixed).cost
        if not any(self._have):
            return None
        return self._packer.pack(list(self._left), list(self._have), _TRIES, room)


@lru_cache(maxsize=20_000)
def _held(some: tuple[int, ...]) -> dict[int, int]:
    """How many of each kind."""
    return dict(Counter(some))


def key_of(filled: Filled) -> Key:
    """The sheet and the kinds of the blanks on it."""
    return filled.sheet, tuple(sorted(step.kind for step in filled.steps if not step.void))


def without_excess(packer: Packer, packed: Sequence[Filled]) -> list[Filled]:
    """Leave out blanks that lie on more sheets than wanted, and close the gaps they leave where that goes.

    Args:
        packer: the packer.
        packed: sheets with every blank wanted, and some more.
    """
    over = [have - want for have, want in zip(packer.contents(packed), packer.kinds.wanted, strict=True)]
    kept: list[Filled] = []
    for one in packed:
        steps, area = list(one.steps), one.area
        for number, step in enumerate(steps):
            if over[step.kind] > 0 and not step.void:
                over[step.kind] -= 1
                area -= packer.areas[step.kind]
                steps[number] = step._replace(void=True)
        if area:
            thinner = one._replace(steps=tuple(steps), area=area)
            kept.append(one if area == one.area else _closed(packer, thinner))
    return kept


def _closed(packer: Packer, filled: Filled) -> Filled:
    """The same blanks without gaps, or as they are where no try places them all."""
    for _ in range(_CLOSE):
        again = packer.refill(filled)
        if again:
            return again
    return filled
