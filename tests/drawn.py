"""Random sound pieces of every registered shape that is cast, drawn round the samples that each shape gives.

No shape is named. Shapes with plane faces and curved ones are told apart by the form of what they lay out.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.shapes.cast import lots
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Curved, Piece, Planar
from formwork.shapes.register import register
from formwork.shapes.shape import Shape

Drawn = tuple[Shape, Parameters]


def parameters(shape: Shape, keys: Mapping[str, object]) -> Parameters:
    """The checked parameters of keys as a project in millimetres would have them."""
    return shape.parameters.model_validate(dict(keys), context={"units": "mm"})


def cast_shapes() -> list[Shape]:
    """Every shape that is cast."""
    return [shape for shape in register().values() if shape.casts]


def flat_shapes() -> list[Shape]:
    """Every shape whose pieces plane faces bound."""
    return [shape for shape in cast_shapes() if isinstance(_first(shape).form, Planar)]


def curved_shapes() -> list[Shape]:
    """Every shape that is turned or an outline."""
    return [shape for shape in cast_shapes() if isinstance(_first(shape).form, Curved)]


def _first(shape: Shape) -> Piece:
    return single(shape, parameters(shape, shape.samples[0]))


def samples() -> list[Drawn]:
    """Every sample of every shape with plane faces."""
    return _samples(flat_shapes())


def curved_samples() -> list[Drawn]:
    """Every sample of every curved shape."""
    return _samples(curved_shapes())


def _samples(shapes: list[Shape]) -> list[Drawn]:
    return [(shape, parameters(shape, keys)) for shape in shapes for keys in shape.samples]


def frame_samples() -> list[Drawn]:
    """Every sample of every shape that is built and not cast."""
    built = [shape for shape in register().values() if not shape.casts]
    return [(shape, parameters(shape, keys)) for shape in built for keys in shape.samples]


def single(shape: Shape, found: Parameters, name: str = "piece") -> Piece:
    """The first of the shape's pieces, cast alone."""
    return lots(shape, found.model_copy(update={"gang": 1}), name, 0.018)[0].piece


def pieces(gangs: bool = True) -> st.SearchStrategy[Drawn]:
    """A shape with plane faces and parameters for it: a sample whose lengths are up to 15 % larger or smaller."""
    return _varied(flat_shapes(), gangs)


def curved_pieces() -> st.SearchStrategy[Drawn]:
    """The same of curved shapes."""
    return _varied(curved_shapes(), False)


def any_pieces(gangs: bool = True) -> st.SearchStrategy[Drawn]:
    """The same of every shape that is cast."""
    return _varied(cast_shapes(), gangs)


@st.composite
def _varied(draw: st.DrawFn, shapes: list[Shape], gangs: bool) -> Drawn:
    """A sample of a shape with its lengths changed, where that is sound."""
    shape = draw(st.sampled_from(shapes))
    keys: dict[str, Any] = dict(draw(st.sampled_from(shape.samples)))
    for key, value in keys.items():
        if (
            isinstance(value, int | float)
            and not isinstance(value, bool)
            and value > 5
            and key != "rim_width"
            and shape.parameters.model_fields[key].annotation is not int
        ):
            keys[key] = round(value * draw(st.floats(0.87, 1.15)), 2)
    if not gangs:
        keys.pop("gang", None)
    try:
        found = parameters(shape, keys)
        lots(shape, found, "drawn", 0.018)
    except (GeometryError, ValueError):
        return shape, parameters(shape, shape.samples[0])
    return shape, found
