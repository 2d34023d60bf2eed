"""Arches against circle and trapezoid geometry, and what they refuse."""

from __future__ import annotations

from math import asin, atan, cos, degrees, hypot, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import dot
from formwork.packet.saw import edge_cuts
from formwork.shapes.arch import SHAPE, ring
from formwork.shapes.body import envelope, piece_volume
from formwork.shapes.cast import lots
from formwork.shapes.piece import Lot, planar
from tests.drawn import parameters
from tests.workshop import build

INCH = 0.0254
PLAIN = {"span": "48 in", "rise": "12 in", "ring": "8 in", "width": "8 in", "stones": 11}


def made(**keys: object) -> Lot:
    return lots(SHAPE, parameters(SHAPE, {**PLAIN, **keys}), "arch", 0.018)[0]


def volume(**keys: object) -> float:
    return piece_volume(Planes(), made(**keys).piece)


def test_worked_arch_of_eleven_stones() -> None:
    """Span 48, rise 12, ring 8 in, 11 stones: R 30, 106.260 deg, 9.660 deg each, chords 5.0520 and 6.3992.

    Circle geometry worked by hand (no print found): R = (24^2 + 12^2) / 24, sin of half the arch = 24/30.
    """
    found = ring(48.0, 12.0, 8.0, 11)
    assert found.radius == pytest.approx(30.0, abs=1e-12)
    assert degrees(found.angle) == pytest.approx(106.260, abs=5e-4)
    assert degrees(found.each) == pytest.approx(9.660, abs=5e-4)
    assert found.inner_chord == pytest.approx(5.0520, abs=5e-5)
    assert found.outer_chord == pytest.approx(6.3992, abs=5e-5)


def test_volume_of_a_stone_in_closed_form() -> None:
    """Flat faces: (Re^2 - Ri^2) / 2 sin(angle) times the width; a joint takes j times the flat depth more."""
    lot = made()
    assert lot.each == 11
    by_hand = (38.0**2 - 30.0**2) / 2.0 * sin(radians(106.2602047) / 11) * 8.0
    assert piece_volume(Planes(), lot.piece) / INCH**3 == pytest.approx(by_hand, rel=1e-9)
    each = radians(106.2602047) / 11
    joint = 0.375 / cos(each / 2.0) * 8.0 * cos(each / 2.0) * 8.0
    assert volume(joint="3/8 in") / INCH**3 == pytest.approx(by_hand - joint, rel=1e-9)


def test_beds_lean_by_half_the_stone_and_so_do_the_panels_ends() -> None:
    built = build(SHAPE, parameters(SHAPE, PLAIN))
    beds = [face for face in planar(built.mold.piece).faces if face.name.endswith("bed")]
    assert [degrees(asin(abs(face.half.normal[1]))) for face in beds] == pytest.approx([4.830] * 2, abs=5e-4)
    soffit = next(part for part in built.mold.parts if part.name == "soffit panel")
    tilts = [degrees(abs(cut.tilt)) for cut in edge_cuts(soffit.blank) if abs(cut.tilt) > 1e-6]
    assert tilts == pytest.approx([4.830] * 2, abs=5e-4)


@given(stones=st.sampled_from([3, 5, 7, 11, 21]), share=st.floats(0.1, 0.5), joint=st.floats(0.0, 12.0))
@settings(max_examples=40, deadline=None)
def test_stones_and_joints_close_the_arch(stones: int, share: float, joint: float) -> None:
    """Turned one after another about the arch's centre, the stones stand a joint apart and end at the springings."""
    span, rise = 3.0, 3.0 * share
    keys = {"span": 3000, "rise": 3000 * share, "ring": 200, "width": 200, "stones": stones, "joint": joint}
    piece = lots(SHAPE, parameters(SHAPE, keys), "arch", 0.018)[0].piece
    radius = (span**2 / 4 + rise**2) / (2 * rise)
    each = 4.0 * atan(2.0 * rise / span) / stones
    middle = (2.0 * radius + 0.2) / 2.0 * cos(each / 2.0)
    left, right = (planar(piece).face(f"{side} bed").half for side in ("left", "right"))
    centre = (0.0, -middle, 0.0)
    assert left.depth(centre) == pytest.approx(-joint / 2000.0, abs=1e-9)
    assert right.depth(centre) == pytest.approx(-joint / 2000.0, abs=1e-9)
    assert dot(left.normal, right.normal) == pytest.approx(-cos(each), abs=1e-9)
    corners = envelope(Planes(), piece).points()
    reach = [hypot(x, y + middle) for x, y, _ in corners]
    assert max(reach) == pytest.approx(radius + 0.2, abs=joint / 1000.0 + 1e-9)
    assert min(reach) == pytest.approx(radius, abs=joint / 1000.0 + 1e-9)


def test_the_centre_touches_the_soffits_in_the_middle() -> None:
    found = ring(48.0, 12.0, 8.0, 11)
    assert found.centring == pytest.approx(30.0 * cos(radians(4.830)), abs=1e-4)
    assert found.radius - found.centring == pytest.approx(5.0520 / 2.0 * tan(radians(4.830 / 2.0)), abs=1e-4)
    assert any("(29 7/8 in)" in note for note in made(centre=False).piece.notes)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"rise": "25 in"}, "more than half the span"),
        ({"stones": 12}, "no keystone; use 11 or 13"),
        ({"stones": 61, "joint": "1 in"}, "wider than a stone"),
        ({"stones": 51, "joint": "1/2 in"}, "at the soffit, at least"),
        ({"chamfer": "1 1/2 in"}, "more than a quarter"),
        ({"gang": 2}, "gang"),
    ],
)
def test_contradictions_are_named(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        made(**keys)


@pytest.mark.parametrize("keys", [{"span": 0}, {"rise": -1}, {"ring": float("nan")}, {"stones": 0}, {"stones": 5.5},
                                  {"width": float("inf")}])  # fmt: skip
def test_values_out_of_range_are_refused(keys: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        parameters(SHAPE, {**PLAIN, **keys})
