"""A bar over a hung core: a stick on two supports, pulled up where it is screwed to the two sides of the core.

Source: statics of a simple beam with two point loads; deflection in the middle of the span, which differs from the
greatest one by less than 3 % (NDS-style design values from ``lumber``).
"""

from __future__ import annotations

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.lumber import Adjusted, Section
from formwork.strength.spans import DeflectionLimit
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Verdict, given, step


@record
class BarLoad:
    """What pulls at a bar and where.

    Attributes:
        force: of both pulls together, N; each takes half.
        span: between the middles of the supports, m.
        first: from the first support to the pull next to it, m.
        last: from the other pull to the last support, m.
    """

    force: float
    span: float
    first: float
    last: float


def moment(load: BarLoad) -> float:
    """Greatest bending moment, N m: under the pull that is worse off.

    Args:
        load: the pulls.

    Raises:
        RangeError: a negative force or distance, or a span of nothing.

    >>> moment(BarLoad(200.0, 1.0, 0.25, 0.25))
    25.0
    """
    _check(load)
    half, span = load.force / 2.0, load.span
    left = half * (span - load.first + load.last) / span
    right = half * (span - load.last + load.first) / span
    return max(left * load.first, right * load.last)


def sag(values: Adjusted, section: Section, load: BarLoad) -> float:
    """Deflection in the middle of the span, m.

    Args:
        values: design values of the stick.
        section: the stick as it lies.
        load: the pulls.

    Raises:
        RangeError: as :func:`moment`.
    """
    _check(load)
    return sum(_sag_of_one(values, section, load, place) for place in (load.first, load.last))


def _sag_of_one(values: Adjusted, section: Section, load: BarLoad, place: float) -> float:
    near, span = min(place, load.span - place), load.span
    rigid = 48.0 * values.e * section.inertia
    return load.force / 2.0 * near * (3.0 * span**2 - 4.0 * near**2) / rigid


def bar_verdicts(
    values: Adjusted, section: Section, load: BarLoad, limit: DeflectionLimit
) -> tuple[Verdict, Verdict, Verdict]:
    """Bending, shear and deflection of a bar, in this order.

    Args:
        values: design values of the stick.
        section: the stick as it lies.
        load: the pulls.
        limit: of the deflection, by which the core rises.

    Raises:
        RangeError: as :func:`moment`.
    """
    return _bending(values, section, load), _shear(values, section, load), _bend(values, section, load, limit)


def _bending(values: Adjusted, section: Section, load: BarLoad) -> Verdict:
    greatest = moment(load)
    stress = greatest / section.modulus
    numbers = {"F": load.force, "l": load.span / MM, "a": load.first / MM, "c": load.last / MM}
    steps = (
        *values.steps[:2],
        step("M", "F / 2 * max((l - a + c) * a, (l - c + a) * c) / l", greatest / MM, "N mm", **numbers),
        step(
            "S", "b * d^2 / 6", section.modulus / MM**3, "mm3", b=section.breadth / MM, d=section.depth / MM
        ),
        step("f_b", "M / S", stress / MPA, "MPa", M=greatest / MM, S=section.modulus / MM**3),
    )
    return Verdict("bending", stress / MPA, values.fb / MPA, "MPa", values.name, steps)


def _shear(values: Adjusted, section: Section, load: BarLoad) -> Verdict:
    """All of the pull is taken to reach one support, which no place of the core exceeds."""
    stress = 1.5 * load.force / section.area
    steps = (
        values.steps[2],
        step("f_v", "1.5 * F / (b * d)", stress / MPA, "MPa",
             F=load.force, b=section.breadth / MM, d=section.depth / MM),
    )  # fmt: skip
    return Verdict("shear", stress / MPA, values.fv / MPA, "MPa", values.name, steps)


def _bend(values: Adjusted, section: Section, load: BarLoad, limit: DeflectionLimit) -> Verdict:
    value, allowed = sag(values, section, load), limit.at(load.span)
    near = [min(place, load.span - place) / MM for place in (load.first, load.last)]
    steps = (
        values.steps[4],
        step("I", "b * d^3 / 12", section.inertia / MM**4, "mm4", b=section.breadth / MM, d=section.depth / MM),
        step("D", "F / 2 * (a * (3 * l^2 - 4 * a^2) + c * (3 * l^2 - 4 * c^2)) / (48 * E' * I)", value / MM, "mm",
             F=load.force, l=load.span / MM, a=near[0], c=near[1], I=section.inertia / MM**4,
             **{"E'": values.e / MPA}),
        given("D_max", allowed / MM, "mm", limit.words),
    )  # fmt: skip
    return Verdict("deflection", value / MM, allowed / MM, "mm", values.name, steps)


def _check(load: BarLoad) -> None:
    positive("span of a bar", load.span, "m")
    not_negative("pull at a bar", load.force, "N")
    not_negative("first pull", load.first, "m")
    not_negative("last pull", load.last, "m")
