"""Turned bodies, prisms, and pieces and molds made of them: the kernel's volume against closed forms, and true faces."""

from __future__ import annotations

from math import cos, pi, sin, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import InternalError
from formwork.geometry.outlines import Outline, circle, polygon, rectangle, ring_sector, scaled, turned_by
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.molds.mold import Part
from formwork.shapes.body import piece_volume
from formwork.shapes.cast import lots
from formwork.solids import kernel
from formwork.solids.build import curved_solid, mold_model, part_solid, piece_model, piece_solid
from formwork.solids.export import write_step
from tests.curved_work import PIECES, part, planter_mold
from tests.drawn import curved_pieces, curved_samples

EXACT = 1e-9


def kinds(solid) -> list[str]:
    return sorted(face.geomType() for face in solid.Faces())


def sound(body, rel=EXACT):
    """The body's solid, once it is sound, one, and of the volume that the closed form gives."""
    solid = curved_solid(body)
    assert solid.isValid()
    assert len(solid.Solids()) == 1
    assert kernel.volume(solid) == pytest.approx(body.volume(), rel=rel)
    return solid


HALF = Outline(((0.0, -1.0), (0.0, 1.0)), (1.0, 0.0))
"""Half a disc of radius 1 on the axis."""


def test_half_a_disc_turned_is_a_true_sphere():
    """Volume of a sphere, 4/3 pi r3."""
    solid = sound(Turned(HALF))
    assert kinds(solid) == ["SPHERE"]
    assert kernel.volume(solid) == pytest.approx(4.0 / 3.0 * pi, rel=1e-12)


def test_a_sector_of_a_sphere_is_an_orange_segment():
    solid = sound(Turned(HALF, (1.0, 2.0), 0.3, 1.7))
    assert kinds(solid) == ["PLANE", "PLANE", "SPHERE"]
    assert kernel.volume(solid) == pytest.approx(4.0 / 3.0 * pi * 1.7 / tau, rel=1e-12)


def test_a_sector_begins_where_it_says_and_goes_the_way_it_says():
    """A quarter ring from 0.3 to 1.2 rad: its middle is solid, the space before and behind it is not."""
    solid = sound(Turned(rectangle((0.4, 0.0), (0.5, 0.1)), (2.0, 1.0), 0.3, 0.9))
    cq = kernel.cadquery()
    for angle, inside in ((0.31, True), (0.75, True), (1.19, True), (0.28, False), (1.22, False)):
        at = (2.0 + 0.45 * cos(angle), 1.0 + 0.45 * sin(angle), 0.05)
        assert solid.isInside(cq.Vector(*(kernel.MM * c for c in at))) is inside


@pytest.mark.parametrize(
    ("profile", "faces"),
    [
        (rectangle((0.3, 0.0), (0.5, 0.1)), ["CYLINDER"] * 2 + ["PLANE"] * 2),
        (polygon(((0.0, 0.0), (0.3, 0.0), (0.4, 0.5), (0.0, 0.5))), ["CONE"] + ["PLANE"] * 2),
        (polygon(((0.0, 0.0), (0.3, 0.0), (0.0, 0.5))), ["CONE", "PLANE"]),
        (circle((2.0, 0.0), 1.0), ["TORUS"] * 4),
    ],
)
def test_a_profile_turns_into_the_faces_a_person_expects(profile, faces):
    assert kinds(sound(Turned(profile))) == faces


def test_a_disc_with_openings_keeps_its_arcs():
    openings = (circle((0.5, 0.0), 0.2), rectangle((-1.0, -0.5), (-0.5, 0.5)))
    solid = sound(Prism(circle((0.0, 0.0), 2.0), 0.3, openings=openings))
    assert kinds(solid) == ["CYLINDER"] * 8 + ["PLANE"] * 6


def test_arcs_about_one_centre_make_cones_and_parallel_legs_planes():
    sector, smaller = ring_sector(0.5, 0.8, 0.2, 1.4), ring_sector(0.52, 0.78, 0.2, 1.4)
    assert kinds(sound(Prism(sector, 0.5, head=smaller))) == ["CONE"] * 2 + ["PLANE"] * 4
    ell = polygon(((0.0, 0.0), (1.0, 0.0), (1.0, 0.3), (0.4, 0.3), (0.4, 1.0), (0.0, 1.0)))
    drawn_in = polygon(((0.02, 0.02), (0.98, 0.02), (0.98, 0.28), (0.38, 0.28), (0.38, 0.98), (0.02, 0.98)))
    assert kinds(sound(Prism(ell, 0.5, head=drawn_in))) == ["PLANE"] * 8


def test_a_prism_whose_head_is_shifted_or_turned_is_ruled():
    lens = Outline(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)), (0.0, 0.5, 0.0, -0.3))
    sound(Prism(circle((0.0, 0.0), 2.0), 3.0, head=circle((0.5, 0.0), 1.0)))
    sound(Prism(lens, 0.5, head=turned_by(lens, 0.2)))
    sound(Prism(lens, 0.5, head=scaled(lens, 0.9), openings=(circle((0.5, 0.5), 0.1),)))


angles = st.floats(0.0, tau)
bulges = st.lists(st.sampled_from([0.0, 0.0, 0.2, -0.2, 0.1]), min_size=4, max_size=4)


@given(angles, angles, st.floats(0.05, 2.0), st.floats(0.6, 1.0), bulges)
@settings(max_examples=25, deadline=None)
def test_prisms_that_lie_any_way_have_the_volume_of_their_closed_form(turn, lean, height, factor, bends):
    outline = Outline(((-0.3, -0.2), (0.4, -0.2), (0.3, 0.3), (-0.3, 0.2)), tuple(bends))
    along = (cos(turn), sin(turn), 0.0)
    across = (-sin(turn) * cos(lean), cos(turn) * cos(lean), sin(lean))
    body = Prism(outline, height, (1.0, 2.0, 3.0), along, across, scaled(outline, factor))
    sound(body)
    sound(Prism(outline, height, (1.0, 2.0, 3.0), along, across))


@given(angles, st.floats(0.3, tau), st.floats(0.0, 0.3), bulges)
@settings(max_examples=25, deadline=None)
def test_turned_bodies_have_the_volume_of_their_closed_form(start, sweep, inner, bends):
    bends[3] = 0.0 if inner < 0.1 else bends[3]
    profile = Outline(((inner, 0.0), (0.5, 0.0), (0.6, 0.4), (inner, 0.4)), tuple(bends))
    sound(Turned(profile, (0.2, -0.1), start, min(sweep, tau)))


def test_a_leg_of_no_length_is_refused():
    with pytest.raises(InternalError, match="no length"):
        curved_solid(Prism(polygon(((0.1, 0.0), (0.2, 0.0), (0.2, 0.0), (0.1, 0.3))), 0.1))


@pytest.mark.parametrize("name", PIECES)
def test_a_curved_piece_has_its_volume_by_three_routes(name):
    piece, volume = PIECES[name]()
    solid = piece_solid(Planes(), piece)
    assert len(solid.Solids()) == 1
    assert kernel.volume(solid) == pytest.approx(volume, rel=EXACT)
    assert kernel.volume(solid) == pytest.approx(piece_volume(Planes(), piece), rel=EXACT)


def test_the_faces_of_a_round_planter_are_those_a_person_counts():
    """Outside, inside and two drains are cones; base, rim and floor are planes."""
    piece, _ = PIECES["planter"]()
    assert kinds(piece_solid(Planes(), piece)) == ["CONE"] * 4 + ["PLANE"] * 3


@pytest.mark.parametrize("name", PIECES)
def test_a_curved_piece_reads_back_from_step(name, tmp_path):
    piece, volume = PIECES[name]()
    path = tmp_path / "piece.step"
    write_step(path, piece_model(Planes(), piece))
    assert kernel.volume(kernel.read_step(path)) == pytest.approx(volume, rel=EXACT)


def space(one: Part) -> float:
    """What a part fills, m3, by the closed forms of what it is made of."""
    filled = (*one.cells, *one.rounds, *one.turned, *one.prisms)
    return sum(body.volume() for body in filled) - sum(hole.volume() for hole in one.holes)


def test_a_mold_of_skins_and_rings_reads_back_from_step(tmp_path):
    mold = planter_mold()
    model = mold_model(mold)
    for body, one in zip(model.bodies, mold.parts, strict=False):
        assert kernel.volume(body.solid) == pytest.approx(space(one), rel=EXACT), one.name
    path = tmp_path / "mold.step"
    write_step(path, model)
    total = sum(map(space, mold.parts)) + mold.nominal
    assert kernel.volume(kernel.read_step(path)) == pytest.approx(total, rel=EXACT)


def test_a_part_of_several_bodies_is_one_solid():
    rings = (Turned(rectangle((0.2, 0.0), (0.3, 0.1))), Turned(rectangle((0.2, 0.1), (0.25, 0.2))))
    tongue = Prism(rectangle((0.29, -0.02), (0.4, 0.02)), 0.1)
    one = part("ring with a tongue", "ring", turned=rings, prisms=(tongue,))
    solid = part_solid(Planes(), one)
    assert len(solid.Solids()) == 1
    assert kernel.volume(solid) > sum(ring.volume() for ring in rings)


@pytest.mark.parametrize(("shape", "parameters"), curved_samples())
def test_the_kernel_finds_the_volume_of_every_curved_sample(shape, parameters):
    hold_pieces(shape, parameters)


def hold_pieces(shape, parameters):
    for lot in lots(shape, parameters, "piece", 0.018):
        planes = Planes()
        solid = piece_solid(planes, lot.piece)
        assert kernel.volume(solid) == pytest.approx(piece_volume(planes, lot.piece), rel=1e-7)
        assert len(solid.Solids()) == lot.piece.cavities


@given(drawn=curved_pieces())
@settings(max_examples=12, deadline=None)
def test_the_kernel_finds_the_volume_of_random_curved_pieces(drawn):
    hold_pieces(*drawn)
