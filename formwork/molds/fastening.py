"""The fastener of every joint: long enough to bite, too short to come out, and enough of them for the mix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal

from formwork.errors import StockError
from formwork.molds.choice import Stocks
from formwork.molds.corner_pull import Sideways, corner_pull, sideways
from formwork.molds.dividers import divider_push, dividers
from formwork.molds.joints import CORNERS, DIVIDERS, SIDES, Joint, joints
from formwork.molds.lift import Grip, core_lift, grip, side_lift, weight
from formwork.molds.lining import Frame
from formwork.molds.load import Load
from formwork.molds.mold import Fixing, Part
from formwork.record import record
from formwork.strength.fasteners import Where, needed
from formwork.strength.uplift import hold_down
from formwork.units.parse import read

_LEAST_BITE = 0.025
_SKIN = 0.002
_THREAD = 0.010

Yard = Mapping[str, Sequence[tuple[float, str]]]
"""Length (m) and size as printed of every screw and every bolt the shop lists, the shortest first."""


@record
class Fastening:
    """The fastener chosen for a joint.

    Attributes:
        joint: what it joins.
        item: screw or bolt; glue and pins where a joint that stays closed is too thin for any screw.
        size: as printed on the box.
        count: how many: as spacing asks, or more where the mix pulls.
        grip: what one of them holds along its axis.
        across: what one of them holds across its axis; None where no value is known.
    """

    joint: Joint
    item: Literal["screw", "bolt", "pin"]
    size: str
    count: int
    grip: Grip
    across: Sideways | None = None


def fastened(frame: Frame, parts: Sequence[Part], load: Load) -> tuple[Fastening, ...]:
    """Every joint with the fastener chosen for it, and enough of them where the mix lifts what they hold.

    Raises:
        StockError: where no screw is short enough not to come out of what it joins.
    """
    yard = {item: _lengths(frame.stocks, item) for item in ("screw", "bolt")}
    chosen = [_fasten(joint, frame.stocks, yard) for joint in joints(frame, parts)]
    return tuple(_enough(frame, parts, load, fastening) for fastening in chosen)


def _enough(frame: Frame, parts: Sequence[Part], load: Load, fastening: Fastening) -> Fastening:
    group = fastening.joint.group
    if not group:
        return fastening
    if group == CORNERS:
        return replace(fastening, count=max(fastening.count, _for_corners(frame, load, fastening)))
    if group == DIVIDERS:
        return replace(fastening, count=max(fastening.count, _for_dividers(load, parts, fastening)))
    lift = side_lift(frame, load, parts) if group == SIDES else core_lift(frame, load, group)
    dead = weight(frame, [part for part in parts if held_by(part, group)])
    pull = hold_down(max(0.0, lift.force), dead)
    return replace(fastening, count=max(fastening.count, needed(pull, fastening.grip.force)))


def _for_corners(frame: Frame, load: Load, fastening: Fastening) -> int:
    """How many fasteners all corners of a mold need, at the pull of their foot."""
    pull = corner_pull(frame, load)
    corners = len(frame.corners)
    counts = [needed(pull.along * load.fill, fastening.grip.force)]
    if fastening.across is not None:
        counts.append(needed(pull.across * load.fill, fastening.across.force))
    return corners * max(counts)


def _for_dividers(load: Load, parts: Sequence[Part], fastening: Fastening) -> int:
    """How many screws the ends of all dividers need with one cavity full and the next empty; 0 where not known."""
    if fastening.across is None:
        return 0
    push = divider_push(load, parts).across * load.fill
    return 2 * len(dividers(parts)) * needed(push, fastening.across.force)


def fixing(fastening: Fastening) -> Fixing:
    """What a builder must know of a fastening: what, how many, at how many places."""
    joint = fastening.joint
    return Fixing(joint.use, fastening.item, fastening.size, fastening.count, joint.places, joint.comes_off)


def held_by(part: Part, group: str) -> bool:
    """The part is held down by the joints of that group."""
    return part.group.endswith(" panel") if group == SIDES else part.group == group


def _fasten(joint: Joint, stocks: Stocks, yard: Yard) -> Fastening:
    """A bolt where the joint comes off at every filling of a mold of many uses; else a screw, or glue and pins.

    The edge of a sheet takes screws only.

    Raises:
        StockError: where a joint that comes off finds no screw.
    """
    if stocks.bolted and joint.comes_off and not joint.edge:
        least = joint.through + joint.into + _THREAD
        for length, size in yard["bolt"]:
            if length >= least:
                return Fastening(
                    joint, "bolt", size, joint.count, grip("bolt", size, joint.into, stocks.stick)
                )
    try:
        length, size = _screw(joint, yard["screw"])
    except StockError:
        if joint.comes_off:
            raise
        return Fastening(joint, "pin", "", joint.count, Grip(0.0, ()))
    bite = min(length - joint.through, joint.into)
    across = None
    if joint.group in (CORNERS, DIVIDERS):
        where: Where = "end grain" if joint.edge else "side grain"
        across = sideways(size, joint.through, bite, stocks.stick, where)
    return Fastening(joint, "screw", size, joint.count, grip("screw", size, bite, stocks.stick), across)


def _lengths(stocks: Stocks, item: str) -> list[tuple[float, str]]:
    """Length (m) and size as printed of every screw or bolt the shop lists, the shortest first."""
    sizes = [one.size for one in stocks.hardware if one.item == item and " x " in one.size]
    return sorted((read(size.split(" x ", 1)[1], "length", None), size) for size in sizes)


def _screw(joint: Joint, screws: Sequence[tuple[float, str]]) -> tuple[float, str]:
    """The shortest screw that bites well, or the longest that stays inside.

    Raises:
        StockError: where the shop lists none that reaches the second part and does not come out of it.
    """
    most = joint.through + joint.into - _SKIN
    wanted = joint.through + max(_LEAST_BITE, 0.6 * joint.into)
    inside = [one for one in screws if joint.through + _THREAD <= one[0] <= most + 1e-9]
    if not inside:
        raise StockError(
            f"{joint.use}: the shop lists no screw from {(joint.through + _THREAD) * 1000:.0f} to {most * 1000:.0f} mm "
            "long; add one as [[hardware]] to the shop file"
        )
    return next((one for one in inside if one[0] >= wanted), inside[-1])
