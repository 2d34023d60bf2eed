"""Solids of frames: every pipe hollow, as it really is; the flattened ends of straight ones are left out."""

from __future__ import annotations

from math import degrees, pi

from formwork.geometry.vectors import Vec, add, cross, dot, length, scale, sub, unit
from formwork.molds.structure import BuiltFrame
from formwork.shapes.piece import Bent, Member
from formwork.solids import kernel
from formwork.solids.build import ROLE_COLOURS, Body, Model
from formwork.solids.kernel import MM, Shape


def frame_model(built: BuiltFrame) -> Model:
    """One frame, every pipe in its place: straight ones from flat to flat, bent ones whole."""
    frame, outside, wall = built.frame, built.pipe.width, built.pipe.wall
    colour = ROLE_COLOURS["strut"]
    bodies: list[Body] = []
    for member in frame.members:
        for number, (a, b) in enumerate(member.joins, start=1):
            solid = _straight(member, frame.nodes[a], frame.nodes[b], outside, wall)
            bodies.append(Body(f"strut {member.name} {number}", solid, colour))
    for arc in frame.bent:
        for number, line in enumerate(arc.lines, start=1):
            solid = _bent(arc, line, outside, wall)
            bodies.append(Body(f"{arc.kind} {arc.name} {number}", solid, colour))
    return Model(built.name, tuple(bodies))


def _straight(member: Member, start: Vec, end: Vec, outside: float, wall: float) -> Shape:
    """A strut's round part."""
    way = unit(sub(end, start))
    off = member.flat - member.beyond
    cq = kernel.cadquery()
    rings = _rings(add(start, scale(way, off)), way, outside, wall)
    run = scale(way, (member.length - 2.0 * off) * MM)
    return cq.Solid.extrudeLinear(*rings, cq.Vector(*run))


def _bent(arc: Bent, line: tuple[Vec, ...], outside: float, wall: float) -> Shape:
    """A rib or hoop, as the ring turned about the axis of its bend."""
    middle = _centre(line[0], line[len(line) // 3], line[2 * len(line) // 3])
    axis = unit(cross(sub(line[0], middle), sub(line[len(line) // 3], middle)))
    tangent = unit(cross(axis, sub(line[0], middle)))
    cq = kernel.cadquery()
    rings = _rings(line[0], tangent, outside, wall)
    start, end = (cq.Vector(*scale(point, MM)) for point in (middle, add(middle, axis)))
    angle = 360.0 if arc.sweep > 2.0 * pi - 1e-9 else degrees(arc.sweep)
    return cq.Solid.revolve(*rings, angle, start, end)


def _rings(at: Vec, way: Vec, outside: float, wall: float) -> tuple[Shape, list[Shape]]:
    """The outer circle of a pipe's end and its inner one."""
    cq = kernel.cadquery()
    place, normal = cq.Vector(*scale(at, MM)), cq.Vector(*way)
    outer, inner = (
        cq.Wire.assembleEdges([cq.Edge.makeCircle(radius * MM, place, normal)])
        for radius in (outside / 2.0, outside / 2.0 - wall)
    )
    return outer, [inner]


def _centre(a: Vec, b: Vec, c: Vec) -> Vec:
    """The centre of the circle through three points."""
    ab, ac = sub(b, a), sub(c, a)
    normal = cross(ab, ac)
    out = add(scale(cross(normal, ab), dot(ac, ac)), scale(cross(ac, normal), dot(ab, ab)))
    return add(a, scale(out, 0.5 / length(normal) ** 2))
