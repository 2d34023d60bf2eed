"""What every shape's parameters share: they are frozen, refuse unknown keys, and say what each key means.

A shape declares its own keys as a subclass of ``Parameters`` whose fields are annotated with ``quantity`` from
``units.fields``: unit, range, default and one line of meaning each.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from formwork.shapes.embed import Embed
from formwork.units.fields import quantity


class Parameters(BaseModel):
    """Base of every shape's parameters: frozen, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    gang: Annotated[int, Field(ge=1, le=40)] = Field(
        default=1, description="pieces cast side by side in one mold, with dividers between them"
    )
    shrinkage: Annotated[float, quantity("ratio", 0.0, 0.01)] = Field(
        default=0.0,
        description="drying shrinkage the mold allows for: it is built this much larger than the piece",
    )
    embed: tuple[Embed, ...] = Field(
        default=(), description="things that stay in the piece: bars, mesh, fibres, loops"
    )
