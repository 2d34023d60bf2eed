"""What is known of a sheet's strength: from its material and real thickness to the section a check may use.

Known values are rows of a table, named by document. Where only "plywood" is known, the cautious row is taken:
the least properties of the classes in the table, of the row at or below the real thickness, with stresses of
ordinary exterior plywood that is wet. Where no source gives a strength (melamine board, MDF, hardboard,
plastic), the answer is a reason, never a number.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from formwork.errors import RangeError
from formwork.strength.customary import FOOT, INCH, PSI
from formwork.strength.panels import C_ACROSS, C_ALONG, PanelSection
from formwork.strength.tables import rows
from formwork.strength.valid import positive
from formwork.strength.working import Unjudged

Grain = Literal["across", "along"]
"""How the face grain lies to the supports: across them (the strong way) or along them."""

FormClass = Literal["Class I", "Class II", "Structural I"]

REUSE = 1.25
"""Allowable stresses of forms used many times are divided by it (lecture notes, week 8)."""

_SMALLEST = 1e-6


@cache
def _stresses(form_class: str) -> dict[str, str]:
    for row in rows("apa_form_stresses"):
        if row["class"] == form_class:
            return row
    raise RangeError(f"class of form plywood: got {form_class!r}, want Class I, Class II or Structural I")


def _rows_of(form_class: str) -> list[dict[str, str]]:
    return [row for row in rows("apa_form_panels") if row["class"] == form_class]


def _properties(row: dict[str, str], grain: Grain) -> tuple[float, float, float] | None:
    """I, KS and Ib/Q of one metre of width in m4, m3, m2; None where the copy read has no value."""
    texts = (row[f"I_{grain}_in4"], row[f"KS_{grain}_in3"], row[f"IbQ_{grain}_in2"])
    if not all(texts):
        return None
    inertia, ks, ib_q = map(float, texts)
    return inertia * INCH**4 / FOOT, ks * INCH**3 / FOOT, ib_q * INCH**2 / FOOT


def form_panel(form_class: FormClass, nominal: str, grain: Grain, many_uses: bool = False) -> PanelSection:
    """A concrete form panel of PS 1 by class and nominal thickness, for wet use and loads under seven days.

    Args:
        form_class: Class I, Class II or Structural I.
        nominal: thickness as printed, "3/4".
        grain: of the face, across or along the supports.
        many_uses: the form is used many times: Fb and Fs are divided by 1.25.

    Returns:
        The section.

    Raises:
        RangeError: no such row, or a row whose values were not read.

    Source: APA, read in Peurifoy & Oberlender p. 121, 218, 223; stresses of Class II and Structural I from
    memory.
    Valid: nominal thickness 15/32 to 1-1/8 in (Structural I to 7/8 in).

    >>> section = form_panel("Class I", "3/4", "across")
    >>> round(section.fb / PSI, 6), round(section.ks * FOOT / INCH**3, 6)
    (1930.0, 0.455)
    """
    for row in _rows_of(form_class):
        properties = _properties(row, grain)
        if row["nominal"] == nominal and properties:
            return _form_section(row, properties, grain, many_uses)
    known = ", ".join(row["nominal"] for row in _rows_of(form_class))
    raise RangeError(
        f"form plywood {form_class}, grain {grain}: got {nominal!r}, want one of {known or 'no row'}"
    )


def _form_section(
    row: dict[str, str], properties: tuple[float, float, float], grain: Grain, many_uses: bool
) -> PanelSection:
    stress = _stresses(row["class"])
    share = PSI / (REUSE if many_uses else 1.0)
    certainty = "" if stress["certainty"] == "read" else f", stresses {stress['certainty']}"
    return PanelSection(
        name=f"form plywood {row['class']} {row['nominal']} in, face grain {grain} the supports",
        thickness=float(row["thickness_in"]) * INCH,
        fb=float(stress["Fb_psi"]) * share,
        fs=float(stress["Fs_psi"]) * share,
        e=float(stress["E_psi"]) * PSI,
        ee=float(stress["Ee_psi"]) * PSI,
        inertia=properties[0],
        ks=properties[1],
        ib_q=properties[2],
        c=C_ACROSS if grain == "across" else C_ALONG,
        source=f"APA concrete form design, {row['class']}{certainty}",
    )


def form_panel_of(
    form_class: FormClass, thickness: float, grain: Grain, many_uses: bool = False
) -> PanelSection | Unjudged:
    """A concrete form panel by its real thickness: the greatest nominal size that may be as thin in PS 1.

    Args:
        form_class: Class I, Class II or Structural I.
        thickness: real, m.
        grain: of the face, across or along the supports.
        many_uses: as for :func:`form_panel`.

    Returns:
        The section, or why there is none.

    Raises:
        RangeError: thickness not above zero.

    Source: as :func:`form_panel`; thickness ranges of PS 1 as printed by APA.
    Valid: real thickness from 0.438 in.

    >>> form_panel_of("Class I", 0.70 * INCH, "across").name
    'form plywood Class I 23/32 in, face grain across the supports'
    """
    positive("thickness", thickness, "m")
    fitting = [
        (row, properties)
        for row in _rows_of(form_class)
        if float(row["least_in"]) * INCH <= thickness + _SMALLEST and (properties := _properties(row, grain))
    ]
    if not fitting:
        return _too_thin(f"form plywood {form_class}", thickness, 0.438)
    return _form_section(*fitting[-1], grain, many_uses)


def ordinary(name: Literal["sanded wet", "sanded dry"], grain: Grain = "across") -> PanelSection:
    """A row of the table of ordinary plywood.

    Args:
        name: of the row.
        grain: only "across" was read.

    Returns:
        The section, stresses at normal duration of load.

    Raises:
        RangeError: face grain along the supports.

    Source: "sanded wet" University of Florida lecture notes, week 7; "sanded dry" Peurifoy & Oberlender p.
    137.
    Valid: 3/4 in, face grain across the supports.

    >>> round(ordinary("sanded dry").e / PSI, 6)
    1800000.0
    """
    if grain != "across":
        raise RangeError(
            "ordinary plywood: got face grain along the supports, want across: no other row was read"
        )
    row = next(each for each in rows("ordinary_plywood") if each["row"] == name)
    e = float(row["E_psi"]) * PSI
    return PanelSection(
        name=f"ordinary plywood {row['nominal']} in, {name}",
        thickness=float(row["thickness_in"]) * INCH,
        fb=float(row["Fb_psi"]) * PSI,
        fs=float(row["Fs_psi"]) * PSI,
        e=e,
        ee=e,
        inertia=float(row["I_in4"]) * INCH**4 / FOOT,
        ks=float(row["KS_in3"]) * INCH**3 / FOOT,
        ib_q=float(row["IbQ_in2"]) * INCH**2 / FOOT,
        c=C_ACROSS,
        source="Plywood Design Specification, read in lecture notes",
    )


SANDED = 0.412 / 0.454
"""KS of ordinary sanded plywood over that of unsanded Class II, both at 3/4 in (lecture notes; APA)."""


def cautious_plywood(thickness: float, grain: Grain, many_uses: bool = True) -> PanelSection | Unjudged:
    """Plywood of which only the thickness is known: wet, sanded, of unknown species.

    I, KS and Ib/Q are the least of the classes of form plywood in the row at or below the real thickness, KS
    less what sanding takes. Stresses and moduli are the lesser of Class II and of wet exterior plywood under
    lasting load. No thinner row is taken as stiffer in shear than a thicker one.

    Args:
        thickness: real, m.
        grain: of the face, across or along the supports.
        many_uses: as for :func:`form_panel`; only ever lowers.

    Returns:
        The section, or why there is none.

    Raises:
        RangeError: thickness not above zero.

    Source: APA tables and Plywood Design Specification as above; taking the least is our own.
    Valid: real thickness from 15/32 in (11.9 mm).

    >>> section = cautious_plywood(0.018, "across")
    >>> section.name
    'plywood, taken as 5/8 in, face grain across the supports'
    >>> round(section.fs / PSI, 3)
    44.0
    """
    positive("thickness", thickness, "m")
    sizes = [size for size in _sizes() if size <= thickness + _SMALLEST]
    if not sizes:
        return _too_thin("plywood", thickness, 15 / 32)
    size = sizes[-1]
    inertia, ks, ib_q = _least_properties(size, grain)
    wet, soft = ordinary("sanded wet"), _stresses("Class II")
    share = PSI / (REUSE if many_uses else 1.0)
    e = min(float(soft["Ee_psi"]) * PSI, wet.ee)
    return PanelSection(
        name=f"plywood, taken as {_nominal(size)} in, face grain {grain} the supports",
        thickness=size,
        fb=min(float(soft["Fb_psi"]) * share, wet.fb),
        fs=min(float(soft["Fs_psi"]) * share, wet.fs or 0.0),
        e=e,
        ee=e,
        inertia=inertia,
        ks=ks * SANDED,
        ib_q=ib_q,
        c=(C_ACROSS if grain == "across" else C_ALONG) * _shear_flexibility(size, grain) * inertia / size**2,
        source="least of APA form plywood and of wet ordinary plywood (Class II stresses from memory)",
    )


@cache
def _sizes() -> tuple[float, ...]:
    """Nominal thicknesses of the form table, m, thinnest first."""
    return tuple(sorted({float(row["thickness_in"]) * INCH for row in rows("apa_form_panels")}))


def _nominal(size: float) -> str:
    found = (
        row for row in rows("apa_form_panels") if abs(float(row["thickness_in"]) * INCH - size) < _SMALLEST
    )
    return next(found)["nominal"]


@cache
def _least_properties(size: float, grain: Grain) -> tuple[float, float, float]:
    """The least I, KS and Ib/Q of the classes at a nominal thickness."""
    at = [row for row in rows("apa_form_panels") if abs(float(row["thickness_in"]) * INCH - size) < _SMALLEST]
    known = [properties for row in at if (properties := _properties(row, grain))]
    return min(each[0] for each in known), min(each[1] for each in known), min(each[2] for each in known)


@cache
def _shear_flexibility(size: float, grain: Grain) -> float:
    """The greatest t^2/I of this and every thicker row."""
    return max(each**2 / _least_properties(each, grain)[0] for each in _sizes() if each >= size - _SMALLEST)


def _too_thin(name: str, thickness: float, least: float) -> Unjudged:
    return Unjudged(
        "panel strength",
        f"no source gives section properties of {name} {thickness * 1e3:.1f} mm thick; "
        f"the thinnest row is {least * INCH * 1e3:.1f} mm",
    )


def section_for(
    material: str, thickness: float, grain: Grain, many_uses: bool = True
) -> PanelSection | Unjudged:
    """The section a check may use for a sheet of the stock, or why there is none.

    Args:
        material: of the stock record: plywood, overlaid plywood, birch plywood, melamine board, MDF,
            hardboard, plastic sheet.
        thickness: real, m.
        grain: of the face, across or along the supports.
        many_uses: the form is used more than a few times.

    Returns:
        The section, or what is missing and what to enter.

    Raises:
        RangeError: thickness not above zero.

    Source: of the row chosen.
    Valid: see the row's function.

    >>> section_for("MDF", 0.018, "across").why
    'no source gives the strength of wet MDF; enter bending strength and modulus from its maker'
    """
    positive("thickness", thickness, "m")
    if material in ("plywood", "overlaid plywood"):
        return cautious_plywood(thickness, grain, many_uses)
    if material == "birch plywood":
        return birch(thickness, grain)
    return Unjudged(
        "panel strength",
        f"no source gives the strength of wet {material}; enter bending strength and modulus from its maker",
    )


FORM_PLY_18 = (2650.0, 7600.0)
"""18 mm form plywood: EI 2.65 kNm2/m and shear capacity 7.6 kN/m, of a published worked example."""


def birch(thickness: float, grain: Grain) -> PanelSection | Unjudged:
    """Birch film-faced form plywood, wet, on its full section.

    The bending stress is a maker's allowable; modulus and shear stress are those of the 18 mm form plywood of
    a published worked example (softer and weaker than dry birch), so deflection and shear are on the cautious
    side.

    Args:
        thickness: real, m.
        grain: of the face, across or along the supports.

    Returns:
        The section, or why there is none.

    Raises:
        RangeError: thickness not above zero.

    Source: birch plywood maker's data sheet for form panels (2500 psi across, 2680 psi along, wet); worked
    example of an 18 mm form panel: EI 2.65 kNm2/m, V 7.6 kN/m.
    Valid: along the face grain from 7 plies (9 mm), across it from 9 plies (12 mm), up to 30 mm; plies of 1.4
    mm from memory.

    >>> round(birch(0.018, "across").fb / PSI, 6)
    2500.0
    """
    positive("thickness", thickness, "m")
    least = 0.009 if grain == "across" else 0.012
    if not least - 3e-4 <= thickness <= 0.0305:
        return Unjudged(
            "panel strength", f"no source gives the strength of birch plywood {thickness * 1e3:.1f} mm thick"
        )
    row = next(each for each in rows("birch_form_plywood") if each["direction"] == grain)
    ei, force = FORM_PLY_18
    e = ei * 12.0 / 0.018**3
    return PanelSection(
        name=f"birch form plywood {thickness * 1e3:.1f} mm, face grain {grain} the supports",
        thickness=thickness,
        fb=float(row["Fb_wet_psi"]) * PSI,
        fs=1.5 * force / 0.018,
        e=e,
        ee=e,
        inertia=thickness**3 / 12.0,
        ks=thickness**2 / 6.0,
        ib_q=thickness * 2.0 / 3.0,
        c=C_ACROSS if grain == "across" else C_ALONG,
        source="birch plywood maker's allowable, wet; stiffness and shear from a worked example",
    )
