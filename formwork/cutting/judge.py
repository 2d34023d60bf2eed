"""An independent judge of cutting plans. It knows the records and nothing of how plans are made.

A sheet plan is judged twice over: once as rectangles (inside the trimmed sheet, apart by a kerf, separable by
straight through cuts in the turns allowed), and once as a list of cuts, replayed one by one on the whole sheet,
which must end in exactly the parts and offcuts that the layout shows. A fault is a bug of ours, never the person's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import isfinite

from formwork.cutting.records import (
    Bound,
    Placed,
    SheetLayout,
    SheetPart,
    SheetPlan,
    StickLayout,
    StickPart,
    StickPlan,
)
from formwork.cutting.replay import TOLERANCE, box_of, fault, judge_apart, judge_cuts, judge_stages, trimmed
from formwork.stock.records import Saw, SheetStock, StickLength, StickStock


def judge_sheets(
    parts: Sequence[SheetPart], stock: Sequence[SheetStock], saw: Saw, stages: int, plan: SheetPlan
) -> None:
    """Check a sheet plan against everything it promises.

    Args:
        parts: the blanks asked for, m.
        stock: the sheets that could be used.
        saw: kerf and trim, m.
        stages: most turns of the saw.
        plan: the plan.

    Raises:
        InternalError: naming the sheet and the fault.
    """
    for number, layout in enumerate(plan.layouts, start=1):
        where = f"sheet layout {number}"
        _judge_placed(where, layout, parts, saw)
        judge_apart(where, layout, saw)
        judge_stages(where, layout, saw, stages)
        judge_cuts(where, layout, saw, stages)
    _judge_listed_once(plan)
    _judge_demand(parts, plan)
    _judge_stock(stock, plan)
    _judge_bound(plan.bound, _sheet_cost(stock, plan))


def _judge_placed(where: str, layout: SheetLayout, parts: Sequence[SheetPart], saw: Saw) -> None:
    """Every blank has its size, lies along the grain where it must, and inside the trimmed sheet."""
    if layout.count < 1:
        fault(where, f"is cut {layout.count} times")
    known: dict[str, list[SheetPart]] = {}
    for part in parts:
        known.setdefault(part.label, []).append(part)
    clear = trimmed(layout, saw)
    for placed in layout.placed:
        for one in _each(placed, parts):
            if not any(_is(one, part) for part in known.get(one.label, ())):
                fault(where, f"{one.label} has the wrong size, lies across the grain or was not asked for")
            if not box_of(placed).holds(box_of(one)):
                fault(where, f"{one.label} reaches out of the blank that it is cut from")
        if not clear.holds(box_of(placed)):
            fault(where, f"{placed.label} reaches into the trimmed edge or past the sheet")


def _each(placed: Placed, parts: Sequence[SheetPart]) -> Iterator[Placed]:
    """Every part that comes out of a blank as a rectangle of its own; a blank of several holds parts alone."""
    if not placed.nested:
        yield placed
    sizes = {part.label: (part.length, part.width) for part in parts}
    for spot in placed.nested:
        turned = spot.quarters % 2 == 1
        length, width = sizes.get(spot.label, (0.0, 0.0))
        size = (width, length) if turned else (length, width)
        yield Placed(spot.label, spot.x, spot.y, *size, turned)


def _is(placed: Placed, part: SheetPart) -> bool:
    if placed.turned and not part.may_turn:
        return False
    size = (placed.width, placed.length) if placed.turned else (placed.length, placed.width)
    return abs(size[0] - part.length) <= TOLERANCE and abs(size[1] - part.width) <= TOLERANCE


def _judge_listed_once(plan: SheetPlan) -> None:
    for index, layout in enumerate(plan.layouts):
        if any(replace(layout, count=other.count) == other for other in plan.layouts[:index]):
            fault("sheets", "equal layouts are listed twice")


def _judge_demand(parts: Sequence[SheetPart], plan: SheetPlan) -> None:
    """Exactly the parts asked for, label by label and size by size."""
    balance: dict[tuple[str, int, int], int] = {}
    for part in parts:
        key = _size_key(part.label, part.length, part.width)
        balance[key] = balance.get(key, 0) + part.quantity
    for layout in plan.layouts:
        for one in (one for placed in layout.placed for one in _each(placed, parts)):
            size = (one.width, one.length) if one.turned else (one.length, one.width)
            key = _size_key(one.label, *size)
            balance[key] = balance.get(key, 0) - layout.count
    _judge_balance("sheets", {key[0]: count for key, count in balance.items() if count})


def _size_key(label: str, length: float, width: float) -> tuple[str, int, int]:
    return label, round(length * 1e7), round(width * 1e7)


def _judge_balance(where: str, wrong: dict[str, int]) -> None:
    for label, count in wrong.items():
        fault(where, f"{abs(count)} x {label} {'missing' if count > 0 else 'too many'}")


def _judge_stock(stock: Sequence[SheetStock], plan: SheetPlan) -> None:
    """Only sheets that the shop has, and no more of each than it has."""
    for layout in plan.layouts:
        if layout.stock not in stock:
            fault("sheets", f"uses a sheet of {layout.stock.name} that is not in stock")
        used = sum(other.count for other in plan.layouts if other.stock == layout.stock)
        limits = [one.limit for one in stock if one == layout.stock]
        if None not in limits and used > sum(limit for limit in limits if limit is not None):
            fault("sheets", f"uses {used} of {layout.stock.name}, more than there are")


def _sheet_cost(stock: Sequence[SheetStock], plan: SheetPlan) -> float:
    """Money where every sheet but offcuts has a price, else sheets bought."""
    if any(one.price is None for one in stock if not one.offcut):
        return float(sum(layout.count for layout in plan.layouts if not layout.stock.offcut))
    return sum(layout.count * (layout.stock.price or 0.0) for layout in plan.layouts)


def _judge_bound(bound: Bound, cost: float) -> None:
    """The plan says what it costs, and what it claims of the best possible does not contradict itself."""
    slack = 1e-6 * max(1.0, cost)
    if not isfinite(bound.least) or abs(bound.used - cost) > slack:
        fault(bound.stock, f"costs {cost:g}, not {bound.used:g}")
    if bound.least > bound.used + slack:
        fault(bound.stock, f"no plan can cost less than {bound.least:g}, yet this one costs {bound.used:g}")
    if bound.proven != (bound.used - bound.least <= slack):
        fault(
            bound.stock, f"says proven is {bound.proven} with {bound.used:g} used and {bound.least:g} least"
        )


def judge_sticks(parts: Sequence[StickPart], stock: StickStock, saw: Saw, plan: StickPlan) -> None:
    """Check a stick plan against everything it promises.

    Args:
        parts: the lengths asked for, m.
        stock: the stick and its lengths.
        saw: kerf and end trim, m.
        plan: the plan.

    Raises:
        InternalError: naming the stick and the fault.
    """
    for number, layout in enumerate(plan.layouts, start=1):
        _judge_stick(f"stick layout {number}", layout, stock, saw)
    _judge_stick_demand(parts, plan)
    _judge_bound(plan.bound, _stick_cost(stock, plan))


def _judge_stick(where: str, layout: StickLayout, stock: StickStock, saw: Saw) -> None:
    """One stick: its cuts, their kerfs and both end trims fit, and what is left is stated."""
    if layout.count < 1 or layout.stock != stock or not layout.cuts:
        fault(where, "is not a stick of this kind with something cut from it")
    lengths = [length for _, length in layout.cuts]
    if min(lengths) <= 0.0:
        fault(where, "cuts a length of nothing")
    room = layout.length - 2.0 * saw.end_trim
    taken = sum(lengths) + saw.kerf * (len(lengths) - 1)
    if taken > room + TOLERANCE:
        fault(where, f"takes {taken:g} m from {room:g} m")
    if abs(layout.offcut - max(0.0, room - taken - saw.kerf)) > TOLERANCE:
        fault(where, f"leaves {max(0.0, room - taken - saw.kerf):g} m, not {layout.offcut:g} m")


def _judge_stick_demand(parts: Sequence[StickPart], plan: StickPlan) -> None:
    balance: dict[tuple[str, int], int] = {}
    for part in parts:
        key = (part.label, round(part.length * 1e7))
        balance[key] = balance.get(key, 0) + part.quantity
    for layout in plan.layouts:
        for label, length in layout.cuts:
            key = (label, round(length * 1e7))
            balance[key] = balance.get(key, 0) - layout.count
    _judge_balance("sticks", {key[0]: count for key, count in balance.items() if count})


def _stick_cost(stock: StickStock, plan: StickPlan) -> float:
    """Money where every length but offcuts has a price, else sticks bought; offcuts on hand are used first."""
    priced = all(one.price is not None for one in stock.lengths if not one.offcut)
    used: dict[tuple[float, float | None], int] = {}
    for layout in plan.layouts:
        used[layout.length, layout.price] = used.get((layout.length, layout.price), 0) + layout.count
    total = 0.0
    for (length, price), count in used.items():
        left = count
        alike = [one for one in stock.lengths if one.length == length and one.price == price]
        for one in sorted(alike, key=lambda one: not one.offcut):
            taken = min(left, _limit(one, left))
            left -= taken
            total += taken * ((one.price or 0.0) if priced else float(not one.offcut))
        if left:
            fault("sticks", f"uses {count} of length {length:g} m, {left} more than there are")
    return total


def _limit(one: StickLength, most: int) -> int:
    return most if one.limit is None else one.limit
