"""What every shape's parameters share: they are frozen, refuse unknown keys, and say what each key means.

A shape declares its parameters as a ``Parameters`` model whose fields are annotated with ``quantity`` from
``units.fields``: unit, range, default and one line of meaning each.
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Parameters(BaseModel):
    """Base of every shape's parameters: frozen, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)
