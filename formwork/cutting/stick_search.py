"""Whole sticks: filled one after the other, rounded from the continuous solution, and searched to the end where short.

All three work on a cutting: patterns with how many sticks are cut so. Nothing here is random.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import floor

from formwork.cutting.columns import Relaxed, relax
from formwork.cutting.knapsack import best_load
from formwork.cutting.stick_job import Pattern, StickJob

_DIVES, _DIVE_SIZES = 40, 500
"""Most continuous problems solved on the way down, and most sizes in all of them: then the rest is filled in turn."""

_ROUNDED = 1e-5
"""A number of sticks less than this below a whole one is the whole one."""

_MANY_SIZES = 200
"""With more sizes than these, sticks are filled in one way only."""

Cutting = dict[Pattern, int]
"""Patterns, and how many sticks are cut so."""

_LEAN = (1.0, 1.05, 1.15, 1.3)
"""Powers of the length by which a length counts in filling a stick: above 1 the long ones go first."""


def cost(job: StickJob, cutting: Mapping[Pattern, int]) -> float:
    """Of all its sticks."""
    return round(sum(job.cost(pattern) * count for pattern, count in cutting.items()), 9)


def fill_in_turn(
    job: StickJob, left: Sequence[int], have: Sequence[int | None], lean: float = 1.0
) -> Cutting:
    """Fill stick after stick with the load that costs least for its length, and repeat each as often as it serves.

    Args:
        job: sizes and sticks.
        left: how many of each size are wanted.
        have: how many of each stick can be had (None: as many as wanted).
        lean: power of the length by which a size counts.
    """
    left, have = list(left), list(have)
    values = [float(size) ** lean for size in job.sizes]
    cutting: Cutting = {}
    while any(left):
        options = [
            _loaded(job, number, left, values)
            for number, stick in enumerate(job.sticks)
            if have[number] != 0
            and any(n and size <= stick.room for n, size in zip(left, job.sizes, strict=True))
        ]
        owned = [option for option in options if not job.sticks[option[1].stick].missing] or options
        _, pattern = min(owned)
        times = min(left[row] // count for row, count in enumerate(pattern.counts) if count)
        limit = have[pattern.stick]
        if limit is not None:
            times = min(times, limit)
            have[pattern.stick] = limit - times
        cutting[pattern] = cutting.get(pattern, 0) + times
        left = [n - times * count for n, count in zip(left, pattern.counts, strict=True)]
    return cutting


def _loaded(
    job: StickJob, number: int, left: list[int], values: list[float]
) -> tuple[tuple[bool, float, int], Pattern]:
    """The fullest load of one stick, ranked: one that takes all that is left first, then by cost for what it takes."""
    stick = job.sticks[number]
    load = best_load(job.sizes, values, left, stick.room, 2_000)
    if list(load.counts) == left:
        return (False, stick.cost, stick.room), Pattern(number, load.counts)
    taken = sum(size * count for size, count in zip(job.sizes, load.counts, strict=True))
    return (True, (stick.cost + 1e-6) / taken, stick.room), Pattern(number, load.counts)


def fill_best(job: StickJob, left: Sequence[int], have: Sequence[int | None]) -> Cutting:
    """The best of several fillings in turn: of all stock lengths, of each alone, and of bought ones alone.

    Args:
        job: sizes and sticks.
        left: how many of each size are wanted.
        have: how many of each stick can be had.
    """
    if len(job.sizes) > _MANY_SIZES:
        return fill_in_turn(job, left, have, _LEAN[1])
    choices = [list(have), *_alone(job, left, have)]
    tries = [fill_in_turn(job, left, choice, lean) for choice in choices for lean in _LEAN]
    return min(tries, key=lambda cutting: rank(job, cutting))


def _alone(job: StickJob, left: Sequence[int], have: Sequence[int | None]) -> list[list[int | None]]:
    """Each stock length by itself where it takes every size, and all that must be bought."""
    longest = max((size for size, count in zip(job.sizes, left, strict=True) if count), default=0)
    sticks = list(enumerate(job.sticks))
    sets = [
        {number}
        for number, stick in sticks
        if stick.limit is None and not stick.missing and stick.room >= longest
    ]
    sets.append({number for number, stick in sticks if stick.cost > 0.0 and not stick.missing})
    return [
        [limit if n in some or job.sticks[n].missing else 0 for n, limit in enumerate(have)]
        for some in sets
        if 0 < len(some) < sum(not stick.missing for stick in job.sticks)
        and max(job.sticks[n].room for n in some) >= longest
    ]


def rank(job: StickJob, cutting: Mapping[Pattern, int]) -> tuple[float, int, int]:
    """Least is best: cost, then length of stick used up, then the longest single rest taken negative."""
    used = sum(job.sticks[pattern.stick].room * count for pattern, count in cutting.items())
    rests = (
        job.sticks[pattern.stick].room
        - sum(size * count for size, count in zip(job.sizes, pattern.counts, strict=True))
        for pattern in cutting
    )
    return cost(job, cutting), used, -max(rests, default=0)


def limits(job: StickJob) -> list[int | None]:
    """How many of each stick can be had."""
    return [stick.limit for stick in job.sticks]


def round_down(job: StickJob, relaxed: Relaxed) -> Cutting:
    """Whole parts of the continuous solution, and the rest filled in turn."""
    left, have, fixed = list(job.wanted), limits(job), dict[Pattern, int]()
    for pattern, amount in relaxed.patterns:
        _fix(pattern, floor(amount + _ROUNDED), left, have, fixed)
    return merged(fixed, fill_best(job, left, have))


def dive(job: StickJob, relaxed: Relaxed) -> Cutting:
    """Fix whole parts, or else the pattern nearest above, solve what is left again, and so on to the end.

    Args:
        job: sizes, numbers and sticks.
        relaxed: its continuous solution.
    """
    left, have, fixed = list(job.wanted), limits(job), dict[Pattern, int]()
    for _ in range(min(_DIVES, _DIVE_SIZES // len(job.sizes))):
        before = sum(left)
        for pattern, amount in relaxed.patterns:
            _fix(pattern, floor(amount + _ROUNDED), left, have, fixed)
        if sum(left) == before and relaxed.patterns:
            pattern, _ = max(relaxed.patterns, key=lambda one: (one[1] % 1.0, one[0]))
            _fix(pattern, 1, left, have, fixed)
        if not any(left) or sum(left) == before:
            break
        relaxed = _widen(relax(_remaining(job, left, have)), left)
    return merged(fixed, fill_best(job, left, have))


def _remaining(job: StickJob, left: list[int], have: list[int | None]) -> StickJob:
    rows = [row for row, count in enumerate(left) if count]
    return replace(
        job,
        sizes=tuple(job.sizes[row] for row in rows),
        wanted=tuple(left[row] for row in rows),
        names=tuple(job.names[row] for row in rows),
        sticks=tuple(stick._replace(limit=limit) for stick, limit in zip(job.sticks, have, strict=True)),
    )


def _widen(relaxed: Relaxed, left: list[int]) -> Relaxed:
    """Patterns of what remained, over all sizes again."""
    rows = [row for row, count in enumerate(left) if count]
    patterns = []
    for pattern, amount in relaxed.patterns:
        counts = [0] * len(left)
        for row, count in zip(rows, pattern.counts, strict=True):
            counts[row] = count
        patterns.append((Pattern(pattern.stick, tuple(counts)), amount))
    return relaxed._replace(patterns=tuple(patterns))


def _fix(pattern: Pattern, times: int, left: list[int], have: list[int | None], fixed: Cutting) -> None:
    """Cut so many sticks by a pattern, each with no more than is still wanted."""
    for _ in range(times):
        counts = tuple(min(count, n) for count, n in zip(pattern.counts, left, strict=True))
        limit = have[pattern.stick]
        if not any(counts) or limit == 0:
            return
        if limit is not None:
            have[pattern.stick] = limit - 1
        one = Pattern(pattern.stick, counts)
        fixed[one] = fixed.get(one, 0) + 1
        left[:] = [n - count for n, count in zip(left, counts, strict=True)]


def merged(one: Cutting, other: Cutting) -> Cutting:
    """Both cuttings together."""
    return {pattern: one.get(pattern, 0) + other.get(pattern, 0) for pattern in (*one, *other)}
