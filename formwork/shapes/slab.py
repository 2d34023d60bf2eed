"""Slab: stepping stone, paver, tabletop; cast with its good face down on the base, struck off on its back."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace
from formwork.shapes import box
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Face, Former, Lot, Measure, Piece, Planar, Seat
from formwork.shapes.shape import Shape
from formwork.units.fields import quantity


class SlabParameters(Parameters):
    """Keys of a slab in the project file."""

    length: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="length of the good face")
    width: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="width of the good face")
    thickness: Annotated[float, quantity("length", 0.015, 0.4)] = Field(description="thickness")
    edge_lean: Annotated[float, quantity("angle", 0.0, 0.5)] = Field(
        default=0.0,
        description="lean of the edges: the struck back is larger than the good face; 0 for square edges",
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.05)] = Field(
        default=0.0, description="chamfer round the good face; 0 for none"
    )
    deep_chamfer: bool = Field(
        default=False, description="allow a chamfer deeper than a quarter of the thickness"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The slab as it lies in its mold, good face down.

    Raises:
        GeometryError: where the chamfer is too deep.
    """
    assert isinstance(parameters, SlabParameters)
    p = parameters
    box.refuse_chamfer(p.chamfer, p.thickness, "thickness", p.deep_chamfer, name)
    if p.chamfer > 0.8 * p.thickness:
        raise GeometryError(f"{name}: the chamfer leaves no edge; make it less than 0.8 of the thickness")
    half = (p.width / 2.0, p.length / 2.0, p.width / 2.0, p.length / 2.0)
    sides = tuple(
        box.side(one, (wx, wy), at, 0.0, p.edge_lean)
        for (one, wx, wy), at in zip(box.SIDES, half, strict=True)
    )
    ends = (box.level("good face", 0.0, up=False), box.level("struck face", p.thickness, up=True))
    piece = Piece(
        name=name,
        shape="slab",
        form=Planar(
            faces=(
                *(Face(one.name, "panel", one) for one in sides),
                Face("good face", "base", ends[0]),
                Face("struck face", "fill", ends[1]),
            ),
            formers=_chamfers(p, sides, ends),
        ),
        plugs=(),
        pour_points=((0.0, 0.0, p.thickness / 2.0),),
        turned_over=True,
        measures=_measures(p),
        notes=(
            "Cast with the good face down; the back is struck off. Seen from above, the mold shows the slab mirrored.",
        ),
    )
    return (Lot(piece),)


def _chamfers(
    p: SlabParameters, sides: tuple[HalfSpace, ...], ends: tuple[HalfSpace, HalfSpace]
) -> tuple[Former, ...]:
    """Strips along the base, mitred at the corners."""
    if p.chamfer == 0.0:
        return ()
    edges = [(f"edge strip {one.name}", one, ends[0]) for one in sides]
    seats: list[tuple[Seat, str]] = [("base", "") for _ in sides]
    return box.strips(edges, p.chamfer, (*sides, *ends), seats)


def _measures(p: SlabParameters) -> tuple[Measure, ...]:
    x, y = p.length / 2.0, p.width / 2.0
    return (
        Measure("length", "top", (-x, -y, 0.0), (x, -y, 0.0)),
        Measure("width", "top", (x, -y, 0.0), (x, y, 0.0)),
        Measure("thickness", "front", (x, -y, 0.0), (x, -y, p.thickness)),
    )


SHAPE = Shape(
    name="slab",
    summary="Slab with straight sides: stepping stone, paver, tabletop",
    methods=("panelled",),
    parameters=SlabParameters,
    lay_out=lay_out,
    samples=(
        {"length": 400, "width": 400, "thickness": 50},
        {"length": 600, "width": 300, "thickness": 60, "chamfer": 10, "gang": 3},
        {"length": 900, "width": 500, "thickness": 70, "edge_lean": "6 deg", "chamfer": 8},
        {"length": 800, "width": 400, "thickness": 60, "embed": [{"kind": "mesh", "pitch": 40, "wire": 2}]},
    ),
    gang_axis="y",
)
