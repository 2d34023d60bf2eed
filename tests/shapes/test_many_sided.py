"""Many-sided planters against the frustum formula and elementary polygons, and what they refuse."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, dist, pi, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from formwork.errors import GeometryError
from formwork.geometry.cells import area
from formwork.geometry.cells import volume as volume_of
from formwork.geometry.planes import Planes
from formwork.molds.design import brace, line
from formwork.packet.saw import edge_cuts
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes.body import envelope, piece_volume
from formwork.shapes.cast import lots
from formwork.shapes.many_sided import SHAPE
from formwork.shapes.piece import Piece, planar
from tests.drawn import parameters
from tests.workshop import build, mix, shop

INCH = 0.0254
PLAIN = {"sides": 6, "size": 500, "height": 300, "wall": 40, "floor": 40}


def made(**keys: object) -> Piece:
    return lots(SHAPE, parameters(SHAPE, {**PLAIN, **keys}), "planter", 0.018)[0].piece


def volume(**keys: object) -> float:
    return piece_volume(Planes(), made(**keys))


def frustum(sides: int, low: float, high: float, height: float) -> float:
    """Volume between two regular polygons of these distances from middle to flat (CRC mensuration formulas)."""
    a, b = (sides * flat * flat * tan(pi / sides) for flat in (low, high))
    return height / 3.0 * (a + b + sqrt(a * b))


@pytest.mark.parametrize(("sides", "printed"), [(6, 259.8076), (8, 482.8427)])
def test_area_inside_a_polygon_of_side_10(sides: int, printed: float) -> None:
    """n s2 / (4 tan(pi/n)): 259.8076 for a hexagon, 482.8427 for an octagon of side 10 (elementary geometry)."""
    piece = made(sides=sides, size=f"{10 / tan(pi / sides)} in", drain_holes=0, wall=25)
    planes = Planes()
    body = envelope(planes, piece)
    base = next(face for face in planar(piece).faces if face.role == "base")
    assert area(body.facets[planes.enter(base.half)]) / INCH**2 == pytest.approx(printed, abs=5e-5)


@given(
    sides=st.integers(3, 12),
    size=st.floats(300, 900),
    narrower=st.floats(0.8, 1.0),
    down=st.sampled_from(["rim", "floor"]),
)
@settings(max_examples=40, deadline=None)
def test_volume_is_a_frustum_less_a_frustum(sides: int, size: float, narrower: float, down: str) -> None:
    base = size * narrower
    found = volume(sides=sides, size=size, base_size=base, drain_holes=0, down=down)
    top, low = size / 2000, base / 2000
    slope = (top - low) / 0.3
    lean = max(slope, 1.0 / 12.0)
    inside = top - 0.04 * sqrt(1.0 + slope * slope)
    core = frustum(sides, inside - 0.26 * lean, inside, 0.26)
    assert found == pytest.approx(frustum(sides, low, top, 0.3) - core, rel=1e-9)


@pytest.mark.parametrize("sides", range(3, 13))
def test_sizes_across_corners_are_those_of_the_circle_through_them(sides: int) -> None:
    flats = volume(sides=sides, size=600 * cos(pi / sides), drain_holes=0)
    assert volume(sides=sides, size=600, across="corners", drain_holes=0) == pytest.approx(flats, rel=1e-12)


def test_four_sides_are_a_planter_of_four_sides() -> None:
    from formwork.shapes.planter import SHAPE as FOUR  # noqa: PLC0415 - the shape it is compared with

    keys = {"length": 500, "width": 500, "height": 300, "wall": 40, "floor": 40}
    four = lots(FOUR, parameters(FOUR, keys), "planter", 0.018)[0].piece
    assert volume(sides=4) == pytest.approx(piece_volume(Planes(), four), rel=1e-12)


def test_measures_lead_to_the_ring_and_from_hole_to_hole() -> None:
    """Five holes on a ring of 180 mm: 90 mm from the middle, 180 sin 36 deg = 105.80 mm from hole to hole."""
    found = {one.name: dist(one.start, one.end) for one in made(drain_holes=5, drain_ring=180).measures}
    assert found["middle to drain hole"] == pytest.approx(0.090)
    assert found["drain hole to drain hole"] == pytest.approx(0.10580, abs=5e-6)
    assert any("stand in the middle" in note for note in made(drain_holes=1).notes)
    assert not any("drain" in one.name for one in made(drain_holes=0).measures)


def test_a_ring_of_drain_holes_takes_a_cone_frustum_each() -> None:
    wide, narrow = 0.0125, 0.0125 - 0.04 * tan(0.0525)
    hole = pi * 0.04 / 3.0 * (wide * wide + wide * narrow + narrow * narrow)
    assert volume(drain_holes=0) - volume(drain_holes=5) == pytest.approx(5 * hole, rel=1e-9)
    places = [plug.body.foot for plug in made(drain_holes=5, drain_ring=180).plugs]
    assert [(x * x + y * y) ** 0.5 for x, y, _ in places] == pytest.approx([0.09] * 5, rel=1e-12)


@pytest.mark.parametrize("sides", [3, 5, 6, 8, 12])
def test_chamfers_take_a_prism_from_every_corner(sides: int) -> None:
    """A triangle of two sides c with the corner's angle between them, as high as the planter."""
    taken = volume(sides=sides, drain_holes=0) - volume(sides=sides, drain_holes=0, chamfer=9)
    corner = pi - 2.0 * pi / sides
    assert taken == pytest.approx(sides * 0.009**2 / 2.0 * tan(corner) * cos(corner) * 0.3, rel=1e-9)


def hexagon(joint: str):
    """16 to 20 in across flats, 16 in high, panels of 0.72 in."""
    own = shop()
    sheets = tuple(replace(sheet, thickness=0.72 * INCH) for sheet in own.sheets)
    keys = {"size": "20 in", "base_size": "16 in", "height": "16 in", "wall": "2 in", "floor": "2 in"}
    order = PieceOrder(
        "piece", "many-sided", parameters(SHAPE, {"sides": 6, **keys}), 1, 1, MoldOptions(joint=joint)
    )
    return brace(line(order, replace(own, sheets=sheets), mix(), "in")[0])


def test_panels_of_the_hexagon_by_elementary_geometry() -> None:
    """Six mitred panels of 0.72 in on a hexagon 16 to 20 in across flats, 16 in high: 753.088 in3, tilt 29.745 deg.

    No print was found: each is a frustum less a frustum, and asin(cos b sin 30) with tan b = 2/16.
    """
    built = hexagon("mitred")
    panels = [part for part in built.mold.parts if part.role == "panel"]
    level = 0.72 * sqrt(1.0 + (2.0 / 16.0) ** 2)
    by_hand = frustum(6, 8 + level, 10 + level, 16) - frustum(6, 8, 10, 16)
    assert by_hand == pytest.approx(753.088, abs=5e-4)
    assert sum(volume_of(part.cells) for part in panels) / INCH**3 == pytest.approx(by_hand, rel=1e-9)
    tilts = [
        degrees(abs(cut.tilt)) for part in panels for cut in edge_cuts(part.blank) if abs(cut.tilt) > 0.2
    ]
    assert tilts == pytest.approx([29.745] * 12, abs=5e-4)


@pytest.mark.parametrize("sides", range(3, 13))
@pytest.mark.parametrize("joint", ["lapped", "mitred"])
@pytest.mark.parametrize("down", ["rim", "floor"])
def test_a_mold_of_any_number_of_sides_closes_and_comes_off(sides: int, joint: str, down: str) -> None:
    keys = {**PLAIN, "sides": sides, "size": 600, "base_size": 520, "down": down}
    built = build(SHAPE, parameters(SHAPE, keys), joint=joint)
    assert built.cavity.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)
    assert built.mold.locked == ()


@pytest.mark.parametrize(
    ("sides", "asked", "words"),
    [
        (3, "mitred", "too sharp for a mitre: they are lapped"),
        (8, "lapped", "too little for a lap: they are mitred"),
    ],
)
def test_a_joint_that_does_not_suit_is_replaced_and_said(sides: int, asked: str, words: str) -> None:
    keys = parameters(SHAPE, {**PLAIN, "sides": sides, "size": 600})
    assert any(words in said for said in build(SHAPE, keys, joint=asked).mold.instructions)
    other = "mitred" if asked == "lapped" else "lapped"
    assert not any(
        "they are" in said and "corners" in said for said in build(SHAPE, keys, joint=other).mold.instructions
    )


@pytest.mark.parametrize("sides", [5, 7])
def test_an_odd_number_of_lapped_sides_goes_round_like_a_windmill(sides: int) -> None:
    built = build(SHAPE, parameters(SHAPE, {**PLAIN, "sides": sides, "size": 700}), joint="lapped")
    rules = [tuple(corner.rule for corner in pair) for pair in built.lined.frame.corners.values()]
    assert rules == [("stops at", "runs past")] * sides


def test_narrow_mitred_sides_are_held_by_hoops_of_rails() -> None:
    built = build(SHAPE, parameters(SHAPE, {**PLAIN, "sides": 12, "size": 400}), joint="mitred")
    roles = [part.role for part in built.mold.parts if part.group.endswith(" panel")]
    assert "cleat" not in roles
    assert roles.count("rail") == 12 * len(built.rails)
    assert any("mitres of the hoops" in one.use for one in built.mold.hardware)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"wall": 220}, "too small for its walls"),
        ({"size": 300, "base_size": 110, "height": 800}, "too small for its walls"),
        ({"floor": 300}, "no height for the walls"),
        ({"chamfer": 12}, "quarter of the wall"),
        ({"chamfer": 60, "deep_chamfer": True, "sides": 12}, "leave nothing of a side"),
        ({"drain_holes": 24, "drain_diameter": 40}, "do not fit a floor"),
        ({"drain_holes": 4, "drain_ring": 700}, "do not fit a floor"),
        ({"gang": 2}, "cast alone"),
        ({"embed": [{"kind": "mesh", "pitch": 20, "wire": 2, "face": "long wall"}]}, "not the long and short ones"),
    ],
)  # fmt: skip
def test_contradictions_are_named(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        made(**keys)


@pytest.mark.parametrize("keys", [{"sides": 13}, {"sides": 2}, {"size": 0}, {"size": -5}, {"size": float("nan")},
                                  {"height": 1e9}, {"across": "points"}])  # fmt: skip
def test_values_out_of_range_are_refused(keys: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        parameters(SHAPE, {**PLAIN, **keys})
