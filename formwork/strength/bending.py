"""How tightly a sheet may be bent cold: least radii by material, thickness and the way of the face grain.

A radius that nobody has published is not guessed: such a sheet bends only to what the shop says of it.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import FOOT, INCH, MM, MPA, PSI
from formwork.strength.tables import rows
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Unjudged, Verdict, given, step

Way = Literal["across", "along"]
"""Across the face grain, the axis of the bend along it (the easy way), or along the face grain."""

STEEL = 1.5
"""Radius over thickness to which mild steel sheet is bent in its bend test, across the rolling direction: a mandrel of
1.5 t across, read in a seller's table of EN 10025 S235; taken as the radius, which is the safer reading."""
_SLACK = 2e-4
PLIES = 0.25
"""Share of a plywood's thickness in plies whose grain runs one way, at the least (ours; a third in equal plies)."""
YIELD = 140e6
"""Least yield stress of galvanized sheet steel of the softest common grade, DX51D, Pa: a seller's page."""
YIELD_SHARE = 0.6
"""Tension allowed over yield stress (from memory: AISC allowable stress design)."""


@record
class Bend:
    """How tightly a sheet may be bent.

    Attributes:
        radius: least radius of its hollow face, m.
        source: who says so.
    """

    radius: float
    source: str


def published(material: str, thickness: float, way: Way) -> Bend | Unjudged:
    """The least radius that a source gives for a sheet, dry and cold.

    Between two thicknesses of a table the radius of the thicker one is taken; a sheet thinner than all of them takes
    the radius of the thinnest.

    Args:
        material: of the stock record.
        thickness: real, m.
        way: of the face grain to the bend; of no account for a material without grain.

    Returns:
        The radius, or why there is none.

    Raises:
        RangeError: thickness not above zero; a way that is not one of the two.

    Source: plywood: APA; birch plywood: FAA AC 43.13-1B; sheet steel: bend test, see ``STEEL``.
    Valid: dry plywood, unoverlaid, bent in one direction only.

    >>> published("plywood", 0.25 * INCH, "across").radius / FOOT
    2.0
    """
    positive("thickness", thickness, "m")
    if way not in ("across", "along"):
        raise RangeError(f"way of the grain: got {way!r}, want across or along")
    if material == "plywood":
        return _from_table("apa_bending_radii", thickness, f"{way}_ft", FOOT, "American Plywood Association")
    if material == "birch plywood":
        return _from_table("faa_bending_radii", thickness, f"{way}_in", INCH, "FAA AC 43.13-1B")
    if material == "sheet steel":
        return Bend(STEEL * thickness, "bend test of mild steel, 1.5 times the thickness")
    return Unjudged(
        "bending radius",
        f"no source gives a radius to which {material} may be bent; enter the maker's or your own as bend_radius",
    )


def _from_table(name: str, thickness: float, column: str, unit: float, source: str) -> Bend | Unjudged:
    known = [(_inches(row["thickness_in"]), float(row[column]) * unit) for row in rows(name)]
    reach = [pair for pair in known if pair[0] >= thickness - _SLACK]
    if not reach:
        thick = max(size for size, _ in known)
        return Unjudged(
            "bending radius",
            f"the table of {source} ends at {thick * 1e3:.1f} mm; enter bend_radius for a thicker sheet",
        )
    return Bend(min(reach)[1], source)


def _inches(written: str) -> float:
    return float(Fraction(written)) * INCH


@record
class Tension:
    """Tension a skin may carry round the mold, Pa of its whole thickness, and who says so."""

    stress: float
    source: str


def tension(material: str) -> Tension | Unjudged:
    """Tension that a skin of a material may carry along its plane.

    Args:
        material: of the stock record.

    Returns:
        The stress, or why there is none.

    Source: plywood: the bending stress of ordinary wet plywood on a quarter of its thickness; that tension in the plane
    of the plies has the bending stress's value is from memory of the Plywood Design Specification. Sheet steel: module
    constants.
    Valid: at no more than the usual stresses of a form; not for a skin with a butt joint that nothing covers.

    >>> round(tension("sheet steel").stress / 1e6)
    84
    """
    if material in ("plywood", "overlaid plywood", "birch plywood"):
        wet = next(row for row in rows("ordinary_plywood") if row["row"] == "sanded wet")
        return Tension(PLIES * float(wet["Fb_psi"]) * PSI, "wet plywood, tension as bending (from memory)")
    if material == "sheet steel":
        return Tension(YIELD_SHARE * YIELD, "0.6 of the yield stress of DX51D")
    return Unjudged(
        "tension of the skin", f"no source gives the tension that {material} may carry; enter it as tension"
    )


def hoop_stress(stress: Tension, pressure: float, radius: float, thickness: float) -> Verdict:
    """Tension round a bent skin whose ends are held, against what it may carry: f = p r / t.

    Args:
        stress: that it may carry.
        pressure: on its hollow face, Pa.
        radius: of that face, m.
        thickness: of the skin, m.

    Raises:
        RangeError: outside the limits.

    Source: hoop tension of a thin cylinder, lecture notes on water tanks; statics.
    Valid: a skin thin against its radius.

    >>> hoop_stress(Tension(1e6, ""), 10e3, 0.3, 0.006).load
    0.5
    """
    not_negative("pressure", pressure, "Pa")
    positive("radius", radius, "m")
    positive("thickness", thickness, "m")
    found = pressure * radius / thickness / MPA
    steps = (
        given("p", pressure / MPA, "MPa", "where it is greatest"),
        step("f", "p * r / t", found, "MPa", p=pressure / MPA, r=radius / MM, t=thickness / MM),
        given("f_max", stress.stress / MPA, "MPa", stress.source),
    )
    return Verdict(
        "tension round it", found, stress.stress / MPA, "MPa", f"hoop tension; {stress.source}", steps
    )
