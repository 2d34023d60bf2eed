"""Lifting by hand against the published limits, and weights against hand arithmetic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.checks.handling import filled_mass, handling, people_for, stripped_mass, team_lifts, turned_mass
from formwork.errors import RangeError
from formwork.shapes import planter, slab
from formwork.shapes.piece import planar
from tests.drawn import parameters
from tests.workshop import build, mix

SLAB = {"length": 500, "width": 400, "thickness": 50, "chamfer": 0}


def test_one_person_lifts_the_load_constant() -> None:
    """NIOSH lifting equation: 23 kg or 51 lb (as read at CCOHS and OSHA)."""
    assert team_lifts(1) == 23.0
    assert round(team_lifts(1) / 0.45359237) == 51


@pytest.mark.parametrize(("alone", "people", "printed"), [(20.0, 2, 26.6), (50.0, 2, 66.0), (50.0, 3, 75.0)])
def test_teams_as_the_worked_examples_of_the_guidance_have_it(
    alone: float, people: int, printed: float
) -> None:
    """HSE's rule in figures: a railway's handbook has 26.6 kg for two of 20 kg, a trainer's 66 and 75 kg for 50 kg.

    Both cut the last digit off (26.67, 66.67).
    """
    cut_off = 1.0 if printed == 66.0 else 0.1
    assert 0.0 <= team_lifts(people) / team_lifts(1) * alone - printed < cut_off


@given(st.floats(0.1, 100.0), st.floats(0.0, 100.0))
def test_more_weight_never_takes_fewer_people(mass: float, more: float) -> None:
    few, many = people_for(mass), people_for(mass + more)
    assert many is None or (few is not None and few <= many)


def test_no_share_is_invented_for_larger_teams() -> None:
    with pytest.raises(RangeError, match="1 to 3"):
        team_lifts(4)
    assert people_for(34.6) is None


def test_a_slab_weighs_what_paper_says() -> None:
    """500 x 400 x 50 mm at 800 kg/m3: 8 kg."""
    mold = build(slab.SHAPE, parameters(slab.SHAPE, SLAB)).mold
    assert stripped_mass(mold, mix()) == pytest.approx(8.0, rel=1e-9)
    assert filled_mass(mold, mix()) == pytest.approx(8.0 + mold.mass, rel=1e-9)


def test_a_gang_is_lifted_piece_by_piece() -> None:
    mold = build(slab.SHAPE, parameters(slab.SHAPE, {**SLAB, "gang": 3})).mold
    assert stripped_mass(mold, mix()) == pytest.approx(8.0, rel=1e-9)
    assert filled_mass(mold, mix()) == pytest.approx(24.0 + mold.mass, rel=1e-9)


def test_an_empty_mold_weighs_its_parts() -> None:
    """Volume of every part by its own stock's density: the parts' space, added up one by one."""
    built = build(slab.SHAPE, parameters(slab.SHAPE, SLAB))
    stocks = built.lined.frame.stocks
    density = {one.name: one.density for one in (stocks.sheet, *stocks.sticks)}
    by_hand = sum(density[part.stock] * sum(c.volume() for c in part.cells) for part in built.mold.parts)
    assert built.mold.mass == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize(
    ("length", "words"), [(1000, "one person"), (1800, "two people"), (2050, "three people"), (3000, "hoist")]
)
def test_the_advice_names_the_people_or_the_aid(length: int, words: str) -> None:
    """A slab of 400 x 50 mm weighs 16 kg a metre at 800 kg/m3: 16, 28.8, 32.8 and 48 kg."""
    small = build(slab.SHAPE, parameters(slab.SHAPE, SLAB)).mold
    mold = replace(small, nominal=16.0 / 800.0 * length / 1000.0)
    line = handling(mix(), [mold])[0]
    assert words in line
    assert "from below" in line


def test_a_piece_cast_upside_down_is_turned_with_care() -> None:
    keys = {"length": 400, "width": 400, "height": 300, "wall": 50, "floor": 50, "down": "rim"}
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys))
    line = handling(mix(), [built.mold])[0]
    assert "Turn it over" in line
    alone, turned = stripped_mass(built.mold, mix()), turned_mass(built.mold, mix())
    assert turned > alone
    assert f"{turned:.1f} kg" in line.split("Turn it over")[1]


@pytest.mark.parametrize("gang", [1, 2])
def test_base_and_standing_cores_are_turned_over_with_the_pieces(gang: int) -> None:
    """Their parts added up one by one, by each stock's own density; the sides are off by then."""
    keys = {
        "length": 400,
        "width": 400,
        "height": 300,
        "wall": 50,
        "floor": 50,
        "drain_holes": 0,
        "gang": gang,
    }
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys))
    stocks = built.lined.frame.stocks
    density = {one.name: one.density for one in (stocks.sheet, *stocks.sticks)}
    under = {"base"} | {former.name for former in planar(built.mold.piece).formers if former.kind == "core"}
    own = [part for part in built.mold.parts if part.group in under]
    by_hand = sum(density[part.stock] * sum(cell.volume() for cell in part.cells) for part in own)
    assert built.mold.under == pytest.approx(by_hand, rel=1e-9)
    assert built.mold.under < built.mold.mass
    alone = stripped_mass(built.mold, mix())
    assert turned_mass(built.mold, mix()) == pytest.approx(alone + (by_hand if gang == 1 else 0.0))


def test_of_many_molds_the_heaviest_of_each_team_is_told() -> None:
    small = build(slab.SHAPE, parameters(slab.SHAPE, SLAB)).mold
    molds = [replace(small, nominal=kg / 800.0) for kg in (8.0, 12.0, 40.0, 11.0)]
    pieces = [line for line in handling(mix(), molds) if "a piece weighs" in line]
    assert len(pieces) == 2
    assert "12 kg" in pieces[0]
    assert "40 kg" in pieces[1]


def test_nothing_is_said_of_nothing() -> None:
    assert handling(mix(), []) == ()


def test_what_a_piece_is_turned_over_with_is_named_as_it_is() -> None:
    """A slab stands on no core; four of a gang are lifted off and turned one by one."""
    one, four = (build(slab.SHAPE, parameters(slab.SHAPE, {**SLAB, "gang": gang})) for gang in (1, 4))
    alone = handling(mix(), [one.mold])[0]
    assert "core" not in alone
    assert "the base that it lies on" in alone or "Turn" not in alone
    assert "with the base" not in handling(mix(), [four.mold])[0]


def test_no_number_of_people_is_told_to_lift_what_is_too_heavy() -> None:
    small = build(slab.SHAPE, parameters(slab.SHAPE, SLAB)).mold
    line = handling(mix(), [replace(small, nominal=0.1)])[0]
    assert "too heavy to lift by hand" in line and "hoist" in line
    assert "more than three people" not in line
