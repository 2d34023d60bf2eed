"""Ribs cut from sheet and set on edge: a curved strip in its own plane, as a beam that nothing helps to arch.

A rib that stands on its two feet carries a load from above at least as well as a straight beam of its span and depth
would; what it gains as an arch, were its feet held, is not counted on. Half of a sheet's plies are taken to run along
the rib, and where its layers are jointed one layer fewer is counted: both are our own caution, no source. The bending
stress is the one that the sheet's own table allows flatwise.
"""

from __future__ import annotations

from formwork.record import record
from formwork.strength.customary import MM, MPA
from formwork.strength.panels import PanelSection
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Verdict, given, step

ALONG = 0.5
"""Share of a sheet's thickness whose plies run along a rib (ours)."""


@record
class SheetRib:
    """A rib of layers cut from one sheet.

    Attributes:
        section: of the sheet, for its allowable bending stress.
        thickness: of one layer, m.
        layers: that run through at the weakest place, joints left out.
        depth: m.
    """

    section: PanelSection
    thickness: float
    layers: int
    depth: float


def rib_bending(rib: SheetRib, load: float, span: float) -> Verdict:
    """Bending of a rib between its feet under an even load: M = w l^2 / 8 over the layers that run through.

    Args:
        rib: the rib.
        load: on it, N a metre of its span.
        span: between its feet, m.

    Returns:
        Verdict in MPa.

    Raises:
        RangeError: outside the limits.

    Source: statics of a simple beam, and the module's docstring.
    Valid: a rib kept from buckling sideways by what crosses it; two layers with staggered joints count as one.
    """
    not_negative("load", load, "N/m")
    for name, size in (("span", span), ("depth", rib.depth), ("thickness", rib.thickness)):
        positive(name, size, "m")
    positive("layers", float(rib.layers), "")
    moment = load * span**2 / 8.0
    wide = ALONG * rib.layers * rib.thickness
    modulus = wide * rib.depth**2 / 6.0
    stress = moment / modulus
    steps = (
        step("M", "w * l^2 / 8", moment / MM, "N mm", w=load * MM, l=span / MM),
        step("b", "a * n * t", wide / MM, "mm", a=ALONG, n=float(rib.layers), t=rib.thickness / MM),
        step("S", "b * d^2 / 6", modulus / MM**3, "mm3", b=wide / MM, d=rib.depth / MM),
        step("f_b", "M / S", stress / MPA, "MPa", M=moment / MM, S=modulus / MM**3),
        given("F_b", rib.section.fb / MPA, "MPa", rib.section.name),
    )
    return Verdict(
        "bending", stress / MPA, rib.section.fb / MPA, "MPa", f"simple beam; {rib.section.source}", steps
    )


def least_depth(section: PanelSection, thickness: float, layers: int, load: float, span: float) -> float:
    """Depth at which :func:`rib_bending` comes to its limit, m.

    Args:
        section: of the sheet.
        thickness: of one layer, m.
        layers: that run through at the weakest place.
        load: N a metre of span.
        span: between the feet, m.

    Source: :func:`rib_bending` solved for the depth.
    """
    positive("thickness", thickness, "m")
    wide = ALONG * layers * thickness
    return float((6.0 * load * span**2 / 8.0 / (wide * section.fb)) ** 0.5)
