"""Offsets, crossings, joining and arcs of outlines, against closed forms and an independent polygon library."""

from __future__ import annotations

from math import cos, hypot, pi, sin, sqrt, tan

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from formwork.geometry.biarcs import Spot, as_arcs, through
from formwork.geometry.clearance import gap, roomiest
from formwork.geometry.crossings import crossing, encloses, first_meeting, point_at
from formwork.geometry.joined import FlawError, loops, nested, sound
from formwork.geometry.offsets import OffsetError, eased, in_step, offset, turn
from formwork.geometry.outlines import (
    Leg,
    Outline,
    area,
    circle,
    flattened,
    legs,
    perimeter,
    polygon,
    rectangle,
    shifted,
)
from formwork.geometry.prisms import Prism
from formwork.geometry.regions import Section, free_round, overlapping
from formwork.geometry.rounding import rounded

SQUARE = rectangle((0.0, 0.0), (0.4, 0.3))
HALF_DISC = Outline(((-0.2, 0.0), (0.2, 0.0)), (0.0, 1.0))
ELL = polygon(((0.0, 0.0), (0.4, 0.0), (0.4, 0.2), (0.2, 0.2), (0.2, 0.5), (0.0, 0.5)))


def as_polygon(outline: Outline, chord: float = 1e-8) -> shapely.Polygon:
    return shapely.Polygon(flattened(outline, chord))


@given(radius=st.floats(0.01, 0.14), by=st.floats(-0.009, 0.1))
@settings(max_examples=40, deadline=None)
def test_a_smooth_outline_grows_as_steiner_says(radius: float, by: float) -> None:
    """Steiner: area + perimeter d + pi d2, for an outline without corners."""
    stone = rounded(SQUARE, [radius] * 4)
    grown = offset(stone, by)
    assert area(grown) == pytest.approx(area(stone) + perimeter(stone) * by + pi * by * by, rel=1e-12)
    assert grown.bulges == stone.bulges


@pytest.mark.parametrize("shape", [SQUARE, HALF_DISC, ELL], ids=["square", "half disc", "L"])
@pytest.mark.parametrize("by", [0.02, -0.02])
def test_corners_are_mitred_as_a_polygon_library_has_them(shape: Outline, by: float) -> None:
    """The library mitres the ends of an arc along their tangents, which costs a ten-thousandth here."""
    library = as_polygon(shape, 1e-5).buffer(by, join_style="mitre", mitre_limit=50.0)
    assert area(offset(shape, by)) == pytest.approx(library.area, rel=2e-4)


def test_an_offset_and_back_is_the_outline_again() -> None:
    for shape in (HALF_DISC, ELL, circle((1.0, 2.0), 0.3)):
        back = offset(offset(shape, 0.015), -0.015)
        for (x, y), (u, v) in zip(back.points, shape.points, strict=True):
            assert hypot(x - u, y - v) < 1e-12


@pytest.mark.parametrize(
    ("shape", "by", "words", "place"),
    [
        (rounded(SQUARE, [0.05] * 4), -0.06, "radius 50.0 mm would close", None),
        (SQUARE, -0.16, "would close", None),
        (circle((0.0, 0.0), 0.1), -0.1, "radius 100.0 mm would close", None),
        (
            polygon(((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (0.52, 0.5), (0.52, 0.2), (0.48, 0.2), (0.48, 0.5), (0.0, 0.5))),
            0.025,
            "40.0 mm would close",
            (0.5, 0.2),
        ),
    ],
)  # fmt: skip
def test_a_leg_that_would_close_is_named_with_its_place(
    shape: Outline, by: float, words: str, place: tuple[float, float] | None
) -> None:
    with pytest.raises(OffsetError, match=words) as refused:
        offset(shape, by)
    if place is not None:
        assert refused.value.place == pytest.approx(place, abs=1e-9)


def test_a_neck_that_would_meet_itself_is_named() -> None:
    dumbbell = polygon(
        ((0, 0), (0.3, 0), (0.3, 0.1), (0.5, 0.1), (0.5, 0), (0.8, 0), (0.8, 0.3), (0.5, 0.3), (0.5, 0.14), (0.3, 0.14),
         (0.3, 0.3), (0, 0.3))
    )  # fmt: skip
    with pytest.raises(OffsetError, match="would meet") as refused:
        offset(dumbbell, -0.025)
    x, y = refused.value.place
    assert 0.28 < x < 0.52 and 0.09 < y < 0.15


BULGES = st.floats(-0.9, 0.9).map(lambda bulge: 0.0 if abs(bulge) < 1e-3 else bulge)


@given(bulges=st.tuples(*[BULGES] * 4), x=st.floats(-0.4, 0.9), y=st.floats(-0.4, 0.9))
@settings(max_examples=120, deadline=None)
def test_inside_and_crossing_agree_with_a_polygon_library(
    bulges: tuple[float, ...], x: float, y: float
) -> None:
    shape = Outline(((0.0, 0.0), (0.5, 0.0), (0.5, 0.5), (0.0, 0.5)), bulges)
    run = list(legs(shape))
    assume(
        all(abs(turn(run[i - 1], leg)) < pi - 0.1 for i, leg in enumerate(run))
    )  # a cusp hides in the chords
    known = as_polygon(shape, 1e-5)
    assert (crossing(shape) is None) == known.is_valid
    if known.is_valid and known.exterior.distance(shapely.Point(x, y)) > 1e-5:
        assert encloses(shape, (x, y)) == known.contains(shapely.Point(x, y))


def test_a_place_on_the_chord_of_an_arc_is_told_like_any_other() -> None:
    for lift in (0.0, 1e-17, -1e-17):
        crescent = Outline(
            ((0.4, -0.111397), (-0.4, -0.111397), (-0.3, -0.111397), (0.3, -0.111397)), (0.9, 0.0, -0.7, 0.0)
        )
        assert crossing(crescent) is None
        assert not encloses(crescent, (1e-16, -0.111397 + lift))
        assert encloses(HALF_DISC, (0.0, 0.1)) and not encloses(HALF_DISC, (0.3, lift))


def test_where_an_outline_crosses_itself() -> None:
    met = crossing(polygon(((0, 0), (1, 1), (1, 0), (0, 1))))
    assert met is not None and met.place == pytest.approx((0.5, 0.5))
    spur = crossing(polygon(((0, 0), (1, 0), (1, 1), (1, 2), (1, 1.5), (0, 1))))
    assert spur is not None and spur.along and spur.place[0] == 1.0
    assert first_meeting(SQUARE, shifted(circle((0.0, 0.0), 0.1), (0.4, 0.15))) is not None
    assert first_meeting(SQUARE, circle((0.2, 0.15), 0.1)) is None


def test_legs_in_any_order_make_their_loops() -> None:
    scattered = [
        Leg((0.4, 0.0), (0.0, 0.0), 0.0),
        Leg((0.0, 0.3), (0.4, 0.3), 0.0),
        Leg((0.0, 0.0), (0.0, 0.3), 0.0),
        Leg((0.4, 0.000004), (0.4, 0.3), 0.0),
        *legs(circle((0.2, 0.15), 0.05)),
    ]
    outer, holes = nested(loops(scattered))
    assert area(outer) == pytest.approx(0.12, rel=1e-4)
    assert [area(hole) for hole in holes] == pytest.approx([pi * 0.0025])


@pytest.mark.parametrize(
    ("some", "words", "places"),
    [
        ([Leg((0, 0), (1, 0), 0), Leg((1.001, 0), (1, 1), 0), Leg((1, 1), (0, 0), 0)], "gap of 1 mm", [(1, 0), (1.001, 0)]),
        ([Leg((0, 0), (1, 0), 0), Leg((1, 0), (1, 1), 0), Leg((1, 1), (0, 0), 0), Leg((1, 0), (0, 0), 0)],
         "drawn twice", [(1, 0), (0, 0)]),
        ([Leg((0, 0), (1, 0), 0), Leg((1, 0), (1, 0), 0), Leg((1, 0), (0, 1), 0)], "no length", [(1, 0)]),
        ([Leg((0, 0), (1, 1), 0), Leg((1, 1), (1, 0), 0), Leg((1, 0), (0, 1), 0), Leg((0, 1), (0, 0), 0)],
         "crosses", [(0.5, 0.5)]),
        ([*legs(rectangle((0, 0), (1, 1))), *legs(rectangle((1, 1), (2, 2)))], "more than two legs", [(1, 1)]),
    ],
)  # fmt: skip
def test_what_keeps_an_outline_open_is_named_with_its_place(
    some: list[Leg], words: str, places: list[tuple[float, float]]
) -> None:
    with pytest.raises(FlawError, match=words) as refused:
        loops(some)
    assert list(refused.value.flaw.places) == places


@pytest.mark.parametrize(
    ("holes", "words"),
    [
        ([circle((0.39, 0.15), 0.05)], "crosses or touches the outline"),
        ([circle((0.9, 0.15), 0.05)], "beside the first"),
        ([circle((0.1, 0.15), 0.06), circle((0.19, 0.15), 0.06)], "two holes cross"),
        ([circle((0.2, 0.15), 0.1), circle((0.2, 0.15), 0.05)], "inside another"),
    ],
)
def test_holes_that_cannot_be(holes: list[Outline], words: str) -> None:
    with pytest.raises(FlawError, match=words):
        nested([SQUARE, *holes])


def test_an_outline_run_clockwise_is_turned_and_its_great_arcs_halved() -> None:
    pin = Outline(((0.0, 0.0), (0.1, 0.0)), (-tan(1.5 * pi / 4.0), 0.0))
    turned = sound(pin)
    assert area(turned) == pytest.approx(-area(pin)) and area(turned) > 0.0
    assert max(abs(leg.sweep) for leg in legs(turned)) < pi


def test_an_ellipse_as_arcs_keeps_to_its_tolerance_and_is_smooth() -> None:
    a, b = 0.3, 0.15

    def spot(t: float) -> Spot:
        way = (-a * sin(t), b * cos(t))
        return Spot((a * cos(t), b * sin(t)), (way[0] / hypot(*way), way[1] / hypot(*way)))

    for tolerance in (1e-3, 1e-4):
        some = [leg for k in range(4) for leg in as_arcs(spot, k * pi / 2.0, (k + 1) * pi / 2.0, tolerance)]
        (outline,) = loops(some)
        line = shapely.LinearRing([spot(2.0 * pi * k / 4000).place for k in range(4000)])
        assert max(line.distance(shapely.Point(p)) for p in flattened(outline, 1e-6)) < 1.1 * tolerance
        assert area(outline) == pytest.approx(pi * a * b, rel=4.0 * tolerance / b)
        run = list(legs(outline))
        assert max(abs(turn(run[i - 1], leg)) for i, leg in enumerate(run)) < 1e-7


def test_an_arc_through_three_points_and_a_rounded_corner() -> None:
    bulge = through((0.0, 0.0), (0.4, -0.4), (0.8, 0.0))
    assert Leg((0.0, 0.0), (0.8, 0.0), bulge).arc().radius == pytest.approx(0.4)
    assert through((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)) == 0.0
    cut = area(SQUARE) - area(rounded(SQUARE, [0.1, 0.0, 0.0, 0.0]))
    assert cut == pytest.approx((1.0 - pi / 4.0) * 0.01)
    with pytest.raises(FlawError, match="more than the edge"):
        rounded(SQUARE, [0.2, 0.25, 0.0, 0.0])
    with pytest.raises(FlawError, match="only a corner between two straight edges"):
        rounded(HALF_DISC, [0.02, 0.0])


def test_gaps_and_room() -> None:
    width, place = gap(circle((0.2, 0.15), 0.05), SQUARE)
    assert width == pytest.approx(0.1, abs=5e-4)
    assert place[0] == pytest.approx(0.2, abs=0.02)
    x, y = roomiest(SQUARE, [circle((0.1, 0.15), 0.08)])
    assert x > 0.2 and 0.1 < y < 0.2


def ruled(body: Prism, share: float, count: int = 20000) -> float:
    """Area of a section whose every point lies straight between foot and head, by fine chords."""
    points = []
    for low, high in zip(legs(body.outline), legs(body.top), strict=True):
        for k in range(count if low.bulge else 1):
            (x0, y0), (x1, y1) = point_at(low, k / count), point_at(high, k / count)
            points.append((x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
    return area(polygon(points))


def test_a_prism_whose_arcs_turn_further_at_its_head_is_ruled_from_foot_to_head() -> None:
    """A half disc drawn out: Simpson over three sections of fine chords, exact for the quadratic that they follow."""
    body = Prism(HALF_DISC, 0.1, head=offset(HALF_DISC, 0.03))
    assert body.top.bulges[1] > 1.0
    simpson = (ruled(body, 0.0) + 4.0 * ruled(body, 0.5) + ruled(body, 1.0)) / 6.0
    assert body.volume() == pytest.approx(0.1 * simpson, rel=1e-7)


def test_arcs_that_change_in_step_give_sections_as_good_as_ruled_ones() -> None:
    base = eased(HALF_DISC, 0.03)
    foot, head = in_step([base, offset(base, 0.03)])
    body = Prism(foot, 0.1, head=head)
    assert area(foot) == pytest.approx(area(HALF_DISC), rel=1e-12)
    low, high = area(foot), area(head)
    mixed = 3.0 * body.volume() / body.height - low - high  # held against fine chords above
    assert area(body.at(0.5)) == pytest.approx((low + 2.0 * mixed + high) / 4.0, rel=3e-7)


def test_openings_drawn_in_are_taken_out_exactly() -> None:
    """A ring round a cone: cylinder less frustum of a cone (CRC mensuration formulas)."""
    r, s, h = 0.2, 0.19, 0.01
    outer = circle((0.0, 0.0), r)
    ring = Prism(outer, h, openings=(circle((0.0, 0.0), s),), head_openings=(outer,))
    assert ring.volume() == pytest.approx(pi * h * (r * r - (r * r + r * s + s * s) / 3.0), rel=1e-12)
    larger = ring.grown(1.1)
    assert larger.volume() == pytest.approx(1.1**3 * ring.volume(), rel=1e-12)
    assert ring.turned_over(h).volume() == pytest.approx(ring.volume(), rel=1e-12)


def strips(gap_right: float = 0.0) -> list[Section]:
    t = 0.018
    return [
        Section("front", rectangle((0.0, -t), (0.4 + t, 0.0))),
        Section("right", rectangle((0.4, gap_right), (0.4 + t, 0.3 + t))),
        Section("back", rectangle((-t, 0.3), (0.4, 0.3 + t))),
        Section("left", rectangle((-t, -t), (0.0, 0.3))),
        Section("plug", circle((0.2, 0.15), 0.05)),
    ]


def test_strips_enclose_what_lies_between_them() -> None:
    found = free_round(strips(), (0.05, 0.05))
    assert found.area == pytest.approx(0.12 - pi * 0.0025, rel=1e-12)
    ring = Section("sheet", rectangle((-1.0, -1.0), (1.0, 1.0)), (circle((0.0, 0.0), 0.3),))
    assert free_round([ring], (0.0, 0.0)).area == pytest.approx(pi * 0.09, rel=1e-12)


def test_a_gap_between_strips_is_named_with_its_width_and_place() -> None:
    found = free_round(strips(0.002), (0.05, 0.05))
    assert found.area is None
    assert found.between == ("front", "right")
    assert found.width == pytest.approx(0.002)
    assert found.place[0] == pytest.approx(0.4, abs=0.02)


def test_outlines_that_share_space_and_those_that_only_touch() -> None:
    unit = rectangle((0.0, 0.0), (1.0, 1.0))
    assert overlapping(unit, rectangle((1.0, 0.0), (2.0, 1.0))) is None
    assert overlapping(unit, rectangle((0.9, 0.0), (2.0, 1.0))) is not None
    assert overlapping(unit, rectangle((0.4, 0.4), (0.6, 0.6))) is not None
    assert overlapping(unit, unit) is not None
    assert overlapping(circle((0.0, 0.0), 1.0), circle((sqrt(2.0) * 1.5, 0.0), 1.0)) is None
