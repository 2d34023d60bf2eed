"""Take a few sheets back and fill them again, some hundred thousand times: the search of ``repack`` in plain loops.

Everything here and in ``free_room`` is loops over whole numbers, so that it can be compiled (``compiled`` does, where a
job is large enough to pay for it); as it stands it does the same, only slower. One thing is added to ``repack``: in
turns, each beginning hot and ending cold, sheets are also taken whose waste is somewhat less gathered, which leads out
of dead ends. What the plan costs never rises, so longer never means worse.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from formwork.cutting.free_room import (
    BLANKS,
    FILLED,
    FIRST,
    KIND,
    OVERHEAD,
    SHEET,
    WORK,
    draw,
    fill_sheet,
    order_kinds,
    share,
    spread_out,
    take_out,
)

if TYPE_CHECKING:
    from formwork.cutting.free_room import Fractions, Numbers

CYCLE = 4_000_000
"""Work of one turn from hot to cold."""

_HOT = 0.05
"""By how much gathered waste may be lost at the start of a turn, in squares of a sheet's share."""

_LIMIT = 2
"""Column of the sheets that can be had: how many there are, after length and width."""

_FAR = 1e300


class Room(NamedTuple):
    """All that the search works on, in arrays.

    Attributes:
        kinds: of blank.
        ranks: the kinds by area, longer side, width and length, largest first.
        stock: length, width and number of the sheets that can be had.
        costs: of one of each.
        sheets: those filled, one to a slot, and empty slots to fill more.
        steps: their recipes.
        free: the free rectangles of one sheet.
        left: how many blanks of each kind are still to be placed.
        order, keys: kinds in the order in which they are tried, and their sizes.
        have: sheets still to be had.
        ranked: slots by area, emptiest first.
        taken: slots taken back.
        state: chance and work.
        stages: most turns of the saw, a last trim of a blank to its size apart.
        first: way of the first cut; -1 where it is free.
        largest: area of the largest sheet.
    """

    kinds: Numbers
    ranks: Numbers
    stock: Numbers
    costs: Fractions
    sheets: Numbers
    steps: Numbers
    free: Numbers
    left: Numbers
    order: Numbers
    keys: Fractions
    have: Numbers
    ranked: Numbers
    taken: Numbers
    state: Numbers
    stages: int
    first: int
    largest: int


def improve(room: Room, number: int, target: float, budget: int, hot: bool) -> int:
    """Take a few sheets back and fill them again, until the target is met or the budget is spent.

    Args:
        room: with a complete packing in the first slots.
        number: of sheets in it.
        target: stop at this cost.
        budget: work to spend, fits.
        hot: in turns from hot to cold; else cold all the time.

    Returns:
        Number of sheets in the packing as it is then, again in the first slots.
    """
    start = room.state[WORK]
    cost = _look(room, number)
    while number and room.state[WORK] < start + budget and cost > target + 1e-9:
        room.state[WORK] += OVERHEAD + number
        warmth = _HOT * (1.0 - (room.state[WORK] - start) % CYCLE / CYCLE) if hot else 0.0
        old = _take_back(room, number)
        new = _refilled(room, number, old)
        if new and _better(room, number, old, new, warmth):
            number = _exchange(room, number, old, new)
            cost = _look(room, number)
        else:
            _count_sheets(room, number)
    return number


def _look(room: Room, number: int) -> float:
    """Rank the sheets, count those still to be had, and tell the cost."""
    cost = 0.0
    for slot in range(number):
        cost += room.costs[room.sheets[slot, SHEET]]
        at = slot
        while at > 0 and room.sheets[room.ranked[at - 1], FILLED] > room.sheets[slot, FILLED]:
            room.ranked[at] = room.ranked[at - 1]
            at -= 1
        room.ranked[at] = slot
    _count_sheets(room, number)
    return cost


def _count_sheets(room: Room, number: int) -> None:
    for sheet in range(len(room.costs)):
        room.have[sheet] = room.stock[sheet, _LIMIT]
    for slot in range(number):
        room.have[room.sheets[slot, SHEET]] -= 1


def _take_back(room: Room, number: int) -> int:
    """Two to five sheets, the emptier ones more often and the emptiest last; returns how many."""
    taken = room.taken
    old = min(number, 2 + draw(room.state, 4))
    got = 0
    while got < old:
        part = share(room.state)
        one = room.ranked[int(number * part * part**0.5)]
        for place in range(got):
            if taken[place] == one:
                one = -1
        if one >= 0:
            taken[got] = one
            got += 1
    for place in range(old - 1):
        one, last = taken[place], taken[old - 1]
        if room.sheets[one, FILLED] < room.sheets[last, FILLED]:
            taken[place], taken[old - 1] = last, one
    return old


def _refilled(room: Room, number: int, old: int) -> int:
    """Fill what was taken back into the slots after the last; returns how many sheets, 0 where that costs more."""
    room.left[:] = 0
    area, cost = 0, 0.0
    for place in range(old):
        slot = room.taken[place]
        _count(room.left, room.sheets[slot], room.steps[slot], 1)
        area += room.sheets[slot, FILLED]
        cost += room.costs[room.sheets[slot, SHEET]]
        room.have[room.sheets[slot, SHEET]] += 1
    if old > 1 and draw(room.state, 2) == 0:
        return _filled_up(room, number, old, area)
    return _packed(room, number, old, area, cost)


def _count(left: Numbers, sheet: Numbers, steps: Numbers, times: int) -> None:
    """Add the blanks of a sheet to those left, or take them off."""
    for step in range(sheet[BLANKS]):
        left[steps[step, KIND]] += times


def _filled_up(room: Room, number: int, old: int, area: int) -> int:
    """Thin sheets out and fill them up from the emptiest, which takes what is left."""
    for place in range(old - 1):
        slot = number + place
        _copy(room, room.taken[place], slot)
        for _ in range(1 + draw(room.state, 3)):
            if room.sheets[slot, BLANKS]:
                step = draw(room.state, room.sheets[slot, BLANKS])
                take_out(room.kinds, room.sheets[slot], room.steps[slot], room.order, step)
        _count(room.left, room.sheets[slot], room.steps[slot], -1)
        area -= room.sheets[slot, FILLED]
    for place in range(old - 1):
        slot = number + place
        area += room.sheets[slot, FILLED]
        _fill(room, slot)
        area -= room.sheets[slot, FILLED]
        if area == 0:
            return _without_empty(room, number, old - 1)
    slot = number + old - 1
    _open(room, slot, room.sheets[room.taken[old - 1], SHEET])
    _fill(room, slot)
    return old if area == room.sheets[slot, FILLED] else 0


def _without_empty(room: Room, number: int, made: int) -> int:
    """Leave out sheets with nothing on them; returns how many are left."""
    kept = number
    for slot in range(number, number + made):
        if room.sheets[slot, FILLED]:
            _copy(room, slot, kept)
            kept += 1
    return kept - number


def _packed(room: Room, number: int, old: int, area: int, ceiling: float) -> int:
    """Fill sheet after sheet until nothing is left; returns how many, 0 where that would cost more than the ceiling."""
    tries = 1 + draw(room.state, 3)
    made, cost = 0, 0.0
    while area > 0:
        slot = number + made
        dear = cost + _least(room, area) > ceiling + 1e-9
        if dear or made > old or slot + 2 > len(room.sheets) or not _best_sheet(room, slot, tries, area):
            return 0
        area -= room.sheets[slot, FILLED]
        cost += room.costs[room.sheets[slot, SHEET]]
        room.have[room.sheets[slot, SHEET]] -= 1
        made += 1
    return made


def _least(room: Room, area: int) -> float:
    """A cost that no packing of this area goes below."""
    rate = cheapest = _FAR
    for sheet in range(len(room.costs)):
        if room.have[sheet] > 0:
            rate = min(rate, room.costs[sheet] / (room.stock[sheet, 0] * room.stock[sheet, 1]))
            cheapest = min(cheapest, room.costs[sheet])
    return max(area * rate * (1.0 - 1e-12), cheapest)


def _best_sheet(room: Room, slot: int, tries: int, need: int) -> bool:
    """The best of some fillings of the sheets that can be had; now and then of only some of them."""
    few = len(room.costs) > 1 and draw(room.state, 2) == 0
    best, found = 0.0, False
    for sheet in range(len(room.costs)):
        if room.have[sheet] <= 0 or (few and draw(room.state, 2) == 0):
            continue
        for _ in range(tries):
            _open(room, slot + 1, sheet)
            _fill(room, slot + 1)
            _count(room.left, room.sheets[slot + 1], room.steps[slot + 1], 1)
            area = room.sheets[slot + 1, FILLED]
            rate = (room.costs[sheet] + 1e-6 * _size(room, sheet)) / max(area, 1)
            score = rate - _FAR if area == need else rate
            if area and (not found or score < best):
                best, found = score, True
                _copy(room, slot + 1, slot)
    if found:
        _count(room.left, room.sheets[slot], room.steps[slot], -1)
    return found


def _open(room: Room, slot: int, sheet: int) -> None:
    """Put an empty sheet into a slot."""
    one = room.sheets[slot]
    one[SHEET], one[FIRST] = sheet, room.first if room.first >= 0 else draw(room.state, 2)
    one[FILLED] = one[BLANKS] = 0


def _fill(room: Room, slot: int) -> None:
    """Fill what is free of the sheet in a slot with what is left."""
    sheet, steps = room.sheets[slot], room.steps[slot]
    many = order_kinds(room.kinds, room.ranks, room.left, room.order, room.keys, room.state)
    spots = spread_out(room.kinds, room.stock[sheet[SHEET]], sheet, steps, room.free, room.stages)
    counts = (many, spots, room.stages)
    fill_sheet(room.kinds, room.order, room.left, sheet, steps, room.free, room.state, counts)


def _copy(room: Room, source: int, target: int) -> None:
    """The sheet of one slot in another as well."""
    for column in range(4):
        room.sheets[target, column] = room.sheets[source, column]
    for step in range(room.sheets[source, BLANKS]):
        for column in range(3):
            room.steps[target, step, column] = room.steps[source, step, column]


def _better(room: Room, number: int, old: int, new: int, warmth: float) -> bool:
    """Lower cost, then less sheet used up, then waste gathered on few sheets, or nearly."""
    cost = used = gathered = 0.0
    for place in range(old + new):
        slot, sign = (room.taken[place], 1.0) if place < old else (number + place - old, -1.0)
        sheet = room.sheets[slot, SHEET]
        cost += sign * room.costs[sheet]
        used += sign * _size(room, sheet)
        gathered += sign * (room.sheets[slot, FILLED] / room.largest) ** 2
    if abs(cost) > 1e-9:
        return cost > 0.0
    if abs(used) > 1e-9:
        return used > 0.0
    part = share(room.state)
    return gathered <= 1e-12 + warmth * part * part


def _size(room: Room, sheet: int) -> float:
    """Of a sheet, in largest sheets."""
    return float(room.stock[sheet, 0] * room.stock[sheet, 1] / room.largest)


def _exchange(room: Room, number: int, old: int, new: int) -> int:
    """The new sheets in place of the old; returns how many sheets there are."""
    for place in range(min(old, new)):
        _copy(room, number + place, room.taken[place])
    for place in range(old, new):
        _copy(room, number + place, number + place - old)
    for place in range(new, old):
        last = number - 1 - (place - new)
        _copy(room, last, room.taken[place])
        for later in range(place + 1, old):
            if room.taken[later] == last:
                room.taken[later] = room.taken[place]
    return number + new - old
