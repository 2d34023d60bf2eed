"""Bolts loaded sideways: the six yield modes of a single-shear joint for dowels of a quarter inch and more.

Symbols as in ``dowels``: D diameter, l length in bearing, F_e dowel bearing strength, F_yb bending yield strength, m
main member, s side member, R_e = F_em/F_es, R_t = l_m/l_s; K_t = 1 + 0.25 t/90 for the greatest angle t between load
and grain, in degrees.

Both members are taken to be loaded across their grain (t = 90 degrees), which is the least favourable case, since a
mold's sticks and sheets lie with their grain every way; plywood is taken as solid wood loaded so.

Source: National Design Specification, yield limit equations and dowel bearing strength F_e = 6100 G^1.45 / sqrt(D)
across the grain (psi, D in inches), R_d = 4 K_t (modes I), 3.6 K_t (mode II), 3.2 K_t (modes III and IV), F_yb
45 000 psi, all from memory; wet service factor as for nails and screws, from memory.
"""

from __future__ import annotations

import re
from math import sqrt

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import INCH, MM, MPA, PSI
from formwork.strength.fasteners import WET, Capacity
from formwork.strength.valid import positive, within
from formwork.strength.working import Step, given, step

FYB = 45_000.0 * PSI
"""Bending yield strength of a common bolt, Pa (from memory)."""
K_T = 1.25
"""1 + 0.25 t/90 at 90 degrees."""


_METRIC = re.compile(r"M(\d+(?:\.\d+)?)")
_INCHES = re.compile(r"(?:(\d+) )?(\d+)/(\d+)")


def bolt_diameter(size: str) -> float:
    """Diameter of a bolt by what is printed on the box, m.

    Args:
        size: "5/16 x 2 in", "M8 x 50 mm"; length is not read.

    Raises:
        RangeError: a size that is not understood.

    Source: ISO metric and unified inch threads are named by their diameter.

    >>> bolt_diameter("M8 x 50 mm"), round(bolt_diameter("5/16 x 2 in") / INCH, 6)
    (0.008, 0.3125)
    """
    if metric := _METRIC.match(size):
        return round(float(metric.group(1)) * MM, 9)
    if inches := _INCHES.match(size):
        whole, over, under = (int(part or 0) for part in inches.groups())
        if under:
            return (whole + over / under) * INCH
    raise RangeError(f"bolt: got {size!r}, want a size such as 'M8 x 50 mm' or '5/16 x 2 in'")


@record
class Bolted:
    """Two members on one bolt.

    Attributes:
        diameter: of the bolt, m.
        side: thickness of one member, m.
        main: thickness of the other, m.
        gravity: specific gravity of both.
        wet: wet in service.
    """

    diameter: float
    side: float
    main: float
    gravity: float
    wet: bool = True


def bearing_across(gravity: float, diameter: float) -> float:
    """Dowel bearing strength of wood across its grain, Pa.

    Args:
        gravity: specific gravity.
        diameter: of the bolt, m.

    Raises:
        RangeError: outside the limits.

    Source: module docstring, from memory.
    Valid: specific gravity 0.31 to 0.73; bolts of 1/4 to 1 in.

    >>> round(bearing_across(0.5, 0.5 * INCH) / PSI, -1)
    3160.0
    """
    within("specific gravity", gravity, 0.31, 0.73, "")
    within("bolt diameter", diameter, 0.25 * INCH - 4e-4, INCH + 1e-9, "m")
    return float(6100.0 * gravity**1.45 / sqrt(diameter / INCH) * PSI)


def yield_modes(joint: Bolted) -> tuple[Step, ...]:
    """The six modes of single shear, in the order Im, Is, II, IIIm, IIIs, IV, after what they are worked out from.

    Args:
        joint: the bolt and what it joins.

    Returns:
        The modes are the last six steps, N.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bearing_across`.
    """
    positive("side member", joint.side, "m")
    positive("main member", joint.main, "m")
    D, lm, ls, F = joint.diameter / MM, joint.main / MM, joint.side / MM, FYB / MPA
    Fe = bearing_across(joint.gravity, joint.diameter) / MPA
    Rt = lm / ls
    k1 = (sqrt(1 + 2 * (1 + Rt + Rt**2) + Rt**2) - (1 + Rt)) / 2
    k2 = sqrt(4 + 2 * F * D**2 / (Fe * lm**2)) - 1
    k3 = sqrt(4 + 2 * F * D**2 / (Fe * ls**2)) - 1
    n = {"D": D, "lm": lm, "ls": ls, "Fyb": F, "Fe": Fe, "Rt": Rt, "k1": k1, "k2": k2, "k3": k3, "Kt": K_T}
    return (
        given("Fe", Fe, "MPa", "dowel bearing across the grain, NDS, from memory"),
        step("Rt", "lm / ls", Rt, "", **n),
        step("k1", "(sqrt(1 + 2 * (1 + Rt + Rt^2) + Rt^2) - (1 + Rt)) / 2", k1, "", **n),
        step("k2", "sqrt(4 + 2 * Fyb * D^2 / (Fe * lm^2)) - 1", k2, "", **n),
        step("k3", "sqrt(4 + 2 * Fyb * D^2 / (Fe * ls^2)) - 1", k3, "", **n),
        step("Z_Im", "D * lm * Fe / (4 * Kt)", D * lm * Fe / (4 * K_T), "N", **n),
        step("Z_Is", "D * ls * Fe / (4 * Kt)", D * ls * Fe / (4 * K_T), "N", **n),
        step("Z_II", "k1 * D * ls * Fe / (3.6 * Kt)", k1 * D * ls * Fe / (3.6 * K_T), "N", **n),
        step("Z_IIIm", "k2 * D * lm * Fe / (3 * 3.2 * Kt)", k2 * D * lm * Fe / (3 * 3.2 * K_T), "N", **n),
        step("Z_IIIs", "k3 * D * ls * Fe / (3 * 3.2 * Kt)", k3 * D * ls * Fe / (3 * 3.2 * K_T), "N", **n),
        step(
            "Z_IV", "D^2 / (3.2 * Kt) * sqrt(Fe * Fyb / 3)", D**2 / (3.2 * K_T) * sqrt(Fe * F / 3), "N", **n
        ),
    )


def bolt_across(joint: Bolted) -> Capacity:
    """What one bolt holds sideways: the least mode, times the wet factor.

    Args:
        joint: the bolt and what it joins.

    Returns:
        Capacity, N, with its working.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bearing_across`; spacing and edge distances that let the bolt reach it are not checked here.
    """
    steps = yield_modes(joint)
    least = min(steps[-6:], key=lambda mode: mode.value)
    C_M = WET if joint.wet else 1.0
    value = least.value * C_M
    working = (*steps, step("Z", "Z_min * C_M", value, "N", Z_min=least.value, C_M=C_M))
    return Capacity("bolt sideways", value, f"NDS yield mode {least.symbol[2:]}, from memory", working)
