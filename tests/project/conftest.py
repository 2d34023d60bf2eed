"""A shape of our own, so that reading files is tested apart from the shapes that ship."""

from __future__ import annotations

from typing import Annotated, Literal

import pytest
from pydantic import Field

from formwork.project import declared
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Piece
from formwork.shapes.shape import Shape
from formwork.units.fields import quantity, whole


class TroughParameters(Parameters):
    length: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="outside length")
    width: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="outside width")
    wall: Annotated[float, quantity("length", 0.025, 0.15)] = Field(
        default=0.05, description="wall thickness"
    )
    holes: Annotated[int, whole(0, 24)] = Field(default=2, description="drain holes")
    down: Literal["rim", "floor"] = Field(default="rim", description="which end lies down")


class CubeParameters(Parameters):
    edge: Annotated[float, quantity("length", 0.05, 1.0)] = Field(description="edge")


def never_laid_out(parameters: Parameters, name: str) -> Piece:
    raise AssertionError("reading a file must not lay out a piece")


SHAPES = {
    "trough": Shape("trough", "a trough", ("panelled",), TroughParameters, never_laid_out, ()),
    "cube": Shape("cube", "a cube", ("panelled", "stacked"), CubeParameters, never_laid_out, ()),
}


@pytest.fixture
def shapes(monkeypatch):
    monkeypatch.setattr(declared, "register", lambda: SHAPES)
    return SHAPES
