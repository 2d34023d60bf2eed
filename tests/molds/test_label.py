"""The label of a mold: what it was braced for, in words, against the pressure worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.errors import GeometryError, StockError
from formwork.molds.label import label, limits
from formwork.molds.load import TOLERANCE, Load, load_of
from formwork.molds.panels.instructions import instructions
from formwork.shapes import slab
from formwork.shapes.shape import Shape
from formwork.strength.customary import FOOT
from tests.drawn import cast_shapes, parameters
from tests.molds.test_vibrated import concrete
from tests.workshop import build
from tests.workshop import concrete as mortar

KEYS = {"length": 500, "width": 400, "thickness": 100}


@pytest.mark.parametrize("density", [600.0, 952.0])
def test_it_names_density_height_rate_and_pressure(density: float) -> None:
    """Upper end of the tolerance, 48 kg/m3 above the mix (ASTM C869 Table 1); p = rho g h by hand."""
    told = build(slab.SHAPE, parameters(slab.SHAPE, KEYS), density=density).mold.instructions[0]
    most = density + TOLERANCE
    assert TOLERANCE == 48.0
    assert f"at most {most:.0f} kg/m3" in told
    assert "at most 100 mm high" in told
    assert "at any rate" in told
    assert f"{float(f'{most * 9.80665 * 0.1 / 1000.0:.3g}'):g} kPa at the foot" in told


def test_the_label_of_a_mold_the_shop_has_is_read() -> None:
    built = build(slab.SHAPE, parameters(slab.SHAPE, KEYS))
    frame = built.lined.frame
    owned = replace(frame, options=replace(frame.options, owned="old mold"))
    assert instructions(owned, built.lined.load, built.mold.parts, built.bearers)[0].startswith(
        "Read the label"
    )
    assert built.mold.instructions[0].startswith("Write on the mold")


@pytest.mark.parametrize(
    ("load", "said"),
    [
        (Load(848.0, 0.5), ("848 kg/m3", "500 mm high", "at any rate", "full liquid head, 4.16 kPa")),
        (
            Load(848.0, 0.9, lifts=3),
            (
                "848 kg/m3",
                "in lifts of at most 300 mm, each set",
                "at any rate",
                "head of one lift, 2.49 kPa",
            ),
        ),
        (
            load_of(concrete(), 12 * FOOT),
            ("2403 kg/m3", "3657.6 mm high", "no faster than 1828.8 mm up", "ACI 347, 39.5 kPa"),
        ),
    ],
    ids=["in one go", "in lifts", "vibrated"],
)
def test_what_stands_on_it_is_what_the_mold_was_built_for(load: Load, said: tuple[str, ...]) -> None:
    """p = rho g h by hand; 825 psf = 39.5 kPa of Peurifoy & Oberlender p. 138."""
    found = limits(load, "mm")
    for line, part in zip((found.density, found.height, found.rate, found.head), said, strict=True):
        assert part in line
    assert all(line in label(load, "mm", owned=False) for line in (found.density, found.height, found.rate))


CASES = [(shape, method) for shape in cast_shapes() for method in shape.methods]


@pytest.mark.parametrize(("shape", "method"), CASES, ids=lambda one: getattr(one, "name", one))
def test_every_method_labels_its_molds(shape: Shape, method: str) -> None:
    """Density, height and rate, for any shape by any method that builds its first sample."""
    try:
        mold = build(shape, parameters(shape, shape.samples[0]), method=method, mixed=mortar()).mold
    except (GeometryError, StockError) as refused:
        pytest.skip(str(refused))
    assert mold.limits is not None
    assert "2000 kg/m3" in mold.limits.density
    assert mold.limits.rate == "at any rate"
    assert all(
        line in mold.instructions[0] for line in (mold.limits.density, mold.limits.height, mold.limits.head)
    )
