"""Cut sheets: true outlines at their places, holes as circles, saw lines that touch no part."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from math import isclose, pi

import ezdxf
import ezdxf.path
import pytest
import shapely

from formwork.cutting.cut_list import CutLine
from formwork.cutting.records import Cut, Offcut, Placed, SheetLayout, Spot, offcut_name, spots
from formwork.drawings.dxf import dxf
from formwork.drawings.layers import SAW_LINE, TEXTS
from formwork.drawings.lists import part_list
from formwork.drawings.scene import Circle, Line, Polyline, Text
from formwork.drawings.sheet import LARGEST_DRILL, hole_layer, part_outline, sheet_drawing
from formwork.drawings.svg import svg
from formwork.errors import InternalError
from formwork.geometry.outlines import Outline, area, box, circle, flattened, ring_sector, shifted
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


def ring_line(label="R1", *, inner=0.3, outer=0.4, sweep=pi / 2):
    """A ring segment lying on its side, its corner at the origin, with a round opening."""
    segment = ring_sector(inner, outer, 0.0, sweep)
    (x, y), (x1, y1) = box(segment)
    segment = shifted(segment, (-x, -y))
    middle = (inner + outer) / 2.0 * 2**-0.5
    hole = circle((middle - x, middle - y), 0.02)
    blank = Blank(x1 - x, y1 - y, 0.018, segment.points, (0.0,) * 4, (), 0.0, segment.bulges, (hole,))
    part = Part(label, "ring", "panel", "ply 18", label, (), blank, PLACE)
    return CutLine(label, "tub mold", (f"{label} segment",), part, 1)


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
    turned = part_outline(Spot("B1", 1.0, 2.0, 1), line)
    assert [v for p in turned.points for v in p] == pytest.approx([1.2, 2.0, 1.2, 2.4, 1.0, 2.3])


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


def region(item: Polyline, openings=()):
    """What an outline with arcs encloses, less what is cut out of it."""
    rings = [
        flattened(Outline(one.points, one.bulges or (0.0,) * len(one.points)), 1e-5)
        for one in (item, *openings)
    ]
    return shapely.Polygon(rings[0], rings[1:])


def parts_of(scene):
    """Every part on a sheet, with the openings that follow its outline."""
    found: list[list[Polyline]] = []
    for item in scene.model:
        if isinstance(item, Polyline) and item.layer.name == "CUT-OUTSIDE":
            found.append([item])
        elif isinstance(item, Polyline) and item.layer.name == "CUT-INSIDE":
            found[-1].append(item)
    return [region(outline, openings) for outline, *openings in found]


def test_saw_lines_of_real_plans_cross_no_part(scenes):
    checked = 0
    for name, scene in scenes.items():
        parts = [part.buffer(-2e-5) for part in parts_of(scene)]
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
            parts = parts_of(scene)
            assert len(parts) == sum(len(spots(placed)) for placed in layout.placed)
            sheet = shapely.box(0.0, 0.0, layout.stock.length, layout.stock.width)
            for i, part in enumerate(parts):
                assert sheet.buffer(1e-9).contains(part)
                assert all(part.distance(other) >= kerf - 1e-6 for other in parts[i + 1 :])


def test_outlines_of_real_plans_have_the_area_of_their_blanks(scenes, plans):
    for name, one in plans.items():
        areas = {line.label: area(line.part.blank.edge) for line in one.cut_list}
        for index, layout in enumerate(one.sheets, start=1):
            drawn = on(scenes[f"{name}/sheet-{index}"], "CUT-OUTSIDE", Polyline)
            labels = [spot.label for placed in layout.placed for spot in spots(placed)]
            for label, outline in zip(labels, drawn, strict=True):
                assert isclose(region(outline).area, areas[label], rel_tol=1e-3 if outline.bulges else 1e-9)


def test_every_part_bears_its_label(scenes, plans):
    """Inside the outline, or in a balloon where it is too small."""
    for name, one in plans.items():
        for index, layout in enumerate(one.sheets, start=1):
            scene = scenes[f"{name}/sheet-{index}"]
            labels = sorted(
                t.text for t in scene.model
                if isinstance(t, Text) and t.layer.name in ("ENGRAVE-LABEL", "S-ANNO-SYMB") and not t.text.startswith("offcut ")
            )  # fmt: skip
            assert labels == sorted(spot.label for placed in layout.placed for spot in spots(placed))


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


@pytest.fixture
def curved(a_project):
    """A quarter ring as it is and the same turned by a quarter, each with its opening."""
    line = ring_line()
    size = line.part.blank.length
    placed = (Placed("R1", 0.005, 0.005, size, size, False), Placed("R1", 0.5, 0.005, size, size, True))
    return line, sheet_drawing(SheetLayout(PLY, 1, placed, (), ()), (line,), a_project("mm"))


def test_arcs_of_parts_are_arcs_in_the_file(curved):
    """Read back by the library: the radii are those of the ring, the area is its (the reader's path takes one cubic to
    an arc, which is off by 3 in 10,000)."""
    _, scene = curved
    doc = ezdxf.read(io.StringIO(dxf(scene)))
    outlines = doc.modelspace().query('LWPOLYLINE[layer=="CUT-OUTSIDE"]')
    assert len(outlines) == 2
    for one in outlines:
        radii = sorted(arc.dxf.radius for arc in one.virtual_entities() if arc.dxftype() == "ARC")
        assert radii == pytest.approx([300.0, 400.0])
        path = ezdxf.path.make_path(one)
        ring = shapely.Polygon([(p.x, p.y) for p in path.flattening(0.001)])
        assert ring.area == pytest.approx(pi / 4 * (400.0**2 - 300.0**2), rel=4e-4)
    (first, second) = doc.modelspace().query('LWPOLYLINE[layer=="CUT-INSIDE"]')
    for one in (first, second):
        assert [arc.dxf.radius for arc in one.virtual_entities()] == pytest.approx([20.0] * 4)


def test_an_arc_of_a_part_is_an_arc_in_the_picture(curved):
    _, scene = curved
    paths = re.findall(r'<path d="(M[^"]* A[^"]*)"', svg(scene))
    radii = sorted({float(r) for path in paths for r in re.findall(r"A([0-9.]+) ", path)})
    assert radii == pytest.approx([20.0 / scene.scale, 300.0 / scene.scale, 400.0 / scene.scale], abs=1e-3)


def test_a_turned_curve_stays_in_its_box_and_keeps_its_size(curved):
    line, _ = curved
    whole = area(line.part.blank.edge)
    for quarters in range(4):
        laid = part_outline(Spot("R1", 1.0, 0.2, quarters), line)
        assert area(laid) == pytest.approx(whole)
        (x, y), (x1, y1) = box(laid)
        assert (x, y, x1, y1) == pytest.approx((1.0, 0.2, 1.4, 0.6))


def test_no_word_stands_in_an_opening(a_project):
    """A ring so wide that its label would stand in the middle of the opening."""
    outline = ((0.0, 0.0), (0.9, 0.0), (0.9, 0.9), (0.0, 0.9))
    line = cut_line("A1", outline)
    blank = replace(line.part.blank, openings=(circle((0.45, 0.45), 0.3),))
    line = replace(line, part=replace(line.part, blank=blank))
    scene = sheet_drawing(
        SheetLayout(PLY, 1, (Placed("A1", 0.01, 0.01, 0.9, 0.9, False),), (), ()), (line,), a_project("mm")
    )
    opening = shapely.Polygon(flattened(circle((0.46, 0.46), 0.3), 1e-4))
    (label,) = on(scene, "ENGRAVE-LABEL", Text)
    assert not opening.contains(shapely.Point(label.at))


def test_sheets_with_curves_say_how_they_are_cut(curved):
    texts = " ".join(item.text for item in curved[1].paper if isinstance(item, Text))
    assert "full-size template" in texts


def test_the_list_gives_a_tube_by_its_length_and_outside_diameter():
    line = cut_line("A1", ((0.0, 0.0), (1.2, 0.0), (1.2, 0.3), (0.0, 0.3)))
    tube = replace(
        line, part=replace(line.part, kind="pipe", blank=replace(line.part.blank, thickness=0.3, wall=0.005))
    )
    texts = [
        item.text
        for item in part_list([line, tube], 1, lambda v: f"{v * 1000:.0f}")
        if isinstance(item, Text)
    ]
    assert "1200 x 300 x 18" in texts and "1200 x 300 outside" in texts


def test_cuts_are_numbered_beside_their_lines_and_offcuts_have_names(plans):
    """A ringed number stands within a ring and a half of the kerf of the cut that has it in the list."""
    seen = 0
    for one in plans.values():
        for index, layout in enumerate(one.sheets, start=1):
            scene = sheet_drawing(layout, one.cut_list, one.project, index=index)
            rings = {item.centre for item in scene.model if isinstance(item, Circle) and item.layer is TEXTS}
            numbers = [t for t in scene.model if isinstance(t, Text) and t.size == 1.8 and t.layer is TEXTS]
            assert len(numbers) == len(rings) <= len(layout.cuts)
            lines = [item for item in scene.model if isinstance(item, Line) and item.layer is SAW_LINE]
            assert len(lines) == len(layout.cuts)
            for text in numbers:
                line = lines[int(text.text) - 1]
                off = shapely.LineString([line.start, line.end]).distance(shapely.Point(text.at))
                assert off * 1000.0 / scene.scale < 4.0
            names = [t.text for t in scene.model if isinstance(t, Text) and t.text.startswith("offcut ")]
            wanted = [f"offcut {offcut_name(index, n)}" for n in range(len(layout.offcuts))]
            assert set(names) <= set(wanted)
            seen += len(numbers)
    assert seen > 100
