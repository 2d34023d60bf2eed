"""Thin plates on simple supports: for a homogeneous sheet, and as a second opinion on the strip.

Plywood is stiffer one way than the other; for it the one-way strip is the design, these only an estimate.

Source: Roark's Formulas for Stress and Strain, Table 11.4; the tables under liquid head and with a free edge
were computed by series for this project, for want of a printed one. Poisson's ratio 0.3 throughout.
Valid: deflection below half of the thickness, thickness below a quarter of the shorter side (Roark's notes).
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from math import inf
from typing import Literal

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.tables import rows
from formwork.strength.valid import not_negative, positive

Case = Literal[
    "roark_11_4_1a",
    "plate_three_edges_uniform",
    "plate_open_top_head",
    "plate_four_edges_head",
    "plate_corner_hold_down",
]

NU = 0.3
"""Poisson's ratio of the tables."""


@cache
def _table(case: Case) -> tuple[dict[str, float], ...]:
    return tuple({name: float(value) for name, value in row.items()} for row in rows(case))


def coefficients(case: Case, ratio: float) -> dict[str, float]:
    """The coefficients of a plate, on the straight line between two rows of its table.

    Args:
        case: the table.
        ratio: as the table defines it: long over short side, or height over width.

    Returns:
        Coefficients by the table's names. Beyond the last printed ratio of a table that goes to infinity, the
        greater of the two last rows.

    Raises:
        RangeError: a ratio outside the table.

    Source: module docstring.
    Valid: four edges, uniform: 1 and more; the others from 0.25 or 0.5 to 2 or 3.

    >>> coefficients("roark_11_4_1a", 1.2)["beta"]
    0.3762
    """
    table = _table(case)
    if table[-1]["ratio"] == inf and ratio >= table[-2]["ratio"]:
        return {name: max(table[-2][name], table[-1][name]) for name in table[-1] if name != "ratio"}
    for low, high in pairwise(table):
        if low["ratio"] <= ratio <= high["ratio"]:
            share = (ratio - low["ratio"]) / (high["ratio"] - low["ratio"])
            return {name: low[name] + share * (high[name] - low[name]) for name in low if name != "ratio"}
    raise RangeError(f"ratio of sides: got {ratio:g}, want {table[0]['ratio']:g} to {table[-1]['ratio']:g}")


def plate_stiffness(e: float, thickness: float) -> float:
    """Bending stiffness of a plate: D = E t^3 / (12 (1 - nu^2)).

    Args:
        e: modulus of elasticity, Pa.
        thickness: m.

    Returns:
        D, N m.

    Raises:
        RangeError: a value not above zero.

    Source: Roark, Table 11.4, notation.

    >>> round(plate_stiffness(10.92e9, 0.01), 6)
    1000.0
    """
    positive("modulus", e, "Pa")
    positive("thickness", thickness, "m")
    return e * thickness**3 / (12.0 * (1.0 - NU**2))


@record
class Plate:
    """A homogeneous sheet over one field of supports.

    Attributes:
        height: H, m.
        width: B, m.
        thickness: m.
        e: modulus of elasticity, Pa.
    """

    height: float
    width: float
    thickness: float
    e: float


@record
class Response:
    """What a plate does under its load: greatest stress, Pa, and deflection, m."""

    stress: float
    sag: float


def under_uniform(plate: Plate, pressure: float) -> Response:
    """Four edges supported, uniform pressure.

    Args:
        plate: the field.
        pressure: Pa.

    Returns:
        Stress and deflection.

    Raises:
        RangeError: outside the limits, a deflection above half of the thickness among them.

    Source: Roark, Table 11.4, case 1a.
    Valid: module docstring.

    >>> found = under_uniform(Plate(1.0, 1.0, 0.01, 10e9), 100.0)
    >>> round(found.stress), round(found.sag * 1000, 4)
    (287400, 0.444)
    """
    _check(plate, pressure)
    short, long = sorted((plate.height, plate.width))
    c = coefficients("roark_11_4_1a", long / short)
    stress = c["beta"] * pressure * short**2 / plate.thickness**2
    sag = c["alpha"] * pressure * short**4 / (plate.e * plate.thickness**3)
    return _small(plate, Response(stress, sag))


def under_head(plate: Plate, pressure: float, top: Literal["open", "held"]) -> Response:
    """A mold side under liquid head up to its upper edge, held at bottom and sides, its top open or held.

    Args:
        plate: the field.
        pressure: at the bottom, Pa.
        top: the upper edge is free, or held by a rail or lid.

    Returns:
        Stress and deflection.

    Raises:
        RangeError: outside the limits, a deflection above half of the thickness among them.

    Source: series computed for this project.
    Valid: module docstring; height over width 0.25 to 3 (top held: 0.5 to 3).

    >>> round(under_head(Plate(0.4, 0.4, 0.018, 3e9), 3000.0, "open").stress / 1e6, 3)
    0.299
    """
    _check(plate, pressure)
    case: Case = "plate_open_top_head" if top == "open" else "plate_four_edges_head"
    c = coefficients(case, plate.height / plate.width)
    side = plate.width if top == "open" else min(plate.height, plate.width)
    moment = max(c["moment_across"], c["moment_up"]) * pressure * side**2
    sag = c["sag"] * pressure * side**4 / plate_stiffness(plate.e, plate.thickness)
    return _small(plate, Response(6.0 * moment / plate.thickness**2, sag))


def _check(plate: Plate, pressure: float) -> None:
    not_negative("pressure", pressure, "Pa")
    for name, value in (("height", plate.height), ("width", plate.width), ("thickness", plate.thickness)):
        positive(name, value, "m")
    positive("modulus", plate.e, "Pa")
    if plate.thickness >= min(plate.height, plate.width) / 4.0:
        raise RangeError(f"thickness: got {plate.thickness:g} m, want below a quarter of the shorter side")


def _small(plate: Plate, found: Response) -> Response:
    if found.sag >= plate.thickness / 2.0:
        raise RangeError(f"deflection: got {found.sag:g} m, want less than half of the thickness")
    return found


def side_reaction(ratio: float) -> float:
    """Greatest pull of an open-topped mold side on its corner joint, x q0 B a unit of height.

    Args:
        ratio: height over width of the side.

    Returns:
        A plain number.

    Raises:
        RangeError: outside the table.

    Source: series computed for this project.
    Valid: 0.25 to 3.

    >>> side_reaction(1.0)
    0.242
    """
    return coefficients("plate_open_top_head", ratio)["side"]
