"""Every registered shape and its molds, with random keys: the kernel's volumes against the cells'.

The shapes are not named here: keys, ranges and choices are read from each shape's own parameters, so a new shape is tested
from the day it is registered.
"""

from __future__ import annotations

from itertools import combinations
from types import NoneType, UnionType
from typing import Annotated, Literal, Union, get_args, get_origin

import annotated_types
import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError, StockError
from formwork.geometry.planes import Planes
from formwork.mix.design import mix_for
from formwork.mix.records import CellularWanted
from formwork.molds.design import brace, line
from formwork.project.records import MoldOptions, PieceOrder
from formwork.project.shop import built_in
from formwork.shapes.body import piece_volume
from formwork.shapes.cast import lots
from formwork.shapes.register import register
from formwork.solids import kernel
from formwork.solids.build import mold_model, piece_solid
from formwork.units.fields import Quantity

SHAPES = register()
MILLIMETRE = 0.001


def values(annotation, metadata):
    """What one key may hold, from its annotation; None for a table of its own."""
    inner = get_args(annotation)
    if get_origin(annotation) is Annotated:
        return values(inner[0], inner[1:])
    if get_origin(annotation) in (Union, UnionType):
        return st.one_of([values(one, metadata) for one in inner if one is not NoneType])
    if get_origin(annotation) is Literal:
        return st.sampled_from(inner)
    return plain(annotation, metadata)


def plain(annotation, metadata):
    """What a key without choices may hold: yes or no, a small count, a size."""
    if annotation is bool:
        return st.booleans()
    if annotation is int:
        low, high = bounds(metadata)
        return st.integers(low, min(high, low + 3))
    marks = [mark for mark in metadata if isinstance(mark, Quantity)]
    return sizes(marks[0]) if marks else None


def bounds(metadata):
    found = {}
    for mark in metadata:
        if isinstance(mark, annotated_types.Ge):
            found["ge"] = mark.ge
        if isinstance(mark, annotated_types.Le):
            found["le"] = mark.le
    return found["ge"], found["le"]


def sizes(mark):
    """A value of the lower part of the range, where sizes fit one another; where 0 stands for none, 0 or 0.1 mm up."""
    top = min(mark.most, max(8.0 * mark.least, mark.most / 3.0))
    if mark.kind != "length":
        return st.floats(mark.least, top)
    low = max(mark.least, MILLIMETRE / 10.0)
    whole = st.integers(round(low / MILLIMETRE), int(top / MILLIMETRE)).map(lambda n: n * MILLIMETRE)
    none = [st.just(0.0)] if mark.least == 0.0 else []
    return st.one_of(whole.filter(lambda x: x >= low), st.floats(low, top), *none)


@st.composite
def keys(draw, shape):
    """Keys of a shape: all that must be given, and some of the others; keys of one first word come together."""
    chosen = {}
    wanted = {}
    for name, field in shape.parameters.model_fields.items():
        strategy = values(field.annotation, field.metadata)
        if strategy is None or (name == "gang" and shape.gang_axis is None):
            continue
        word = name.split("_")[0]
        if field.is_required() or wanted.setdefault(word, draw(st.booleans())):
            chosen[name] = draw(strategy)
    return chosen


@pytest.mark.parametrize("name", sorted(SHAPES))
@given(data=st.data())
@settings(
    max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.filter_too_much]
)
def test_the_kernel_finds_the_volume_of_every_shape(name, data):
    shape = SHAPES[name]
    chosen = data.draw(keys(shape))
    try:
        piece = lots(shape, shape.parameters(**chosen), "thing", 0.018)[0].piece
    except GeometryError:
        reject()
    planes = Planes()
    solid = piece_solid(planes, piece)
    assert kernel.volume(solid) == pytest.approx(piece_volume(planes, piece), rel=1e-6)
    assert len(solid.Solids()) == piece.cavities


options = st.builds(
    MoldOptions,
    joint=st.sampled_from(["lapped", "mitred"]),
    sides=st.sampled_from(["long", "short"]),
    base=st.sampled_from(["stands on", "runs past"]),
)


def built(shape, chosen, how, units):
    """A mold as the program designs it, for a cellular mix of 600 kg/m3."""
    shop = built_in(units)
    mix = mix_for(
        CellularWanted(wet_density=600.0, dry_density=None, water_cement=0.5), shop.cement, shop.foam
    )
    order = PieceOrder("thing", shape.name, shape.parameters(**chosen), 6, 1, how)
    return brace(line(order, shop, mix, "mm")[0]).mold


@pytest.mark.parametrize("name", sorted(SHAPES))
@given(data=st.data(), how=options, units=st.sampled_from(["in", "mm"]))
@settings(max_examples=8, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
def test_the_parts_of_a_mold_have_their_cells_volume_and_stand_clear_of_one_another(name, data, how, units):
    try:
        mold = built(SHAPES[name], data.draw(keys(SHAPES[name])), how, units)
    except (GeometryError, StockError):
        reject()
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
