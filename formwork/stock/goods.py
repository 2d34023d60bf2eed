"""What a yard sells by the unit: what each thing is counted in, and how a person here says how much one unit gives."""

from __future__ import annotations

from typing import Literal

from formwork.units.show import UnitSystem

Counted = Literal["piece", "length", "area", "volume", "mass"]

GOODS: dict[str, Counted] = {
    **dict.fromkeys(("screw", "bolt", "nut", "tee nut", "washer", "plate washer", "pin"), "piece"),
    **dict.fromkeys(("threaded rod", "tie rod", "anchor", "sleeve", "crown ring", "cross clamp"), "piece"),
    **dict.fromkeys(("dowel", "dowel or stopper", "stopper", "folding wedges", "strap"), "piece"),
    **dict.fromkeys(("sealant", "tape", "chamfer strip"), "length"),
    **dict.fromkeys(("release agent", "sealer", "waterproof wood glue"), "area"),
    "lean mortar": "volume",
    **dict.fromkeys(("sand", "fly ash", "gravel", "fibres"), "mass"),
}
"""Everything the program may put on a buy list beside sheet, stick, pipe, tube, cement, foam and what is cast in."""

_SI: dict[UnitSystem, dict[Counted, tuple[str, float]]] = {
    "mm": {
        "piece": ("piece", 1.0),
        "length": ("m", 1.0),
        "area": ("m2", 1.0),
        "volume": ("m3", 1.0),
        "mass": ("kg", 1.0),
    },
    "in": {
        "piece": ("piece", 1.0),
        "length": ("ft", 0.3048),
        "area": ("ft2", 0.3048**2),
        "volume": ("ft3", 0.3048**3),
        "mass": ("lb", 0.45359237),
    },
}


def said(item: str, units: UnitSystem) -> tuple[str, float]:
    """In what a person counts a thing, and how much of the SI unit that is; pieces where nobody knows it.

    Args:
        item: as on the buy list.
        units: of the person.

    >>> said("sealant", "in"), said("screw", "in")
    (('ft', 0.3048), ('piece', 1.0))
    """
    return _SI[units][GOODS.get(item, "piece")]
