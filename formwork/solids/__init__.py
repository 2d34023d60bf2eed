"""The CAD kernel: STEP, STL, GLB, line views and the second route to every volume.

Importing this loads no kernel; the first function that makes a solid does.
"""

from formwork.solids.build import (
    Body,
    Model,
    cell_solid,
    curved_solid,
    empty_mold_model,
    filled,
    mold_assembly,
    mold_model,
    part_solid,
    piece_model,
    piece_solid,
    round_solid,
)
from formwork.solids.export import write_3mf, write_glb, write_step, write_stl
from formwork.solids.kernel import KernelError, read_step, volume
from formwork.solids.pipes import frame_model
from formwork.solids.views import LineView, drawn, line_view, picture, picture_svg, piece_picture

__all__ = [
    "Body",
    "KernelError",
    "LineView",
    "Model",
    "cell_solid",
    "curved_solid",
    "drawn",
    "empty_mold_model",
    "filled",
    "frame_model",
    "line_view",
    "mold_assembly",
    "mold_model",
    "part_solid",
    "picture",
    "picture_svg",
    "piece_model",
    "piece_picture",
    "piece_solid",
    "read_step",
    "round_solid",
    "volume",
    "write_3mf",
    "write_glb",
    "write_step",
    "write_stl",
]
