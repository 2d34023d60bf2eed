"""What is said of domes beside the numbers, however their molds are built."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.cautions import cautions
from formwork.mix.design import mix_for
from formwork.mix.records import Mix, OrdinaryWanted
from formwork.molds.mold import Mold
from formwork.shapes.cast import lots
from formwork.shapes.cast_dome import FLUID, STIFF
from formwork.shapes.cast_dome import SHAPE as DOME
from formwork.shapes.slab import SHAPE as SLAB
from tests.drawn import parameters
from tests.workshop import build, mix, shop

UNDER = "nobody goes under it"
RUNS_OFF = "it would run off"


@pytest.fixture(scope="module")
def slab() -> Mold:
    return build(SLAB, parameters(SLAB, {"length": 400, "width": 400, "thickness": 50})).mold


def dome(mold: Mold, placing: str) -> Mold:
    """A mold that holds a dome; only its piece is read here."""
    keys = {"inside_span": 2000, "thickness": 60, "springing": "level", "placing": placing}
    return replace(mold, piece=lots(DOME, parameters(DOME, keys), "dome", 0.018)[0].piece)


def mortar() -> Mix:
    own = shop()
    return mix_for(OrdinaryWanted(2100.0, 1.0, 0.42, 3.0, 0.0), own.cement, own.foam)


def said(used: Mix, mold: Mold) -> str:
    return " ".join(cautions(used, shop().mixer, [mold]))


def test_nobody_goes_under_a_dome(slab: Mold) -> None:
    assert UNDER not in said(mix(), slab)
    assert UNDER in said(mix(), dome(slab, FLUID))


def test_a_mix_that_flows_does_not_stay_on_an_open_form(slab: Mold) -> None:
    assert RUNS_OFF in said(mix(), dome(slab, STIFF))
    assert RUNS_OFF not in said(mix(), dome(slab, FLUID))
    assert RUNS_OFF not in said(mortar(), dome(slab, STIFF))
