"""A sheet over its supports: a one-way strip in bending, rolling shear and deflection.

The strip spans from support to support as the panel formulas of APA have it; a panel held on four sides is
stiffer, so the strip errs on the safe side. Everything is for a strip of unit width: inertia m4/m, KS m3/m,
Ib/Q m2/m.

Source: APA concrete form design as given by Peurifoy & Oberlender, Formwork for Concrete Structures, 4th ed.,
eq. 5-39 to 5-57 and p. 118, 231, 326; shear deflection w C t^2 l^2 / 1270 Ee I from memory, held by
reproducing the published pressure tables.
"""

from __future__ import annotations

from typing import Literal

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.spans import DeflectionLimit, bending_span, clear_span, coefficients
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Judged, Step, Unjudged, Verdict, given, step

Grain = Literal["across", "along"]
"""How the face grain lies to the supports: across them (the strong way) or along them."""

SHEAR_DIVISOR = 1270.0 * 12.0 / 144.0
"""1270 of the document (psf, in4/ft) for a pressure and an inertia in one system of units."""

C_ACROSS = 120.0
"""C of the shear deflection with the face grain across the supports."""

C_ALONG = 60.0
"""C of the shear deflection with the face grain along the supports."""

ENTER = "enter what its maker declares in the shop file, as"
"""How a message asks for what no source gives, before the key."""

C_HOMOGENEOUS = SHEAR_DIVISOR * 1.2 * 2.6 / 8.0 / 12.0
"""C of a homogeneous sheet: shear deflection 1.2 w l^2 / (8 G t) with G = E / 2.6 and I = t^3 / 12."""


@record
class PanelSection:
    """What a strip of a sheet can do, one unit wide, in the direction it spans.

    Attributes:
        name: of the material, as printed.
        thickness: m.
        fb: allowable bending stress, Pa.
        fs: allowable rolling shear stress (of a homogeneous sheet: shear stress), Pa; None where no source
            gives one.
        e: modulus for bending deflection, Pa; None where no source gives one.
        ee: modulus for shear deflection, Pa.
        inertia: I, m4 a metre of width.
        ks: effective section modulus KS, m3 a metre.
        ib_q: rolling shear constant Ib/Q (of a homogeneous sheet 2/3 of the thickness), m2 a metre.
        c: coefficient C of the shear deflection.
        source: of the values.
    """

    name: str
    thickness: float
    fb: float
    fs: float | None
    e: float | None
    ee: float
    inertia: float
    ks: float
    ib_q: float
    c: float
    source: str


@record
class Bay:
    """How a strip is held and loaded.

    Attributes:
        pressure: uniform over the bay: that at its lowest edge, Pa.
        span: between centres of supports, m.
        spans: number of equal spans the sheet runs over without a joint.
        support: width of a support along the span, m.
    """

    pressure: float
    span: float
    spans: int = 1
    support: float = 0.0


def homogeneous(
    name: str, thickness: float, *, fb: float, e: float | None, fs: float | None, source: str
) -> PanelSection:
    """Section of a homogeneous sheet (fibreboard, plastic, steel) from declared values.

    Args:
        name: as printed.
        thickness: m.
        fb: allowable bending stress, any safety factor already taken off, Pa.
        e: modulus of elasticity as it will be on the day (wet, loaded for hours), Pa; None where unknown.
        fs: allowable shear stress, Pa; None where unknown.
        source: whose declaration it is.

    Returns:
        I = t^3/12, KS = t^2/6, and shear stress 1.5 V/t.

    Raises:
        RangeError: a value that is not above zero.

    Source: elastic beam theory; shear deflection with a Poisson's ratio of 0.3.

    >>> section = homogeneous("steel", 0.003, fb=150e6, e=200e9, fs=None, source="maker")
    >>> round(section.ks * 1e6, 3), round(section.inertia * 1e9, 3)
    (1.5, 2.25)
    """
    positive("thickness", thickness, "m")
    positive("bending stress", fb, "Pa")
    for label, value in (("modulus", e), ("shear stress", fs)):
        if value is not None:
            positive(label, value, "Pa")
    return PanelSection(
        name, thickness, fb, fs, e, e or 0.0, thickness**3 / 12.0, thickness**2 / 6.0, thickness * 2.0 / 3.0,
        C_HOMOGENEOUS, source,
    )  # fmt: skip


def _load_step(bay: Bay) -> Step:
    return given("p", bay.pressure / MPA, "MPa", "pressure at the low edge of the bay")


def bending(section: PanelSection, bay: Bay) -> Verdict:
    """Bending stress of the strip against its allowable stress.

    Args:
        section: the sheet in the direction it spans.
        bay: span and pressure.

    Returns:
        Verdict in MPa: M = p l1^2/k, f = M/KS.

    Raises:
        RangeError: outside the limits.

    Source: Peurifoy & Oberlender eq. 5-39, 5-41 (k = 10 for three or more spans); k = 8 for one and two:
    statics.
    Valid: equal spans, span more than the support is wide, pressure 0 or more.
    """
    _check(bay)
    k = coefficients(bay.spans).moment
    moment = bay.pressure * bay.span**2 / k
    stress = moment / section.ks
    steps = (
        _load_step(bay),
        step("M", "p * l1^2 / k", moment, "N mm/mm", p=bay.pressure / MPA, l1=bay.span / MM, k=k),
        step("f_b", "M / KS", stress / MPA, "MPa", M=moment, KS=section.ks / MM**2),
        given("F_b", section.fb / MPA, "MPa", section.source),
    )
    return Verdict("panel bending", stress / MPA, section.fb / MPA, "MPa", section.source, steps)


def shear(section: PanelSection, bay: Bay) -> Judged:
    """Rolling shear stress of the strip (shear stress of a homogeneous sheet) against its allowable.

    Args:
        section: the sheet in the direction it spans.
        bay: span and pressure.

    Returns:
        Verdict in MPa: V = k p l2, f = V/(Ib/Q), l2 the clear span; or what is missing.

    Raises:
        RangeError: outside the limits.

    Source: Peurifoy & Oberlender eq. 5-48 (k = 0.6 for three or more spans); 0.5 and 0.625: statics.
    Valid: as :func:`bending`.
    """
    _check(bay)
    if section.fs is None:
        return Unjudged("panel shear", f"no source gives a shear strength for {section.name}; {ENTER} shear")
    k, l2 = coefficients(bay.spans).shear, clear_span(bay.span, bay.support)
    force = k * bay.pressure * l2
    stress = force / section.ib_q
    steps = (
        _load_step(bay),
        step("V", "k * p * (l1 - b)", force / 1e3, "N/mm",
             k=k, p=bay.pressure / MPA, l1=bay.span / MM, b=bay.support / MM),
        step("f_s", "V / IbQ", stress / MPA, "MPa", V=force / 1e3, IbQ=section.ib_q / MM),
        given("F_s", section.fs / MPA, "MPa", section.source),
    )  # fmt: skip
    return Verdict("panel shear", stress / MPA, section.fs / MPA, "MPa", section.source, steps)


def sag(section: PanelSection, bay: Bay) -> float:
    """Deflection of the strip, bending and shear.

    Args:
        section: the sheet in the direction it spans; its modulus must be known.
        bay: span and pressure.

    Returns:
        Deflection, m: p l3^4/(k E I) + p C t^2 l2^2/(105.83 Ee I).

    Raises:
        RangeError: outside the limits, or no modulus.

    Source: module docstring.
    Valid: as :func:`bending`.
    """
    _check(bay)
    positive("modulus", section.e or 0.0, "Pa")
    return sum(_sags(section, bay))


def _sags(section: PanelSection, bay: Bay) -> tuple[float, float]:
    l2, l3 = clear_span(bay.span, bay.support), bending_span(bay.span, bay.support)
    bend = bay.pressure * l3**4 / (coefficients(bay.spans).bend * (section.e or 0.0) * section.inertia)
    slide = (
        bay.pressure
        * section.c
        * section.thickness**2
        * l2**2
        / (SHEAR_DIVISOR * section.ee * section.inertia)
    )
    return bend, slide


def deflection(section: PanelSection, bay: Bay, limit: DeflectionLimit) -> Judged:
    """Deflection of the strip against the bulge accepted.

    Args:
        section: the sheet in the direction it spans.
        bay: span and pressure.
        limit: fraction of the span between centres, and a greatest bulge.

    Returns:
        Verdict in mm; or what is missing.

    Raises:
        RangeError: outside the limits.

    Source: module docstring; that the fraction is of l1 is what reproduces the published tables.
    Valid: as :func:`bending`.
    """
    _check(bay)
    if section.e is None:
        return Unjudged(
            "panel deflection", f"no source gives a modulus of elasticity for {section.name}; {ENTER} modulus"
        )
    bend, slide = _sags(section, bay)
    l2, l3 = clear_span(bay.span, bay.support), bending_span(bay.span, bay.support)
    p, inertia = bay.pressure / MPA, section.inertia / MM**3
    allowed = limit.at(bay.span)
    steps = (
        _load_step(bay),
        step("D_b", "p * l3^4 / (k * E * I)", bend / MM, "mm",
             p=p, l3=l3 / MM, k=coefficients(bay.spans).bend, E=section.e / MPA, I=inertia),
        step("D_s", "p * C * t^2 * l2^2 / (n * Ee * I)", slide / MM, "mm",
             p=p, C=section.c, t=section.thickness / MM, l2=l2 / MM, n=SHEAR_DIVISOR,
             Ee=section.ee / MPA, I=inertia),
        step("D", "D_b + D_s", (bend + slide) / MM, "mm", D_b=bend / MM, D_s=slide / MM),
        given("D_max", allowed / MM, "mm", limit.words),
    )  # fmt: skip
    return Verdict("panel deflection", (bend + slide) / MM, allowed / MM, "mm", section.source, steps)


def _check(bay: Bay) -> None:
    not_negative("pressure", bay.pressure, "Pa")
    clear_span(bay.span, bay.support)
    coefficients(bay.spans)


def panel_verdicts(section: PanelSection, bay: Bay, limit: DeflectionLimit) -> tuple[Judged, Judged, Judged]:
    """Bending, shear and deflection of a strip, in this order.

    Args:
        section: the sheet in the direction it spans.
        bay: span and pressure.
        limit: of the deflection.

    Returns:
        Three verdicts, or what is missing for one.

    Raises:
        RangeError: outside the limits.

    Source: the three functions.
    Valid: as :func:`bending`.
    """
    return bending(section, bay), shear(section, bay), deflection(section, bay, limit)


def utilisation(section: PanelSection, bay: Bay, limit: DeflectionLimit) -> float:
    """The greatest utilisation of what can be judged, 1 = at the limit.

    Args:
        section: the sheet in the direction it spans.
        bay: span and pressure.
        limit: of the deflection.

    Returns:
        A plain number.

    Raises:
        RangeError: outside the limits.

    Source: the three verdicts.
    Valid: as :func:`bending`.
    """
    return max(each.utilisation for each in panel_verdicts(section, bay, limit) if isinstance(each, Verdict))
