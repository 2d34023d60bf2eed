"""What a mold needs besides sheet and stick: screws or bolts with their lengths, sealant, release agent, sealer.

A screw's length follows from what it joins: it must reach well into the second part and must not come out of it.
Spacings are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import groupby
from math import ceil, sqrt
from typing import Literal

from formwork.errors import StockError
from formwork.molds.choice import Stocks
from formwork.molds.core import AIR_HOLE
from formwork.molds.core_ribs import level_plates
from formwork.molds.corner_pull import Sideways, corner_pull, sideways
from formwork.molds.dividers import divider_push, dividers, upright
from formwork.molds.lift import Grip, core_lift, grip, side_lift, weight
from formwork.molds.lining import Frame
from formwork.molds.load import Load
from formwork.molds.mold import Hardware, Part
from formwork.record import record
from formwork.strength.fasteners import Where, needed
from formwork.strength.uplift import hold_down
from formwork.units import show
from formwork.units.parse import read

_DEEP = 0.08
_LEAST_BITE = 0.025
_SKIN = 0.002
_THREAD = 0.010
_CLOSE = 0.15
_WIDE = 0.2
CORNERS = "corners"
"""The group of all the corners together."""
SIDES = "sides"
"""The group of all the sides together, held down by the lowest rails."""
DIVIDERS = "dividers"
"""The group of all the dividers of a gang together."""


Yard = Mapping[str, Sequence[tuple[float, str]]]
"""Length (m) and size as printed of every screw and every bolt the shop lists, the shortest first."""


@record
class Joint:
    """What joins one part of the mold to another.

    Attributes:
        use: what it joins.
        count: how many fasteners.
        through: wood the fastener passes through, m.
        into: wood it ends in, m.
        comes_off: it is undone at every filling.
        group: the group of parts it holds, where the mix pulls at it; empty elsewhere.
        edge: it ends in the edge of a sheet, where no bolt finds a nut.
    """

    use: str
    count: int
    through: float
    into: float
    comes_off: bool
    group: str = ""
    edge: bool = False


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


def joints(frame: Frame, parts: Sequence[Part]) -> tuple[Joint, ...]:
    """Every joint of the mold that screws or bolts hold."""
    found = (
        *_corner_joints(frame, parts),
        *_stick_joints(frame, parts),
        *_base_joints(frame, parts),
        *_core_joints(frame, parts),
        *_former_joints(frame, parts),
    )
    return tuple(joint for joint in found if joint.count)


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


def held_by(part: Part, group: str) -> bool:
    """The part is held down by the joints of that group."""
    return part.group.endswith(" panel") if group == SIDES else part.group == group


def fasteners(frame: Frame, parts: Sequence[Part], chosen: Sequence[Fastening]) -> tuple[Hardware, ...]:
    """Everything bought by the piece to hold one mold together, once its fastenings are chosen."""
    lines = [line for fastening in chosen for line in _lines(fastening)]
    pins = sum(_along(part.blank.length, _CLOSE) for part in parts if part.role == "strip")
    if pins:
        lines.append(Hardware("pin", "", float(pins), "piece", "strips, glued and pinned"))
    holes = sum(len(part.blank.holes) for part in parts if part.role == "core cap")
    if holes:
        lines.append(
            Hardware(
                "stopper", show.length(AIR_HOLE, frame.units), float(holes), "piece", "air hole of each core"
            )
        )
    for size, count in _plug_sizes(frame, parts):
        lines.append(Hardware("dowel or stopper", size, float(count), "piece", "drain plugs"))
    return _gathered(lines)


def _plug_sizes(frame: Frame, parts: Sequence[Part]) -> list[tuple[str, int]]:
    sizes = [
        f"{show.length(part.blank.width, frame.units)} across, {show.length(part.blank.length, frame.units)} long"
        for part in parts
        if part.role == "plug"
    ]
    return [(size, sizes.count(size)) for size in dict.fromkeys(sizes)]


def consumables(wetted: float, seams: float, uses: int) -> tuple[Hardware, ...]:
    """Release agent for every filling, sealer once, a bead along every seam each time it is closed.

    Args:
        wetted: area the mix touches, m2.
        seams: length of seam, m.
        uses: fillings.
    """
    return (
        Hardware("release agent", "", wetted * uses, "m2", f"thin coat for each of {uses} fillings"),
        Hardware("sealer", "", wetted, "m2", "two coats, once, on every face and cut edge the mix touches"),
        Hardware("sealant", "", seams * uses, "m", f"bead along every seam for each of {uses} fillings"),
    )


def _corner_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Through the panel that runs past into its neighbour's cleat, or cleat to cleat through a mitre.

    Where rails are mitred into hoops, two screws at 45 degrees cross each mitre in the middle of the rail's depth.
    """
    cleats = [part for part in parts if part.role == "cleat" and part.group.endswith(" panel")]
    stick = frame.stocks
    if not cleats:
        mitres = [part for part in parts if part.role == "rail" and part.group.endswith(" panel")]
        slant = stick.deep / sqrt(2.0)
        yield Joint("mitres of the hoops, slantwise", 2 * len(mitres), slant, slant, comes_off=False)
        return
    mitred = frame.mitred
    if mitred:
        cleats = cleats[: len(cleats) // 2]
    each = sum(_along(part.blank.length, _CLOSE) for part in cleats)
    through = stick.broad if mitred else frame.thickness
    yield Joint("corners of the mold", each, through, stick.broad, comes_off=True, group=CORNERS)


def _stick_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """From cleats and rails into the backs of their own panels; their points must not come through.

    Sticks on edge are too deep for that: they are screwed from the face of the panel, the heads sunk and filled.
    """
    sticks = [part for part in parts if part.role in ("cleat", "rail") and part.group.endswith(" panel")]
    each = sum(_along(part.blank.length, _WIDE) for part in sticks)
    deep, thick = frame.stocks.deep, frame.thickness
    if deep > _DEEP:
        yield Joint("panels to cleats and rails, heads sunk and filled", each, thick, deep, comes_off=False)
    else:
        yield Joint("cleats and rails to panels", each, deep, thick, comes_off=False)


def _base_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Through the lowest rails into the base, or through the panels into its edges."""
    if frame.options.base == "runs past":
        panels = [part for part in parts if part.role == "panel"]
        each = sum(_along(part.blank.length, _CLOSE) for part in panels)
        yield Joint(
            "panels to edges of base", each, frame.thickness, 0.05, comes_off=True, group=SIDES, edge=True
        )
        return
    lowest = [part for part in parts if part.role == "rail" and part.name.endswith(" rail 1")
              and part.group.endswith(" panel")]  # fmt: skip
    each = sum(_along(part.blank.length, _WIDE) for part in lowest)
    yield Joint(
        "lowest rails to base", each, frame.stocks.broad, frame.thickness, comes_off=True, group=SIDES
    )


def _core_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    for former in frame.piece.formers:
        if former.kind != "core":
            continue
        name = former.name
        own = [part for part in parts if part.group == name]
        rails = [part for part in own if part.role == "rail"]
        yield from _core_wall_joints(frame, own)
        into = _open_end(frame, own)
        if former.seat == "base":
            held = max(4, sum(_along(part.blank.length, _CLOSE) for part in rails))
            yield Joint("base to core, from below", held, frame.thickness, into, comes_off=True, group=name)
        else:
            bars = [part for part in own if part.role == "bar"]
            yield from _bar_joints(frame, name, len(bars), into)


def _core_wall_joints(frame: Frame, core: Sequence[Part]) -> Iterable[Joint]:
    """Its cap to its walls, and its walls to what stands inside them."""
    stick = frame.stocks.inner
    cleats = [part for part in core if part.role == "cleat"]
    rails = [part for part in core if part.role == "rail"]
    caps = [part for part in core if part.role == "core cap"]
    walls = [part for part in core if part.role == "core wall"]
    plates = level_plates(core)
    edges = max(2 * sum(_along(part.blank.length, _CLOSE) for part in caps), len(walls)) if caps else 0
    yield Joint("core caps to walls", edges, frame.thickness, 0.05, comes_off=False)
    around = sum(_along(min(part.blank.length, part.blank.width), _CLOSE) for part in walls)
    if cleats:
        each = sum(2 * _along(part.blank.length, _WIDE) for part in cleats)
        each += sum(_along(part.blank.length, _WIDE) for part in rails)
        yield Joint("core walls to cleats and rails", each, stick.thickness, frame.thickness, comes_off=False)
    if plates:
        each = len(plates) * around
        yield Joint(
            "core walls to plates, heads sunk and filled", each, frame.thickness, 0.05, comes_off=False
        )
    if not cleats and not plates:
        yield Joint("core walls to one another, glued", 2 * around, frame.thickness, 0.05, comes_off=False)


def _open_end(frame: Frame, core: Sequence[Part]) -> float:
    """Wood at a core's open end for the screws that hold it: its rails, its plate, or its walls' edges, m."""
    if any(part.role == "rail" for part in core):
        return frame.stocks.inner.width
    return frame.thickness * max((part.layers for part in level_plates(core)), default=1)


def _bar_joints(frame: Frame, core: str, bars: int, into: float) -> Iterable[Joint]:
    """Two fasteners at each end of a bar into the rim rails, and two at each crossing into the core's open end."""
    through = frame.stocks.stick.thickness
    yield Joint("bars to rim rails", 4 * bars, through, frame.stocks.broad, comes_off=True, group=core)
    yield Joint("bars to core", 4 * bars, through, into, comes_off=True, group=core)


def _former_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    ends = 2 * sum(_along(upright(part), _CLOSE) for part in dividers(parts))
    yield Joint(
        "ends of the mold to dividers",
        ends,
        frame.thickness,
        0.05,
        comes_off=True,
        group=DIVIDERS,
        edge=True,
    )
    for role, use in (
        ("liner", "panels to liners"),
        ("board", "panels and base to boards"),
    ):
        own = [part for part in parts if part.role == role]
        each = sum(_along(part.blank.length, _WIDE) for part in own)
        depth = min((part.blank.thickness * part.layers for part in own), default=0.0)
        yield Joint(f"{use}, from behind", each, frame.thickness, max(depth, 0.006), comes_off=False)
    plugs = sum(1 for part in parts if part.role == "plug")
    yield Joint("drain plugs, from behind", plugs, frame.thickness, 0.04, comes_off=False)


def _along(length: float, spacing: float) -> int:
    """Fasteners along a length: one near each end, and between them no further apart than the spacing."""
    return max(2, ceil(max(0.0, length - 0.06) / spacing - 1e-9) + 1)


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


def _lines(fastening: Fastening) -> tuple[Hardware, ...]:
    count, use = float(fastening.count), fastening.joint.use
    if fastening.item == "screw":
        return (Hardware("screw", fastening.size, count, "piece", use),)
    if fastening.item == "pin":
        return (Hardware("pin", "", count, "piece", f"{use}, glued and pinned"),)
    thread = fastening.size.split(" x ")[0]
    return (
        Hardware("bolt", fastening.size, count, "piece", use),
        Hardware("tee nut", thread, count, "piece", use),
        Hardware("washer", thread, count, "piece", use),
    )


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


def _gathered(lines: Iterable[Hardware]) -> tuple[Hardware, ...]:
    """Lines of one item and size together, their uses named once each."""

    def key(line: Hardware) -> tuple[str, str, str]:
        return line.item, line.size, line.unit

    order = {"screw": 0, "bolt": 1, "tee nut": 2, "washer": 3}
    ranked = sorted(lines, key=lambda line: (order.get(line.item, 9), *key(line)))
    made = []
    for (item, size, unit), some in groupby(ranked, key=key):
        same = list(some)
        uses = "; ".join(dict.fromkeys(line.use for line in same))
        made.append(Hardware(item, size, sum(line.quantity for line in same), unit, uses))
    return tuple(made)
