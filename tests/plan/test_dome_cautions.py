"""What is said of domes beside the numbers, however their molds are built."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.cautions import cautions
from formwork.mix.records import Mix
from formwork.molds.mold import Mold
from formwork.shapes.cast import lots
from formwork.shapes.cast_dome import FLUID
from formwork.shapes.cast_dome import SHAPE as DOME
from formwork.shapes.slab import SHAPE as SLAB
from tests.drawn import parameters
from tests.workshop import build, mix, shop

UNDER = "nobody goes under it"


@pytest.fixture(scope="module")
def slab() -> Mold:
    return build(SLAB, parameters(SLAB, {"length": 400, "width": 400, "thickness": 50})).mold


def dome(mold: Mold, placing: str) -> Mold:
    """A mold that holds a dome; only its piece is read here."""
    keys = {"inside_span": 2000, "thickness": 60, "springing": "level", "placing": placing}
    return replace(mold, piece=lots(DOME, parameters(DOME, keys), "dome", 0.018)[0].piece)


def said(used: Mix, mold: Mold) -> str:
    return " ".join(cautions(used, shop().mixer, [mold]))


def test_nobody_goes_under_a_dome(slab: Mold) -> None:
    assert UNDER not in said(mix(), slab)
    assert UNDER in said(mix(), dome(slab, FLUID))
