"""The second route: the CAD kernel's own hidden-line removal draws the same lines of the same bodies.

Every visible line of ours lies on a visible line of the kernel's and the other way round, to 0.05 mm; every dashed
line of ours lies on a hidden one of the kernel's, and each of its hidden lines is dashed or lies under a visible one.
"""

from __future__ import annotations

from math import cos, sin

import pytest
import shapely

from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP, Frame
from formwork.drawings.mold import bodies_of
from formwork.drawings.piece import piece_body
from formwork.drawings.projection import View, project
from formwork.geometry.planes import Planes
from formwork.solids.build import part_solid, piece_solid
from formwork.solids.kernel import cadquery

NEAR = 0.05
STEPS = 180


def kernel_lines(shapes, frame: Frame):
    """Visible and hidden lines of solids, as the kernel finds them, in its unit."""
    cq = cadquery()
    from OCP.BRepLib import BRepLib  # noqa: PLC0415 - slow to load, and only here
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt  # noqa: PLC0415 - as above
    from OCP.HLRAlgo import HLRAlgo_Projector  # noqa: PLC0415 - as above
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape  # noqa: PLC0415 - as above

    work = HLRBRep_Algo()
    for shape in shapes:
        work.Add(shape.wrapped)
    work.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*frame.toward), gp_Dir(*frame.right))))
    work.Update()
    work.Hide()
    found = HLRBRep_HLRToShape(work)

    def lines(*compounds):
        drawn = []
        for compound in compounds:
            if compound is None or compound.IsNull():
                continue
            BRepLib.BuildCurves3d_s(compound)
            for edge in cq.Shape.cast(compound).Edges():
                steps = 1 if edge.geomType() == "LINE" else STEPS
                points = [edge.positionAt(i / steps) for i in range(steps + 1)]
                drawn.append([(p.x, p.y) for p in points])
        return drawn

    return lines(found.VCompound(), found.OutLineVCompound()), lines(
        found.HCompound(), found.OutLineHCompound()
    )


def our_lines(view: View, unit: float):
    def polylines(strokes, circles):
        for s in strokes:
            yield [(unit * x, unit * y) for x, y in (s.start, s.end)]
        for c in circles:
            angles = [c.start + (c.end - c.start) * i / STEPS for i in range(STEPS + 1)]
            x, y, r = c.centre[0], c.centre[1], c.radius
            yield [(unit * (x + r * cos(a)), unit * (y + r * sin(a))) for a in angles]

    return list(polylines(view.visible, view.circles)), list(polylines(view.hidden, view.hidden_circles))


def off(lines, others) -> float:
    """Length of lines that lie on none of the others."""
    real = [line for line in map(shapely.LineString, lines) if line.length > NEAR]
    beside = shapely.union_all([shapely.LineString(line) for line in others]).buffer(NEAR)
    return sum(line.difference(beside).length for line in real)


@pytest.mark.parametrize("frame", [TOP, TOP.turned(), FRONT, RIGHT], ids=["top", "below", "front", "right"])
def test_a_piece_is_drawn_as_the_kernel_draws_it(plans, frame):
    piece = plans["planters"].molds[0].piece
    planes = Planes()
    view = project([piece_body(planes, piece)], frame)
    compare(view, [piece_solid(Planes(), piece)], hidden=True)


@pytest.mark.parametrize("frame", [TOP, FRONT, LEFT], ids=["top", "front", "left"])
@pytest.mark.parametrize(("name", "number"), [("planters", 0), ("wall", 0)])
def test_a_mold_is_drawn_as_the_kernel_draws_it(plans, name, number, frame):
    mold = plans[name].molds[number]
    view = project(bodies_of(mold), frame)
    compare(view, [part_solid(mold.planes, part) for part in mold.parts], hidden=False)


def compare(view: View, shapes, *, hidden: bool) -> None:
    seen, unseen = kernel_lines(shapes, view.frame)
    low, high = view.box()
    xs = [p[0] for line in seen for p in line]
    unit = round((max(xs) - min(xs)) / (high[0] - low[0]))
    assert unit == 1000, "the kernel works in mm"
    ours, dashed = our_lines(view, unit)
    assert off(ours, seen) < NEAR
    assert off(seen, ours) < NEAR
    if hidden:
        assert off(dashed, unseen) < NEAR
        assert off(unseen, ours + dashed) < NEAR
