"""Frames of bent pipe: arcs in lengths that the stock gives, sleeved end to end, clamped where they cross.

Cut lengths are measured on the pipe's centre line, with a straight tail at each end for the bender to hold; the tails
come off after bending.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from formwork.errors import StockError
from formwork.molds.frames.pipework import Cut, Pipework
from formwork.molds.mold import Blank, Hardware, Part, Placement
from formwork.shapes.piece import Bent, Frame
from formwork.stock.pipes import bend_limit
from formwork.stock.records import Saw, StickStock
from formwork.units import show
from formwork.units.show import UnitSystem

_LEAST_ARC = 0.2
"""Least length of arc worth bending between two tails, m (common practice, no source)."""


def bent(frame: Frame, pipe: StickStock, saw: Saw, units: UnitSystem) -> Pipework:
    """The pipes of a frame whose lines are all bent.

    Args:
        frame: as laid out.
        pipe: what it is built of.
        saw: kerf and end trim.
        units: how a person here reads a length.

    Raises:
        StockError: where the pipe cannot be bent so tightly, or its tails leave no length to bend.
    """
    for arc in frame.bent:
        _refuse_tight(frame, arc, pipe, units)
    cuts = tuple(_cut(frame, arc, pipe, saw, units) for arc in frame.bent)
    joints = sum(
        cut.each - (len(arc.lines) if arc.kind == "rib" else 0)
        for arc, cut in zip(frame.bent, cuts, strict=True)
    )
    return Pipework(cuts, _hardware(frame, joints, pipe), 0.0, tuple(_instructions(frame, cuts, pipe, units)))


def _refuse_tight(frame: Frame, arc: Bent, pipe: StickStock, units: UnitSystem) -> None:
    """Refuse a bend of metal tighter than its bender gives; plastic is bent tighter for a while, which is a check.

    Raises:
        StockError: with the radius that can be bent.
    """
    limit = bend_limit(pipe.material, pipe.nominal, pipe.width)
    if limit is None or pipe.material.startswith("PVC") or arc.radius >= limit.radius:
        return
    raise StockError(
        f"{frame.name}: {arc.kind} {arc.name}: got a bend of {show.length(arc.radius, units)} radius, want at least "
        f"{show.length(limit.radius, units)} for {pipe.name} ({limit.why}); make radius larger, hoops fewer, or take "
        "thinner pipe"
    )


def _cut(frame: Frame, arc: Bent, pipe: StickStock, saw: Saw, units: UnitSystem) -> Cut:
    """One class of arcs, parted into equal lengths that the longest stick gives.

    Raises:
        StockError: where the tails leave nothing to bend.
    """
    longest = max(one.length for one in pipe.lengths) - 2.0 * saw.end_trim - saw.kerf
    room = longest - 2.0 * arc.tail
    if room < _LEAST_ARC:
        raise StockError(
            f"{frame.name}: tail: got {show.length(arc.tail, units)}, of which two leave no length to bend in the "
            f"longest {pipe.name}; want a shorter tail"
        )
    parts = ceil(arc.length / room - 1e-9)
    each = arc.length / parts
    return Cut(
        letter=arc.name,
        part=_part(arc, pipe, each, units),
        each=parts * len(arc.lines),
        length=each,
        bend=arc.sweep / parts,
        radius=arc.radius,
    )


def _part(arc: Bent, pipe: StickStock, each: float, units: UnitSystem) -> Part:
    def size(value: float) -> str:
        return show.length(value, units).removesuffix(f" {units}")

    across, length = pipe.width, each + 2.0 * arc.tail
    marks = [arc.tail + each * quarter / 4.0 for quarter in range(5)]
    return Part(
        name=f"{arc.kind} {arc.name}",
        role="strut",
        kind="pipe",
        stock=pipe.name,
        group=f"{arc.kind}s {arc.name}",
        cells=(),
        blank=Blank(
            length=length,
            width=across,
            thickness=across,
            outline=((0.0, 0.0), (length, 0.0), (length, across), (0.0, across)),
            bevels=(0.0,) * 4,
            wall=pipe.wall,
        ),
        placement=Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        work=(
            f"mark at {', '.join(size(mark) for mark in marks)} {units} from one end; bend from the first to the last "
            f"mark to {show.length(arc.radius, units)} radius on the centre line, evenly from mark to mark; then cut "
            "the straight tails off"
        ),
    )


def _hardware(frame: Frame, joints: int, pipe: StickStock) -> tuple[Hardware, ...]:
    """Sleeves at every joint of two lengths, a clamp at every crossing of rib and hoop."""
    crossings = float(sum(hub.count for hub in frame.hubs if hub.ways == 2))
    lines = [Hardware("cross clamp", pipe.name, crossings, "piece", "where ribs and hoops cross")]
    if joints:
        lines.append(Hardware("sleeve", pipe.name, float(joints), "piece", "between two lengths of a line"))
    lines.append(
        Hardware("crown ring", "", 1.0, "piece", "made to size: the upper ends of the ribs are fixed to it")
    )
    return tuple(lines)


def _instructions(frame: Frame, cuts: tuple[Cut, ...], pipe: StickStock, units: UnitSystem) -> Iterator[str]:
    height = max(node[2] for node in frame.nodes)
    yield (
        f"On centre lines: {show.length(2.0 * max(arc.radius for arc in frame.bent if arc.kind == 'hoop'), units)} "
        f"across the widest hoop, {show.length(height, units)} high to the crown ring, whose radius is "
        f"{show.length(frame.crown, units)}."
    )
    yield (
        "Bend one length by trial first: pipe springs back, so the bender is set tighter than the radius; lay the "
        "length on a chalk line of the full radius."
    )
    for arc, cut in zip(frame.bent, cuts, strict=True):
        parts = cut.each // len(arc.lines)
        if parts > 1:
            yield (
                f"Each {arc.kind} {arc.name} is {parts} equal lengths of {show.length(cut.length, units)} of arc, "
                "sleeved end to end."
            )
    marks = ", ".join(show.length(mark, units) for arc in frame.bent for mark in arc.marks)
    yield f"Mark every rib for the hoops at {marks} from its foot, along the centre line."
    yield "Stand the ribs on the base hoop and fix them to the crown ring two by two across from one another."
    yield "Hold the base hoop down to the ground all round: wind lifts a light frame and pushes it over."
    if pipe.material.startswith("PVC"):
        yield (
            "Plastic pipe bent tighter than its lasting limit is for setting out only: it kinks or splits in time, at "
            "once in the cold, and may whip out when it is let go."
        )
