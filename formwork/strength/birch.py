"""Birch film-faced form plywood.

Source: a birch plywood maker's data sheet for form panels (allowable bending stress, safety factor 2.33);
trade guide SC514, a worked example of an 18 mm form panel (stiffness and shear).
"""

from __future__ import annotations

from formwork.strength.customary import PSI
from formwork.strength.panels import C_ACROSS, C_ALONG, Grain, PanelSection
from formwork.strength.tables import rows
from formwork.strength.valid import positive
from formwork.strength.working import Unjudged

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
