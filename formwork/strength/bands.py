"""Straps, hoops, yokes and corners: the tension that the pressure puts into what goes round a mold.

Source: statics (equilibrium of half the mold); hoop tension w h D / 2 in lecture notes on water tanks (CPO,
CATZ pages); lashing capacity half of the breaking force after EN 12195-2, and a third of it in the United
States: strap makers' pages.
"""

from __future__ import annotations

from math import sqrt

from formwork.record import record
from formwork.strength.customary import MM
from formwork.strength.pressure import Lift
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Judged, Step, Unjudged, Verdict, given, step


def hoop_tension(pressure: float, radius: float, height: float) -> float:
    """Tension in a band round a round mold: T = p r s.

    Args:
        pressure: over the height the band serves, Pa.
        radius: of the face the mix presses on, m.
        height: s, that the band serves, m.

    Returns:
        Tension, N.

    Raises:
        RangeError: outside the limits.

    Source: lecture notes on water tanks: w 10 kN/m3, 3 m deep, 4 m across: 60 kN a metre of height.
    Valid: a skin that is bent into the band, not one held flat.

    >>> hoop_tension(10e3 * 3.0, 2.0, 1.0)
    60000.0
    """
    not_negative("pressure", pressure, "Pa")
    positive("radius", radius, "m")
    positive("height", height, "m")
    return pressure * radius * height


def corner_tension(pressure: float, width: float, height: float) -> float:
    """What each end of a panel pulls its corner apart with: T = p B / 2 over a height.

    The same tension is in a strap round a square mold, which bears at the corners only and does not stiffen
    the panels.

    Args:
        pressure: over the height, Pa.
        width: B, inside width of the panel, m.
        height: of corner that carries it, m.

    Returns:
        Force, N.

    Raises:
        RangeError: outside the limits.

    Source: statics: half of the load on the panel goes to each end.
    Valid: panel held at both ends.

    >>> corner_tension(5000.0, 0.4, 0.1)
    100.0
    """
    not_negative("pressure", pressure, "Pa")
    positive("width", width, "m")
    positive("height", height, "m")
    return pressure * width / 2.0 * height


def corner_force(lift: Lift, width: float, low: float, high: float) -> float:
    """What a lift pulls one end of a panel with between two heights.

    Args:
        lift: the mix.
        width: inside width of the panel, m.
        low: lower height, m.
        high: upper height, m.

    Returns:
        Force, N: B / 2 times the area of the pressure diagram.

    Raises:
        RangeError: outside the limits.

    Source: statics.
    Valid: panel held at both ends.

    >>> round(corner_force(Lift(1000.0, 1.0), 0.4, 0.0, 1.0), 3)
    980.665
    """
    positive("width", width, "m")
    return lift.resultant(low, high) * width / 2.0


def yoke_bolt_force(pressure: float, side: float, spacing: float) -> float:
    """Force along the 45 degree joint of a wooden yoke round a square column: p (W/2) s sqrt 2.

    Args:
        pressure: at the yoke, Pa.
        side: W, of the column, m.
        spacing: s, of the yokes, m.

    Returns:
        Force, N.

    Raises:
        RangeError: outside the limits.

    Source: University of Florida construction lecture notes, week 8.
    Valid: square column, four equal yoke sticks.

    >>> from formwork.strength.customary import INCH, LBF, PSF
    >>> round(yoke_bolt_force(1500 * PSF, 20 * INCH, 13.86 * INCH) / LBF)
    2042
    """
    return corner_tension(pressure, side, spacing) * sqrt(2.0)


@record
class Strap:
    """A strap or band; the ratings that its label gives, the others None.

    Attributes:
        name: as the shop calls it.
        lashing: lashing capacity, or working load, N.
        breaking: force it breaks at, N.
        polyester: woven of polyester, which alkali attacks.
    """

    name: str
    lashing: float | None = None
    breaking: float | None = None
    polyester: bool = False


BREAK_SHARE = 3.0
"""Breaking force over allowed tension without a lashing capacity (United States practice; EN 12195-2 has 2)."""


def allowed_tension(strap: Strap) -> float | None:
    """Tension a strap may carry: its lashing capacity, else a third of its breaking force.

    Args:
        strap: the strap.

    Returns:
        Tension, N; None where it has no rating.

    Raises:
        RangeError: a rating that is not above zero.

    Source: module docstring.

    >>> allowed_tension(Strap("ratchet", breaking=66000.0))
    22000.0
    """
    for rating in (strap.lashing, strap.breaking):
        if rating is not None:
            positive("rating", rating, "N")
    if strap.lashing is not None:
        return strap.lashing
    return None if strap.breaking is None else strap.breaking / BREAK_SHARE


def rated(name: str, strap: Strap, tension: float, source: str, steps: tuple[Step, ...]) -> Judged:
    """A tension against what a strap may carry.

    Args:
        name: what is judged.
        strap: the strap.
        tension: in it, N.
        source: of the tension.
        steps: how it was found.

    Returns:
        Verdict in N, or what is missing.

    Raises:
        RangeError: a rating that is not above zero.

    Source: :func:`allowed_tension`.
    """
    limit = allowed_tension(strap)
    if limit is None:
        return Unjudged(name, f"{strap.name} has no rating; enter the lashing capacity that is on its label")
    return Verdict(name, tension, limit, "N", source, (*steps, given("T_max", limit, "N", strap.name)))


def hoop(strap: Strap, pressure: float, radius: float, height: float) -> Judged:
    """A band round a round mold against its rating.

    Args:
        strap: the band.
        pressure: greatest over the height it serves, Pa.
        radius: of the face the mix presses on, m.
        height: it serves, m.

    Returns:
        Verdict in N, or what is missing.

    Raises:
        RangeError: outside the limits.

    Source: :func:`hoop_tension`; rating: strap makers after EN 12195-2.
    Valid: as :func:`hoop_tension`.
    """
    tension = hoop_tension(pressure, radius, height)
    steps = (
        given("p", pressure / 1e6, "MPa", "at the foot of the height it serves"),
        step("T", "p * r * s", tension, "N", p=pressure / 1e6, r=radius / MM, s=height / MM),
    )
    return rated("band tension", strap, tension, "hoop tension, statics", steps)


def strap_round_square(strap: Strap, pressure: float, width: float, height: float) -> Judged:
    """A strap round a rectangular mold against its rating; it holds the corners together, nothing else.

    Args:
        strap: the strap.
        pressure: greatest over the height it serves, Pa.
        width: the greater inside width, m.
        height: it serves, m.

    Returns:
        Verdict in N, or what is missing.

    Raises:
        RangeError: outside the limits.

    Source: :func:`corner_tension`.
    Valid: as :func:`corner_tension`.
    """
    tension = corner_tension(pressure, width, height)
    steps = (
        given("p", pressure / 1e6, "MPa", "at the foot of the height it serves"),
        step("T", "p * B / 2 * s", tension, "N", p=pressure / 1e6, B=width / MM, s=height / MM),
    )
    return rated("strap tension", strap, tension, "corner tension, statics", steps)
