"""Hidden line removal by the kernel: exact for a few bodies, on their triangles for many. All lengths in m."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from formwork.geometry.vectors import Vec, cross
from formwork.solids.kernel import MM, Shape, cadquery, reach

Line = tuple[tuple[float, float], ...]
SMOOTH = 0.01
"""Faces that meet at less than this angle (rad) show no edge between them."""
MANY = 60
"""So many bodies take the exact way more than a few seconds; their triangles hide one another in a twentieth of it."""
_CHORD, _LEAN = 2e-4, 0.1


def hidden_lines(
    shapes: Sequence[Shape], eye: Vec, up: Vec, *, hidden: bool = True
) -> list[tuple[list[Line], list[Line]]]:
    """Lines of each shape as seen along ``-eye``: those in view and those hidden, in m.

    Faces that run into one another smoothly, as the arcs of a dome do, show no line between them.

    Args:
        shapes: what is looked at; each may hide the others.
        eye: from the shapes towards the one who looks.
        up: shown upward; must not run along ``eye``.
        hidden: tell the hidden lines too, which takes longer than all the rest; without, there are none.

    Returns:
        For each shape its lines in view and its hidden lines, x to the right and y upward on the picture.
    """
    cadquery()
    from OCP.BRepLib import BRepLib  # noqa: PLC0415 - with the kernel
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt  # noqa: PLC0415 - with the kernel
    from OCP.HLRAlgo import HLRAlgo_Projector  # noqa: PLC0415 - with the kernel

    for shape in shapes:
        BRepLib.EncodeRegularity_s(shape.wrapped, SMOOTH)
    view = HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*eye), gp_Dir(*cross(up, eye))))
    lines = _of_triangles(shapes, view) if len(shapes) > MANY else _exact(shapes, view)
    in_view = (lines.VCompound, lines.OutLineVCompound)
    behind = (lines.HCompound, lines.OutLineHCompound) if hidden else ()
    return [
        (
            [line for kind in in_view for line in _lines(kind(shape.wrapped))],
            [line for kind in behind for line in _lines(kind(shape.wrapped))],
        )
        for shape in shapes
    ]


def _exact(shapes: Sequence[Shape], view: Any) -> Any:
    """The lines of surfaces as they are."""
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape  # noqa: PLC0415 - with the kernel

    remover = HLRBRep_Algo()
    for shape in shapes:
        remover.Add(shape.wrapped)
    remover.Projector(view)
    remover.Update()
    remover.Hide()
    return HLRBRep_HLRToShape(remover)


def _of_triangles(shapes: Sequence[Shape], view: Any) -> Any:
    """The lines of the triangles that stand for surfaces."""
    from OCP.HLRBRep import HLRBRep_PolyAlgo, HLRBRep_PolyHLRToShape  # noqa: PLC0415 - with the kernel

    chord = _CHORD * reach(shapes) * MM
    remover = HLRBRep_PolyAlgo()
    for shape in shapes:
        shape.mesh(chord, _LEAN)
        remover.Load(shape.wrapped)
    remover.Projector(view)
    remover.Update()
    lines = HLRBRep_PolyHLRToShape()
    lines.Update(remover)
    return lines


def _lines(compound: Shape) -> list[Line]:
    """The edges of a flat compound as polylines, m; none where the kernel found none."""
    from OCP.BRepLib import BRepLib  # noqa: PLC0415 - with the kernel

    if compound is None or compound.IsNull():
        return []
    BRepLib.BuildCurves3d_s(compound)
    return [_polyline(edge) for edge in cadquery().Shape.cast(compound).Edges()]


def _polyline(edge: Shape) -> Line:
    """One edge as a polyline within 0.02 mm and 0.15 rad of it, m."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve  # noqa: PLC0415 - with the kernel
    from OCP.GCPnts import GCPnts_TangentialDeflection  # noqa: PLC0415 - with the kernel

    steps = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge.wrapped), 0.15, 0.02)
    points = (steps.Value(number) for number in range(1, steps.NbPoints() + 1))
    return tuple((p.X() / MM, p.Y() / MM) for p in points)
