"""Cast domes against caps, shells and cylinders in closed form, quadrature and the CAD kernel; what they refuse."""

from __future__ import annotations

from dataclasses import replace
from math import acos, asin, cos, degrees, pi, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from formwork.errors import GeometryError
from formwork.geometry.meridians import catenary, sphere, spheroid
from formwork.geometry.outlines import legs
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.shapes.body import piece_volume
from formwork.shapes.cast import lots
from formwork.shapes.cast_dome import FLUID, SHAPE, STIFF
from formwork.shapes.piece import Curved, Piece, Shell, curved
from formwork.shapes.shell_notes import rings_pulled
from formwork.solids.build import piece_solid
from tests.drawn import parameters

HALF = {"inside_span": 3000, "thickness": 100, "springing": "level", "placing": FLUID}
CAP = {"inside_radius": 1500, "rise": 1000, "thickness": 100, "springing": "level", "placing": FLUID}


def made(**keys: object) -> Piece:
    return lots(SHAPE, parameters(SHAPE, keys), "dome", 0.018)[0].piece


def volume(**keys: object) -> float:
    return piece_volume(Planes(), made(**keys))


def shell_of(piece: Piece) -> Shell:
    shell = curved(piece).shell
    assert shell is not None
    return shell


def cap(radius: float, height: float) -> float:
    """Cap of a sphere, encyclopaedia pages: pi h2 (3R - h) / 3."""
    return pi * height * height * (3.0 * radius - height) / 3.0


def test_half_a_sphere_3_m_wide_and_100_mm_thick() -> None:
    """2/3 pi (Ro3 - Ri3) = 1.510059 m3; also solid angle times t (Rm2 + t2 / 12)."""
    assert volume(**HALF) == pytest.approx(1.510059, abs=5e-7)
    assert volume(**HALF) == pytest.approx(2.0 * pi * 0.1 * (1.55**2 + 0.01 / 12.0), rel=1e-12)


def test_level_and_radial_springing_differ() -> None:
    """Ri 1.5 m, t 0.1 m, springing 0.5 m over the centre: cap less cap 1.023112, radial cut 1.006706 m3 (1.63 %)."""
    level, radial = volume(**CAP), volume(**{**CAP, "springing": "radial"})
    assert level == pytest.approx(1.023112, abs=5e-7)
    assert radial == pytest.approx(1.006706, abs=5e-7)
    assert level == pytest.approx(cap(1.6, 1.1) - cap(1.5, 1.0), rel=1e-12)
    assert radial == pytest.approx(2.0 * pi / 3.0 * (1.6**3 - 1.5**3) * (1.0 - 1.0 / 3.0), rel=1e-12)
    assert level / radial - 1.0 == pytest.approx(0.0163, abs=5e-5)


def test_an_upright_oculus_takes_a_cylinder_out() -> None:
    """2 pi / 3 {[Ro3 - (Ro2 - c2)^1.5] - [Ri3 - (Ri2 - c2)^1.5]}, c = 0.3 m: 0.0285445 m3."""
    out = volume(**HALF) - volume(**HALF, oculus=600)
    assert out == pytest.approx(0.0285445, abs=5e-8)
    assert volume(**CAP) - volume(**CAP, oculus=600) == pytest.approx(out, rel=1e-9)


@given(
    half=st.floats(600, 2500),
    share=st.floats(0.3, 1.0),
    thickness=st.floats(30, 250),
    oculus=st.floats(0, 500),
    radial=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_spheres_by_caps_cones_and_cylinders(
    half: float, share: float, thickness: float, oculus: float, radial: bool
) -> None:
    rise = half * share
    keys = {
        "inside_span": 2.0 * half,
        "rise": rise,
        "thickness": thickness,
        "oculus": oculus,
        "placing": STIFF,
    }
    found = volume(**keys, springing="radial" if radial else "level")
    a, h, t, c = half / 1000, rise / 1000, thickness / 1000, oculus / 2000
    ri = (a * a + h * h) / (2.0 * h)
    ro = ri + t
    level = cap(ro, h + t) - cap(ri, h)
    whole = 2.0 * pi / 3.0 * (ro**3 - ri**3) * h / ri if radial else level
    hole = 2.0 * pi / 3.0 * ((ro**3 - (ro * ro - c * c) ** 1.5) - (ri**3 - (ri * ri - c * c) ** 1.5))
    assert found == pytest.approx(whole - hole, rel=1e-9)


@given(
    profile=st.sampled_from(("spheroid", "catenary")),
    half=st.floats(700, 2500),
    share=st.floats(0.5, 1.7),
    thickness=st.floats(30, 120),
)
@settings(max_examples=30, deadline=None)
def test_other_profiles_by_quadrature_of_the_curve_itself(
    profile: str, half: float, share: float, thickness: float
) -> None:
    """The arcs of the piece hold to 1e-9 what Steiner's formula gives for the curves they stand for."""
    keys = {"profile": profile, "inside_span": 2.0 * half, "rise": half * share, "thickness": thickness}
    line = (spheroid if profile == "spheroid" else catenary)(half / 1000, half * share / 1000)
    t, end = thickness / 1000, line.springing
    assert volume(**keys, springing="radial", placing=FLUID) == pytest.approx(
        line.shell(t, 0.0, end), rel=1e-9
    )
    outer = line.moved(t)
    solids = outer.inside(0.0, outer.at_height(0.0)) - line.inside(0.0, end)
    assert volume(**keys, springing="level", placing=FLUID) == pytest.approx(solids, rel=1e-9)


def test_a_spheroid_shell_about_its_middle_surface() -> None:
    """Half axes 2 and 1 m in the middle surface, cut at the equator: V = A t + pi t3 / 6, A = 17.343765 m2."""
    t = 0.1
    thin = volume(
        profile="spheroid", inside_span=4000, rise=1000, thickness=t * 1000, springing="level", placing=FLUID
    )
    line = spheroid(2.0, 1.0)
    middle = line.moved(t / 2.0)
    assert thin == pytest.approx(middle.area(0.0, pi / 2.0) * t + pi * t**3 / 6.0, rel=1e-9)


@pytest.mark.parametrize("keys", SHAPE.samples)
def test_the_kernel_makes_the_same_body(keys: dict[str, object]) -> None:
    piece = made(**keys)
    assert piece_solid(Planes(), piece).Volume() == pytest.approx(
        piece_volume(Planes(), piece) * 1e9, rel=2e-7
    )


def test_a_door_straight_through_takes_what_the_kernel_cuts() -> None:
    door = {"width": 800, "height": 1000, "head": "square"}
    piece = made(**CAP, door=[{**door, "height": 700}, {**door, "direction": "120 deg", "height": 600}])
    one, two = curved(piece).formers
    assert one.taken > two.taken > 0.0
    assert isinstance(one.body, Prism)
    assert one.body.axis == pytest.approx((0.0, -1.0, 0.0))
    assert two.body.axis == pytest.approx((sin(radians(120.0)), -cos(radians(120.0)), 0.0))
    assert piece_solid(Planes(), piece).Volume() == pytest.approx(
        piece_volume(Planes(), piece) * 1e9, rel=2e-7
    )


def test_doors_reach_from_inside_the_shell_to_outside_of_it() -> None:
    piece = made(**HALF, door=[{"width": 800, "height": 1200}])
    (door,) = curved(piece).formers
    assert isinstance(door.body, Prism)
    start, end = (-door.body.place(0.0, 0.0, way)[1] for way in (0.0, door.body.height))
    assert end == pytest.approx(1.6 + 0.05)
    assert start < min(sqrt(1.5**2 - 1.2**2), sqrt(1.5**2 - 0.8**2 - 0.4**2))


def test_its_mold_is_told_the_curve_and_how_it_is_placed() -> None:
    shell = shell_of(made(**CAP, oculus=600))
    assert shell.inside.springing == pytest.approx(acos(1.0 / 3.0))
    assert shell.inside.oculus == pytest.approx(asin(0.2))
    assert (shell.thickness, shell.oculus, shell.radial, shell.placed) == (0.1, 0.3, False, "fluid")
    other = shell_of(made(**{**CAP, "springing": "radial", "placing": STIFF}))
    assert (other.radial, other.placed) == (True, "stiff")


def test_a_sphere_by_span_and_by_radius_is_one() -> None:
    by_span = made(inside_span=2000 * sqrt(2.0), rise=1000, thickness=100, springing="level", placing=FLUID)
    by_radius = made(**CAP)
    first, second = (curved(piece).outside.box()[1] for piece in (by_span, by_radius))
    assert first == pytest.approx(second)


@pytest.mark.parametrize("keys", SHAPE.samples)
def test_shrinkage_grows_the_shell_that_the_mold_is_built_to(keys: dict[str, object]) -> None:
    plain, larger = shell_of(made(**keys)), shell_of(made(**keys, shrinkage="0.5 %"))
    for polar in (plain.inside.springing, plain.inside.oculus, 0.5):
        assert larger.inside.point(polar) == pytest.approx(
            tuple(1.005 * x for x in plain.inside.point(polar))
        )
    assert larger.thickness == pytest.approx(1.005 * plain.thickness)
    assert larger.oculus == pytest.approx(1.005 * plain.oculus)


@pytest.mark.parametrize("keys", SHAPE.samples)
def test_the_place_to_pour_is_in_the_middle_of_the_shell(keys: dict[str, object]) -> None:
    piece = made(**keys)
    ((x, y, z),) = piece.pour_points
    shell = shell_of(piece)
    half = shell.inside.moved(shell.thickness / 2.0)
    polar = half.at_height(z)
    assert (y, x) == pytest.approx((0.0, half.r(polar)))
    for former in curved(piece).formers:
        assert z > former.body.box()[1][2]


def test_the_outline_of_the_shell_has_no_empty_leg() -> None:
    for keys in SHAPE.samples:
        form = made(**keys).form
        assert isinstance(form, Curved)
        assert all(leg.chord > 1e-6 for leg in legs(form.outside.profile))  # type: ignore[union-attr]


def test_hoop_tension_begins_at_the_published_angle_in_half_a_sphere() -> None:
    """Membrane theory: cos f = (sqrt 5 - 1) / 2, f = 51.827 degrees (the equations from memory)."""
    found = rings_pulled(sphere(1.5, 1.5), 0.1)
    assert found is not None
    assert cos(found) == pytest.approx((sqrt(5.0) - 1.0) / 2.0, abs=1e-9)
    assert degrees(found) == pytest.approx(51.827, abs=5e-4)
    assert "51.8 deg" in " ".join(made(**HALF).notes)


def test_a_low_dome_is_pressed_all_the_way() -> None:
    low = sphere(1.5, 1.5 * (1.0 - cos(radians(51.0))))
    assert rings_pulled(low, 0.1) is None
    assert rings_pulled(sphere(1.5, 1.5 * (1.0 - cos(radians(53.0)))), 0.1) is not None


def test_a_flat_spheroid_pulls_sooner_and_a_catenary_nowhere() -> None:
    flat, high = rings_pulled(spheroid(2.0, 1.0), 0.1), rings_pulled(spheroid(1.0, 2.0), 0.1)
    assert flat is not None
    assert high is not None
    assert spheroid(2.0, 1.0).r(flat) / 2.0 < sin(radians(51.827)) < 1.0
    assert rings_pulled(catenary(2.0, 2.5), 0.0) is None
    notes = " ".join(made(**{**HALF, "profile": "catenary", "rise": 2000}).notes)
    assert "pressed all the way" in notes
    assert "pull on them all the same" in notes


def test_hoop_force_by_balance_of_a_narrow_ring() -> None:
    """The same angle found from forces: the push of the meridian on both edges of a ring against its weight.

    Radial balance of a ring between two polar angles a and b, for unit weight: the meridian's forces W cot f act
    inward above and outward below; what is missing is carried round, T = (H below - H above) / 2 pi.
    """
    line = spheroid(1.5, 1.1)
    found = rings_pulled(line, 0.0)
    assert found is not None

    def thrust(polar: float) -> float:
        return line.area(0.0, polar) * cos(polar) / sin(polar)

    step = 1e-4
    carried = (thrust(found + step) - thrust(found - step)) / thrust(found)
    assert carried == pytest.approx(0.0, abs=1e-6)
    assert thrust(found - 0.1) < thrust(found) > thrust(found + 0.1)


def test_notes_say_what_a_reader_must_know() -> None:
    notes = made(**{**CAP, "springing": "radial"}, oculus=500, door=[{"width": 500, "height": 600}]).notes
    text = " ".join(notes)
    assert "19.5 deg down to the inside" in text
    assert "licensed designer" in text
    assert "straight up" in text
    assert "not a closed ring" in text
    assert "between an inner and an outer form" in text
    assert "runs" not in " ".join(made(**{**HALF, "placing": FLUID}).notes)
    assert "built up by hand" in " ".join(made(**{**HALF, "placing": STIFF}).notes)


def test_measures_are_the_sizes_asked_for() -> None:
    piece = made(**CAP, oculus=400, door=[{"width": 500, "height": 600, "direction": "45 deg"}])
    found = {
        m.name: sqrt(sum((a - b) ** 2 for a, b in zip(m.start, m.end, strict=True))) for m in piece.measures
    }
    assert found["span inside"] == pytest.approx(2.0 * sqrt(2.0))
    assert found["thickness"] == pytest.approx(0.1)
    assert found["oculus"] == pytest.approx(0.4)
    assert found["overall height"] == pytest.approx(sqrt(1.6**2 - 0.2**2) - 0.5)
    assert (found["door 1 width"], found["door 1 height"]) == pytest.approx((0.5, 0.6))
    assert found["height inside at the oculus"] == pytest.approx(sqrt(1.5**2 - 0.2**2) - 0.5)


REFUSED = [
    ({**HALF, "inside_radius": 1500}, "got both, want one"),
    ({key: value for key, value in HALF.items() if key != "inside_span"}, "got neither, want one"),
    ({**HALF, "rise": 1600}, "below its equator"),
    ({**CAP, "rise": 1501}, "below its equator"),
    ({**HALF, "rise": 55}, "plate, no dome"),
    ({**HALF, "profile": "spheroid", "rise": 55}, "plate, no dome"),
    ({**HALF, "profile": "spheroid"}, "wants? its span and its rise|needs its span"),
    ({**CAP, "profile": "catenary"}, "radius of a sphere"),
    ({**HALF, "profile": "catenary", "inside_span": 400, "rise": 2500}, "five times the span"),
    ({**HALF, "inside_span": 400, "thickness": 250}, "that is no shell"),
    ({**HALF, "profile": "spheroid", "rise": 300, "thickness": 80}, "that is no shell"),
    ({**HALF, "oculus": 3000}, "not less than the span"),
    ({**CAP, "oculus": 2900}, "not less than the span"),
    ({**HALF, "door": [{"width": 800, "height": 1500}]}, "not less than the rise"),
    ({**HALF, "oculus": 600, "door": [{"width": 400, "height": 1480}]}, "meets the oculus"),
    ({**HALF, "door": [{"width": 2700, "height": 1400}]}, "third of the way round"),
    ({**HALF, "door": [{"width": 700, "height": 1450, "head": "square"}]}, "third of the way round"),
    ({**HALF, "door": [{"width": 900, "height": 400}]}, "less than half the width"),
    ({**HALF, "door": [{"width": 900, "height": 900}, {"width": 900, "height": 900, "direction": "30 deg"}]}, "meet"),
    ({**HALF, "door": [{"width": 900, "height": 900, "direction": "-170 deg"}, {"width": 900, "height": 900, "direction": "170 deg"}]}, "meet"),
    ({**HALF, "embed": [{"kind": "bar", "diameter": 8, "count": 4}]}, "do not lie in a dome"),
    ({**HALF, "embed": [{"kind": "mesh", "pitch": 40, "wire": 2}]}, "do not lie in a dome"),
    ({**HALF, "gang": 2}, "cast alone"),
]  # fmt: skip


@pytest.mark.parametrize(("keys", "why"), REFUSED)
def test_what_cannot_be_is_refused_with_its_own_message(keys: dict[str, object], why: str) -> None:
    with pytest.raises((GeometryError, ValidationError), match=why):
        made(**keys)


@pytest.mark.parametrize("key", ["thickness", "springing", "placing"])
def test_what_must_be_said_is_asked_for(key: str) -> None:
    keys = {name: value for name, value in HALF.items() if name != key}
    with pytest.raises(ValidationError, match=key):
        made(**keys)


@pytest.mark.parametrize("key", ["inside_span", "rise", "thickness", "oculus"])
@pytest.mark.parametrize("value", [-1, float("nan"), 1e300, float("inf")])
def test_nonsense_is_refused_before_anything_is_laid_out(key: str, value: float) -> None:
    with pytest.raises(ValidationError):
        made(**{**HALF, key: value})


def test_a_fluid_mix_on_an_open_form_has_no_name() -> None:
    with pytest.raises(ValidationError, match="placing"):
        made(**{**HALF, "placing": "fluid on the inner form"})


def test_doors_that_stand_back_to_back_are_no_trouble() -> None:
    door = {"width": 800, "height": 1000}
    piece = made(**HALF, door=[door, {**door, "direction": "180 deg"}, {**door, "direction": "270 deg"}])
    taken = [former.taken for former in curved(piece).formers]
    assert taken == pytest.approx([taken[0]] * 3)
    assert [former.name for former in curved(piece).formers] == ["door 1", "door 2", "door 3"]


def test_a_profile_is_kept_where_only_the_oculus_changes() -> None:
    plain, open_above = shell_of(made(**HALF)), shell_of(made(**HALF, oculus=300))
    assert replace(open_above.inside, oculus=0.0) == plain.inside
