"""What frees a locked group: each remedy is tried on the mold itself, and the first that works is named."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import degrees, radians

from formwork.geometry.cells import Cell
from formwork.geometry.planes import Planes
from formwork.geometry.scene import Group
from formwork.geometry.stripping import Locked, Order, order
from formwork.geometry.vectors import scale
from formwork.record import record

DRAFTS = (radians(1.0), radians(2.0), radians(3.0), radians(5.0))
"""How much more draft is tried, rad."""

Rebuilt = tuple[Planes, Sequence[Cell], Sequence[Group]]


@record
class Remedy:
    """What frees a locked group.

    Attributes:
        what: the remedy in a carpenter's words.
        order: the stripping order once it is done.
    """

    what: str
    order: Order


@record
class _Mold:
    """A mold to be stripped, with one thing about it changed."""

    planes: Planes
    piece: Sequence[Cell]
    groups: Sequence[Group]
    joins: Sequence[tuple[str, str]]

    def order(self) -> Order:
        return order(self.planes, self.piece, self.groups, self.joins)


def remedy(
    planes: Planes,
    piece: Sequence[Cell],
    groups: Sequence[Group],
    locked: Locked,
    joins: Sequence[tuple[str, str]] = (),
    splits: Mapping[str, Sequence[Group]] | None = None,
    more_draft: Callable[[float], Rebuilt | None] | None = None,
) -> Remedy | None:
    """The first remedy that frees a group, or None: draw it the other way, undo a join, split it, more draft.

    Args:
        planes: the register that all cells refer to.
        piece: the concrete, as given to ``order``.
        groups: the groups, as given to ``order``.
        locked: what is locked, as ``order`` returned it.
        joins: the joins, as given to ``order``.
        splits: for the name of a group, the groups it could be made of instead.
        more_draft: builds the mold anew with so much more draft (rad), or None where it cannot.
    """
    mold = _Mold(planes, piece, groups, joins)
    before = len(mold.order().locked)
    made = [part.name for name in locked.members for part in (splits or {}).get(name, ())]
    for what, changed in _changes(mold, locked.members, splits or {}, more_draft):
        after = changed.order()
        held = {name for lock in after.locked for name in lock.members}
        if len(after.locked) < before and not held.intersection((*locked.members, *made)):
            return Remedy(what, after)
    return None


def _changes(
    mold: _Mold,
    members: Sequence[str],
    splits: Mapping[str, Sequence[Group]],
    more_draft: Callable[[float], Rebuilt | None] | None,
) -> Iterator[tuple[str, _Mold]]:
    """Every remedy worth a try, the least work first: one change, then two together, then a new build."""
    yield from _other_ways(mold, members)
    for what, undone in _undone_joins(mold, members):
        yield what, undone
        yield from ((f"{what}, and {more}", both) for more, both in _other_ways(undone, members))
    yield from _splits(mold, members, splits)
    yield from _drafts(mold, more_draft)


def _other_ways(mold: _Mold, members: Sequence[str]) -> Iterator[tuple[str, _Mold]]:
    """The groups that may go certain ways only, going the opposite ways: each alone, then all of them."""
    fixed = [group.name for group in mold.groups if group.name in members and group.ways]
    for turned in [[name] for name in fixed] + ([fixed] if len(fixed) > 1 else []):
        groups = [_turned(group) if group.name in turned else group for group in mold.groups]
        ways = [way for group in groups if group.name in turned for way in group.ways]
        it = "it" if len(turned) == 1 else "them"
        how = f" (lift the piece off {it})" if all(way[2] < 0.0 for way in ways) else ""
        yield f"draw the {' and the '.join(turned)} the other way{how}", replace(mold, groups=groups)


def _turned(group: Group) -> Group:
    return replace(group, ways=tuple(scale(way, -1.0) for way in group.ways))


def _undone_joins(mold: _Mold, members: Sequence[str]) -> Iterator[tuple[str, _Mold]]:
    for join in mold.joins:
        if join[0] in members:
            left = [other for other in mold.joins if other != join]
            yield f"free the {join[0]} from the {join[1]}", replace(mold, joins=left)


def _splits(
    mold: _Mold, members: Sequence[str], splits: Mapping[str, Sequence[Group]]
) -> Iterator[tuple[str, _Mold]]:
    """A group made of several, none of them fastened to anything."""
    for name in members:
        if name in splits:
            parts = splits[name]
            groups = [part for group in mold.groups for part in (parts if group.name == name else (group,))]
            joins = [join for join in mold.joins if name not in join]
            made = ", ".join(part.name for part in parts)
            others = [other for join in mold.joins if name in join for other in join if other != name]
            loose = f", free of the {' and the '.join(others)}" if others else ""
            what = f"make the {name} of {len(parts)} parts ({made}){loose}"
            yield what, replace(mold, groups=groups, joins=joins)


def _drafts(mold: _Mold, more_draft: Callable[[float], Rebuilt | None] | None) -> Iterator[tuple[str, _Mold]]:
    for draft in DRAFTS if more_draft is not None else ():
        rebuilt = more_draft(draft) if more_draft is not None else None
        if rebuilt is not None:
            planes, piece, groups = rebuilt
            yield f"give it {degrees(draft):.0f} deg more draft", _Mold(planes, piece, groups, mold.joins)
