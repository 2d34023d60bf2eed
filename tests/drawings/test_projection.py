"""Views against solids whose picture is known: cubes before cubes, a frustum, tubes and cones, a cut planter."""

from __future__ import annotations

from math import hypot, isclose, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP
from formwork.drawings.piece import piece_body
from formwork.drawings.projection import project
from formwork.geometry.cells import split
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.rounds import Round
from formwork.shapes.body import envelope


def lengths(strokes):
    return sorted(round(s.length(), 6) for s in strokes)


def total(strokes):
    return sum(s.length() for s in strokes)


def canonical(strokes):
    return sorted(
        tuple(
            sorted(((round(s.start[0], 6), round(s.start[1], 6)), (round(s.end[0], 6), round(s.end[1], 6))))
        )
        for s in strokes
    )


def test_frames_are_right_handed_and_look_the_way_they_say():
    assert TOP.toward == (0.0, 0.0, 1.0)
    assert FRONT.toward == (0.0, -1.0, 0.0)
    assert RIGHT.toward == (1.0, 0.0, 0.0)
    assert LEFT.toward == (-1.0, 0.0, 0.0)
    assert TOP.turned().toward == (0.0, 0.0, -1.0)
    assert FRONT.turned().flat((0.0, 0.0, 1.0)) == (0.0, -1.0)


def test_a_cube_shows_four_edges_and_hides_none(box, body_of):
    planes = Planes()
    view = project([body_of(planes, box(planes, (0, 0, 0), (1, 1, 1)))], FRONT)
    assert lengths(view.visible) == [1.0] * 4
    assert view.hidden == ()


def test_a_small_cube_behind_a_large_one_is_all_dashed(box, body_of):
    planes = Planes()
    large = body_of(planes, box(planes, (0, 0, 0), (1, 0.2, 1)), name="large")
    small = body_of(planes, box(planes, (0.3, 0.5, 0.3), (0.6, 0.8, 0.6)), name="small")
    view = project([small, large], FRONT)
    assert lengths(view.visible) == [1.0] * 4
    assert lengths(view.hidden) == [0.3] * 4


def test_the_same_small_cube_in_front_hides_part_of_nothing_but_itself(box, body_of):
    planes = Planes()
    large = body_of(planes, box(planes, (0, 0, 0), (1, 0.2, 1)), name="large")
    small = body_of(planes, box(planes, (0.3, -0.8, 0.3), (0.6, -0.5, 0.6)), name="small")
    view = project([large, small], FRONT)
    assert lengths(view.visible) == [0.3] * 4 + [1.0] * 4
    assert view.hidden == ()


def test_a_cube_half_behind_another_is_dashed_where_it_is_covered(box, body_of):
    planes = Planes()
    front = body_of(planes, box(planes, (0, 0, 0), (1, 0.2, 1)), name="front")
    rear = body_of(planes, box(planes, (0.7, 0.5, 0.2), (1.5, 0.8, 0.6)), name="rear")
    view = project([front, rear], FRONT)
    assert isclose(total(view.hidden), 0.4 + 2 * 0.3, abs_tol=1e-6)
    assert isclose(total(view.visible), 4.0 + 0.4 + 2 * 0.5, abs_tol=1e-6)


def test_what_only_touches_from_behind_stays_in_sight_at_its_rim(box, body_of):
    planes = Planes()
    board = body_of(planes, box(planes, (0, 0, 0), (1, 0.02, 1)), name="board")
    batten = body_of(planes, box(planes, (-0.1, 0.02, 0.4), (1.1, 0.05, 0.6)), name="batten")
    view = project([board, batten], FRONT)
    assert isclose(total(view.visible), 4.0 + 2 * (0.2 + 2 * 0.1), abs_tol=1e-6)
    assert isclose(total(view.hidden), 2.0, abs_tol=1e-6)


@settings(max_examples=25)
@given(st.lists(st.tuples(st.sampled_from("xyz"), st.floats(0.05, 0.95)), max_size=4))
def test_a_body_of_many_cells_shows_no_seam(box, body_of, cuts):
    planes = Planes()
    whole = box(planes, (0, 0, 0), (1, 1, 1))
    cells = [whole]
    for axis, at in cuts:
        normal = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}[axis]
        reference = planes.enter(HalfSpace(normal, at))
        cells = [part for one in cells for part in split(planes, one, reference) if part is not None]
    for frame in (TOP, FRONT, RIGHT):
        view = project([body_of(planes, *cells)], frame)
        assert lengths(view.visible) == [1.0] * 4
        assert view.hidden == ()


def test_an_angle_of_two_cells_shows_six_edges_from_above(box, body_of):
    planes = Planes()
    cells = box(planes, (0, 0, 0), (1, 0.2, 0.1)), box(planes, (0, 0.2, 0), (0.2, 1, 0.1))
    view = project([body_of(planes, *cells)], TOP)
    assert lengths(view.visible) == [0.2, 0.2, 0.8, 0.8, 1.0, 1.0]


@settings(max_examples=25)
@given(st.floats(0.1, 0.4), st.floats(0.1, 0.4), st.floats(0.05, 0.35), st.floats(0.02, 0.3))
def test_a_frustum_from_above_shows_every_edge_and_from_below_only_its_base(body_of, tapered, x, y, dx, dy):
    """Narrow end up: all twelve edges are seen from above; from below the base's four, and eight are dashed."""
    shape = tapered(a=2 * x + 2 * dx, b=2 * y + 2 * dy, c=2 * x, d=2 * y, h=0.5)
    planes = Planes()
    piece = shape.piece()
    body = body_of(planes, envelope(planes, piece))
    corner = hypot(dx, dy)
    base, top = 2 * (shape.a + shape.b), 2 * (shape.c + shape.d)
    above = project([body], TOP)
    assert isclose(total(above.visible), base + top + 4 * corner, abs_tol=2e-6)
    assert above.hidden == ()
    below = project([body], TOP.turned())
    assert isclose(total(below.visible), base, abs_tol=2e-6)
    assert isclose(total(below.hidden), top + 4 * corner, abs_tol=2e-6)


def test_a_hole_is_a_true_circle_from_above_and_two_dashed_lines_from_the_side(box, body_of):
    planes = Planes()
    hole = Round((0.3, 0.2, 0.0), (0.0, 0.0, 1.0), 0.05, 0.02, 0.02)
    board = body_of(planes, box(planes, (0, 0, 0), (0.6, 0.4, 0.05)), holes=[hole])
    top = project([board], TOP)
    assert [(c.centre, c.radius, c.start, c.end) for c in top.circles] == [((0.3, 0.2), 0.02, 0.0, 2 * pi)]
    assert top.hidden_circles == () and len(top.visible) == 4
    front = project([board], FRONT)
    assert lengths(front.hidden) == [0.05, 0.05]
    assert sorted(round(s.start[0], 9) for s in front.hidden) == [0.28, 0.32]


def test_a_conical_hole_shows_both_rims_to_its_wide_side_and_dashes_the_far_one_from_the_other(box, body_of):
    planes = Planes()
    hole = Round((0.3, 0.2, 0.0), (0.0, 0.0, 1.0), 0.05, 0.015, 0.02)
    board = body_of(planes, box(planes, (0, 0, 0), (0.6, 0.4, 0.05)), holes=[hole])
    wide = project([board], TOP)
    assert sorted(c.radius for c in wide.circles) == [0.015, 0.02] and wide.hidden_circles == ()
    narrow = project([board], TOP.turned())
    assert [c.radius for c in narrow.circles] == [0.015]
    assert [c.radius for c in narrow.hidden_circles] == [0.02]


def test_one_sees_through_a_hole(box, body_of):
    planes = Planes()
    hole = Round((0.3, 0.2, 0.1), (0.0, 0.0, 1.0), 0.05, 0.05, 0.05)
    board = body_of(planes, box(planes, (0, 0, 0.1), (0.6, 0.4, 0.15)), name="board", holes=[hole])
    peg = body_of(planes, box(planes, (0.29, 0.19, 0.0), (0.31, 0.21, 0.05)), name="peg")
    view = project([board, peg], TOP)
    assert lengths(view.visible)[:4] == [0.02] * 4
    assert view.hidden == ()


def test_a_round_plug_seen_from_the_side_is_its_axial_trapezoid(box, body_of):
    planes = Planes()
    plug = Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.1, 0.03, 0.02)
    view = project([body_of(planes, rounds=[plug])], FRONT)
    slant = hypot(0.1, 0.01)
    assert isclose(total(view.visible), 0.06 + 0.04 + 2 * slant, rel_tol=2e-3)
    low, high = view.box()
    assert isclose(high[0] - low[0], 0.06, abs_tol=1e-9) and isclose(high[1] - low[1], 0.1, abs_tol=1e-9)


def test_a_circle_partly_covered_becomes_arcs_of_the_right_length(box, body_of):
    planes = Planes()
    plate = body_of(planes, rounds=[Round((0, 0, 0), (0.0, 0.0, 1.0), 0.01, 0.1, 0.1)], name="plate")
    strip = body_of(planes, box(planes, (0.05, -0.2, 0.02), (0.3, 0.2, 0.03)), name="strip")
    view = project([plate, strip], TOP)
    arcs = [c for c in view.circles if c.radius == 0.1]
    hidden = [c for c in view.hidden_circles if c.radius == 0.1]
    assert isclose(sum(c.end - c.start for c in arcs), 2 * pi * 2 / 3, rel_tol=5e-3)
    assert isclose(sum(c.end - c.start for c in hidden), 2 * pi / 3, rel_tol=5e-3)


def test_the_section_of_a_planter_has_its_analytic_area(tapered):
    shape = tapered()
    planes = Planes()
    body = piece_body(planes, shape.piece())
    view = project([body], FRONT, HalfSpace(FRONT.toward, 0.0))
    assert isclose(sum(face.area() for face in view.cuts), shape.section_area(), rel_tol=1e-8)
    assert len(view.cuts) == 1 and len(view.cuts[0].parts) == 2


def test_behind_a_section_the_far_half_is_seen_and_the_near_half_is_gone(box, body_of):
    planes = Planes()
    near = body_of(planes, box(planes, (0, -1, 0), (1, -0.5, 1)), name="near")
    far = body_of(planes, box(planes, (0.2, 0.5, 0.2), (0.4, 0.7, 0.5)), name="far")
    across = body_of(planes, box(planes, (0.5, -0.3, 0.0), (0.9, 0.3, 0.4)), name="across")
    view = project([near, far, across], FRONT, HalfSpace(FRONT.toward, 0.0))
    assert [face.body for face in view.cuts] == ["across"]
    assert isclose(view.cuts[0].area(), 0.16)
    assert isclose(total(view.visible), 1.0 + 1.6)
    assert view.hidden == ()


@pytest.mark.parametrize("off", [0.0, 0.01, -0.02])
def test_the_section_of_a_cylinder_off_its_axis_is_a_narrower_rectangle(body_of, off):
    planes = Planes()
    rod = body_of(planes, rounds=[Round((0, 0, 0), (0.0, 0.0, 1.0), 0.2, 0.03, 0.03)])
    view = project([rod], FRONT, HalfSpace(FRONT.toward, -off))
    assert isclose(view.cuts[0].area(), 0.2 * 2 * sqrt(0.03**2 - off**2), rel_tol=1e-9)


def test_the_section_of_a_cone_off_its_axis_has_the_area_of_its_chords(body_of):
    planes = Planes()
    cone = body_of(planes, rounds=[Round((0, 0, 0), (0.0, 0.0, 1.0), 0.2, 0.03, 0.02)])
    view = project([cone], FRONT, HalfSpace(FRONT.toward, 0.01))
    area, _ = quad(lambda z: 2 * sqrt((0.03 - 0.05 * z) ** 2 - 0.01**2), 0.0, 0.2)
    assert isclose(view.cuts[0].area(), area, rel_tol=1e-4)


def test_a_level_hole_cut_square_leaves_a_round_opening(box, body_of):
    planes = Planes()
    hole = Round((0.3, 0.0, 0.2), (0.0, 1.0, 0.0), 0.4, 0.05, 0.05)
    wall = body_of(planes, box(planes, (0, 0, 0), (0.6, 0.4, 0.4)), holes=[hole])
    view = project([wall], FRONT, HalfSpace(FRONT.toward, -0.2))
    assert isclose(view.cuts[0].area(), 0.24 - pi * 0.05**2, rel_tol=1e-8)


def test_spots_lie_on_what_is_really_seen(box, body_of):
    planes = Planes()
    large = body_of(planes, box(planes, (0, 0, 0), (1, 0.2, 1)), name="large")
    small = body_of(planes, box(planes, (0.3, 0.5, 0.3), (0.6, 0.8, 0.6)), name="small")
    tall = body_of(planes, box(planes, (0.4, 0.5, 0.0), (0.5, 0.8, 1.5)), name="tall")
    spots = dict(project([large, small, tall], FRONT, spots=True).spots)
    assert spots["small"] == ()
    assert spots["large"] and all(0 < x < 1 and 0 < z < 1 for _, (x, z) in spots["large"])
    assert spots["tall"] and all(0.4 < x < 0.5 and 1 < z < 1.5 for _, (x, z) in spots["tall"])


def test_the_view_of_a_turned_piece_is_the_view_turned_over(tapered):
    planes = Planes()
    body = piece_body(planes, tapered().piece())
    upright = project([body], FRONT)
    turned = project([body], FRONT.turned())
    flipped = [type(s)(s.layer, (s.start[0], -s.start[1]), (s.end[0], -s.end[1])) for s in upright.visible]
    assert canonical(turned.visible) == canonical(flipped)
