"""Full-size templates and labels, measured on the printed page: rendered at 600 dots an inch, or read from its paths."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import ezdxf
import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.drawings.dxf import dxf
from formwork.geometry.outlines import box, circle, rectangle, ring_sector, shifted
from formwork.molds.mold import Blank
from formwork.packet.full_size import BARS, for_plotter, full_size, tag, template_pages
from formwork.packet.labels import labels
from formwork.packet.papers import PAPERS
from formwork.packet.patterns import Pattern, is_rectangle, needs_pattern, patterns
from formwork.packet.template_drawing import template_drawing
from formwork.packet.template_plane import corner
from formwork.packet.template_sets import FOOT, LEFT, MARGIN, OVERLAP, lay_out, one_page, tiles
from formwork.plan import CutLine

DPI = 600
MM = DPI / 25.4
"""Dots in a millimetre."""
RIB = ((0.0, 0.0), (0.8, 0.0), (0.72, 0.3), (0.4, 0.42), (0.08, 0.3))
"""A rib of 800 x 420 mm, in m."""


def with_outline(plan, outline, *, length=0.8, width=0.42, holes=(), bevels=None):
    line = plan.cut_list[0]
    blank = Blank(length, width, 0.018, outline, bevels or (0.0,) * len(outline), holes)
    return replace(plan, cut_list=(CutLine("A1", line.mold, ("rib",), replace(line.part, blank=blank), 2),))


def texts(pdf: bytes) -> list[str]:
    return [re.sub(r"\s+", " ", page.get_textpage().get_text_range()) for page in pypdfium2.PdfDocument(pdf)]


@pytest.fixture(scope="module")
def rib(make_plan):
    return with_outline(make_plan(), RIB, holes=((0.4, 0.2, 0.03),), bevels=(0.1, 0.0, -0.2, 0.0, 0.0))


@pytest.fixture(scope="module")
def sets(rib):
    return lay_out(patterns(rib), PAPERS["A4"])


@pytest.fixture(scope="module")
def pages(rib, sets):
    """Page number by set and tag, and each page's picture when it is asked for."""
    pdf = full_size(rib, PAPERS["A4"])
    assert pdf is not None
    document = pypdfium2.PdfDocument(pdf)
    entries = [page for one in template_pages(rib, sets, PAPERS["A4"])["sets"] for page in one["pages"]]
    first = len(document) - len(entries)
    return document, {(one["row"], one["column"]): first + i for i, one in enumerate(entries)}


def ink(document, number: int) -> np.ndarray:
    """Where a page is darker than half, row by row from the top."""
    picture = document[number].render(scale=DPI / 72, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2]) < 128


def dark_runs(line: np.ndarray) -> list[tuple[int, int]]:
    steps = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(int), [0]))))
    return list(zip(steps[::2], steps[1::2], strict=True))


def middles(line: np.ndarray) -> list[float]:
    return [(a + b) / 2.0 for a, b in dark_runs(line)]


def first_page(pages) -> tuple[np.ndarray, float]:
    document, numbers = pages
    number = min(numbers.values())
    return ink(document, number), document[number].get_size()[1] * 25.4 / 72


def test_the_level_bar_is_right_to_a_tenth_of_a_millimetre(pages):
    dark, high = first_page(pages)
    row = round((high - MARGIN - FOOT + 4.0 + 0.4) * MM)
    x0, x1 = round((MARGIN + LEFT - 1) * MM), round((MARGIN + LEFT + BARS["mm"][0] + 1) * MM)
    ends = middles(dark[row, x0:x1])
    assert len(ends) == 2
    assert (ends[1] - ends[0]) / MM == pytest.approx(100.0, abs=0.1)


def test_the_upright_bar_is_right_to_a_tenth_of_a_millimetre(pages):
    dark, _ = first_page(pages)
    column = round((MARGIN + 0.4) * MM)
    ends = middles(dark[round((MARGIN - 1) * MM) : round((MARGIN + 101) * MM), column])
    assert len(ends) == 2
    assert (ends[1] - ends[0]) / MM == pytest.approx(100.0, abs=0.1)


def test_bars_of_inch_projects_are_four_inches():
    assert BARS["in"][0] == pytest.approx(4 * 25.4)


def cross_near(dark: np.ndarray, x: float, y: float) -> tuple[float, float]:
    """Middle of the cross that stands near a place of the page, mm: by the longest dark column and row there."""
    x0, y0, half = round(x * MM), round(y * MM), round(3.4 * MM)
    part = dark[y0 - half : y0 + half, x0 - half : x0 + half]
    columns, rows = part.sum(axis=0), part.sum(axis=1)
    cx = np.mean(np.flatnonzero(columns > 0.9 * columns.max()))
    cy = np.mean(np.flatnonzero(rows > 0.9 * rows.max()))
    assert columns.max() > 5.5 * MM and rows.max() > 5.5 * MM
    return (x0 - half + cx) / MM, (y0 - half + cy) / MM


def on_page(one, row: int, column: int, x: float, y: float) -> tuple[float, float]:
    """Where a point of the set is printed, mm from the upper left corner of the paper."""
    left, top = corner(one, row, column)
    return x - left + MARGIN + LEFT, top - y + MARGIN


@pytest.mark.parametrize("step", [(0, 1), (1, 0)])
def test_adjoining_pages_register_to_two_tenths(pages, sets, step):
    """The same crosses and the same outline, found on both pages, lie one step of the grid apart."""
    document, numbers = pages
    (one,) = sets
    here, there = next(
        ((row, column), (row + step[0], column + step[1]))
        for row, column in numbers
        if (row + step[0], column + step[1]) in numbers
    )
    left, top = corner(one, *there)
    tile = one.tile
    spots = [
        (left + OVERLAP / 2.0, top - part * tile.height)
        if step == (0, 1)
        else (left + part * tile.width, top - OVERLAP / 2.0)
        for part in (0.2, 0.8)
    ]
    dark = {place: ink(document, numbers[place]) for place in (here, there)}
    for x, y in spots:
        found = {place: cross_near(dark[place], *on_page(one, *place, x, y)) for place in (here, there)}
        by_cross = [found[here][k] - found[there][k] for k in (0, 1)]
        (x0, y0), (x1, y1) = corner(one, *here), corner(one, *there)
        assert by_cross == pytest.approx([x1 - x0, y0 - y1], abs=0.2)


def test_an_outline_goes_on_where_it_left_off(pages, sets):
    """The lower edge of the rib is level: on both pages of its row it lies at the same height."""
    document, numbers = pages
    (one,) = sets
    x, y, _ = one.placed[0]
    bottom = one.down - 1
    heights = []
    for column in (0, 1):
        left, _ = corner(one, bottom, column)
        px, py = on_page(one, bottom, column, max(x, left) + 40.0, y)
        line = ink(document, numbers[bottom, column])[
            round((py - 2) * MM) : round((py + 2) * MM), round(px * MM)
        ]
        heights.append(middles(line)[0] / MM + py - 2)
    assert heights[0] == pytest.approx(heights[1], abs=0.2)
    assert heights[0] == pytest.approx(py, abs=0.2)


def test_a_part_has_its_true_size_across_pages_joined_by_their_crosses(pages, sets):
    """800 mm along the lower edge, from its end on the first page to its end on the last.

    The pages are joined as a person joins them: by what the crosses are apart on paper, not by where they should be.
    """
    document, numbers = pages
    (one,) = sets
    x, y, _ = one.placed[0]
    row = one.down - 1
    dark = [ink(document, numbers[row, column]) for column in range(one.across)]
    joined = 0.0
    for column in range(1, one.across):
        left, top = corner(one, row, column)
        spot = (left + OVERLAP / 2.0, top - 0.2 * one.tile.height)
        here, there = (cross_near(dark[k], *on_page(one, row, k, *spot))[0] for k in (column - 1, column))
        joined += here - there
    ends = []
    for column, want in ((0, x), (one.across - 1, x + 800.0)):
        px, py = on_page(one, row, column, want, y)
        runs = dark_runs(dark[column][round(py * MM), round((px - 5) * MM) : round((px + 5) * MM)])
        ends.append((runs[0][0] if column == 0 else runs[-1][1]) / MM + px - 5)
    assert one.across > 1
    assert joined + ends[1] - ends[0] == pytest.approx(800.0, abs=0.4)


def test_every_page_has_bars_tag_and_the_word_to_print_at_100_percent(pages):
    document, numbers = pages
    for (row, column), number in numbers.items():
        text = re.sub(r"\s+", " ", document[number].get_textpage().get_text_range())
        assert f"Set 1, page {tag(row, column)}." in text
        assert "Print at 100 %; measure both bars." in text and text.count("100 mm") == 2


def test_the_first_page_maps_every_set_and_says_how_to_join(pages):
    text = re.sub(r"\s+", " ", pages[0][0].get_textpage().get_text_range())
    assert "Measure both bars" in text and "Print on A4 at 100 %" in text and "A1 rib" in text
    for row, column in pages[1]:
        assert tag(row, column) in text


def test_no_page_is_named_like_a_part():
    """Parts are a letter and a number; a page that joins "A2" would read as one that joins a part."""
    for row in range(30):
        for column in range(12):
            assert not re.fullmatch(r"[A-Z]+\d+", tag(row, column))
    assert len({tag(row, column) for row in range(30) for column in range(12)}) == 360


def test_pages_that_show_nothing_are_left_out(make_plan):
    thin = with_outline(
        make_plan(), ((0.0, 0.0), (1.0, 0.58), (1.0, 0.6), (0.0, 0.02)), length=1.0, width=0.6
    )
    (one,) = lay_out(patterns(thin), PAPERS["A4"])
    (entry,) = template_pages(thin, (one,), PAPERS["A4"])["sets"]
    assert 0 < len(entry["pages"]) < one.across * one.down


def test_words_on_a_part_are_its_mark_name_size_and_pieces_in_the_units_of_the_project(rib):
    text = " ".join(texts(full_size(rib, PAPERS["A3"])))
    for words in (
        "A1",
        "rib",
        "800 x 420 mm",
        "2 pieces from ply 18",
        "grain",
        "30 mm hole",
        "5.7 deg in",
        "11.5 deg out",
    ):
        assert words in text
    inches = replace(rib, project=replace(rib.project, units="in"))
    text = " ".join(texts(full_size(inches, PAPERS["Letter"])))
    assert "31 1/2 x 16 9/16 in" in text and "1 3/16 in hole" in text and "4 in" in text


def test_rectangles_need_no_template(plan):
    assert patterns(plan) == ()
    assert full_size(plan, PAPERS["A4"]) is None and for_plotter(plan) is None
    assert is_rectangle(plan.cut_list[0].part.blank)


def test_what_leans_only_through_its_thickness_is_a_rectangle_on_paper(plan):
    """A panel with one end bevelled out: its face is a rectangle that begins where the bevel ends."""
    face = ((0.01, 0.0), (0.8, 0.0), (0.8, 0.42), (0.01, 0.42))
    assert patterns(with_outline(plan, face, bevels=(0.0, 0.0, 0.0, -0.5))) == ()


def test_corners_along_a_straight_edge_leave_a_rectangle_one(plan):
    """A bent strip told by its stations: points every tenth along both edges."""
    lower = tuple((0.08 * k, 0.0) for k in range(11))
    strip = (*lower, *((x, 0.42) for x, _ in reversed(lower)))
    assert patterns(with_outline(plan, strip)) == ()
    assert len(patterns(with_outline(plan, (*strip[:5], (0.4, 0.01), *strip[6:])))) == 1


def test_a_corner_cut_off_is_no_rectangle(plan):
    cut_off = ((0.0, 0.0), (0.8, 0.0), (0.8, 0.3), (0.7, 0.42), (0.0, 0.42))
    assert len(patterns(with_outline(plan, cut_off))) == 1


def test_words_are_printed_whole_on_some_page(rib, sets):
    (one,) = sets
    (entry,) = template_pages(rib, sets, PAPERS["A4"])["sets"]
    assert {"A1", "rib", "800 x 420 mm"} <= {
        text["text"] for page in entry["pages"] for text in page["texts"]
    }
    for page in entry["pages"]:
        for text in page["texts"]:
            x, y = text["at"]
            assert 0.0 < x < one.tile.width and 0.0 < y < one.tile.height


def test_the_plotter_gets_one_page_with_every_part(rib):
    document = pypdfium2.PdfDocument(for_plotter(rib))
    assert len(document) == 1
    width, height = (side * 25.4 / 72 for side in document[0].get_size())
    assert width > 800 and height > 420


def test_the_same_plan_gives_the_same_bytes(rib):
    assert full_size(rib, PAPERS["Letter"]) == full_size(rib, PAPERS["Letter"])
    assert for_plotter(rib) == for_plotter(rib)
    assert labels(rib, PAPERS["A4"]) == labels(rib, PAPERS["A4"])


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(5, 2500), st.floats(5, 1300)), min_size=1, max_size=25),
    st.sampled_from(sorted(PAPERS)),
)
def test_every_pattern_lies_inside_one_set_and_none_on_another(boxes, paper):
    wanted = [
        Pattern(f"P{i}", ("part", "size", "pieces"), (), (), (), max(box), min(box))
        for i, box in enumerate(boxes)
    ]
    for sets in (lay_out(wanted, PAPERS[paper]), (one_page(wanted),)):
        assert sorted(one.label for each in sets for _, _, one in each.placed) == sorted(
            one.label for one in wanted
        )
        for each in sets:
            spots = [(x, y, x + one.length, y + one.height) for x, y, one in each.placed]
            for i, a in enumerate(spots):
                assert a[0] >= 0 and a[1] >= 0 and a[2] <= each.width + 1e-6 and a[3] <= each.height + 1e-6
                for b in spots[i + 1 :]:
                    assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("name", sorted(PAPERS))
def test_a_page_leaves_printers_their_margin_and_bars_their_room(name):
    for tile in tiles(PAPERS[name]):
        assert tile.height > BARS["in"][0] + 25 and tile.width > BARS["in"][0] + 60


def test_there_is_a_label_for_every_part_with_mark_size_piece_and_mold(plan):
    text = " ".join(texts(labels(plan, PAPERS["A4"])))
    for line in plan.cut_list:
        assert len(re.findall(rf"\b{line.label} 1 of {line.quantity}", text)) == 1
    assert "636 x 436 x 18 mm" in text and "for slab mold" in text


def test_labels_of_many_parts_go_on_over_pages_and_long_names_stay_inside(plan):
    line = plan.cut_list[0]
    name = "Verstärkungsleistenhalterung" * 4
    many = replace(plan, cut_list=(CutLine("A1", line.mold, (name,), line.part, 50),))
    pdf = labels(many, PAPERS["Letter"])
    assert len(pypdfium2.PdfDocument(pdf)) == 2
    assert sum(text.count("A1") for text in texts(pdf)) == 50


def test_nothing_to_cut_needs_no_labels(plan):
    assert labels(replace(plan, cut_list=()), PAPERS["A4"]) is None


@pytest.fixture(scope="module")
def curved(make_plan):
    """A ring segment of radii 150 and 250 mm over 100 degrees, with a round opening and a bevel along its back."""
    ring = ring_sector(0.15, 0.25, 0.0, np.radians(100.0))
    (x, y), (x1, y1) = box(ring)
    middle = (0.2 * np.cos(0.8) - x, 0.2 * np.sin(0.8) - y)
    ring = shifted(ring, (-x, -y))
    plan = make_plan()
    line = plan.cut_list[0]
    blank = Blank(
        x1 - x,
        y1 - y,
        0.018,
        ring.points,
        (0.0, 0.1, 0.0, 0.0),
        (),
        0.0,
        ring.bulges,
        (circle(middle, 0.02),),
    )
    one = CutLine("A1", line.mold, ("ring segment",), replace(line.part, blank=blank), 4)
    return replace(plan, cut_list=(one,)), (-x, -y)


def test_an_arc_is_printed_where_it_runs(curved):
    """A ray from the centre of the ring meets the two arcs at 150 and 250 mm, measured on the page."""
    plan, (cx, cy) = curved
    (one,) = lay_out(patterns(plan), PAPERS["A3"])
    assert (one.across, one.down) == (1, 1)
    document = pypdfium2.PdfDocument(full_size(plan, PAPERS["A3"]))
    dark = ink(document, len(document) - 1)
    px, py, shape = one.placed[0]
    turned = plan.cut_list[0].part.blank.width > plan.cut_list[0].part.blank.length
    centre = (shape.length - cy * 1000.0, cx * 1000.0) if turned else (cx * 1000.0, cy * 1000.0)
    for radius in (150.0, 250.0):
        for angle in np.radians([5.0, 25.0, 70.0, 95.0]):
            way = angle + (np.pi / 2 if turned else 0.0)
            found = []
            for r in np.arange(radius - 2.0, radius + 2.0, 0.02):
                at = on_page(one, 0, 0, px + centre[0] + r * np.cos(way), py + centre[1] + r * np.sin(way))
                if dark[round(at[1] * MM), round(at[0] * MM)]:
                    found.append(r)
            assert np.mean(found) == pytest.approx(radius, abs=0.12)


def test_curves_are_never_rectangles_and_openings_need_a_template(curved, plan):
    assert not is_rectangle(curved[0].cut_list[0].part.blank)
    blank = plan.cut_list[0].part.blank
    assert not needs_pattern(blank)
    assert needs_pattern(replace(blank, openings=(circle((0.2, 0.2), 0.05),)))
    assert needs_pattern(replace(blank, bulges=(0.1, 0.0, 0.0, 0.0)))


def test_the_radius_stands_along_an_arc_with_the_tilt_of_the_blade(curved):
    text = " ".join(texts(full_size(curved[0], PAPERS["A3"])))
    assert "radius 250 mm, 5.7 deg in" in text and "radius 150 mm" in text


def test_no_word_is_printed_in_an_opening(make_plan):
    """The middle of a frame is open: its words stand on its wood."""
    plan = with_outline(make_plan(), ((0.0, 0.0), (0.8, 0.0), (0.8, 0.42), (0.0, 0.42)))
    blank = replace(plan.cut_list[0].part.blank, openings=(rectangle((0.06, 0.06), (0.74, 0.36)),))
    line = plan.cut_list[0]
    plan = replace(plan, cut_list=(replace(line, part=replace(line.part, blank=blank)),))
    sets = lay_out(patterns(plan), PAPERS["A3"])
    x, y, _ = sets[0].placed[0]
    for page in template_pages(plan, sets, PAPERS["A3"])["sets"][0]["pages"]:
        left, top = corner(sets[0], page["row"], page["column"])
        for text in page["texts"]:
            at = (left + text["at"][0] - x, top - text["at"][1] - y)
            assert not (60 < at[0] < 740 and 60 < at[1] < 360), text


def test_a_machine_gets_the_templates_with_arcs_as_arcs(curved):
    doc = ezdxf.read(io.StringIO(dxf(template_drawing(curved[0]))))
    (outline,) = doc.modelspace().query('LWPOLYLINE[layer=="CUT-OUTSIDE"]')
    arcs = [one.dxf.radius for one in outline.virtual_entities() if one.dxftype() == "ARC"]
    assert sorted(arcs) == pytest.approx([150.0, 250.0])
    (opening,) = doc.modelspace().query('LWPOLYLINE[layer=="CUT-INSIDE"]')
    assert {round(one.dxf.radius, 6) for one in opening.virtual_entities()} == {20.0}
    assert [text.dxf.text for text in doc.modelspace().query("TEXT")] == ["A1"]


def test_nothing_but_rectangles_gives_a_machine_no_templates(plan):
    assert template_drawing(plan) is None


def test_labels_of_curved_parts_send_to_the_template(curved, plan):
    assert "to template" in " ".join(texts(labels(curved[0], PAPERS["A4"])))
    assert "to template" not in " ".join(texts(labels(plan, PAPERS["A4"])))
    assert "by trammel" in " ".join(texts(labels(ring_plan(plan), PAPERS["A4"])))


def ring_plan(plan, *openings, holes=()):
    """A disc of radius 300 mm."""
    disc = circle((0.3, 0.3), 0.3)
    line = plan.cut_list[0]
    blank = Blank(0.6, 0.6, 0.018, disc.points, (0.0,) * 4, holes, 0.0, disc.bulges, openings)
    return replace(
        plan, cut_list=(CutLine("A1", line.mold, ("ring 1",), replace(line.part, blank=blank), 2),)
    )


def test_discs_and_rings_are_struck_and_take_no_paper(plan):
    """The first page has their radii and is the only one; the plotter and the machine get their outlines all the same."""
    (text,) = texts(full_size(ring_plan(plan, circle((0.3, 0.3), 0.22)), PAPERS["A4"]))
    assert "trammel" in text and re.search(r"A1 ring 1 300 mm 220 mm 2 pieces", text)
    assert patterns(ring_plan(plan))[0].radii == ("300 mm",)
    assert for_plotter(ring_plan(plan)) is not None and template_drawing(ring_plan(plan)) is not None


@pytest.mark.parametrize("more", [{"holes": ((0.1, 0.3, 0.01),)}, {"openings": (circle((0.3, 0.2), 0.05),)},
                                  {"openings": (rectangle((0.2, 0.2), (0.4, 0.4)),)}])  # fmt: skip
def test_what_a_trammel_alone_does_not_make_has_its_template(plan, more):
    """A hole off the middle, an opening off the middle, a square one."""
    asked = ring_plan(plan, *more.get("openings", ()), holes=more.get("holes", ()))
    assert patterns(asked)[0].radii == ()
    assert len(texts(full_size(asked, PAPERS["A4"]))) > 4
