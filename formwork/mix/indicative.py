"""Strength and conductivity that others published for such densities: indications, never promises.

No strength follows from a density alone. Every figure here carries its source, whether that was read or is
from memory, and the words of ``CAVEAT``.
"""

from __future__ import annotations

from contextlib import suppress
from math import exp
from typing import Literal

from formwork.errors import RangeError
from formwork.mix.both_units import density_text
from formwork.mix.records import Mix
from formwork.mix.shrinkage import SOURCE, between
from formwork.mix.tables import rows
from formwork.record import record
from formwork.units.show import UnitSystem

CAVEAT = "indicative only: cast and test cubes or cylinders of your own mix"

POUND_PER_CUBIC_FOOT = 16.018463
"""One lb/ft3 in kg/m3."""

PSI = 6894.757293168
"""One psi in Pa."""


_SCALES: dict[UnitSystem, tuple[float, str, int]] = {"mm": (1e6, "MPa", 2), "in": (PSI, "psi", 0)}
"""Unit of a strength in Pa, its name, and the decimals that it is printed with."""


@record
class Indication:
    """What one document says of such a density.

    Attributes:
        what: the property, its age and its kind ("28-day compressive strength, least of class III").
        low: in ``unit``.
        high: in ``unit``; None where the document gives a least value only.
        unit: Pa or W/mK.
        source: the document.
        certainty: whether it was read or is from memory.
    """

    what: str
    low: float
    high: float | None
    unit: Literal["Pa", "W/mK"]
    source: str
    certainty: Literal["read", "from memory"]

    def __str__(self) -> str:
        """One line, the caveat with it.

        >>> print(Indication("28-day compressive strength", 1.4e6, None, "Pa", "ASTM C869, Table 1", "read"))
        28-day compressive strength: 1.40 MPa or more (ASTM C869, Table 1; indicative only: cast and test ...)
        """
        return f"{self._figure('mm')} ({self._origin()}; {CAVEAT})"

    def brief(self, units: UnitSystem) -> str:
        """One line without the caveat, for lists that say it once.

        Args:
            units: of the person.
        """
        return f"{self._figure(units)} ({self._origin()})"

    def _figure(self, units: UnitSystem) -> str:
        scale, unit, places = (1.0, "W/(m K)", 2) if self.unit == "W/mK" else _SCALES[units]
        ends = (self.low, self.low if self.high is None else self.high)
        span = " to ".join(dict.fromkeys(f"{end / scale:.{places}f}" for end in ends))
        return f"{self.what}: {span} {unit}{' or more' if self.high is None else ''}"

    def _origin(self) -> str:
        known = self.certainty == "read" or "from memory" in self.source
        return self.source if known else f"{self.source}; from memory"


def strength_indications(mix: Mix) -> tuple[Indication, ...]:
    """What published documents give for the densities of a cellular mix, the ones that were read first; may be empty.

    Source: ASTM C869-91(1999), Table 1; Caltrans section 19-10 (2013); Indiana DOT 215-R-189 (1996), which
    prints its metric values as MPa for kPa; British Cement Association (1994), from memory.

    Args:
        mix: one cubic metre of it.
    """
    if mix.kind != "cellular":
        return ()
    return (
        *_standard_batch(mix),
        *_caltrans(mix.wet_density),
        *_indiana(mix.wet_density),
        *_association(mix.dry_density),
    )


def conductivity_indications(mix: Mix) -> tuple[Indication, ...]:
    """What is published of the thermal conductivity of such a mix, all from memory; may be empty.

    Source: British Cement Association (1994), at 3 % moisture; Valore's equation, oven-dry. In use it is higher: 1.2 to
    1.4 times the oven-dry one (common practice).

    Args:
        mix: one cubic metre of it.
    """
    if mix.kind != "cellular":
        return ()
    found = []
    with suppress(RangeError):
        low, high = (between(mix.dry_density, f"conductivity_{end}_w_mk") for end in ("low", "high"))
        found.append(
            Indication("thermal conductivity at 3 % moisture", low, high, "W/mK", SOURCE, "from memory")
        )
    with suppress(RangeError):
        dry = conductivity(mix.dry_density)
        what, source = "thermal conductivity, oven-dry to in use", "Valore's equation, ACI 122R-02"
        found.append(Indication(what, dry, 1.4 * dry, "W/mK", source, "from memory"))
    return tuple(found)


def conductivity(dry_density: float) -> float:
    """Thermal conductivity of oven-dry concrete, W/mK, for plotting and comparing.

    k = 0.072*exp(0.00125*rho). Source: Valore's equation as in ACI 122R-02, from memory.
    Valid: oven-dry density 320 to 1600 kg/m3.

    Args:
        dry_density: oven-dry, kg/m3.

    Raises:
        RangeError: outside the limits.

    >>> conductivity(600.0)
    0.152
    """
    if not 320.0 <= dry_density <= 1600.0:
        raise RangeError(
            f"dry density: got {density_text(dry_density)}, want 320 to 1600 kg/m3 (20 to 100 lb/ft3)"
        )
    return 0.072 * exp(0.00125 * dry_density)


def _standard_batch(mix: Mix) -> list[Indication]:
    neat = mix.sand == mix.ash == 0.0
    if not (neat and abs(mix.wet_density - 641.0) <= 48.0 and abs(mix.dry_density - 487.0) <= 40.0):
        return []
    what = "28-day compressive strength, least of the standard batch (641 kg/m3 wet, 487 oven-dry, neat)"
    return [Indication(what, 1.4e6, None, "Pa", "ASTM C869-91(1999), Table 1", "read")]


def _caltrans(wet_density: float) -> list[Indication]:
    pounds = round(wet_density / POUND_PER_CUBIC_FOOT)
    return [
        Indication(
            f"28-day compressive strength, least of class {row['class']} (fill)",
            float(row["strength_psi"]) * PSI,
            None,
            "Pa",
            "Caltrans section 19-10 (2013)",
            "read",
        )
        for row in rows("caltrans_19_10")
        if float(row["cast_low_lb_ft3"]) <= pounds <= float(row["cast_high_lb_ft3"])
    ]


def _indiana(wet_density: float) -> list[Indication]:
    """The class whose greatest cast density is this one, to the nearest lb/ft3."""
    pounds = round(wet_density / POUND_PER_CUBIC_FOOT)
    return [
        Indication(
            f"28-day compressive strength, least of class {row['class']} (fill)",
            float(row["strength_psi"]) * PSI,
            None,
            "Pa",
            "Indiana DOT 215-R-189 (1996)",
            "read",
        )
        for row in rows("indiana_215_r_189")
        if pounds == float(row["cast_most_lb_ft3"])
    ]


def _association(dry_density: float) -> list[Indication]:
    try:
        low, high = between(dry_density, "strength_low_mpa"), between(dry_density, "strength_high_mpa")
    except RangeError:
        return []
    return [Indication("7-day compressive strength", low * 1e6, high * 1e6, "Pa", SOURCE, "from memory")]
