"""Turned pieces: volumes by other formulas, what is refused and where, how they lie in the mold."""

from __future__ import annotations

from math import pi, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.shapes.body import curved_volume
from formwork.shapes.piece import Curved, Piece, curved
from formwork.shapes.turned import SHAPE


def cast(**keys: object) -> Piece:
    """The piece of keys in millimetres."""
    found = SHAPE.parameters.model_validate(keys, context={"units": "mm"})
    (lot,) = SHAPE.lay_out(found, "bowl")
    return lot.piece


def volume(piece: Piece) -> float:
    return curved_volume(curved(piece)) - sum(plug.body.volume() for plug in piece.plugs)


def frustum(r: float, s: float, h: float) -> float:
    """Source: frustum of a cone, CRC mensuration formulas."""
    return pi * h / 3.0 * (r * r + r * s + s * s)


CONE = {"outside": ((200, 0), (250, 300)), "inside": ((180, 40), (225, 300))}


def test_a_conical_bowl_is_two_frustums() -> None:
    expected = frustum(0.2, 0.25, 0.3) - frustum(0.18, 0.225, 0.26)
    assert volume(cast(**CONE)) == pytest.approx(expected, rel=1e-12)
    drained = cast(**CONE, drain_diameter=25)
    narrow = max(0.6 * 0.0125, 0.0125 - 0.04 * tan(pi / 60.0))
    assert volume(drained) == pytest.approx(expected - frustum(0.0125, narrow, 0.04), rel=1e-9)


def test_a_dish_of_two_spherical_caps() -> None:
    """Source: spherical cap, pi h2 (3 R - h) / 3; the bow is the cap's sagitta in the section."""
    outer, inner = (200.0, 60.0), (170.0, 45.0)

    def cap(half: float, rise: float) -> float:
        radius = (half * half + rise * rise) / (2.0 * rise)
        return pi * rise**2 * (3.0 * radius - rise) / 3.0 / 1e9

    def bow(half: float, rise: float) -> float:
        """Sagitta of the arc from the pole to the rim."""
        radius, chord = (half * half + rise * rise) / (2.0 * rise), (half * half + rise * rise) ** 0.5
        return radius - (radius * radius - chord * chord / 4.0) ** 0.5

    made = cast(
        outside=((0, 0), (*outer, bow(*outer))),
        inside=((0, outer[1] - inner[1]), (inner[0], outer[1], bow(*inner))),
    )
    assert volume(made) == pytest.approx(cap(*outer) - cap(*inner), rel=1e-9)


def test_profile_and_two_sides_say_the_same_piece_run_either_way() -> None:
    two = cast(outside=((150, 0), (220, 200, 12)), inside=((120, 40), (185, 200, 10)))
    round_it = ((0, 0), (150, 0), (220, 200, 12), (185, 200), (120, 40, -10), (0, 40))
    one = cast(profile=round_it)
    assert volume(one) == pytest.approx(volume(two), rel=1e-12)
    backward = ((0, 40), (120, 40), (185, 200, 10), (220, 200), (150, 0, -12), (0, 0))
    assert volume(cast(profile=backward)) == pytest.approx(volume(two), rel=1e-12)


def test_a_bowl_lies_rim_down_over_a_core_and_a_baluster_stands() -> None:
    bowl = cast(**CONE)
    assert bowl.turned_over
    assert curved(bowl).formers[0].seat == "base"
    up = cast(**CONE, cast="up")
    assert not up.turned_over
    assert curved(up).formers[0].seat == "hung"
    assert not cast(outside=((90, 0), (60, 200), (80, 400))).turned_over
    assert volume(up) == pytest.approx(volume(bowl), rel=1e-12)


def test_a_ring_has_a_core_all_the_way_through() -> None:
    ring = cast(outside=((210, 0), (150, 120)), inside=((165, 0), (100, 120)))
    assert curved(ring).formers[0].seat == "base"
    assert volume(ring) == pytest.approx(frustum(0.21, 0.15, 0.12) - frustum(0.165, 0.1, 0.12), rel=1e-12)


def test_heights_may_begin_anywhere() -> None:
    high = cast(outside=((200, 500), (250, 800)), inside=((180, 540), (225, 800)))
    assert volume(high) == pytest.approx(volume(cast(**CONE)), rel=1e-12)
    assert curved(high).fill == pytest.approx(0.3)


REFUSED = [
    ({}, "give either outside"),
    (
        {"outside": ((80, 0), (90, 100)), "profile": ((0, 0), (80, 0), (80, 90), (0, 90))},
        "give either outside",
    ),
    ({"outside": ((80, 0), (-10, 60), (90, 100))}, r"crosses the axis at -10 mm .* and 60 mm"),
    (
        {"profile": ((0, 0), (80, 0), (-20, 50), (80, 90), (0, 90))},
        r"crosses the axis at -20 mm .* and 50 mm",
    ),
    (
        {"outside": ((80, 0), (30, 100), (30, 20), (90, 40), (90, 120))},
        "crosses or touches itself at 64.* and 31",
    ),
    ({"outside": ((80, 0), (100, 120), (90, 110), (120, 150))}, "at 100 mm .* and 120 mm .* it turns down"),
    ({"outside": ((80, 0), (100, 120, 58))}, "turns down .* the arc to 100 mm .* may bow by at most 51.5 mm"),
    ({"outside": ((80, 0), (80, 0), (100, 120))}, "stands there twice"),
    ({"outside": ((80, 0), (100, 120, 70))}, "cannot bow out by 70 mm"),
    ({"outside": ((80, 0, 5), (100, 120))}, "no line leads to its first corner"),
    ({"outside": ((80, 0), (100, 10))}, "rises only 10 mm"),
    ({"outside": ((0, 0), (0, 100))}, "at most 0 mm"),
    ({**CONE, "inside": ((180, 40), (225, 280))}, "opens nowhere"),
    ({**CONE, "inside": ((180, 40), (245, 300))}, r"at 245 mm .* and 300 mm .* is 4\.9 mm"),
    ({**CONE, "inside": ((180, 5), (225, 300))}, "the floor is only 5 mm"),
    ({**CONE, "inside": ((230, 40), (240, 300))}, r"at 230 mm .* and 40 mm .* comes through the outside"),
    (
        {**CONE, "inside": ((100, 40), (160, 150), (120, 200), (225, 300))},
        "holds its core fast at 120 mm .* and 200 mm",
    ),
    ({**CONE, "inside": ((180, 40), (150, 300))}, "holds its core fast"),
    ({"outside": ((80, 0), (100, 120)), "drain_diameter": 20}, "no floor to drain"),
    ({**CONE, "drain_diameter": 150, "inside": ((60, 40), (225, 300))}, "more than the flat of the floor"),
]


@pytest.mark.parametrize(("keys", "told"), REFUSED)
def test_what_cannot_be_cast_is_refused_with_its_place(keys: dict[str, object], told: str) -> None:
    with pytest.raises(GeometryError, match=told) as refused:
        cast(**keys)
    assert str(refused.value).startswith("bowl: ")


corner = st.tuples(st.floats(-50, 400), st.floats(-50, 400), st.floats(-60, 60))


@given(st.lists(corner, min_size=2, max_size=7), st.booleans())
@settings(max_examples=150, deadline=None)
def test_any_profile_is_cast_or_refused_in_words(
    corners: list[tuple[float, float, float]], closed: bool
) -> None:
    try:
        piece = cast(**{"profile" if closed else "outside": tuple(corners)})
    except GeometryError as refused:
        assert str(refused).startswith("bowl: ")
        return
    assert isinstance(piece.form, Curved)
    assert volume(piece) > 0.0
    (low, high) = piece.form.outside.box()
    assert low[2] == pytest.approx(0.0, abs=1e-9)
    assert high[2] == pytest.approx(piece.form.fill, abs=1e-6)
