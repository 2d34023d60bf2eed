"""Cut sheets: true outlines at their places, holes as circles, saw lines that touch no part."""

from __future__ import annotations

from dataclasses import replace
from math import isclose, pi

import pytest
import shapely

from formwork.cutting.cut_list import CutLine
from formwork.cutting.records import Cut, Offcut, Placed, SheetLayout
from formwork.drawings.scene import Circle, Line, Polyline, Text
from formwork.drawings.sheet import LARGEST_DRILL, hole_layer, part_outline, sheet_drawing
from formwork.errors import InternalError
from formwork.molds.mold import Blank, Part, Placement
from formwork.stock.records import SheetStock

PLY = SheetStock("ply 18", "plywood", "18 mm", 0.018, True, 2.44, 1.22)
PLACE = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
KERF = 0.003


def cut_line(label, outline, bevels=None, holes=()):
    length, width = max(x for x, _ in outline), max(y for _, y in outline)
    blank = Blank(length, width, 0.018, tuple(outline), tuple(bevels or (0.0,) * len(outline)), tuple(holes))
    part = Part(label, "panel", "panel", "ply 18", label, (), blank, PLACE)
    return CutLine(label, "box mold", (f"{label} panel",), part, 1)


TRAPEZOID = ((0.0, 0.0), (0.9, 0.0), (0.8, 0.4), (0.1, 0.4))
LINES = (
    cut_line("A1", TRAPEZOID, (0.1, 0.0, -0.2, 0.0), ((0.3, 0.2, 0.025), (0.6, 0.1, 0.1))),
    cut_line("A2", ((0.0, 0.0), (0.5, 0.0), (0.5, 0.2), (0.0, 0.2))),
)


def layout() -> SheetLayout:
    """Trim 5 mm; A1 in the lower left, A2 upright beside it, the rest above is kept."""
    t, k = 0.005, KERF
    placed = (
        Placed("A1", t, t, 0.9, 0.4, False),
        Placed("A2", t + 0.9 + k, t, 0.2, 0.5, True),
    )
    cuts = (
        Cut(0, "length", 1.22 - t, "top", (), (1, -1)),
        Cut(1, "width", 2.44 - t, "right", (), (2, -1)),
        Cut(2, "length", 0.5, "bottom", (), (3, 4)),
        Cut(3, "width", 0.9, "left", (), (5, 6)),
        Cut(5, "length", 0.4, "bottom", ("A1",), (7, -1)),
        Cut(6, "width", 0.2, "left", ("A2",), (8, -1)),
    )
    return SheetLayout(PLY, 2, placed, cuts, (Offcut(t, 0.508, 2.43, 0.707),))


@pytest.fixture
def scene(a_project):
    return sheet_drawing(layout(), LINES, a_project("mm"))


def on(scene, name, kind):
    return [item for item in scene.model if item.layer.name == name and isinstance(item, kind)]


def test_the_sheet_lies_with_its_corner_at_the_origin(scene):
    (edge,) = on(scene, "SHEET-EDGE", Polyline)
    assert edge.points == ((0.0, 0.0), (2.44, 0.0), (2.44, 1.22), (0.0, 1.22)) and edge.closed


def test_outlines_are_closed_true_and_not_mirrored(scene):
    first, second = on(scene, "CUT-OUTSIDE", Polyline)
    assert first.closed and second.closed
    assert first.points == tuple((x + 0.005, y + 0.005) for x, y in TRAPEZOID)
    assert isclose(shapely.Polygon(first.points).area, (0.9 + 0.7) / 2 * 0.4)
    assert shapely.Polygon(second.points).bounds == pytest.approx((0.908, 0.005, 1.108, 0.505))
    for outline in (first, second):
        assert shapely.LinearRing(outline.points).is_ccw


def test_a_turned_part_is_turned_by_a_quarter():
    line = cut_line("B1", ((0.0, 0.0), (0.4, 0.0), (0.3, 0.2)))
    turned = part_outline(Placed("B1", 1.0, 2.0, 0.2, 0.4, True), line)
    assert [v for p in turned for v in p] == pytest.approx([1.2, 2.0, 1.2, 2.4, 1.0, 2.3])


def test_holes_are_drilled_or_cut_by_their_size(scene):
    (small,) = on(scene, "DRILL-25MM", Circle)
    (large,) = on(scene, "CUT-INSIDE", Circle)
    assert small.centre == pytest.approx((0.305, 0.205)) and small.radius == 0.0125
    assert large.centre == pytest.approx((0.605, 0.105)) and large.radius == 0.05
    assert hole_layer(LARGEST_DRILL, "in").name == "DRILL-1.5748IN"
    assert hole_layer(0.0127, "in").name == "DRILL-0.5IN"


def test_saw_lines_run_in_the_middle_of_their_kerf(scene):
    lines = [(*item.start, *item.end) for item in on(scene, "SAW-LINE", Line)]
    half = KERF / 2
    assert len(lines) == 6
    assert lines[0] == pytest.approx((0.0, 0.005 - half, 2.44, 0.005 - half))
    assert lines[1][0] == pytest.approx(0.005 - half)
    assert lines[2] == pytest.approx((0.005, 0.505 + half, 2.44, 0.505 + half))
    assert lines[3][:2] == pytest.approx((0.905 + half, 0.005))


def test_saw_lines_of_real_plans_cross_no_part(scenes):
    checked = 0
    for name, scene in scenes.items():
        parts = [shapely.Polygon(i.points).buffer(-1e-6) for i in on(scene, "CUT-OUTSIDE", Polyline)]
        for line in on(scene, "SAW-LINE", Line):
            stroke = shapely.LineString([line.start, line.end])
            assert not any(stroke.intersects(part) for part in parts), name
            checked += 1
    assert checked > 20


def test_parts_of_real_plans_lie_in_the_sheet_and_apart(scenes, plans):
    for name, one in plans.items():
        kerf = one.project.shop.saw.kerf
        for index, layout in enumerate(one.sheets, start=1):
            scene = scenes[f"{name}/sheet-{index}"]
            parts = [shapely.Polygon(i.points) for i in on(scene, "CUT-OUTSIDE", Polyline)]
            assert len(parts) == len(layout.placed)
            sheet = shapely.box(0.0, 0.0, layout.stock.length, layout.stock.width)
            for i, part in enumerate(parts):
                assert sheet.contains(part)
                assert all(part.distance(other) >= kerf - 1e-6 for other in parts[i + 1 :])


def test_outlines_of_real_plans_have_the_area_of_their_blanks(scenes, plans):
    for name, one in plans.items():
        areas = {line.label: shapely.Polygon(line.part.blank.outline).area for line in one.cut_list}
        for index, layout in enumerate(one.sheets, start=1):
            drawn = on(scenes[f"{name}/sheet-{index}"], "CUT-OUTSIDE", Polyline)
            for placed, outline in zip(layout.placed, drawn, strict=True):
                assert isclose(shapely.Polygon(outline.points).area, areas[placed.label], rel_tol=1e-9)


def test_every_part_bears_its_label(scenes, plans):
    """Inside the outline, or in a balloon where it is too small."""
    for name, one in plans.items():
        for index, layout in enumerate(one.sheets, start=1):
            scene = scenes[f"{name}/sheet-{index}"]
            labels = sorted(
                t.text for t in scene.model
                if isinstance(t, Text) and t.layer.name in ("ENGRAVE-LABEL", "S-ANNO-SYMB") and t.text != "offcut"
            )  # fmt: skip
            assert labels == sorted(p.label for p in layout.placed)


def test_bevels_stand_inside_their_edge(scene):
    texts = on(scene, "BEVEL-ANGLE", Text)
    assert sorted(t.text for t in texts) == ["-11.5 deg", "5.7 deg"]
    outline = shapely.Polygon(on(scene, "CUT-OUTSIDE", Polyline)[0].points)
    assert all(outline.contains(shapely.Point(t.at)) for t in texts)
    assert isclose(0.1 * 180 / pi, 5.7, abs_tol=0.05)


def test_a_strip_too_narrow_for_its_label_gets_a_balloon(a_project):
    strip = cut_line("A3", ((0.0, 0.0), (0.9, 0.0), (0.9, 0.016), (0.0, 0.016)))
    one = SheetLayout(PLY, 1, (Placed("A3", 0.005, 0.005, 0.9, 0.016, False),), (), ())
    scene = sheet_drawing(one, (strip,), a_project("mm"))
    assert [t.text for t in scene.model if t.layer.name == "S-ANNO-SYMB" and isinstance(t, Text)] == ["A3"]


def test_a_label_that_is_not_in_the_cut_list_is_our_fault(a_project):
    odd = replace(layout(), placed=(Placed("Z9", 0.0, 0.0, 0.1, 0.1, False),))
    with pytest.raises(InternalError, match="Z9"):
        sheet_drawing(odd, LINES, a_project("mm"))


def test_the_hand_made_sheet_is_clean(scene, covered_texts):
    assert covered_texts(scene) == []
