"""Keys of an outline in the project file: corners with their arcs, holes, the drawing it is read from."""

from math import radians
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator

from formwork.shapes.outline_file import FileUnits
from formwork.shapes.parameters import Parameters
from formwork.units.fields import number, quantity, text

REACH = 100.0
"""How far from the zero of its drawing an outline may lie, m."""
_Place = Annotated[float, quantity("length", -REACH, REACH)]
_STEEPEST = radians(20.0)


class _Table(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Corner(_Table):
    """A corner of an outline, and how its edge runs on to the next corner."""

    x: _Place = Field(description="to the right, seen on the good face")
    y: _Place = Field(description="upward, seen on the good face")
    round: Annotated[float, quantity("length", 0.001, 10.0)] | None = Field(
        default=None, description="radius that rounds this corner, between two straight edges"
    )
    via_x: _Place | None = Field(
        default=None, description="the edge to the next corner is an arc through this place, with via_y"
    )
    via_y: _Place | None = Field(
        default=None, description="the edge to the next corner is an arc through this place, with via_x"
    )
    bulge: Annotated[float, number(-20.0, 20.0)] | None = Field(
        default=None,
        description="the edge to the next corner is an arc: tangent of a quarter of its angle, above 0 to the left",
    )


class Hole(_Table):
    """A hole through the piece: a circle by its middle and diameter, or corners."""

    x: _Place | None = Field(default=None, description="of a round hole's middle")
    y: _Place | None = Field(default=None, description="of a round hole's middle")
    diameter: Annotated[float, quantity("length", 0.005, 5.0)] | None = Field(
        default=None, description="of a round hole, at the good face"
    )
    points: tuple[Corner, ...] = Field(default=(), description="corners of any other hole, in order")


class OutlineParameters(Parameters):
    """Keys of an outline in the project file."""

    file: Annotated[str, text(500)] | None = Field(
        default=None, description="DXF drawing of the outline and its holes, beside the project file"
    )
    layer: Annotated[str, text(200)] | None = Field(
        default=None, description="the only layer of the drawing that is read; all of them if left out"
    )
    file_units: FileUnits | None = Field(
        default=None, description="what the drawing's numbers are; as the drawing itself says if left out"
    )
    tolerance: Annotated[float, quantity("length", 0.00001, 0.005)] = Field(
        default=0.0005, description="how near arcs follow the splines and ellipses of the drawing"
    )
    points: tuple[Corner, ...] = Field(
        default=(),
        description="corners of the outline in order, as seen on the good face, instead of a drawing",
    )
    holes: tuple[Hole, ...] = Field(default=(), description="holes through it, besides those of the drawing")
    thickness: Annotated[float, quantity("length", 0.015, 0.4)] = Field(description="thickness")
    draft: Annotated[float, quantity("angle", 0.0, _STEEPEST)] = Field(
        default=0.0,
        description="lean of the edges: the struck back is larger than the good face; 0 for square edges",
    )
    hole_draft: Annotated[float, quantity("angle", radians(2.0), _STEEPEST)] = Field(
        default=radians(3.0), description="lean of the sides of holes, which narrow towards the struck back"
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.05)] = Field(
        default=0.0, description="chamfer round the good face; 0 for none"
    )
    deep_chamfer: bool = Field(
        default=False, description="allow a chamfer deeper than a quarter of the thickness"
    )

    @field_validator("file")
    @classmethod
    def _beside(cls, name: str | None, info: ValidationInfo) -> str | None:
        """The drawing's path, from the folder of the project file."""
        folder = (info.context or {}).get("folder")
        if name is None or folder is None:
            return name
        return str(Path(folder) / name)
