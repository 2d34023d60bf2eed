"""A soft strip bent round the foot of a round mold: it shapes the chamfer, and stays glued to the base."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import pi

from formwork.errors import GeometryError
from formwork.geometry.outlines import centroid
from formwork.geometry.turned import Turned
from formwork.molds.mold import Blank, Hardware, Part, Placement
from formwork.shapes.piece import CurvedFormer
from formwork.units import show
from formwork.units.show import UnitSystem

STOCK = "chamfer strip"
"""Bought by length, of rubber or soft plastic, so that it bends round a foot."""
BEND_IT = "Bend the chamfer strip round inside the circle, its upright back outward, and glue it down."


def foot_strip(former: CurvedFormer, group: str, units: UnitSystem) -> Part:
    """The strip of a chamfer.

    Args:
        former: that it is, turned about the axis.
        group: that it leaves with.
        units: how a person here reads its size.

    Raises:
        GeometryError: where the former does not go all the way round.
    """
    body = former.body
    if not isinstance(body, Turned) or not body.whole:
        raise GeometryError(f"the {former.name} does not go all the way round")
    r, _ = centroid(body.profile)
    wide, tall = (
        max(point[i] for point in body.profile.points) - min(point[i] for point in body.profile.points)
        for i in (0, 1)
    )
    length = 2.0 * pi * r
    outline = ((0.0, 0.0), (length, 0.0), (length, wide), (0.0, wide))
    return Part(
        name=former.name,
        role="strip",
        kind="hardware",
        stock=STOCK,
        group=group,
        cells=(),
        blank=Blank(length, wide, tall, outline, (0.0,) * 4),
        placement=Placement((r, 0.0, 0.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0)),
        turned=(body,),
        work=f"soft strip of {show.length(wide, units)}, bent round inside the mold and glued to the base",
    )


def strip_lines(parts: Iterable[Part]) -> Iterator[Hardware]:
    """What is bought of it, by length."""
    for part in parts:
        if part.stock == STOCK:
            yield Hardware(
                STOCK, part.work.split(",")[0], part.blank.length, "m", "round the foot of the mold"
            )
