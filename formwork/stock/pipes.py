"""Pipe: real sizes of trade sizes, and how tight each material may be bent.

A trade size is a name, never a measure: 1/2 in conduit is 0.706 in across and 1/2 in pipe 0.840 in. Conduit and pipe
therefore stand in tables of their own and are never mixed.

Sources of the tables, one file each:

* ``astm_d1785_pvc.csv``: PVC pipe of schedules 40 and 80, ASTM D1785: outside diameter, least wall, and the average
  inside diameter of schedule 40, as sellers of the pipe print them.
* ``emt.csv``: electrical metallic tubing, as makers print it; the sizes 3-1/2 and 4 in are from memory. The bend
  column is the centre-line radius of a one-shot bender, as a page prints it and ascribes to the electrical code.
* ``astm_a53_steel.csv``: steel pipe, ASTM A53, standard and extra strong. That standard weight equals schedule 40 up
  to 10 in is a maker's statement, and so is the 12 in wall; that the walls equal those of PVC schedules is from memory.
* ``yard_pipes.csv``: what a small yard usually has.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Literal, get_args

from formwork.errors import RangeError
from formwork.record import record
from formwork.stock.records import StickLength, StickStock
from formwork.units.parse import read
from formwork.units.show import UnitSystem

PipeKind = Literal["EMT", "PVC schedule 40", "PVC schedule 80", "steel standard", "steel extra strong"]
KINDS: tuple[PipeKind, ...] = get_args(PipeKind)

DENSITY: dict[str, float] = {
    "EMT": 7850.0,
    "PVC schedule 40": 1400.0,
    "PVC schedule 80": 1400.0,
    "steel standard": 7850.0,
    "steel extra strong": 7850.0,
}
"""kg/m3: common practice, no source."""

_HERE = Path(__file__).parent
_INCH = Fraction(254, 10000)
_TABLE: dict[str, tuple[str, str]] = {
    "EMT": ("emt.csv", "wall_in"),
    "PVC schedule 40": ("astm_d1785_pvc.csv", "wall_40_in"),
    "PVC schedule 80": ("astm_d1785_pvc.csv", "wall_80_in"),
    "steel standard": ("astm_a53_steel.csv", "wall_std_in"),
    "steel extra strong": ("astm_a53_steel.csv", "wall_xs_in"),
}
"""By kind: its table and the column of its wall."""

_PVC_BEND = 250.0
"""Least radius of a lasting bend of PVC pipe over its outside diameter."""


@record
class PipeSize:
    """A trade size as it really is: outside diameter and (least) wall, m."""

    outside: float
    wall: float


@record
class BendLimit:
    """How tight a pipe may be bent.

    Attributes:
        radius: least centre-line radius, m.
        why: where the limit comes from, in one line.
    """

    radius: float
    why: str


def trade_sizes(kind: str) -> tuple[str, ...]:
    """The trade sizes of one kind, as printed: "1/2", "1-1/4".

    Args:
        kind: one of ``KINDS``.

    Raises:
        RangeError: for another kind.
    """
    table, wall = _of(kind)
    return tuple(row["size"] for row in _rows(table) if row[wall])


def pipe_size(kind: str, size: str) -> PipeSize:
    """What a trade size really measures.

    Args:
        kind: one of ``KINDS``.
        size: trade size as printed, without its inch sign.

    Raises:
        RangeError: if there is no such kind, or the table has no such size.

    >>> [round(pipe_size(kind, "1/2").outside / 0.0254, 3) for kind in ("EMT", "PVC schedule 40")]
    [0.706, 0.84]
    """
    table, wall = _of(kind)
    for row in _rows(table):
        if row["size"] == size and row[wall]:
            return PipeSize(_metres(row["outside_in"]), _metres(row[wall]))
    raise RangeError(f"{kind}: got trade size '{size}', want one of {', '.join(trade_sizes(kind))}")


def average_inside(size: str) -> float:
    """Average inside diameter of PVC schedule 40, m: what a fill or a sleeve really meets.

    Source: ASTM D1785, as sellers print it. It is the outside diameter less two mean walls, the mean wall being the
    least one and half of its tolerance (0.020 in or 12 %, the greater).

    Args:
        size: trade size as printed.

    Raises:
        RangeError: if the table has no such size.
    """
    for row in _rows("astm_d1785_pvc.csv"):
        if row["size"] == size:
            return _metres(row["average_inside_40_in"])
    raise RangeError(
        f"PVC schedule 40: got trade size '{size}', want one of {', '.join(trade_sizes('PVC schedule 40'))}"
    )


def bend_limit(material: str, size: str, outside: float) -> BendLimit | None:
    """The tightest bend a pipe takes; None where nothing is known of it.

    Args:
        material: a kind of ``KINDS``, or whatever the shop calls its own.
        size: trade size as printed.
        outside: outside diameter, m.

    Source: conduit: radii of one-shot benders, as printed (ascribed to the electrical code from memory). PVC: 250
    outside diameters for a bend that stays, a maker's note that quotes the PVC pipe handbook (stress 800 psi, modulus
    400 ksi). For steel pipe no limit was found: None.
    """
    if material.startswith("PVC"):
        return BendLimit(_PVC_BEND * outside, "250 outside diameters, a lasting cold bend of PVC pipe")
    if material == "EMT":
        for row in _rows("emt.csv"):
            if row["size"] == size:
                return BendLimit(_metres(row["bend_in"]), "centre-line radius of a one-shot conduit bender")
    return None


def pipes(units: UnitSystem) -> tuple[StickStock, ...]:
    """The pipes of an inch or a metric yard, without prices.

    Args:
        units: "in" or "mm".
    """
    return tuple(_stock(row) for row in _rows("yard_pipes.csv") if row["units"] == units)


def _stock(row: dict[str, str]) -> StickStock:
    real = pipe_size(row["kind"], row["size"])
    return StickStock(
        name=row["name"],
        material=row["kind"],
        nominal=row["size"],
        thickness=real.outside,
        width=real.outside,
        lengths=tuple(StickLength(read(length, "length", None)) for length in row["lengths"].split(";")),
        density=float(row["density_kg_m3"]),
        wall=real.wall,
    )


def _of(kind: str) -> tuple[str, str]:
    if kind not in _TABLE:
        raise RangeError(f"kind of pipe: got '{kind}', want one of {', '.join(KINDS)}")
    return _TABLE[kind]


def _metres(inches: str) -> float:
    return float(Fraction(inches) * _INCH)


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    with (_HERE / name).open(encoding="utf-8", newline="") as table:
        return tuple(csv.DictReader(table))
