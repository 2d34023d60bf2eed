"""Column: column, pier, pedestal, bollard; round, straight or conical, solid or with a round hole from foot to top.

It is laid out and cast as it stands: foot down, top struck off.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.outlines import polygon, rectangle
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.shapes import box
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Curved, CurvedFormer, Lot, Measure, Piece
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity

LEAST_WALL = 0.025
"""Least concrete between the hole and the outside, m (ours)."""


class ColumnParameters(Parameters):
    """Keys of a column in the project file."""

    diameter: Annotated[float, quantity("length", 0.05, 2.5)] = Field(
        description="outside diameter at the foot; of a column cast in a tube the inside diameter measured"
    )
    top_diameter: Annotated[float, quantity("length", 0.05, 2.5)] | None = Field(
        default=None, description="outside diameter at the top; straight if left out"
    )
    height: Annotated[float, quantity("length", 0.05, 6.0)] = Field(description="overall height")
    hole: Annotated[float, quantity("length", 0.0, 2.4)] = Field(
        default=0.0, description="diameter of a hole in the middle, from foot to top; 0 for none"
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.1)] = Field(
        default=0.0, description="chamfer round the foot; 0 for none"
    )
    deep_chamfer: bool = Field(
        default=False, description="allow a chamfer deeper than a quarter of the thickness"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The column as it stands in its mold.

    Raises:
        GeometryError: where the hole leaves no wall, or the chamfer eats it.
    """
    assert isinstance(parameters, ColumnParameters)
    p = parameters
    _refuse_thin(p, name)
    foot, top = _radii(p)
    piece = Piece(
        name=name,
        shape="column",
        form=Curved(
            Turned(polygon(((0.0, 0.0), (foot, 0.0), (top, p.height), (0.0, p.height)))),
            (*_core(p), *_foot_strip(p)),
            p.height,
        ),
        plugs=(),
        pour_points=(_pour_point(p),),
        turned_over=False,
        measures=_measures(p),
        notes=_notes(p),
    )
    return (Lot(piece),)


def _radii(p: ColumnParameters) -> tuple[float, float]:
    """At the foot and at the top, m."""
    return p.diameter / 2.0, (p.top_diameter or p.diameter) / 2.0


def _refuse_thin(p: ColumnParameters, name: str) -> None:
    least = min(_radii(p))
    wall = least - p.hole / 2.0
    if p.hole and wall < LEAST_WALL:
        raise GeometryError(
            f"{name}: a hole of {show.both(p.hole)} leaves {show.both(max(0.0, wall))} of wall where the column is "
            f"{show.both(2.0 * least)} across, at least {show.both(LEAST_WALL)} wanted; make the hole smaller"
        )
    box.refuse_chamfer(p.chamfer, wall, "wall" if p.hole else "radius", p.deep_chamfer, name)
    if p.chamfer > 0.8 * min(wall, p.height):
        raise GeometryError(f"{name}: the chamfer leaves nothing of the foot to stand on; make it smaller")


def _core(p: ColumnParameters) -> tuple[CurvedFormer, ...]:
    if not p.hole:
        return ()
    body = Turned(rectangle((0.0, 0.0), (p.hole / 2.0, p.height)))
    return (CurvedFormer("core", "core", body, "box", "base"),)


def _foot_strip(p: ColumnParameters) -> tuple[CurvedFormer, ...]:
    """A strip round the foot whose back lies against the mold, however that leans."""
    if not p.chamfer:
        return ()
    foot, top = _radii(p)
    back = foot + (top - foot) * p.chamfer / p.height
    body = Turned(polygon(((foot - p.chamfer, 0.0), (foot, 0.0), (back, p.chamfer))))
    return (CurvedFormer("foot strip", "strip", body, "solid", "base"),)


def _pour_point(p: ColumnParameters) -> Vec:
    """In the middle, or half way between hole and outside; at half height."""
    return (0.0 if not p.hole else (p.hole / 2.0 + min(_radii(p))) / 2.0, 0.0, p.height / 2.0)


def _measures(p: ColumnParameters) -> tuple[Measure, ...]:
    foot, top = _radii(p)
    found = [
        Measure("diameter", "front", (-foot, 0.0, 0.0), (foot, 0.0, 0.0)),
        Measure("height", "front", (foot, 0.0, 0.0), (foot, 0.0, p.height)),
    ]
    if abs(top - foot) > 1e-9:
        found.append(Measure("diameter at the top", "front", (-top, 0.0, p.height), (top, 0.0, p.height)))
    if p.hole:
        half = p.hole / 2.0
        found.append(Measure("hole", "top", (-half, 0.0, p.height), (half, 0.0, p.height)))
    return tuple(found)


def _notes(p: ColumnParameters) -> tuple[str, ...]:
    lines = [
        "Cast as it stands, foot down; the top is struck off, its edge rounded by hand where that is wanted."
    ]
    if p.hole:
        lines.append(f"A hole of {show.both(p.hole)} runs from foot to top in the middle.")
    if p.chamfer:
        lines.append(f"The foot is chamfered by {show.both(p.chamfer)}, measured level and upright.")
    lines.append("A column that carries a floor, a roof or a fence belongs to a licensed designer.")
    return tuple(lines)


_PIER = {"diameter": 300, "height": 900}

SHAPE = Shape(
    name="column",
    summary="Round column, pier or pedestal, straight or conical, solid or with a round hole",
    methods=("tube", "wrapped"),
    parameters=ColumnParameters,
    lay_out=lay_out,
    samples=(
        {**_PIER},
        {**_PIER, "diameter": 400, "height": 500, "chamfer": 20},
        {**_PIER, "diameter": 250, "height": 2400, "shrinkage": 0.002},
        {**_PIER, "diameter": 350, "hole": 150, "height": 1100, "chamfer": 15},
        {**_PIER, "diameter": 600, "top_diameter": 450, "height": 700, "chamfer": 25},
        {**_PIER, "diameter": 500, "hole": 250, "height": 450},
    ),
)
