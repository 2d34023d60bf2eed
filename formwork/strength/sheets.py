"""What is known of a sheet's strength: from its material and real thickness to the section a check may use.

Known values are rows of a table, named by document. Where only "plywood" is known, the cautious row is taken:
the least properties of the classes in the table, of the row at or below the real thickness, with stresses of
ordinary exterior plywood that is wet. Where no source gives a strength (melamine board, MDF, hardboard,
plastic), the answer is a reason, never a number.
"""

from __future__ import annotations

from typing import Literal

from formwork.errors import RangeError
from formwork.strength.apa_forms import (
    least_properties,
    nominal_of,
    shear_flexibility,
    size_below,
    stresses,
    too_thin,
)
from formwork.strength.birch import birch
from formwork.strength.customary import FOOT, INCH, PSI
from formwork.strength.panels import C_ACROSS, C_ALONG, Grain, PanelSection
from formwork.strength.tables import rows
from formwork.strength.valid import positive
from formwork.strength.working import Unjudged


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
    Valid: real thickness from 15/32 in (11.9 mm); face veneers no weaker than species group 3 (from memory).

    >>> section = cautious_plywood(0.018, "across")
    >>> section.name
    'plywood, taken as 5/8 in, face grain across the supports'
    >>> round(section.fs / PSI, 3)
    44.0
    """
    positive("thickness", thickness, "m")
    size = size_below(thickness)
    if size is None:
        return too_thin("plywood", thickness, 15 / 32 * INCH)
    inertia, ks, ib_q = least_properties(size, grain)
    wet, soft = ordinary("sanded wet"), stresses("Class II", many_uses)
    e = min(soft.ee, wet.ee)
    return PanelSection(
        name=f"plywood, taken as {nominal_of(size)} in, face grain {grain} the supports",
        thickness=size,
        fb=min(soft.fb, wet.fb),
        fs=min(soft.fs, wet.fs or 0.0),
        e=e,
        ee=e,
        inertia=inertia,
        ks=ks * SANDED,
        ib_q=ib_q,
        c=(C_ACROSS if grain == "across" else C_ALONG) * shear_flexibility(size, grain) * inertia / size**2,
        source="least of APA form plywood and of wet ordinary plywood (Class II stresses from memory)",
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
        The section, or what is missing.

    Raises:
        RangeError: thickness not above zero.

    Source: of the row chosen.
    Valid: see the row's function.

    >>> section_for("MDF", 0.018, "across").why
    'no source gives the strength of wet MDF'
    """
    positive("thickness", thickness, "m")
    if material in ("plywood", "overlaid plywood"):
        return cautious_plywood(thickness, grain, many_uses)
    if material == "birch plywood":
        return birch(thickness, grain)
    return Unjudged("panel strength", f"no source gives the strength of wet {material}")
