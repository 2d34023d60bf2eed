"""Views of turned bodies, prisms, curved pieces and their molds: what is round is round, and the kernel agrees."""

from __future__ import annotations

from dataclasses import replace
from math import acos, asin, atan2, cos, hypot, isclose, pi, radians, sin, sqrt
from time import process_time

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from formwork.drawings.bodies import Body
from formwork.drawings.extents import body_box, radius_at
from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP
from formwork.drawings.layers import CAST, CAST_HIDDEN
from formwork.drawings.mold import bodies_of, mold_drawing, section_place
from formwork.drawings.mold_measures import mold_measures
from formwork.drawings.piece import piece_body, piece_drawing
from formwork.drawings.projection import project
from formwork.drawings.scene import Dimension
from formwork.drawings.views import centre_lines
from formwork.geometry.cells import cell
from formwork.geometry.outlines import Outline, circle, polygon, rectangle, ring_sector
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.solids.build import part_solid, piece_solid
from tests.curved_work import PIECES, block, part, planter_mold
from tests.drawings.test_kernel import kernel_lines, off, our_lines


def body(*, turned=(), prisms=(), cells=(), formers=(), holes=(), planes=None) -> Body:
    return Body(
        "body", CAST.name, planes or Planes(), tuple(cells), (), tuple(holes), CAST_HIDDEN.name, "stipple",
        tuple(turned), tuple(prisms), tuple(formers),
    )  # fmt: skip


def lengths(strokes):
    return sorted(round(s.length(), 6) for s in strokes)


def radii(circles):
    return sorted(round(c.radius, 6) for c in circles)


CONE = Turned(polygon(((0.0, 0.0), (0.2, 0.0), (0.3, 0.4), (0.0, 0.4))))
RING = Turned(rectangle((0.3, 0.0), (0.4, 0.1)))


def test_a_cone_is_two_circles_from_below_and_a_trapezoid_from_the_front():
    below = project([body(turned=[CONE])], TOP.turned())
    assert radii(below.circles) == [0.2, 0.3] and below.visible == () and below.hidden == ()
    assert all(isclose(c.end - c.start, 2 * pi) for c in below.circles)
    front = project([body(turned=[CONE])], FRONT)
    assert lengths(front.visible) == [0.4, round(hypot(0.1, 0.4), 6), round(hypot(0.1, 0.4), 6), 0.6]
    assert front.hidden == ()


def test_a_cone_from_above_hides_its_narrow_end():
    above = project([body(turned=[CONE])], TOP)
    assert radii(above.circles) == [0.3] and radii(above.hidden_circles) == [0.2]


def test_a_ball_is_one_circle_from_every_side():
    ball = Turned(Outline(((0.0, -0.3), (0.0, 0.3)), (1.0, 0.0)))
    for frame in (TOP, FRONT, RIGHT):
        view = project([body(turned=[ball])], frame)
        spans = [(c.centre, round(c.radius, 9)) for c in view.circles]
        assert set(spans) == {((0.0, 0.0), 0.3)} and view.visible == () and view.hidden == ()
        assert isclose(sum(c.end - c.start for c in view.circles), 2 * pi, rel_tol=1e-6)


def test_a_vase_hides_its_foot_under_its_belly():
    """The profile bulges to 0.3; from above the belly is the outline, a bend where the surface turns away."""
    belly = 2.0 * asin(0.25 / 0.3) / 4.0
    profile = Outline(((0.0, -0.25), (sqrt(0.3**2 - 0.25**2), -0.25), (sqrt(0.3**2 - 0.25**2), 0.25), (0.0, 0.25)),
                      (0.0, sin(belly) / cos(belly), 0.0, 0.0))  # fmt: skip
    view = project([body(turned=[Turned(profile)])], TOP)
    assert radii(view.circles) == [round(sqrt(0.3**2 - 0.25**2), 6), 0.3]
    assert view.hidden_circles == (), "the foot lies under the head, which is drawn"


def test_a_sector_of_a_ring_shows_its_end_faces():
    sector = Turned(RING.profile, (0.0, 0.0), 0.0, pi / 2.0)
    top = project([body(turned=[sector])], TOP)
    assert lengths(top.visible) == [0.1, 0.1]
    assert [(round(c.radius, 6), round(c.end - c.start, 6)) for c in top.circles] == [
        (r, round(pi / 2.0, 6)) for r in (0.3, 0.4)
    ] or radii(top.circles) == [0.3, 0.4]
    front = project([body(turned=[sector])], FRONT)
    assert lengths(front.visible) == [0.1, 0.1, 0.1, 0.4, 0.4]


def test_four_segments_of_a_ring_show_four_joints_and_whole_circles():
    segments = [
        Body(
            f"segment {k}",
            CAST.name,
            Planes(),
            (),
            prisms=(Prism(ring_sector(0.3, 0.4, k * pi / 2, pi / 2), 0.1),),
        )
        for k in range(4)
    ]
    view = project(segments, TOP)
    assert lengths(view.visible) == [0.1] * 4
    assert (
        sorted(
            round(sum(c.end - c.start for c in view.circles if isclose(c.radius, r)), 6) for r in (0.3, 0.4)
        )
        == [round(2 * pi, 6)] * 2
    )


def test_tangent_legs_have_no_line_between_them_and_corners_do():
    """A bar of 0.4 by 0.2 with two half round ends: two lines and two arcs above, two silhouettes from the front."""
    slot = Outline(((-0.2, -0.1), (0.2, -0.1), (0.2, 0.1), (-0.2, 0.1)), (0.0, 1.0, 0.0, 1.0))
    top = project([body(prisms=[Prism(slot, 0.05)])], TOP)
    assert lengths(top.visible) == [0.4, 0.4] and radii(top.circles) == [0.1, 0.1]
    front = project([body(prisms=[Prism(slot, 0.05)])], FRONT)
    assert lengths(front.visible) == [0.05, 0.05, 0.6, 0.6] and front.hidden == ()
    side = project([body(prisms=[Prism(slot, 0.05)])], RIGHT)
    assert lengths(side.visible) == [0.05, 0.05, 0.2, 0.2]


def test_an_opening_of_a_prism_is_seen_through():
    plate = body(
        prisms=[
            Prism(
                rectangle((0.0, 0.0), (0.5, 0.3)), 0.02, (0.0, 0.0, 0.1), openings=(circle((0.2, 0.15), 0.1),)
            )
        ]
    )
    planes = Planes()
    peg = Body("peg", CAST.name, planes, (block(planes, (0.19, 0.14, 0.0), (0.21, 0.16, 0.05)),))
    view = project([plate, peg], TOP)
    assert lengths(view.visible)[:4] == [0.02] * 4
    assert radii(view.circles) == [0.1]


def test_a_disc_that_stands_upright_at_an_angle_is_an_ellipse():
    turn = pi / 6.0
    disc = Prism(circle((0.0, 0.0), 0.2), 0.02, (0.0, 0.0, 0.5), (cos(turn), sin(turn), 0.0), (0.0, 0.0, 1.0))
    view = project([body(prisms=[disc])], FRONT)
    low, high = view.box()
    wide = 2 * 0.2 * cos(turn) + 0.02 * sin(turn)
    assert isclose(high[0] - low[0], wide, rel_tol=2e-3) and isclose(high[1] - low[1], 0.4, abs_tol=1e-9)
    (x0, _, z0), (x1, _, z1) = body_box(disc)
    assert isclose(x1 - x0, wide, rel_tol=1e-9) and isclose(z1 - z0, 0.4, abs_tol=1e-12)


@pytest.mark.parametrize("off", [0.0, 0.05, -0.12, 0.25])
def test_sections_of_a_ring_through_and_beside_its_axis(off):
    """Two rectangles; past the hole, one. Widths by Pythagoras."""
    view = project([body(turned=[RING])], FRONT, HalfSpace(FRONT.toward, off))
    width = sqrt(0.4**2 - off**2) - sqrt(0.3**2 - off**2)
    assert isclose(view.cuts[0].area(), 2 * 0.1 * width, rel_tol=1e-8)
    assert len(view.cuts[0].parts) == 2


def test_a_section_beside_the_axis_of_a_cone_has_the_area_of_its_chords():
    view = project([body(turned=[CONE])], FRONT, HalfSpace(FRONT.toward, 0.07))
    area, _ = quad(lambda z: 2 * sqrt((0.2 + 0.25 * z) ** 2 - 0.07**2), 0.0, 0.4)
    assert isclose(view.cuts[0].area(), area, rel_tol=1e-6)


@given(st.floats(0.0, 6.2), st.floats(0.2, 6.0), st.floats(-0.28, 0.28))
@settings(max_examples=40, deadline=None)
def test_a_section_of_a_sector_is_cut_where_its_end_faces_cut_it(start, sweep, off):
    """Against the plane's own points, tried one by one."""
    sector = Turned(RING.profile, (0.0, 0.0), start, sweep)
    view = project([body(turned=[sector])], FRONT, HalfSpace(FRONT.toward, off))
    n, wide = 4000, 0.41
    inside = 0
    for k in range(n):
        x = -wide + 2 * wide * (k + 0.5) / n
        r, a = hypot(x, -off), atan2(-off, x)
        inside += 0.3 <= r <= 0.4 and (a - start) % (2 * pi) <= sweep
    area = view.cuts[0].area() if view.cuts else 0.0
    assert isclose(area, 0.1 * 2 * wide * inside / n, abs_tol=0.1 * 2 * wide * 6 / n)


def test_a_level_section_of_a_ball_is_a_true_disc():
    ball = Turned(Outline(((0.0, -0.3), (0.0, 0.3)), (1.0, 0.0)))
    view = project([body(turned=[ball])], TOP, HalfSpace(TOP.toward, 0.1))
    assert isclose(view.cuts[0].area(), pi * (0.3**2 - 0.1**2), rel_tol=1e-8)
    assert radii(view.circles) == [round(sqrt(0.3**2 - 0.1**2), 6), 0.3]


def test_sections_of_pieces_have_their_exact_area():
    """Planter through its axis: trapezoids. Bowl: a disc's part less a cap's section. Outline: what the line meets."""
    piece, _ = PIECES["planter"]()
    view = project([piece_body(Planes(), piece)], FRONT, HalfSpace(FRONT.toward, 0.0))
    solid = (0.36 + 0.48) / 2 * 0.4 - (0.295 + 0.40) / 2 * 0.35 - 2 * (0.028 + 0.024) / 2 * 0.05
    assert isclose(sum(face.area() for face in view.cuts), solid, rel_tol=1e-9)
    piece, _ = PIECES["bowl"]()
    view = project([piece_body(Planes(), piece)], FRONT, HalfSpace(FRONT.toward, 0.0))

    def segment(r, h):
        return r * r * acos((r - h) / r) - (r - h) * sqrt(2 * r * h - h * h)

    assert isclose(
        view.cuts[0].area(), pi * 0.3**2 / 2 - segment(0.3, 0.05) - segment(0.26, 0.18), rel_tol=1e-9
    )
    assert radii(view.circles)[0] == 0.26
    piece, _ = PIECES["ell"]()
    view = project([piece_body(Planes(), piece)], TOP, HalfSpace(TOP.toward, 0.03))
    assert isclose(view.cuts[0].area(), PIECES["ell"]()[1] / 0.06, rel_tol=1e-9)


@pytest.mark.parametrize("frame", [TOP, TOP.turned(), FRONT, RIGHT], ids=["top", "below", "front", "right"])
@pytest.mark.parametrize("name", ["planter", "ell", "bowl"])
def test_a_curved_piece_is_drawn_as_the_kernel_draws_it(name, frame):
    """To half a millimetre: where a bend is seen slantwise, a chord stands for it."""
    piece, _ = PIECES[name]()
    view = project([piece_body(Planes(), piece)], frame)
    seen, unseen = kernel_lines([piece_solid(Planes(), piece)], frame)
    ours, dashed = our_lines(view, 1000.0)
    assert off(ours, seen) < 1.0
    assert off(seen, ours) < 1.0
    assert off(dashed, [*unseen, *seen]) < 1.0


def test_a_dome_shows_its_door_and_its_oculus():
    piece, _ = PIECES["dome"]()
    one = piece_body(Planes(), piece)
    front = project([one], FRONT)
    upright = [s for s in front.visible if isclose(s.start[0], s.end[0], abs_tol=1e-6)]
    assert sorted({round(s.start[0], 5) for s in upright}) == [-0.25, 0.25]
    assert max(
        s.start[1] for s in front.visible if abs(s.start[0]) < 1e-3 and s.start[1] < 0.9
    ) == pytest.approx(0.7, abs=1e-5)
    outline = [c for c in front.circles if isclose(c.radius, 1.08, abs_tol=1e-6)]
    assert outline and all(isclose(c.centre[1], 0.0, abs_tol=1e-9) for c in outline)
    top = project([one], TOP)
    assert 0.15 in radii(top.circles)
    springing = sum(c.end - c.start for c in top.circles if isclose(c.radius, 1.08))
    assert springing == pytest.approx(2 * pi - 2 * asin(0.25 / 1.08), abs=0.2)


@pytest.mark.parametrize(("lean", "bends"), [(10.0, 0), (20.0, 3)])
def test_a_bent_sheet_of_flat_cells_shows_smooth(lean, bends):
    """Six boards of one part about a quarter turn: 10 degrees apart they show no bend, 20 degrees apart those in sight."""
    planes = Planes()
    cells = []
    for k in range(6):
        a, b = (radians((k + i) * lean) for i in (0, 1))
        out = (cos((a + b) / 2), sin((a + b) / 2), 0.0)
        board = cell(
            planes,
            [
                HalfSpace(out, 0.5),
                HalfSpace((-out[0], -out[1], 0.0), -0.49),
                HalfSpace((sin(a), -cos(a), 0.0), 0.0),
                HalfSpace((-sin(b), cos(b), 0.0), 0.0),
                HalfSpace((0.0, 0.0, 1.0), 0.3),
                HalfSpace((0.0, 0.0, -1.0), 0.0),
            ],
        )
        assert board is not None
        cells.append(board)
    view = project([body(cells=cells, planes=planes)], RIGHT)
    upright = {round(s.start[0], 6) for s in view.visible if isclose(s.start[0], s.end[0], abs_tol=1e-9)}
    inner = [x for x in upright if min(upright) + 1e-6 < x < max(upright) - 1e-6]
    assert len(inner) == bends


@pytest.mark.parametrize("frame", [TOP, FRONT, LEFT], ids=["top", "front", "left"])
def test_a_round_mold_is_drawn_as_the_kernel_draws_it(frame):
    mold = planter_mold()
    view = project(bodies_of(mold), frame)
    seen, _ = kernel_lines([part_solid(mold.planes, one) for one in mold.parts], frame)
    ours, _ = our_lines(view, 1000.0)
    assert off(ours, seen) < 3.0
    assert off(seen, ours) < 3.0


def test_the_section_of_a_round_mold_goes_through_its_axis_beside_the_joints_of_its_rings():
    mold = planter_mold()
    place = section_place(mold)
    assert 0.0 < abs(place) < 5e-4
    names = {face.body for face in project(bodies_of(mold), RIGHT, HalfSpace(RIGHT.toward, place)).cuts}
    assert {"base", "skin", "core skin", "core cap", "bar 1", "bar 2"} <= names
    assert len([name for name in names if name.startswith("ring")]) == 8


def test_a_round_mold_is_measured_by_its_parts():
    found = {
        m.name: hypot(*(b - a for a, b in zip(m.start, m.end, strict=True)))
        for m in mold_measures(planter_mold(), 0.0)
    }
    assert found["overall height"] == pytest.approx(0.458)
    assert found["cavity diameter at the top"] == pytest.approx(0.48)
    assert found["cavity diameter at the base"] == pytest.approx(0.36)
    assert found["panel to core, across"] == pytest.approx(0.04)
    assert found["to ring 1"] == pytest.approx(0.02)
    assert found["to ring 4"] == pytest.approx(0.38)
    assert "panel to core, along" not in found


def test_rings_that_lie_on_one_another_are_not_measured_one_by_one():
    mold = planter_mold()
    rings = tuple(
        part(
            f"ring {k}",
            "ring",
            prisms=(Prism(ring_sector(0.3, 0.4, 0.0, 3.0), 0.018, (0.0, 0.0, k * 0.018)),),
        )
        for k in range(20)
    )
    names = [m.name for m in mold_measures(_with(mold, rings), 0.0)]
    assert not [name for name in names if name.startswith("to ring")]


def _with(mold, rings):
    return replace(mold, parts=(*(p for p in mold.parts if p.role != "ring"), *rings))


def test_radii_of_profiles_at_a_level():
    assert radius_at(CONE, 0.2) == pytest.approx(0.25)
    ball = Turned(Outline(((0.0, -0.3), (0.0, 0.3)), (1.0, 0.0)))
    assert radius_at(ball, 0.18) == pytest.approx(0.24)
    assert radius_at(ball, 0.31) is None


@pytest.mark.parametrize("name", PIECES)
def test_drawings_of_curved_pieces_are_clean_and_measured(name, project_file, covered_texts):
    piece, _ = PIECES[name]()
    scene = piece_drawing(piece, project_file)
    assert covered_texts(scene) == []
    dims = {d.name: d.measured() for d in scene.model if isinstance(d, Dimension)}
    assert set(dims) == {m.name for m in piece.measures}


def test_the_drawing_of_a_round_mold_is_clean(project_file, covered_texts):
    scene = mold_drawing(planter_mold(), (), project_file)
    assert covered_texts(scene) == []


def test_round_things_about_one_axis_share_one_cross():
    bodies = bodies_of(planter_mold())
    lines = centre_lines(bodies, TOP, 10.0)
    through = [
        line
        for line in lines
        if isclose(line.start[1], 0.0, abs_tol=1e-9) and isclose(line.end[1], 0.0, abs_tol=1e-9)
    ]
    about_axis = [line for line in through if isclose(line.start[0], -line.end[0], abs_tol=1e-9)]
    assert len(about_axis) == 1
    axis = [line for line in centre_lines(bodies, FRONT, 10.0) if isclose(line.start[0], 0.0, abs_tol=1e-9)]
    assert len(axis) == 1


def test_a_stack_of_twenty_rings_draws_in_good_time():
    """Three views of 80 segments, skin and core, in a few seconds of one slow core (about 2 when it was written)."""
    bodies = bodies_of(planter_mold(20))
    started = process_time()
    for frame, cut in ((TOP, None), (FRONT, None), (RIGHT, HalfSpace(RIGHT.toward, 1e-4))):
        project(bodies, frame, cut)
    assert process_time() - started < 8.0


def test_what_is_seen_of_a_section_lies_in_the_body():
    """No stroke of a cut dome lies outside the outline of its sphere."""
    piece, _ = PIECES["dome"]()
    view = project([piece_body(Planes(), piece)], RIGHT, HalfSpace(RIGHT.toward, 0.0))
    disc = shapely.Point(0.0, 0.0).buffer(1.0801, quad_segs=64)
    assert all(disc.covers(shapely.LineString([s.start, s.end])) for s in view.visible)
