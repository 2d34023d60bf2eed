"""Nothing lies over anything: every page, its texts against its lines and against each other."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.drawings.clearance import Lines, crosses, line_pieces, meet, overlap
from formwork.drawings.dimensioning import FIRST_ROW, Wanted, dimensioned
from formwork.drawings.layers import CAST
from formwork.drawings.page import SHEETS
from formwork.drawings.piece import piece_drawing
from formwork.drawings.scene import Arc, Dimension, Line, Polyline, Scene, Text, bounds


def test_no_text_of_any_drawing_is_covered(scenes, covered_texts):
    assert len(scenes) >= 8
    for name, scene in scenes.items():
        assert covered_texts(scene) == [], name


def test_no_label_of_a_mold_taken_apart_is_covered(apart, covered_texts):
    for name, scene in apart.items():
        assert covered_texts(scene) == [], name


def test_no_label_of_a_step_is_covered(states, covered_texts):
    for name, pictures in states.items():
        for number, scene in enumerate(pictures, start=1):
            assert scene is None or covered_texts(scene) == [], (name, number)


def test_no_text_of_a_hand_made_piece_is_covered(tapered, project_file, covered_texts):
    for angle in ("first", "third"):
        assert covered_texts(piece_drawing(tapered().piece(), project_file, angle=angle)) == []


def test_the_search_for_covered_texts_finds_one(covered_texts):
    """The judge itself: a text under a line, a text on a text, a text off the page."""
    sheet = SHEETS["mm"][0]
    line = Line(CAST, (10.0, 11.0), (60.0, 11.0))
    one, two, off = (
        Text(CAST, at, "190", 3.5) for at in ((20.0, 10.0), (25.0, 10.5), (sheet.length - 1.0, 50.0))
    )
    scene = Scene("s", "s", "mm", sheet, 1.0, (0.0, 0.0), (), (line, one, two, off), ())
    assert len(covered_texts(scene)) == 4


numbers = st.floats(-0.5, 0.5).map(lambda v: round(v, 3))


@settings(max_examples=30)
@given(st.lists(st.tuples(numbers, numbers, st.booleans()), min_size=1, max_size=9))
def test_any_set_of_dimensions_finds_clear_places_outside_the_outline(covered_texts, spans):
    corner = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
    outline = Polyline(CAST, tuple(corner))
    wanted = [
        Wanted(str(i), (a, -0.5), (b, -0.5), 0.0) if level else Wanted(str(i), (0.5, a), (0.5, b), pi / 2)
        for i, (a, b, level) in enumerate(spans)
    ]
    scale = 10.0
    items = dimensioned([outline], wanted, scale, lambda v: f"{v * 1000:.0f}")
    dims = [item for item in items if isinstance(item, Dimension)]
    assert len(dims) == sum(1 for w in wanted if w.span() > 1e-6)
    scene = Scene("s", "s", "mm", SHEETS["mm"][-1], scale, (420.0, 300.0), tuple(items), (), ())
    assert covered_texts(scene) == []
    for dim in dims:
        reach = max(abs(v) for p in dim.feet() for v in p)
        assert reach >= 0.5 + FIRST_ROW * scale / 1000 - 1e-9
        assert dim.text == f"{dim.measured() * 1000:.0f}"


@settings(max_examples=30)
@given(st.lists(st.tuples(st.floats(0.0, 6.28), st.floats(0.03, 0.6)), min_size=1, max_size=3))
def test_slanted_dimensions_keep_their_true_length_and_clear_figures(covered_texts, slants):
    outline = Polyline(CAST, ((-0.7, -0.7), (0.7, -0.7), (0.7, 0.7), (-0.7, 0.7)))
    wanted = [
        Wanted(str(i), (0.0, 0.1 * i), (r * cos(a), 0.1 * i + r * sin(a))) for i, (a, r) in enumerate(slants)
    ]
    items = dimensioned([outline], wanted, 10.0, lambda v: f"{v * 1000:.0f}")
    dims = {item.name: item for item in items if isinstance(item, Dimension)}
    for i, (_, r) in enumerate(slants):
        assert abs(dims[str(i)].measured() - r) < 1e-9
        assert -pi / 2 < dims[str(i)].angle <= pi / 2 + 1e-9
    scene = Scene("s", "s", "mm", SHEETS["mm"][-1], 10.0, (420.0, 300.0), tuple(items), (), ())
    assert covered_texts(scene) == []


def test_each_dimension_is_drawn_once(scenes):
    for name, scene in scenes.items():
        dims = [d for d in scene.model if isinstance(d, Dimension)]
        places = [(d.feet(), d.text) for d in dims]
        assert len(places) == len(set(places)), name


def test_figures_read_from_below_or_from_the_right(scenes):
    for scene in scenes.values():
        for item in scene.on_page():
            if isinstance(item, Dimension):
                low, high = bounds([item])
                assert low[0] < high[0] and low[1] < high[1]
            if isinstance(item, Text) and "BEVEL" not in item.layer.name:
                assert cos(item.angle) > -1e-9 and sin(item.angle) > -1e-9


@given(st.floats(0.0, 6.2), st.floats(-3.0, 3.0))
def test_clearance_of_a_turned_box_is_that_of_the_level_one(turn, off):
    """A box and a line turned together still cross or still do not."""
    box = ((-1.0, -0.5), (1.0, -0.5), (1.0, 0.5), (-1.0, 0.5))
    line = ((-2.0, off), (2.0, off))

    def turned(points):
        c, s = cos(turn), sin(turn)
        return tuple((c * x - s * y, s * x + c * y) for x, y in points)

    if abs(abs(off) - 0.5) > 1e-3:
        assert crosses(turned(box), turned(line)) == (abs(off) < 0.5)
        other = tuple((x, y + 2 * off) for x, y in box)
        assert overlap(turned(box), turned(other)) == (abs(off) < 0.5)


def test_lines_that_only_touch_do_not_cross():
    assert not meet(((0, 0), (1, 0)), ((1, 0), (1, 1)))
    assert meet(((0, 0), (1, 0)), ((0.5, -1), (0.5, 1)))


@pytest.mark.parametrize("units", ["mm", "in"])
def test_pages_grow_in_order(units):
    sizes = [sheet.length * sheet.height for sheet in SHEETS[units]]
    assert sizes == sorted(sizes)


@pytest.mark.parametrize(
    ("start", "end", "box"),
    [
        (0.0, 180.0, ((-40.0, 0.0), (40.0, 40.0))),
        (300.0, 60.0, ((20.0, -40.0 * sin(radians(60.0))), (40.0, 40.0 * sin(radians(60.0))))),
        (100.0, 170.0, ((40.0 * cos(radians(170.0)), 40.0 * sin(radians(170.0))), (40.0 * cos(radians(100.0)), 40.0 * sin(radians(100.0))))),
    ],
)  # fmt: skip
def test_an_arc_is_in_the_way_where_it_runs_and_nowhere_else(
    start: float, end: float, box: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    """Half a circle, one through nought, and one that comes to no axis: chords and bounds alike."""
    arc = Arc(CAST, (0.0, 0.0), 40.0, radians(start), radians(end))
    points = [point for piece in line_pieces(arc) for point in piece]
    assert all(hypot(*point) == pytest.approx(40.0) for point in points)
    for low, high in ((box[0], box[1]), bounds([arc])):
        assert min(x for x, _ in points) == pytest.approx(low[0], abs=0.06)
        assert min(y for _, y in points) == pytest.approx(low[1], abs=0.06)
        assert max(x for x, _ in points) == pytest.approx(high[0], abs=0.06)
        assert max(y for _, y in points) == pytest.approx(high[1], abs=0.06)


_PLACE = st.tuples(st.floats(-50.0, 50.0), st.floats(-50.0, 50.0))
_LINE = st.tuples(_PLACE, _PLACE)


@settings(deadline=None, max_examples=60)
@given(st.lists(_LINE, max_size=12), st.lists(_LINE, max_size=4), _LINE, _PLACE, st.floats(0.0, 6.3))
def test_many_lines_at_once_are_met_and_entered_as_each_by_itself(first, more, line, corner, angle):
    """Added to on the way, as dimensions are while a view is being set out."""
    lines = Lines(first)
    lines.met_by(line)
    lines.add(more)
    along, up = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    box = tuple(
        (corner[0] + a * along[0] + b * up[0], corner[1] + a * along[1] + b * up[1])
        for a, b in ((0, 0), (20, 0), (20, 3), (0, 3))
    )
    assert lines.met_by(line) == sum(meet(line, one) for one in (*first, *more))
    assert lines.entering(box) == any(crosses(box, one) for one in (*first, *more))
