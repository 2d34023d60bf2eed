"""Frames of straight pipe: ends flattened, bored and bent, bolted together at the nodes.

At a node all flattened ends lie on one another on one bolt. Lengths of bolts above the stack of flattened ends are
common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot

from formwork.errors import StockError
from formwork.molds.frames.pipework import Cut, Pipework
from formwork.molds.mold import Blank, Hardware, Part, Placement
from formwork.record import record
from formwork.shapes.piece import Frame, Member
from formwork.stock.records import HardwareStock, StickStock
from formwork.units import show
from formwork.units.parse import QuantityError, read
from formwork.units.show import UnitSystem

_WASHERS = 0.004
"""Two washers, m."""
_THREAD_OUT = 0.003
"""Thread that must show past the nut, m."""
_PLAY = 0.001
"""Hole over bolt, m."""
_NUT = 0.85
"""Height of a nut over its thread."""
TELLABLE = 0.002
"""Two cut lengths nearer than this are not told apart with a tape, m (common practice, no source)."""
_LEVEL = 1e-6


@record
class _Bolt:
    size: str
    thread: float
    length: float


def strutted(
    frame: Frame, pipe: StickStock, hardware: Sequence[HardwareStock], units: UnitSystem
) -> Pipework:
    """The pipes of a frame whose members are all straight.

    Args:
        frame: as laid out.
        pipe: what it is built of.
        hardware: what the shop lists; its bolts are looked through.
        units: how a person here reads a length.

    Raises:
        StockError: where the shop has no bolt that is long enough.
    """
    stack = max(hub.ways for hub in frame.hubs) * 2.0 * pipe.wall
    bolt = _bolt(frame, hardware, stack, units)
    cuts = tuple(
        Cut(member.name, _part(member, pipe, bolt, units), len(member.joins), member.length, member.bend)
        for member in frame.members
    )
    return Pipework(cuts, _bolts(frame, bolt), stack, _instructions(frame, pipe, stack, units))


def _bolt(frame: Frame, stock: Sequence[HardwareStock], stack: float, units: UnitSystem) -> _Bolt:
    """The shortest bolt of the shop that goes through the fullest node.

    Raises:
        StockError: where there is none.
    """
    known = [bolt for one in stock if one.item == "bolt" and (bolt := _sized(one.size))]
    for bolt in sorted(known, key=lambda one: (one.length, one.thread, one.size)):
        if bolt.length >= stack + _WASHERS + _NUT * bolt.thread + _THREAD_OUT:
            return bolt
    raise StockError(
        f"{frame.name}: the shop lists no bolt that goes through {show.length(stack, units)} of flattened pipe at a "
        "hub, with washers and nut; add one as [[hardware]] to the shop file, or use a lighter pipe"
    )


def _sized(size: str) -> _Bolt | None:
    """Thread and length of a bolt as printed: "5/16 x 2 in", "M8 x 60 mm"; None where it is written otherwise."""
    thread, _, length = size.partition(" x ")
    unit = "mm" if thread.startswith("M") else "in"
    try:
        return _Bolt(
            size, read(f"{thread.removeprefix('M')} {unit}", "length", None), read(length, "length", None)
        )
    except QuantityError:
        return None


def _part(member: Member, pipe: StickStock, bolt: _Bolt, units: UnitSystem) -> Part:
    hole = bolt.thread + _PLAY
    across = pipe.width
    outline = ((0.0, 0.0), (member.cut, 0.0), (member.cut, across), (0.0, across))
    ends = (member.beyond, member.cut - member.beyond)
    return Part(
        name=f"strut {member.name}",
        role="strut",
        kind="pipe",
        stock=pipe.name,
        group=f"struts {member.name}",
        cells=(),
        blank=Blank(
            length=member.cut,
            width=across,
            thickness=across,
            outline=outline,
            bevels=(0.0,) * 4,
            holes=tuple((x, across / 2.0, hole) for x in ends),
            wall=pipe.wall,
        ),
        placement=Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        work=(
            f"flatten {show.length(member.flat, units)} at each end, both in one plane; bore "
            f"{show.length(hole, units)} at {show.length(member.beyond, units)} from each end; "
            "bend both flats to the same side, by the angle listed for the strut"
        ),
    )


def _bolts(frame: Frame, bolt: _Bolt) -> tuple[Hardware, ...]:
    nodes = float(len(frame.nodes))
    thread = bolt.size.split(" x ")[0]
    return (
        Hardware("bolt", bolt.size, nodes, "piece", "one for each hub"),
        Hardware("nut", thread, nodes, "piece", "one for each hub"),
        Hardware("washer", thread, 2.0 * nodes, "piece", "two for each hub"),
    )


def _instructions(frame: Frame, pipe: StickStock, stack: float, units: UnitSystem) -> tuple[str, ...]:
    return (
        _sizes(frame, units),
        "Cut all pipes of a mark in one go against a stop, mark each one as it is cut, and keep the marks apart.",
        *_near_twins(frame, units),
        _shortening(frame, units),
        f"Up to {max(hub.ways for hub in frame.hubs)} flattened ends lie on one bolt, {show.length(stack, units)} of "
        "pipe: ends far down the stack sit that much off the sphere, so leave all bolts loose until the frame closes.",
        *_base(frame, units),
        "Put it up from the base ring, row by row, every flat bent toward the inside; tighten from the top down.",
        *_plastic(pipe),
    )


def _sizes(frame: Frame, units: UnitSystem) -> str:
    """Height and breadth, bolt to bolt."""
    height = max(node[2] for node in frame.nodes)
    across = 2.0 * max(hypot(frame.nodes[node][0], frame.nodes[node][1]) for node in frame.base)
    return (
        f"From bolt to bolt: {show.length(across, units)} across the base, {show.length(height, units)} high, "
        f"{len(frame.nodes)} hubs, {sum(len(member.joins) for member in frame.members)} struts."
    )


def _near_twins(frame: Frame, units: UnitSystem) -> tuple[str, ...]:
    """Classes whose lengths a tape does not tell apart."""
    pairs = zip(frame.members, frame.members[1:], strict=False)
    near = [f"{a.name} and {b.name}" for a, b in pairs if b.length - a.length < TELLABLE]
    if not near:
        return ()
    return (
        f"Struts {', '.join(near)} differ by less than {show.length(TELLABLE, units)}: no tape tells them apart "
        "once they are mixed; only their marks do.",
    )


def _shortening(frame: Frame, units: UnitSystem) -> str:
    """What bending the flats takes off the length from hole to hole, and that it is left out."""
    most = max(2.0 * (member.flat - member.beyond) * (1.0 - cos(member.bend)) for member in frame.members)
    return (
        f"Bending the flats brings the two holes of a strut nearer by up to {_fine(most, units)}; "
        "the cut lengths leave that out, as every strut loses about the same."
    )


def _fine(value: float, units: UnitSystem) -> str:
    """A length too small for sixteenths."""
    if units == "in":
        return f"{show.plain(value / show.INCH, 3)} in"
    return f"{show.plain(value * 1000.0, 1)} mm"


def _base(frame: Frame, units: UnitSystem) -> tuple[str, ...]:
    """Whether the base hubs lie level, and how much to pack under those that do not reach the ground."""
    heights = [frame.nodes[node][2] for node in frame.base]
    floor = min(heights)
    gaps = sorted({round(height - floor, 6) for height in heights if height - floor > _LEVEL})
    anchor = (
        "Hold every base hub down to the ground or to a ring: wind lifts a light frame and pushes it over."
    )
    if not gaps:
        return ("The base hubs lie level.", anchor)
    packed = [
        f"{sum(abs(height - floor - gap) < 2.0 * _LEVEL for height in heights)} of them by {show.length(gap, units)}"
        for gap in gaps
    ]
    return (
        f"The base hubs do not lie level: on level ground {sum(h - floor < _LEVEL for h in heights)} of the "
        f"{len(heights)} stand on it and the others hang above it: pack up under {' and '.join(packed)}. Left as it "
        'is, the frame rocks; base = "level" brings all to one height, with more kinds of struts.',
        anchor,
    )


def _plastic(pipe: StickStock) -> tuple[str, ...]:
    if not pipe.material.startswith("PVC"):
        return ()
    return (
        "Plastic pipe is flattened warm and breaks in the cold and in the sun; hang nothing on it and let nobody "
        "climb it (common practice).",
    )
