"""Fill one sheet, straight through cuts only, by putting one blank after another into the corner of a free rectangle.

Every free rectangle knows which way it may be cut next and how many turns of the saw it took to get there, so a
filling never asks for more stages than allowed, and its cuts are known without a search. Sizes are whole numbers
(see ``job``), blanks and sheet both grown by one kerf, so that a cut costs nothing more.

A filling is kept as a recipe: the blanks in order of placing, each with the free rectangle it went into. Placing a
blank uses up its rectangle and makes two new ones, numbered on: what is left of the rectangle beside the strip the
blank stands in, then what is left of the strip beyond the blank.
"""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from formwork.cutting.job import Kinds

ALONG, ACROSS = 0, 1
"""Ways to cut: along the sheet's length (parting y), across it (parting x)."""

TIGHT, SMALL, LEVEL = 0, 1, 2
"""What a fit prefers."""

_OPENS = 1 << 50
"""Added to the gap where a blank would open a new strip: more than any size."""

LARGE, ALIKE, STRAIGHT = 0, 1, 2
"""What a split prefers."""

Free = tuple[int, int, int, int, int]
"""A free rectangle: extent in x, extent in y, way it is cut next, stage of that cut, number."""


class Step(NamedTuple):
    """One blank placed: its kind, the free rectangle's number, turned, and cut the other way first."""

    kind: int
    spot: int
    turned: bool
    flipped: bool


class Filled(NamedTuple):
    """One sheet filled: which sheet of the job, way of the first cut, the steps, and the area of the grown blanks."""

    sheet: int
    first: int
    steps: tuple[Step, ...]
    area: int


class Taste(NamedTuple):
    """What one try prefers.

    Attributes:
        fit: TIGHT least gap on the tighter side, SMALL smallest free rectangle, LEVEL least height lost in a strip.
        split: LARGE keep one large rest, ALIKE keep the rests alike, STRAIGHT never turn the saw early.
        waver: share of choices of the cut left to chance.
        trims: after the last turn a blank may still be trimmed to its size.
    """

    fit: int
    split: int
    waver: float
    trims: bool


def rests(spot: Free, length: int, width: int, flipped: bool) -> tuple[tuple[int, int, int, int], ...]:
    """The two rectangles left when a blank goes into a corner: beside its strip, and beyond it in the strip.

    Args:
        spot: the free rectangle.
        length: x extent the blank takes.
        width: y extent it takes.
        flipped: the rectangle is first cut the other way than it would be next.

    Returns:
        Extents in x and y, way of the next cut and its stage, of both rests; either may be empty.
    """
    x, y, way, stage, _ = spot
    if flipped:
        way, stage = 1 - way, stage + 1
    if way == ALONG:
        return (x, y - width, ALONG, stage), (x - length, width, ACROSS, stage + 1)
    return (x - length, y, ACROSS, stage), (length, y - width, ALONG, stage + 1)


def spots_of(kinds: Kinds, filled: Filled, size: tuple[int, int], stages: int) -> list[Free]:
    """The free rectangles of a filled sheet.

    Args:
        kinds: sizes of the blanks.
        filled: the sheet.
        size: its grown length and width, steps.
        stages: most stages; rectangles that would be cut later than that are waste.
    """
    spots: dict[int, Free] = {0: (*size, filled.first, 1, 0)}
    for number, step in enumerate(filled.steps, start=1):
        a, b = kinds.lengths[step.kind], kinds.widths[step.kind]
        p, q = (b, a) if step.turned else (a, b)
        for name, rest in enumerate(rests(spots.pop(step.spot), p, q, step.flipped), start=2 * number - 1):
            spots[name] = (*rest, name)
    return [spot for spot in spots.values() if spot[0] > 0 and spot[1] > 0 and spot[3] <= stages]


def without(kinds: Kinds, filled: Filled, number: int) -> Filled:
    """A sheet without one of its blanks and all that were placed in what was left beside it.

    Args:
        kinds: sizes of the blanks.
        filled: the sheet.
        number: which of its steps is undone, from 0.
    """
    gone: set[int] = {filled.steps[number].spot}
    names, kept, area = {0: 0}, list[Step](), 0
    for old, step in enumerate(filled.steps, start=1):
        if step.spot in gone and old > number:
            gone |= {2 * old - 1, 2 * old}
            continue
        kept.append(step._replace(spot=names[step.spot]))
        area += kinds.lengths[step.kind] * kinds.widths[step.kind]
        names |= {2 * old - 1: 2 * len(kept) - 1, 2 * old: 2 * len(kept)}
    return filled._replace(steps=tuple(kept), area=area)


def fill(
    kinds: Kinds,
    order: list[int],
    left: list[int],
    start: Filled,
    size: tuple[int, int],
    stages: int,
    taste: Taste,
    chance: Random,
) -> tuple[Filled, int]:
    """Fill one sheet, or what is free of it, with what is left, kinds in the order given.

    Args:
        kinds: sizes of the blanks.
        order: kinds in the order in which they are tried.
        left: how many of each kind are still to be cut; lowered by what is placed.
        start: the sheet as it is, empty or not.
        size: its grown length and width, steps.
        stages: most stages.
        taste: what this try prefers.
        chance: source of chance.

    Returns:
        The filled sheet, and the work done: fits looked at.
    """
    lengths, widths, turns, _ = kinds
    spots = spots_of(kinds, start, size, stages)
    steps = list(start.steps)
    work, area = len(steps), start.area
    exact = 0 if taste.trims else stages
    for kind in order:
        a, b = lengths[kind], widths[kind]
        while left[kind] and spots:
            work += len(spots)
            index, turned = _best(spots, a, b, turns[kind], exact, taste.fit)
            if index < 0:
                break
            spot = spots.pop(index)
            p, q = (b, a) if turned else (a, b)
            flipped = _flip(spot, p, q, stages, taste, chance)
            steps.append(Step(kind, spot[4], turned, flipped))
            made = 2 * len(steps) - 1
            for one, (x, y, way, stage) in enumerate(rests(spot, p, q, flipped)):
                if x > 0 and y > 0 and stage <= stages:
                    spots.append((x, y, way, stage, made + one))
            left[kind] -= 1
            area += a * b
    return start._replace(steps=tuple(steps), area=area), work


def _best(spots: list[Free], a: int, b: int, turns: bool, exact: int, fit: int) -> tuple[int, bool]:
    """The free rectangle a blank suits best, and whether turned; -1 where it fits none.

    One that is cut at the stage ``exact`` it must fill to the end.
    """
    best, turned, least = -1, False, 1 << 62
    for quarter, (p, q) in enumerate(((a, b), (b, a)) if turns else ((a, b),)):
        for index, (x, y, way, stage, _) in enumerate(spots):
            if p > x or q > y:
                continue
            if stage == exact and (x != p if way == ALONG else y != q):
                continue
            if fit == TIGHT:
                gap = x - p if x - p < y - q else y - q
            elif fit == SMALL:
                gap = x * y
            else:
                gap = (y - q if way == ACROSS else x - p) + (_OPENS if stage == 1 else 0)
            if gap < least:
                best, turned, least = index, quarter == 1, gap
    return best, turned


def _flip(spot: Free, p: int, q: int, stages: int, taste: Taste, chance: Random) -> bool:
    """Whether to cut the rectangle the other way first, where the stages allow it."""
    x, y, way, stage, number = spot
    beside, beyond = (y - q, x - p) if way == ALONG else (x - p, y - q)
    if number == 0 or not beside or not beyond or stage + 2 - taste.trims > stages:
        return False
    if taste.waver and chance.random() < taste.waver:
        return chance.random() < 0.5
    if taste.split == STRAIGHT:
        return False
    along, across = max(x * (y - q), (x - p) * q), max((x - p) * y, p * (y - q))
    keep, turn = (along, across) if way == ALONG else (across, along)
    return turn > keep if taste.split == LARGE else turn < keep
