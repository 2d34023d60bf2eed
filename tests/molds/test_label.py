"""The label of a mold: what it was braced for, in words, against the pressure worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.molds.load import TOLERANCE
from formwork.molds.panels.instructions import instructions
from formwork.shapes import slab
from tests.drawn import parameters
from tests.workshop import build

KEYS = {"length": 500, "width": 400, "thickness": 100}


@pytest.mark.parametrize("density", [600.0, 952.0])
def test_it_names_density_height_rate_and_pressure(density: float) -> None:
    """Upper end of the tolerance, 48 kg/m3 above the mix (ASTM C869 Table 1); p = rho g h by hand."""
    label = build(slab.SHAPE, parameters(slab.SHAPE, KEYS), density=density).mold.instructions[0]
    most = density + TOLERANCE
    assert TOLERANCE == 48.0
    assert f"at most {most:.0f} kg/m3" in label
    assert "at most 100 mm high" in label
    assert "at any rate" in label
    assert f"{float(f'{most * 9.80665 * 0.1 / 1000.0:.3g}'):g} kPa at the foot" in label


def test_the_label_of_a_mold_the_shop_has_is_read() -> None:
    built = build(slab.SHAPE, parameters(slab.SHAPE, KEYS))
    frame = built.lined.frame
    owned = replace(frame, options=replace(frame.options, owned="old mold"))
    assert instructions(owned, built.lined.load, built.mold.parts, built.bearers)[0].startswith(
        "Read the label"
    )
    assert built.mold.instructions[0].startswith("Write on the mold")
