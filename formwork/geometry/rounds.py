"""Round bodies: cone frustums whose axis is square to their end planes. All lengths in m."""

from __future__ import annotations

from math import pi

from formwork.geometry.vectors import Vec, add, scale
from formwork.record import record


@record
class Round:
    """A cone frustum, or a cylinder where both radii are equal.

    Attributes:
        foot: centre of the first end.
        axis: unit vector from the first end to the other.
        length: distance between the ends.
        foot_radius: radius at the first end.
        head_radius: radius at the other end.
    """

    foot: Vec
    axis: Vec
    length: float
    foot_radius: float
    head_radius: float

    def head(self) -> Vec:
        """Centre of the other end."""
        return add(self.foot, scale(self.axis, self.length))

    def volume(self) -> float:
        """Volume, m3.

        Source: frustum of a cone, CRC mensuration formulas.

        >>> round(Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 3.0, 2.0, 1.0).volume(), 6)
        21.991149
        """
        a, b = self.foot_radius, self.head_radius
        return pi * self.length * (a * a + a * b + b * b) / 3.0

    def in_plan(self) -> float:
        """An area that no level section of it exceeds, m2: its larger end, of one that leans the box round it."""
        widest = max(self.foot_radius, self.head_radius)
        if abs(self.axis[2]) > 1.0 - 1e-9:
            return pi * widest * widest
        return 2.0 * widest * (self.length + 2.0 * widest)

    def shifted(self, by: Vec) -> Round:
        """The body carried along by a translation."""
        return Round(add(self.foot, by), self.axis, self.length, self.foot_radius, self.head_radius)

    def grown(self, factor: float) -> Round:
        """The body after a scaling of space about the origin."""
        return Round(
            scale(self.foot, factor),
            self.axis,
            self.length * factor,
            self.foot_radius * factor,
            self.head_radius * factor,
        )
