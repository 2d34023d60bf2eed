"""Edge forms: strips, blocks, cores, what they enclose in plan, and what is said where they cannot be built."""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, hypot, pi, radians, sin, tan
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.check import Check
from formwork.checks.edged import bays, checks
from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import Outline, area, flattened, legs, perimeter, shifted
from formwork.geometry.prisms import Prism
from formwork.molds.edged import Built
from formwork.molds.edges.edging import Edge, Stretch, hollow_radius, joint, parted
from formwork.molds.edges.skins import flat_pattern
from formwork.molds.in_plan import plan_cavity
from formwork.molds.mold import Part
from formwork.molds.weighing import part_volume
from formwork.shapes.outline import SHAPE
from formwork.stock.records import SheetStock
from tests.drawn import parameters
from tests.workshop import build, shop

SQUARE = [{"x": 0, "y": 0}, {"x": 600, "y": 0}, {"x": 600, "y": 400}, {"x": 0, "y": 400}]
ROUNDED = [{**corner, "round": 150} for corner in SQUARE]
MOON = [{"x": 0, "y": 0}, {"x": 800, "y": 0, "via_x": 400, "via_y": 400}]
HOLLOW = [*SQUARE[:2], {"x": 600, "y": 400, "via_x": 300, "via_y": 280}, {"x": 0, "y": 400}]
RING = [{"x": -300, "y": 0, "via_x": 0, "via_y": -300}, {"x": 300, "y": 0, "via_x": 0, "via_y": 300}]
ELL = [{"x": x, "y": y} for x, y in ((0, 0), (700, 0), (700, 300), (300, 300), (300, 800), (0, 800))]
SHAPES = {
    "square": SQUARE,
    "rounded": ROUNDED,
    "half moon": MOON,
    "hollow": HOLLOW,
    "ring": RING,
    "L": ELL,
}


def edged(points: Any, mold: dict[str, Any] | None = None, **keys: Any) -> Built:
    found = parameters(SHAPE, {"points": points, "thickness": 60, **keys})
    return build(SHAPE, found, method="edged", **(mold or {}))


def strips(built: Built) -> list[Part]:
    return [part for part in built.mold.parts if part.name in {edge.name for edge in built.lined.edges}]


def plan_of(space: Prism, share: float = 0.0) -> shapely.Polygon:
    by = (space.origin[0], space.origin[1])
    return shapely.Polygon(flattened(shifted(space.at(share), by), 1e-6))


@pytest.mark.parametrize("points", SHAPES.values(), ids=SHAPES)
@pytest.mark.parametrize("draft", [0, 5])
def test_the_inner_faces_enclose_the_outline_at_foot_and_head(points: Any, draft: float) -> None:
    """By a polygon library: no strip reaches into the outline, and nothing of its edge is left bare."""
    built = edged(points, draft=f"{draft} deg")
    for share in (0.0, 1.0):
        stone = plan_of(built.lined.outside, share)
        ring = shapely.union_all([plan_of(part.prisms[0], share).buffer(1e-6) for part in strips(built)])
        assert stone.intersection(ring.buffer(-2e-6)).area < 1e-7
        bare = stone.exterior.difference(ring.buffer(3e-6))
        assert bare.length < 1e-5
    assert built.leaks == ()


@pytest.mark.parametrize("points", SHAPES.values(), ids=SHAPES)
def test_no_two_parts_need_the_same_room(points: Any) -> None:
    built = edged(points, draft="4 deg", chamfer=8)
    standing = [part for part in built.mold.parts if part.role in ("panel", "skin", "cleat")]
    for z in (0.0, built.timber.high):
        spaces = [(part.name, part.prisms[0]) for part in standing]
        plans = [(name, plan_of(space, z / space.height).buffer(-2e-6)) for name, space in spaces]
        for i, (one, first) in enumerate(plans):
            for other, second in plans[:i]:
                assert first.intersection(second).area < 1e-8, (one, other)


@pytest.mark.parametrize("points", SHAPES.values(), ids=SHAPES)
def test_every_strip_has_its_blocks_and_they_bear_on_it(points: Any) -> None:
    built = edged(points)
    backs = {part.name: plan_of(part.prisms[0]) for part in strips(built)}
    for index, edge in enumerate(built.lined.edges):
        own = [block.part for block in built.blocks if block.edge == index]
        assert own, edge.name
        for block in own:
            assert backs[edge.name].distance(plan_of(block.prisms[0])) < 2e-4, block.name
            assert block.group == edge.name
    for one in bays(built):
        assert one.apart < (0.25 if one.edge.stretch.bent else 0.65)


def test_a_gap_between_two_strips_is_a_leak_with_its_place() -> None:
    built = edged(SQUARE)
    first, *rest = strips(built)
    low = [replace(first, prisms=(first.prisms[0].shifted((0.003, 0.0, 0.0)),))]
    base = [part for part in built.mold.parts if part.role == "base"]
    leaks = plan_cavity([*base, *low, *rest], 0.06, built.mold.piece.pour_points).leaks
    assert any("straight edge 1" in leak and "3.0 mm apart" in leak for leak in leaks)
    missing = plan_cavity([*base, *rest], 0.06, built.mold.piece.pour_points).leaks
    assert missing


def test_a_strip_that_is_too_low_leaks_at_the_head() -> None:
    built = edged(SQUARE)
    first, *rest = strips(built)
    space = first.prisms[0]
    low = replace(first, prisms=(Prism(space.outline, space.height - 0.01),))
    base = [part for part in built.mold.parts if part.role == "base"]
    found = plan_cavity([*base, low, *rest], 0.06, built.mold.piece.pour_points)
    assert any("above the base" in leak for leak in found.leaks)


def test_a_strip_beside_the_base_is_told() -> None:
    built = edged(SQUARE)
    base = next(part for part in built.mold.parts if part.role == "base")
    short = replace(base, prisms=(base.prisms[0].shifted((0.2, 0.0, 0.0)),))
    leaks = plan_cavity([short, *strips(built)], 0.06, built.mold.piece.pour_points).leaks
    assert any("over the edge of the base" in leak for leak in leaks)


def test_a_wall_of_straight_strips_by_hand() -> None:
    """A rectangle: each strip runs past one corner and stops at the other, so its length is its side and one thickness."""
    built = edged(SQUARE)
    t = built.lined.sheet.thickness
    lengths = sorted(part.blank.length for part in strips(built))
    assert lengths == pytest.approx([0.4 + t, 0.4 + t, 0.6 + t, 0.6 + t])
    assert all(part.blank.width == pytest.approx(0.06) for part in strips(built))
    assert all(joint(a, b) == "lap" for a, b in zip(built.lined.edges, built.lined.edges[1:], strict=False))
    assert built.mold.wetted == pytest.approx(0.24 + 2.0 * 0.06)


def test_leaning_strips_are_ripped_to_their_slant_with_the_saw_tilted() -> None:
    built = edged(SQUARE, draft="6 deg")
    t = built.lined.sheet.thickness
    for part in strips(built):
        rip = 0.06 / cos(radians(6.0))
        assert part.blank.width == pytest.approx(rip + t * tan(radians(6.0)))
        edges = [abs(bevel) for bevel in part.blank.bevels]
        assert sum(bevel == pytest.approx(radians(6.0)) for bevel in edges) >= 2
    blocks = [block.part for block in built.blocks]
    assert all(block.blank.bevels[0] == pytest.approx(radians(6.0)) for block in blocks)


def test_a_whole_circle_is_one_bent_strip_that_closes_or_several_laid_end_to_end() -> None:
    small = [{key: value / 2 for key, value in corner.items()} for corner in RING]
    (edge,) = edged(small).lined.edges
    assert edge.stretch.bent
    words = " ".join(edged(small).mold.instructions)
    assert "closes on itself at" in words
    built = edged(RING)
    assert len(built.lined.edges) == 2
    assert all(part.blank.width <= 1.22 for part in strips(built))
    assert "butt, and a block holds each end" in " ".join(built.mold.instructions)


def test_a_bent_strip_is_as_long_as_the_middle_of_its_thickness() -> None:
    built = edged(MOON)
    skins = [part for part in strips(built) if part.role == "skin"]
    t = skins[0].blank.thickness
    assert sum(max(part.blank.length, part.blank.width) for part in skins) == pytest.approx(
        pi * (0.4 + t / 2.0)
    )


@given(radius=st.floats(0.15, 0.6), lean=st.floats(1.0, 12.0))
@settings(max_examples=25, deadline=None)
def test_a_leaning_bent_strip_unrolls_to_a_sector_of_the_cone(radius: float, lean: float) -> None:
    """The side of a cone frustum: area pi (r + s) times the slant; radius of the flat pattern r / sin of the lean."""
    angle, high = radians(lean), 0.08
    arc = Outline(((radius, 0.0), (-radius, 0.0)), (1.0, 1.0))
    wide = radius + high * tan(angle)
    top = Outline(((wide, 0.0), (-wide, 0.0)), (1.0, 1.0))
    sheet = next(one for one in shop().sheets if one.name == "bending plywood 5")
    edge = Edge("bent", Stretch(tuple(legs(arc))[:1], tuple(legs(top))[:1]), sheet, sheet.thickness)
    pattern = flat_pattern(edge, high, angle)
    half = sheet.thickness / 2.0 / cos(angle)
    r, s = radius + half, wide + half
    assert area(pattern) == pytest.approx(pi * (r + s) / 2.0 * high / cos(angle), rel=1e-9)
    foot = next(leg for leg in legs(pattern) if leg.bulge)
    assert foot.arc().radius == pytest.approx(r / sin(angle), rel=1e-9)
    assert perimeter(pattern) == pytest.approx(pi * (r + s) + 2.0 * high / cos(angle), rel=1e-9)


def test_the_hollow_face_is_the_back_where_the_outline_curves_inward() -> None:
    built = edged(HOLLOW)
    (bent,) = [edge for edge in built.lined.edges if edge.stretch.bent]
    drawn = (300**2 + 120**2) / (2 * 120) / 1000
    assert bent.stretch.tightest.arc().radius == pytest.approx(drawn)
    assert hollow_radius(bent.stretch, bent.thickness) == pytest.approx(drawn - bent.thickness)


def test_one_skin_serves_all_arcs_and_steel_only_the_tightest() -> None:
    tight = [{**SQUARE[0], "round": 40}, *ROUNDED[1:]]
    found = {
        edge.stretch.tightest.arc().radius: edge.stock.name
        for edge in edged(tight).lined.edges
        if edge.stretch.bent
    }
    names = {round(radius, 3): name for radius, name in found.items()}
    assert names == {0.04: "steel 1", 0.15: "bending plywood 5"}


def test_an_arc_tighter_than_the_named_sheet_bends_is_named_with_its_place() -> None:
    tight = [{**SQUARE[0], "round": 60}, SQUARE[1], {**SQUARE[2], "round": 80}, SQUARE[3]]
    with pytest.raises(GeometryError) as refused:
        edged(tight, mold={"skin": "bending plywood 5"})
    words = str(refused.value)
    corner = 60.0 * (1.0 - cos(pi / 4.0))
    assert f"an arc of radius 60 mm (2 3/8 in) at x {corner:.1f} mm" in words
    assert "radius 80 mm" in words and "bends (100 mm" in words and "stacked" in words


def test_an_inner_corner_tighter_than_the_strip_is_named() -> None:
    notched = [*ELL[:3], {**ELL[3], "round": 90}, *ELL[4:]]
    with pytest.raises(GeometryError, match=r"an arc of radius 90 mm .* at x 326.4 mm, y 326.4 mm"):
        edged(notched, mold={"skin": "bending plywood 5"})


def test_a_sheet_of_which_nobody_says_how_it_bends_is_refused() -> None:
    with pytest.raises(StockError, match="nobody says how tightly hardboard 3 may be bent"):
        edged(ROUNDED, mold={"skin": "hardboard 3"})


def test_a_notch_too_narrow_for_two_strips_is_named_with_its_place() -> None:
    notch = [
        *SQUARE[:3],
        *({"x": x, "y": y} for x, y in ((320, 400), (320, 200), (290, 200), (290, 400))),
        SQUARE[3],
    ]
    with pytest.raises(GeometryError, match=r"need the same room at x (29|30|31|32)[0-9.]* mm"):
        edged(notch)


def test_an_edge_lower_than_every_stick_is_refused() -> None:
    with pytest.raises(StockError, match="lies lower than the edge"):
        edged(SQUARE, thickness=16)


def test_a_stick_on_edge_serves_where_it_is_wide_enough() -> None:
    built = edged(SQUARE, mold={"stick": "22x95"})
    assert {part.stock for part in strips(built)} == {"22x95"}
    assert all(part.kind == "stick" and part.blank.width == pytest.approx(0.06) for part in strips(built))
    assert any("a 2 x 4 on edge is 3 1/2 in" in line for line in built.mold.instructions)
    with pytest.raises(StockError, match=r"22x45 is 45 mm .* wide, the edge 60 mm"):
        edged(SQUARE, mold={"stick": "22x45"})


def test_long_edges_are_parted_where_the_sheet_ends() -> None:
    long = [{"x": x, "y": y} for x, y in ((0, 0), (3000, 0), (3000, 500), (0, 500))]
    built = edged(long)
    assert len(built.lined.edges) == 6
    sheets = {sheet.name: sheet for sheet in shop().sheets}
    for part in built.mold.parts:
        if part.kind == "panel":
            sheet = sheets[part.stock]
            assert part.blank.length <= sheet.length and part.blank.width <= sheet.width, part.name
    assert len([part for part in built.mold.parts if part.role == "base"]) == 2
    assert built.mold.cavity == pytest.approx(3.0 * 0.5 * 0.06)


def test_parting_a_stretch_keeps_its_length() -> None:
    built = edged(MOON, draft="5 deg")
    arcs = [edge.stretch for edge in built.lined.edges if edge.stretch.bent]
    whole = Stretch(
        tuple(leg for one in arcs for leg in one.foot), tuple(leg for one in arcs for leg in one.head)
    )
    for count in (1, 2, 3, 7):
        parts = parted(whole, whole.length / count * 1.0001)
        assert len(parts) == count
        assert sum(leg.length for one in parts for leg in one.foot) == pytest.approx(
            sum(leg.length for leg in whole.foot)
        )
        assert all(len(one.foot) == len(one.head) for one in parts)


def test_the_strips_of_every_shape_leave_though_they_lean() -> None:
    for points in SHAPES.values():
        built = edged(points, draft="8 deg")
        assert built.mold.locked == ()
        groups = [step.group for step in built.mold.stripping]
        assert groups[-1] == "base" and len(groups) == len(built.lined.edges) + 1


def test_a_core_is_laid_up_from_whole_layers_and_sawn_with_the_table_tilted() -> None:
    built = edged(SQUARE, holes=[{"x": 300, "y": 200, "diameter": 120}], hole_draft="4 deg")
    core = next(part for part in built.mold.parts if part.name == "core")
    assert core.layers * core.blank.thickness >= 0.06 - 1e-4
    assert core.blank.bevels == pytest.approx([radians(4.0)] * len(core.blank.bevels))
    r, s = 0.06, 0.06 - 0.06 * tan(radians(4.0))
    assert part_volume(core) == pytest.approx(pi * 0.06 / 3.0 * (r * r + r * s + s * s))
    step = next(step for step in built.mold.stripping if step.group == "core")
    assert step.draft == pytest.approx(radians(4.0))


def test_the_edge_strip_fills_the_chamfer() -> None:
    built = edged(SQUARE, chamfer=10)
    strip = next(part for part in built.mold.parts if part.role == "strip")
    base, inner, c = 0.24, 0.58 * 0.38, 0.01
    prismatoid = c / 6.0 * (inner + 4.0 * 0.59 * 0.39 + base)
    assert part_volume(strip) == pytest.approx(base * c - prismatoid)
    assert strip.blank.length == pytest.approx(2.0)
    bought = next(line for line in built.mold.hardware if line.item == "chamfer strip")
    assert bought.size == "10 mm x 10 mm" and bought.quantity == pytest.approx(2.0)


def found(built: Built, name: str) -> Check:
    return next(one for one in checks(built) if isinstance(one, Check) and one.name.startswith(name))


def test_the_push_on_a_wet_edge_by_hand() -> None:
    """Statics: the triangle of the head on the length of edge that the worst block holds, on two screws."""
    built = edged(SQUARE)
    check = found(built, "wet edge held out")
    worst = max(bays(built), key=lambda one: one.share)
    head = 848.0 * 9.80665 * 0.06
    assert check.demand == pytest.approx(head * 0.06 / 2.0 * worst.share / 2.0, rel=1e-6)
    tipped = found(built, "blocks held down")
    push, deep = head * 0.06 / 2.0 * worst.share, built.timber.deep
    under = head * worst.edge.thickness * worst.share
    assert tipped.demand == pytest.approx((push * 0.02 / (deep / 2.0) + 1.5 * under) / 2.0, rel=1e-6)


def test_blocks_far_apart_fail_the_wet_edge_and_the_strips() -> None:
    """The same mold with one block on each strip and twice the density of any mix."""
    built = edged(ELL, thickness=400)
    heavy = replace(built.lined, load=replace(built.lined.load, density=6000.0))
    few = tuple({block.edge: block for block in built.blocks}.values())
    spoiled = replace(built, lined=heavy, blocks=few)
    for name in ("wet edge held out", "blocks held down", "straight strips", "strips held down"):
        assert not found(spoiled, name).ok, name
        assert found(spoiled, name).remedy
    assert found(built, "wet edge held out").ok


def test_a_core_that_floats_fails_its_screws() -> None:
    built = edged(SQUARE, holes=[{"x": 300, "y": 200, "diameter": 120}])
    assert found(built, "core held down").ok
    joint_of = built.screws["core"]
    shallow = {**built.screws, "core": replace(joint_of, bite=replace(joint_of.bite, into=1e-4))}
    heavy = replace(built.lined, load=replace(built.lined.load, density=6000.0))
    assert not found(replace(built, lined=heavy, screws=shallow), "core held down").ok


def test_a_strip_bent_beyond_its_limit_fails() -> None:
    built = edged(ROUNDED)
    assert found(built, "strips bend round").demand == pytest.approx(0.1 / 0.15)
    stiff = tuple(replace(edge, limit=0.2) if edge.stretch.bent else edge for edge in built.lined.edges)
    assert not found(replace(built, lined=replace(built.lined, edges=stiff)), "strips bend round").ok


def test_the_pull_along_a_bent_strip_by_hand() -> None:
    """Statics of a band: p R / t, under the tension the shop gives for the sheet."""
    built = edged(ROUNDED)
    known = tuple(
        replace(edge, stock=replace(edge.stock, tension=2e6))
        if isinstance(edge.stock, SheetStock) and edge.stretch.bent
        else edge
        for edge in built.lined.edges
    )
    check = found(replace(built, lined=replace(built.lined, edges=known)), "bent strips pulled")
    head = 848.0 * 9.80665 * 0.06
    assert check.demand == pytest.approx(head * 0.15 / 0.005 / 1e6, rel=1e-6)
    assert check.capacity == 2.0


def test_a_mold_of_the_shop_is_not_screwed_again() -> None:
    built = edged(SQUARE)
    own = replace(built, screws={})
    names = [one.name for one in checks(own) if not isinstance(one, Check)]
    assert "wet edge held out" in names


def test_the_mold_says_that_it_reads_mirrored() -> None:
    words = " ".join(edged(ELL).mold.instructions)
    assert "reads mirrored, because the good face lies down" in words


def test_holes_and_draft_reach_every_number_of_the_mold() -> None:
    built = edged(ROUNDED, draft="5 deg", chamfer=8, holes=[{"x": 300, "y": 200, "diameter": 100}])
    body = built.lined.outside
    lean = atan(0.06 * tan(radians(5.0)) / 0.06)
    assert built.lined.lean == pytest.approx(lean)
    head = body.top
    sides = (perimeter(body.outline) + perimeter(head)) / 2.0 * 0.06 / cos(lean)
    core = pi * (0.1 - 0.06 * tan(radians(3.0))) * hypot(0.06, 0.06 * tan(radians(3.0)))
    assert built.mold.wetted == pytest.approx(area(body.outline) - pi * 0.0025 + sides + core)
    assert built.mold.under < built.mold.mass


@st.composite
def any_outline(draw: st.DrawFn) -> dict[str, Any]:
    """Three to eight corners round a middle, some rounded, some with an arc to the next, some of it impossible."""
    count = draw(st.integers(3, 8))
    points: list[dict[str, float]] = []
    for k in range(count):
        angle = 2.0 * pi * (k + draw(st.floats(-0.3, 0.3))) / count
        far = draw(st.floats(200.0, 700.0))
        corner = {"x": round(far * cos(angle), 1), "y": round(far * sin(angle), 1)}
        match draw(st.integers(0, 4)):
            case 0:
                corner["round"] = draw(st.sampled_from([20.0, 110.0, 150.0]))
            case 1:
                corner["bulge"] = round(draw(st.floats(-0.5, 0.9)), 3)
        points.append(corner)
    return {
        "points": points,
        "draft": f"{draw(st.sampled_from([0, 0, 3, 8]))} deg",
        "chamfer": draw(st.sampled_from([0, 0, 8])),
    }


@given(keys=any_outline(), skin=st.sampled_from([None, None, "bending plywood 5", "MDF 12"]))
@settings(max_examples=60, deadline=None)
def test_any_outline_closes_and_comes_off_or_is_refused_in_words(
    keys: dict[str, Any], skin: str | None
) -> None:
    points = keys.pop("points")
    try:
        built = edged(points, mold={"skin": skin}, **keys)
    except (GeometryError, StockError) as refused:
        assert str(refused).startswith("piece: ")
        return
    assert built.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)
    assert built.mold.locked == ()
    assert len({part.name for part in built.mold.parts}) == len(built.mold.parts)
