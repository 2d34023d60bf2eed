"""The centre of an arch: stones lie on its battens, its parts fit together, and it carries what it is judged for."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import cos, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.centring import centre_checks
from formwork.checks.check import Check
from formwork.cutting.cut_list import cut_list
from formwork.errors import GeometryError
from formwork.geometry.cells import meet
from formwork.geometry.outlines import area
from formwork.geometry.vectors import dot, sub
from formwork.molds.arches.centring import centred
from formwork.molds.structure import BuiltCentre
from formwork.molds.weighing import part_volume
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import arch
from formwork.shapes.piece import Centre, Lot
from formwork.strength.sheet_ribs import SheetRib, least_depth, rib_bending
from tests.drawn import parameters
from tests.workshop import mix, shop

GATE = {"span": 1200, "rise": 400, "ring": 200, "width": 240, "stones": 11, "joint": 8}


def centre(density: float = 1600.0, **keys: object) -> BuiltCentre:
    found = parameters(arch.SHAPE, {**GATE, **keys})
    lot, made = arch.SHAPE.lay_out(found, "arch")
    assert isinstance(lot, Lot) and isinstance(made, Centre)
    order = PieceOrder("arch", "arch", found, 1, 1, MoldOptions())
    return centred(order, made, shop(), mix(density), "mm")


def test_it_can_be_left_out() -> None:
    found = arch.SHAPE.lay_out(parameters(arch.SHAPE, {**GATE, "centre": False}), "arch")
    assert len(found) == 1


@given(
    span=st.floats(600, 3000),
    share=st.floats(0.2, 0.5),
    stones=st.sampled_from([7, 9, 13, 21]),
    width=st.floats(90, 600),
)
@settings(max_examples=40, deadline=None)
def test_every_flat_soffit_lies_on_its_battens_and_on_nothing_else(
    span: float, share: float, stones: int, width: float
) -> None:
    """No point of a batten stands above the plane of the soffit over it, and the nearest one is in that plane."""
    try:
        built = centre(span=round(span), rise=round(share * span), stones=stones, width=round(width))
    except GeometryError:
        return
    made = built.centre
    below = -built.radius * cos(made.turn * made.stones / 2.0)
    middle = (0.0, 0.0, below)
    battens = [part for part in built.parts if part.role == "batten"]
    each = len(battens) // made.stones
    for k in range(made.stones):
        lean = (k - (made.stones - 1) / 2.0) * made.turn
        up = (sin(lean), 0.0, cos(lean))
        own = battens[each * k : each * (k + 1)]
        reach = [max(dot(up, sub(p, middle)) for p in part.cells[0].points()) for part in own]
        assert reach == pytest.approx([made.soffit] * each, abs=1e-9)


def test_parts_stand_clear_of_one_another() -> None:
    """Sticks by their cells; ribs and battens by their radii; ribs and ties side by side along y."""
    built = centre()
    sticks = [part for part in built.parts if part.cells]
    for one, other in combinations(sticks, 2):
        assert meet(built.planes, one.cells[0], other.cells[0]) is None, (one.name, other.name)
    spans = {part.name: part.prisms[0].box() for part in built.parts if part.prisms}
    for tie in (part for part in built.parts if part.role == "tie"):
        (_, near, _), (_, far, _) = tie.cells[0].box()
        assert all(low[1] >= far - 1e-9 or high[1] <= near + 1e-9 for low, high in spans.values())


def test_a_rib_is_a_ring_sector_in_both_layers_and_joints_are_staggered() -> None:
    built = centre(span=3000, rise=700, stones=21, density=1700.0)
    assert built.through == 1
    turn = built.centre.turn * built.centre.stones
    whole = turn / 2.0 * (built.radius**2 - (built.radius - built.depth) ** 2)
    for layer in ("front", "back"):
        own = [part for part in built.parts if part.name.startswith(f"rib 1 {layer} layer")]
        assert sum(area(part.blank.edge) for part in own) == pytest.approx(whole, rel=1e-9)
        assert sum(map(part_volume, own)) == pytest.approx(whole * built.sheet.thickness, rel=1e-9)
    front, back = (
        sum(part.name.startswith(f"rib 1 {layer} layer") for part in built.parts)
        for layer in ("front", "back")
    )
    assert back == front + 1


@given(load=st.floats(100.0, 5000.0), span=st.floats(0.5, 4.0))
def test_the_least_depth_is_where_bending_comes_to_its_limit(load: float, span: float) -> None:
    section = centre().section
    depth = least_depth(section, 0.018, 2, load, span)  # type: ignore[arg-type]
    assert rib_bending(SheetRib(section, 0.018, 2, depth), load, span).utilisation == pytest.approx(1.0)  # type: ignore[arg-type]


def test_bending_of_a_rib_by_hand() -> None:
    """1 kN/m over 2 m: 500 N m; half of two layers of 18 mm is 18 mm wide, 150 deep: S = 67 500 mm3, 7.407 MPa."""
    section = centre().section
    verdict = rib_bending(SheetRib(section, 0.018, 2, 0.15), 1000.0, 2.0)  # type: ignore[arg-type]
    assert verdict.load == pytest.approx(500e3 / 67_500.0)


def test_it_carries_the_stones_and_says_how() -> None:
    built = centre()
    half = 0.21381912856 / 2.0
    wide = (0.65 + 0.85) * sin(half) - 0.008 / cos(half)
    stone = wide * 0.2 * cos(half) * 0.24
    assert built.weight == pytest.approx(11 * stone * 1600.0 * 9.80665, rel=1e-6)
    found = [one for one in centre_checks(built) if isinstance(one, Check)]
    assert {one.name for one in found} >= {"ribs: bending", "feet: screws of a foot", "ties on their wedges"}
    assert all(one.ok and one.working for one in found)
    assert any("Nobody stands or reaches under" in line for line in built.instructions)


@pytest.mark.parametrize("density", [600.0, 1200.0, 1800.0])
def test_heavier_stones_never_lower_a_percentage_of_the_same_centre(density: float) -> None:
    built = centre(density)
    heavy = replace(
        built, weight=1.2 * built.weight, batten=replace(built.batten, load=1.2 * built.batten.load)
    )
    before, after = (
        {one.name: one.utilisation for one in centre_checks(each) if isinstance(one, Check)}
        for each in (built, heavy)
    )
    assert all(after[name] > value for name, value in before.items())


def test_a_centre_has_lines_of_its_own_in_the_cut_list() -> None:
    lines = cut_list((), (centre(),))
    assert {line.mold for line in lines} == {"arch centre"}
    assert sum(line.quantity for line in lines) == len(centre().parts)
    assert [line.label for line in lines] == [f"A{k + 1}" for k in range(len(lines))]


@pytest.mark.parametrize(
    "keys", [{"span": 400, "rise": 60, "stones": 5}, {"span": 300, "rise": 150, "stones": 3}]
)
def test_an_arch_too_small_for_ribs_says_what_to_do(keys: dict[str, int]) -> None:
    with pytest.raises(GeometryError, match="centre = false"):
        centre(**keys)


def test_half_a_circle_stands_on_level_feet() -> None:
    built = centre(rise=600)
    assert built.centre.turn * built.centre.stones == pytest.approx(pi)
    assert radians(180.0) == pytest.approx(pi)
    assert built.span == pytest.approx(2.0 * built.radius)
