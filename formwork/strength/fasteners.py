"""Nails and screws pulled out of the wood: what they are, and what they hold along their own axis.

Sideways load (yield modes) stands in :mod:`formwork.strength.dowels`.

Source: NDS formulas as printed by Engineering ToolBox and Civil Engineering Formulas ch. 6 (W = 1380 G^(5/2)
D for nails, 2850 G^2 D for wood screws, lb an inch of penetration in side grain); lag screws 1800 G^(3/2)
D^(3/4) and the part left in end grain: a reprint of NDS; wet service 0.7: from memory.
"""

from __future__ import annotations

import re
from functools import cache
from math import ceil
from typing import Literal

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import INCH, LBF, MM, PSI
from formwork.strength.tables import rows
from formwork.strength.valid import not_negative, positive, within
from formwork.strength.working import Step, Verdict, given, step

ROOT_SHARE = 2.0 / 3.0
"""Root over shank of screws that no table gives: USDA Wood Handbook (FPL-GTR-190), ch. 8, on average."""

WET = 0.7
"""Wet service factor of screws in withdrawal and of all dowels sideways, from memory."""

SHORT = 1.25
"""Load duration factor for less than seven days: Peurifoy & Oberlender p. 137."""

Where = Literal["side grain", "end grain"]


@record
class Fastener:
    """A nail or a screw.

    Attributes:
        kind: nail, wood screw or lag screw.
        size: as printed on the box.
        diameter: of the shank, m.
        root: of a screw at the root of its thread; of a nail the diameter, m.
        fyb: bending yield strength, Pa.
    """

    kind: Literal["nail", "wood screw", "lag screw"]
    size: str
    diameter: float
    root: float
    fyb: float


@record
class Capacity:
    """What one fastener holds: N, in which way, who says so, and how it was found."""

    name: str
    value: float
    source: str
    steps: tuple[Step, ...]


def bending_yield(diameter: float) -> float:
    """Bending yield strength of a nail or screw.

    Args:
        diameter: of the shank, m.

    Returns:
        Fyb, Pa.

    Raises:
        RangeError: thicker than the table.

    Source: NDS appendix I, from memory.
    Valid: diameter up to 0.273 in (6.9 mm).

    >>> round(bending_yield(0.162 * INCH) / PSI)
    90000
    """
    positive("diameter", diameter, "m")
    for row in rows("nds_bending_yield"):
        if diameter <= float(row["greatest_diameter_in"]) * INCH + 1e-7:
            return float(row["Fyb_psi"]) * PSI
    raise RangeError(f"diameter: got {diameter / MM:g} mm, want up to 6.93 mm")


@cache
def nail(size: str) -> Fastener:
    """A common nail by its pennyweight.

    Args:
        size: "6d", "8d", "10d", "16d", "12d sinker".

    Returns:
        The nail.

    Raises:
        RangeError: no such size in the table.

    Source: Missouri S&T lecture on NDS connections; University of Florida lecture notes, week 5.

    >>> round(nail("16d").diameter / INCH, 3)
    0.162
    """
    for row in rows("nds_nails"):
        if row["size"] == size:
            diameter = float(row["diameter_in"]) * INCH
            return Fastener("nail", size, diameter, diameter, bending_yield(diameter))
    raise RangeError(f"nail: got {size!r}, want one of {', '.join(row['size'] for row in rows('nds_nails'))}")


_GAUGE = re.compile(r"#\s*(\d+)")
_METRIC = re.compile(r"(\d+(?:\.\d+)?)\s*(?:mm)?\s*(?:[xX×]|mm|$)")


@cache
def screw(size: str) -> Fastener:
    """A wood screw by what is printed on the box.

    Args:
        size: "#8", "#8 x 2 in", "4 x 50 mm", "4.5 mm"; length is not read.

    Returns:
        The screw.

    Raises:
        RangeError: a size that is not understood or not in the tables.

    Source: NDS appendix L (from memory but for #8, #10, #12); metric ones: root two thirds of the shank (Wood
    Handbook).
    Valid: #6 to #14; 3 to 6.9 mm.

    >>> round(screw("#10 x 2 1/2 in").root / INCH, 3)
    0.152
    >>> round(screw("4.5 x 60 mm").root * 1000, 6)
    3.0
    """
    if gauge := _GAUGE.match(size.strip()):
        for row in rows("nds_wood_screws"):
            if row["number"] == gauge.group(1):
                diameter = float(row["diameter_in"]) * INCH
                root = float(row["root_in"]) * INCH
                return Fastener("wood screw", f"#{row['number']}", diameter, root, bending_yield(diameter))
    elif metric := _METRIC.match(size.strip()):
        diameter = float(metric.group(1)) * MM
        within("screw diameter", diameter, 3.0 * MM, 6.93 * MM, "m")
        return Fastener(
            "wood screw", f"{metric.group(1)} mm", diameter, diameter * ROOT_SHARE, bending_yield(diameter)
        )
    known = ", ".join(f"#{row['number']}" for row in rows("nds_wood_screws"))
    raise RangeError(f"screw: got {size!r}, want one of {known} or a size like '4 x 50 mm'")


def gravity(material: str) -> float:
    """Specific gravity of a softwood, oven-dry, a plain number.

    Args:
        material: species as the stock record has it; grade may follow; what is not in the table is an unknown
            softwood.

    Source: NDS table 12.3.3A, from memory.

    >>> gravity("Douglas Fir-Larch No.2"), gravity("softwood")
    (0.5, 0.36)
    """
    wanted = material.casefold().strip()
    for row in rows("wood_gravity"):
        if wanted == row["species"] or wanted.startswith(row["species"] + " "):
            return float(row["gravity"])
    return float(rows("wood_gravity")[-1]["gravity"])


@record
class Holding:
    """The wood that holds the point, and how the joint is used.

    Attributes:
        gravity: specific gravity of that wood.
        where: side grain, or end grain (the fastener runs along the fibres).
        wet: the wood is wet in service, as beside fresh concrete.
        short: loaded less than seven days in all.
    """

    gravity: float
    where: Where = "side grain"
    wet: bool = True
    short: bool = False

    @property
    def factor(self) -> float:
        """C_D times C_M, a plain number."""
        return (SHORT if self.short else 1.0) * (WET if self.wet else 1.0)


def unit_withdrawal(fastener: Fastener, gravity: float) -> float:
    """Reference withdrawal value in side grain: N a metre of thread or nail in the holding wood.

    Args:
        fastener: nail, wood screw or lag screw.
        gravity: specific gravity of the wood that holds the point.

    Returns:
        W, N/m.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: specific gravity 0.31 to 0.73, the range of the NDS tables (from memory).

    >>> ten = Fastener("wood screw", "#10", 0.19 * INCH, 0.152 * INCH, 80000 * PSI)
    >>> round(unit_withdrawal(ten, 0.45) * INCH / LBF, 1)
    109.7
    """
    within("specific gravity", gravity, 0.31, 0.73, "")
    d = fastener.diameter / INCH
    match fastener.kind:
        case "nail":
            pounds = 1380.0 * gravity**2.5 * d
        case "wood screw":
            pounds = 2850.0 * gravity**2 * d
        case "lag screw":
            pounds = 1800.0 * gravity**1.5 * d**0.75
    return float(pounds * LBF / INCH)


def withdrawal(fastener: Fastener, holding: Holding, penetration: float) -> Capacity:
    """What one fastener holds against being pulled out.

    Args:
        fastener: nail, wood screw or lag screw.
        holding: the wood that holds the point.
        penetration: length of thread (of nail) in that wood, m.

    Returns:
        Capacity, N, with its working; nothing in end grain, but for lag screws three quarters.

    Raises:
        RangeError: outside the limits.

    Source: module docstring. NDS advises against plain nails pulled along their axis (Missouri S&T lecture).
    Valid: as :func:`unit_withdrawal`; the head must hold too: no value for heads pulling through was read.

    >>> round(withdrawal(screw("#10"), Holding(0.45, wet=False), INCH).value / LBF, 1)
    109.7
    """
    not_negative("penetration", penetration, "m")
    unit = unit_withdrawal(fastener, holding.gravity)
    grain = _end_grain(fastener) if holding.where == "end grain" else 1.0
    value = unit * penetration * holding.factor * grain
    steps = (
        given("W", unit * MM, "N/mm", f"{fastener.kind} {fastener.size}, gravity {holding.gravity:g}"),
        step("R", "W * p_t * C_D * C_M * C_eg", value, "N", W=unit * MM, p_t=penetration / MM,
             C_D=SHORT if holding.short else 1.0, C_M=WET if holding.wet else 1.0, C_eg=grain),
    )  # fmt: skip
    return Capacity(f"{fastener.kind} {fastener.size} pulled out", value, "NDS withdrawal", steps)


def _end_grain(fastener: Fastener) -> float:
    return 0.75 if fastener.kind == "lag screw" else 0.0


def needed(force: float, capacity: float) -> int:
    """How many fasteners share a force, at least one.

    Args:
        force: N.
        capacity: of one, N.

    Raises:
        RangeError: a capacity that is not above zero.

    >>> needed(1000.0, 300.0)
    4
    """
    not_negative("force", force, "N")
    positive("capacity", capacity, "N")
    return max(1, ceil(force / capacity - 1e-9))


def shared(name: str, force: float, count: int, capacity: Capacity) -> Verdict:
    """A force that equal fasteners share, against what they hold.

    Args:
        name: what is judged ("corner screws").
        force: N.
        count: fasteners that share it.
        capacity: of one.

    Returns:
        Verdict in N for one fastener.

    Raises:
        RangeError: no fastener, or a negative force.

    Source: statics; the capacity's own.
    """
    not_negative("force", force, "N")
    positive("count", count, "")
    steps = (*capacity.steps, step("F_1", "F / n", force / count, "N", F=force, n=count))
    return Verdict(name, force / count, capacity.value, "N", capacity.source, steps)
