"""Braces that keep a tall mold plumb: what a sideways push puts into them, and what a slender stick carries.

Source: statics of a mold held at its foot and by a sloping brace; solid columns: National Design Specification for
Wood Construction, 1997 edition, 3.7.1 (C_P, K_cE 0.3 for visually graded lumber, c 0.8 for sawn lumber, slenderness
up to 50; C_M on compression 0.8 when wet): all of it from memory.
"""

from __future__ import annotations

from math import cos, sqrt, tan

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.lumber import Adjusted, Grade, Section
from formwork.strength.valid import not_negative, positive, within
from formwork.strength.working import Step, Verdict, given, step

K_CE = 0.3
"""Euler buckling coefficient for visually graded lumber, from memory."""
C_SAWN = 0.8
"""c of sawn lumber, from memory."""
WET_COMPRESSION = 0.8
"""C_M on compression along the grain, from memory."""
SLENDEREST = 50.0
"""Greatest length over thickness of a solid column, from memory."""


@record
class Thrust:
    """What a push at the top of a mold puts into one brace.

    Attributes:
        level: push on the brace's head, N.
        along: in the brace, N: thrust or pull, as the push comes.
        upright: lift or weight on what the brace is screwed to, N.
        steps: how they were found.
    """

    level: float
    along: float
    upright: float
    steps: tuple[Step, ...]


def thrust(push: float, height: float, at: float, slope: float) -> Thrust:
    """What a sideways push at the top of a mold puts into a brace that meets it lower down.

    Args:
        push: level, at the top, N.
        height: of the top above the foot, m.
        at: height of the brace's head above the foot, m.
        slope: of the brace from the level, rad.

    Raises:
        RangeError: outside the limits.

    Source: statics: moments about the foot; the brace has no other force than along itself.
    Valid: the foot kept from sliding; slope above 0 and below a right angle.

    >>> from math import radians
    >>> found = thrust(300.0, 2.0, 1.5, radians(45.0))
    >>> round(found.level, 6), round(found.along, 3), round(found.upright, 6)
    (400.0, 565.685, 400.0)
    """
    not_negative("push", push, "N")
    positive("height", height, "m")
    positive("height of the brace", at, "m")
    within("slope", slope, 0.05, 1.52, "rad")
    level = push * height / at
    along, upright = level / cos(slope), level * tan(slope)
    return Thrust(
        level,
        along,
        upright,
        (
            given("P", push, "N", "sideways at the top: a person who leans or stumbles against it (ours)"),
            step("F", "P * H / z", level, "N", P=push, H=height / MM, z=at / MM),
            step("N", "F / cos(a)", along, "N", F=level, a=slope),
            step("V", "N * sin(a)", upright, "N", N=along, a=slope),
        ),
    )


def stability_factor(ratio: float) -> float:
    """C_P, a plain number from 0 to 1: what buckling leaves of the strength of a short stick.

    Args:
        ratio: F_cE over F_c*.

    Raises:
        RangeError: a negative ratio.

    Source: module docstring. It is the lesser root of c C^2 - (1 + r) C + r = 0.

    >>> round(stability_factor(1.0), 4)
    0.691
    """
    not_negative("ratio", ratio, "")
    half = (1.0 + ratio) / (2.0 * C_SAWN)
    return half - sqrt(half * half - ratio / C_SAWN)


def slenderness(section: Section, length: float) -> float:
    """Length of a stick over its lesser side, a plain number.

    Args:
        section: of the stick.
        length: between its ends, m.
    """
    positive("length", length, "m")
    return length / min(section.breadth, section.depth)


def brace_verdicts(
    row: Grade, values: Adjusted, section: Section, length: float, found: Thrust
) -> tuple[Verdict, Verdict]:
    """A brace as a slender column: its slenderness, and the stress in it.

    Args:
        row: reference values.
        values: design values in use, for E.
        section: of the brace.
        length: between its ends, m.
        found: what the push puts into it.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: pin-ended stick without a load across it.
    """
    slim = slenderness(section, length)
    lesser = min(section.breadth, section.depth)
    slim_step = step("s", "l / d", slim, "", l=length / MM, d=lesser / MM)
    euler = K_CE * values.e / slim**2
    star = row.fc * WET_COMPRESSION
    left = stability_factor(euler / star)
    stress, limit = found.along / section.area, star * left
    steps = (
        *found.steps,
        given("F_c", row.fc / MPA, "MPa", row.name),
        step("F_s", "F_c * C_M", star / MPA, "MPa", F_c=row.fc / MPA, C_M=WET_COMPRESSION),
        slim_step,
        step("F_E", "K * E / s^2", euler / MPA, "MPa", K=K_CE, E=values.e / MPA, s=slim),
        step("r", "F_E / F_s", euler / star, "", F_E=euler / MPA, F_s=star / MPA),
        step("C_P", "(1 + r) / (2 * c) - sqrt(((1 + r) / (2 * c))^2 - r / c)", left, "",
             r=euler / star, c=C_SAWN),
        step("F_max", "F_s * C_P", limit / MPA, "MPa", F_s=star / MPA, C_P=left),
        step("f", "N / (b_1 * b_2)", stress / MPA, "MPa", N=found.along,
             b_1=section.breadth / MM, b_2=section.depth / MM),
    )  # fmt: skip
    source = "NDS 3.7.1 (1997), from memory; push of our own choice"
    return (
        Verdict(
            "brace slenderness",
            slim,
            SLENDEREST,
            "",
            source,
            (
                slim_step,
                given("s_max", SLENDEREST, "", "greatest slenderness of a column, NDS 3.7.1.4, from memory"),
            ),
        ),
        Verdict("brace in compression", stress / MPA, limit / MPA, "MPa", source, steps),
    )
