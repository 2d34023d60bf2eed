"""How stiff a sheet of the stock is once it is bent round a core, and when the mix outside buckles it."""

from __future__ import annotations

from formwork.molds.strengths import section_of, what_to_enter
from formwork.stock.records import SheetStock
from formwork.strength.panels import Grain
from formwork.strength.thin_sheet import Stiffness, bent_stiffness
from formwork.strength.working import Unjudged


def bent_of(sheet: SheetStock, *, grain_round: bool) -> Stiffness | Unjudged:
    """How stiff a sheet of the stock is once it is bent to a cylinder, or what is missing.

    Args:
        sheet: of the stock.
        grain_round: its face grain runs round about, not along the axis.
    """
    if sheet.strength is None:
        found = bent_stiffness(sheet.material, sheet.thickness, grain_round=grain_round)
        return (
            Unjudged(found.name, f"{found.why}; {what_to_enter(sheet)}")
            if isinstance(found, Unjudged)
            else found
        )
    ways: tuple[Grain, Grain] = ("across", "along") if grain_round else ("along", "across")
    found_ways = [section_of(sheet, way) for way in ways]
    missing = next((one for one in found_ways if isinstance(one, Unjudged)), None)
    if missing is not None:
        return missing
    hoop, axis = (one for one in found_ways if not isinstance(one, Unjudged))
    if hoop.e is None or axis.e is None:
        return Unjudged("stiffness of the skin", f"its modulus is not declared; {what_to_enter(sheet)}")
    return Stiffness(hoop.e * hoop.inertia, axis.e * axis.thickness, "as its maker declares")
