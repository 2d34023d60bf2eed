"""A sheet that stands free above its highest support, under the head that ends at its rim.

Source: cantilever under a load that falls to nothing at the tip: M = w l^2/6, V = w l/2, D = w l^4/(30 E I),
beam statics; shear deflection w C t^2 l^2 as in :mod:`formwork.strength.panels`, four thirds of the simple
span's at the same length.
"""

from __future__ import annotations

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.panels import ENTER, SHEAR_DIVISOR, PanelSection
from formwork.strength.spans import DeflectionLimit
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Judged, Unjudged, Verdict, given, step


@record
class Overhang:
    """The free part of a sheet.

    Attributes:
        pressure: at the support, falling on a straight line to nothing at the rim, Pa.
        reach: from the support to the rim, m.
    """

    pressure: float
    reach: float


def _check(free: Overhang) -> None:
    not_negative("pressure", free.pressure, "Pa")
    positive("reach", free.reach, "m")


def bending(section: PanelSection, free: Overhang) -> Verdict:
    """Bending stress at the support.

    Args:
        section: the sheet in the direction it reaches.
        free: the free part.

    Returns:
        Verdict in MPa.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: the sheet runs on past the support, which holds it against turning.
    """
    _check(free)
    moment = free.pressure * free.reach**2 / 6.0
    stress = moment / section.ks
    steps = (
        given("p", free.pressure / MPA, "MPa", "pressure at the highest support"),
        step("M", "p * l^2 / 6", moment, "N mm/mm", p=free.pressure / MPA, l=free.reach / MM),
        step("f_b", "M / KS", stress / MPA, "MPa", M=moment, KS=section.ks / MM**2),
        given("F_b", section.fb / MPA, "MPa", section.source),
    )
    return Verdict("rim bending", stress / MPA, section.fb / MPA, "MPa", section.source, steps)


def shear(section: PanelSection, free: Overhang) -> Judged:
    """Rolling shear stress at the support.

    Args:
        section: the sheet in the direction it reaches.
        free: the free part.

    Returns:
        Verdict in MPa, or what is missing.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bending`.
    """
    _check(free)
    if section.fs is None:
        return Unjudged("rim shear", f"no source gives a shear strength for {section.name}; {ENTER} shear")
    force = free.pressure * free.reach / 2.0
    stress = force / section.ib_q
    steps = (
        given("p", free.pressure / MPA, "MPa", "pressure at the highest support"),
        step("V", "p * l / 2", force / 1e3, "N/mm", p=free.pressure / MPA, l=free.reach / MM),
        step("f_s", "V / IbQ", stress / MPA, "MPa", V=force / 1e3, IbQ=section.ib_q / MM),
        given("F_s", section.fs / MPA, "MPa", section.source),
    )
    return Verdict("rim shear", stress / MPA, section.fs / MPA, "MPa", section.source, steps)


def deflection(section: PanelSection, free: Overhang, limit: DeflectionLimit) -> Judged:
    """How far the rim moves out, against the bulge accepted.

    Args:
        section: the sheet in the direction it reaches.
        free: the free part.
        limit: fraction of the reach, and a greatest bulge.

    Returns:
        Verdict in mm, or what is missing.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bending`.
    """
    _check(free)
    if section.e is None:
        return Unjudged(
            "rim deflection", f"no source gives a modulus of elasticity for {section.name}; {ENTER} modulus"
        )
    p, length, inertia = free.pressure, free.reach, section.inertia
    bend = p * length**4 / (30.0 * section.e * inertia)
    slide = (
        4.0 / 3.0 * p * section.c * section.thickness**2 * length**2 / (SHEAR_DIVISOR * section.ee * inertia)
    )
    allowed = limit.at(length)
    steps = (
        given("p", p / MPA, "MPa", "pressure at the highest support"),
        step("D_b", "p * l^4 / (30 * E * I)", bend / MM, "mm",
             p=p / MPA, l=length / MM, E=section.e / MPA, I=inertia / MM**3),
        step("D_s", "4 / 3 * p * C * t^2 * l^2 / (n * Ee * I)", slide / MM, "mm", p=p / MPA, C=section.c,
             t=section.thickness / MM, l=length / MM, n=SHEAR_DIVISOR, Ee=section.ee / MPA, I=inertia / MM**3),
        step("D", "D_b + D_s", (bend + slide) / MM, "mm", D_b=bend / MM, D_s=slide / MM),
        given("D_max", allowed / MM, "mm", limit.words),
    )  # fmt: skip
    return Verdict("rim deflection", (bend + slide) / MM, allowed / MM, "mm", section.source, steps)


def overhang_verdicts(
    section: PanelSection, free: Overhang, limit: DeflectionLimit
) -> tuple[Judged, Judged, Judged]:
    """Bending, shear and deflection of the free part, in this order.

    Args:
        section: the sheet in the direction it reaches.
        free: the free part.
        limit: of the deflection.

    Raises:
        RangeError: outside the limits.

    Source: the three functions.
    Valid: as :func:`bending`.
    """
    return bending(section, free), shear(section, free), deflection(section, free, limit)
