"""Skins of thin sheet: what a strip of one or more bent layers carries between two ribs.

Thin plywood has few plies: those along the span are at least half of it. A strip is taken at half the inertia of a
solid one, which is about what a published table gives for 3/8 in sanded plywood (I 0.027 in4, KS 0.125 in3 a foot,
from memory), at the stresses of wet ordinary plywood. Layers laid loose on one another share the load.
"""

from __future__ import annotations

from dataclasses import replace

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.apa_forms import size_below
from formwork.strength.panels import C_ACROSS, PanelSection, homogeneous
from formwork.strength.sheets import ordinary, section_for
from formwork.strength.valid import positive
from formwork.strength.working import Unjudged

SHARE = 0.5
"""Inertia of a strip of thin plywood over that of a solid one (ours, after 3/8 in plywood)."""
KS_SHARE = 0.85
"""KS over I / (t / 2) of a section with few plies (Plywood Design Specification, from memory)."""
_STEEL = (84e6, 200e9)
WEAK = 1.0 / 27.0
"""The same across its face grain: of three equal plies the middle one alone runs that way (ours)."""


def skin_section(material: str, thickness: float, layers: int = 1) -> PanelSection | Unjudged:
    """A strip of a skin, its face grain along the hoop, from rib to rib.

    Args:
        material: of the stock record.
        thickness: of one layer, m.
        layers: laid over one another, not glued.

    Returns:
        The section of all layers, or why there is none.

    Raises:
        RangeError: thickness not above zero; less than one layer.

    Source: module docstring; plywood that the tables know as they have it; steel 0.6 of the yield stress of DX51D.
    Valid: sheet bent within its limit; the stress of bending it is not added.

    >>> one, three = skin_section("plywood", 0.0065), skin_section("plywood", 0.0065, 3)
    >>> round(three.ks / one.ks, 9), round(three.inertia / one.inertia, 9)
    (3.0, 3.0)
    """
    positive("thickness", thickness, "m")
    if layers < 1:
        raise RangeError(f"layers: got {layers}, want 1 or more")
    one = _single(material, thickness)
    if isinstance(one, Unjudged):
        return one
    return layered(one, layers)


def layered(one: PanelSection, layers: int) -> PanelSection:
    """The section of loose layers, which share the load.

    Args:
        one: of one layer.
        layers: laid over one another, not glued.

    Source: statics.
    """
    return replace(one, inertia=layers * one.inertia, ks=layers * one.ks, ib_q=layers * one.ib_q)


def _single(material: str, thickness: float) -> PanelSection | Unjudged:
    if material == "sheet steel":
        stress, modulus = _STEEL
        return homogeneous(
            "sheet steel", thickness, fb=stress, e=modulus, fs=None, source="0.6 of the yield stress of DX51D"
        )
    thin = material in ("plywood", "overlaid plywood", "birch plywood") and size_below(thickness) is None
    return _thin(material, thickness) if thin else section_for(material, thickness, "across")


def _thin(material: str, thickness: float) -> PanelSection:
    wet = ordinary("sanded wet")
    inertia = SHARE * thickness**3 / 12.0
    return replace(
        wet,
        name=f"{material} {thickness * 1e3:.1f} mm, half of its plies along the span",
        thickness=thickness,
        inertia=inertia,
        ks=KS_SHARE * 2.0 * inertia / thickness,
        ib_q=0.6 * thickness,
        c=C_ACROSS,
        source="stresses of wet ordinary plywood; half of the solid section (ours)",
    )


@record
class Stiffness:
    """How stiff a bent sheet is, a unit wide: E I round about (N m), E t along the axis (N/m), and whose values."""

    bend: float
    stretch: float
    source: str


def bent_stiffness(material: str, thickness: float, *, grain_round: bool) -> Stiffness | Unjudged:
    """Stiffness of a sheet bent to a cylinder, wet.

    Args:
        material: of the stock record.
        thickness: real, m.
        grain_round: its face grain runs round about, not along the axis.

    Raises:
        RangeError: thickness not above zero.

    Source: plywood: modulus of wet ordinary plywood, plies as in the module docstring; of
    three equal plies one or two run along the axis. Sheet steel: 200 GPa.
    Valid: a sheet thin against its radius.

    >>> bent_stiffness("sheet steel", 0.001, grain_round=True).stretch
    200000000.0
    """
    positive("thickness", thickness, "m")
    solid = thickness**3 / 12.0
    if material == "sheet steel":
        modulus = _STEEL[1]
        return Stiffness(modulus * solid, modulus * thickness, "sheet steel")
    if material in ("plywood", "overlaid plywood", "birch plywood"):
        modulus = ordinary("sanded wet").ee
        share = SHARE if grain_round else WEAK
        along = 1.0 / 3.0 if grain_round else 2.0 / 3.0
        kind = f"{material}, wet, {'half' if grain_round else 'a 27th'} of a solid sheet (ours)"
        return Stiffness(modulus * share * solid, modulus * along * thickness, kind)
    return Unjudged("stiffness of the skin", f"no source gives the modulus of wet {material}")
