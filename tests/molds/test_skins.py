"""Skins bent round cylinders and cones: the flat pattern rolls up to the cone, and no sheet is bent too tightly.

The pattern is checked by a route of its own: every point of it, rolled up by its distance from the apex and its angle
there, must lie on the cone, and lengths along arcs must be those of the circles they come to lie on.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, hypot, pi, sin, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import Outline, area, box, legs, polygon
from formwork.geometry.turned import Turned
from formwork.molds.wraps.cones import Cone, cones, flat
from formwork.molds.wraps.skins import Wanted, bend_of, skin_blank, skin_for
from formwork.stock.records import SheetStock
from formwork.strength.bending import Bend
from tests.workshop import shop

CONE = Cone((0.26, 0.0), (0.32, 0.42))

sides = st.builds(
    lambda foot, head, height: Cone((foot, 0.0), (head, height)),
    st.floats(0.08, 0.6),
    st.floats(0.08, 0.6),
    st.floats(0.2, 1.5),
).filter(lambda side: abs(side.foot[0] - side.head[0]) > 1e-4)


def rolled(side: Cone, pattern: Outline, sweep: float, point: tuple[float, float]) -> tuple[float, float]:
    """Radius and slant height above the narrow end of a point of the pattern once it is rolled up.

    The apex lies below the middle of the narrow arc; on the rolled cone a distance from it is kept, and an angle at it
    grows by one over the sine of the lean.
    """
    lean = abs(side.lean)
    near = min(side.foot[0], side.head[0]) / sin(lean)
    half = sweep * sin(lean) / 2.0
    (_, _), (width, _) = box(pattern)
    apex = (width / 2.0, -near * cos(half))
    away = hypot(point[0] - apex[0], point[1] - apex[1])
    return away * sin(lean), away - near


@given(side=sides, share=st.sampled_from((0.25, 0.5, 1.0)))
@settings(max_examples=60, deadline=None)
def test_the_pattern_rolls_up_to_the_cone(side: Cone, share: float) -> None:
    sweep = share * tau
    if sweep * abs(sin(side.lean)) > 0.9 * pi:
        return
    pattern = flat(side, sweep)
    narrow, wide = sorted((side.foot[0], side.head[0]))
    for leg in legs(pattern):
        for point in (leg.start, leg.end):
            radius, up = rolled(side, pattern, sweep, point)
            ends = [(narrow, 0.0), (wide, side.slant)]
            assert any(abs(radius - r) < 1e-8 and abs(up - s) < 1e-8 for r, s in ends), (radius, up)
    arcs = sorted(leg.length for leg in legs(pattern) if leg.bulge)
    assert arcs == pytest.approx([sweep * narrow, sweep * wide], rel=1e-9)
    straight = [leg.length for leg in legs(pattern) if not leg.bulge]
    assert straight == pytest.approx([side.slant] * 2, rel=1e-9)


@given(side=sides)
@settings(max_examples=40, deadline=None)
def test_the_pattern_has_the_area_of_the_side(side: Cone) -> None:
    """Source: lateral area of a frustum, pi (r + R) l, CRC mensuration formulas."""
    if pi * abs(sin(side.lean)) > 0.9 * pi:
        return
    whole = pi * (side.foot[0] + side.head[0]) * side.slant
    assert area(flat(side, pi)) == pytest.approx(whole / 2.0, rel=1e-9)


def test_a_slight_cone_is_as_exact_as_a_cylinder() -> None:
    straight = flat(Cone((0.3, 0.0), (0.3, 0.5)), pi)
    slight = flat(Cone((0.3, 0.0), (0.3 + 1e-7, 0.5)), pi)
    for (x, y), (u, v) in zip(box(straight), box(slight), strict=True):
        assert (x, y) == pytest.approx((u, v), abs=1e-6)


def test_the_pattern_is_that_of_the_middle_of_the_sheet() -> None:
    """A cylinder of 500 in a skin of 4 mm: half of it is pi times 252 mm long."""
    sheet = next(one for one in shop().sheets if one.name == "birch 4")
    skin = skin_for(
        shop(), "birch 4", Wanted((Cone((0.3, 0.0), (0.3, 0.5)),), 0.3, pi, True, "outside"), "piece", "mm"
    )
    blank = skin_blank(skin, Cone((0.302, 0.0), (0.302, 0.5)), pi)
    assert skin.sheet == sheet and skin.upright
    assert (blank.length, blank.width) == pytest.approx((0.5, pi * 0.302))


def wanted(radius: float, height: float = 0.4, out: bool = True) -> Wanted:
    return Wanted((Cone((radius, 0.0), (radius, height)),), radius, pi, out, "outside")


def test_a_sheet_that_does_not_bend_so_tightly_is_refused_and_one_that_does_is_named() -> None:
    with pytest.raises(
        StockError, match=r"plywood 12 bends to a radius of .*American Plywood Association.*would do"
    ):
        skin_for(shop(), "plywood 12", wanted(0.3), "piece", "mm")


def test_what_nobody_published_needs_a_radius_of_its_own() -> None:
    own = shop()
    with pytest.raises(StockError, match=r"hardboard.*bend_radius"):
        skin_for(own, "hardboard 3", wanted(0.3), "piece", "mm")
    told = tuple(
        replace(sheet, bend_radius=0.25) if sheet.name == "hardboard 3" else sheet for sheet in own.sheets
    )
    assert (
        skin_for(replace(own, sheets=told), "hardboard 3", wanted(0.3), "piece", "mm").sheet.bend_radius
        == 0.25
    )


def test_the_hollow_face_counts() -> None:
    """A core's skin lies inside of its face, so that its own hollow face is tighter by its thickness."""
    sheet = SheetStock("board", "hardboard", "3 mm", 0.003, True, 2.4, 1.2, grain=False, bend_radius=0.2)
    own = replace(shop(), sheets=(sheet,))
    assert skin_for(own, "board", wanted(0.2), "piece", "mm")
    with pytest.raises(StockError):
        skin_for(own, "board", wanted(0.2, out=False), "piece", "mm")
    assert skin_for(own, "board", wanted(0.203, out=False), "piece", "mm")


def test_grain_round_the_mold_only_where_that_way_bends_so_far() -> None:
    """APA: plywood of 1/4 in bends across its grain to 2 ft and along it to 5 ft."""
    sheet = SheetStock("ply", "plywood", "6.35 mm", 0.00635, True, 2.4, 1.2)
    own = replace(shop(), sheets=(sheet,))
    assert skin_for(own, "ply", wanted(0.62, 1.0), "piece", "mm").way == "across"
    across, along = bend_of(sheet, "across"), bend_of(sheet, "along")
    assert isinstance(across, Bend) and isinstance(along, Bend)
    assert (across.radius, along.radius) == pytest.approx((0.6096, 1.524))
    assert skin_for(own, "ply", wanted(1.6, 0.4), "piece", "mm").way == "along"


def test_a_long_way_round_takes_several_panels() -> None:
    skin = skin_for(shop(), "birch 4", wanted(0.7), "piece", "mm")
    assert skin.panels == 2
    blank = skin_blank(skin, Cone((0.702, 0.0), (0.702, 0.4)), pi / skin.panels)
    assert blank.length <= 1.515 and blank.width <= 1.515


@pytest.mark.parametrize(
    ("profile", "words"),
    [
        (Outline(((0.0, 0.0), (0.3, 0.0), (0.3, 0.4), (0.0, 0.4)), (0.0, 0.3, 0.0, 0.0)), "arc"),
        (polygon(((0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.4, 0.2), (0.4, 0.4), (0.0, 0.4))), "ledge"),
    ],
)
def test_a_side_that_no_flat_sheet_bends_to_is_refused(profile: Outline, words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        cones(Turned(profile), "piece")


def test_lean_and_slant() -> None:
    assert CONE.lean == pytest.approx(atan2(0.06, 0.42))
    assert CONE.slant == pytest.approx(hypot(0.06, 0.42))
    moved = CONE.moved(0.01)
    assert (moved.foot[0] - CONE.foot[0]) * cos(CONE.lean) == pytest.approx(0.01)
