"""What every shape's keys share: they are frozen, refuse unknown keys, and say what each key means.

Keys of what is built and not cast are ``Keys``; keys of what is cast are ``Parameters``, which may be ganged, allowed
to shrink and have things embedded.

A shape declares its own keys as a subclass of ``Parameters`` whose fields are annotated with ``quantity`` from
``units.fields``: unit, range, default and one line of meaning each.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from formwork.shapes.embed import Embed
from formwork.units.fields import quantity


class Keys(BaseModel):
    """Keys of any shape: frozen, no unknown ones."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)


class Parameters(Keys):
    """Keys of any shape that is cast."""

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
