"""Solids of turned bodies and of prisms: arcs stay true arcs, so what they sweep are cylinders, cones, spheres, tori.

Where a prism has another outline at its head, each leg runs straight from the one to the other: a straight leg gives a
plane, an arc about one centre a cone, and anything else a ruled face.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import cos, degrees, dist, sin
from typing import Any

from formwork.errors import InternalError
from formwork.geometry.outlines import Leg, Outline, Point, legs
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, scale
from formwork.solids import kernel
from formwork.solids.kernel import MM, Shape

_ON_AXIS = 1e-9
"""An arc whose centre lies this near the axis (m) is a sphere's, not that of a torus which closes on itself."""
_ALIKE = 1e-9
"""Legs at foot and head whose directions differ by no more than this (rad) lie in one plane."""
_KNIFE = 1e-8
"""Corners nearer than this (m) are one."""

Place = Callable[[Point], Vec]


def turned_solid(body: Turned) -> Shape:
    """The kernel's solid of a turned body, whole or a sector of it."""
    cq = kernel.cadquery()
    c, s = cos(body.start), sin(body.start)
    x, y = body.axis

    def place(point: Point) -> Vec:
        return (x + point[0] * c, y + point[0] * s, point[1])

    wire = _wire(legs(body.profile), place, (s, -c, 0.0), on_axis=True)
    foot, head = (cq.Vector(x * MM, y * MM, z) for z in (0.0, MM))
    angle = 360.0 if body.whole else degrees(body.sweep)
    return _outward(cq.Solid.revolve(wire, [], angle, foot, head))


def prism_solid(body: Prism) -> Shape:
    """The kernel's solid of a prism with its openings."""
    return _straight(body) if body.head is None and not body.head_openings else _drawn_in(body)


def _straight(body: Prism) -> Shape:
    """An outline with openings, carried along the height."""
    cq = kernel.cadquery()
    inner = [_prism_wire(body, opening, 0.0) for opening in body.openings]
    run = cq.Vector(*scale(body.axis, body.height * MM))
    return _outward(cq.Solid.extrudeLinear(_prism_wire(body, body.outline, 0.0), inner, run))


def _drawn_in(body: Prism) -> Shape:
    """The space between outlines at the foot and those with the same legs at the head, sewn up face by face."""
    cq = kernel.cadquery()
    below = (body.outline, *body.openings)
    above = (body.top, *(body.head_openings or body.openings))
    faces = [
        _leaf(body, *pair)
        for foot, head in zip(below, above, strict=True)
        for pair in zip(legs(foot), legs(head), strict=True)
    ]
    for up, (outer, *inner) in ((0.0, below), (body.height, above)):
        if not any(_same(outer, opening) for opening in inner):
            wires = [_prism_wire(body, one, up) for one in (outer, *inner)]
            faces.append(cq.Face.makeFromWires(wires[0], wires[1:]))
    return _outward(cq.Solid.makeSolid(cq.Shell.makeShell(faces)))


def _same(one: Outline, other: Outline) -> bool:
    """Two outlines run through the same corners: a ring between them ends in a knife's edge."""
    return len(one.points) == len(other.points) and all(
        dist(a, b) < _KNIFE for a, b in zip(one.points, other.points, strict=True)
    )


def _leaf(body: Prism, foot: Leg, head: Leg) -> Shape:
    """The side of a prism between a leg and the leg above it: a plane, a cone, or a ruled face."""
    cq = kernel.cadquery()
    from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections  # noqa: PLC0415 - with the kernel

    if foot.bulge == head.bulge == 0.0 and _parallel(foot, head):
        level = ((foot, 0.0), (head, body.height))
        (a, b), (d, c) = ((body.place(*leg.start, up), body.place(*leg.end, up)) for leg, up in level)
        return cq.Face.makeFromWires(
            cq.Wire.makePolygon([cq.Vector(*scale(p, MM)) for p in (a, b, c, d)], close=True)
        )
    between = BRepOffsetAPI_ThruSections(False, True)
    between.CheckCompatibility(False)
    for leg, up in ((foot, 0.0), (head, body.height)):
        between.AddWire(_wire((leg,), _level(body, up), body.axis).wrapped)
    between.Build()
    return cq.Shape.cast(between.Shape()).Faces()[0]


def _parallel(one: Leg, other: Leg) -> bool:
    """Both legs run the same way."""
    (ax, ay), (bx, by) = ((leg.end[0] - leg.start[0], leg.end[1] - leg.start[1]) for leg in (one, other))
    return abs(ax * by - ay * bx) <= _ALIKE * one.chord * other.chord


def _outward(solid: Shape) -> Shape:
    """The solid with its faces turned outward, in whatever sense its outline ran."""
    return solid if solid.Volume() > 0.0 else kernel.cadquery().Shape.cast(solid.wrapped.Reversed())


def _prism_wire(body: Prism, outline: Outline, up: float) -> Shape:
    return _wire(legs(outline), _level(body, up), body.axis)


def _level(body: Prism, up: float) -> Place:
    """From a prism's own plane to space, at a height."""
    return lambda point: body.place(*point, up)


def _wire(path: Iterable[Leg], place: Place, normal: Vec, *, on_axis: bool = False) -> Shape:
    """The wire of legs that follow one another, stood in space.

    Args:
        path: in its own plane.
        place: from its plane to space, m.
        normal: of its plane, the side from which counter-clockwise is counter-clockwise.
        on_axis: its y axis is an axis that it is turned about.

    Raises:
        InternalError: if one of them has no length.
    """
    cq = kernel.cadquery()
    from OCP.BRepBuilderAPI import (  # noqa: PLC0415 - with the kernel
        BRepBuilderAPI_MakeEdge,
        BRepBuilderAPI_MakeVertex,
        BRepBuilderAPI_MakeWire,
    )

    maker = BRepBuilderAPI_MakeWire()
    corners: dict[Point, Any] = {}
    for leg in path:
        for point in (leg.start, leg.end):
            corners.setdefault(point, BRepBuilderAPI_MakeVertex(_point(place(point))).Vertex())
        curve = () if leg.bulge == 0.0 else (_circle(leg, place, normal, on_axis=on_axis),)
        edge = BRepBuilderAPI_MakeEdge(*curve, corners[leg.start], corners[leg.end])
        if not edge.IsDone():
            raise InternalError(f"an outline has a leg of no length at {place(leg.start)}")
        maker.Add(edge.Edge())
    return cq.Shape.cast(maker.Wire())


def _circle(leg: Leg, place: Place, normal: Vec, *, on_axis: bool) -> Any:
    """The circle of an arc, run the way the arc runs."""
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir  # noqa: PLC0415 - with the kernel

    arc = leg.arc()
    centre = (0.0, arc.centre[1]) if on_axis and abs(arc.centre[0]) < _ON_AXIS else arc.centre
    way = normal if leg.bulge > 0.0 else scale(normal, -1.0)
    return gp_Circ(gp_Ax2(_point(place(centre)), gp_Dir(*way)), arc.radius * MM)


def _point(at: Vec) -> Any:
    from OCP.gp import gp_Pnt  # noqa: PLC0415 - with the kernel

    return gp_Pnt(*scale(at, MM))
