"""Where panels meet: which of two neighbours runs past, stops, or is mitred, as half-spaces that end a panel.

The table of rules is antisymmetric: where one panel runs past, its neighbour stops; mitred is its own opposite.
An even number of lapped panels takes turns, every second one running past both its neighbours; an odd number goes
round like the sails of a windmill, each running past the next one and stopping at the one before.

A corner that hardly turns is no place for a lap (the end would be cut nearly flat), and a sharp one is none for a
mitre (no saw tilts that far). Where the joint that is asked for suits a mold's corners ill, the other one is made.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, atan2, radians
from typing import Literal

from formwork.geometry.cells import Cell, area
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, dot, scale, sub
from formwork.record import record
from formwork.shapes.piece import Face

Rule = Literal["runs past", "stops at", "mitred"]
JointRule = Literal["lapped", "mitred"]
LEAST_LAP = radians(50.0)
"""Corners that turn by less than this are mitred: a lap there is bevelled by 40 degrees and more (ours)."""
MOST_MITRE = radians(100.0)
"""Corners that turn by more than this are lapped: a mitre there tilts the blade by 50 degrees and more (ours)."""


@record
class Corner:
    """One corner as a panel sees it: the neighbour there, and the rule at it."""

    neighbour: Face
    rule: Rule


def corners(
    faces: Sequence[Face],
    planes: Planes,
    body: Cell,
    joint: JointRule,
    sides: Literal["long", "short"],
) -> dict[str, tuple[Corner, Corner]]:
    """For each panel face by name, its corner to the left and to the right, seen from outside.

    Args:
        faces: the panel faces.
        planes: the register.
        body: the envelope, to know which faces are the longer ones.
        joint: lapped or mitred, as asked for; the other one is taken where it alone suits the corners.
        sides: of an even number of lapped panels, which ones run past: on four sides the longer or the shorter pair.
    """
    ring = sorted(faces, key=lambda face: atan2(face.half.normal[1], face.half.normal[0]))
    made = suited([face.half.normal for face in ring], joint)
    large = _larger_are_even([area(body.facets[planes.enter(face.half)]) for face in ring])
    rules = ring_rules(len(ring), made, large == (sides == "long"))
    count = len(ring)
    return {
        face.name: (Corner(ring[i - 1], rules[i][0]), Corner(ring[(i + 1) % count], rules[i][1]))
        for i, face in enumerate(ring)
    }


def suited(normals: Sequence[Vec], wanted: JointRule) -> JointRule:
    """The joint that suits corners between faces of these outward unit normals, in order round the mold.

    >>> hexagon = [(1.0, 0.0, 0.0), (0.5, 0.8660254, 0.0), (-0.5, 0.8660254, 0.0),
    ...            (-1.0, 0.0, 0.0), (-0.5, -0.8660254, 0.0), (0.5, -0.8660254, 0.0)]
    >>> suited(hexagon, "lapped"), suited(hexagon[::2], "mitred")
    ('lapped', 'lapped')
    """
    turns = [
        acos(max(-1.0, min(1.0, dot(one, other))))
        for one, other in zip(normals, (*normals[1:], normals[0]), strict=True)
    ]
    if wanted == "lapped":
        return "lapped" if min(turns) >= LEAST_LAP else "mitred"
    return "mitred" if max(turns) <= MOST_MITRE else "lapped"


def ring_rules(count: int, joint: JointRule, even_past: bool) -> tuple[tuple[Rule, Rule], ...]:
    """The rule at the left and the right corner of each of ``count`` boards in order round a mold or a core.

    Args:
        count: of boards.
        joint: how they meet.
        even_past: of an even number lapped in turn, the first, third, fifth run past; else the others.
    """
    if joint == "mitred":
        return (("mitred", "mitred"),) * count
    if count % 2:
        return (("stops at", "runs past"),) * count
    past: tuple[Rule, Rule] = ("runs past", "runs past")
    stop: tuple[Rule, Rule] = ("stops at", "stops at")
    return tuple(past if (i % 2 == 0) == even_past else stop for i in range(count))


def _larger_are_even(areas: Sequence[float]) -> bool:
    """Whether the first, third, fifth of the faces round a body are together no smaller than the others."""
    return round(sum(areas[::2]), 9) >= round(sum(areas[1::2]), 9)


def end(face: HalfSpace, corner: Corner, thickness: float, lap: float) -> HalfSpace:
    """The half-space that ends a panel of one ``face`` at a corner.

    Args:
        face: the panel's own face of the envelope.
        corner: the neighbour and the rule.
        thickness: of the panels, m.
        lap: how much further than the neighbour's outer plane a panel runs that runs past, m.
    """
    other = corner.neighbour.half
    match corner.rule:
        case "runs past":
            return other.moved(thickness + lap, f"end past {corner.neighbour.name}")
        case "stops at":
            return HalfSpace(other.normal, other.offset, f"end at {corner.neighbour.name}")
        case "mitred":
            return mitre(face, other)


def mitre(mine: HalfSpace, other: HalfSpace) -> HalfSpace:
    """The side of the plane through the inner and the outer common edge of two panels on which ``mine`` lies."""
    normal = sub(other.normal, mine.normal)
    size = (normal[0] ** 2 + normal[1] ** 2 + normal[2] ** 2) ** 0.5
    return HalfSpace(scale(normal, 1.0 / size), (other.offset - mine.offset) / size, "mitre")
