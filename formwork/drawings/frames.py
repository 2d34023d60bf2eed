"""The ways a body is looked at: which direction of space goes right on paper, which goes up, which comes at the eye."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from formwork.geometry.vectors import Vec, cross, dot

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Frame:
    """One direction of view.

    Attributes:
        right: unit vector that points right on paper.
        up: unit vector that points up on paper.
    """

    right: Vec
    up: Vec

    @property
    def toward(self) -> Vec:
        """Unit vector from the body to the eye."""
        return cross(self.right, self.up)

    def flat(self, point: Vec) -> Point:
        """Where a point of space falls on paper, m."""
        return (dot(point, self.right), dot(point, self.up))

    def depth(self, point: Vec) -> float:
        """How near the eye a point lies, m; more is nearer."""
        return dot(point, self.toward)

    def turned(self) -> Frame:
        """The same view of a piece that is turned over about its length.

        >>> TOP.turned().toward
        (0.0, 0.0, -1.0)
        """
        return Frame(_turned(self.right), _turned(self.up))


def _turned(v: Vec) -> Vec:
    return (v[0], 0.0 - v[1], 0.0 - v[2])


TOP = Frame((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
FRONT = Frame((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
RIGHT = Frame((0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
LEFT = Frame((0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
ISOMETRIC = Frame(
    (1.0 / sqrt(2.0), 1.0 / sqrt(2.0), 0.0), (-1.0 / sqrt(6.0), 1.0 / sqrt(6.0), 2.0 / sqrt(6.0))
)
"""From right, front and above; what stands upright stays upright on paper."""
