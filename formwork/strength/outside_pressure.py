"""A round skin that the mix presses on from outside: when it buckles inward between the ribs that hold it round.

Two lower bounds, of which the better one counts: a ring of the skin by itself, as if no rib were near, and the skin as
a shell between two ribs. A skin that is bent and not moulded is never quite round, and wet wood gives way under a load
that stays; the pressure is therefore divided by a safety of three (ours).

Source: ring 3 E I / R^3, Roark, Table 35, case 19a, read in a published worksheet (29e6 psi, 6.75 in, 0.375 in: buckles
under 3048 ft of water); shell of unlike stiffness both ways under lateral pressure, NASA SP-8007 (1968), with its
factor of 0.75 for what is not quite round: from memory.
"""

from __future__ import annotations

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Verdict, given, step

SAFETY = 3.0
"""Pressure that buckles it over the pressure allowed (ours)."""
_SHELL = 5.513
_NOT_ROUND = 0.75


@record
class Shell:
    """A round skin between two ribs.

    Attributes:
        bend: bending stiffness round about, E I of a strip of unit width, N m.
        stretch: stiffness along the axis, E t of the plies that run that way, N/m.
        radius: of its middle, m.
        length: between the ribs, m.
        source: of the stiffness.
    """

    bend: float
    stretch: float
    radius: float
    length: float
    source: str


def ring_pressure(bend: float, radius: float) -> float:
    """Pressure from outside under which a ring buckles: 3 E I / R^3, Pa.

    Args:
        bend: E I of a strip of unit width round about, N m.
        radius: of its middle, m.

    Raises:
        RangeError: a value that is not above zero.

    Source: module docstring.
    Valid: a skin thin against its radius.

    >>> ring_pressure(9.0, 0.3)
    1000.0
    """
    positive("stiffness", bend, "N m")
    positive("radius", radius, "m")
    return 3.0 * bend / radius**3


def bay_pressure(shell: Shell) -> float:
    """Pressure from outside under which a skin buckles between two ribs, Pa.

    Args:
        shell: the skin.

    Raises:
        RangeError: a value that is not above zero.

    Source: module docstring.
    Valid: ribs further apart than the skin is thick; nearer than the least bay it errs on the safe side.
    """
    for name, value in (("stiffness", shell.bend), ("stretch", shell.stretch), ("length", shell.length)):
        positive(name, value, "")
    positive("radius", shell.radius, "m")
    root = float((shell.bend**3 * shell.stretch) ** 0.25)
    return float(_NOT_ROUND * _SHELL * root / (shell.length * shell.radius**1.5))


def buckling(shell: Shell, pressure: float) -> Verdict:
    """The mix outside a round skin against what it bears before it buckles, safety taken off.

    Args:
        shell: the skin.
        pressure: of the mix at the lower rib, Pa.

    Raises:
        RangeError: outside the limits.

    Source: module docstring.
    Valid: as :func:`bay_pressure`.
    """
    not_negative("pressure", pressure, "Pa")
    ring, bay = ring_pressure(shell.bend, shell.radius), bay_pressure(shell)
    allowed = max(ring, bay) / SAFETY
    numbers = {
        "EI": shell.bend / MM,
        "Et": shell.stretch * MM,
        "R": shell.radius / MM,
        "L": shell.length / MM,
    }
    steps = (
        given("EI", numbers["EI"], "N mm", f"a strip round about, {shell.source}"),
        given("Et", shell.stretch * MM, "N/mm", "along the axis"),
        given("p", pressure / MPA, "MPa", "at the lower rib"),
        step("p_r", "3 * EI / R^3", ring / MPA, "MPa", **numbers),
        step("p_b", "c * (EI^3 * Et)^0.25 / (L * R^1.5)", bay / MPA, "MPa", c=_NOT_ROUND * _SHELL, **numbers),
        step("p_max", "max(p_r, p_b) / n", allowed / MPA, "MPa", p_r=ring / MPA, p_b=bay / MPA, n=SAFETY),
    )
    source = "ring: Roark; shell: NASA SP-8007, from memory; safety ours"
    return Verdict("buckling between ribs", pressure / MPA, allowed / MPA, "MPa", source, steps)
