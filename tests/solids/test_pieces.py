"""The piece's solid, made by the kernel alone, against the closed form and against the cells' volume."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.shapes.body import body, piece_volume
from formwork.solids import kernel
from formwork.solids.build import cell_solid, piece_model, piece_solid


def test_the_tapered_planter_agrees_by_three_routes(tapered):
    planes = Planes()
    piece = tapered().piece()
    solid = piece_solid(planes, piece)
    assert kernel.volume(solid) == pytest.approx(tapered().volume(), rel=1e-12)
    assert kernel.volume(solid) == pytest.approx(piece_volume(planes, piece), rel=1e-12)


@given(
    bottom=st.tuples(st.floats(0.2, 0.8), st.floats(0.2, 0.8)),
    flare=st.tuples(st.floats(0.0, 0.2), st.floats(0.0, 0.2)),
    h=st.floats(0.15, 0.6),
    wall=st.floats(0.02, 0.04),
    floor=st.floats(0.02, 0.05),
    chamfer=st.floats(0.003, 0.015),
)
@settings(max_examples=25, deadline=None)
def test_random_tapered_planters_agree_by_three_routes(tapered, bottom, flare, **rest):
    (a, b), (x, y) = bottom, flare
    sizes = tapered(a, b, a + x, b + y, **rest)
    planes = Planes()
    piece = sizes.piece()
    solid = piece_solid(planes, piece)
    assert len(solid.Solids()) == 1
    assert kernel.volume(solid) == pytest.approx(sizes.volume(), rel=1e-9)
    assert kernel.volume(solid) == pytest.approx(piece_volume(planes, piece), rel=1e-9)


def test_the_solid_has_the_faces_a_person_counts(tapered):
    """4 walls, 4 chamfers, base, rim, 4 inner walls, inner floor, and one cone for each drain."""
    solid = piece_solid(Planes(), tapered().piece())
    kinds = sorted(face.geomType() for face in solid.Faces())
    assert kinds == ["CONE"] * 2 + ["PLANE"] * 15


def test_the_cells_of_the_piece_fuse_to_the_same_solid_but_for_the_plugs(tapered):
    planes = Planes()
    piece = replace(tapered().piece(), plugs=())
    fused = kernel.fuse([cell_solid(planes, part) for part in body(planes, piece)])
    whole = piece_solid(planes, piece)
    assert len(fused.Faces()) == len(whole.Faces()) == 15
    assert kernel.volume(fused) == pytest.approx(kernel.volume(whole), rel=1e-12)
    assert kernel.volume(whole.cut(fused)) == pytest.approx(0.0, abs=1e-12)


def test_an_envelope_that_encloses_nothing_is_refused(tapered):
    piece = tapered().piece()
    fill = replace(piece.face("fill"), half=piece.face("fill").half.moved(-1.0))
    faces = tuple(fill if face.name == "fill" else face for face in piece.faces)
    with pytest.raises(GeometryError, match="herb bed"):
        piece_solid(Planes(), replace(piece, faces=faces))


def test_the_model_of_a_piece_is_one_body_under_its_name(tapered):
    model = piece_model(Planes(), tapered().piece())
    assert [b.name for b in model.bodies] == ["herb bed"]
    assert model.volume() == pytest.approx(tapered().volume(), rel=1e-12)
