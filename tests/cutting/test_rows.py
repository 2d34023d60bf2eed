"""Curved parts in rows: the pitch against polygons measured by another library, the counts against worked figures."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import cos, hypot, inf, pi, radians, sin, tan

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from formwork.cutting.curves import by_jigsaw
from formwork.cutting.cut_list import CutLine
from formwork.cutting.judge_rows import judge_rows
from formwork.cutting.layouts import Layouts, Yard, lay_out
from formwork.cutting.pitch import least_shift
from formwork.cutting.records import SheetPlan, spots
from formwork.cutting.rows import CLEARANCE, rows
from formwork.cutting.shape_bounds import least_by_area
from formwork.errors import InternalError, StockError
from formwork.geometry.outlines import Outline, area, box, circle, flattened, polygon, ring_sector, shifted
from formwork.molds.mold import Blank, Part, Placement
from formwork.stock.records import Saw, SheetStock
from formwork.units import show

PLACE = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
PLY = SheetStock("ply 18", "plywood", "18 mm", 0.018, True, 2.44, 1.22)
SAW = Saw(0.003, 0.0)
INCH = 0.0254


def blank_of(outline: Outline, **more) -> Blank:
    (x, y), (x1, y1) = box(outline)
    laid = shifted(outline, (-x, -y))
    return Blank(x1 - x, y1 - y, 0.018, laid.points, (0.0,) * len(laid.points), bulges=laid.bulges, **more)


def segment(inner: float, outer: float, degrees: float) -> Blank:
    """A ring segment that lies on its ends, its crown upward."""
    sweep = radians(degrees)
    return blank_of(ring_sector(inner, outer, pi / 2 - sweep / 2, sweep))


def gore(length: float, half: float, steps: int = 20) -> Blank:
    """Half a gore: a straight foot, both sides running together to a point, told by ordinates."""
    side = [(length * k / steps, half * cos(pi / 2 * k / steps)) for k in range(1, steps)]
    points = [(0.0, -half), *((x, -y) for x, y in side), (length, 0.0), *reversed(side), (0.0, half)]
    return blank_of(polygon(points))


def cut(label: str, blank: Blank, quantity: int, role: str = "rib") -> CutLine:
    part = Part(label, role, "panel", "ply 18", label, (), blank, PLACE)  # type: ignore[arg-type]
    return CutLine(label, "dome mold", (label,), part, quantity)


def laid(*lines: CutLine, stock: SheetStock = PLY, saw: Saw = SAW) -> Layouts:
    return lay_out(lines, Yard((stock,), (), saw, partial(show.length, units="mm"), {}))


def sheets(*lines: CutLine, **more) -> int:
    return sum(one.count for one in laid(*lines, **more).sheets)


def star(radii: list[float]) -> list[tuple[float, float]]:
    """A closed shape round the origin."""
    step = 2 * pi / len(radii)
    return [(r * cos(k * step), r * sin(k * step)) for k, r in enumerate(radii)]


shapes = st.lists(st.floats(0.2, 2.0), min_size=3, max_size=9).map(star)


@settings(max_examples=150, deadline=None)
@given(shapes, shapes, st.floats(0.001, 0.5), st.floats(-1.5, 1.5))
def test_the_shift_is_the_last_at_which_two_shapes_are_as_near_as_the_gap(first, second, gap, aside):
    """Beyond it the polygon library measures the gap or more, at it the gap, just below it less."""
    second = [(x + aside, y) for x, y in second]
    shift = least_shift(first, second, gap)
    assume(shift > -inf)
    one, other = shapely.Polygon(first), shapely.Polygon(second)

    def distance(by: float) -> float:
        return one.distance(shapely.affinity.translate(other, 0.0, by))

    assert distance(shift) == pytest.approx(gap, abs=1e-9)
    assert distance(shift - 1e-4) < gap
    for more in (1e-4, 0.01, 0.1, 0.37, 1.0, 3.0):
        assert distance(shift + more) >= gap - 1e-9


def test_shapes_that_pass_one_another_aside_need_no_shift():
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    assert least_shift(square, [(x + 2.0, y) for x, y in square], 0.5) == -inf


def test_the_pitch_of_rib_segments_is_as_worked_out():
    """R 72 in, 5 in deep, 45 degrees: chord 55.11, box 10.10, pitch sqrt(R^2 - x^2) - (R - d) cos(22.5 deg) = 5.38 in
    with x = (R - d) sin(22.5 deg), shown to touch and not to overlap. Worked out by us, no print."""
    rib = segment(67 * INCH, 72 * INCH, 45.0)
    assert rib.length / INCH == pytest.approx(55.11, abs=0.005)
    assert rib.width / INCH == pytest.approx(10.10, abs=0.005)
    corners = flattened(rib.edge, 1e-7)
    pitch = least_shift(corners, corners, 1e-9) / INCH
    x = 67 * sin(pi / 8)
    assert pitch == pytest.approx((72**2 - x**2) ** 0.5 - 67 * cos(pi / 8), abs=1e-4)
    assert pitch == pytest.approx(5.38, abs=0.005)
    assert (10.1 + 7 * pitch, 10.1 + 8 * pitch) == pytest.approx((47.76, 53.14), abs=0.01)


@pytest.mark.parametrize(
    ("inner", "outer", "degrees", "fit"),
    [(0.9, 1.0, 30.0, 44), (0.9, 1.0, 45.0, 30), (1.4, 1.5, 40.0, 21), (1.9, 2.04, 30.0, 15)],
)
def test_a_sheet_gives_at_least_as_many_ribs_as_stacked_ones_were_counted(inner, outer, degrees, fit):
    """Ribs on 1220 x 2440 mm with a gap of 6 mm: as many as were counted for stacks of them (by us, no print)."""
    assert SAW.kerf + CLEARANCE == pytest.approx(0.006)
    for number in (1, 2, 3, 20):
        assert sheets(cut("A1", segment(inner, outer, degrees), number * fit)) == number


def test_edges_that_lean_out_keep_what_the_saw_cuts_under_their_neighbours():
    """18 mm sheet and 20 degrees: 6.55 mm to each side more; edges that lean in need nothing."""
    plain = segment(0.9, 1.0, 30.0)
    out = replace(plain, bevels=(0.0, -radians(20.0), 0.0, -radians(20.0)))
    lean_in = replace(plain, bevels=(0.0, radians(20.0), 0.0, radians(20.0)))
    steps = [rows(blank, SAW.kerf)[0].steps[0] for blank in (plain, out, lean_in)]
    more = 2 * 0.018 * tan(radians(20.0))
    assert steps[2] == steps[0]
    assert more * 0.99 < steps[1] - steps[0] < more / cos(radians(16.0))
    wide = replace(segment(1.4, 1.5, 40.0), bevels=out.bevels)
    found = laid(cut("A1", wide, 18))
    layout = next(layout for layout in found.sheets if layout.placed[0].nested)
    one, bounds = layout.placed[0], found.bounds
    crowded = [
        replace(spot, **({"x": spot.x + 0.005 * k} if one.turned else {"y": spot.y - 0.005 * k}))
        for k, spot in enumerate(one.nested)
    ]
    spoiled = replace(layout, placed=(replace(one, nested=tuple(crowded)),))
    judge_rows({"A1": wide}, SAW, SheetPlan((layout,), bounds[0]))
    with pytest.raises(InternalError, match="no room for the saw"):
        judge_rows({"A1": wide}, SAW, SheetPlan((spoiled,), bounds[0]))


def test_every_part_comes_out_once_and_lies_in_its_blank():
    line = cut("A1", segment(0.9, 1.0, 45.0), 37)
    found = laid(line)
    assert sum(len(spots(one)) * each.count for each in found.sheets for one in each.placed) == 37
    assert any(one.nested for each in found.sheets for one in each.placed)
    for each in found.sheets:
        for one in each.placed:
            if one.nested:
                assert one.label == f"{len(one.nested)} x A1"


def shape_at(spot, blank):
    turned = shapely.affinity.rotate(
        shapely.Polygon(flattened(blank.edge, 1e-6)), 90 * spot.quarters, origin=(0, 0)
    )
    x, y, _, _ = turned.bounds
    return shapely.affinity.translate(turned, spot.x - x, spot.y - y)


@pytest.mark.parametrize(
    "blank", [segment(0.9, 1.0, 45.0), segment(0.3, 0.42, 100.0), gore(1.1, 0.2)], ids=["rib", "ring", "gore"]
)
@pytest.mark.parametrize("role", ["rib", "skin"])
def test_parts_on_a_sheet_are_a_kerf_and_the_clearance_apart(blank, role):
    """Measured by the polygon library at their places on the sheet, whichever way the blanks lie."""
    found = laid(cut("A1", blank, 23, role), cut("A2", replace(blank, bulges=()), 3))
    blanks = {"A1": blank, "A2": replace(blank, bulges=())}
    for layout in found.sheets:
        for one in layout.placed:
            shapes = [shape_at(spot, blanks[spot.label]) for spot in spots(one)]
            for k, shape in enumerate(shapes):
                x, y, x1, y1 = shape.bounds
                assert one.x - 1e-6 <= x and x1 <= one.x + one.length + 1e-6
                assert one.y - 1e-6 <= y and y1 <= one.y + one.width + 1e-6
                for other in shapes[k + 1 :]:
                    assert shape.distance(other) >= SAW.kerf + CLEARANCE - 1e-6


def test_skins_keep_their_grain_in_rows_too():
    found = laid(cut("A1", gore(1.1, 0.2), 14, "skin"))
    assert all(spot.quarters in (0, 2) for each in found.sheets for one in each.placed for spot in spots(one))


def test_gores_lie_head_to_tail():
    """A gore has its foot at one end and its point at the other: head to tail saves, and one sheet takes more."""
    best, *_ = rows(gore(1.1, 0.15), SAW.kerf)
    assert best.turned
    plain = blank_of(polygon([(0.0, 0.0), (1.1, 0.0), (1.1, 0.3), (0.0, 0.3)]))
    assert sheets(cut("A1", gore(1.1, 0.15), 10, "skin")) == 1
    assert sheets(cut("A1", plain, 10, "skin")) == 2


def test_rectangles_are_not_put_in_rows():
    board = blank_of(polygon([(0.0, 0.0), (1.0, 0.0), (1.0, 0.4), (0.0, 0.4)]))
    assert not by_jigsaw(board.edge) and rows(board, SAW.kerf) == ()


TAPERED = blank_of(polygon([(0.0, 0.0), (1.0, 0.0), (0.8, 0.4), (0.2, 0.4)]))


def test_tapered_panels_lie_head_to_tail():
    """Foot 1.0 m, head 0.6 m, 0.4 m high: each takes the mean of both, and the gap square to a slant of 1 in 2."""
    best, *_ = rows(TAPERED, SAW.kerf)
    assert not by_jigsaw(TAPERED.edge) and best.turned and not best.upward
    assert best.pitch == pytest.approx(0.8 + (SAW.kerf + CLEARANCE) * hypot(1.0, 0.5), abs=3e-4)


def test_tapered_panels_save_a_sheet_where_a_person_would_lay_them_head_to_tail():
    """In boxes of 1.0 by 0.4 m a sheet takes six; a row of three takes 2.61 m, and three such rows make nine."""
    ply = replace(PLY, length=2.62, width=1.22)
    assert sheets(cut("A1", blank_of(polygon(box_corners(1.0, 0.4))), 9, "panel"), stock=ply) == 2
    found = laid(cut("A1", TAPERED, 9, "panel"), stock=ply)
    assert sum(one.count for one in found.sheets) == 1
    assert found.bounds[0].proven


def test_tapered_panels_stay_in_blanks_of_their_own_where_rows_save_no_sheet():
    found = laid(cut("A1", TAPERED, 7, "panel"))
    assert all(not placed.nested for one in found.sheets for placed in one.placed)


def test_what_is_proven_of_tapered_panels_holds_however_they_share_blanks():
    """1.3 m running to 1.25 m, 0.7 m high: over half a sheet both ways: each takes one, though one has the area of all."""
    panel = blank_of(polygon([(0.0, 0.0), (1.3, 0.0), (1.275, 0.7), (0.025, 0.7)]))
    (bound,) = laid(cut("A1", panel, 3, "panel")).bounds
    assert (bound.used, bound.proven) == (3, True)
    assert least_by_area([cut("A1", panel, 3)], [PLY]) == 1.0


@settings(max_examples=20, deadline=None)
@given(st.floats(0.3, 1.2), st.floats(0.2, 1.0), st.floats(0.2, 1.1), st.integers(2, 9))
def test_no_bound_of_tapered_panels_is_above_what_some_plan_takes(foot, share, high, number):
    head = foot * share
    side = (foot - head) / 2.0
    panel = blank_of(polygon([(0.0, 0.0), (foot, 0.0), (foot - side, high), (side, high)]))
    (bound,) = laid(cut("A1", panel, number, "panel")).bounds
    singly = blank_of(polygon(box_corners(foot, high)))
    assert bound.least <= bound.used <= sheets(cut("A1", singly, number, "panel"))


def box_corners(length: float, width: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]


def test_discs_gain_nothing_in_a_row():
    assert rows(blank_of(circle((0.0, 0.0), 0.3)), SAW.kerf) == ()


def test_corners_cut_out_are_laid_into_one_another():
    """An angle of 600 mm with arms of 100 mm: turned half round, one stands in the elbow of the other."""
    angle = [(0.0, 0.0), (0.6, 0.0), (0.6, 0.1), (0.1, 0.1), (0.1, 0.6), (0.0, 0.6)]
    best, *_ = rows(blank_of(polygon(angle)), SAW.kerf)
    assert best.turned and best.pitch == pytest.approx((0.1 + 0.6) / 2 + SAW.kerf + CLEARANCE, abs=1e-3)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0.2, 2.0), st.floats(0.05, 0.3), st.floats(15.0, 120.0), st.integers(1, 30), st.booleans(),
    st.floats(0.0, 0.02),
)  # fmt: skip
def test_rows_never_need_more_sheets_than_blanks_one_by_one(inner, depth, degrees, number, plain, trim):
    """Every plan passes both judges on the way; with rows it never takes more sheets."""
    curved = segment(inner, inner + depth, degrees)
    saw = Saw(0.003, trim)
    lines = [cut("A1", curved, number)] + ([cut("A2", segment(0.2, 0.25, 60.0), 5)] if plain else [])
    boxes = [
        replace(line, part=replace(line.part, blank=blank_of(polygon(box_points(line.part.blank)))))
        for line in lines
    ]
    try:
        alone = sheets(*boxes, saw=saw)
    except StockError:
        with pytest.raises(StockError):
            laid(*lines, saw=saw)
        return
    assert sheets(*lines, saw=saw) <= alone


def box_points(blank: Blank):
    return [(0.0, 0.0), (blank.length, 0.0), (blank.length, blank.width), (0.0, blank.width)]


def test_a_row_uses_a_sheet_on_hand_that_blanks_one_by_one_do_not_fit():
    """One sheet on hand: 21 ribs fit it in a row, 12 beside one another."""
    on_hand = replace(PLY, limit=1)
    assert sheets(cut("A1", segment(1.4, 1.5, 40.0), 21), stock=on_hand) == 1
    with pytest.raises(StockError, match="runs out"):
        laid(cut("A1", segment(1.4, 1.5, 40.0), 40), stock=on_hand)


def test_the_bound_counts_the_area_of_the_parts():
    """35 quarter rings of 0.5 to 0.6 m: pi / 4 (0.36 - 0.25) m2 each, without their openings, in sheets of 2.9768 m2."""
    blank = segment(0.5, 0.6, 90.0)
    line = cut("A1", blank, 35)
    assert least_by_area([line], [PLY]) == 2.0
    assert 35 * pi / 4 * 0.11 / (2.44 * 1.22) == pytest.approx(1.016, abs=0.001)
    opened = replace(blank, openings=(circle((0.3, 0.15), 0.04),))
    assert area(opened.edge) == pytest.approx(pi / 4 * 0.11)
    assert least_by_area([cut("A1", opened, 35)], [PLY]) == 1.0
    dear, cheap = replace(PLY, price=60.0), replace(PLY, name="large", length=3.0, price=50.0)
    assert least_by_area([line], [dear, cheap]) == pytest.approx(35 * pi / 4 * 0.11 * 50.0 / 3.66)


def test_the_bound_uses_up_what_is_on_hand_first():
    """3.024 m2 of parts: half a sheet on hand gives 1.488 of it for nothing, the rest takes one sheet more."""
    line = cut("A1", segment(0.5, 0.6, 90.0), 35)
    offcut = replace(PLY, name="offcut", length=1.22, offcut=True, limit=1)
    assert 35 * pi / 4 * 0.11 - 1.22**2 == pytest.approx(1.535, abs=1e-3)
    assert least_by_area([line], [PLY, offcut]) == 1.0
    assert least_by_area([line], [replace(PLY, price=50.0), offcut]) == 50.0
    assert least_by_area([line], [replace(PLY, price=50.0), replace(offcut, limit=3)]) == 0.0


@pytest.mark.parametrize("spoil", ["nearer", "outside", "wrong count", "turned"])
def test_the_judge_of_rows_finds_what_is_wrong(spoil):
    line = cut("A1", segment(0.9, 1.0, 45.0), 20)
    found = laid(line)
    layout = found.sheets[0]
    number, one = next((k, each) for k, each in enumerate(layout.placed) if each.nested)
    first, second, *rest = one.nested
    changed = {
        "nearer": (first, replace(second, x=first.x + (second.x - first.x) * 0.9,
                                  y=first.y + (second.y - first.y) * 0.9), *rest),
        "outside": (replace(first, x=first.x - 0.01, y=first.y - 0.01), second, *rest),
        "wrong count": (first, *rest),
        "turned": (replace(first, quarters=(first.quarters + 2) % 4), second, *rest),
    }[spoil]  # fmt: skip
    placed = (*layout.placed[:number], replace(one, nested=changed), *layout.placed[number + 1 :])
    plan = SheetPlan((replace(layout, placed=placed),), found.bounds[0])
    with pytest.raises(InternalError):
        judge_rows({"A1": line.part.blank}, SAW, plan)


def test_the_same_job_gives_the_same_plan():
    lines = [cut("A1", segment(0.9, 1.0, 45.0), 33), cut("A2", gore(1.0, 0.15), 12, "skin")]
    assert laid(*lines) == laid(*lines)
