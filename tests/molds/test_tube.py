"""Cast in a tube: which tube is taken, what is built round it, how it comes off, how many are bought."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from formwork.checks.all import check
from formwork.cutting.cut_list import cut_list
from formwork.cutting.layouts import Yard, lay_out
from formwork.errors import GeometryError, StockError
from formwork.geometry.cavity import Solid, overlaps
from formwork.geometry.outlines import rectangle
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.molds import tube
from formwork.molds.asked import Asked
from formwork.molds.design import brace, line
from formwork.molds.load import Load
from formwork.molds.tubes.lifts import tube_lift
from formwork.molds.weighing import mass
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes.column import SHAPE
from formwork.shapes.piece import Curved, CurvedFormer, Piece, Plug
from formwork.stock.records import Saw, StickLength
from formwork.stock.tubes import TubeStock
from tests.drawn import parameters
from tests.workshop import mix, shop

PIER = {"diameter": 300, "height": 900}
CARD = TubeStock(
    "card 300", "cardboard", "300 mm", 0.3, 0.3, 0.308, 0.004, (StickLength(3.0), StickLength(1.2)), 700.0
)
PLASTIC = replace(
    CARD, name="plastic 150", kind="plastic pipe", nominal="", size=0.0, inside=0.14, outside=0.15, wall=0.005
)


def built(keys=None, *, tubes=(CARD, PLASTIC), count=4, molds=2, density=800.0, **options):
    found = parameters(SHAPE, {**PIER, **(keys or {})})
    order = PieceOrder("pier", "column", found, count, molds, MoldOptions(method="tube", **options))
    own = replace(shop(), tubes=tubes)
    return brace(line(order, own, mix(density), "mm")[0])


def used(off):
    """The tube that can be used so."""
    return (replace(CARD, kind="plastic pipe") if off == "drawn" else CARD, PLASTIC)


def part(made, name):
    return next(one for one in made.mold.parts if one.name == name)


@pytest.mark.parametrize(
    "keys", [{}, {"hole": 150}, {"chamfer": 20}, {"hole": 150, "chamfer": 15, "height": 500}]
)
@pytest.mark.parametrize("off", [None, "slit", "drawn"])
def test_the_parts_enclose_the_piece_and_nothing_stands_in_anything(keys, off):
    made = built(keys, tubes=used(off), tube_off=off)
    assert made.leaks == ()
    assert made.mold.cavity == pytest.approx(made.mold.nominal, rel=1e-9)
    sticks = [Solid(one.name, one.cells) for one in made.mold.parts if one.cells]
    assert overlaps(made.mold.planes, sticks) == []
    for one in made.mold.parts:
        if one.cells and one.role in ("cleat", "rail", "strut"):
            reach = min((x * x + y * y) ** 0.5 for cell in one.cells for x, y, _ in cell.points())
            assert reach > 0.154 - 1e-9, one.name


def test_sticks_touch_the_tube_and_none_cuts_into_it():
    """The least distance of each frame's sticks from the axis is the tube's outside radius, face on."""
    made = built()
    for one in made.mold.parts:
        if one.name.startswith(("foot frame", "collar")):
            low, high = one.cells[0].box()
            gaps = [max(low[i], -high[i]) for i in (0, 1)]
            assert max(gaps) == pytest.approx(0.154), one.name


def test_braces_are_square_to_one_another_and_stand_on_the_ground_under_the_plate():
    made = built({"height": 2400})
    lows = [part(made, f"brace {side}").cells[0].box()[0][2] for side in ("right", "front")]
    under = part(made, "plate").cells[0].box()[0][2]
    assert lows == pytest.approx([under, under])
    assert part(made, "brace right").cells[0].box()[1][0] > 1.0
    assert part(made, "brace front").cells[0].box()[0][1] < -1.0


def test_a_low_one_has_no_braces():
    made = built({"height": 500})
    assert not any(one.name.startswith(("brace", "collar")) for one in made.mold.parts)
    assert "pushed over" in {one.name for one in check([made])[1]}


@pytest.mark.parametrize(("off", "quantity"), [(None, 7), ("cut away", 7), ("slit", 2), ("drawn", 2)])
def test_a_tube_a_piece_where_it_is_cut_away(off, quantity):
    made = built(tubes=used(off), count=7, molds=2, tube_off=off)
    lines = cut_list([(made.mold, made.order.cast)])
    assert next(one for one in lines if one.part.name == "tube").quantity == quantity
    assert next(one for one in lines if one.part.name == "plate").quantity == 2


def test_a_mold_the_shop_owns_still_takes_its_tubes():
    made = built(count=5)
    lines = cut_list([(replace(made.mold, owned=True), 5)])
    assert [(one.part.name, one.quantity) for one in lines] == [("tube", 5)]


@pytest.mark.parametrize(("out", "spent"), [("slit", False), ("split", False), ("left in", True)])
def test_a_core_tube_is_measured_outside_and_says_how_it_gets_out(out, spent):
    made = built({"hole": 150}, core_out=out)
    core = part(made, "core tube")
    assert core.blank.width == pytest.approx(0.15)
    assert core.spent is spent
    step = next(one for one in made.mold.stripping if one.group == "core tube")
    assert step.note and any("core tube" in line.lower() for line in made.mold.instructions)


def test_a_wrapped_core_is_thinner_by_its_wrap():
    made = built({"hole": 156}, core_out="wrapped")
    assert part(made, "core tube").blank.width == pytest.approx(0.15)
    assert any(line.item == "foam underlay" for line in made.mold.hardware)


def test_a_tube_left_in_is_no_concrete_and_weighs_with_the_piece():
    made = built({"hole": 150}, core_out="left in")
    assert made.mold.nominal == pytest.approx(pi / 4.0 * (0.3**2 - 0.15**2) * 0.9)
    (tube,) = [thing for thing in made.mold.piece.embedded if thing.kind == "sleeve"]
    assert tube.volume == 0.0
    assert tube.mass == pytest.approx(700.0 * pi * 0.145 * 0.005 * 0.9)


def test_steel_neither_springs_nor_is_sawn():
    steel = replace(PLASTIC, name="steel 150", kind="steel")
    with pytest.raises(StockError, match='core_out = "wrapped" or "left in"'):
        built({"hole": 150}, tubes=(CARD, steel), core_out="slit")
    assert part(built({"hole": 156}, tubes=(CARD, steel)), "core tube").blank.width == pytest.approx(0.15)


def test_what_was_measured_is_taken_and_not_the_label():
    narrow = replace(CARD, name="narrow", inside=0.296, outside=0.304)
    with pytest.raises(StockError) as refused:
        built(tubes=(narrow, PLASTIC))
    assert "narrow measures 296 mm inside" in str(refused.value)
    assert part(built({"diameter": 296}, tubes=(narrow, PLASTIC)), "tube").stock == "narrow"


def test_a_measured_tube_goes_before_one_that_nobody_measured():
    label_only = replace(CARD, name="label", inside=None, outside=None)
    made = built(tubes=(label_only, CARD, PLASTIC))
    assert part(made, "tube").stock == "card 300"
    trusted = built(tubes=(label_only, PLASTIC))
    why = {one.name: one.why for one in check([trusted])[1]}
    assert "its label, 300 mm, is no measure" in why["tube as measured"]
    assert any("nobody has measured label" in line for line in trusted.mold.instructions)


@pytest.mark.parametrize(
    ("keys", "options", "said"),
    [
        ({"diameter": 310}, {}, "card 300 measures 300 mm inside"),
        ({"height": 3500}, {}, "reaches 3500 mm from plate to brim: the longest is 3000 mm"),
        ({"hole": 120}, {}, "plastic 150 measures 150 mm"),
        ({"shrinkage": 0.002}, {}, "300.6 mm inside"),
        ({"diameter": 140}, {"tube": "card 300"}, "and this tube does not fit"),
    ],
)
def test_no_tube_that_fits_is_a_refusal_that_names_the_nearest(keys, options, said):
    with pytest.raises(StockError, match=said) as refused:
        built(keys, **options)
    assert str(refused.value).startswith("pier: ")


def test_a_conical_one_is_sent_to_another_method():
    with pytest.raises(
        GeometryError, match=r'300 mm .* lower end and 250 mm .* upper one.*method = "wrapped"'
    ):
        built({"top_diameter": 250})


def test_no_tubes_at_all():
    with pytest.raises(StockError, match="lists no tubes"):
        built(tubes=())


def test_lift_of_the_wall_by_hand():
    """10 ft of 150 lb/ft3: 1500 lb/ft2 at the foot (University of Florida lecture); a ring of 10 in inside, wall 1/8."""
    pcf, inch, pound = 16.018463, 0.0254, 4.4482216
    load = Load(150.0 * pcf, 120.0 * inch)
    found = tube_lift(load, 5.0 * inch, 5.125 * inch)
    ring = pi * (5.125**2 - 5.0**2) / 144.0
    assert found.force / pound == pytest.approx(1500.0 * ring, rel=1e-5)


def test_a_slit_tube_is_strapped_by_the_hoop_tension():
    made = built(tube_off="slit", density=1500.0)
    straps = made.straps
    pressure = made.lined.asked.load.pressure(0.0)
    assert straps.tension == pytest.approx(pressure * 0.15 * 0.9 / straps.count)
    assert 0.9 / straps.count <= 0.3 + 1e-9
    assert any(line.item == "strap" and line.quantity == straps.count for line in made.mold.hardware)


def planter(down, **options):
    """A round planter of the drawing board, with upright sides: core and plugs as the shape of that name lays them out."""
    outside = Turned(rectangle((0.0, 0.0), (0.25, 0.4)))
    ends, seat = ((0.0, 0.355), "base") if down == "rim" else ((0.045, 0.4), "hung")
    core = CurvedFormer("core", "core", Turned(rectangle((0.0, ends[0]), (0.21, ends[1]))), "box", seat)
    foot, held = (
        ((0.05, 0.0, 0.355), ("former", "core")) if down == "rim" else ((0.05, 0.0, 0.0), ("base", ""))
    )
    plug = Plug("drain plug 1", Round(foot, (0.0, 0.0, 1.0), 0.045, 0.0125, 0.011), *held)
    piece = Piece(
        "planter",
        "round planter",
        Curved(outside, (core,), 0.4),
        (plug,),
        ((0.0, 0.23, 0.2),),
        down == "rim",
        (),
    )
    own = replace(
        shop(),
        tubes=(
            replace(CARD, name="wide", inside=0.5, outside=0.512, wall=0.006),
            replace(CARD, name="core", inside=0.41, outside=0.42, wall=0.005),
        ),
    )
    options = {"method": "tube", **options}
    order = PieceOrder("planter", "round planter", parameters(SHAPE, PIER), 3, 1, MoldOptions(**options))
    return tube.brace(tube.lined(Asked(order, piece, own, Load(848.0, 0.4), 3, False, "mm")))


@pytest.mark.parametrize("down", ["rim", "floor"])
@pytest.mark.parametrize("out", [None, "slit", "split"])
def test_a_straight_planter_round_a_core_tube(down, out):
    made = planter(down, core_out=out)
    assert made.leaks == ()
    assert made.mold.cavity == pytest.approx(made.mold.nominal, rel=1e-9)
    assert made.mold.nominal == pytest.approx(
        pi * (0.25**2 * 0.4 - 0.21**2 * 0.355) - pi * 0.045 * (0.0125**2 + 0.0125 * 0.011 + 0.011**2) / 3.0
    )
    order = [step.group for step in made.mold.stripping]
    assert order == (
        ["cage", "core tube", "tube", "base"] if down == "floor" else ["cage", "tube", "base", "core tube"]
    )
    checks = {one.name: one for one in check([made])[0]}
    assert all(one.ok for one in checks.values())
    held = checks["core held down" if down == "rim" else "tube held down"]
    assert held.demand >= 1.5 * 848.0 * 9.80665 * pi * 0.21**2 * 0.355


def test_a_core_from_foot_to_top_is_drawn_first_before_the_concrete_shrinks_onto_it():
    steps = [step.group for step in built({"hole": 150}).mold.stripping]
    assert steps == ["cage", "core tube", "tube", "base"]


def test_the_disc_under_a_cap_lets_the_tube_spring_in():
    made = planter("rim")
    disc, core = part(made, "disc under the cap"), part(made, "core tube")
    assert disc.blank.width < core.blank.width - 2.0 * core.blank.wall - 0.003


def test_a_tube_left_in_would_lock_the_cap():
    with pytest.raises(GeometryError, match="its cap would not come out"):
        planter("rim", core_out="left in")


def test_what_leaves_downward_is_turned_over_with_the_piece():
    made = planter("rim")
    assert made.mold.under > mass([part(made, "plate"), part(made, "core tube")], made.lined.asked.shop)


@pytest.mark.parametrize(
    ("kind", "off", "said"),
    [
        ("cardboard", "drawn", "wet cardboard swells and grips"),
        ("steel", "slit", "does not spring open"),
        ("steel", None, "is not cut away"),
    ],
)
def test_a_tube_that_cannot_leave_as_it_is_asked_to_is_refused(kind, off, said):
    with pytest.raises(GeometryError, match=said):
        built(tubes=(replace(CARD, kind=kind), PLASTIC), tube_off=off)


@pytest.mark.parametrize(
    "options", [{"core_tube": "plastic 150"}, {"core_out": "slit"}, {"strap": "ratchet"}]
)
def test_a_key_with_nothing_to_do_is_refused(options):
    (key,) = options
    with pytest.raises(GeometryError, match=f"mold.{key}: got .* want nothing"):
        built(**options)


@pytest.mark.parametrize("height", [700, 1500, 2900])
def test_the_stick_is_one_whose_crossings_have_room_for_enough_screws(height):
    made = built({"height": height})
    for joint in made.joints:
        assert joint.used <= 1.0, joint.fastening.joint.use
        if joint.across and joint.fastening.item == "screw":
            assert joint.each * 0.02**2 <= made.cage.stick.width**2, "a square of 20 mm for each"


def test_a_mold_of_many_uses_is_bolted():
    made = built(tubes=used("drawn"), tube_off="drawn", count=40, molds=1)
    joint = next(one for one in made.joints if one.fastening.joint.use == "hold-down bar to uprights")
    assert joint.fastening.item == "bolt"


def test_a_tube_as_long_as_it_is_sold_is_not_trimmed():
    """Tubes come square from the factory: 1.2 m of tube is cut from 1.2 m, 3 x 1 m from 3 m but for the two cuts."""
    for height, quantity, sold in ((1200, 1, 1.2), (998, 3, 3.0)):
        made = built({"height": height}, count=quantity, molds=1)
        line = next(one for one in cut_list([(made.mold, quantity)]) if one.part.name == "tube")
        yard = Yard((), tuple(one.stick for one in (CARD,)), Saw(0.003, 0.005, 0.005), str, {})
        (layout,) = lay_out([line], yard).sticks
        assert (layout.length, len(layout.cuts) * layout.count) == (sold, quantity)


@pytest.mark.parametrize("keys", [{}, {"hole": 150}, {"hole": 150, "chamfer": 15, "height": 500}])
def test_a_tube_is_put_together_in_an_order_that_can_be_done(keys: dict[str, object]) -> None:
    """What is reached from below comes before the plate lies on the floor, oil before the tube stands."""
    told = [step.text for step in built(keys).mold.steps]

    def at(words: str) -> int:
        return next(i for i, said in enumerate(told) if words in said)

    down = at("level both ways on firm ground")
    assert at("plate to the frame from below") < down < at("stand the tube in it")
    assert all(
        i < down for i, said in enumerate(told) if "from below" in said or "with the rod, through" in said
    )
    assert at("swab on a stick") < at("stand the tube in it")
    assert not any("sealant" in said and "inside and outside" in said for said in told)
