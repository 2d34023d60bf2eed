"""Fill one sheet in plain loops over whole numbers: what ``fill`` does, in a form that can be compiled.

Blanks, free rectangles and recipes are those of ``fill``, a row of an array each; the columns are named below. A
function takes only the arrays it works on: passing more costs compiled code more than the work itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

    Numbers = np.ndarray[tuple[int, ...], np.dtype[np.int64]]
    Fractions = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

ALONG = 0
"""Way to cut, as in ``fill``; the other is 1."""

LENGTH, WIDTH, AREA, TURNS = 0, 1, 2, 3
"""Columns of the kinds of blank."""

X, Y, WAY, STAGE, NAME = 0, 1, 2, 3, 4
"""Columns of the free rectangles."""

SHEET, FIRST, FILLED, BLANKS = 0, 1, 2, 3
"""Columns of the sheets: which it is, way of its first cut, area of the blanks on it, number of steps."""

KIND, SPOT, LAID = 0, 1, 2
"""Columns of the steps; how a blank is laid is 1 for turned, and 2 for flipped."""

CHANCE, WORK = 0, 1
"""Places in the state: source of chance, and fits looked at."""

OVERHEAD = 30
"""Work booked for starting a sheet, in fits."""

_PRIME, _TIMES = 2147483647, 48271
"""Source of chance: each number is the one before times the second, modulo the first (Park and Miller)."""

_NONE = 1 << 62


def draw(state: Numbers, below: int) -> int:
    """A whole number from 0 up to below this one."""
    state[CHANCE] = state[CHANCE] * _TIMES % _PRIME
    return int(state[CHANCE] % below)


def share(state: Numbers) -> float:
    """A number from 0 up to below 1."""
    return draw(state, _PRIME) / _PRIME


def order_kinds(
    kinds: Numbers, ranks: Numbers, left: Numbers, order: Numbers, keys: Fractions, state: Numbers
) -> int:
    """The kinds left in a wavering order of size; returns how many.

    Args:
        kinds: of blank.
        ranks: the kinds by area, longer side, width and length, largest first.
        left: how many of each are still to be placed.
        order: takes the kinds.
        keys: takes their sizes as they waver.
        state: chance and work.
    """
    waver, by = 0.6 * share(state), draw(state, 4)
    many = 0
    for place in range(len(left)):
        kind = ranks[by, place]
        if left[kind] > 0:
            key = _size(kinds, kind, by) * (1.0 + waver * (share(state) - 0.5))
            at = many
            while at > 0 and keys[at - 1] < key:
                keys[at] = keys[at - 1]
                order[at] = order[at - 1]
                at -= 1
            keys[at] = key
            order[at] = kind
            many += 1
    return many


def _size(kinds: Numbers, kind: int, by: int) -> float:
    """What a ranking goes by: the area, or the square of a side."""
    if by == 0:
        return float(kinds[kind, AREA])
    if by == 1:
        side = float(max(kinds[kind, LENGTH], kinds[kind, WIDTH]))
    else:
        side = float(kinds[kind, WIDTH] if by == 2 else kinds[kind, LENGTH])
    return side * side


def fill_sheet(
    kinds: Numbers,
    order: Numbers,
    left: Numbers,
    sheet: Numbers,
    steps: Numbers,
    free: Numbers,
    state: Numbers,
    counts: tuple[int, int, int],
) -> None:
    """Fill what is free of a sheet with what is left, kinds in their order.

    Args:
        kinds: of blank.
        order: kinds in the order in which they are tried.
        left: how many of each are still to be placed; lowered by what is placed.
        sheet: its row of the sheets.
        steps: its recipe.
        free: the free rectangles.
        state: chance and work.
        counts: how many kinds there are in the order, how many free rectangles, and the most turns of the saw.
    """
    many, spots, stages = counts
    fit, split, wavers = draw(state, 3), draw(state, 3), draw(state, 2)
    work = OVERHEAD
    for turn in range(many):
        kind = order[turn]
        while left[kind] > 0 and spots > 0:
            work += spots
            found = _best(kinds, free, spots, kind, fit)
            if found < 0:
                break
            place, laid = found >> 1, found & 1
            laid += _flip(kinds, free, place, kind, laid, stages, split, wavers, state)
            step = sheet[BLANKS]
            steps[step, KIND], steps[step, SPOT], steps[step, LAID] = kind, free[place, NAME], laid
            sheet[BLANKS] += 1
            sheet[FILLED] += kinds[kind, AREA]
            left[kind] -= 1
            spots = put(kinds, free, spots, place, kind, laid, 2 * step + 1, stages)
    state[WORK] += work


def _best(kinds: Numbers, free: Numbers, spots: int, kind: int, fit: int) -> int:
    """The free rectangle a blank suits best, doubled, and 1 more where turned; -1 where it fits none."""
    a, b = kinds[kind, LENGTH], kinds[kind, WIDTH]
    best, least = -1, _NONE
    for quarter in range(1 + kinds[kind, TURNS]):
        p, q = (b, a) if quarter else (a, b)
        for place in range(spots):
            x, y = free[place, X], free[place, Y]
            if p > x or q > y:
                continue
            if fit == 0:
                gap = min(x - p, y - q)
            elif fit == 1:
                gap = x * y
            else:
                gap = x - p if free[place, WAY] == ALONG else y - q
                gap += 1 << 50 if free[place, STAGE] == 1 else 0
            if gap < least:
                best, least = 2 * place + quarter, gap
    return best


def _flip(
    kinds: Numbers,
    free: Numbers,
    place: int,
    kind: int,
    turned: int,
    stages: int,
    split: int,
    wavers: int,
    state: Numbers,
) -> int:
    """2 where the rectangle is first cut the other way, else 0."""
    x, y = free[place, X], free[place, Y]
    p, q = kinds[kind, LENGTH], kinds[kind, WIDTH]
    if turned:
        p, q = q, p
    if free[place, NAME] == 0 or x == p or y == q or free[place, STAGE] == stages:
        return 0
    if wavers and draw(state, 10) == 0:
        return 2 * draw(state, 2)
    if split == 2:
        return 0
    along, across = max(x * (y - q), (x - p) * q), max((x - p) * y, p * (y - q))
    more = across - along if free[place, WAY] == ALONG else along - across
    return 2 if (more > 0 if split == 0 else more < 0) else 0


def spread_out(
    kinds: Numbers, size: Numbers, sheet: Numbers, steps: Numbers, free: Numbers, stages: int
) -> int:
    """The free rectangles of a sheet as it is; returns how many.

    Args:
        kinds: of blank.
        size: length and width of the sheet.
        sheet: its row of the sheets.
        steps: its recipe.
        free: takes the rectangles.
        stages: most turns of the saw.
    """
    free[0, X], free[0, Y] = size[LENGTH], size[WIDTH]
    free[0, WAY], free[0, STAGE], free[0, NAME] = sheet[FIRST], 1, 0
    spots = 1
    for step in range(sheet[BLANKS]):
        place = 0
        while free[place, NAME] != steps[step, SPOT]:
            place += 1
        spots = put(kinds, free, spots, place, steps[step, KIND], steps[step, LAID], 2 * step + 1, stages)
    return spots


def put(
    kinds: Numbers, free: Numbers, spots: int, place: int, kind: int, laid: int, name: int, stages: int
) -> int:
    """Put a blank into the corner of a free rectangle; returns how many are free.

    Args:
        kinds: of blank.
        free: the free rectangles; the rests of this one come last.
        spots: how many there are.
        place: of the one that is taken.
        kind: of the blank.
        laid: how it is laid.
        name: of the first rest; the second is named one higher.
        stages: most turns of the saw.
    """
    x, y, way, stage = free[place, X], free[place, Y], free[place, WAY], free[place, STAGE]
    length, width = kinds[kind, LENGTH], kinds[kind, WIDTH]
    if laid & 1:
        length, width = width, length
    spots -= 1
    for column in range(5):
        free[place, column] = free[spots, column]
    if laid & 2:
        way, stage = 1 - way, stage + 1
    if way == ALONG:
        spots = _free(free, spots, x, y - width, way, stage, name, stages)
        return _free(free, spots, x - length, width, 1 - way, stage + 1, name + 1, stages)
    spots = _free(free, spots, x - length, y, way, stage, name, stages)
    return _free(free, spots, length, y - width, 1 - way, stage + 1, name + 1, stages)


def _free(free: Numbers, spots: int, x: int, y: int, way: int, stage: int, name: int, stages: int) -> int:
    """Add a free rectangle, if there is any and it may still be cut; returns how many there are."""
    if x <= 0 or y <= 0 or stage > stages:
        return spots
    free[spots, X], free[spots, Y], free[spots, WAY], free[spots, STAGE] = x, y, way, stage
    free[spots, NAME] = name
    return spots + 1


def take_out(kinds: Numbers, sheet: Numbers, steps: Numbers, names: Numbers, number: int) -> None:
    """Undo a step and those that need its rests; the names of rests are told anew.

    Args:
        kinds: of blank.
        sheet: its row of the sheets.
        steps: its recipe.
        names: room for two names a step and one more.
        number: of the step.
    """
    many = sheet[BLANKS]
    for name in range(2 * many + 1):
        names[name] = -1
    names[0] = 0
    kept, area = 0, 0
    for step in range(many):
        kind, laid, spot = steps[step, KIND], steps[step, LAID], names[steps[step, SPOT]]
        if step != number and spot >= 0:
            steps[kept, KIND], steps[kept, SPOT], steps[kept, LAID] = kind, spot, laid
            area += kinds[kind, AREA]
            names[2 * step + 1], names[2 * step + 2] = 2 * kept + 1, 2 * kept + 2
            kept += 1
    sheet[BLANKS], sheet[FILLED] = kept, area
