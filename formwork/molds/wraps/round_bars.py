"""Bars over the hung core of a round piece: where they lie, and where the core pulls at them. Lengths in m."""

from __future__ import annotations

from math import sqrt

from formwork.geometry.outlines import rectangle
from formwork.geometry.prisms import Prism
from formwork.molds.mold import Blank, Part, Placement
from formwork.molds.wraps.round_core import RIB, RoundCore
from formwork.stock.records import StickStock


def bars(core: RoundCore, stick: StickStock, outer: float, fill: float) -> tuple[Part, ...]:
    """Two bars over a hung core, lying flat from ring to ring across its ribs.

    Args:
        core: the core.
        stick: that they are cut from.
        outer: outer radius of the mold's upper ring.
        fill: height of the fill plane.
    """
    off = bar_place(core)
    half = sqrt(outer**2 - off**2)
    made = []
    for number, y in enumerate((-off, off), start=1):
        corners = rectangle((-half, y - stick.width / 2.0), (half, y + stick.width / 2.0))
        blank = Blank(
            2.0 * half,
            stick.width,
            stick.thickness,
            rectangle((0.0, 0.0), (2.0 * half, stick.width)).points,
            (0.0,) * 4,
        )
        made.append(
            Part(
                name=f"{core.former.name} bar {number}",
                role="bar",
                kind="stick",
                stock=stick.name,
                group=core.ribs_group,
                cells=(),
                blank=blank,
                placement=Placement(
                    (-half, y - stick.width / 2.0, fill + stick.thickness),
                    (1.0, 0.0, 0.0),
                    (0.0, 1.0, 0.0),
                    (0.0, 0.0, -1.0),
                ),
                prisms=(Prism(corners, stick.thickness, (0.0, 0.0, fill)),),
            )
        )
    return tuple(made)


def bar_place(core: RoundCore) -> float:
    """How far the middle of a bar lies from the axis."""
    return core.inside.head[0] / 2.0


def bar_ends(core: RoundCore, ring: float) -> tuple[float, float]:
    """Half the span of a bar between the middles of the upper ring, and how far from there the core pulls at it.

    Args:
        core: the core.
        ring: radius of the middle of the mold's upper ring.
    """
    off = bar_place(core)
    middle = core.inside.head[0] - min(RIB, core.inside.head[0]) / 2.0
    half, pull = sqrt(ring**2 - off**2), sqrt(max(0.0, middle**2 - off**2))
    return half, half - pull
