"""The piece's solid, made by the kernel alone, against the closed form and against the cells' volume."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.shapes.body import body, piece_volume
from formwork.shapes.piece import Face, Former, Piece, Planar, planar
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


def test_a_gang_is_as_many_solids_as_cavities():
    """Two hollow blocks 0.39 x 0.19 x 0.19 cast side by side, 18 mm divider, cores right through."""
    piece = gang(2)
    planes = Planes()
    solid = piece_solid(planes, piece)
    assert len(solid.Solids()) == 2
    assert kernel.volume(solid) == pytest.approx(2 * 0.19 * 0.19 * (0.39 - 2 * 0.13 * 0.13 / 0.19), rel=1e-12)
    assert kernel.volume(solid) == pytest.approx(piece_volume(planes, piece), rel=1e-12)


def upright(low, high):
    return tuple(
        HalfSpace(tuple(sign * float(k == axis) for k in range(3)), sign * bound[axis])
        for sign, bound in ((1.0, high), (-1.0, low))
        for axis in range(3)
    )


def gang(count):
    length, width, height, board = 0.39, 0.19, 0.19, 0.018
    step = width + board
    whole = upright((0.0, 0.0, 0.0), (length, count * step - board, height))
    roles = ("panel", "panel", "fill", "panel", "panel", "base")
    formers = []
    for k in range(count):
        for x in (0.04, 0.22):
            low, high = (x, k * step + 0.03, 0.0), (x + 0.13, k * step + 0.16, height)
            formers.append(Former(f"core {k} {x}", "core", upright(low, high), "box", "base"))
        if k:
            low, high = (0.0, k * step - board, 0.0), (length, k * step, height)
            formers.append(Former(f"divider {k}", "divider", upright(low, high), "solid", "base"))
    faces = tuple(
        Face(f"face {n}", role, half) for n, (role, half) in enumerate(zip(roles, whole, strict=True))
    )
    return Piece("blocks", "block", Planar(faces, tuple(formers)), (), (), False, (), cavities=count)


def steps(low, high, size):
    """Whole steps of a size: nearer planes than a workshop can tell apart are no test of a boolean."""
    return st.integers(low, high).map(lambda n: n * size)


leaning = st.tuples(steps(-40, 40, 0.01), steps(-40, 40, 0.01), steps(-40, 40, 0.01))
corners = st.tuples(steps(0, 300, 0.001), steps(0, 200, 0.001), steps(0, 150, 0.001))


@given(st.lists(st.tuples(corners, corners, leaning), min_size=1, max_size=4))
@settings(max_examples=30, deadline=None)
def test_formers_that_lean_overlap_and_stick_out_leave_the_same_by_both_routes(random):
    """Cells and kernel are given the same planes and share nothing after that."""
    formers = []
    for n, (low, size, tilt) in enumerate(random):
        centre = tuple(a + b / 2 for a, b in zip(low, size, strict=True))
        halves = []
        for axis in range(3):
            for sign in (1.0, -1.0):
                normal = tuple(sign * (float(k == axis) + (k != axis) * tilt[k]) for k in range(3))
                point = tuple(c + sign * (k == axis) * (0.01 + size[axis] / 2) for k, c in enumerate(centre))
                halves.append(behind(normal, point))
        formers.append(Former(f"former {n}", "board", tuple(halves), "solid", "panel"))
    piece = replace(gang(1), form=replace(planar(gang(1)), formers=tuple(formers)))
    planes = Planes()
    nominal = piece_volume(planes, piece)
    if nominal < 1e-5:
        return
    assert kernel.volume(piece_solid(planes, piece)) == pytest.approx(nominal, rel=1e-9)


def test_an_envelope_that_encloses_nothing_is_refused(tapered):
    piece = tapered().piece()
    fill = replace(planar(piece).face("fill"), half=planar(piece).face("fill").half.moved(-1.0))
    faces = tuple(fill if face.name == "fill" else face for face in planar(piece).faces)
    with pytest.raises(GeometryError, match="herb bed"):
        piece_solid(Planes(), replace(piece, form=replace(planar(piece), faces=faces)))


def test_the_model_of_a_piece_is_one_body_under_its_name(tapered):
    model = piece_model(Planes(), tapered().piece())
    assert [b.name for b in model.bodies] == ["herb bed"]
    assert model.volume() == pytest.approx(tapered().volume(), rel=1e-12)
