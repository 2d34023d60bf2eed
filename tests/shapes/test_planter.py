"""The planter against the obelisk formula, its figures against published ones, and what it refuses."""

from __future__ import annotations

from itertools import pairwise
from math import atan, degrees, pi

import pytest

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.shapes import many_sided
from formwork.shapes.body import piece_volume
from formwork.shapes.box import obelisk
from formwork.shapes.cast import lots
from formwork.shapes.planter import SHAPE
from formwork.shapes.shape import Shape
from tests.drawn import parameters, single

INCH3 = 0.0254**3
PLAIN = {"length": 600, "width": 400, "height": 300, "wall": 40, "floor": 40}


def volume(**keys: object) -> float:
    return piece_volume(Planes(), single(SHAPE, parameters(SHAPE, {**PLAIN, **keys}), "planter"))


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_tapered_square_of_the_prismatoid_table(down: str) -> None:
    """14 to 20 in, 18 in high, level wall 2 in, floor 2 in: 2373.630 in3.

    Source: prismatoid formula (CRC mensuration formulas) worked by hand: outer 5256, inner 2882.370 in3.
    """
    outer = obelisk(14, 14, 20, 20, 18)
    inner = obelisk(10 + 2 / 3, 10 + 2 / 3, 16, 16, 16)
    assert outer - inner == pytest.approx(2373.630, abs=5e-4)
    found = volume(
        length="20 in", width="20 in", base_length="14 in", base_width="14 in", height="18 in",
        wall="2 in", wall_measured="level", floor="2 in", drain_holes=0, down=down,
    )  # fmt: skip
    assert found / INCH3 == pytest.approx(outer - inner, rel=1e-12)


def test_lean_and_square_wall_of_that_planter() -> None:
    """The wall of 2 in measured level is 1.9728 in square to its face; the sides lean 9.462 deg (trigonometry)."""
    level = volume(
        length="20 in", width="20 in", base_length="14 in", base_width="14 in", height="18 in",
        wall="2 in", wall_measured="level", floor="2 in", drain_holes=0,
    )  # fmt: skip
    square = volume(
        length="20 in", width="20 in", base_length="14 in", base_width="14 in", height="18 in",
        wall="1.97278 in", wall_measured="square", floor="2 in", drain_holes=0,
    )  # fmt: skip
    assert square == pytest.approx(level, rel=1e-5)


def test_straight_planter_is_a_box_less_an_obelisk_less_cylinders() -> None:
    lean = 1.0 / 12.0
    core = obelisk(0.52 - 2 * 0.26 * lean, 0.32 - 2 * 0.26 * lean, 0.52, 0.32, 0.26)
    solid = 0.6 * 0.4 * 0.3 - core
    assert volume(drain_holes=0) == pytest.approx(solid, rel=1e-9)
    a, b = 0.0125, 0.0125 - 0.04 * 0.05254827454
    hole = pi * 0.04 * (a * a + a * b + b * b) / 3.0
    assert volume(drain_holes=2) == pytest.approx(solid - 2 * hole, rel=1e-9)


def test_rim_adds_a_ring_to_the_body() -> None:
    """A straight body of 560 x 360 under a rim of 20 mm that is 50 mm high."""
    plain = volume(length=560, width=360, drain_holes=0)
    rimmed = volume(drain_holes=0, rim_width=20, rim_height=50)
    assert rimmed - plain == pytest.approx((0.6 * 0.4 - 0.56 * 0.36) * 0.05, rel=1e-9)


def test_feet_take_a_wedge_out_from_under_the_floor() -> None:
    tall = volume(height=330, floor=70, drain_holes=0, down="floor")
    footed = volume(height=330, drain_holes=0, down="floor", feet_height=30, feet_width=80)
    between = obelisk(0.44, 0.4, 0.435, 0.4, 0.03)
    assert tall - footed == pytest.approx(between, rel=1e-9)


def test_upright_corner_chamfers_take_a_prism_each_and_mitred_ones_their_union() -> None:
    """Four prisms c^2/2 x h on the corners; with edges on the base the strips meet, checked against their union."""
    leg, height = 0.009, 0.3
    with_feet = volume(height=330, drain_holes=0, down="floor", feet_height=30, feet_width=80, chamfer=9)
    without = volume(height=330, drain_holes=0, down="floor", feet_height=30, feet_width=80)
    assert without - with_feet == pytest.approx(4 * leg**2 / 2 * 0.33, rel=1e-9)
    full = volume(drain_holes=0, down="floor") - volume(drain_holes=0, down="floor", chamfer=9)
    upright = 4 * leg**2 / 2 * height
    level = (2 * 0.6 + 2 * 0.4) * leg**2 / 2
    # At each corner the upright strip and one level strip share c^3/6, so do the two level ones: 3 pairs,
    # and the three share c^3/12 in which x+y, y+z and z+x are all below c.
    shared = 4 * (3 * leg**3 / 3 - leg**3 / 4)
    assert full == pytest.approx(upright + level - shared, rel=2e-4)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"wall": 180}, "no room left for the core"),
        ({"rim_width": 20}, "rim needs both"),
        ({"feet_height": 30}, "feet need both"),
        ({"feet_height": 30, "feet_width": 60, "down": "rim"}, 'down = "floor"'),
        ({"chamfer": 12}, "quarter of the wall"),
        ({"drain_holes": 24, "drain_diameter": 60}, "do not fit"),
        ({"floor": 290, "rim_width": 20, "rim_height": 20}, "no height for the walls"),
        ({"feet_height": 30, "feet_width": 290, "down": "floor"}, "no room between the runners"),
        ({"gang": 2, "base_width": 300}, "parallel"),
    ],
)
def test_contradictions_are_named(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        lots(SHAPE, parameters(SHAPE, {**PLAIN, **keys}), "planter", 0.018)


def test_a_deep_chamfer_is_cast_when_asked_for() -> None:
    assert volume(chamfer=12, deep_chamfer=True) < volume()


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        (
            {"length": 100, "width": 172, "height": 59, "base_length": 100, "base_width": 100, "wall": 12, "floor": 40,
             "drain_holes": 3, "drain_diameter": 32},
            "do not fit a floor",
        ),
        (
            {"length": 200, "width": 200, "height": 247, "base_length": 1000, "wall": 12, "floor": 12,
             "core_draft": 0, "feet_height": 62, "feet_width": 62, "down": "floor"},
            "runners would not reach the floor",
        ),
        ({"chamfer": 0.01}, "too small to make"),
    ],
)  # fmt: skip
def test_steep_planters_keep_their_floor_whole(keys: dict[str, object], words: str) -> None:
    """Cases in which the kernel once found holes through the side, loose runners and hair-fine chamfers."""
    with pytest.raises(GeometryError, match=words):
        lots(SHAPE, parameters(SHAPE, {**PLAIN, **keys}), "planter", 0.018)


@pytest.mark.parametrize(
    ("diameter", "floor", "degrees_wanted"), [(25, 40, 3.008), (25, 90, 3.008), (20, 90, 2.545)]
)
def test_a_drain_plug_tapers_by_three_degrees_or_to_six_tenths(
    diameter: float, floor: float, degrees_wanted: float
) -> None:
    """0.0525 rad is 3.008 deg; 20 mm to 12 mm over 90 mm leans atan(4 / 90) = 2.545 deg, by hand."""
    keys = {**PLAIN, "drain_diameter": diameter, "floor": floor}
    for plug in single(SHAPE, parameters(SHAPE, keys)).plugs:
        taper = degrees(atan((plug.body.foot_radius - plug.body.head_radius) / plug.body.length))
        assert taper == pytest.approx(degrees_wanted, abs=5e-3)
        assert plug.body.head_radius >= 0.6 * plug.body.foot_radius - 1e-12


@pytest.mark.parametrize("shape", [SHAPE, many_sided.SHAPE], ids=lambda shape: shape.name)
def test_a_plug_too_thin_for_its_floor_is_refused(shape: Shape) -> None:
    """10 mm may lose 2 mm a side: at 1 deg that is 2 / tan(1 deg) = 114.6 mm of floor."""
    keys = {"height": 400, "wall": 40, "drain_diameter": 10}
    sizes = {"length": 600, "width": 400} if shape is SHAPE else {"sides": 6, "size": 600}
    with pytest.raises(GeometryError, match=r"drain_diameter: .*floor at most 114\.6 mm \(4 1/2 in\)"):
        lots(shape, parameters(shape, {**keys, **sizes, "floor": 115}), "planter", 0.018)
    notes = lots(shape, parameters(shape, {**keys, **sizes, "floor": 114}), "planter", 0.018)[0].piece.notes
    assert any(
        "10 mm (3/8 in) across at the screwed end, 6 mm (1/4 in) at the other" in note for note in notes
    )


@pytest.mark.parametrize("down", ["rim", "floor"])
@pytest.mark.parametrize(("size", "axis"), [({}, 0), ({"length": 300, "width": 500}, 1)])
def test_measures_lead_to_every_drain_hole(down: str, size: dict[str, object], axis: int) -> None:
    piece = single(SHAPE, parameters(SHAPE, {**PLAIN, **size, "drain_holes": 3, "down": down}))
    found = {one.name: abs(one.end[axis] - one.start[axis]) for one in piece.measures}
    places = sorted(plug.body.foot[axis] for plug in piece.plugs)
    outside = (0.6, 0.4) if not size else (0.3, 0.5)
    assert found["end to drain hole"] == pytest.approx(places[0] + outside[axis] / 2.0)
    pitch = found["drain hole to drain hole"]
    assert [b - a for a, b in pairwise(places)] == pytest.approx([pitch, pitch])
    bare = single(SHAPE, parameters(SHAPE, {**PLAIN, "drain_holes": 0}))
    assert not any("drain" in one.name for one in bare.measures)
    assert not any("plug" in note for note in bare.notes)


@pytest.mark.parametrize("measured", ["square", "level"])
@pytest.mark.parametrize("down", ["rim", "floor"])
def test_the_wall_on_the_drawing_is_the_wall_that_was_asked_for(measured: str, down: str) -> None:
    keys = {**PLAIN, "base_length": 480, "base_width": 320, "wall_measured": measured, "down": down}
    piece = single(SHAPE, parameters(SHAPE, keys))
    wall = next(one for one in piece.measures if one.name == "wall")
    size = sum((a - b) ** 2 for a, b in zip(wall.start, wall.end, strict=True)) ** 0.5
    assert size == pytest.approx(0.040, abs=1e-12)
