"""What no cutting plan can go below, from areas and from dual feasible functions, kerf included.

A dual feasible function changes sizes so that whatever fitted side by side before still fits after: the changed
sizes then bound the number of sheets as areas do, and often better, because waste that no plan can use counts.

Source: S. P. Fekete and J. Schepers, New classes of fast lower bounds for bin packing problems, Mathematical
Programming 91 (2001) 11-31: functions u(k), U(epsilon), phi(epsilon) and their products for two dimensions.
All arithmetic is in whole numbers, so a bound is never too high by rounding.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from formwork.cutting.bars import bar_counts
from formwork.cutting.job import Kinds, Sheet, fits

_MOST_FUNCTIONS = 12
"""Most thresholds taken from the sizes of a job, for each family of functions."""

_MOST_NODES = 20_000
"""Most branches looked at in choosing sheets; beyond that the continuous bound stands."""


class Least(NamedTuple):
    """A lower bound on cost, and what gave it in plain words."""

    cost: float
    method: str


Scaled = tuple[tuple[int, ...], int]
"""Changed sizes, and what the whole changes to."""


def least_cost(kinds: Kinds, sheets: Sequence[Sheet], enough: float, straight: bool = True) -> Least:
    """A cost that no plan goes below.

    Args:
        kinds: the blanks, grown by a kerf.
        sheets: what can be had, grown by a kerf.
        enough: a cost that some plan reaches: the search for a better bound stops there.
        straight: the blanks are parted by straight through cuts alone.
    """
    useful = [sheet for sheet in sheets if any(fits(kinds, kind, sheet) for kind in range(len(kinds.wanted)))]
    if not useful:
        return Least(0.0, "nothing to cut")
    area = sum(a * b * n for a, b, n in zip(kinds.lengths, kinds.widths, kinds.wanted, strict=True))
    best = Least(cheapest(useful, area, 1), "area of the parts with their kerfs")
    if best.cost >= enough - 1e-9:
        return best
    length, width = max(sheet.length for sheet in useful), max(sheet.width for sheet in useful)
    for counts, method in (
        (sheet_counts(kinds, length, width), "parts that cannot share a sheet (dual feasible functions)"),
        (rows(kinds, length, width), "rows across the sheet, filled as sticks are, in fractions"),
        (_alone(kinds, length, width) if straight else iter(()), "the most that a sheet gives of one kind"),
    ):
        count = 1
        for number in counts:
            if number > count:
                count = number
                best = max(best, Least(cheapest(useful, area, count), method), key=lambda least: least.cost)
            if best.cost >= enough - 1e-9:
                return best
    return best


def _alone(kinds: Kinds, length: int, width: int) -> Iterator[int]:
    """From each kind alone; loaded when it comes to that."""
    from formwork.cutting.one_sheet import counts_alone  # noqa: PLC0415 - most plans reach a bound before

    yield from counts_alone(kinds, length, width)


def rows(kinds: Kinds, length: int, width: int) -> Iterator[int]:
    """Numbers of sheets that no plan goes below, from the lines along a sheet and from those across it.

    Args:
        kinds: the blanks.
        length: of the sheet, steps.
        width: of the sheet, steps.
    """
    lesser = [
        min(one, other) if turns else None
        for one, other, turns in zip(kinds.lengths, kinds.widths, kinds.turns, strict=True)
    ]
    turned = kinds._replace(lengths=kinds.widths, widths=kinds.lengths)
    for some, along, across in ((kinds, length, width), (turned, width, length)):
        sizes = [min(one or size, across) for one, size in zip(lesser, some.widths, strict=True)]
        yield from bar_counts(some, along, scaled(sizes, across))


def sheet_counts(kinds: Kinds, length: int, width: int) -> Iterator[int]:
    """Numbers of sheets of one size that no plan goes below, one for each pair of functions.

    A blank that may turn counts with the lesser of its two ways, which holds however it lies.

    Args:
        kinds: the blanks.
        length: of the sheet, steps.
        width: of the sheet, steps.
    """
    along = _both(kinds.lengths, kinds.widths, length)
    across = _both(kinds.widths, kinds.lengths, width)
    many = range(len(kinds.wanted))
    for (x, turned_x), whole_x in along:
        for (y, turned_y), whole_y in across:
            total = 0
            for kind in many:
                value = x[kind] * y[kind]
                if kinds.turns[kind]:
                    value = min(value, turned_x[kind] * turned_y[kind])
                total += value * kinds.wanted[kind]
            yield -(-total // (whole_x * whole_y))


def _both(
    sizes: Sequence[int], turned: Sequence[int], whole: int
) -> list[tuple[tuple[Sequence[int], Sequence[int]], int]]:
    """Every function applied to the sizes as they lie and turned; sizes beyond the whole count as the whole."""
    inside = [min(size, whole) for size in (*sizes, *turned)]
    changed = scaled(inside, whole)
    return [((values[: len(sizes)], values[len(sizes) :]), full) for values, full in changed]


def scaled(sizes: Sequence[int], whole: int) -> list[Scaled]:
    """Sizes changed by each dual feasible function, without those that change them alike.

    Args:
        sizes: none above the whole.
        whole: length, width or capacity they share.
    """
    low = sorted(
        {size for size in sizes if 2 * size <= whole} | {whole - size + 1 for size in sizes if size < whole}
    )
    thresholds = _spread([value for value in low if 0 < 2 * value <= whole])
    functions: list[Callable[[int, int], int]] = [partial(_stepped, k) for k in range(1, 1 + _MOST_FUNCTIONS)]
    for value in thresholds:
        functions += [partial(_raised, value), partial(_counted, value)]
        functions += [partial(_raised_stepped, k, value) for k in (1, 2)]
    changed: dict[Scaled, None] = {(tuple(sizes), whole): None}
    for function in functions:
        changed[tuple(function(size, whole) for size in sizes), function(whole, whole)] = None
    return list(changed)


def _spread(values: list[int]) -> list[int]:
    """At most so many values as are tried, evenly from all."""
    if len(values) <= _MOST_FUNCTIONS:
        return values
    return [values[index * (len(values) - 1) // (_MOST_FUNCTIONS - 1)] for index in range(_MOST_FUNCTIONS)]


def _stepped(k: int, size: int, whole: int) -> int:
    """u(k), times k and the whole: (k + 1) x / whole rounded down, unless that is a whole number already."""
    times, rest = divmod((k + 1) * size, whole)
    return k * size if rest == 0 else times * whole


def _raised(threshold: int, size: int, whole: int) -> int:
    """U(epsilon): sizes so large that nothing above the threshold fits beside count as the whole, small ones not."""
    if size > whole - threshold:
        return whole
    return size if size >= threshold else 0


def _raised_stepped(k: int, threshold: int, size: int, whole: int) -> int:
    """One after the other: what is made of feasible functions is feasible."""
    return _stepped(k, _raised(threshold, size, whole), whole)


def _counted(threshold: int, size: int, whole: int) -> int:
    """phi(epsilon), times twice the number of thresholds in the whole: sizes counted in thresholds."""
    number = whole // threshold
    if 2 * size > whole:
        return 2 * (number - (whole - size) // threshold)
    return number if 2 * size == whole else 2 * (size // threshold)


def cheapest(sheets: Sequence[Sheet], area: int, count: int) -> float:
    """The least cost of sheets that have this area between them and are no fewer than the count.

    Args:
        sheets: what can be had.
        area: steps squared.
        count: least number of sheets.
    """
    ranked = sorted(sheets, key=lambda sheet: (sheet.cost / (sheet.length * sheet.width), sheet.cost))
    search = _Cover(ranked)
    found = search.least(0, area, count, float("inf"))
    if search.nodes <= _MOST_NODES:
        return found
    return max(search.floor(0, area, 0), search.floor(0, 0, count))


class _Cover:
    """Choice of sheets by branch and bound: how many of the first kind, then of the next."""

    def __init__(self, ranked: Sequence[Sheet]) -> None:
        self._areas = [sheet.length * sheet.width for sheet in ranked]
        self._costs = [sheet.cost for sheet in ranked]
        self._limits = [sheet.limit for sheet in ranked]
        self.nodes = 0

    def least(self, kind: int, area: int, count: int, below: float) -> float:
        """The least cost from this kind on, or ``below`` where it is no less."""
        self.nodes += 1
        if area <= 0 and count <= 0:
            return min(0.0, below)
        if kind == len(self._areas) or self.nodes > _MOST_NODES or self.floor(kind, area, count) >= below:
            return below
        most = min(self._limits[kind], max(-(-area // self._areas[kind]), count))
        for number in range(most, -1, -1):
            cost = number * self._costs[kind]
            if cost >= below:
                continue
            rest = self.least(kind + 1, area - number * self._areas[kind], count - number, below - cost)
            below = min(below, cost + rest)
        return below

    def floor(self, kind: int, area: int, count: int) -> float:
        """What the rest costs at least: area at the best rate, and number at the lowest price."""
        by_area, by_count = 0.0, 0.0
        kinds = range(kind, len(self._areas))
        for one in kinds:
            if area <= 0:
                break
            taken = min(area, self._areas[one] * self._limits[one])
            by_area += self._costs[one] * taken / self._areas[one]
            area -= taken
        for one in sorted(kinds, key=lambda one: self._costs[one]):
            if count <= 0:
                break
            number = min(count, self._limits[one])
            by_count += self._costs[one] * number
            count -= number
        return max(by_area, by_count) if area <= 0 and count <= 0 else float("inf")
