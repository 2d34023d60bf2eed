"""Details of molds: what of a drawing lies within a square, and what is labelled there."""

from __future__ import annotations

from itertools import pairwise
from math import asin, hypot, pi

import pytest
import shapely

from formwork.drawings.details import clipped
from formwork.drawings.layers import BALLOONS, CAST, HATCH
from formwork.drawings.scene import Arc, Circle, Hatch, Line, Polyline, Text

SQUARE = shapely.box(0.0, 0.0, 1.0, 1.0)


def length(items) -> float:
    total = 0.0
    for item in items:
        points = (item.start, item.end) if isinstance(item, Line) else item.points
        total += sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))
    return total


def test_a_line_keeps_what_lies_within_the_square():
    (kept,) = clipped(Line(CAST, (-1.0, 0.25), (3.0, 0.25)), SQUARE)
    assert {kept.start, kept.end} == {(0.0, 0.25), (1.0, 0.25)}
    assert clipped(Line(CAST, (2.0, 0.0), (2.0, 1.0)), SQUARE) == []
    inside = Line(CAST, (0.1, 0.1), (0.9, 0.3))
    assert clipped(inside, SQUARE) == [inside]


def test_a_circle_about_the_corner_keeps_its_quarter():
    assert length(clipped(Circle(CAST, (0.0, 0.0), 0.5), SQUARE)) == pytest.approx(pi / 4.0, rel=1e-3)
    assert length(clipped(Arc(CAST, (0.0, 0.0), 0.5, 0.0, pi), SQUARE)) == pytest.approx(pi / 4.0, rel=1e-3)


def test_an_arc_that_leaves_the_square_is_cut_on_its_border():
    """A circle of radius 1.25 about the corner crosses the two far sides at asin(1 / 1.25) and its complement."""
    pieces = clipped(Circle(CAST, (0.0, 0.0), 1.25), SQUARE)
    turn = 2.0 * asin(1.0 / 1.25) - pi / 2.0
    assert length(pieces) == pytest.approx(1.25 * turn, rel=2e-3)


def test_a_hatch_keeps_its_area_within_the_square_and_its_opening():
    hole = ((0.4, 0.4), (0.4, 0.6), (0.6, 0.6), (0.6, 0.4))
    whole = Hatch(HATCH, (((-1.0, 0.2), (2.0, 0.2), (2.0, 0.8), (-1.0, 0.8)), hole), "rising")
    kept = clipped(whole, SQUARE)
    area = sum(shapely.Polygon(one.rings[0], one.rings[1:]).area for one in kept)
    assert area == pytest.approx(0.6 - 0.04)


def test_details_show_two_squares_with_marks_of_their_own_mold(scenes, plans):
    found = {name: scene for name, scene in scenes.items() if "/details-" in name}
    assert len(found) > 10
    for name, scene in found.items():
        frames = [
            item
            for item in scene.model
            if isinstance(item, Polyline) and item.layer is BALLOONS and not item.filled
        ]
        assert len(frames) == 2, name
        reach = [shapely.Polygon(frame.points).buffer(1e-9) for frame in frames]
        drawn = [item for item in scene.model if isinstance(item, Line) and item.layer.wide]
        for line in drawn:
            assert any(one.contains(shapely.LineString([line.start, line.end])) for one in reach), name
        plan = plans[name.partition("/")[0]]
        marks = {line.label for line in plan.cut_list if name.endswith(f"/details-{line.mold}")}
        shown = [item.text for item in scene.model if isinstance(item, Text) and item.layer is BALLOONS]
        assert shown and set(shown) <= marks, name
