"""What holds for every registered shape, over random sound parameters."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from formwork.geometry.cells import meet, volume
from formwork.geometry.planes import Planes
from formwork.shapes.body import body, envelope, former_cells, piece_volume
from formwork.shapes.cast import grown, lots
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Lot, planar
from formwork.shapes.register import register
from formwork.shapes.shape import Shape
from tests.drawn import Drawn, pieces, samples, single

DIVIDER = 0.0179


@pytest.mark.parametrize(("shape", "parameters"), samples())
def test_every_sample_is_a_sound_piece(shape: Shape, parameters: Parameters) -> None:
    for lot in (one for one in lots(shape, parameters, "sample", DIVIDER) if isinstance(one, Lot)):
        piece, planes = lot.piece, Planes()
        assert lot.each >= 1
        assert 0.0 < piece_volume(planes, piece) < envelope(planes, piece).volume() + 1e-12
        assert piece.cavities == parameters.gang
        assert len(piece.pour_points) == piece.cavities


@given(drawn=pieces())
@settings(max_examples=40, deadline=None)
def test_a_gang_holds_as_many_equal_pieces(drawn: Drawn) -> None:
    shape, parameters = drawn
    one = piece_volume(Planes(), single(shape, parameters, "one"))
    all_of_them = piece_volume(Planes(), lots(shape, parameters, "gang", DIVIDER)[0].piece)
    assert all_of_them == pytest.approx(parameters.gang * one, rel=1e-9)


@given(drawn=pieces(gangs=False))
@settings(max_examples=40, deadline=None)
def test_volume_is_envelope_less_formers_counted_once(drawn: Drawn) -> None:
    """Inclusion-exclusion to the second order is exact where no three formers share space; else it is a bound."""
    shape, parameters = drawn
    piece = single(shape, parameters, "piece")
    planes = Planes()
    outside, formers = envelope(planes, piece), list(former_cells(planes, piece).values())
    singles = volume(formers)
    pairs = 0.0
    for i, one in enumerate(formers):
        for other in formers[:i]:
            shared = meet(planes, one, other)
            pairs += shared.volume() if shared else 0.0
    left = volume(body(planes, piece))
    assert left >= outside.volume() - singles - 1e-12
    assert left <= outside.volume() - singles + pairs + 1e-12


@given(drawn=pieces(gangs=False))
@settings(max_examples=40, deadline=None)
def test_growing_for_shrinkage_scales_the_volume_by_its_cube(drawn: Drawn) -> None:
    shape, parameters = drawn
    piece = single(shape, parameters, "piece")
    larger = grown(piece, 1.003)
    assert piece_volume(Planes(), larger) == pytest.approx(1.003**3 * piece_volume(Planes(), piece), rel=1e-9)
    assert "shrinkage" in larger.notes[-1]


@given(drawn=pieces(gangs=False))
@settings(max_examples=40, deadline=None)
def test_formers_and_pour_points_lie_inside_the_envelope(drawn: Drawn) -> None:
    shape, parameters = drawn
    piece = single(shape, parameters, "piece")
    planes = Planes()
    for former in former_cells(planes, piece).values():
        for face in planar(piece).faces:
            assert min(face.half.depth(point) for point in former.points()) > -1e-9
    concrete = body(planes, piece)
    for point in piece.pour_points:
        assert any(all(planes.half(ref).depth(point) > 0.0 for ref in cell.facets) for cell in concrete)


def test_every_shape_says_what_it_is_and_what_each_key_means() -> None:
    for name, shape in register().items():
        assert shape.name == name
        assert shape.summary
        assert shape.methods
        assert shape.samples
        for key, field in shape.parameters.model_fields.items():
            assert field.description, f"{name}.{key} has no line of meaning"


def test_faces_stand_in_order_round_the_piece_and_have_names_of_their_own() -> None:
    for shape, parameters in samples():
        piece = single(shape, parameters, "piece")
        names = [face.name for face in planar(piece).faces] + [
            former.name for former in planar(piece).formers
        ]
        assert len(names) == len(set(names))
        roles = [face.role for face in planar(piece).faces]
        assert roles.count("fill") == 1
        assert roles.count("base") == 1
        sides = [face.half.normal for face in planar(piece).faces if face.role == "panel"]
        turns = [a[0] * b[1] - a[1] * b[0] for a, b in zip(sides, [*sides[1:], sides[0]], strict=True)]
        assert all(turn > 0.0 for turn in turns)
