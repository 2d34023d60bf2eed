"""Bevelled edges: a blank reaches the long points, so neighbours on a sheet keep what the leaning saw takes.

Two edges that lean face each other across one kerf where their long points are, and across one kerf and thickness
times the tangent of each bevel on the other face of the sheet: what is beside the blade there stays waste.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations
from math import tan
from pathlib import Path

import pytest

from formwork.cutting.records import Placed, SheetLayout
from formwork.geometry.vectors import dot, sub
from formwork.molds.mold import Part
from formwork.plan import Plan, plan
from formwork.project.read import read_project

EXAMPLES = Path(__file__).parents[2] / "examples"
BEVELLED = ("tapered-planter.toml", "eight-sided-planter.toml")

Spot = tuple[float, float, float]


@cache
def planned(name: str) -> Plan:
    return plan(read_project(EXAMPLES / name))


def panels(name: str) -> dict[str, Part]:
    return {line.label: line.part for line in planned(name).cut_list if line.part.kind == "panel"}


def corners(part: Part) -> list[Spot]:
    """The corners of the part as it stands in the mold, told in its blank's own frame: x, y, depth."""
    frame = part.placement
    return [
        (dot(off, frame.along), dot(off, frame.across), dot(off, frame.into))
        for cell in part.cells
        for off in (sub(point, frame.origin) for point in cell.points())
    ]


def on_sheet(placed: Placed, part: Part) -> list[Spot]:
    """The same corners where the blank lies on its sheet; turned means a quarter turn."""
    width = part.blank.width
    spots = corners(part)
    if placed.turned:
        return [(placed.x + width - y, placed.y + x, depth) for x, y, depth in spots]
    return [(placed.x + x, placed.y + y, depth) for x, y, depth in spots]


@pytest.mark.parametrize("name", BEVELLED)
def test_a_blank_reaches_the_long_points_and_no_further(name: str) -> None:
    assert any(any(part.blank.bevels) for part in panels(name).values())
    for part in panels(name).values():
        for axis, side in enumerate((part.blank.length, part.blank.width)):
            reach = [spot[axis] for spot in corners(part)]
            assert min(reach) == pytest.approx(0.0, abs=1e-7)
            assert max(reach) == pytest.approx(side, abs=1e-7)


@pytest.mark.parametrize("name", BEVELLED)
def test_whole_bodies_of_neighbours_keep_a_kerf_at_every_depth(name: str) -> None:
    kerf = planned(name).project.shop.saw.kerf
    for layout in planned(name).sheets:
        for one, other in combinations(bodies(layout, name), 2):
            gaps = [max(gap(one, other, axis), gap(other, one, axis)) for axis in (0, 1)]
            assert max(gaps) >= kerf - 1e-6


@pytest.mark.parametrize("name", BEVELLED)
def test_the_short_points_stand_back_by_thickness_times_tangent(name: str) -> None:
    """Edges square to the blank's sides: the face across is smaller by t tan(bevel), outline and far face apart."""
    seen = 0
    for part in panels(name).values():
        blank = part.blank
        for (a, b), bevel in zip(edges(part), blank.bevels, strict=True):
            if abs(a[1]) < 1e-9 and abs(b[1]) < 1e-9 and bevel:
                through = max(depth for *_, depth in corners(part))
                far = min(y for _, y, depth in corners(part) if depth > through - 1e-7)
                near = min(y for _, y, depth in corners(part) if depth < 1e-7)
                assert far - near == pytest.approx(through * tan(bevel), abs=1e-7)
                seen += 1
    assert seen


def edges(part: Part) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    outline = part.blank.outline
    return [(point, outline[(number + 1) % len(outline)]) for number, point in enumerate(outline)]


def bodies(layout: SheetLayout, name: str) -> list[list[Spot]]:
    return [on_sheet(placed, panels(name)[placed.label]) for placed in layout.placed]


def gap(one: list[Spot], other: list[Spot], axis: int) -> float:
    return min(spot[axis] for spot in other) - max(spot[axis] for spot in one)
