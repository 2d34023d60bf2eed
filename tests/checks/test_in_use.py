"""Planters full of wet soil: walls measured on paper, stresses by hand, and how plain the advice is."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.in_use import (
    SOILS,
    RoundWall,
    Wall,
    as_plate,
    as_ring,
    as_staves,
    as_strip,
    beside,
    in_use,
    tension,
    walls,
)
from formwork.geometry.outlines import polygon, rectangle
from formwork.geometry.turned import Turned
from formwork.shapes import block, many_sided, planter
from formwork.shapes.piece import Curved, CurvedFormer, Piece
from formwork.shapes.shape import Shape
from formwork.strength.customary import PCF
from tests.drawn import parameters
from tests.workshop import build, mix

G = 9.80665
BOX = {"length": 700, "width": 400, "height": 300, "wall": 50, "floor": 40, "core_draft": 0, "drain_holes": 0}
SIZES = st.floats(0.1, 1.5)


def piece_walls(shape: Shape, **keys: object) -> tuple[Wall, ...]:
    return walls(build(shape, parameters(shape, keys)).mold.piece)


def test_soils_are_the_published_ones() -> None:
    """100 lb/ft3 saturated soil mix, 125 lb/ft3 soaked earth."""
    assert [soil / PCF for soil in SOILS] == pytest.approx([100.0, 125.0], rel=1e-6)


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_walls_of_a_straight_box(down: str) -> None:
    """Inside 600 x 300 mm, 260 deep, 50 thick."""
    found = sorted(piece_walls(planter.SHAPE, **BOX, down=down), key=lambda wall: wall.width)
    assert [(w.width, w.depth, w.thickness) for w in found] == [
        pytest.approx((0.3, 0.26, 0.05)), pytest.approx((0.3, 0.26, 0.05)),
        pytest.approx((0.6, 0.26, 0.05)), pytest.approx((0.6, 0.26, 0.05)),
    ]  # fmt: skip


def test_a_rim_does_not_count_as_thickness() -> None:
    """The wall below the rim is 50 mm square to its face, however far the rim stands out."""
    found = piece_walls(planter.SHAPE, **BOX, rim_width=17.9, rim_height=50)
    assert all(wall.thickness == pytest.approx(0.05) for wall in found)


def round_pot(lean: float = 0.0) -> Piece:
    """400 across at the foot, a hollow of 300 that is 260 deep, walls leaning out by ``lean`` m in all."""
    outside = Turned(polygon(((0.0, 0.0), (0.2, 0.0), (0.2 + lean, 0.3), (0.0, 0.3))))
    core = Turned(rectangle((0.0, 0.04), (0.15, 0.3)))
    form = Curved(outside, (CurvedFormer("core", "core", core, "box", "hung"),), 0.3)
    return Piece("pot", "pot", form, (), ((0.18, 0.0, 0.1),), False, (), holds_soil=True)


def test_the_wall_of_a_round_pot() -> None:
    assert walls(round_pot()) == (RoundWall(pytest.approx(0.15), pytest.approx(0.26), pytest.approx(0.05)),)  # type: ignore[arg-type]
    (leaning,) = walls(round_pot(0.03))
    assert leaning.thickness == pytest.approx(0.05 + 0.03 * 0.04 / 0.3)


def test_a_round_wall_as_ring_and_as_staves_by_hand() -> None:
    """Soaked earth 260 mm deep presses with 2000 x 9.80665 x 0.26 Pa; ring p r / t, strip p H^2 / t^2."""
    wall = RoundWall(0.15, 0.26, 0.05)
    p = 2000.0 * G * 0.26
    assert as_ring(wall, 2000.0) == pytest.approx(p * 3.0)
    assert as_staves(wall, 2000.0) == pytest.approx(6.0 * (p * 0.26**2 / 6.0) / 0.05**2)


def test_a_wide_shallow_pot_is_never_better_off_cracked() -> None:
    assert as_staves(RoundWall(1.0, 0.1, 0.05), 1600.0) == as_ring(RoundWall(1.0, 0.1, 0.05), 1600.0)


def test_a_divider_ends_a_wall_of_a_gang() -> None:
    found = piece_walls(planter.SHAPE, **BOX, gang=2)
    assert all(wall.thickness == pytest.approx(0.05) for wall in found)


def test_a_hexagon_has_six_like_walls() -> None:
    """480 across flats, 40 thick: inside 400 across flats, each side 400 tan 30 deg = 230.94 mm."""
    keys = {
        "size": 480,
        "height": 360,
        "wall": 40,
        "floor": 40,
        "sides": 6,
        "core_draft": 0,
        "drain_holes": 0,
    }
    found = piece_walls(many_sided.SHAPE, **keys)
    assert len(found) == 6
    assert all((w.width, w.thickness) == pytest.approx((0.230940, 0.04), rel=1e-5) for w in found)


def test_stress_of_a_wide_wall_is_that_of_a_cantilever() -> None:
    """By hand: w0 L^2 / 6 over t^2 / 6 with w0 = 1600 G 0.3 (standard formula, from memory)."""
    assert as_strip(Wall(0.6, 0.3, 0.05), 1600.0) == pytest.approx(1600.0 * G * 0.3 * 0.3**2 / 0.05**2)


def test_stress_of_a_tall_wall_is_that_of_a_level_beam() -> None:
    assert as_strip(Wall(0.2, 0.5, 0.05), 1600.0) == pytest.approx(
        1600.0 * G * 0.5 * 0.2**2 / 8 * 6 / 0.05**2
    )


def test_a_square_wall_as_a_plate() -> None:
    """Open top, H/B = 1: M = 0.0336 q B^2 (series computed for this project)."""
    assert as_plate(Wall(0.4, 0.4, 0.05), 2000.0) == pytest.approx(
        6 * 0.0336 * 2000 * G * 0.4 * 0.4**2 / 0.05**2
    )


@given(width=SIZES, depth=SIZES, thickness=st.floats(0.02, 0.2), more=st.floats(1.0, 2.0))
@settings(max_examples=50, deadline=None)
def test_wider_deeper_thinner_or_heavier_is_never_easier(
    width: float, depth: float, thickness: float, more: float
) -> None:
    before = as_strip(Wall(width, depth, thickness), 1600.0)
    assert as_plate(Wall(width, depth, thickness), 1600.0) <= before
    worse = (
        Wall(width * more, depth, thickness),
        Wall(width, depth * more, thickness),
        Wall(width, depth, thickness / more),
    )
    assert all(as_strip(wall, 1600.0) >= before * (1.0 - 1e-12) for wall in worse)
    assert as_strip(Wall(width, depth, thickness), 1600.0 * more) >= before


def test_tension_of_the_standard_batch_is_the_printed_one() -> None:
    """ASTM C869-91(1999), Table 1: 25 psi or 0.17 MPa beside 200 psi or 1.4 MPa compressive (printed rounding)."""
    strength = tension(mix(641.0))
    assert strength is not None
    assert strength[1] == pytest.approx(0.17e6, abs=0.006e6)


@pytest.mark.parametrize(
    ("least", "most", "words"),
    [
        (0.01, 0.05, "50 % of the lesser"),
        (0.05, 0.2, "may crack"),
        (0.4, 0.9, "likely to crack"),
    ],
)
def test_stress_beside_strength_in_plain_words(least: float, most: float, words: str) -> None:
    assert words in beside(least * 1e6, most * 1e6, (0.1e6, 0.3e6))


def test_without_a_published_strength_it_asks_for_a_trial() -> None:
    assert "trial" in beside(1e5, 2e5, None)


def test_only_what_holds_soil_is_told_of_soil_and_never_as_a_promise() -> None:
    hollow = build(
        block.SHAPE, parameters(block.SHAPE, {"length": 390, "width": 190, "height": 190, "cores": 2})
    )
    pot = build(planter.SHAPE, parameters(planter.SHAPE, BOX))
    assert in_use(mix(), [hollow.mold]) == ()
    lines = in_use(mix(), [hollow.mold, pot.mold])
    assert "bends the wall" in lines[0] and "no drain hole" in lines[1]
    assert "uncertain, and no promise" in lines[2] and len(lines) == 3


def test_a_planter_without_a_drain_is_told_of() -> None:
    keys = {"length": 600, "width": 400, "height": 350, "wall": 40, "floor": 40}
    open_below, shut = (
        build(planter.SHAPE, parameters(planter.SHAPE, keys | {"drain_holes": holes})).mold
        for holes in (2, 0)
    )
    said = [any("no drain hole" in line for line in in_use(mix(), [mold])) for mold in (open_below, shut)]
    assert said == [False, True]
