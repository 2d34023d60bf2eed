"""Where screws, bolts and pins go: a row for every kind of joint of a mold, and what is undone at every filling."""

from __future__ import annotations

from collections.abc import Iterable

from formwork.molds.mold import Fixing, Mold
from formwork.packet.blocks import Table, table

_UNDONE = ("bolt", "screw")
"""What can be undone, in the order in which it is named."""


def gathered(fixings: Iterable[Fixing]) -> tuple[Fixing, ...]:
    """Joints of one kind with one fastener together (those of all cores of a gang): counts and places added up."""
    sums: dict[tuple[str, str, str, bool], tuple[int, int]] = {}
    for one in fixings:
        key = one.use, one.item, one.size, one.comes_off
        count, places = sums.get(key, (0, 0))
        sums[key] = count + one.count, places + one.places
    return tuple(
        Fixing(use, item, size, *total, comes_off) for (use, item, size, comes_off), total in sums.items()
    )


def fastenings(mold: Mold) -> Table:
    """What joins the parts of one mold: what, which size, how many in all, how many at each place."""
    heads = ("joint", "fastened with", ">in all", "where", "undone")
    return table(heads, [_row(one) for one in gathered(mold.fixings)])


def _row(one: Fixing) -> tuple[str, ...]:
    return (
        one.use,
        f"{one.item} {one.size}".strip(),
        str(one.count),
        at_each_place(one.count, one.places),
        "at every filling" if one.comes_off else "",
    )


def at_each_place(count: int, places: int) -> str:
    """How many at each place; two numbers where they cannot be shared out evenly.

    Args:
        count: in all.
        places: equal places they are shared out over.

    >>> at_each_place(16, 4), at_each_place(10, 4), at_each_place(6, 1)
    ('4 at each of 4 places', '2 or 3 at each of 4 places', '6 at one place')
    """
    if places == 1:
        return f"{count} at one place"
    each = f"{count // places} or {count // places + 1}" if count % places else f"{count // places}"
    return f"{each} at each of {places} places"


def out_first(mold: Mold) -> str:
    """What is undone before the first part of a mold moves: ``bolts and screws``.

    Both where the mold is the shop's own, of whose fasteners nothing is known.
    """
    items = {one.item for one in mold.fixings if one.comes_off}
    named = [f"{item}s" for item in _UNDONE if item in items]
    return " and ".join(named or [f"{item}s" for item in _UNDONE])
