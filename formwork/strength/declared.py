"""Sheets by what their maker declares: strength and modulus off a data sheet, brought down to what a form may use.

Fibreboard, melamine board and plastic have no allowable stress in any source that was read; their makers declare a
strength and a modulus, of dry board as a rule. A declared strength is divided by a factor of safety and, where it is
that of a dry sheet, reduced by what wet use takes.

Source: safety 2.33 and the share left when wet, 2500 of 3600 psi: a birch plywood maker's data sheet for form panels;
the share of the modulus left when wet, 1.5 of 1.8 million psi: ordinary plywood, University of Florida lecture notes
(wet) and Peurifoy & Oberlender p. 137 (dry). That other boards are taken so too is our own.
"""

from __future__ import annotations

from dataclasses import replace
from math import inf

from formwork.record import record
from formwork.strength.customary import MPA
from formwork.strength.panels import C_ACROSS, C_ALONG, Grain, PanelSection, homogeneous
from formwork.strength.valid import within
from formwork.strength.working import Unjudged

SAFETY = 2.33
"""Strength declared over stress used, where the person says nothing: the factor of a maker of form panels."""
WET_STRENGTH = 2500.0 / 3600.0
"""Strength left when wet, of the same maker."""
WET_MODULUS = 1.5 / 1.8
"""Modulus left when wet, of ordinary plywood."""


@record
class Declared:
    """What a maker declares of a sheet, Pa; of one with a grain along it and across it, of others along it only.

    Attributes:
        name: of the sheet, as the shop calls it.
        thickness: real, m.
        grained: it is stronger along its face grain.
        bending: bending strength along the face grain.
        bending_across: across it; None where it is not declared.
        modulus: of elasticity in bending, along the face grain; None where it is not declared.
        modulus_across: across it; None where it is not declared.
        shear: shear strength in its plane (of plywood: rolling shear); None where it is not declared.
        safety: strength declared over the stress used.
        wet: the values are those of a wet sheet.
    """

    name: str
    thickness: float
    grained: bool
    bending: float
    bending_across: float | None = None
    modulus: float | None = None
    modulus_across: float | None = None
    shear: float | None = None
    safety: float = SAFETY
    wet: bool = False


def declared_section(sheet: Declared, grain: Grain) -> PanelSection | Unjudged:
    """The section a check may use for a sheet that its maker has declared.

    Args:
        sheet: what he declares.
        grain: of the face, across or along the supports.

    Returns:
        The section, or what is missing and which key of the shop file takes it.

    Raises:
        RangeError: a value that is not above zero, or a safety below 1.

    Source: the maker's declaration; factors: module docstring.
    Valid: the full thickness; plywood with the declared value of the direction it spans.

    >>> board = Declared("MDF 18", 0.018, False, bending=20e6, modulus=2.2e9)
    >>> round(declared_section(board, "across").fb / 1e6, 2)
    5.96
    """
    within("safety", sheet.safety, 1.0, inf, "")
    weak = sheet.grained and grain == "along"
    bending = sheet.bending_across if weak else sheet.bending
    modulus = sheet.modulus_across if weak else sheet.modulus
    if bending is None:
        return Unjudged(
            "panel strength",
            f"{sheet.name} spans across its face grain here, and its bending_across is not declared in the shop file",
        )
    left, stiff = (1.0, 1.0) if sheet.wet else (WET_STRENGTH, WET_MODULUS)
    used = left / sheet.safety
    section = homogeneous(
        sheet.name,
        sheet.thickness,
        fb=bending * used,
        e=None if modulus is None else modulus * stiff,
        fs=None if sheet.shear is None else sheet.shear * used,
        source=_source(sheet, bending, left),
    )
    return replace(section, c=C_ALONG if weak else C_ACROSS) if sheet.grained else section


def _source(sheet: Declared, bending: float, left: float) -> str:
    wet = "" if sheet.wet else f", times {left:.3g} when wet"
    return f"maker's {bending / MPA:g} MPa over a safety of {sheet.safety:g}{wet}"
