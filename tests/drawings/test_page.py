"""Paper, scales, projection: sizes and rules of the standards, and how views stand to one another."""

from __future__ import annotations

from math import cos, isclose, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.drawings.arrange import Bare, compose
from formwork.drawings.layers import TEXTS
from formwork.drawings.page import BLOCK, SCALES, SHEETS, Titles, notes_block, projection_symbol
from formwork.drawings.piece import piece_drawing
from formwork.drawings.scene import Arc, Circle, Dimension, Polyline, Text, bounds
from formwork.errors import GeometryError

# ISO 216 (210 x 297 doubled) and the US series, read; ISO 5455:1979 clause 5.1, read: 1:1, 1:2, 1:5, 1:10, 1:20 ...
SIZES = {"A3": (420, 297), "A2": (594, 420), "A1": (841, 594)}
INCHES = {"ANSI B": (17, 11), "ANSI C": (22, 17), "ANSI D": (34, 22)}

# ISO 7200 data fields, mandatory ones, read in a help table that reprints them.
MANDATORY = (
    "legal owner", "identification number", "date of issue", "page", "title", "approved by", "creator",
    "document type",
)  # fmt: skip


def test_paper_has_its_standard_size():
    for sheet in SHEETS["mm"]:
        assert (sheet.length, sheet.height) == SIZES[sheet.name]
    for sheet in SHEETS["in"]:
        assert (sheet.length, sheet.height) == pytest.approx([25.4 * v for v in INCHES[sheet.name]])


def test_scales_are_one_two_five_and_powers_of_ten():
    assert SCALES == (1, 2, 5, 10, 20, 50, 100)


def test_every_drawing_has_a_preferred_scale_and_says_it(scenes):
    for scene in scenes.values():
        assert scene.scale in SCALES
        assert f"SCALE 1:{scene.scale:g}" in [t.text for t in scene.paper if isinstance(t, Text)]


def test_the_title_block_has_the_fields_of_iso_7200(scenes):
    for scene in scenes.values():
        texts = [t.text for t in scene.paper if isinstance(t, Text)]
        assert set(MANDATORY) <= set(texts)
    assert BLOCK[0] == 180.0  # from memory: width of the block in ISO 7200


@pytest.mark.parametrize("angle", ["first", "third"])
def test_the_symbol_is_drawn_by_the_rule_it_stands_for(angle):
    """The left view of a frustum whose small end is on the left shows both circles; it stands left in third angle."""
    items = projection_symbol((0.0, 0.0), angle)
    circles = [c for c in items if isinstance(c, Circle)]
    frustum = next(p for p in items if isinstance(p, Polyline))
    small = [x for x, y in frustum.points if abs(y) < 1.5]
    large = [x for x, y in frustum.points if abs(y) > 1.5]
    assert max(small) < min(large)
    assert len(circles) == 2 and isclose(circles[0].radius * 2, circles[1].radius)
    left_of = circles[0].centre[0] < min(small)
    assert left_of == (angle == "third")


def centre(scene, name):
    window = next(w for w in scene.windows if w.name == name)
    return ((window.low[0] + window.high[0]) / 2, (window.low[1] + window.high[1]) / 2)


def test_views_stand_as_the_projection_says(tapered, project_file):
    third = piece_drawing(tapered().piece(), project_file, angle="third")
    first = piece_drawing(tapered().piece(), project_file, angle="first")
    assert centre(third, "top view")[1] > centre(third, "front view")[1]
    assert centre(first, "top view")[1] < centre(first, "front view")[1]
    assert centre(third, "side view")[0] > centre(third, "front view")[0]


def test_inch_drawings_are_third_angle_and_metric_ones_first(scenes):
    for name, scene in scenes.items():
        if "/sheet" in name or "/details-" in name:
            continue
        above = centre(scene, "top view")[1] > centre(scene, "front view")[1]
        assert above == (scene.units == "in")


def test_top_and_front_view_are_in_line_and_front_and_side_are_level(tapered, project_file):
    """The same length, and the same height, fall on the same place of the page in both views."""
    scene = piece_drawing(tapered().piece(), project_file)
    dims = {d.name: d for d in scene.on_page() if isinstance(d, Dimension)}
    strokes = [i for i in scene.on_page() if i.layer.name == "S-CAST-OTLN" and hasattr(i, "start")]
    windows = {w.name: w for w in scene.windows}

    def reach(name, axis):
        low, high = windows[name].low, windows[name].high
        inside = [
            p[axis] for s in strokes for p in (s.start, s.end) if all(low[k] < p[k] < high[k] for k in (0, 1))
        ]
        return min(inside), max(inside)

    assert reach("top view", 0) == pytest.approx(reach("front view", 0))
    assert reach("side view", 1) == pytest.approx(reach("front view", 1))
    assert sorted(p[0] for p in dims["length"].feet()) == pytest.approx(reach("front view", 0))


def test_windows_do_not_overlap_and_stay_in_the_frame(scenes):
    for scene in scenes.values():
        boxes = [(w.low, w.high) for w in scene.windows]
        for i, (low, high) in enumerate(boxes):
            beside_block = high[0] < scene.sheet.length - 10.0 - BLOCK[0]
            assert low[0] > 20.0 and low[1] > 10.0 + (0.0 if beside_block else BLOCK[1])
            assert high[0] < scene.sheet.length - 10.0 and high[1] < scene.sheet.height - 10.0
            for other_low, other_high in boxes[i + 1 :]:
                assert (
                    high[0] <= other_low[0]
                    or other_high[0] <= low[0]
                    or high[1] <= other_low[1]
                    or other_high[1] <= low[1]
                )


def test_many_notes_are_written_smaller_and_never_silently_dropped():
    sheet = SHEETS["mm"][0]
    few = notes_block(sheet, ["one", "two"])
    many = notes_block(sheet, [f"note {i}" for i in range(10)])
    flood = notes_block(sheet, [f"note {i}" for i in range(60)])
    assert [t.text for t in few] == ["one", "two"]
    assert [t.text for t in many] == [f"note {i}" for i in range(10)] and many[0].size < few[0].size
    assert "job sheets" in flood[-1].text
    for block in (few, many, flood):
        assert all(10.0 < t.at[1] < 10.0 + BLOCK[1] - t.size for t in block)


def test_a_drawing_too_large_for_every_page_is_refused(tapered, project_file):
    """Half a kilometre long: no scale of the series brings it on the largest page."""
    huge = tapered(a=500.0, b=0.3, c=500.1, d=0.4, h=0.35)
    with pytest.raises(GeometryError, match="fits no page"):
        compose_piece(huge.piece(), project_file)


def compose_piece(piece, project_file):
    bare = [Bare(0, 0, 500.0, 0.35)]
    titles = Titles("shop", piece.name, "", "piece drawing", "")
    return compose(piece.name, titles, project_file.units, "third", [], 50.0, bare, lambda n: ())


@given(start=st.floats(-7.0, 7.0), sweep=st.floats(0.01, 6.28), radius=st.floats(0.5, 50.0))
def test_an_arc_reaches_as_far_as_its_points_and_no_further(
    start: float, sweep: float, radius: float
) -> None:
    arc = Arc(TEXTS, (3.0, -2.0), radius, start, start + sweep)
    points = [
        (3.0 + radius * cos(start + sweep * k / 4000), -2.0 + radius * sin(start + sweep * k / 4000))
        for k in range(4001)
    ]
    low, high = bounds([arc])
    xs, ys = zip(*points, strict=True)
    assert (*low, *high) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-4 * radius)
