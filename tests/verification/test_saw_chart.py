"""Compound cuts of real panels against a published saw chart.

Source: Craftsman table saw 315.21212, owner's manual, p. 24: chart of mitre gauge and blade tilt for boxes of equal
sides whose sides stand at a pitch from the horizontal, to 0.01 degree. One cell of the chart (pitch 25, seven sides:
23.56 printed, 23.58 by the formula it follows everywhere else) is a misprint and is not used here.
"""

from __future__ import annotations

from math import degrees, radians, tan

import pytest

from formwork.molds.choice import Task, choose
from formwork.molds.load import load_of
from formwork.molds.panels import panelling
from formwork.molds.panels.lining import panels
from formwork.packet.saw import edge_cuts
from formwork.project.records import MoldOptions
from formwork.shapes.cast import lots
from formwork.shapes.register import register
from tests.drawn import parameters
from tests.workshop import mix, shop

FOUR = [
    (5, 44.89, 3.53),
    (10, 44.56, 7.05),
    (15, 44.01, 10.55),
    (20, 43.22, 14.00),
    (25, 42.19, 17.39),
    (30, 40.89, 20.70),
    (35, 39.32, 23.93),
    (40, 37.45, 27.03),
    (45, 35.26, 30.00),
]
OTHERS = [(10, 5, 35.58, 5.86), (30, 6, 26.57, 14.48), (45, 8, 16.32, 15.70)]
PRINTED = 0.005
"""Half a unit of the last printed digit."""


@pytest.mark.parametrize(("pitch", "sides", "mitre", "tilt"), [*((p, 4, m, b) for p, m, b in FOUR), *OTHERS])
def test_both_ends_of_every_panel_have_the_settings_of_the_chart(
    pitch: float, sides: int, mitre: float, tilt: float
) -> None:
    spread = 2.0 * 60.0 / tan(radians(pitch))
    keys = {"sides": sides, "size": 400 + spread, "base_size": 400, "height": 60, "wall": 20, "floor": 20}
    shape = register()["many-sided"]
    piece = lots(shape, parameters(shape, keys), "bowl", 0.018)[0].piece
    options = MoldOptions(joint="mitred")
    stocks = choose(shop(), options, Task(load_of(mix(), 0.06), 1.0, 1))
    for panel in panels(panelling.frame(piece, stocks, options, "mm")):
        ends = [cut for cut in edge_cuts(panel.blank) if cut.place.endswith("end")]
        assert len(ends) == 2
        for cut in ends:
            assert degrees(cut.mitre) == pytest.approx(mitre, abs=PRINTED + 1e-6)
            assert degrees(abs(cut.tilt)) == pytest.approx(tilt, abs=PRINTED + 1e-6)
