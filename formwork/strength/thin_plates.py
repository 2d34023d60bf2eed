"""Screws loaded sideways through a thin steel plate into wood.

Symbols as in ``dowels``. The plate turns the screw so little that the yield modes come to two: the plate crushed at the
hole, and the screw bent in the wood, mode III_s with a side member that is hard and of no thickness.

Source: National Design Specification, yield limit equations as in ``dowels``; the limit of k3 l_s as l_s goes to 0 with
R_e at 0 is 2 D sqrt(F_yb / 3 F_em), our own algebra; F_e of steel sheet 61 850 psi from memory of NDS appendix I.
"""

from __future__ import annotations

from math import sqrt

from formwork.strength.customary import MM, MPA, PSI
from formwork.strength.dowels import FE_MPA, MIN_PENETRATION, bearing_strength, reduction
from formwork.strength.fasteners import SHORT, WET, Capacity, Fastener
from formwork.strength.valid import positive, within
from formwork.strength.working import given, step

STEEL_BEARING = 61850.0 * PSI
"""Dowel bearing strength of steel sheet (from memory of NDS appendix I)."""


def through_plate(
    fastener: Fastener, plate: float, main: float, gravity: float, *, wet: bool = True, short: bool = False
) -> Capacity:
    """What one screw or nail holds sideways through a steel plate.

    Args:
        fastener: the screw.
        plate: thickness of the plate, m.
        main: length of the fastener in the wood, m.
        gravity: specific gravity of the wood.
        wet: wet in service.
        short: loaded less than seven days in all.

    Returns:
        Capacity, N, with its working.

    Raises:
        RangeError: outside the limits.

    Source: module docstring; factors as in ``dowels``.
    Valid: D up to 1/4 in; the point at least 6 D in the wood; a plate no thicker than half of D.
    """
    positive("plate", plate, "m")
    within("plate", plate, 0.0, 0.5 * fastener.diameter + 1e-9, "m")
    within("penetration", main, MIN_PENETRATION * fastener.root - 1e-9, 10.0, "m")
    D, Fyb, ls = fastener.root / MM, fastener.fyb / MPA, plate / MM
    Fem, Fes, Kd = bearing_strength(gravity) / MPA, STEEL_BEARING / MPA, reduction(fastener.root)
    crushed, bent = D * ls * Fes / Kd, D**2 / Kd * sqrt(Fem * Fyb / 3)
    C_D, C_M = SHORT if short else 1.0, WET if wet else 1.0
    C_p = min(1.0, main / (10.0 * fastener.root))
    value = min(crushed, bent) * C_D * C_M * C_p
    n = {"D": D, "ls": ls, "Fem": Fem, "Fes": Fes, "Fyb": Fyb, "Kd": Kd, "k_F": FE_MPA, "Gm": gravity}
    steps = (
        given("Kd", Kd, "", "NDS"),
        step("Fem", "k_F * Gm^1.84", Fem, "MPa", **n),
        given("Fes", Fes, "MPa", "steel sheet, from memory"),
        step("Z_Is", "D * ls * Fes / Kd", crushed, "N", **n),
        step("Z_IIIs", "D^2 / Kd * sqrt(Fem * Fyb / 3)", bent, "N", **n),
        step("Z", "min(Z_Is, Z_IIIs) * C_D * C_M * C_p", value, "N",
             Z_Is=crushed, Z_IIIs=bent, C_D=C_D, C_M=C_M, C_p=C_p),
    )  # fmt: skip
    return Capacity(f"{fastener.kind} {fastener.size} sideways", value, "NDS yield modes, thin plate", steps)
