"""Drying shrinkage of foamed concrete by its dry density."""

from __future__ import annotations

from itertools import pairwise

from formwork.errors import RangeError
from formwork.mix.both_units import density_text
from formwork.mix.tables import rows

SOURCE = "British Cement Association, Foamed concrete: composition and properties (1994), table; from memory"
"""Where the shrinkage comes from, and how sure that is."""


def shrinkage(dry_density: float) -> tuple[float, float]:
    """Least and greatest drying shrinkage, as fractions of a length (0.003 = 3 mm/m).

    Source: table of the British Cement Association (1994), from memory; straight lines between its densities.
    Valid: dry density 400 to 1600 kg/m3.

    Args:
        dry_density: kg/m3.

    Raises:
        RangeError: outside the limits.

    >>> shrinkage(400.0)
    (0.0030, 0.0035)
    """
    low, high = between(dry_density, "shrinkage_low_percent"), between(dry_density, "shrinkage_high_percent")
    return low / 100.0, high / 100.0


def between(dry_density: float, column: str) -> float:
    """A column of the same table at any dry density, on straight lines between its rows, in the column's unit.

    Args:
        dry_density: kg/m3.
        column: its name.

    Raises:
        RangeError: for a density outside the table, 400 to 1600 kg/m3.
    """
    points = [(float(row["dry_density_kg_m3"]), float(row[column])) for row in rows("bca_1994")]
    for (left, at_left), (right, at_right) in pairwise(points):
        if left <= dry_density <= right:
            return at_left + (at_right - at_left) * (dry_density - left) / (right - left)
    raise RangeError(
        f"dry density: got {density_text(dry_density)}, want 400 to 1600 kg/m3 (25 to 100 lb/ft3)"
    )
