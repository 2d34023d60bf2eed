"""Tubes that round pieces are cast in, and what their labels say, which is no measure.

The size on a tube's label is nominal: it finds the tube on the shelf. What a piece comes out as is the diameter that
somebody measured; a tube that nobody measured says so wherever it is used.

The usual yard's tubes are in ``yard_tubes.csv``: sizes and lengths as sellers print them, walls and density common
practice without a source.
"""

from __future__ import annotations

import csv
from functools import cache
from math import pi
from pathlib import Path
from typing import Literal

from formwork.record import record
from formwork.stock.records import StickLength, StickStock
from formwork.units.parse import read
from formwork.units.show import UnitSystem

TubeKind = Literal["cardboard", "plastic pipe", "steel"]

DENSITY: dict[TubeKind, float] = {"cardboard": 700.0, "plastic pipe": 1400.0, "steel": 7850.0}
"""kg/m3: common practice, no source."""

CUBIC_FOOT = 0.3048**3
_YARD = Path(__file__).parent / "yard_tubes.csv"


@record
class TubeStock:
    """One size of tube, sold in several lengths.

    Attributes:
        name: how the shop calls it.
        kind: what it is made of.
        nominal: the size on its label, as printed there; empty where it has none.
        size: that size, m; 0 where it has none.
        inside: inside diameter as measured, m; None where nobody measured it.
        outside: outside diameter as measured, m; None where nobody measured it.
        wall: thickness of its wall, m.
        lengths: what the yard has.
        density: of what it is made of, kg/m3.
        head: height of ordinary concrete that its maker allows in it, m; None where the shop gives none.
        pressure: that its maker allows in it, Pa; None where the shop gives none.
        strength: tension along its circumference that its wall may carry, Pa; None where the shop gives none.
    """

    name: str
    kind: TubeKind
    nominal: str
    size: float
    inside: float | None
    outside: float | None
    wall: float
    lengths: tuple[StickLength, ...]
    density: float
    head: float | None = None
    pressure: float | None = None
    strength: float | None = None

    @property
    def longest(self) -> float:
        """The longest length it is sold in, m."""
        return max(one.length for one in self.lengths)

    @property
    def stick(self) -> StickStock:
        """The tube as what is cut to length: nobody needs more of it than its lengths and what it weighs."""
        outside = self.outside or (self.inside or self.size) + 2.0 * self.wall
        return StickStock(
            name=self.name,
            material=self.kind,
            nominal=self.nominal,
            thickness=outside,
            width=outside,
            lengths=self.lengths,
            density=self.density,
            wall=self.wall,
            square=True,
        )


def fill_of(inside: float, length: float) -> float:
    """What a tube holds, m3.

    Args:
        inside: inside diameter, m.
        length: m.

    Source: volume of a cylinder; sellers' tables of concrete tubes print it by the foot.

    >>> round(fill_of(8 * 0.0254, 0.3048) / CUBIC_FOOT, 4)
    0.3491
    """
    return pi / 4.0 * inside**2 * length


def tubes(units: UnitSystem) -> tuple[TubeStock, ...]:
    """The tubes of an inch or a metric yard, measured by nobody and without prices.

    Args:
        units: "in" or "mm".
    """
    return tuple(_stock(row) for row in _rows() if row["units"] == units)


def _stock(row: dict[str, str]) -> TubeStock:
    return TubeStock(
        name=row["name"],
        kind="cardboard",
        nominal=row["nominal"],
        size=read(row["nominal"], "length", None),
        inside=None,
        outside=None,
        wall=read(row["wall"], "length", None),
        lengths=tuple(StickLength(read(length, "length", None)) for length in row["lengths"].split(";")),
        density=float(row["density_kg_m3"]),
    )


@cache
def _rows() -> tuple[dict[str, str], ...]:
    with _YARD.open(encoding="utf-8", newline="") as table:
        return tuple(csv.DictReader(table))
