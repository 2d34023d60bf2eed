"""Where panels meet: which of two neighbours runs past, stops, or is mitred, as half-spaces that end a panel.

The table of rules is antisymmetric: where one panel runs past, its neighbour stops; mitred is its own opposite.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2
from typing import Literal

from formwork.errors import GeometryError
from formwork.geometry.cells import Cell, area
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import scale, sub
from formwork.shapes.piece import Face

Rule = Literal["runs past", "stops at", "mitred"]


@dataclass(frozen=True, slots=True)
class Corner:
    """One corner as a panel sees it: the neighbour there, and the rule at it."""

    neighbour: Face
    rule: Rule


def corners(
    faces: Sequence[Face],
    planes: Planes,
    body: Cell,
    joint: Literal["lapped", "mitred"],
    sides: Literal["long", "short"],
) -> dict[str, tuple[Corner, Corner]]:
    """For each panel face by name, its corner to the left and to the right, seen from outside.

    Lapped panels take turns round the mold: on four sides the longer (or shorter) pair runs past the other; on any
    other even number every second one does. An odd number of sides can only be mitred.

    Args:
        faces: the panel faces.
        planes: the register.
        body: the envelope, to know which faces are the longer ones.
        joint: lapped or mitred.
        sides: which pair runs past.

    Raises:
        GeometryError: for lapped panels on an odd number of sides.
    """
    ring = sorted(faces, key=lambda face: atan2(face.half.normal[1], face.half.normal[0]))
    if joint == "lapped" and len(ring) % 2:
        raise GeometryError(f'{len(ring)} sides cannot be lapped in turn; set joint = "mitred"')
    past = _running_past(ring, planes, body, sides) if joint == "lapped" else ()

    def rule(face: Face) -> Rule:
        if joint == "mitred":
            return "mitred"
        return "runs past" if face.name in past else "stops at"

    count = len(ring)
    return {
        face.name: (Corner(ring[i - 1], rule(face)), Corner(ring[(i + 1) % count], rule(face)))
        for i, face in enumerate(ring)
    }


def _running_past(
    ring: Sequence[Face], planes: Planes, body: Cell, sides: Literal["long", "short"]
) -> tuple[str, ...]:
    """Names of the faces whose panels run past their neighbours."""
    odd, even = ring[1::2], ring[::2]

    def extent(some: Sequence[Face]) -> float:
        return round(sum(area(body.facets[planes.enter(face.half)]) for face in some), 9)

    even_first = extent(even) >= extent(odd) if sides == "long" else extent(even) < extent(odd)
    return tuple(face.name for face in (even if even_first else odd))


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
