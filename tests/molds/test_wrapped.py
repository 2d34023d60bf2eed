"""The wrapped method: what stands where, staggered joints, ways off, straps, what it refuses."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import atan2, cos, hypot, pi, tau

import pytest

from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import box, flattened, polygon
from formwork.geometry.turned import Turned
from formwork.molds.asked import Asked
from formwork.molds.coaxial import coaxial_cavity
from formwork.molds.load import load_of
from formwork.molds.mold import Part
from formwork.molds.wrapped import WrappedMold, brace, lined
from formwork.project.records import MoldOptions, PieceOrder, Shop
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Curved, Piece
from formwork.shapes.round_planter import SHAPE
from formwork.stock.records import SheetStock, StrapStock
from tests.drawn import parameters, single
from tests.workshop import mix, shop

PLANTER = {"diameter": 640, "base_diameter": 520, "height": 420, "wall": 50, "floor": 50, "drain_holes": 3}


def mold_of(
    piece: Piece, own: Shop | None = None, density: float = 800.0, uses: int = 4, **options: object
) -> WrappedMold:
    order = PieceOrder("piece", piece.shape, Parameters(), 4, 1, MoldOptions(method="wrapped", **options))
    load = load_of(mix(density), piece.form.fill)
    return brace(lined(Asked(order, piece, own or shop(), load, uses, False, "mm")))


def planter(**keys: object) -> Piece:
    return single(SHAPE, parameters(SHAPE, {**PLANTER, **keys}))


def post(*corners: tuple[float, float]) -> Piece:
    """A solid round piece without a core."""
    profile = polygon(((0.0, corners[0][1]), *corners, (0.0, corners[-1][1])))
    fill = corners[-1][1]
    return Piece("piece", "post", Curved(Turned(profile), (), fill), (), ((0.0, 0.0, fill / 2.0),), False, ())


def strapped(lashing: float = 5000.0, length: float = 4.0) -> Shop:
    return replace(shop(), straps=(StrapStock("strap 25", lashing, None, False, length, 9.0),))


def of_role(built: WrappedMold, role: str) -> list[Part]:
    return [part for part in built.mold.parts if part.role == role]


def reach(part: Part) -> tuple[float, float]:
    """Least and greatest distance of a level part from the axis."""
    away = [
        (x * x + y * y) ** 0.5
        for body in part.prisms
        for outline in (body.outline, body.top)
        for x, y in flattened(outline, 1e-6)
    ]
    return min(away), max(away)


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_it_closes_and_comes_off(down: str) -> None:
    built = mold_of(planter(down=down))
    assert built.leaks == () and built.mold.locked == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-7)


def test_a_solid_post_of_two_sides() -> None:
    built = mold_of(post((0.15, 0.0), (0.15, 0.1), (0.12, 0.6)))
    assert built.leaks == ()
    nominal = pi * 0.15**2 * 0.1 + pi * 0.5 / 3.0 * (0.15**2 + 0.15 * 0.12 + 0.12**2)
    assert built.mold.cavity == pytest.approx(nominal, rel=1e-7)
    assert not of_role(built, "core cap") and len(built.heights) == 2


def test_a_post_higher_than_the_sheet_has_its_skin_in_tiers_between_two_rings() -> None:
    built = mold_of(post((0.15, 0.0), (0.12, 2.4)), skin="steel 1")
    assert built.lined.shell.skin.tiers == 2 and len(built.lined.sides) == 2
    lower, upper = built.heights
    assert upper[0] - lower[-1] == pytest.approx(2 * built.lined.stocks.sheet.thickness)
    assert built.leaks == ()


def test_a_taken_away_panel_leaks() -> None:
    """The proof that the cavity comes from the parts: with a panel of the skin left out it does not close."""
    built = mold_of(planter())
    parts = [part for part in built.mold.parts if part.name != "back shell skin"]
    found = coaxial_cavity(parts, 0.42, built.mold.piece.pour_points)
    assert any("open over 180.0 degrees" in leak for leak in found.leaks)


def test_rings_lie_on_the_skin_and_stop_at_the_battens() -> None:
    built = mold_of(planter(down="floor"))
    side = built.lined.shell.outside(built.lined.sides[0])
    batten = built.lined.shell.batten
    for ring in of_role(built, "ring"):
        (body,) = ring.prisms
        low = body.origin[2]
        near, far = reach(ring)
        assert near == pytest.approx(min(side.radius(low), side.radius(low + body.height)), abs=1e-6)
        assert far >= side.radius(low) + batten.deep
        ends = [abs(body.place(x, y, 0.0)[1]) for x, y in body.outline.points]
        assert min(ends) >= batten.thick - 1e-9


def test_both_shells_are_the_same_turned_half_round() -> None:
    built = mold_of(planter())
    back = [part for part in built.mold.parts if part.group == "back shell"]
    front = [part for part in built.mold.parts if part.group == "front shell"]
    assert len(back) == len(front)
    for one, other in zip(back, front, strict=True):
        assert one.blank == other.blank
        for near, far in zip(one.prisms, other.prisms, strict=True):
            (x, y, z), (u, v, w) = near.place(0.1, 0.2, 0.01), far.place(0.1, 0.2, 0.01)
            assert (x, y, z) == pytest.approx((-u, -v, w))


def test_joints_of_the_two_layers_of_a_ring_never_meet() -> None:
    """Rings too large for one piece a half: the joints of one layer stand away from those of the other."""
    small = tuple(
        replace(sheet, length=1.22, width=1.22) if sheet.name == "plywood 18" else sheet
        for sheet in shop().sheets
    )
    built = mold_of(post((0.48, 0.0), (0.48, 0.4)), replace(shop(), sheets=small))
    joints: dict[str, set[float]] = {"lower": set(), "upper": set()}
    for ring in of_role(built, "ring"):
        if "ring 1," in ring.name and ring.group == "back shell":
            (body,) = ring.prisms
            for x, y in (body.outline.points[0], body.outline.points[2]):
                angle = atan2(y, x)
                if 0.2 < angle < pi - 0.2:
                    joints["lower" if "lower" in ring.name else "upper"].add(round(angle, 6))
    if joints["lower"] or joints["upper"]:
        assert min(abs(a - b) for a in joints["lower"] for b in joints["upper"]) > 0.3


def test_the_skin_goes_right_round_under_its_face() -> None:
    built = mold_of(planter())
    turns = sum(body.sweep for part in of_role(built, "skin") if "shell" in part.name for body in part.turned)
    assert turns == pytest.approx(tau)


def test_rings_stand_closer_where_the_mix_presses_more() -> None:
    piece, own = post((0.25, 0.0), (0.25, 1.8)), strapped(lashing=1200.0)
    (heights,) = mold_of(piece, own, density=1600.0, strap="strap 25").heights
    bays = [high - low for low, high in pairwise(heights)]
    assert len(heights) > 5 and bays[0] < bays[-1]
    assert all(below <= above + 1e-9 for below, above in pairwise(bays))


def test_a_core_that_widens_the_wrong_way_is_locked_and_says_why() -> None:
    piece = planter(down="rim")
    form = piece.form
    assert isinstance(form, Curved)
    (core,) = form.formers
    wrong = replace(core, body=Turned(polygon(((0.0, 0.0), (0.2, 0.0), (0.22, 0.37), (0.0, 0.37)))))
    built = mold_of(replace(piece, form=replace(form, formers=(wrong,)), plugs=()))
    assert [name for name, _ in built.mold.locked] == ["core"]
    assert "wider where it should come out last" in built.mold.locked[0][1]


def test_draft_of_the_core_is_the_lean_of_its_side() -> None:
    for down in ("rim", "floor"):
        built = mold_of(planter(down=down))
        step = next(step for step in built.mold.stripping if step.group == "core")
        assert step.draft == pytest.approx(atan2(0.06, 0.42), abs=1e-9)
        assert step.way[2] == (1.0 if down == "floor" else -1.0)


def test_straps_are_bought_by_name_or_by_what_their_label_must_say() -> None:
    named = next(line for line in mold_of(planter(), strapped()).mold.hardware if line.item == "strap")
    unnamed = next(line for line in mold_of(planter()).mold.hardware if line.item == "strap")
    assert named.size == "strap 25" and "working load" in unnamed.size
    assert named.quantity == unnamed.quantity == sum(len(some) for some in mold_of(planter()).heights)


def test_a_strap_that_does_not_reach_round_is_refused_where_it_is_named() -> None:
    with pytest.raises(StockError, match=r"strap 25 is 1200 mm long"):
        mold_of(planter(), strapped(length=1.2), strap="strap 25")
    assert mold_of(planter(), strapped(length=1.2)).lined.shell.strap is None


def test_the_blank_of_a_bevelled_ring_is_its_larger_face() -> None:
    built = mold_of(planter(down="floor"))
    lean = atan2(0.06, 0.42)
    for ring in of_role(built, "ring"):
        assert max(ring.blank.bevels) == pytest.approx(lean, abs=1e-6)
        assert ring.placement.into == (0.0, 0.0, 1.0), "it widens upward, so its lower face is the larger one"
    assert cos(lean) < 1.0


@pytest.mark.parametrize(
    ("piece", "words"),
    [
        (post((0.75, 0.0), (0.75, 0.5)), "does not fit the sheet"),
        (post((0.2, 0.0), (0.2, 0.5), (0.2, 0.52)), None),
        (post((0.2, 0.0), (0.2, 0.5), (0.21, 0.52)), "a ring of two layers needs"),
        (post((0.02, 0.0), (0.02, 0.5)), "name a thinner stick"),
    ],
)
def test_what_cannot_be_built_is_refused_in_words(piece: Piece, words: str | None) -> None:
    if words is None:
        assert mold_of(piece).leaks == ()
    else:
        with pytest.raises((GeometryError, StockError), match=words):
            mold_of(piece)


def test_no_sheet_that_bends_is_refused_with_each_ones_reason() -> None:
    thick = tuple(sheet for sheet in shop().sheets if sheet.thickness > 0.01)
    with pytest.raises(StockError, match=r"no sheet of the shop bends round the outside.*plywood 12"):
        mold_of(planter(), replace(shop(), sheets=thick))


def test_a_named_skin_too_stiff_for_the_core_still_serves_outside() -> None:
    stiff = SheetStock("stiff", "hardboard", "3 mm", 0.003, True, 2.44, 1.22, grain=False, bend_radius=0.25)
    own = replace(shop(), sheets=(*shop().sheets, stiff))
    built = mold_of(planter(), own, skin="stiff")
    assert built.lined.shell.skin.sheet.name == "stiff"
    assert built.lined.core is not None and built.lined.core.skin.sheet.name != "stiff"


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_a_straight_core_comes_out_in_ribs_skin_and_cap(down: str) -> None:
    built = mold_of(planter(base_diameter=640, core_draft=0, down=down))
    assert built.leaks == () and built.mold.locked == ()
    order = [step.group for step in built.mold.stripping]
    assert [one for one in order if one.startswith("core")] == ["core ribs", "core skin", "core cap"]
    assert order[0] == ("core ribs" if down == "floor" else "front shell")
    assert {part.group for part in built.mold.parts} == set(order)
    assert not any("cover" in part.name and "core" in part.name for part in built.mold.parts), (
        "ribs slide past"
    )
    assert any(line.item == "tape" for line in built.mold.hardware)
    assert any("comes out in parts" in line for line in built.mold.instructions)


def test_ribs_that_slide_out_meet_no_part_of_the_skin_on_their_way() -> None:
    built = mold_of(planter(base_diameter=640, core_draft="1 deg", down="floor"))
    core = built.lined.core
    assert core is not None and core.apart
    for rib in (part for part in of_role(built, "core rib") if part.kind == "panel"):
        (body,) = rib.turned
        low, high = body.box()[0][2], body.box()[1][2]
        widest = body.box()[1][0]
        assert widest <= core.inside.radius(high) + 1e-9
        assert all(core.inside.radius(z) >= widest - 1e-3 for z in (low, high, core.face.head[1]))


def test_stringers_stand_inside_the_openings_of_all_ribs() -> None:
    built = mold_of(planter(base_diameter=640, core_draft=0))
    openings = [part.blank.openings[0] for part in of_role(built, "core rib") if part.kind == "panel"]
    least = min((box(one)[1][0] - box(one)[0][0]) / 2.0 for one in openings)
    for part in of_role(built, "core rib"):
        if part.kind == "stick":
            assert max(hypot(x, y) for x, y in part.prisms[0].outline.points) <= least + 1e-9


def test_a_straight_core_too_narrow_for_stringers_is_refused() -> None:
    with pytest.raises(GeometryError, match="must come out in parts, and its ribs"):
        mold_of(planter(diameter=260, base_diameter=260, wall=40, core_draft=0, drain_holes=0))


def test_the_skin_of_a_core_that_comes_out_in_parts_must_bend_a_little_tighter() -> None:
    """A bore of 540 across, a skin of 3 mm, 5 mm off the concrete: its hollow face comes to 262 mm."""
    straight = planter(base_diameter=640, core_draft=0)
    outer = SheetStock("outer", "hardboard", "3 mm", 0.003, True, 2.44, 1.22, grain=False, bend_radius=0.3)
    boards = tuple(sheet for sheet in shop().sheets if sheet.name == "plywood 18")

    def built_with(radius: float) -> WrappedMold:
        inner = SheetStock(
            "inner", "hardboard", "3 mm", 0.003, True, 2.44, 1.22, grain=False, bend_radius=radius
        )
        return mold_of(straight, replace(shop(), sheets=(*boards, outer, inner)))

    assert built_with(0.262).lined.core is not None
    with pytest.raises(StockError, match="no sheet of the shop bends round the core"):
        built_with(0.265)
