"""One pour: its molds filled in one go, or in lifts of which each has set before the next goes on; its batches.

Lifts of different kinds of piece go together: the first of each, then the second of those that have one. Every lift is
mixed by itself, since nothing keeps until the next.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from formwork.mix.batches import batches, leftover, order_volume
from formwork.mix.foam_check import solution
from formwork.mix.leftovers import put_away
from formwork.mix.pour_records import LeftoverMold, PieceLift, PieceToPour, Pour, PourLift, Times, Timing
from formwork.mix.records import AskedSplit, Foam, Mix, Mixer
from formwork.mix.timing import timing
from formwork.mix.ways import settled, ways
from formwork.record import record

Filling = tuple[tuple[str, int], ...]
"""Pieces of each kind cast in one pour."""
_ONE_GO = (PieceLift(0.0, 1.0),)


@record
class Means:
    """What pours are made with.

    Attributes:
        mix: one cubic metre of it.
        mixer: at hand.
        foam: at hand.
        split: how batches are cut to size.
        overfill: mix above the molds' volume, as a fraction.
        loss: mix lost between mixer and mold, as a fraction of what leaves the mixer.
        leftover_molds: where leftover goes, the preferred one first.
        times: of the shop; None where nobody asks how long it takes.
    """

    mix: Mix
    mixer: Mixer
    foam: Foam
    split: AskedSplit
    overfill: float
    loss: float
    leftover_molds: tuple[LeftoverMold, ...]
    times: Times | None


def poured(filling: Filling, kinds: Mapping[str, PieceToPour], means: Means) -> Pour:
    """A pour that casts so many pieces, not yet numbered.

    Args:
        filling: pieces of each kind.
        kinds: of piece, by name.
        means: what it is made with.

    Raises:
        RangeError: for a mixer that cannot make the mix.
    """
    count = max(len(kinds[name].lifts) or 1 for name, _ in filling)
    if count == 1:
        volume = sum(pieces * kinds[name].volume for name, pieces in filling)
        need = order_volume(volume, means.overfill, means.loss)
        return _in_one_go(filling, need, list(_molds(filling, kinds)), _least(filling, kinds), means)
    return _in_lifts(filling, kinds, count, means)


def _least(filling: Filling, kinds: Mapping[str, PieceToPour]) -> dict[str, float]:
    """The least time that one mold of each kind takes, or one of its equal lifts, s."""
    return {name: kinds[name].least_time / (len(kinds[name].lifts) or 1) for name, _ in filling}


def _in_one_go(
    filling: Filling,
    need: float,
    molds: Sequence[tuple[str, float]],
    least: Mapping[str, float],
    means: Means,
) -> Pour:
    cut = ways(need, means.mix, means.mixer, means.split)
    made = batches(need, means.mix, means.mixer, means.foam, settled(means.split, cut))
    over = leftover(need, made, means.mixer)
    filled, remains = put_away(over, means.leftover_molds, overfill=means.overfill, loss=means.loss)
    took = timing(need, made, molds, means.mixer.residue, means.times, least) if means.times else None
    return Pour(0, filling, need, made, over, solution(made), filled, remains, took, cut)


def _in_lifts(filling: Filling, kinds: Mapping[str, PieceToPour], count: int, means: Means) -> Pour:
    """Lift after lift, each as a pour of its own, then all of them as one pour.

    Mix for striking off goes with the last lift of each mold. Leftover molds stay full while lifts set.
    """
    parts: list[Pour] = []
    left = means
    for index in range(count):
        molds = list(_lift_of_molds(filling, kinds, index, means.overfill))
        need = order_volume(sum(volume for _, volume in molds), 0.0, means.loss)
        parts.append(_in_one_go(filling, need, molds, _least(filling, kinds), left))
        left = replace(left, leftover_molds=_still_empty(left.leftover_molds, parts[-1].put_away))
    every = tuple(batch for part in parts for batch in part.batches)
    away: dict[str, int] = {}
    for part in parts:
        away |= {name: away.get(name, 0) + some for name, some in part.put_away}
    lifts = tuple(_lifts(filling, kinds, parts))
    return Pour(
        number=0,
        pieces=filling,
        volume=sum(part.volume for part in parts),
        batches=every,
        leftover=sum(part.leftover for part in parts),
        solution=solution(every),
        put_away=tuple(away.items()),
        remains=sum(part.remains for part in parts),
        timing=_together([lift.timing for lift in lifts if lift.timing]),
        lifts=lifts,
    )


def _lifts(filling: Filling, kinds: Mapping[str, PieceToPour], parts: Sequence[Pour]) -> Iterator[PourLift]:
    before = 0
    for index, part in enumerate(parts):
        tops = tuple(
            (name, kinds[name].lifts[index].top) for name, _ in filling if index < len(kinds[name].lifts)
        )
        took = part.timing and _later(part.timing, before)
        last = before + len(part.batches)
        yield PourLift(
            number=index + 1,
            tops=tops,
            volume=part.volume,
            first=before + 1,
            last=last,
            leftover=part.leftover,
            solution=part.solution,
            put_away=part.put_away,
            remains=part.remains,
            timing=took,
            ways=part.ways,
        )
        before = last


def _later(took: Timing, before: int) -> Timing:
    """The same, its batches counted from the first of the pour."""
    slowest = took.slowest
    return replace(took, slowest=replace(slowest, first=slowest.first + before, last=slowest.last + before))


def _together(each: Sequence[Timing]) -> Timing | None:
    """The time of lifts one after another, without the waiting between them; None where none is known."""
    if not each:
        return None
    return Timing(
        batch=max(one.batch for one in each),
        foaming=max(one.foaming for one in each),
        foaming_known=all(one.foaming_known for one in each),
        total=sum(one.total for one in each),
        age=max(one.age for one in each),
        slowest=max((one.slowest for one in each), key=lambda fill: fill.seconds),
        in_time=all(one.in_time for one in each),
        slow=tuple(fill for one in each for fill in one.slow),
    )


def _still_empty(
    molds: Sequence[LeftoverMold], filled: Sequence[tuple[str, int]]
) -> tuple[LeftoverMold, ...]:
    taken = dict(filled)
    left = (replace(mold, count=mold.count - taken.get(mold.name, 0)) for mold in molds)
    return tuple(mold for mold in left if mold.count > 0)


def _molds(filling: Filling, kinds: Mapping[str, PieceToPour]) -> Iterator[tuple[str, float]]:
    """The molds filled in a pour in their order, each with the concrete its pieces take, the last part-filled, m3."""
    for name, count in filling:
        kind = kinds[name]
        whole, part = divmod(count, kind.cavities)
        yield from [(name, kind.cavities * kind.volume)] * whole
        if part:
            yield name, part * kind.volume


def _lift_of_molds(
    filling: Filling, kinds: Mapping[str, PieceToPour], index: int, overfill: float
) -> Iterator[tuple[str, float]]:
    """What each mold takes in one lift, m3; with its last lift what is struck off it, a fraction of all of it."""
    for name, volume in _molds(filling, kinds):
        lifts = kinds[name].lifts or _ONE_GO
        if index < len(lifts):
            yield name, volume * (lifts[index].share + (overfill if index == len(lifts) - 1 else 0.0))
