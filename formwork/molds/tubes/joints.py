"""The joints of a tube mold: what each holds, which screw, how many.

Most of its screws stand across the pull: bar to uprights, uprights to the frame on the plate, braces to uprights and
blocks. The plate is screwed to that frame from below, along the pull.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

from formwork.errors import StockError
from formwork.molds.choice import Stocks
from formwork.molds.fastening import Fastening, fasten, length_of
from formwork.molds.joints import CLOSE, Joint, along
from formwork.molds.mold import Part
from formwork.molds.panels.corner_pull import sideways
from formwork.molds.tubes.cage import Cage
from formwork.molds.tubes.lifts import Lifts
from formwork.record import record
from formwork.strength.fasteners import needed
from formwork.strength.working import Force

_LEAST = 2
_LEAST_ROOM, _MOST_BOLTS = 4, 2
"""Screws, and bolts, that find room wherever two sticks cross, bored for (common practice, no source)."""
_PITCH = 0.022
"""On wider sticks screws stand in rows and columns this far apart, m (common practice, no source)."""
_THREAD, _SKIN = 0.010, 0.002


@record
class Held:
    """A joint with its fastener and what one of its places is pulled with.

    Attributes:
        fastening: the fastener.
        pull: at the place that is worst off, N; 0 where only spacing counts.
        across: the fasteners stand across the pull.
    """

    fastening: Fastening
    pull: float
    across: bool

    @property
    def each(self) -> int:
        """Fasteners at one place."""
        return self.fastening.count // self.fastening.joint.places

    @property
    def holds(self) -> float:
        """What all fasteners of one place hold, N; nothing where no value is known."""
        return self.each * self.one.force if self.one is not None else 0.0

    @property
    def used(self) -> float:
        """Pull over what holds it; 0 where nothing pulls."""
        if self.pull <= 1.0:
            return 0.0
        return self.pull / self.holds if self.holds > 0.0 else inf

    @property
    def one(self) -> Force | None:
        """What one of them holds the way it is pulled; None where no value is known."""
        return self.fastening.across if self.across else self.fastening.grip


def held_joints(stocks: Stocks, cage: Cage, parts: Sequence[Part], lifts: Lifts) -> tuple[Held, ...]:
    """Every joint of a tube mold.

    Args:
        stocks: that it is built from.
        cage: where its sticks stand.
        parts: every part.
        lifts: what pulls at them.

    Raises:
        StockError: where the shop lists no screw that suits a joint.
    """
    t, w, sheet = cage.stick.thickness, cage.stick.width, stocks.sheet.thickness
    found = [
        _across(stocks, Joint("hold-down bar to uprights", 4, t, w, True, places=2), lifts.bar / 2.0),
        _across(
            stocks,
            Joint("uprights to foot frame", 4, t, t, True, places=3 if cage.braced else 2),
            lifts.upright,
        ),
        _from_below(stocks, parts, sheet, w, lifts),
        _plain(stocks, Joint("corners of foot frame", 8, t, 0.05, False, places=4)),
        *(_braced(stocks, t, w, lifts) if cage.braced else ()),
        *_discs(stocks, parts, sheet, w, lifts),
    ]
    return tuple(found)


def _braced(stocks: Stocks, t: float, w: float, lifts: Lifts) -> list[Held]:
    push = lifts.thrust
    level, force = (push.level, push.along) if push else (0.0, 0.0)
    return [
        _plain(stocks, Joint("corners of collar", 8, t, 0.05, True, places=4)),
        _pulled(stocks, Joint("uprights to collar", 4, t, t, True, places=2, most=12), level),
        _across(stocks, Joint("braces to uprights", 4, t, w, True, places=2), force),
        _across(stocks, Joint("braces to their blocks", 4, t, t, True, places=2), force),
    ]


def _discs(stocks: Stocks, parts: Sequence[Part], sheet: float, w: float, lifts: Lifts) -> list[Held]:
    """Discs of a core: on the plate, on the bar, under the cap."""
    names = {part.name for part in parts}
    found = []
    if "foot disc" in names:
        found.append(_plain(stocks, Joint("foot disc to plate, from above", 4, sheet, sheet, False)))
    if "brim disc" in names:
        found.append(
            _plain(stocks, Joint("brim disc under the hold-down bar, from below", 2, sheet, w, True))
        )
    if "core cap" in names:
        joint = Joint("core cap to the disc under it, heads sunk and filled", 4, sheet, sheet, False, most=40)
        found.append(_pulled(stocks, joint, lifts.rod))
    return found


def _from_below(stocks: Stocks, parts: Sequence[Part], sheet: float, w: float, lifts: Lifts) -> Held:
    """Through the plate into the frame that stands on it: all that lifts the uprights."""
    sticks = [part for part in parts if part.role == "cleat" and part.name.startswith("foot frame")]
    count = sum(along(part.blank.length, CLOSE) for part in sticks)
    pull = lifts.bar + (lifts.thrust.upright if lifts.thrust else 0.0)
    joint = Joint("plate to foot frame, from below", count, sheet, w, False, most=4 * count)
    return _pulled(stocks, joint, pull)


def _plain(stocks: Stocks, joint: Joint) -> Held:
    return Held(fasten(stocks, joint), 0.0, across=False)


def _pulled(stocks: Stocks, joint: Joint, pull: float) -> Held:
    """Along its fasteners; ``pull`` (N) at each of its places."""
    found = fasten(stocks, joint, pull * joint.places)
    whole = -(-found.count // joint.places) * joint.places
    return Held(replace(found, count=whole), pull, across=False)


def _across(stocks: Stocks, joint: Joint, pull: float) -> Held:
    """Across its fasteners, ``pull`` (N) at each place: screws; bolts in a mold of many uses, or where screws are few.

    Of screws the size of which fewest will do, two at each place at least; the shorter of equal ones.

    Raises:
        StockError: where the shop lists none that suits.
    """
    plain = fasten(stocks, joint)
    if plain.item == "bolt" and plain.across is not None:
        return _enough(plain, plain.across, pull, 1, _MOST_BOLTS)
    sized = [(size, force) for size in _sizes(stocks, joint) if (force := _one(stocks, joint, size))]
    if not sized:
        return Held(plain, pull, across=True)
    size, force = min(sized, key=lambda one: needed(pull, one[1].force))
    room = max(_LEAST_ROOM, int(stocks.stick.width / _PITCH + 1e-9) ** 2)
    screws = _enough(Fastening(joint, "screw", size, 0, plain.grip, force), force, pull, _LEAST, room)
    bolts = None if screws.holds >= pull else _bolted(stocks, joint, pull)
    return screws if bolts is None or screws.holds >= bolts.holds else bolts


def _bolted(stocks: Stocks, joint: Joint, pull: float) -> Held | None:
    """Bolts, where the shop has some that pass through and hold more than screws."""
    try:
        bolt = fasten(stocks, joint, bolts_only=True)
    except StockError:
        return None
    return None if bolt.across is None else _enough(bolt, bolt.across, pull, 1, _MOST_BOLTS)


def _enough(one: Fastening, force: Force, pull: float, least: int, most: int) -> Held:
    each = min(most, max(least, needed(pull, force.force)))
    return Held(replace(one, count=each * one.joint.places), pull, across=True)


def _sizes(stocks: Stocks, joint: Joint) -> list[str]:
    """Screws that reach into the second stick and stay in it, the shortest first."""
    most = joint.through + joint.into - _SKIN
    named = [one.size for one in stocks.hardware if one.item == "screw" and " x " in one.size]
    inside = [size for size in named if joint.through + _THREAD <= length_of(size) <= most + 1e-9]
    return sorted(inside, key=length_of)


def _one(stocks: Stocks, joint: Joint, size: str) -> Force | None:
    bite = min(length_of(size) - joint.through, joint.into)
    return sideways(size, joint.through, bite, stocks.stick)
