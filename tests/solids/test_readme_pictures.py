"""The pictures in the README are those of the packet that its first command makes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import shapely

from formwork.plan import plan
from formwork.project.read import read_project
from formwork.solids.views import picture_svg

EXAMPLES = Path(__file__).parents[2] / "examples"
_NEAR = 0.05
"""No line of one lies further from those of the other, mm on paper: a tenth of a wide line."""


def lines(svg: str) -> shapely.MultiLineString:
    found = []
    for path in re.findall(r' d="([^"]*)"', svg):
        for stroke in path.split("M")[1:]:
            points = [tuple(map(float, point.split())) for point in stroke.split("L")]
            found.append(shapely.LineString(points))
    return shapely.MultiLineString(found)


@pytest.mark.parametrize("kind", ["piece", "mold"])
def test_a_picture_of_the_readme_is_that_of_the_packet(kind: str) -> None:
    made = plan(read_project(EXAMPLES / "tapered-planter.toml"))
    shown = made.molds[0].piece if kind == "piece" else made.molds[0]
    kept, fresh = (EXAMPLES / f"tapered-planter-{kind}.svg").read_text(encoding="utf-8"), picture_svg(shown)
    assert re.findall(r'viewBox="[^"]*"', kept) == re.findall(r'viewBox="[^"]*"', fresh)
    assert lines(kept).hausdorff_distance(lines(fresh)) < _NEAR
