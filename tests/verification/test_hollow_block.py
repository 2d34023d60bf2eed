"""Hollow blocks against published percentages of solid volume.

Sources, read as excerpts:

* Masonry Magazine, August 1973, p. 20 (NCMA-TEK, sizes, shapes, forms and functions): an 8 x 8 x 16 hollow unit is
  about 50 to 63 % solid, depending on size and number of its cores.
* A block maker's fire rating page: typical hollow units of 6, 8, 10 and 12 in are 55.0, 53.0, 51.7 and 49.6 % solid;
  equivalent thickness = percent solid x real width = 3.09, 4.04, 4.98 and 5.77 in.
* ASTM C90 least face shells and webs of an 8 in unit: 1 1/4 in and 1 in, from memory.
"""

from __future__ import annotations

from math import atan

import pytest

from formwork.geometry.planes import Planes
from formwork.shapes import block
from formwork.shapes.body import piece_volume
from tests.drawn import single

INCH = 0.0254
LONG, HIGH = 15.625 * INCH, 7.625 * INCH


def solid_share(width: float, *, shell: float, web: float, cores: int, taper: float) -> float:
    """Volume of concrete over volume of the box; shells and webs are thinner by the taper at the foot, in."""
    keys = {
        "length": LONG, "width": width * INCH, "height": HIGH, "cores": cores, "shell": shell * INCH,
        "web": web * INCH, "core_draft": atan(taper * INCH / HIGH),
    }  # fmt: skip
    parameters = block.SHAPE.parameters.model_validate(keys)
    return piece_volume(Planes(), single(block.SHAPE, parameters)) / (LONG * width * INCH * HIGH)


@pytest.mark.parametrize(
    ("shell", "web", "cores"), [(1.625, 1.25, 2), (1.5, 1.25, 3), (1.625, 1.375, 2), (1.75, 1.375, 3)]
)
def test_ordinary_eight_inch_blocks_lie_in_the_published_range(shell: float, web: float, cores: int) -> None:
    share = solid_share(7.625, shell=shell, web=web, cores=cores, taper=0.25)
    assert 0.50 <= share <= 0.63


def test_a_block_thinner_than_the_standard_allows_lies_below_it() -> None:
    assert solid_share(7.625, shell=1.0, web=0.8, cores=2, taper=0.1) < 0.50


@pytest.mark.parametrize(
    ("width", "percent", "equivalent"),
    [(5.625, 55.0, 3.09), (7.625, 53.0, 4.04), (9.625, 51.7, 4.98), (11.625, 49.6, 5.77)],
)
def test_equivalent_thickness_of_typical_units(width: float, percent: float, equivalent: float) -> None:
    """A block whose shells are set so that it has the printed share has the printed equivalent thickness."""
    low, high = 0.5, width / 2.0 - 0.7
    for _ in range(50):
        shell = (low + high) / 2.0
        if solid_share(width, shell=shell, web=1.25, cores=2, taper=0.2) < percent / 100.0:
            low = shell
        else:
            high = shell
    share = solid_share(width, shell=low, web=1.25, cores=2, taper=0.2)
    assert share == pytest.approx(percent / 100.0, abs=1e-6)
    assert share * width == pytest.approx(equivalent, abs=0.008)
    assert 1.0 <= low <= 2.3, "a face shell as blocks have them"
