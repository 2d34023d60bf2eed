"""Round planter: volumes by the frustum formula, how wall and lean are meant, what is refused."""

from __future__ import annotations

from math import atan2, cos, pi, radians, tan

import pytest

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.shapes.body import piece_volume
from formwork.shapes.piece import Piece, curved
from formwork.shapes.round_planter import SHAPE
from tests.drawn import parameters, single

PLAIN = {"diameter": 500, "height": 400, "wall": 45, "floor": 50, "core_draft": 0, "drain_holes": 0}


def frustum(r: float, s: float, h: float) -> float:
    """Source: frustum of a cone, CRC mensuration formulas."""
    return pi * h / 3.0 * (r * r + r * s + s * s)


def piece(**keys: object) -> Piece:
    return single(SHAPE, parameters(SHAPE, {**PLAIN, **keys}))


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_a_straight_one_is_a_tube_with_a_floor(down: str) -> None:
    found = piece_volume(Planes(), piece(down=down))
    assert found == pytest.approx(pi * (0.25**2 * 0.4 - 0.205**2 * 0.35))


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_a_cone_with_its_wall_square_to_the_outside(down: str) -> None:
    lean = atan2(0.05, 0.4)
    level = 0.045 / cos(lean)
    low = 0.25 - level - 0.35 * tan(lean)
    expected = frustum(0.2, 0.25, 0.4) - frustum(low, 0.25 - level, 0.35)
    assert piece_volume(Planes(), piece(base_diameter=400, down=down)) == pytest.approx(expected)


def test_lean_says_the_same_as_base_diameter() -> None:
    by_lean = piece(lean="5 deg")
    by_base = piece(base_diameter=2000.0 * (0.25 - 0.4 * tan(radians(5.0))))
    assert piece_volume(Planes(), by_lean) == pytest.approx(piece_volume(Planes(), by_base))
    assert piece(lean="-5 deg").form.outside.box()[1][0] == pytest.approx(0.25 + 0.4 * tan(radians(5.0)))


def test_level_walls_and_the_least_draft() -> None:
    found = piece(wall_measured="level", core_draft="3 deg")
    low = 0.205 - 0.35 * tan(radians(3.0))
    assert piece_volume(Planes(), found) == pytest.approx(pi * 0.25**2 * 0.4 - frustum(low, 0.205, 0.35))
    assert any("thicker towards the floor" in note for note in found.notes)


def test_drain_holes_are_cone_frustums() -> None:
    none, three = piece(), piece(drain_holes=3, drain_diameter=30)
    holes = [plug.body for plug in three.plugs]
    assert len(holes) == 3
    narrow = 0.015 - 0.05 * tan(0.0525)
    each = frustum(0.015, narrow, 0.05)
    assert piece_volume(Planes(), none) - piece_volume(Planes(), three) == pytest.approx(3 * each)


def test_rim_down_it_is_turned_over_and_stands_on_its_rim() -> None:
    up, over = piece(down="floor", base_diameter=400), piece(down="rim", base_diameter=400)
    assert not up.turned_over and over.turned_over
    assert curved(up).formers[0].seat == "hung" and curved(over).formers[0].seat == "base"
    (low, _), (wide, _) = curved(up).outside.profile.points[1:3]
    assert (low, wide) == pytest.approx((0.2, 0.25))
    assert curved(over).formers[0].body.box()[0][2] == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"base_diameter": 400, "lean": "5 deg"}, "base_diameter and lean"),
        ({"wall": 240}, "no room left for the core"),
        ({"floor": 400}, "leaves no height"),
        ({"lean": "33 deg"}, "meet before the bottom"),
        ({"drain_holes": 20, "drain_diameter": 60}, "do not fit a floor"),
        ({"drain_holes": 1, "drain_diameter": 6, "floor": 300}, "has no draft"),
    ],
)
def test_contradictions_are_refused_in_words(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        piece(**keys)
