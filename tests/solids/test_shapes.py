"""Every registered shape and its molds through the kernel: volumes against the cells', and nothing inside anything else."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from formwork.errors import StockError
from formwork.geometry.planes import Planes
from formwork.molds.design import brace, line
from formwork.molds.structure import BuiltCentre, BuiltFrame
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes.body import piece_volume
from formwork.shapes.cast import lots
from formwork.shapes.piece import Lot
from formwork.solids import kernel
from formwork.solids.build import mold_model, piece_solid
from tests.drawn import pieces, samples
from tests.workshop import mix, shop

DIVIDER = 0.018


def hold_pieces(shape, parameters):
    """Every piece of a shape: the volume by both routes, and as many solids as cavities."""
    cast = [lot.piece for lot in lots(shape, parameters, "piece", DIVIDER) if isinstance(lot, Lot)]
    for piece in cast:
        planes = Planes()
        solid = piece_solid(planes, piece)
        assert kernel.volume(solid) == pytest.approx(piece_volume(planes, piece), rel=1e-6), piece.name
        assert len(solid.Solids()) == piece.cavities, piece.name


@pytest.mark.parametrize(("shape", "parameters"), samples())
def test_the_kernel_finds_the_volume_of_every_sample(shape, parameters):
    hold_pieces(shape, parameters)


@given(drawn=pieces())
@settings(max_examples=60, deadline=None)
def test_the_kernel_finds_the_volume_of_random_pieces_of_every_shape(drawn):
    hold_pieces(*drawn)


def molds(shape, parameters, how):
    """Every mold of an order, as the program designs it; none where no stock fits."""
    order = PieceOrder("piece", shape.name, parameters, 4, 1, how)
    try:
        found = line(order, shop(), mix(), "mm")
        return [brace(one).mold for one in found if not isinstance(one, BuiltCentre | BuiltFrame)]
    except StockError:
        return []


def hold_mold(mold):
    """Volume of each part and of the piece by both routes, and no two of them in one place."""
    bodies = mold_model(mold).bodies
    for body, part in zip(bodies, mold.parts, strict=False):
        space = sum(c.volume() for c in part.cells) + sum(r.volume() for r in part.rounds)
        bored = sum(hole.volume() for hole in part.holes)
        assert kernel.volume(body.solid) == pytest.approx(space - bored, rel=1e-6), part.name
    assert kernel.volume(bodies[-1].solid) == pytest.approx(mold.nominal, rel=1e-6)
    assert shared(bodies) == {}


def shared(bodies):
    """Pairs of bodies that fill the same space, with the volume they share, m3; boxes are compared first."""
    boxes = [body.solid.BoundingBox() for body in bodies]
    found = {}
    for (one, a), (other, b) in combinations(zip(bodies, boxes, strict=True), 2):
        if all(
            min(getattr(a, high), getattr(b, high)) - max(getattr(a, low), getattr(b, low)) > 1e-3
            for low, high in (("xmin", "xmax"), ("ymin", "ymax"), ("zmin", "zmax"))
        ):
            volume = kernel.volume(one.solid.intersect(other.solid))
            if volume > 1e-9:
                found[one.name, other.name] = volume
    return found


@pytest.mark.parametrize(("shape", "parameters"), samples())
def test_the_parts_of_every_sample_mold_stand_clear_of_one_another(shape, parameters):
    for mold in molds(shape, parameters, MoldOptions()):
        hold_mold(mold)


options = st.builds(
    MoldOptions,
    joint=st.sampled_from(["lapped", "mitred"]),
    sides=st.sampled_from(["long", "short"]),
    base=st.sampled_from(["stands on", "runs past"]),
)


@given(drawn=pieces(), how=options)
@settings(max_examples=15, deadline=None, phases=[Phase.generate])  # shrinking a mold takes minutes
def test_the_parts_of_random_molds_stand_clear_of_one_another(drawn, how):
    for mold in molds(*drawn, how)[:2]:
        hold_mold(mold)
