"""The fastener of every joint: long enough to bite, too short to come out, and enough of them for the mix."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Literal

from formwork.errors import GeometryError, StockError
from formwork.molds.choice import Stocks
from formwork.molds.joints import CLEATS, CORNERS, DIVIDERS, SIDES, Joint, joints
from formwork.molds.load import Load
from formwork.molds.mold import Fixing, Part
from formwork.molds.panels.core_joints import core_joints
from formwork.molds.panels.corner_pull import bolt_sideways, corner_pull, panel_tension, sideways
from formwork.molds.panels.dividers import divider_push, dividers
from formwork.molds.panels.lift import grip, lifted
from formwork.molds.panels.lining import Frame
from formwork.record import record
from formwork.stock.records import HardwareStock
from formwork.strength.fasteners import Where, needed
from formwork.strength.uplift import hold_down
from formwork.strength.working import Force
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
    grip: Force
    across: Force | None = None


def fastened(frame: Frame, parts: Sequence[Part], load: Load) -> tuple[Fastening, ...]:
    """Every joint with the fastener chosen for it, and enough of them where the mix pulls at what they hold.

    The first fastener of which enough find room is taken; where none is, the one that holds most, as many as find
    room, and the check of that joint says that it is not enough.

    Raises:
        StockError: where no screw is short enough not to come out of what it joins.
    """
    yard = {item: _lengths(frame.stocks.hardware, item) for item in ("screw", "bolt")}
    found = [one for one in (*joints(frame, parts), *core_joints(frame, parts)) if one.count]
    asked = frame.options.corner_screws
    if asked is not None and all(joint.group != CORNERS for joint in found):
        raise GeometryError(
            f"{frame.piece.name}: mold.corner_screws: got {asked}, want nothing: this mold has no cleats in its "
            "corners; its rails are mitred into hoops that straps hold"
        )
    return tuple(_first_enough(frame, parts, load, joint, yard) for joint in found)


def _first_enough(frame: Frame, parts: Sequence[Part], load: Load, joint: Joint, yard: Yard) -> Fastening:
    found = _candidates(joint, frame.stocks, yard)
    if not joint.group:
        return found[0]
    if joint.instead is not None:
        found += _longer(joint.instead, frame.stocks, yard)
    asked = frame.options.corner_screws
    if joint.group == CORNERS and asked is not None:
        return _as_asked(frame, found, asked * len(frame.corners))
    return _enough(found, lambda one: _needed(frame, parts, load, one))


def _longer(joint: Joint, stocks: Stocks, yard: Yard) -> list[Fastening]:
    """What could hold a joint through more wood; nothing where the shop lists nothing so long."""
    try:
        return _candidates(joint, stocks, yard)
    except StockError:
        return []


def _as_asked(frame: Frame, found: Sequence[Fastening], count: int) -> Fastening:
    """So many at the corners as the person asks for, of the kind of which they hold most.

    Raises:
        GeometryError: where so many find no room.
    """
    most = max(one.joint.most for one in found)
    if count > most:
        corners = len(frame.corners)
        raise GeometryError(
            f"{frame.piece.name}: mold.corner_screws: got {count // corners}, want at most {most // corners}: "
            "more find no room in a cleat"
        )
    roomy = [one for one in found if count <= one.joint.most]
    best = max(roomy, key=lambda one: min(one.grip.force, one.across.force if one.across else one.grip.force))
    return replace(best, count=count)


def _enough(found: Sequence[Fastening], count: Callable[[Fastening], int]) -> Fastening:
    """The first of which enough find room; else the one that holds most, as many as find room."""
    asked = [replace(one, count=max(one.count, count(one))) for one in found]
    for one in asked:
        if one.count <= one.joint.most:
            return one
    best = max(asked, key=lambda one: one.grip.force * one.joint.most)
    return replace(best, count=max(best.joint.count, best.joint.most))


def _needed(frame: Frame, parts: Sequence[Part], load: Load, fastening: Fastening) -> int:
    """How many of this fastener the pull on its joint asks for."""
    group = fastening.joint.group
    if group == CORNERS:
        return _for_corners(frame, load, fastening)
    if group == CLEATS:
        return _for_cleats(frame, load, fastening)
    if group == DIVIDERS:
        return _for_dividers(load, parts, fastening)
    lift, dead = lifted(frame, load, parts, group)
    held = against_lift(frame, fastening)
    return needed(hold_down(max(0.0, lift.force), dead), held.force) if held else 0


def against_lift(frame: Frame, fastening: Fastening) -> Force | None:
    """What one fastener of a joint holds against the lift of the mix; None where no value is known.

    Sides that stand on the base are held along their fasteners; sides that run past its edges, across them.
    """
    past = fastening.joint.group == SIDES and frame.options.base == "runs past"
    return fastening.across if past else fastening.grip


def _for_corners(frame: Frame, load: Load, fastening: Fastening) -> int:
    """How many fasteners all corners of a mold need, at the pull of their foot."""
    pull = corner_pull(frame, load)
    corners = len(frame.corners)
    counts = [needed(pull.along * load.fill, fastening.grip.force)]
    if fastening.across is not None:
        counts.append(needed(pull.across * load.fill, fastening.across.force))
    return corners * max(counts)


def _for_cleats(frame: Frame, load: Load, fastening: Fastening) -> int:
    """How many screws all cleats need at the pull of the panels they hand on; 0 where no value is known."""
    if fastening.across is None:
        return 0
    return fastening.joint.places * needed(
        panel_tension(frame, load).across * load.fill, fastening.across.force
    )


def _for_dividers(load: Load, parts: Sequence[Part], fastening: Fastening) -> int:
    """How many screws the ends of all dividers need with one cavity full and the next empty; 0 where not known."""
    if fastening.across is None:
        return 0
    push = divider_push(load, parts).across * load.fill
    return 2 * len(dividers(parts)) * needed(push, fastening.across.force)


def fasten(stocks: Stocks, joint: Joint, pull: float = 0.0, *, bolts_only: bool = False) -> Fastening:
    """The fastener of one joint, chosen as for any other, for a mold that is not made of flat panels.

    Args:
        stocks: that the mold is built from.
        joint: what it joins.
        pull: along all its fasteners together, N; 0 where spacing alone counts.
        bolts_only: nothing else will do, as across a parting plane.

    Raises:
        StockError: where the shop lists none that is long enough and does not come out of what it joins.
    """
    yard = {item: _lengths(stocks.hardware, item) for item in ("screw", "bolt")}
    found = _bolts(joint, stocks, yard) if bolts_only else _candidates(joint, stocks, yard)
    if not found:
        least = joint.through + joint.into + _THREAD
        raise StockError(
            f"{joint.use}: the shop lists no bolt of {least * 1000:.0f} mm or more; add one as [[hardware]] to the "
            "shop file"
        )
    return _enough(found, lambda one: needed(pull, one.grip.force) if one.grip.force else 0)


def fixing(fastening: Fastening) -> Fixing:
    """What a builder must know of a fastening: what, how many, at how many places."""
    joint = fastening.joint
    return Fixing(joint.use, fastening.item, fastening.size, fastening.count, joint.places, joint.comes_off)


def _candidates(joint: Joint, stocks: Stocks, yard: Yard) -> list[Fastening]:
    """What could hold a joint, the first choice first.

    That is a bolt where the joint comes off at every filling of a mold of many uses, else a screw, or glue and pins;
    then longer screws, and bolts wherever a nut finds room: the edge of a sheet takes screws only.

    Raises:
        StockError: where a joint that comes off finds no screw.
    """
    bolts = [] if joint.edge or not (joint.comes_off or joint.nut) else _bolts(joint, stocks, yard)
    if stocks.bolted and joint.comes_off and bolts:
        return bolts
    try:
        screws = [_screwed(joint, stocks, one) for one in _screws(joint, yard["screw"])]
    except StockError:
        if joint.comes_off and not bolts:
            raise
        return bolts or [Fastening(joint, "pin", "", joint.count, Force(0.0, ()))]
    return [*screws, *bolts]


def _bolts(joint: Joint, stocks: Stocks, yard: Yard) -> list[Fastening]:
    """The shortest bolt that passes through, if there is one."""
    least = joint.through + joint.into + _THREAD
    size = next((size for length, size in yard["bolt"] if length >= least), None)
    if size is None:
        return []
    held = grip("bolt", size, joint.into, stocks.stick)
    across = bolt_sideways(size, joint.through, joint.into, stocks.stick)
    return [Fastening(joint, "bolt", size, joint.count, held, across)]


def _screwed(joint: Joint, stocks: Stocks, one: tuple[float, str]) -> Fastening:
    length, size = one
    bite = min(length - joint.through, joint.into)
    where: Where = "end grain" if joint.edge else "side grain"
    across = sideways(size, joint.through, bite, stocks.stick, where)
    return Fastening(joint, "screw", size, joint.count, grip("screw", size, bite, stocks.stick), across)


def _lengths(hardware: Sequence[HardwareStock], item: str) -> list[tuple[float, str]]:
    """Length (m) and size as printed of every screw or bolt the shop lists, the shortest first."""
    sizes = [one.size for one in hardware if one.item == item and " x " in one.size]
    return sorted((length_of(size), size) for size in sizes)


@cache
def length_of(size: str) -> float:
    """Length of a screw or bolt as printed on its box ("#8 x 2 in"), m: read once, for joints ask many times."""
    return read(size.split(" x ", 1)[1], "length", None)


def _screws(joint: Joint, screws: Sequence[tuple[float, str]]) -> list[tuple[float, str]]:
    """The shortest screw that bites well and every longer one that stays inside; the longest where none bites well.

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
    return [one for one in inside if one[0] >= wanted] or inside[-1:]
