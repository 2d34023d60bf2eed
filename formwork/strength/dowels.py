"""Nails and screws loaded sideways: the six yield modes of a single-shear joint.

Symbols as in the document: D dowel diameter (root of a screw), l length in bearing, F_e dowel bearing
strength, F_yb bending yield strength, m main member (holds the point), s side member (under the head), R_e =
F_em/F_es, R_t = l_m/l_s.

Source: National Design Specification, yield limit equations, in the transcription of a general finite-element
library (F_e = 16 600 G^1.84 psi below 1/4 in; K_d = 2.2 to 0.17 in, then 10 D + 0.5, and 3.0 from 1/4 in; the
factor (1 + 2 R_e) in k2, where the transcription has (2 + R_e), and the end grain factor 0.67 are from
memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from formwork.strength.customary import INCH, MM, MPA, PSI
from formwork.strength.fasteners import SHORT, WET, Capacity, Fastener, Where
from formwork.strength.valid import positive, within
from formwork.strength.working import Step, given, step

END_GRAIN = 0.67
"""What is left of the lateral value with the point in end grain (from memory)."""

MIN_PENETRATION = 6.0
"""Least penetration of the point in diameters; less than ten takes a share of the value."""


@dataclass(frozen=True, slots=True)
class Joint:
    """A side member nailed or screwed to a main member.

    Attributes:
        side: thickness of the side member, m.
        main: length of the fastener in the main member, m.
        side_gravity: specific gravity of the side member.
        main_gravity: of the main member.
        where: the point is in side grain or in end grain.
        wet: wet in service.
        short: loaded less than seven days in all.
    """

    side: float
    main: float
    side_gravity: float
    main_gravity: float
    where: Where = "side grain"
    wet: bool = True
    short: bool = False


def bearing_strength(gravity: float) -> float:
    """Dowel bearing strength of wood or plywood under a dowel thinner than 1/4 in.

    Args:
        gravity: specific gravity.

    Returns:
        F_e, Pa.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: specific gravity 0.31 to 0.73 (from memory).

    >>> round(bearing_strength(0.5) / PSI)
    4637
    """
    within("specific gravity", gravity, 0.31, 0.73, "")
    return float(16600.0 * gravity**1.84 * PSI)


def reduction(diameter: float) -> float:
    """K_d, a plain number.

    Args:
        diameter: D, m.

    Source: module docstring.
    Valid: D up to 1/4 in.

    >>> reduction(0.162 * INCH)
    2.2
    """
    within("dowel diameter", diameter, 1e-6, 0.25 * INCH, "m")
    return 2.2 if diameter <= 0.17 * INCH + 1e-9 else 10.0 * diameter / INCH + 0.5


def _factors(
    *, Re: float, Rt: float, Fem: float, Fyb: float, D: float, lm: float, ls: float
) -> tuple[float, float, float]:
    k1 = (sqrt(Re + 2.0 * Re**2 * (1.0 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1.0 + Rt)) / (1.0 + Re)
    k2 = -1.0 + sqrt(2.0 * (1.0 + Re) + 2.0 * Fyb * (1.0 + 2.0 * Re) * D**2 / (3.0 * Fem * lm**2))
    k3 = -1.0 + sqrt(2.0 * (1.0 + Re) / Re + 2.0 * Fyb * (2.0 + Re) * D**2 / (3.0 * Fem * ls**2))
    return k1, k2, k3


def yield_modes(fastener: Fastener, joint: Joint) -> tuple[Step, ...]:
    """The six modes of single shear, in the order Im, Is, II, IIIm, IIIs, IV.

    Args:
        fastener: nail or screw.
        joint: what it joins.

    Returns:
        Six steps, N.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: D up to 1/4 in; the point at least 6 D in the main member.
    """
    D, lm, ls = fastener.root, joint.main, joint.side
    positive("side member", ls, "m")
    within("penetration", lm, MIN_PENETRATION * D - 1e-9, 10.0, "m")
    Fem, Fes, Fyb = bearing_strength(joint.main_gravity), bearing_strength(joint.side_gravity), fastener.fyb
    Kd, Re, Rt = reduction(D), Fem / Fes, lm / ls
    k1, k2, k3 = _factors(Re=Re, Rt=Rt, Fem=Fem, Fyb=Fyb, D=D, lm=lm, ls=ls)
    n = {"D": D / MM, "lm": lm / MM, "ls": ls / MM, "Fem": Fem / MPA, "Fes": Fes / MPA, "Fyb": Fyb / MPA,
         "Kd": Kd, "Re": Re, "k1": k1, "k2": k2, "k3": k3}  # fmt: skip
    return (
        step("Z_Im", "D * lm * Fem / Kd", D * lm * Fem / Kd, "N", **n),
        step("Z_Is", "D * ls * Fes / Kd", D * ls * Fes / Kd, "N", **n),
        step("Z_II", "k1 * D * ls * Fes / Kd", k1 * D * ls * Fes / Kd, "N", **n),
        step("Z_IIIm", "k2 * D * lm * Fem / ((1 + 2 * Re) * Kd)",
             k2 * D * lm * Fem / ((1 + 2 * Re) * Kd), "N", **n),
        step("Z_IIIs", "k3 * D * ls * Fem / ((2 + Re) * Kd)", k3 * D * ls * Fem / ((2 + Re) * Kd), "N", **n),
        step("Z_IV", "D^2 / Kd * sqrt(2 * Fem * Fyb / (3 * (1 + Re)))",
             D**2 / Kd * sqrt(2 * Fem * Fyb / (3 * (1 + Re))), "N", **n),
    )  # fmt: skip


def lateral(fastener: Fastener, joint: Joint) -> Capacity:
    """What one fastener holds sideways: the least mode, times the factors.

    Args:
        fastener: nail or screw.
        joint: what it joins.

    Returns:
        Capacity, N, with its working.

    Raises:
        RangeError: outside the limits.

    Source: module docstring; C_D 1.25 Peurifoy & Oberlender p. 137; wet 0.7, end grain 0.67 and the share p /
    10 D of a point less than 10 D deep: from memory.
    Valid: as :func:`yield_modes`.

    >>> from formwork.strength.customary import LBF
    >>> from formwork.strength.fasteners import nail
    >>> joint = Joint(1.5 * INCH, 2.0 * INCH, 0.5, 0.5, wet=False)
    >>> round(lateral(nail("16d"), joint).value / LBF)
    141
    """
    modes = yield_modes(fastener, joint)
    least = min(modes, key=lambda mode: mode.value)
    C_D, C_M = SHORT if joint.short else 1.0, WET if joint.wet else 1.0
    C_eg = END_GRAIN if joint.where == "end grain" else 1.0
    C_p = min(1.0, joint.main / (10.0 * fastener.root))
    value = least.value * C_D * C_M * C_eg * C_p
    steps = (
        given("K_d", reduction(fastener.root), "", "NDS"),
        *modes,
        step("Z", "Z_min * C_D * C_M * C_eg * C_p", value, "N",
             Z_min=least.value, C_D=C_D, C_M=C_M, C_eg=C_eg, C_p=C_p),
    )  # fmt: skip
    name = f"{fastener.kind} {fastener.size} sideways"
    return Capacity(name, value, f"NDS yield mode {least.symbol[2:]}", steps)
