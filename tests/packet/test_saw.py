"""Saw settings read off an outline, against plain trigonometry of the same panel."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.geometry.outlines import box, circle, rectangle, ring_sector, shifted
from formwork.molds.mold import Blank
from formwork.packet.blocks import Line
from formwork.packet.cut_sections import BY_TRAMMEL, TO_TEMPLATE, cut_list, edge_rows, opening_note
from formwork.packet.saw import SQUARE, curve_cuts, edge_cuts, left_open
from formwork.packet.saw import settings as saw_settings


def blank(outline, bevels):
    xs, ys = zip(*outline, strict=True)
    return Blank(max(xs), max(ys), 0.018, tuple(outline), tuple(bevels))


def test_edges_are_named_as_seen_on_the_face_with_the_grain_left_to_right():
    cuts = edge_cuts(blank([(0, 0), (2, 0), (2, 1), (0, 1)], [0.1, 0.2, 0.3, 0.4]))
    assert [(cut.place, cut.tilt) for cut in cuts] == [
        ("lower edge", 0.1), ("right end", 0.2), ("upper edge", 0.3), ("left end", 0.4),
    ]  # fmt: skip
    assert [cut.length for cut in cuts] == pytest.approx([2, 1, 2, 1])


def test_a_square_blank_needs_no_setting():
    assert saw_settings(blank([(0, 0), (2, 0), (2, 1), (0, 1)], [0.0] * 4)) == ()


def test_the_side_of_a_tapered_box_has_the_mitre_of_its_slant():
    """Square box, 14 in at the bottom, 20 in at the top, 18 in high: its sides are trapezoids of slant sqrt(18^2 + 3^2),
    so the ends lean by atan(3 / slant) from square."""
    slant = math.hypot(18.0, 3.0)
    outline = [(3.0, 0.0), (17.0, 0.0), (20.0, slant), (0.0, slant)]
    ((places, mitre, tilt),) = saw_settings(blank(outline, [0.0, 0.5, 0.0, 0.5]))
    assert places == "both ends"
    assert math.degrees(mitre) == pytest.approx(math.degrees(math.atan(3.0 / slant)), abs=1e-9)
    assert tilt == 0.5


def segment(inner, outer, sweep):
    ring = ring_sector(inner, outer, 0.0, sweep)
    (x, y), (x1, y1) = box(ring)
    ring = shifted(ring, (-x, -y))
    return Blank(x1 - x, y1 - y, 0.018, ring.points, (0.0,) * 4, (), 0.0, ring.bulges)


def test_a_curve_has_no_mitre_its_radius_is_named_and_it_is_cut_to_the_template():
    """A ring segment of a sixth, one end of it level: the other is mitred, its two curves go to the jigsaw."""
    rows = edge_rows(segment(0.3, 0.4, math.pi / 3), "mm")
    assert rows[0] == ("left end", "30 deg", "square", "")
    assert rows[-2:] == (
        ("outer curve, radius 400 mm", TO_TEMPLATE, "square", ""),
        ("inner curve, radius 300 mm", TO_TEMPLATE, "square", ""),
    )


def test_a_disc_is_round_all_over():
    disc = shifted(circle((0.0, 0.0), 0.3), (0.3, 0.3))
    one = Blank(0.6, 0.6, 0.018, disc.points, (0.1,) * 4, (), 0.0, disc.bulges)
    assert edge_rows(one, "mm") == (("all round, radius 300 mm", BY_TRAMMEL, "5.7 deg", "in"),)
    assert edge_rows(one, "in")[0][0] == "all round, radius 11 13/16 in"


def test_a_pattern_told_by_ordinates_is_a_curve_and_its_straight_ends_are_not():
    """Half a sine wave over 1 m in ten steps on a straight foot: no setting for each of the ten."""
    top = [(1.0 - i / 10, 0.1 + 0.2 * math.sin(math.pi * i / 10)) for i in range(11)]
    one = blank([(0.0, 0.0), (1.0, 0.0), *top], [0.0] * 13)
    assert edge_rows(one, "mm") == (("curve through the points", TO_TEMPLATE, "square", ""),)
    assert [cut.place for cut in edge_cuts(one)] == ["lower edge", "right end", "left end"]


def test_a_curve_of_many_arcs_is_one_curve_with_its_least_and_greatest_radius():
    """A foot of 1 m under five arcs that flatten out: no row for each of them."""
    top = [(1.0 - i / 5, 0.3) for i in range(6)]
    bulges = (0.0, 0.0, *(0.02 * k for k in range(1, 6)), 0.0)
    tilts = (0.0, 0.0, *(math.radians(k) for k in range(1, 6)), 0.0)
    one = Blank(1.0, 0.31, 0.018, ((0.0, 0.0), (1.0, 0.0), *top), tilts, bulges=bulges)
    radii = [0.1 * (1 + b * b) / (2 * b) for b in (0.02, 0.1)]
    (curve,) = curve_cuts(one)
    assert curve.radii == pytest.approx((radii[1], radii[0]))
    assert edge_rows(one, "mm")[-1] == (
        "outer curve, radii 505 to 2501 mm",
        TO_TEMPLATE,
        "1 deg to 5 deg",
        "in",
    )


@pytest.mark.parametrize("corners", [4, 6, 8, 12])
def test_many_sided_blanks_are_straight(corners):
    points = [
        (1 + math.cos(2 * math.pi * k / corners), 1 + math.sin(2 * math.pi * k / corners))
        for k in range(corners)
    ]
    assert curve_cuts(blank(points, [0.0] * corners)) == ()


@pytest.mark.parametrize(
    ("corners", "mitre"), [(5, "36 deg"), (6, "30 deg"), (8, "22.5 deg"), (24, "7.5 deg")]
)
def test_a_regular_polygon_has_one_setting_half_of_its_turn_at_a_corner(corners, mitre):
    """180 / n, as of a picture frame of n sides."""
    points = [
        (1 + math.cos(2 * math.pi * k / corners), 1 + math.sin(2 * math.pi * k / corners))
        for k in range(corners)
    ]
    assert edge_rows(blank(points, [0.0] * corners), "mm") == (
        (f"all {corners} equal edges, at each corner", mitre, "square", ""),
    )
    uneven = [(1.5 * x, y) for x, y in points]
    assert not any("equal edges" in row[0] for row in edge_rows(blank(uneven, [0.0] * corners), "mm"))


def test_edges_that_run_straight_on_are_no_curve():
    assert curve_cuts(blank([(0, 0), (1, 0), (2, 0), (3, 0), (4, 0), (4, 1), (0, 1)], [0.0] * 7)) == ()


def test_openings_are_told_with_their_place():
    assert opening_note(circle((0.3, 0.2), 0.05), "mm") == (
        "cut out a round opening of radius 50 mm, its middle 300 from the left end, 200 from the lower edge"
    )
    assert opening_note(rectangle((0.1, 0.2), (0.4, 0.6)), "mm").startswith("cut out an opening 300 x 400 mm")


def test_equal_settings_of_three_edges_are_told_together():
    ((places, _, _),) = saw_settings(blank([(0, 0), (2, 0), (2, 1), (0, 1)], [0.3, 0.3, 0.0, 0.3]))
    assert places == "both ends and lower edge"


def test_all_edges_alike_are_told_so():
    ((places, _, _),) = saw_settings(blank([(0, 0), (2, 0), (2, 1), (0, 1)], [0.3] * 4))
    assert places == "all edges"


def test_angles_finer_than_a_saw_is_set_are_square():
    assert saw_settings(blank([(0, 0), (2, 0), (2, 1), (0, 1)], [0.9 * SQUARE] * 4)) == ()


def test_a_slight_tilt_beside_a_mitre_is_printed_square():
    """Ends that lean 1 in 2: atan(1 / 2) = 26.565 degrees."""
    slight = blank([(1, 0), (2, 0), (3, 2), (0, 2)], [0.0, math.radians(0.2), 0.0, math.radians(-0.1)])
    assert edge_rows(slight, "mm") == (("both ends", "26.6 deg", "square", ""),)


def test_the_threshold_is_a_quarter_of_a_degree_and_mitres_keep_theirs():
    """A mitre of 0.2 degrees is 2 mm off over a side of 600 mm and is printed."""
    assert math.degrees(SQUARE) == pytest.approx(0.25)
    leaning = blank([(0, 0), (1, 0), (1 + math.tan(math.radians(0.2)), 1), (0, 1)], [0.0] * 4)
    assert edge_rows(leaning, "mm") == (("right end", "0.2 deg", "square", ""),)


def test_what_slight_tilts_leave_open_is_said_once(plan):
    """18 mm x tan 0.2 deg = 0.0628 mm, rounded up to 0.07 mm; 0.0025 in, rounded up to 0.003 in."""

    def with_tilt(degrees):
        line = plan.cut_list[1]
        changed = replace(line.part.blank, bevels=(0.0, math.radians(degrees), 0.0, 0.0))
        changed_line = replace(line, part=replace(line.part, blank=changed))
        return replace(plan, cut_list=(plan.cut_list[0], changed_line, *plan.cut_list[2:]))

    def said(made):
        return [b.text for b in cut_list(made).blocks if isinstance(b, Line) and "left square" in b.text]

    slight = with_tilt(-0.2)
    assert left_open(slight.cut_list[1].part.blank) == pytest.approx(0.0000628, abs=5e-8)
    assert said(slight) == [
        "Blade tilts under 0.25 deg are left square: no joint opens by more than 0.07 mm."
    ]
    inches = replace(slight, project=replace(slight.project, units="in"))
    assert said(inches)[0].endswith("more than 0.003 in.")
    assert said(with_tilt(0.0)) == said(with_tilt(10.0)) == []


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, math.pi / 2 - 0.01), st.floats(0.3, 3.0), st.floats(0.3, 3.0))
def test_mitres_never_depend_on_which_way_the_blank_is_walked_round(turn, length, width):
    """A rectangle turned on the sheet: every edge has the same angle to its nearest axis."""
    c, s = math.cos(turn), math.sin(turn)
    outline = [(c * x - s * y, s * x + c * y) for x, y in ((0, 0), (length, 0), (length, width), (0, width))]
    off = min(turn, math.pi / 2 - turn)
    assert [cut.mitre for cut in edge_cuts(blank(outline, [0.0] * 4))] == pytest.approx([off] * 4, abs=1e-9)
