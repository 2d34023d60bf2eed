"""What each lift of a piece takes: shares by closed forms, and over every registered shape against thin slices."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from formwork.geometry.planes import Planes
from formwork.shapes import planter, slab
from formwork.shapes.body import piece_volume
from formwork.shapes.filled import _up_to, shares
from tests.drawn import Drawn, any_pieces, parameters, single


def test_a_slab_is_shared_by_its_height() -> None:
    piece = single(slab.SHAPE, parameters(slab.SHAPE, {"length": 500, "width": 400, "thickness": 100}))
    assert shares(piece, (0.03, 0.1)) == pytest.approx((0.3, 0.7))


def test_a_tub_takes_its_floor_first_and_then_its_walls() -> None:
    """600 x 500 mm outside, 400 mm high, wall 50 mm, floor 60 mm, all upright."""
    keys = {"length": 600, "width": 500, "height": 400, "wall": 50, "floor": 60, "down": "floor",
            "core_draft": 0, "drain_holes": 0}  # fmt: skip
    piece = single(planter.SHAPE, parameters(planter.SHAPE, keys))
    floor, walls = 0.6 * 0.5, 0.6 * 0.5 - 0.5 * 0.4
    whole = floor * 0.06 + walls * 0.34
    expected = ((floor * 0.06 + walls * 0.04) / whole, walls * 0.3 / whole)
    assert shares(piece, (0.1, 0.4)) == pytest.approx(expected)


@given(drawn=any_pieces(gangs=False))
@settings(max_examples=25, deadline=None)
def test_all_of_a_piece_is_below_its_fill_plane(drawn: Drawn) -> None:
    """Whole by a second route, and no lift takes less than nothing."""
    piece = single(*drawn)
    fill = piece.form.fill
    found = shares(piece, tuple(fill * k / 4.0 for k in range(1, 5)))
    assert sum(found) == pytest.approx(1.0)
    assert min(found) >= -1e-6
    assert _up_to(piece, (fill,))[0] == pytest.approx(piece_volume(Planes(), piece), rel=2e-3)
