"""Nails and screws loaded sideways: the six yield modes of a single-shear joint.

Symbols as in the document: D dowel diameter (root of a screw), l length in bearing, F_e dowel bearing
strength, F_yb bending yield strength, m main member (holds the point), s side member (under the head), R_e =
F_em/F_es, R_t = l_m/l_s.

Source: National Design Specification, yield limit equations, in the reprint of a general finite-element
library (F_e = 16 600 G^1.84 psi below 1/4 in; K_d = 2.2 to 0.17 in, then 10 D + 0.5, and 3.0 from 1/4 in; the
factor (1 + 2 R_e) in k2, where the reprint has (2 + R_e), and the end grain factor 0.67 are from
memory).
"""

from __future__ import annotations

from math import sqrt

from formwork.record import record
from formwork.strength.customary import INCH, MM, MPA, PSI
from formwork.strength.fasteners import SHORT, WET, Capacity, Fastener, Where
from formwork.strength.valid import positive, within
from formwork.strength.working import Step, given, step

END_GRAIN = 0.67
"""What is left of the lateral value with the point in end grain (from memory)."""

MIN_PENETRATION = 6.0
"""Least penetration of the point in diameters; less than ten takes a share of the value."""


@record
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


FE_MPA = 16600.0 * PSI / MPA
"""16 600 psi of the dowel bearing strength, MPa."""

_K1 = "(sqrt(Re + 2 * Re^2 * (1 + Rt + Rt^2) + Rt^2 * Re^3) - Re * (1 + Rt)) / (1 + Re)"
_K2 = "sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D^2 / (3 * Fem * lm^2)) - 1"
_K3 = "sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D^2 / (3 * Fem * ls^2)) - 1"


def _ground(fastener: Fastener, joint: Joint) -> tuple[dict[str, float], tuple[Step, ...]]:
    """Every symbol of the modes by name, in N and mm, and how the computed ones were found."""
    Gm, Gs = joint.main_gravity, joint.side_gravity
    D, lm, ls, Fyb = fastener.root / MM, joint.main / MM, joint.side / MM, fastener.fyb / MPA
    Fem, Fes = bearing_strength(Gm) / MPA, bearing_strength(Gs) / MPA
    Re, Rt = Fem / Fes, lm / ls
    k1 = (sqrt(Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1 + Rt)) / (1 + Re)
    k2 = sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D**2 / (3 * Fem * lm**2)) - 1
    k3 = sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D**2 / (3 * Fem * ls**2)) - 1
    n = {"D": D, "lm": lm, "ls": ls, "Fyb": Fyb, "Gm": Gm, "Gs": Gs, "Fem": Fem, "Fes": Fes, "Re": Re, "Rt": Rt,
         "k1": k1, "k2": k2, "k3": k3, "Kd": reduction(fastener.root), "k_F": FE_MPA}  # fmt: skip
    steps = (
        given("Kd", n["Kd"], "", "NDS"),
        step("Fem", "k_F * Gm^1.84", Fem, "MPa", **n),
        step("Fes", "k_F * Gs^1.84", Fes, "MPa", **n),
        step("Re", "Fem / Fes", Re, "", **n),
        step("Rt", "lm / ls", Rt, "", **n),
        step("k1", _K1, k1, "", **n),
        step("k2", _K2, k2, "", **n),
        step("k3", _K3, k3, "", **n),
    )
    return n, steps


def _modes(n: dict[str, float]) -> tuple[Step, ...]:
    D, lm, ls, Fem, Fes, Fyb, Kd, Re = (
        n[name] for name in ("D", "lm", "ls", "Fem", "Fes", "Fyb", "Kd", "Re")
    )
    return (
        step("Z_Im", "D * lm * Fem / Kd", D * lm * Fem / Kd, "N", **n),
        step("Z_Is", "D * ls * Fes / Kd", D * ls * Fes / Kd, "N", **n),
        step("Z_II", "k1 * D * ls * Fes / Kd", n["k1"] * D * ls * Fes / Kd, "N", **n),
        step("Z_IIIm", "k2 * D * lm * Fem / ((1 + 2 * Re) * Kd)",
             n["k2"] * D * lm * Fem / ((1 + 2 * Re) * Kd), "N", **n),
        step("Z_IIIs", "k3 * D * ls * Fem / ((2 + Re) * Kd)",
             n["k3"] * D * ls * Fem / ((2 + Re) * Kd), "N", **n),
        step("Z_IV", "D^2 / Kd * sqrt(2 * Fem * Fyb / (3 * (1 + Re)))",
             D**2 / Kd * sqrt(2 * Fem * Fyb / (3 * (1 + Re))), "N", **n),
    )  # fmt: skip


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
    _check(fastener, joint)
    return _modes(_ground(fastener, joint)[0])


def _check(fastener: Fastener, joint: Joint) -> None:
    positive("side member", joint.side, "m")
    within("penetration", joint.main, MIN_PENETRATION * fastener.root - 1e-9, 10.0, "m")


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
    _check(fastener, joint)
    numbers, ground = _ground(fastener, joint)
    modes = _modes(numbers)
    least = min(modes, key=lambda mode: mode.value)
    C_D, C_M = SHORT if joint.short else 1.0, WET if joint.wet else 1.0
    C_eg = END_GRAIN if joint.where == "end grain" else 1.0
    C_p = min(1.0, joint.main / (10.0 * fastener.root))
    value = least.value * C_D * C_M * C_eg * C_p
    steps = (
        *ground,
        *modes,
        step("Z", "Z_min * C_D * C_M * C_eg * C_p", value, "N",
             Z_min=least.value, C_D=C_D, C_M=C_M, C_eg=C_eg, C_p=C_p),
    )  # fmt: skip
    name = f"{fastener.kind} {fastener.size} sideways"
    return Capacity(name, value, f"NDS yield mode {least.symbol[2:]}", steps)
