"""What holds where a shop file says nothing. Everything taken from here is named in ``Shop.assumed``.

All of it is common practice without a published source, but for the cement bag (94 lb in the US) and the
specific gravities that stand with the keys in ``tables``.
"""

from __future__ import annotations

from formwork.mix.pour_records import Times
from formwork.mix.records import Cement, Foam, Mixer
from formwork.stock.records import Material, Saw
from formwork.units.parse import read
from formwork.units.show import UnitSystem

CURRENCY: dict[UnitSystem, str] = {"in": "$", "mm": "EUR"}
KERF: dict[UnitSystem, str] = {"in": "1/8 in", "mm": "3 mm"}
TRIM: dict[UnitSystem, str] = {"in": "1/4 in", "mm": "5 mm"}
END_TRIM: dict[UnitSystem, str] = {"in": "1/4 in", "mm": "5 mm"}
BAG: dict[UnitSystem, str] = {"in": "94 lb", "mm": "25 kg"}

FOAM_DENSITY = 50.0
"""kg/m3, as it leaves the generator."""
FOAM_SURVIVAL = 0.95
"""Share of the foam's air still in the mix once placed."""
FOAM_DILUTION = 40.0
"""Parts of water to one part of concentrate, by volume."""
FOAM_RESERVE = 0.1
"""Extra solution made up for hose and tank, as a fraction."""
CEMENT_GRAVITY = 3.15
"""Specific gravity of portland cement."""
CEMENT_NAME = "portland cement"

USUAL_TIMES = Times()
"""How long work takes in a shop that says nothing of it."""

USABLE_SHARE: dict[str, float] = {"tilting drum": 0.6, "paddle": 0.8, "drill and tub": 0.8}
"""Finished mix over the whole drum's volume, by kind of mixer: foam swells the batch, and a drum is tilted."""

RESIDUE: dict[str, str] = {"tilting drum": "3 L", "paddle": "2 L", "drill and tub": "1 L"}
"""Mix that stays in the mixer after each batch."""

GRAIN: dict[Material, bool] = {
    "plywood": True,
    "overlaid plywood": True,
    "birch plywood": True,
    "bending plywood": True,
    "melamine board": False,
    "MDF": False,
    "hardboard": False,
    "plastic sheet": False,
    "sheet steel": False,
}
FACES: dict[Material, int] = {
    "plywood": 1,
    "overlaid plywood": 2,
    "birch plywood": 2,
    "bending plywood": 1,
    "melamine board": 2,
    "MDF": 2,
    "hardboard": 1,
    "plastic sheet": 2,
    "sheet steel": 2,
}
MATERIAL_DENSITY: dict[Material, float] = {
    "plywood": 560.0,
    "overlaid plywood": 600.0,
    "birch plywood": 680.0,
    "bending plywood": 500.0,
    "melamine board": 680.0,
    "MDF": 730.0,
    "hardboard": 900.0,
    "plastic sheet": 950.0,
    "sheet steel": 7850.0,
}
"""kg/m3."""

_BARREL: dict[UnitSystem, str] = {"in": "55 gal", "mm": "90 L"}


def usual_mixer(units: UnitSystem) -> Mixer:
    """The mixer of a shop that names none: a drill with a paddle in an open barrel or tub.

    Args:
        units: of the shop.
    """
    whole = read(_BARREL[units], "volume", None)
    return Mixer(
        name="drill and barrel" if units == "in" else "drill and tub",
        kind="drill and tub",
        rated=whole,
        rating="whole drum",
        usable=USABLE_SHARE["drill and tub"] * whole,
        residue=read(RESIDUE["drill and tub"], "volume", None),
    )


def usual_saw(units: UnitSystem) -> Saw:
    """Kerf and trims of a table saw.

    Args:
        units: of the shop.
    """
    kerf, trim, end_trim = (read(table[units], "length", None) for table in (KERF, TRIM, END_TRIM))
    return Saw(kerf, trim, end_trim)


def usual_foam() -> Foam:
    """Foam of a shop that measured nothing."""
    return Foam(FOAM_DENSITY, FOAM_SURVIVAL, FOAM_DILUTION, reserve=FOAM_RESERVE)


def usual_cement(units: UnitSystem) -> Cement:
    """Portland cement in the bags of the country.

    Args:
        units: of the shop.
    """
    return Cement(CEMENT_NAME, CEMENT_GRAVITY, read(BAG[units], "mass", None))
