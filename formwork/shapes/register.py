"""The register of shapes: what the project file may name."""

from __future__ import annotations

from formwork.shapes.shape import Shape


def register() -> dict[str, Shape]:
    """Every shape by the name the project file uses, in reading order."""
    from formwork.shapes import block, planter, slab  # noqa: PLC0415 - each file registers one shape

    return {shape.name: shape for shape in (planter.SHAPE, block.SHAPE, slab.SHAPE)}
