"""A stick under uniform load over equal spans: bending, shear, deflection, bearing; and how far it may span.

Source: University of Florida construction lecture notes, weeks 6 and 7 (multi-span: bending w l^2/10, shear
0.6 w (l - 2d), deflection w l^4/145 E I, bearing); Peurifoy & Oberlender, Formwork for Concrete Structures,
4th ed., p. 117; one span: statics.
"""

from __future__ import annotations

from math import inf, sqrt

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.lumber import Adjusted, Section
from formwork.strength.spanning import Limits
from formwork.strength.spans import DeflectionLimit, coefficients
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Verdict, given, step


@record
class Run:
    """How a stick is held and loaded.

    Attributes:
        load: uniform, N/m.
        span: between centres of its supports, m.
        spans: number of equal spans without a joint.
    """

    load: float
    span: float
    spans: int = 1


def _check(run: Run) -> None:
    not_negative("load", run.load, "N/m")
    positive("span", run.span, "m")
    coefficients(run.spans)


def bending(values: Adjusted, section: Section, run: Run) -> Verdict:
    """Bending stress against the design value.

    Args:
        values: design values.
        section: the stick as it stands.
        run: span and load.

    Returns:
        Verdict in MPa: M = w l^2/k, f = M/S.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: equal spans; depth not above twice the breadth, or the compressed edge held by the sheathing.
    """
    _check(run)
    k = coefficients(run.spans).moment
    moment = run.load * run.span**2 / k
    stress = moment / section.modulus
    steps = (
        *values.steps[:2],
        step("M", "w * l^2 / k", moment / MM, "N mm", w=run.load * MM, l=run.span / MM, k=k),
        step("S", "n * b * d^2 / 6", section.modulus / MM**3, "mm3",
             n=section.plies, b=section.breadth / MM, d=section.depth / MM),
        step("f_b", "M / S", stress / MPA, "MPa", M=moment / MM, S=section.modulus / MM**3),
    )  # fmt: skip
    return Verdict("stick bending", stress / MPA, values.fb / MPA, "MPa", values.name, steps)


def shear(values: Adjusted, section: Section, run: Run) -> Verdict:
    """Shear stress along the grain against the design value.

    Load within a depth of a support goes straight into it.

    Args:
        values: design values.
        section: the stick as it stands.
        run: span and load.

    Returns:
        Verdict in MPa: V = k w (l - 2 d), at least nothing; f = 1.5 V/A.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: uniform load on the side away from the supports.
    """
    _check(run)
    k, length = coefficients(run.spans).shear, max(run.span - 2.0 * section.depth, 0.0)
    force = k * run.load * length
    stress = 1.5 * force / section.area
    steps = (
        values.steps[2],
        step("V", "k * w * max(l - 2 * d, 0)", force, "N",
             k=k, w=run.load * MM, l=run.span / MM, d=section.depth / MM),
        step("f_v", "1.5 * V / (n * b * d)", stress / MPA, "MPa",
             V=force, n=section.plies, b=section.breadth / MM, d=section.depth / MM),
    )  # fmt: skip
    return Verdict("stick shear", stress / MPA, values.fv / MPA, "MPa", values.name, steps)


def sag(values: Adjusted, section: Section, run: Run) -> float:
    """Deflection of a stick, m: w l^4/(k E I).

    Args:
        values: design values.
        section: the stick as it stands.
        run: span and load.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bending`.
    """
    _check(run)
    return run.load * run.span**4 / (coefficients(run.spans).bend * values.e * section.inertia)


def deflection(values: Adjusted, section: Section, run: Run, limit: DeflectionLimit) -> Verdict:
    """Deflection of a stick against the bulge accepted.

    Args:
        values: design values.
        section: the stick as it stands.
        run: span and load.
        limit: fraction of the span and greatest bulge.

    Returns:
        Verdict in mm.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bending`.
    """
    value, allowed = sag(values, section, run), limit.at(run.span)
    steps = (
        values.steps[4],
        step("I", "n * b * d^3 / 12", section.inertia / MM**4, "mm4",
             n=section.plies, b=section.breadth / MM, d=section.depth / MM),
        step("D", "w * l^4 / (k * E' * I)", value / MM, "mm", w=run.load * MM, l=run.span / MM,
             k=coefficients(run.spans).bend, I=section.inertia / MM**4, **{"E'": values.e / MPA}),
        given("D_max", allowed / MM, "mm", limit.words),
    )  # fmt: skip
    return Verdict("stick deflection", value / MM, allowed / MM, "mm", values.name, steps)


def bearing(values: Adjusted, force: float, area: float) -> Verdict:
    """Bearing across the grain against the design value.

    Args:
        values: design values.
        force: N.
        area: that it presses on, m2.

    Returns:
        Verdict in MPa: f = F/A.

    Raises:
        RangeError: area not above zero.

    Source: module docstring.
    Valid: no gain for a short bearing length is taken.
    """
    not_negative("force", force, "N")
    positive("area", area, "m2")
    stress = force / area
    steps = (
        values.steps[3],
        step("f_cp", "F / A", stress / MPA, "MPa", F=force, A=area / MM**2),
    )
    return Verdict("stick bearing", stress / MPA, values.fcp / MPA, "MPa", values.name, steps)


def beam_verdicts(
    values: Adjusted, section: Section, run: Run, limit: DeflectionLimit
) -> tuple[Verdict, Verdict, Verdict]:
    """Bending, shear and deflection of a stick, in this order.

    Args:
        values: design values.
        section: the stick as it stands.
        run: span and load.
        limit: of the deflection.

    Raises:
        RangeError: outside the limits.

    Source: the three functions.
    Valid: as :func:`bending`.
    """
    return bending(values, section, run), shear(values, section, run), deflection(values, section, run, limit)


def beam_span(values: Adjusted, section: Section, load: float, spans: int, limit: DeflectionLimit) -> Limits:
    """Greatest span of a stick under a load.

    Args:
        values: design values.
        section: the stick as it stands.
        load: uniform, N/m.
        spans: number of equal spans.
        limit: of the deflection.

    Returns:
        Spans, m, by each limit.

    Raises:
        RangeError: outside the limits.

    Source: module docstring: 10.95 (Fb S/w)^(1/2), 13.33 Fv b d/w + 2 d, 1.69 (E I/w)^(1/3), 3.23 (E
    I/w)^(1/4) in.
    Valid: load above 0.
    """
    positive("load", load, "N/m")
    k = coefficients(spans)
    bend = sqrt(k.moment * values.fb * section.modulus / load)
    slide = values.fv * section.area / (1.5 * k.shear * load) + 2.0 * section.depth
    stiffness = k.bend * values.e * section.inertia / load
    by_share = (limit.fraction * stiffness) ** (1.0 / 3.0)
    by_bulge = inf if limit.bulge is None else (limit.bulge * stiffness) ** 0.25
    return Limits(bend, slide, min(by_share, by_bulge))
