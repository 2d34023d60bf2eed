"""ASTM C869-91(1999), "Standard Specification for Foaming Agents Used in Making Preformed Foam for Cellular Concrete".

Table 1, read: density after pumping 40 +-3 lb/ft3 (641 +-48 kg/m3); oven-dry density 30.4 +-2.5 lb/ft3 (487 +-40
kg/m3) with Type I cement, 29.3 +-2.5 lb/ft3 (469 +-40 kg/m3) with Type III. Footnote A: water of hydration is 20 % of
the weight of the cement.

The batch is that of ASTM C796; its water-cement ratios, 0.58 (Type I) and 0.64 (Type III), foam's water included, are
from memory. That they give back all four printed densities confirms them.
"""

from __future__ import annotations

import pytest

from formwork.mix.absolute_volume import (
    WATER,
    absolute_volume,
    base_water_cement,
    foam_needed,
    oven_dry_density,
)
from formwork.mix.cellular import design
from formwork.mix.records import CellularWanted, Cement, Foam

PRINTED = [
    (40.0, 0.58, 30.4, 0.05),
    (40.0, 0.64, 29.3, 0.05),
    (641.0, 0.58, 487.0, 0.5),
    (641.0, 0.64, 469.0, 0.5),
]


@pytest.mark.parametrize(("wet", "total", "printed", "rounding"), PRINTED)
def test_oven_dry_density_of_the_standard_batch(
    wet: float, total: float, printed: float, rounding: float
) -> None:
    cement = wet / (1.0 + total)
    assert oven_dry_density(cement, 0.0, 1.0) == pytest.approx(printed, abs=rounding)


@pytest.mark.parametrize(("total", "printed"), [(0.58, 487.0), (0.64, 469.0)])
@pytest.mark.parametrize("foam_density", [32.0, 45.0, 64.0])
@pytest.mark.parametrize("survival", [1.0, 0.95])
def test_design_gives_the_printed_density_whatever_the_foam(
    total: float, printed: float, foam_density: float, survival: float
) -> None:
    base = base_water_cement(total, 641.0, [(1.0, 3.15)], foam_density, survival=survival)
    foam = Foam(foam_density, survival, 40.0)
    mix = design(CellularWanted(641.0, None, base), Cement("portland", 3.15, 42.6), foam)
    assert mix.dry_density == pytest.approx(printed, abs=0.5)
    assert mix.water_cement_total == pytest.approx(total, rel=1e-12)


# Foam part of the same batch: not printed by the standard, worked by hand from its algebra (air = 1 less the absolute
# volumes of cement and all water; foam = air over the air in a volume of foam).
FOAM_PART = [
    (40.0, 0.58, 2.5, 62.4, 0.6359, 0.6624, 1.6561, 13.0275, 5e-5),
    (40.0, 0.58, 3.0, 62.4, 0.6359, 0.6680, 2.0040, 12.6795, 5e-5),
    (641.0, 0.58, 45.0, WATER, 0.63590, 0.66587, 29.96, 205.34, 5e-6),
    (641.0, 0.64, 45.0, WATER, 0.62577, 0.65526, 29.49, 220.66, 5e-6),
]


@pytest.mark.parametrize("row", FOAM_PART)
def test_foam_part_of_the_standard_batch(row: tuple[float, ...]) -> None:
    wet, total, foam, rho_w, air, volume, mass, water, rounding = row
    cement = wet / (1.0 + total)
    base = base_water_cement(total, wet, [(1.0, 3.15)], foam, water_density=rho_w)
    slurry = absolute_volume([(cement, 3.15)], base * cement, rho_w)
    needed = foam_needed(cement * (1.0 + base), slurry, wet, foam, water_density=rho_w)
    assert needed == pytest.approx(volume, abs=rounding)
    assert needed * (1.0 - foam / rho_w) == pytest.approx(air, abs=rounding)
    assert foam * needed == pytest.approx(mass, abs=5e-5 if wet == 40.0 else 5e-3)
    assert base * cement == pytest.approx(water, abs=5e-5 if wet == 40.0 else 5e-3)


def test_design_agrees_with_the_foam_part_in_si() -> None:
    mix = design(
        CellularWanted(641.0, None, 205.34 / 405.70), Cement("Type I", 3.15, 42.6), Foam(45.0, 1.0, 40.0)
    )
    assert mix.cement == pytest.approx(405.70, abs=0.005)
    assert mix.foam_volume == pytest.approx(0.66587, abs=2e-5)  # the ratio itself is known to 5 digits only
    assert mix.air == pytest.approx(0.63590, abs=2e-5)
