"""The cavity from the parts alone: closed forms, a flood fill of unit cubes, and molds that leak on purpose."""

from itertools import product
from math import asin, atan, cos, degrees, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry.cavity import Solid, enclosed, overlaps
from formwork.geometry.cells import cut_away, minus, split, volume
from formwork.geometry.planes import HalfSpace, behind
from formwork.geometry.rounds import Round
from formwork.geometry.vectors import dot

INCH = 0.0254
UP = (0.0, 0.0, 1.0)
DOWN = (0.0, 0.0, -1.0)
RULES = ("mitred", "past", "pairs")


def obelisk(a, b, c, d, h):
    """Volume between two level rectangles a x b and c x d, h apart.

    Source: CRC mensuration formulas, prismatoid h/6 (A1 + 4 M + A2) (facts read from a mirror of the page).
    """
    return h / 6 * (a * b + (a + c) * (b + d) + c * d)


def planter(build, rule, a=14 * INCH, b=14 * INCH, c=20 * INCH, d=20 * INCH, h=18 * INCH, t=0.72 * INCH):
    sides = build.sides(build.rectangle(a, b), build.rectangle(c, d), h)
    return sides, [*build.panels(sides, t, h, rule), build.base(0.5)]


@pytest.mark.parametrize("rule", RULES)
def test_tapered_box(build, rule):
    _, parts = planter(build, rule)
    cavity = enclosed(build.planes, parts, 18 * INCH, [(0.0, 0.0, 0.1)])
    assert cavity.volume == pytest.approx(obelisk(14, 14, 20, 20, 18) * INCH**3, rel=1e-9)
    assert cavity.volumes == (cavity.volume,)
    assert cavity.leaks == ()
    assert volume(cavity.cells) == pytest.approx(cavity.volume, rel=1e-12)
    assert overlaps(build.planes, parts) == []


@pytest.mark.parametrize("rule", RULES)
def test_planter_with_core(build, rule):
    # geometry facts, section 5: 14 -> 20 in, 18 in high, wall 2 in level, floor 2 in: 2373.630 in3 [V].
    _, parts = planter(build, rule)
    core = build.sides(
        build.rectangle(10 * INCH, 10 * INCH), build.rectangle(16 * INCH, 16 * INCH), 18 * INCH
    )
    parts.append(Solid("core", (build.body([*core, HalfSpace(DOWN, -2 * INCH), HalfSpace(UP, 20 * INCH)]),)))
    cavity = enclosed(build.planes, parts, 18 * INCH, [(0.0, 0.0, INCH)])
    assert cavity.volume / INCH**3 == pytest.approx(2373.630, abs=5e-4)


@pytest.mark.parametrize("rule", RULES)
def test_panels_of_the_tapered_box(build, rule):
    # Check figure of the design notes: 931.798 in3 in 0.72 in sheet, whatever the joints [V].
    _, parts = planter(build, rule)
    panels = [cell for part in parts[:4] for cell in part.cells]
    assert volume(panels) / INCH**3 == pytest.approx(931.798, abs=5e-4)


@pytest.mark.parametrize("rule", ["mitred", "past"])
def test_panels_of_the_hexagon(build, rule):
    # Check figure of the design notes: hexagon 16 -> 20 in across flats, 16 in high, 0.72 in: 753.088 in3 [V].
    sides = build.sides(build.regular(6, 16 * INCH), build.regular(6, 20 * INCH), 16 * INCH)
    panels = build.panels(sides, 0.72 * INCH, 16 * INCH, rule)
    assert volume(panel.cells[0] for panel in panels) / INCH**3 == pytest.approx(753.088, abs=5e-4)


def tilt(build, panel, face, end):
    """Angle from square between a panel's face and one of its ends, deg."""
    return degrees(asin(min(1.0, abs(dot(build.planes.normal(face), build.planes.normal(end))))))


@pytest.mark.parametrize(
    ("count", "foot", "rim", "height", "rule", "expected"),
    [(4, 14, 20, 18, "mitred", 44.226), (4, 14, 20, 18, "past", 1.549), (6, 16, 20, 16, "mitred", 29.745)],
)
def test_blade_tilt(build, count, foot, rim, height, rule, expected):
    # Check figures of the design notes [V]; the mitred ones also follow from the hopper formula below.
    sides = build.sides(build.regular(count, foot * INCH), build.regular(count, rim * INCH), height * INCH)
    panel = build.panels(sides, 0.72 * INCH, height * INCH, rule)[0].cells[0]
    face = build.planes.enter(sides[0].flipped())
    levels = {build.planes.enter(HalfSpace(UP, height * INCH)), build.planes.enter(HalfSpace(DOWN, 0.0))}
    outer = build.planes.enter(sides[0].moved(0.72 * INCH))
    ends = [reference for reference in panel.facets if reference not in {face, outer, *levels}]
    assert len(ends) == 2
    for end in ends:
        assert tilt(build, panel, face, end) == pytest.approx(expected, abs=5e-4)


# Mitre (degrees from square) and blade tilt for n = 4, slopes 5 to 45 deg from level.
# Source: Craftsman 315.21212 table saw manual, p. 24, as read from manualsdump.
CHART = {
    5: (44.89, 3.53),
    10: (44.56, 7.05),
    15: (44.01, 10.55),
    20: (43.22, 14.00),
    25: (42.19, 17.39),
    30: (40.89, 20.70),
    35: (39.32, 23.93),
    40: (37.45, 27.03),
    45: (35.26, 30.00),
}


@pytest.mark.parametrize("slope", CHART)
def test_blade_tilt_of_the_published_saw_chart(build, slope):
    rise = 0.1
    foot = 0.4
    rim = foot + 2 * rise / tan(radians(slope))
    sides = build.sides(build.rectangle(foot, foot), build.rectangle(rim, rim), rise)
    panel = build.panels(sides, 0.01, rise)[0].cells[0]
    face = build.planes.enter(sides[0].flipped())
    bevels = [tilt(build, panel, face, reference) for reference in panel.facets]
    bevels = [bevel for bevel in bevels if bevel < 89.0]
    mitre, blade = CHART[slope]
    assert any(bevel == pytest.approx(blade, abs=0.015) for bevel in bevels)
    corner = _corner_angle(panel.facets[face])
    assert 90.0 - corner == pytest.approx(mitre, abs=0.015)


def _corner_angle(polygon):
    """Sharpest corner of a facet, deg."""
    angles = []
    for k, here in enumerate(polygon):
        a = tuple(p - q for p, q in zip(polygon[k - 1], here, strict=True))
        b = tuple(p - q for p, q in zip(polygon[(k + 1) % len(polygon)], here, strict=True))
        cosine = dot(a, b) / (dot(a, a) * dot(b, b)) ** 0.5
        angles.append(degrees(pi / 2 - asin(cosine)))
    return min(angles)


@pytest.mark.parametrize("count", [3, 6, 12])
@pytest.mark.parametrize("rule", ["mitred", "past"])
@pytest.mark.parametrize("spread", [1.0, 1.2])
def test_many_sided_prisms(build, count, rule, spread):
    # Regular n-gon of side s: area n s^2 / (4 tan(pi/n)); frustum of similar ends h/3 (A1 + A2 + sqrt(A1 A2)),
    # CRC mensuration formulas.
    across = 0.4
    sides = build.sides(build.regular(count, across), build.regular(count, across * spread), 0.3)
    parts = [*build.panels(sides, 0.018, 0.35, rule), build.base(0.8)]
    cavity = enclosed(build.planes, parts, 0.3, [(0.0, 0.0, 0.1)])
    side = across * tan(pi / count)
    small = count * side**2 / (4 * tan(pi / count))
    large = small * spread**2
    assert cavity.leaks == ()
    assert cavity.volume == pytest.approx(0.1 * (small + large + (small * large) ** 0.5), rel=1e-9)


def test_l_shape(build):
    # Envelope less a notch box: the area of an L times its height.
    sides = build.sides(build.rectangle(0.6, 0.5), build.rectangle(0.6, 0.5), 0.2)
    notch = Solid("notch box", (build.box((0.05, 0.0, 0.0), (0.3, 0.25, 0.2)),))
    parts = [*build.panels(sides, 0.018, 0.2, "pairs"), build.base(0.5), notch]
    cavity = enclosed(build.planes, parts, 0.2, [(-0.2, 0.0, 0.1)])
    assert cavity.volume == pytest.approx((0.6 * 0.5 - 0.25 * 0.25) * 0.2, rel=1e-9)


def test_wedge(build):
    # A wedge block lying on its slope: triangular panels, volume half of the box round it.
    sides = build.sides(build.rectangle(0.3, 0.2), build.rectangle(0.3, 0.2), 0.1)
    ramp = behind((-0.1, 0.0, 0.3), (0.0, 0.0, 0.05))
    floor = Solid("ramp", (build.body([*sides, ramp, HalfSpace(DOWN, 0.0)]),))
    parts = [*build.panels(sides, 0.018, 0.1, "past"), build.base(0.5), floor]
    cavity = enclosed(build.planes, parts, 0.1, [(-0.1, 0.0, 0.09)])
    assert cavity.volume == pytest.approx(0.5 * 0.3 * 0.2 * 0.1, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    size=st.tuples(*[st.floats(0.2, 0.8)] * 4),
    height=st.floats(0.15, 0.6),
    wall=st.floats(0.03, 0.08),
    floor=st.floats(0.03, 0.1),
    chamfer=st.floats(0.005, 0.02),
    rule=st.sampled_from(RULES),
    turn=st.floats(0.0, 0.5),
)
def test_random_planters(build_new, size, height, wall, floor, chamfer, rule, turn):
    build = build_new()
    a, b, c, d = size
    sides = build.sides(build.rectangle(a, b), build.rectangle(c, d), height)
    inner = [
        HalfSpace(side.normal, side.offset - wall * (1.0 - side.normal[2] ** 2) ** 0.5) for side in sides
    ]
    strip = build.body(
        [
            sides[0],
            sides[1],
            HalfSpace(DOWN, 0.0),
            HalfSpace(UP, height),
            _across(sides[0], sides[1], chamfer),
        ]
    )
    core = build.body([*inner, HalfSpace(DOWN, -floor), HalfSpace(UP, height + 0.02)])
    parts = [
        *build.panels(sides, 0.018, height, rule),
        build.base(1.2),
        Solid("chamfer strip", (strip,)),
        Solid("core", (core,)),
    ]
    cavity = enclosed(build.planes, parts, height, [(0.0, 0.0, floor / 2)])
    outer = obelisk(a, b, c, d, height)
    foot, rise = floor / height, height - floor
    low = (a + (c - a) * foot - 2 * wall, b + (d - b) * foot - 2 * wall)
    hollow = obelisk(*low, c - 2 * wall, d - 2 * wall, rise)
    assert cavity.leaks == ()
    assert cavity.volume == pytest.approx(outer - hollow - strip.volume(), rel=1e-9)
    assert strip.volume() > 0.0


def _across(one, other, size):
    """The plane that cuts a strip off the edge between two faces, ``size`` deep at right angles to both."""
    normal = tuple(-(p + q) for p, q in zip(one.normal, other.normal, strict=True))
    length = dot(normal, normal) ** 0.5
    return HalfSpace(tuple(v / length for v in normal), (-(one.offset + other.offset) + size) / length)


def gang(build, count, width=0.2, deep=0.4, high=0.2, sheet=0.018):
    """Hollow blocks side by side: dividers between them, two tapered cores in each."""
    along = count * width + (count - 1) * sheet
    ends = {
        "left": ((-sheet, 0.0, 0.0), (0.0, deep, high)),
        "right": ((along, 0.0, 0.0), (along + sheet, deep, high)),
        "front": ((-sheet, -sheet, 0.0), (along + sheet, 0.0, high)),
        "back": ((-sheet, deep, 0.0), (along + sheet, deep + sheet, high)),
    }
    parts = [Solid(name, (build.box(*corners),)) for name, corners in ends.items()]
    parts.append(Solid("base", (build.box((-0.1, -0.1, -sheet), (along + 0.1, deep + 0.1, 0.0)),)))
    spots = []
    for k in range(count):
        x = k * (width + sheet)
        if k:
            parts.append(Solid(f"divider {k}", (build.box((x - sheet, 0.0, 0.0), (x, deep, high)),)))
        for j in range(2):
            middle = (x + width / 2, deep * (1 + 2 * j) / 4)
            foot = [
                (middle[0] + sx * 0.06, middle[1] + sy * 0.06)
                for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
            ]
            rim = [
                (middle[0] + sx * 0.065, middle[1] + sy * 0.065)
                for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
            ]
            halves = [*build.sides(foot, rim, high), HalfSpace(DOWN, 0.0), HalfSpace(UP, high + 0.03)]
            parts.append(Solid(f"core {k}.{j}", (build.body(halves),)))
        spots.append((x + 0.01, deep / 2, high / 2))
    return parts, spots


def test_gang_of_twelve(build):
    parts, spots = gang(build, 12)
    cavity = enclosed(build.planes, parts, 0.2, spots)
    one = 0.2 * 0.4 * 0.2 - 2 * obelisk(0.12, 0.12, 0.13, 0.13, 0.2)
    assert cavity.leaks == ()
    assert cavity.volumes == pytest.approx([one] * 12, rel=1e-9)
    assert cavity.volume == pytest.approx(12 * one, rel=1e-9)


def test_two_pour_points_in_one_cavity_count_once(build):
    parts, spots = gang(build, 2)
    spots = [*spots, (spots[0][0] + 0.18, *spots[0][1:])]
    cavity = enclosed(build.planes, parts, 0.2, spots)
    assert cavity.volumes[2] == cavity.volumes[0]
    assert cavity.volume == pytest.approx(cavity.volumes[0] + cavity.volumes[1], rel=1e-12)


def cut(build, part, half):
    """The part without what lies in front of a half-space."""
    low, _ = split(build.planes, part.cells[0], build.planes.enter(half))
    return Solid(part.name, (low,))


def test_a_panel_an_inch_short_at_the_top_spills_over(build):
    _, parts = planter(build, "pairs")
    parts[0] = cut(build, parts[0], HalfSpace(UP, 17 * INCH))
    cavity = enclosed(build.planes, parts, 18 * INCH, [(0.0, 0.0, 0.1)])
    assert cavity.volumes == (0.0,)
    leak = cavity.leaks[0]
    assert leak.between[0] == "panel 0"
    assert leak.kind == "over"
    assert leak.at[2] == pytest.approx(17.5 * INCH, abs=0.001)
    assert leak.at[1] == pytest.approx(-(14 + 6 * 17.5 / 18) / 2 * INCH, abs=0.001)
    # The gap is an inch high, measured along the leaning face: 1 / cos 9.462 deg.
    assert leak.width == pytest.approx(INCH / cos(atan(3 / 18)), rel=1e-9)


def test_a_panel_an_inch_short_at_its_end_leaks_beside_its_neighbour(build):
    sides = build.sides(build.rectangle(0.4, 0.3), build.rectangle(0.4, 0.3), 0.2)
    parts = [*build.panels(sides, 0.018, 0.2, "pairs"), build.base(0.5)]
    parts[1] = cut(build, parts[1], HalfSpace((0.0, 1.0, 0.0), 0.15 - INCH))
    cavity = enclosed(build.planes, parts, 0.2, [(0.0, 0.0, 0.1)])
    (leak,) = cavity.leaks
    assert set(leak.between) == {"panel 1", "panel 2"}
    assert leak.width == pytest.approx(INCH, rel=1e-9)
    assert leak.area == pytest.approx(INCH * 0.2, rel=1e-9)
    assert leak.at == pytest.approx((0.2, 0.15 - INCH / 2, 0.1), abs=1e-9)
    assert str(leak) == "leak 25.4 mm wide between panel 1 and panel 2 at x=200, y=137, z=100 mm"


def test_a_panel_lifted_off_the_base_leaks_under_it(build):
    sides = build.sides(build.rectangle(0.4, 0.3), build.rectangle(0.4, 0.3), 0.2)
    parts = [*build.panels(sides, 0.018, 0.2, "pairs"), build.base(0.5)]
    parts[3] = build.panels(sides, 0.018, 0.2, "pairs", bottom=0.003)[3]
    (leak,) = enclosed(build.planes, parts, 0.2, [(0.0, 0.0, 0.1)]).leaks
    assert set(leak.between) == {"panel 3", "base"}
    assert leak.width == pytest.approx(0.003, rel=1e-6)
    assert leak.at == pytest.approx((-0.2, 0.0, 0.0015), abs=1e-9)


def test_two_short_panels_are_both_named(build):
    sides = build.sides(build.rectangle(0.4, 0.3), build.rectangle(0.4, 0.3), 0.2)
    parts = [*build.panels(sides, 0.018, 0.2, "pairs"), build.base(0.5)]
    parts[1] = cut(build, parts[1], HalfSpace((0.0, 1.0, 0.0), 0.13))
    parts[3] = cut(build, parts[3], HalfSpace((0.0, -1.0, 0.0), 0.14))
    leaks = enclosed(build.planes, parts, 0.2, [(0.0, 0.0, 0.1)]).leaks
    assert [set(leak.between) for leak in leaks] == [{"panel 1", "panel 2"}, {"panel 3", "panel 0"}]
    assert [leak.width for leak in leaks] == pytest.approx([0.02, 0.01], rel=1e-9)


def test_a_pour_point_in_a_sound_cavity_beside_a_leaking_one(build):
    parts, spots = gang(build, 2)
    parts = [cut(build, part, HalfSpace(UP, 0.19)) if part.name == "left" else part for part in parts]
    cavity = enclosed(build.planes, parts, 0.2, spots)
    assert cavity.volumes[0] == 0.0
    assert cavity.volumes[1] == cavity.volume > 0.0
    assert cavity.leaks[0].between[0] == "left"


def test_parts_that_claim_the_same_space(build):
    a = Solid("rail", (build.box((0.0, 0.0, 0.0), (1.0, 0.1, 0.1)),))
    b = Solid("post", (build.box((0.5, 0.05, 0.0), (0.6, 0.2, 0.5)),))
    c = Solid("foot", (build.box((0.0, 0.1, 0.0), (0.4, 0.2, 0.1)),))
    ((one, other, size),) = overlaps(build.planes, [a, b, c])
    assert (one, other) == ("rail", "post")
    assert size == pytest.approx(0.1 * 0.05 * 0.1, rel=1e-9)


def open_box(build):
    """A box 400 x 300 x 200 mm inside, its parts by name."""
    sides = build.sides(build.rectangle(0.4, 0.3), build.rectangle(0.4, 0.3), 0.2)
    return {part.name: part for part in [*build.panels(sides, 0.018, 0.2, "pairs"), build.base(0.5)]}


def drilled(part, *holes):
    return Solid(part.name, part.cells, part.rounds, holes)


WITHIN = 0.4 * 0.3 * 0.2
MIDDLE = [(0.15, 0.1, 0.1)]


def test_a_plug_is_taken_off(build):
    parts = open_box(build)
    core = Solid("core", (build.box((-0.1, -0.1, 0.05), (0.1, 0.1, 0.25)),))
    plug = Round((0.0, 0.0, 0.0), UP, 0.05, 0.0125, 0.0100)
    stopper = Solid("drain plug", (), (plug,))
    cavity = enclosed(build.planes, [*parts.values(), core, stopper], 0.2, MIDDLE)
    # Frustum of a cone: pi h / 3 (r1^2 + r1 r2 + r2^2).
    cone = pi * 0.05 / 3 * (0.0125**2 + 0.0125 * 0.01 + 0.01**2)
    assert cavity.volume == pytest.approx(WITHIN - 0.2 * 0.2 * 0.15 - cone, rel=1e-9)


def test_a_plug_through_its_hole_in_the_base_is_taken_off_above_it(build):
    parts = open_box(build)
    hole = Round((0.0, 0.0, -0.018), UP, 0.018, 0.0125, 0.0125)
    parts["base"] = drilled(parts["base"], hole)
    stopper = Solid("drain plug", (), (Round((0.0, 0.0, 0.08), DOWN, 0.12, 0.0125, 0.0125),))
    cavity = enclosed(build.planes, [*parts.values(), stopper], 0.2, MIDDLE)
    assert cavity.leaks == ()
    assert cavity.volume == pytest.approx(WITHIN - pi * 0.0125**2 * 0.08, rel=1e-9)


def test_a_plug_that_stands_out_of_the_mix_is_taken_off_up_to_the_fill_plane(build):
    parts = open_box(build)
    stopper = Solid("sleeve", (), (Round((0.0, 0.0, 0.0), UP, 0.4, 0.01, 0.03),))
    cavity = enclosed(build.planes, [*parts.values(), stopper], 0.2, MIDDLE)
    cone = pi * 0.2 / 3 * (0.01**2 + 0.01 * 0.02 + 0.02**2)
    assert cavity.volume == pytest.approx(WITHIN - cone, rel=1e-9)


def test_a_hole_that_nothing_fills_leaks(build):
    parts = open_box(build)
    parts["base"] = drilled(parts["base"], Round((0.05, 0.02, 0.0), DOWN, 0.018, 0.006, 0.006))
    (leak,) = enclosed(build.planes, list(parts.values()), 0.2, MIDDLE).leaks
    assert leak.kind == "hole"
    assert leak.at == pytest.approx((0.05, 0.02, 0.0), abs=0.001)
    assert str(leak) == "open hole 12 mm wide through base at x=50, y=20, z=0 mm"


def test_a_hole_with_a_plug_too_thin_for_it_leaks(build):
    parts = open_box(build)
    parts["base"] = drilled(parts["base"], Round((0.0, 0.0, -0.018), UP, 0.018, 0.0125, 0.0125))
    stopper = Solid("drain plug", (), (Round((0.0, 0.0, -0.018), UP, 0.05, 0.0110, 0.0110),))
    assert enclosed(build.planes, [*parts.values(), stopper], 0.2, MIDDLE).leaks[0].between == ("base",)


def test_a_hole_that_another_part_covers_fills_with_mix(build):
    parts = open_box(build)
    parts["base"] = drilled(parts["base"], Round((0.05, 0.02, 0.0), DOWN, 0.018, 0.006, 0.006))
    batten = Solid("batten", (build.box((-0.5, -0.05, -0.05), (0.5, 0.05, -0.018)),))
    cavity = enclosed(build.planes, [*parts.values(), batten], 0.2, MIDDLE)
    assert cavity.leaks == ()
    assert cavity.volume == pytest.approx(WITHIN + pi * 0.006**2 * 0.018, rel=1e-9)


def test_holes_in_line_through_two_parts_leak(build):
    parts = open_box(build)
    parts["base"] = drilled(parts["base"], Round((0.05, 0.02, 0.0), DOWN, 0.018, 0.006, 0.006))
    batten = Solid("batten", (build.box((-0.5, -0.05, -0.05), (0.5, 0.05, -0.018)),))
    batten = drilled(batten, Round((0.05, 0.02, -0.018), DOWN, 0.032, 0.004, 0.004))
    (first, *_) = enclosed(build.planes, [*parts.values(), batten], 0.2, MIDDLE).leaks
    assert first.kind == "hole"


def test_a_hole_outside_the_cavity_is_no_leak(build):
    parts = open_box(build)
    parts["base"] = drilled(parts["base"], Round((0.3, 0.25, 0.0), DOWN, 0.018, 0.006, 0.006))
    assert enclosed(build.planes, list(parts.values()), 0.2, MIDDLE).volume == pytest.approx(WITHIN, rel=1e-9)


def test_a_plug_that_runs_into_a_part_is_refused(build):
    parts = open_box(build)
    stopper = Solid("drain plug", (), (Round((0.19, 0.0, 0.0), UP, 0.1, 0.0125, 0.0125),))
    with pytest.raises(GeometryError, match=r"drain plug .* runs into"):
        enclosed(build.planes, [*parts.values(), stopper], 0.2, MIDDLE)


def test_two_plugs_in_one_place_are_refused(build):
    parts = open_box(build)
    one = Solid("drain plug", (), (Round((0.0, 0.0, 0.0), UP, 0.1, 0.0125, 0.0125),))
    two = Solid("sleeve", (), (Round((0.02, 0.0, 0.0), UP, 0.1, 0.0125, 0.0125),))
    with pytest.raises(GeometryError, match="sleeve and drain plug"):
        enclosed(build.planes, [*parts.values(), one, two], 0.2, MIDDLE)


def test_a_pour_point_in_a_part_is_refused(build):
    with pytest.raises(GeometryError, match="lies in the base"):
        enclosed(build.planes, list(open_box(build).values()), 0.2, [(0.0, 0.0, -0.01)])


def test_a_pour_point_outside_is_refused(build):
    with pytest.raises(GeometryError, match="lies outside the mold"):
        enclosed(build.planes, list(open_box(build).values()), 0.2, [(0.0, 0.0, 0.3)])


def test_a_fill_plane_below_every_part_is_refused(build):
    with pytest.raises(GeometryError, match="above its fill plane"):
        enclosed(build.planes, list(open_box(build).values()), -0.5, MIDDLE)


SPAN = 6
boxes = st.lists(
    st.tuples(*[st.integers(0, SPAN - 1)] * 3, *[st.integers(1, 4)] * 3).map(
        lambda b: (b[:3], tuple(min(SPAN, p + q) for p, q in zip(b[:3], b[3:], strict=True)))
    ),
    min_size=1,
    max_size=14,
)


def flood(solids, spot, fill):
    """Free unit cubes joined to one of them through faces, and whether they reach the sides or the bottom."""
    low = [min(a[k] for a, _ in solids) for k in range(3)]
    high = [max(b[k] for _, b in solids) for k in range(3)]
    high[2] = fill
    taken = {cube for a, b in solids for cube in product(*(range(p, q) for p, q in zip(a, b, strict=True)))}
    seen, waiting, out = {spot}, [spot], False
    while waiting:
        cube = waiting.pop()
        for axis, step in product(range(3), (-1, 1)):
            there = tuple(v + step * (k == axis) for k, v in enumerate(cube))
            if axis == 2 and there[2] >= fill:
                continue
            if not low[axis] <= there[axis] < high[axis]:
                out = True
            elif there not in taken and there not in seen:
                seen.add(there)
                waiting.append(there)
    return len(seen), out


@settings(max_examples=120, deadline=None)
@given(boxes, st.data())
def test_random_boxes_against_a_flood_fill(build_new, solids, data):
    build = build_new()
    # A box open above, so that many of the cases hold.
    shell = [
        ((0, 0, 0), (SPAN, SPAN, 1)),
        ((0, 0, 0), (1, SPAN, SPAN)),
        ((SPAN - 1, 0, 0), (SPAN, SPAN, SPAN)),
        ((0, 0, 0), (SPAN, 1, SPAN)),
        ((0, SPAN - 1, 0), (SPAN, SPAN, SPAN)),
    ]
    gap = data.draw(st.integers(0, len(shell)))
    solids = solids + [side for k, side in enumerate(shell) if k != gap]
    fill = max(b[2] for _, b in solids)
    free = [
        cube
        for cube in product(
            *(range(min(a[k] for a, _ in solids), max(b[k] for _, b in solids)) for k in range(3))
        )
        if not any(all(p <= c < q for p, c, q in zip(a, cube, b, strict=True)) for a, b in solids)
    ]
    if not free:
        return
    spot = data.draw(st.sampled_from(free))
    count, out = flood(solids, spot, fill)
    parts = [Solid(f"box {k}", (build.box(a, b),)) for k, (a, b) in enumerate(solids)]
    cavity = enclosed(build.planes, parts, fill, [tuple(v + 0.5 for v in spot)])
    assert bool(cavity.leaks) == out
    assert cavity.volume == pytest.approx(0.0 if out else count, rel=1e-9)


def test_the_cavity_is_the_piece(build):
    # Two routes to one body: free space among the parts, and the envelope less its formers.
    sides, parts = planter(build, "mitred")
    board = build.box((-0.05, -0.3, 0.1), (0.05, -0.15, 0.3))
    envelope = build.body([*sides, HalfSpace(DOWN, 0.0), HalfSpace(UP, 18 * INCH)])
    parts.append(Solid("board", tuple(cut_away(build.planes, [board], [c for p in parts for c in p.cells]))))
    cavity = enclosed(build.planes, parts, 18 * INCH, [(0.0, 0.0, 0.1)])
    assert cavity.volume == pytest.approx(volume(minus(build.planes, envelope, board)), rel=1e-9)


@pytest.mark.parametrize("turn", [0.3, 1.1, 2.9])
def test_a_turned_mold_holds_the_same(build, turn):
    foot = [
        (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)) for x, y in build.rectangle(0.3, 0.2)
    ]
    rim = [
        (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)) for x, y in build.rectangle(0.4, 0.25)
    ]
    parts = [*build.panels(build.sides(foot, rim, 0.2), 0.018, 0.2, "pairs"), build.base(0.6)]
    cavity = enclosed(build.planes, parts, 0.2, [(0.0, 0.0, 0.1)])
    assert cavity.volume == pytest.approx(obelisk(0.3, 0.2, 0.4, 0.25, 0.2), rel=1e-9)


def test_a_leak_that_other_parts_divide_is_one_opening(build):
    # The core's sides cut the cavity into cells, so the mouth of the gap is cut up too.
    _, parts = planter(build, "pairs")
    core = build.sides(
        build.rectangle(10 * INCH, 10 * INCH), build.rectangle(16 * INCH, 16 * INCH), 18 * INCH
    )
    parts.append(Solid("core", (build.body([*core, HalfSpace(DOWN, -2 * INCH), HalfSpace(UP, 20 * INCH)]),)))
    parts[0] = cut(build, parts[0], HalfSpace(UP, 17 * INCH))
    leaks = enclosed(build.planes, parts, 18 * INCH, [(0.0, 0.0, INCH)]).leaks
    assert [leak.between[0] for leak in leaks] == ["panel 0"]
    # Trapezoid on the leaning face, an inch high in level terms, as wide as the planter is there.
    middle = (14 + 6 * 17.5 / 18) * INCH
    assert leaks[0].area == pytest.approx(middle * INCH / cos(atan(3 / 18)), rel=1e-9)
    assert leaks[0].at[0] == pytest.approx(0.0, abs=1e-9)
