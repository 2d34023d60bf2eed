"""Molds laid up of rings: layers that add up, blanks that fit back, what the layers form, how it parts."""

from __future__ import annotations

from itertools import pairwise
from math import atan, atan2, cos, degrees, hypot, pi, sin, tan, tau
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import flattened, transposed
from formwork.geometry.prisms import Prism
from formwork.geometry.sides import Side, solid
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import add, scale
from formwork.molds.coaxial import coaxial_cavity
from formwork.molds.in_plan import plan_cavity
from formwork.molds.mold import Part
from formwork.molds.stacked import Built
from formwork.molds.stacks.layers import Layer, bands, formed, heights_that_suit, laid_up, mean_square
from formwork.molds.stacks.rings import EAR, EAR_DEEP, Ring, bounds, ring_part
from formwork.shapes.outline import SHAPE as OUTLINE
from formwork.shapes.piece import curved
from formwork.shapes.turned import SHAPE
from formwork.stock.records import SheetStock
from tests.drawn import parameters, single
from tests.workshop import build, shop

CONE = {"outside": ((200, 0), (250, 300)), "inside": ((180, 40), (225, 300))}
VASE = {"outside": ((90, 0), (90, 60), (60, 75), (85, 200, 18), (45, 330, -12), (80, 365), (80, 420))}
NARROW = 0.04 - 0.07 * tan(3.0 * pi / 180.0)
"""Radius of a hole of 80 mm at the struck back of a piece 70 thick, with 3 degrees of draft."""
SHEET = SheetStock("ply", "plywood", "18 mm", 0.018, False, 2.44, 1.22)
edges = st.sampled_from(["square", "bevelled"])


def stacked(keys: dict[str, Any], **options: Any) -> Built:
    """The mold of a piece in millimetres."""
    built = build(SHAPE, parameters(SHAPE, keys), method="stacked", **options)
    assert isinstance(built, Built)
    return built


@given(st.floats(0.01, 0.6), st.floats(0.006, 0.025), st.booleans())
@settings(max_examples=100, deadline=None)
def test_layers_add_up_to_the_height(height: float, thickness: float, downward: bool) -> None:
    found = bands(0.0, height, thickness, downward=downward)
    assert found[0][0] == 0.0 and found[-1][1] == pytest.approx(height)
    assert all(one[1] == pytest.approx(other[0]) for one, other in pairwise(found))
    whole = found[1:] if downward else found[:-1]
    assert all(high - low == pytest.approx(thickness, rel=1e-6) for low, high in whole)
    last = found[0] if downward else found[-1]
    assert 0.0 < last[1] - last[0] <= thickness * (1.0 + 2e-5)


def test_heights_that_suit_are_whole_layers() -> None:
    assert heights_that_suit(0.1, 0.018) == pytest.approx((0.09, 0.108))
    assert heights_that_suit(0.09, 0.018) == pytest.approx((0.09, 0.108))
    assert heights_that_suit(0.01, 0.018) == pytest.approx((0.018, 0.036))


def test_mean_square_of_a_cone_is_that_of_its_frustum() -> None:
    side = Side(((0.1, 0.0), (0.2, 0.4)), (0.0,))
    assert pi * 0.4 * mean_square(side, 0.0, 0.4) == pytest.approx(Turned(solid(side)).volume(), rel=1e-12)


@given(st.lists(st.tuples(st.floats(0.05, 0.4), st.floats(0.02, 0.15)), min_size=2, max_size=6))
@settings(max_examples=60, deadline=None)
def test_square_layers_keep_the_volume_whatever_the_profile(steps: list[tuple[float, float]]) -> None:
    heights = [sum(dz for _, dz in steps[:k]) for k in range(len(steps))]
    side = Side(tuple((r, z) for (r, _), z in zip(steps, heights, strict=True)), (0.0,) * (len(steps) - 1))
    stack = laid_up(side, bands(side.foot, side.head, 0.018), "square")
    assert Turned(solid(formed(stack))).volume() == pytest.approx(Turned(solid(side)).volume(), rel=1e-9)


def test_bevelled_layers_of_a_cone_are_the_cone() -> None:
    side = Side(((0.1, 0.0), (0.16, 0.3)), (0.0,))
    stack = laid_up(side, bands(0.0, 0.3, 0.018), "bevelled")
    assert all(layer.lean == pytest.approx(atan(0.2)) for layer in stack)
    assert Turned(solid(formed(stack))).volume() == pytest.approx(Turned(solid(side)).volume(), rel=1e-12)


def test_no_layer_is_cut_at_more_than_a_saw_tilts() -> None:
    dish = Side(((0.02, 0.0), (0.3, 0.09)), (0.0,))
    stack = laid_up(dish, bands(0.0, 0.09, 0.018), "bevelled")
    assert max(degrees(layer.lean) for layer in stack) == pytest.approx(45.0)
    assert Turned(solid(formed(stack))).volume() == pytest.approx(Turned(solid(dish)).volume(), rel=1e-9)


@pytest.mark.parametrize("sweep", [pi, tau])
@pytest.mark.parametrize("count", [1, 2, 3, 4, 6])
def test_segments_go_all_the_way_round_and_joints_never_meet(sweep: float, count: int) -> None:
    rows = [bounds(0.3, sweep, count, odd) for odd in (False, True)]
    for row in rows:
        assert sum(turn for _, turn in row) == pytest.approx(sweep)
    if count > 1:
        joints = [{round(start % tau, 6) for start, _ in row[1:]} for row in rows]
        assert not joints[0] & joints[1]


layers = st.builds(
    lambda foot, head: Layer(0.1, 0.118, foot, head), st.floats(0.1, 0.2), st.floats(0.1, 0.2)
).filter(lambda layer: abs(layer.foot - layer.head) < 0.018)


@given(layers, st.floats(0.0, tau), st.floats(0.3, pi), st.tuples(st.booleans(), st.booleans()))
@settings(max_examples=80, deadline=None)
def test_a_segment_put_back_in_its_place_is_the_part(
    layer: Layer, start: float, sweep: float, ears: tuple[bool, bool]
) -> None:
    """Every point of the blank's edge, carried by its placement, lies on the part's own surface."""
    ring = Ring(layer, 0.27, start, sweep, ears)
    part = ring_part(ring, "ring", "rings", SHEET, "")
    z = layer.low if layer.foot <= layer.head else layer.high
    radii = {round(layer.least, 6), 0.27}
    for x, y in flattened(part.blank.edge, 1e-4):
        at = placed(part, x, y)
        assert at[2] == pytest.approx(z)
        r, turn = hypot(at[0], at[1]), (_angle(at) - start) % tau
        on_ring = min(abs(r - one) for one in radii) < 1e-6 and (turn < sweep + 1e-6 or turn > tau - 1e-6)
        assert on_ring or _on_an_ear(at, ring), (r, turn)


def placed(part: Part, x: float, y: float) -> tuple[float, float, float]:
    """A point of a blank where it lies in the mold."""
    there = part.placement
    return add(there.origin, add(scale(there.along, x), scale(there.across, y)))


def _angle(at: tuple[float, float, float]) -> float:
    return atan2(at[1], at[0])


def _on_an_ear(at: tuple[float, float, float], ring: Ring) -> bool:
    for there, angle, way in ((ring.ears[0], ring.start, 1.0), (ring.ears[1], ring.start + ring.sweep, -1.0)):
        out = at[0] * cos(angle) + at[1] * sin(angle)
        behind = way * (at[1] * cos(angle) - at[0] * sin(angle))
        if there and -1e-9 < behind < EAR_DEEP + 1e-6 and out < ring.outer + EAR + 1e-6:
            return True
    return False


@given(layers, st.floats(0.3, pi), st.tuples(st.booleans(), st.booleans()))
@settings(max_examples=60, deadline=None)
def test_blank_and_bevel_give_the_volume_back(layer: Layer, sweep: float, ears: tuple[bool, bool]) -> None:
    """The inner arc moved out by depth times the tangent of its bevel, integrated over the thickness."""
    part = ring_part(Ring(layer, 0.27, 0.0, sweep, ears), "ring", "rings", SHEET, "")
    bevel = max(part.blank.bevels)
    inner, t = layer.least, part.blank.thickness
    moved = inner + t * tan(bevel)
    mean = (inner**2 + inner * moved + moved**2) / 3.0
    outside = sum(prism.volume() for prism in part.prisms)
    assert sum(one.volume() for one in part.turned) == pytest.approx(
        sweep / 2.0 * (0.27**2 - mean) * t, rel=1e-9
    )
    if any(ears):
        assert outside > 0.9 * EAR * EAR_DEEP * t


@given(edges, st.sampled_from([CONE, VASE, {**CONE, "cast": "up"}]))
@settings(max_examples=12, deadline=None)
def test_rings_fill_the_height_without_a_gap_and_wrap_the_piece(edge: str, keys: dict[str, Any]) -> None:
    built = stacked(keys, edge=edge)
    assert built.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)
    courses = built.lined.stack.courses
    assert courses[0].low == 0.0
    assert courses[-1].high == pytest.approx(built.mold.piece.form.fill)
    assert all(one.high == pytest.approx(other.low) for one, other in pairwise(courses))


def test_a_missing_ring_leaks_and_says_where() -> None:
    built = stacked(CONE)
    parts = [part for part in built.mold.parts if not part.name.startswith("ring 4")]
    found = coaxial_cavity(parts, built.mold.piece.form.fill, built.mold.piece.pour_points)
    assert "ring 3" in found.leaks[0] and "ring 5" in found.leaks[0], found.leaks


def test_a_profile_that_swells_parts_in_halves_with_ears_and_bolts() -> None:
    mold = stacked(VASE).mold
    assert [step.group for step in mold.stripping][:2] == ["front half", "back half"]
    assert [step.way for step in mold.stripping][:2] == [(0.0, -1.0, 0.0), (0.0, 1.0, 0.0)]
    assert any(line.item == "bolt" for line in mold.hardware)
    assert any(line.item == "dowel" for line in mold.hardware)
    assert all(part.prisms for part in mold.parts if part.role == "ring")


def test_halves_do_not_share_space_and_ears_lie_behind_the_parting_plane() -> None:
    for part in stacked(VASE).mold.parts:
        sign = {"front half": -1.0, "back half": 1.0}.get(part.group)
        if sign:
            places = [placed(part, x, y) for x, y in flattened(part.blank.edge, 1e-4)]
            assert min(sign * y for _, y, _ in places) > -1e-9


def test_a_bowl_comes_off_by_its_own_draft() -> None:
    over, up = stacked(CONE), stacked({**CONE, "cast": "up"})
    assert [step.group for step in over.mold.stripping] == ["rings", "base", "core"]
    assert [step.group for step in up.mold.stripping] == ["core", "base", "rings"]
    core = next(step for step in over.mold.stripping if step.group == "core")
    assert core.draft == pytest.approx(atan(45.0 / 260.0), rel=1e-6)


def test_the_note_tells_the_volume_as_drawn_and_as_formed() -> None:
    told = " ".join(stacked(VASE).mold.piece.notes)
    assert "as formed 7." in told and "as drawn 7." in told
    assert "whole layers of this sheet give a height of" in told


def test_a_core_too_wide_for_the_sheet_and_a_base_too_wide_are_refused() -> None:
    wide = {"outside": ((600, 0), (700, 200)), "inside": ((560, 60), (650, 200))}
    with pytest.raises(StockError, match=r"piece: .*does not fit the sheet"):
        stacked(wide)


def test_steps_that_eat_the_wall_are_refused() -> None:
    thin = {"outside": ((60, 0), (160, 100)), "inside": ((60, 18), (143, 100))}
    with pytest.raises(GeometryError, match='set edge = "bevelled"'):
        stacked(thin, edge="square")
    assert stacked(thin, edge="bevelled").leaks == ()


def test_named_sheet_sets_the_layers() -> None:
    thin = stacked(CONE, sheet="MDF 12")
    assert len(thin.lined.stack.courses) == 25
    assert {part.stock for part in thin.mold.parts if part.role == "ring"} == {"MDF 12"}
    assert shop().sheets


def test_templates_have_the_profile_as_drawn_at_full_size() -> None:
    """The board of the outside swept round the axis is the piece; that of the core leaves the core's hollow."""
    built = stacked({"outside": ((150, 0), (220, 200, 12)), "inside": ((120, 40), (185, 200, 10))})
    boards = {part.name: part for part in built.mold.parts if part.role == "template"}
    assert set(boards) == {"outside template", "core template"}
    outside = boards["outside template"].blank
    drawn = curved(single(SHAPE, parameters(SHAPE, {"outside": ((150, 0), (220, 200, 12))})))
    upright = outside.edge if outside.length < outside.width else transposed(outside.edge)
    swept = max(Turned(one).volume() for one in (outside.edge, upright))
    assert swept == pytest.approx(drawn.outside.volume(), rel=1e-9)
    core = boards["core template"].blank
    assert min(core.length, core.width) < 0.16 + 1e-9
    assert not any(part.turned or part.prisms or part.cells for part in boards.values())


def laid(keys: dict[str, Any], **options: Any) -> Built:
    """The mold of an outline in millimetres, laid up of boards."""
    built = build(OUTLINE, parameters(OUTLINE, keys), method="stacked", **options)
    assert isinstance(built, Built)
    return built


ELL = {
    "points": [{"x": x, "y": y} for x, y in ((0, 0), (700, 0), (700, 300), (300, 300), (300, 800), (0, 800))],
    "holes": [{"x": 150, "y": 150, "diameter": 80}],
    "thickness": 70,
}


def test_an_outline_is_cut_from_every_layer_and_its_hole_is_a_stack_of_discs() -> None:
    built = laid(ELL)
    assert built.leaks == ()
    plug = pi * 0.07 / 3.0 * sum(a * b for a, b in ((0.04, 0.04), (0.04, NARROW), (NARROW, NARROW)))
    assert built.mold.cavity == pytest.approx((0.7 * 0.3 + 0.3 * 0.5) * 0.07 - plug, rel=1e-9)
    assert [step.group for step in built.mold.stripping] == ["rings", "base", "core"]
    boards = [part for part in built.mold.parts if part.role == "ring"]
    assert len(boards) == 4 and all(part.blank.openings for part in boards)


@pytest.mark.parametrize("draft", [0, 5])
def test_openings_and_discs_put_back_in_their_place_bound_the_piece(draft: float) -> None:
    """Corners of every opening and disc lie on the piece's own outline at the height of the face they are drawn on."""
    built = laid({**ELL, "draft": f"{draft} deg"})
    form = curved(built.mold.piece)
    assert isinstance(form.outside, Prism)
    for part in built.mold.parts:
        if part.role == "ring":
            (opening,) = part.blank.openings
            _on(form.outside, part, opening.points)
        elif part.group == "core":
            body = form.formers[0].body
            assert isinstance(body, Prism)
            _on(body, part, part.blank.outline)


def _on(body: Prism, part: Part, points: Any) -> None:
    for x, y in points:
        at = placed(part, x, y)
        outline = body.at(at[2] / body.height)
        there = [(u + body.origin[0], v + body.origin[1]) for u, v in outline.points]
        assert min(hypot(at[0] - u, at[1] - v) for u, v in there) < 1e-9, part.name


def test_what_layers_do_not_form_of_an_outline_is_refused() -> None:
    with pytest.raises(GeometryError, match=r"piece: .*no room for the edge strip"):
        laid({**ELL, "chamfer": 8})
    with pytest.raises(GeometryError, match=r"piece: mold\.edge"):
        laid({**ELL, "draft": "5 deg"}, edge="square")
    wide = [{"x": x, "y": y} for x, y in ((0, 0), (1200, 0), (1200, 1200), (0, 1200))]
    with pytest.raises(StockError, match=r"piece: .*does not fit the sheet"):
        laid({"points": wide, "thickness": 70})


def test_a_board_left_out_leaks() -> None:
    built = laid(ELL)
    parts = [part for part in built.mold.parts if part.name != "ring 2"]
    assert plan_cavity(parts, 0.07, built.mold.piece.pour_points).leaks


@pytest.mark.parametrize("sheet", ["steel 1", "hardboard 6"])
def test_a_sheet_that_cannot_be_screwed_is_not_laid_up(sheet: str) -> None:
    with pytest.raises(StockError, match=r"piece: mold\.sheet: .*cannot be laid up"):
        stacked(CONE, sheet=sheet)


@pytest.mark.parametrize("edge", ["square", "bevelled"])
def test_a_profile_that_comes_to_a_point_has_a_hole_in_its_last_ring(edge: str) -> None:
    built = stacked({"outside": ((0, 0), (100, 150))}, edge=edge)
    least = [
        abs(one.points[0][0] - one.points[2][0]) / 2.0
        for part in built.mold.parts
        if part.role == "ring"
        for one in part.blank.openings
    ]
    assert built.leaks == () and min(least) > 0.002
