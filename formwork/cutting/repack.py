"""Pack a whole sheet job: fill sheet after sheet, then take a few sheets back and fill them again, better.

Every choice is drawn from one seeded source and the budget is counted in fits looked at, so the same job gives the
same plan on any machine. Better means: lower cost, then less sheet used up, then the waste gathered on few sheets.
"""

from __future__ import annotations

from collections.abc import Iterable
from random import Random
from typing import NamedTuple

from formwork.cutting.fill import Filled, Taste, fill, without
from formwork.cutting.job import Kinds, Sheet, fits

_OVERHEAD = 30
"""Work booked for starting a sheet, in fits."""

_THINNING = 0.5
"""Share of the repackings that thin sheets out instead of emptying them."""

_SAMPLE = 300
"""Most kinds tried on one sheet, so that the time grows with the number of sheets and not with its square."""


class Worth(NamedTuple):
    """What sheets are worth: least is best."""

    cost: float
    used: int
    spread: float


class Packer:
    """A source of chance and a count of work for one job.

    Attributes:
        kinds: the blanks.
        sheets: what they are cut from.
        stages: most turns of the saw.
        first: way of the first cut; None where it is free.
        trims: after the last turn a blank may still be trimmed to its size; not so to begin with.
        work: fits looked at so far.
    """

    def __init__(
        self, kinds: Kinds, sheets: tuple[Sheet, ...], stages: int, first: int | None, seed: int
    ) -> None:
        self.kinds = kinds
        self.sheets = sheets
        self.stages = stages
        self.work = 0
        self.first = first
        self.trims = False
        self._chance = Random(seed)
        self.areas = [a * b for a, b in zip(kinds.lengths, kinds.widths, strict=True)]
        self._most = max((sheet.length * sheet.width for sheet in sheets), default=0)
        self._takes = [[fits(kinds, kind, sheet) for kind in range(len(kinds.wanted))] for sheet in sheets]

    def worth(self, filled: Iterable[Filled]) -> Worth:
        """Cost, area of sheet used up, and how little the waste is gathered, of some filled sheets."""
        cost, used, spread = 0.0, 0, 0.0
        for one in filled:
            sheet = self.sheets[one.sheet]
            cost += sheet.cost
            used += sheet.length * sheet.width
            spread -= (one.area / self._most) ** 2
        return Worth(round(cost, 9), used, round(spread, 12))

    def pack(self, left: list[int], limits: list[int], tries: int, ceiling: float) -> list[Filled] | None:
        """Fill sheets until nothing is left.

        Args:
            left: how many of each kind; lowered to nought.
            limits: how many of each sheet can be had.
            tries: fillings made for each sheet, of which the best counts.
            ceiling: give up when it would cost more.

        Returns:
            The filled sheets, or None where they would cost more than the ceiling.
        """
        packed: list[Filled] = []
        have = list(limits)
        need = sum(count * area for count, area in zip(left, self.areas, strict=True))
        cost = 0.0
        while need > 0:
            if cost + self._least_cost(need, have) > ceiling + 1e-9:
                return None
            best = self._best_sheet(left, have, tries, need)
            for _ in range(self._repeats(best, left, have)):
                packed.append(best)
                have[best.sheet] -= 1
                need -= best.area
                cost += self.sheets[best.sheet].cost
                for step in best.steps:
                    left[step.kind] -= 1
        return packed

    def improve(self, packed: list[Filled], limits: list[int], target: float, budget: int) -> list[Filled]:
        """Take a few sheets back and fill them again, until the target is met or the budget is spent.

        Args:
            packed: a complete packing.
            limits: how many of each sheet can be had in all.
            target: stop at this cost.
            budget: work to spend, fits.
        """
        end = self.work + budget
        while packed and self.work < end and self.worth(packed).cost > target + 1e-9:
            packed = self._once_more(packed, limits)
        return packed

    def gather(self, packed: list[Filled], limits: list[int], budget: int) -> list[Filled]:
        """Go on at the same or a lower cost to bring the waste together on few sheets.

        Args:
            packed: a complete packing.
            limits: how many of each sheet can be had in all.
            budget: work to spend, fits.
        """
        end = self.work + budget
        best, best_worth = packed, (self.worth(packed), len(set(packed)))
        while len(packed) > 1 and self.work < end:
            again = self._once_more(packed, limits)
            if again is packed:
                continue
            packed = again
            worth = (self.worth(packed), len(set(packed)))
            if worth < best_worth:
                best, best_worth = packed, worth
        return best

    def refill(self, filled: Filled, first: int | None = None) -> Filled | None:
        """Fill one sheet anew with the same blanks; None where this try does not place them all.

        Args:
            filled: the sheet.
            first: way of the first cut; None: as for any sheet.
        """
        left = self.contents([filled])
        order = self._order(left, filled.sheet)
        empty = self._empty(filled.sheet)
        again = self._fill(order, left, empty if first is None else empty._replace(first=first))
        return again if not any(left) else None

    def contents(self, filled: Iterable[Filled]) -> list[int]:
        """How many blanks of each kind lie on these sheets."""
        counts = [0] * len(self.kinds.wanted)
        for one in filled:
            for step in one.steps:
                counts[step.kind] += 1
        return counts

    def _once_more(self, packed: list[Filled], limits: list[int]) -> list[Filled]:
        """Take some sheets back and fill them anew, or thin them out and fill them up; the same where that is worse."""
        taken = self._take_back(packed)
        old = [packed[index] for index in taken]
        kept = [one for index, one in enumerate(packed) if index not in taken]
        self.work += _OVERHEAD + len(packed)
        worth = self.worth(old)
        if len(old) > 1 and self._chance.random() < _THINNING:
            new = self._fill_up(old)
        else:
            have = list(limits)
            for one in kept:
                have[one.sheet] -= 1
            new = self.pack(self.contents(old), have, 1 + int(3 * self._chance.random()), worth.cost)
        return packed if new is None or self.worth(new) > worth else kept + new

    def _fill_up(self, old: list[Filled]) -> list[Filled] | None:
        """Thin sheets out and fill them up from the emptiest, which takes what is left; None where it cannot."""
        emptiest, *others = sorted(old, key=lambda one: one.area)
        starts = [self._thinned(one) for one in others] + [self._empty(emptiest.sheet)]
        left = self.contents(old)
        for kind, count in enumerate(self.contents(starts)):
            left[kind] -= count
        new: list[Filled] = []
        for start in starts:
            if not any(left):
                return new + [one for one in starts[len(new) :] if one.steps]
            new.append(self._fill(self._order(left, start.sheet), left, start))
        return None if any(left) else new

    def _thinned(self, filled: Filled) -> Filled:
        """A sheet with one to three of its blanks undone, and what stood beside them."""
        for _ in range(1 + int(3 * self._chance.random())):
            if filled.steps:
                filled = without(self.kinds, filled, int(len(filled.steps) * self._chance.random()))
        return filled

    def _take_back(self, packed: list[Filled]) -> set[int]:
        """Two to five sheets, the emptier ones more often."""
        number = min(len(packed), 2 + int(4 * self._chance.random()))
        by_area = sorted(range(len(packed)), key=lambda index: packed[index].area)
        taken: set[int] = set()
        while len(taken) < number:
            taken.add(by_area[int(len(packed) * self._chance.random() ** 1.5)])
        return taken

    def _least_cost(self, need: int, have: list[int]) -> float:
        """A cost that no packing of this area goes below."""
        rates = [
            s.cost / (s.length * s.width) for s, count in zip(self.sheets, have, strict=True) if count > 0
        ]
        cheapest = min(s.cost for s, count in zip(self.sheets, have, strict=True) if count > 0)
        return max(need * min(rates) * (1.0 - 1e-12), cheapest)

    def _best_sheet(self, left: list[int], have: list[int], tries: int, need: int) -> Filled:
        """The best of some fillings of each size of sheet that can be had."""
        wanted = self._candidates(left, have)
        best, best_score = None, (True, 0.0)
        for sheet in wanted:
            for _ in range(tries):
                filled = self._fill(self._order(left, sheet), list(left), self._empty(sheet))
                score = self._score(filled, need)
                if filled.steps and (best is None or score < best_score):
                    best, best_score = filled, score
        if best is None:
            raise AssertionError("a part that fits a sheet was not placed on an empty one")
        return best

    def _score(self, filled: Filled, need: int) -> tuple[bool, float]:
        """Least is best: a sheet that takes all that is left, then cost for the area placed."""
        sheet = self.sheets[filled.sheet]
        if filled.area == need:
            return (False, sheet.cost + 1e-15 * sheet.length * sheet.width / self._most)
        size = sheet.length * sheet.width / self._most
        return (True, (sheet.cost + 1e-6 * size) / max(filled.area, 1))

    def _candidates(self, left: list[int], have: list[int]) -> list[int]:
        """Sheets that can be had and take something; now and then only some of them, to vary the choice."""
        able = [
            index
            for index, takes in enumerate(self._takes)
            if have[index] > 0 and any(count and take for count, take in zip(left, takes, strict=True))
        ]
        owned = [index for index in able if not self.sheets[index].missing] or able
        if len(owned) > 1 and self._chance.random() < 0.5:
            return [index for index in owned if self._chance.random() < 0.5] or owned
        return owned

    def _repeats(self, filled: Filled, left: list[int], have: list[int]) -> int:
        """How often this filling can be cut from what is left: equal sheets are cut in one stack."""
        counts: dict[int, int] = {}
        for step in filled.steps:
            counts[step.kind] = counts.get(step.kind, 0) + 1
        return min(have[filled.sheet], *(left[kind] // count for kind, count in counts.items()))

    def _fill(self, order: list[int], left: list[int], start: Filled) -> Filled:
        draw = self._chance.random
        taste = Taste(int(3 * draw()), int(3 * draw()), 0.1 if draw() < 0.5 else 0.0, self.trims)
        sheet = self.sheets[start.sheet]
        size = (sheet.length, sheet.width)
        filled, work = fill(self.kinds, order, left, start, size, self.stages, taste, self._chance)
        self.work += work + _OVERHEAD
        return filled

    def _empty(self, sheet: int) -> Filled:
        """A sheet with nothing on it, first cut as asked for or as chance has it."""
        first = self.first if self.first is not None else int(2 * self._chance.random())
        return Filled(sheet, first, (), 0)

    def _order(self, left: list[int], sheet: int) -> list[int]:
        """The kinds in a wavering order of size: by area, longer side, width or length."""
        draw = self._chance.random
        takes = self._takes[sheet]
        kinds = [kind for kind, count in enumerate(left) if count and takes[kind]]
        if len(kinds) > _SAMPLE:
            kinds = [kind for kind in kinds if draw() * len(kinds) < _SAMPLE]
        lengths, widths = self.kinds.lengths, self.kinds.widths
        waver = 0.6 * draw()
        match int(4 * draw()):
            case 0:
                sizes = {kind: float(lengths[kind] * widths[kind]) for kind in kinds}
            case 1:
                sizes = {kind: max(lengths[kind], widths[kind]) ** 2.0 for kind in kinds}
            case 2:
                sizes = {kind: widths[kind] ** 2.0 for kind in kinds}
            case _:
                sizes = {kind: lengths[kind] ** 2.0 for kind in kinds}
        keys = {kind: -size * (1.0 + waver * (draw() - 0.5)) for kind, size in sizes.items()}
        return sorted(kinds, key=keys.__getitem__)
