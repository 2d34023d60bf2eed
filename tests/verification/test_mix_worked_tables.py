"""Mixes and bag yields worked by hand from the balance of mass and volume (two equations, two unknowns).

The two equations are those of Kearsley and Mostert's proportioning, from memory; their solution, per m3 with specific
gravities 3.15 (cement), 2.65 (sand) and 2.20 (ash), was worked outside this program and is printed to the digits below.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest

from formwork.mix.absolute_volume import WATER, absolute_volume, concentrate_in, foam_needed, oven_dry_density
from formwork.mix.cellular import design
from formwork.mix.records import CellularWanted, Cement, Foam

PORTLAND = Cement("portland", 3.15, 42.6)


class Row(NamedTuple):
    name: str
    wet: float
    ratio: float
    s: float
    a: float
    foam: float
    cement: float
    sand: float
    ash: float
    water: float
    litres: float
    foam_mass: float
    slurry: float
    total: float
    dry: float


TABLE = [
    Row("M0", 400, 0.55, 0, 0, 45, 234.95, 0, 0, 129.22, 796.19, 35.83, 1786.83, 0.7025, 281.9),
    Row("M1", 600, 0.50, 0, 0, 45, 379.30, 0, 0, 189.65, 689.94, 31.05, 1834.95, 0.5819, 455.2),
    Row("M2", 800, 0.50, 0, 0, 50, 514.01, 0, 0, 257.00, 579.82, 28.99, 1834.95, 0.5564, 616.8),
    Row("M3", 1000, 0.50, 1, 0, 50, 389.30, 389.30, 0, 194.65, 534.85, 26.74, 2092.37, 0.5687, 856.5),
    Row("M4", 1000, 0.50, 1, 0, 80, 382.63, 382.63, 0, 191.31, 542.83, 43.43, 2092.37, 0.6135, 841.8),
    Row("M5", 1200, 0.50, 1.5, 0, 50, 392.38, 588.57, 0, 196.19, 457.14, 22.86, 2168.42, 0.5583, 1059.4),
    Row("M6", 1600, 0.50, 2, 0, 45, 453.45, 906.90, 0, 226.73, 287.09, 12.92, 2226.21, 0.5285, 1451.0),
    Row("M7", 800, 0.50, 0, 0.5, 50, 385.06, 0, 192.53, 192.53, 597.72, 29.89, 1914.36, 0.5776, 654.6),
]


def wanted(row: Row) -> CellularWanted:
    return CellularWanted(row.wet, None, row.ratio, row.s, row.a)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.name)
def test_mix_of_the_table(row: Row) -> None:
    mix = design(wanted(row), PORTLAND, Foam(row.foam, 1.0, 40.0))
    for got, printed in (
        (mix.cement, row.cement),
        (mix.sand, row.sand),
        (mix.ash, row.ash),
        (mix.water, row.water),
    ):
        assert got == pytest.approx(printed, abs=0.0051)
    assert 1000.0 * mix.foam_volume == pytest.approx(row.litres, abs=0.0051)
    assert mix.foam_mass == pytest.approx(row.foam_mass, abs=0.0051)
    assert mix.slurry_density == pytest.approx(row.slurry, abs=0.0051)
    assert mix.water_cement_total == pytest.approx(row.total, abs=5.1e-5)
    assert mix.dry_density == pytest.approx(row.dry, abs=0.051)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.name)
def test_mix_is_the_solution_of_the_two_equations(row: Row) -> None:
    mass = 1.0 + row.ratio + row.s + row.a
    volume = 1.0 / 3.15 + row.ratio + row.s / 2.65 + row.a / 2.20
    cement, litres = np.linalg.solve([[mass, row.foam / 1000.0], [volume, 1.0]], [row.wet, 1000.0])
    mix = design(wanted(row), PORTLAND, Foam(row.foam, 1.0, 40.0))
    assert mix.cement == pytest.approx(cement, rel=1e-12)
    assert 1000.0 * mix.foam_volume == pytest.approx(litres, rel=1e-12)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.name)
def test_asking_for_the_dry_density_gives_the_same_mix(row: Row) -> None:
    foam = Foam(row.foam, 0.93, 40.0)
    by_wet = design(wanted(row), PORTLAND, foam)
    by_dry = design(CellularWanted(None, by_wet.dry_density, row.ratio, row.s, row.a), PORTLAND, foam)
    assert by_dry.wet_density == pytest.approx(row.wet, rel=1e-12)
    assert by_dry.cement == pytest.approx(by_wet.cement, rel=1e-12)
    assert by_dry.foam_volume == pytest.approx(by_wet.foam_volume, rel=1e-12)


def test_ash_that_binds_water_as_cement_does() -> None:
    assert oven_dry_density(385.06 + 192.53, 0.0, 1.0) == pytest.approx(693.1, abs=0.051)


def test_concentrate_of_m1_at_forty_to_one() -> None:
    assert concentrate_in(31.05, 40.0) == pytest.approx(0.757, abs=5e-4)


def bag(
    mass: float, ratio: float, wet: float, foam: float, *, survival: float = 1.0, rho_w: float
) -> tuple[float, float, float]:
    """Slurry, foam and yield of one bag."""
    slurry = absolute_volume([(mass, 3.15)], ratio * mass, rho_w)
    needed = foam_needed(mass * (1.0 + ratio), slurry, wet, foam, survival=survival, water_density=rho_w)
    made = (mass * (1.0 + ratio) + foam * needed) / wet  # by mass: the other route to the yield
    return slurry, needed, made


DENSITIES = (20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 80.0)
FOAM_50 = (6.650, 4.898, 3.784, 3.012, 2.446, 1.672, 1.167, 0.548)
YIELD_50 = (7.881, 6.130, 5.015, 4.244, 3.678, 2.904, 2.399, 1.780)
YIELD_HEAVY_FOAM = (9.313, 6.913, 5.496, 4.561, 3.898, 3.020, 2.465, 1.802)
YIELD_60 = (8.397, 6.531, 5.343, 4.521, 3.919, 3.094, 2.556, 1.896)


def test_94_lb_bag() -> None:
    for wet, foam, made in zip(DENSITIES, FOAM_50, YIELD_50, strict=True):
        got = bag(94.0, 0.50, wet, 2.5, rho_w=62.4)
        assert got == pytest.approx((1.2314, foam, made), abs=5.1e-4)
        assert got[0] + got[1] == pytest.approx(got[2], rel=1e-12)


def test_94_lb_bag_with_heavy_foam_and_with_more_water() -> None:
    for wet, heavy, wetter in zip(DENSITIES, YIELD_HEAVY_FOAM, YIELD_60, strict=True):
        assert bag(94.0, 0.50, wet, 5.6, rho_w=62.4)[2] == pytest.approx(heavy, abs=5.1e-4)
        assert bag(94.0, 0.60, wet, 2.5, rho_w=62.4)[2] == pytest.approx(wetter, abs=5.1e-4)


@pytest.mark.parametrize(("survival", "foam"), [(1.0, 3.7839), (0.95, 3.9930), (0.90, 4.2265)])
def test_94_lb_bag_when_foam_is_lost(survival: float, foam: float) -> None:
    assert bag(94.0, 0.50, 30.0, 2.5, survival=survival, rho_w=62.4)[1] == pytest.approx(foam, abs=5.1e-5)


METRIC = [
    (25.0, 20.437, (83.79, 45.89, 28.20, 17.96), (104.22, 66.32, 48.64, 38.40)),
    (40.0, 32.698, (134.06, 73.42, 45.12, 28.74), (166.76, 106.12, 77.82, 61.44)),
]


@pytest.mark.parametrize(("mass", "slurry", "foams", "yields"), METRIC)
def test_metric_bags(mass: float, slurry: float, foams: tuple[float, ...], yields: tuple[float, ...]) -> None:
    for wet, foam, made in zip((400.0, 600.0, 800.0, 1000.0), foams, yields, strict=True):
        got = bag(mass, 0.50, wet, 50.0, rho_w=WATER)
        assert 1000.0 * got[0] == pytest.approx(slurry, abs=5.1e-4)
        assert 1000.0 * got[1] == pytest.approx(foam, abs=5.1e-3)
        assert 1000.0 * got[2] == pytest.approx(made, abs=5.1e-3)


@pytest.mark.parametrize(
    ("survival", "foam", "made"), [(1.0, 45.887, 66.324), (0.95, 48.395, 66.533), (0.90, 51.193, 66.766)]
)
def test_metric_bag_when_foam_is_lost(survival: float, foam: float, made: float) -> None:
    got = bag(25.0, 0.50, 600.0, 50.0, survival=survival, rho_w=WATER)
    assert 1000.0 * got[1] == pytest.approx(foam, abs=5.1e-4)
    assert 1000.0 * got[2] == pytest.approx(made, abs=5.1e-4)


# A batch that came out too heavy: 75 kg at 650 kg/m3, wanted 600, foam of 50 kg/m3.
@pytest.mark.parametrize(
    ("survival", "foam", "made"),
    [(1.0, 10.490, 125.874), (0.95, 11.063, 125.922), (0.90, 11.702, 125.975), (0.80, 13.232, 126.103)],
)
def test_the_same_formula_corrects_a_heavy_batch(survival: float, foam: float, made: float) -> None:
    volume = 75.0 / 650.0
    needed = foam_needed(75.0, volume, 600.0, 50.0, survival=survival)
    assert 1000.0 * needed == pytest.approx(foam, abs=5.1e-4)
    assert 1000.0 * (75.0 + 50.0 * needed) / 600.0 == pytest.approx(made, abs=5.1e-4)


def test_the_same_formula_corrects_a_heavy_batch_in_pounds() -> None:
    volume = 150.0 / 34.0
    assert foam_needed(150.0, volume, 30.0, 2.5, water_density=62.4) == pytest.approx(0.6417, abs=5.1e-5)
    lossy = foam_needed(150.0, volume, 30.0, 2.5, survival=0.9, water_density=62.4)
    assert lossy == pytest.approx(0.7168, abs=5.1e-5)
