"""What a mold needs besides sheet and stick: screws or bolts, pins, stoppers, sealant, release agent, sealer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from formwork.geometry.cells import box_of
from formwork.molds.fastening import Fastening
from formwork.molds.gluing import glue_line, laid_on, layers, strips
from formwork.molds.joints import CLOSE, along
from formwork.molds.mold import Fixing, Hardware, Part
from formwork.molds.panels.air_hole import AIR_HOLE
from formwork.molds.panels.lining import Frame
from formwork.units import show


def fasteners(frame: Frame, parts: Sequence[Part], chosen: Sequence[Fastening]) -> tuple[Hardware, ...]:
    """Everything bought by the piece to hold one mold together, once its fastenings are chosen."""
    lines = [line for fastening in chosen for line in lines_of(fastening)]
    lines += [Hardware(pin.item, pin.size, float(pin.count), "piece", pin.use) for pin in strip_pins(parts)]
    holes = sum(len(part.blank.holes) for part in parts if part.role == "core cap")
    if holes:
        lines.append(
            Hardware(
                "stopper", show.length(AIR_HOLE, frame.units), float(holes), "piece", "air hole of each core"
            )
        )
    for size, count in _plug_sizes(frame, parts):
        lines.append(Hardware("dowel or stopper", size, float(count), "piece", "drain plugs"))
    return (*gathered(lines), *glue_line(_glued(frame, parts, chosen)))


def _glued(frame: Frame, parts: Sequence[Part], chosen: Sequence[Fastening]) -> dict[str, float]:
    """What is glued in a mold of flat panels, m2: core walls only where nothing inside holds them."""
    bare = any(one.joint.use.endswith("to one another, glued") for one in chosen)
    walls = [box_of(part.cells) for part in parts if part.role == "core wall" and part.layers == 1]
    return {
        "strips": strips(parts),
        "boards and liners": laid_on(parts),
        "layers": layers(parts),
        "core walls": frame.thickness * sum(high[2] - low[2] for low, high in walls) if bare else 0.0,
    }


def strip_pins(parts: Sequence[Part]) -> tuple[Fixing, ...]:
    """The pins that hold strips while their glue sets; none where there are no strips."""
    strips = [part for part in parts if part.role == "strip"]
    if not strips:
        return ()
    pins = sum(along(part.blank.length, CLOSE) for part in strips)
    return (Fixing("strips, glued and pinned", "pin", "", pins, len(strips), comes_off=False),)


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


def lines_of(fastening: Fastening) -> tuple[Hardware, ...]:
    """What is bought for one joint: screws, pins, or bolts with their nuts and washers."""
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


def gathered(lines: Iterable[Hardware]) -> tuple[Hardware, ...]:
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
