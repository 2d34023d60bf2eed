"""Stock that yards sell and a shop may not list: tried last, so that a person learns what to buy.

Sticks no thicker than the strength of lumber is known for. Metric sizes are those that sawmills sell (common practice,
no source), inch ones PS 20 as dressed; lashing capacities those that strap makers print (common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

from formwork.checks.changes.ladder import Ladder
from formwork.project.records import METHODS_WITH, Shop
from formwork.stock.records import StickStock, StrapStock
from formwork.strength.customary import INCH
from formwork.units.show import UnitSystem

_STICKS: dict[UnitSystem, tuple[tuple[str, float, float], ...]] = {
    "mm": (
        ("70x145", 0.070, 0.145),
        ("95x145", 0.095, 0.145),
        ("95x195", 0.095, 0.195),
        ("95x245", 0.095, 0.245),
    ),
    "in": (
        ("4x4", 3.5 * INCH, 3.5 * INCH),
        ("4x6", 3.5 * INCH, 5.5 * INCH),
        ("4x8", 3.5 * INCH, 7.25 * INCH),
        ("4x10", 3.5 * INCH, 9.25 * INCH),
    ),
}
_STRAPS = (2_500.0, 5_000.0, 10_000.0, 20_000.0, 25_000.0)
_LONG = 40.0


def sticks(shop: Shop, units: UnitSystem, than: float) -> tuple[StickStock, ...]:
    """Sticks stouter than a section (m2) that the shop does not list, the least first."""
    if not shop.sticks:
        return ()
    like = max(shop.sticks, key=lambda one: one.thickness * one.width)
    listed = {one.name for one in shop.sticks}
    return tuple(
        replace(like, name=name, nominal=name, thickness=thick, width=wide)
        for name, thick, wide in _STICKS[units]
        if name not in listed and thick * wide > than + 1e-9
    )


def straps() -> tuple[StrapStock, ...]:
    """Straps of the usual lashing capacities, of a fibre that alkali does not attack."""
    return tuple(
        StrapStock(f"strap of {lashing / 1000.0:g} kN", lashing, None, False, _LONG) for lashing in _STRAPS
    )


def with_unlisted(shop: Shop, units: UnitSystem, names: tuple[object, ...]) -> Shop:
    """The shop with what is named of such stock, and nothing else of it."""
    more = tuple(one for one in sticks(shop, units, 0.0) if one.name in names)
    bands = tuple(one for one in straps() if one.name in names)
    return replace(shop, sticks=(*shop.sticks, *more), straps=(*shop.straps, *bands))


def ladders(shop: Shop, units: UnitSystem, method: str) -> tuple[Ladder, ...]:
    """Stouter sticks and stronger straps than the shop lists."""
    stoutest = max((one.thickness * one.width for one in shop.sticks), default=0.0)
    found = [Ladder("stick", tuple(one.name for one in sticks(shop, units, stoutest)))]
    if method in METHODS_WITH["strap"]:
        strongest = max((one.lashing or 0.0 for one in shop.straps), default=0.0)
        names = tuple(one.name for one in straps() if (one.lashing or 0.0) > strongest)
        found.append(Ladder("strap", names, ("ring straps", "straps round")))
    return tuple(found)
