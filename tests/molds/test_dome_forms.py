"""Forms of cast domes: what their parts enclose, how they fit, how they come out, and what holds them down."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import cos, dist, hypot, pi, sin
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.ribbed import checks
from formwork.errors import GeometryError, StockError
from formwork.geometry.gores import polygon_share
from formwork.geometry.outlines import area, box
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import add, scale
from formwork.molds import ribbed
from formwork.molds.asked import Asked
from formwork.molds.dome.cavity import enclosed
from formwork.molds.dome.form import DomeForm, Section
from formwork.molds.dome.formed import formed_volume
from formwork.molds.dome.loads import lift, rods, seam_pull, weight_on
from formwork.molds.dome.openings import openings, section_box, way_out
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.ribbed import DomeMold
from formwork.project.records import MoldOptions, PieceOrder
from formwork.project.shop import read_shop
from formwork.shapes.body import piece_volume
from formwork.shapes.cast_dome import FLUID, SHAPE, STIFF
from formwork.shapes.piece import curved
from formwork.units.show import UnitSystem
from tests.drawn import parameters, single
from tests.workshop import shop

SPHERE = {"inside_radius": 1500, "thickness": 80, "springing": "level", "oculus": 600, "placing": FLUID}
CLOSED = {**SPHERE, "oculus": 0}
STIFF_ONE = {**SPHERE, "oculus": 400, "placing": STIFF}
DOOR = {**SPHERE, "door": [{"width": 700, "height": 1200}]}


def made(
    keys: dict[str, object],
    *,
    density: float = 752.0,
    cellular: bool | None = None,
    units: UnitSystem = "mm",
    **options: Any,
) -> DomeMold:
    """A dome's mold in the built-in metric shop; the mix as the load has it, tolerance included."""
    found = parameters(SHAPE, keys)
    piece = single(SHAPE, found)
    order = PieceOrder("piece", SHAPE.name, found, 1, 1, MoldOptions(method="ribbed", **options))
    foamed = keys["placing"] == FLUID if cellular is None else cellular
    load = Load(density + 48.0, piece.form.fill, foamed)
    return ribbed.brace(ribbed.lined(Asked(order, piece, read_shop(None, units), load, 1, False, units)))


@cache
def kept(name: str) -> DomeMold:
    """One of the molds that several tests look at."""
    return made({"sphere": SPHERE, "closed": CLOSED, "stiff": STIFF_ONE, "door": DOOR}[name])


@pytest.mark.parametrize("number", range(len(SHAPE.samples)))
def test_parts_enclose_the_shell_as_formed(number: int) -> None:
    built = made(dict(SHAPE.samples[number]))
    assert built.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)
    assert built.mold.nominal == pytest.approx(piece_volume(Planes(), built.mold.piece), rel=0.06)


def test_a_shell_with_an_oculus_is_the_polygons_share_of_the_turned_one() -> None:
    """Closed form: (N / 2 pi) sin(2 pi / N) of the sphere's shell, whose volume the shape has in closed form."""
    built = kept("sphere")
    turned = piece_volume(Planes(), built.mold.piece)
    assert built.mold.nominal == pytest.approx(polygon_share(built.form.count) * turned, rel=1e-12)
    assert any(f"Formed on {built.form.count} ribs" in note for note in built.mold.piece.notes)


def test_a_doorway_takes_what_a_fine_sum_over_the_facets_says() -> None:
    """Second route: rays along the doorway through every facet, over a fine grid of its opening."""
    with_door, without = kept("door"), made({**DOOR, "door": []}, ribs=kept("door").form.count)
    form = with_door.form
    body = curved(form.piece).formers[0].body
    (x0, _), (x1, top) = box(body.outline)
    columns, rows = 60, 60
    taken = 0.0
    for j in range(rows):
        z = top * (j + 0.5) / rows
        inner, outer = (face.r(face.at_height(z)) for face in (form.shell.inside, form.outside))
        for i in range(columns):
            x = x0 + (x1 - x0) * (i + 0.5) / columns
            if _open(body.outline, x, z):
                taken += _reach(form, body, outer, x) - _reach(form, body, inner, x)
    taken *= (x1 - x0) * top / columns / rows
    assert formed_volume(without.form) - formed_volume(form) == pytest.approx(taken, rel=5e-3)


def _open(outline, x: float, z: float) -> bool:
    (_, _), (half, top) = box(outline)
    low = top - half
    return z <= low or hypot(x, z - low) <= half


def _reach(form: DomeForm, body, radius: float, x: float) -> float:
    """Along the doorway from the axis to the polygon's side, beside its middle."""
    best = float("inf")
    for bay in range(form.count):
        way = form.bearing(bay + 0.5)
        n = (cos(way), sin(way))
        ahead = n[0] * body.axis[0] + n[1] * body.axis[1]
        if ahead > 1e-9:
            beside = n[0] * body.along[0] + n[1] * body.along[1]
            best = min(best, (radius * cos(form.half) - x * beside) / ahead)
    return best


@pytest.mark.parametrize("lost", ["inner gore 5 part 1", "outer gore 9 part 2", "outer gore 2 part 1"])
def test_a_gore_that_is_missing_is_a_leak(lost: str) -> None:
    built = kept("sphere")
    parts = [part for part in built.mold.parts if part.name != lost]
    assert len(parts) == len(built.mold.parts) - 1
    bay = lost.split()[2]
    leaks = enclosed(built.form, parts).leaks
    assert leaks and all(f"bay {bay}" in line for line in leaks)


def test_a_thicker_skin_makes_the_cavity_smaller() -> None:
    """The cavity comes of the parts: skin blanks a millimetre thicker take their area times that from it."""
    built = kept("sphere")
    parts = [
        replace(part, blank=replace(part.blank, thickness=part.blank.thickness + 0.001))
        if part.role == "skin"
        else part
        for part in built.mold.parts
    ]
    lost = built.mold.cavity - enclosed(built.form, parts).volume
    assert lost == pytest.approx(0.001 * built.form.layers * built.mold.wetted, rel=0.02)


def test_ribs_lie_behind_the_skin_by_its_thickness() -> None:
    """Every ply's bevelled edge stands its setback and the skin's thickness inside the sphere of 1500 mm."""
    built = kept("sphere")
    inner = 1.5 - built.form.lining
    for part in built.mold.parts:
        if part.role != "rib" or not part.name.startswith("inner rib"):
            continue
        body = part.prisms[0]
        corners = [body.place(x, z, 0.0) for x, z in body.outline.points]
        corners += [body.place(x, z, body.height) for x, z in body.top.points]
        assert max(hypot(hypot(x, y), z) for x, y, z in corners) <= inner + 1e-6, part.name


def test_blanks_fit_their_stock_and_lie_in_their_corner() -> None:
    sheets = {sheet.name: sheet for sheet in shop().sheets}
    for name in ("sphere", "closed", "stiff", "door"):
        for part in kept(name).mold.parts:
            (x0, y0), (x1, y1) = box(part.blank.edge)
            assert (x0, y0) == pytest.approx((0.0, 0.0), abs=1e-6), part.name
            assert (x1, y1) == pytest.approx((part.blank.length, part.blank.width), abs=1e-6), part.name
            assert area(part.blank.edge) > 0.0, part.name
            if part.kind == "panel":
                sheet = sheets[part.stock]
                assert part.blank.length <= sheet.length + 1e-9 and part.blank.width <= sheet.width + 1e-9, (
                    part.name
                )
                assert part.blank.thickness == pytest.approx(sheet.thickness), part.name


def test_sticks_are_cut_from_sticks_that_hold_them() -> None:
    for units in ("mm", "in"):
        built = made(STIFF_ONE, units=units)
        sticks = {stick.name: stick for stick in read_shop(None, units).sticks}
        for part in built.mold.parts:
            if part.kind == "stick":
                stick = sticks[part.stock]
                low, high = sorted((part.blank.width, part.blank.thickness))
                assert low <= stick.thickness + 1e-6 and high <= stick.width + 1e-6, part.name
                assert part.blank.length <= max(one.length for one in stick.lengths), part.name


def test_a_ribs_blank_stands_where_its_body_stands() -> None:
    """The outline carried into the mold by its placement is one of the faces of the rib's prism."""
    for part in kept("sphere").mold.parts:
        if part.role != "rib":
            continue
        at, body = part.placement, part.prisms[0]
        corners = [
            add(at.origin, add(scale(at.along, x), scale(at.across, y))) for x, y in part.blank.outline
        ]
        faces = [
            [body.place(x, z, up) for x, z in outline.points]
            for outline, up in ((body.outline, 0.0), (body.top, body.height))
        ]
        assert any(all(min(dist(c, f) for f in face) < 1e-9 for c in corners) for face in faces), part.name


def test_a_gores_pattern_is_as_large_as_the_gore() -> None:
    for part in kept("closed").mold.parts:
        if part.role == "skin" and "gore" in part.name:
            space = sum(cell.volume() for cell in part.cells)
            flat = area(part.blank.edge) * part.blank.thickness * part.layers
            assert flat == pytest.approx(space, rel=0.02), part.name


def test_joints_of_a_ribs_two_plies_are_staggered() -> None:
    built = kept("stiff")
    rib = next(
        rib
        for rib in range(built.form.count)
        if built.form.section_of("inner", rib) == built.form.section_of("inner", rib - 1)
    )
    joints = [_joints(built.mold.parts, f"inner rib {rib + 1} {hand} ply") for hand in ("left", "right")]
    assert all(abs(a - b) > 0.2 for a in joints[0] for b in joints[1])


def _joints(parts: tuple[Part, ...], name: str) -> list[float]:
    """Heights of the outer edge at the upper ends of a ply's segments, the last left out."""
    own = [part for part in parts if part.name.startswith(f"{name} segment")]
    return [max(part.prisms[0].outline.points, key=lambda p: hypot(*p))[1] for part in own[:-1]]


def test_ribs_that_crowd_end_at_headers_with_straps_above() -> None:
    built = made(CLOSED, ribs=48)
    assert built.form.headers
    assert any("strap" in part.name for part in built.mold.parts)
    assert built.leaks == ()
    short = [part for part in built.mold.parts if part.name.startswith("inner rib 4 ")]
    full = [part for part in built.mold.parts if part.name.startswith("inner rib 5 ")]
    top = {
        name: max(y for part in some for _, y in part.prisms[0].outline.points)
        for name, some in (("short", short), ("full", full))
    }
    assert top["short"] < top["full"] - 0.05


def test_lift_of_a_closed_dome_form() -> None:
    """1.5 m radius, 80 mm shell, 800 kg/m3: 12.4 kPa at the springing, 32 kN of lift (hydrostatics, computed by hand).

    rho g pi R3 / 3 with R 1.58 m for the round form; facets and the flat crown take their share off.
    """
    built = made(CLOSED)
    load = built.lined.asked.load
    assert load.pressure(0.0) / 1000.0 == pytest.approx(12.4, abs=0.05)
    round_lift = 800.0 * 9.80665 * pi * 1.58**3 / 3.0
    assert round_lift / 1000.0 == pytest.approx(32.4, abs=0.05)
    assert lift(built.form, load).force == pytest.approx(
        polygon_share(built.form.count) * round_lift, rel=2e-3
    )
    hardware = {line.item: line for line in built.mold.hardware}
    assert (
        hardware["tie rod"].quantity
        == hardware["anchor"].quantity
        == rods(built.form, load, built.outer_weight)
    )
    held = next(one for one in checks(built) if one.name == "outer form held down")
    assert held.ok and held.demand == pytest.approx(1.5 * lift(built.form, load).force)


def test_seams_carry_half_of_the_push_on_a_plane_through_the_axis() -> None:
    """A hemisphere filled to its crown: rho g R3 (pi / 4 - 1 / 3) on half of the plane (hydrostatics)."""
    built = made(CLOSED)
    wanted = 800.0 * 9.80665 * 1.58**3 * (pi / 4.0 - 1.0 / 3.0)
    assert seam_pull(built.form, built.lined.asked.load).force == pytest.approx(wanted, rel=2e-3)


def test_a_stiff_shell_weighs_on_the_inner_form_only() -> None:
    built = kept("stiff")
    assert not any(part.group.startswith("outer") for part in built.mold.parts)
    assert weight_on(built.form, built.lined.asked.load).force == pytest.approx(
        800.0 * 9.80665 * built.mold.nominal
    )
    assert "tie rod" not in {line.item for line in built.mold.hardware}


def test_foamed_mix_on_an_open_form_is_refused_and_an_ordinary_one_is_not() -> None:
    with pytest.raises(GeometryError, match="runs off a form that is open above; say placing = "):
        made(STIFF_ONE, cellular=True)
    assert made(STIFF_ONE, density=2300.0, cellular=False).mold.parts


def test_every_group_leaves_and_the_key_section_first() -> None:
    for name in ("sphere", "closed", "stiff", "door"):
        mold = kept(name).mold
        groups = [step.group for step in mold.stripping]
        assert sorted(groups) == sorted({part.group for part in mold.parts})
        assert mold.locked == ()
    order = [step.group for step in kept("sphere").mold.stripping]
    assert order.index("outer form section 1") < order.index("inner form key section")
    assert (
        order.index("striking wedges")
        < order.index("inner form key section")
        < order.index("inner form section 1")
    )


def test_a_dome_without_an_opening_is_lifted_off_its_form() -> None:
    built = kept("closed")
    notes = " ".join(step.note for step in built.mold.stripping)
    assert "lift the dome straight off" in notes
    assert any("nobody crawls" in line for line in built.mold.instructions)


def test_sections_pass_a_door_whole_or_their_parts_do() -> None:
    form = kept("door").form
    ways = openings(curved(form.piece), cos(form.half))
    assert {way.name for way in ways} == {"door 1", "oculus"}
    assert way_out(ways, (2.0, 0.69, 0.5)) == "door 1"
    assert way_out(ways, (2.0, 0.71, 0.72)) == ""
    found = next(one for one in checks(kept("door")) if one.name == "form passes an opening")
    assert found.ok and len(found.working) == len(form.inner)


def test_gores_too_wide_for_the_only_opening_lock_the_form() -> None:
    built = made({**STIFF_ONE, "inside_radius": 1800, "oculus": 350}, ribs=20)
    assert built.mold.locked
    assert "make the oculus or a door larger" in built.mold.locked[0][1]


def test_ribs_left_to_the_program_are_enough_for_gores_to_pass() -> None:
    built = made({**STIFF_ONE, "inside_radius": 1800, "oculus": 350})
    assert built.mold.locked == ()
    assert built.form.count > 20


def test_the_box_of_a_section_holds_the_section() -> None:
    """Second route: corners of the section's gores and ribs, turned so that its chord lies along x."""
    built = kept("door")
    form = built.form
    section: Section = form.inner[2]
    size = section_box(form.shell.inside, form.depth + form.lining, section.bays * form.half)
    middle = form.bearing(section.first + section.bays / 2.0)
    points = [
        p
        for part in built.mold.parts
        if part.group == section.name and part.role == "skin"
        for cell in part.cells
        for p in cell.points()
        if p[2] > -1e-9
    ]
    across = [-x * sin(middle) + y * cos(middle) for x, y, _ in points]
    assert max(across) - min(across) <= size[1] + 1e-6


@pytest.mark.parametrize(
    ("keys", "options", "words"),
    [
        (SPHERE, {"ribs": 30}, "multiple of 4"),
        (SPHERE, {"ribs": 8}, "multiple of 4"),
        ({**SPHERE, "oculus": 100}, {"ribs": 100}, "crowd at the crown"),
        ({**SPHERE, "inside_radius": 150, "thickness": 20, "oculus": 100}, {}, "too tight"),
        (SPHERE, {"skin": "plywood 18"}, "not known to bend"),
        (SPHERE, {"skin": "plywod 6"}, "want one of"),
        (SPHERE, {"stick": "2x2 oak"}, "want one of"),
        (SPHERE, {"stick": "22x45"}, "22 mm .* thick, want at least"),
        (SPHERE, {"sheet": "ply 99"}, "want one of"),
    ],
)
def test_what_cannot_be_built_is_refused_in_words(
    keys: dict[str, object], options: dict[str, object], words: str
) -> None:
    with pytest.raises((GeometryError, StockError), match=words):
        made(keys, **options)


@given(
    radius=st.floats(900, 2600),
    thickness=st.floats(50, 140),
    oculus=st.sampled_from([0.0, 0.4, 0.6]),
    rise=st.floats(0.5, 1.0),
    springing=st.sampled_from(["level", "radial"]),
    placing=st.sampled_from([FLUID, STIFF]),
)
@settings(max_examples=12, deadline=None)
def test_any_sphere_closes(
    radius: float, thickness: float, oculus: float, rise: float, springing: str, placing: str
) -> None:
    keys = {
        "inside_radius": radius,
        "rise": rise * radius,
        "thickness": thickness,
        "springing": springing,
        "oculus": oculus * radius,
        "placing": placing,
    }
    try:
        built = made(keys)
    except (GeometryError, StockError) as refused:
        assert str(refused).startswith("piece"), refused
        return
    assert built.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)


@pytest.mark.parametrize(
    "keys",
    [
        {
            **SPHERE,
            "springing": "radial",
            "oculus": 0,
            "door": [{"width": 500, "height": 900, "head": "square"}],
        },
        {
            "profile": "catenary",
            "inside_span": 6226,
            "rise": 3787,
            "thickness": 92,
            "springing": "radial",
            "oculus": 2783,
            "placing": STIFF,
        },
        {
            "profile": "spheroid",
            "inside_span": 5000,
            "rise": 5600,
            "thickness": 105,
            "springing": "level",
            "placing": STIFF,
            "door": [{"width": 1000, "height": 1800, "direction": "58 deg"}],
        },
    ],
)
def test_domes_that_once_went_wrong_close(keys: dict[str, object]) -> None:
    """A foot without height under a door; joints of splice plates out of order; a tall spheroid's arcs."""
    built = made(keys)
    assert built.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-6)
