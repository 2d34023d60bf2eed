"""Hatches of cut faces: dots for concrete, slanted lines for sheet, closer ones for sticks. Sizes in mm on paper."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from formwork.drawings.scene import Pattern


@dataclass(frozen=True, slots=True)
class Family:
    """Parallel lines of a hatch, or rows of dots.

    Attributes:
        angle: direction of the lines, rad.
        pitch: between lines, mm.
        run: between dots of a row, each row set off by half of it; 0 for unbroken lines.
    """

    angle: float
    pitch: float
    run: float = 0.0


FAMILIES: dict[Pattern, Family] = {
    "stipple": Family(pi / 12.0, 1.2, 2.4),
    "rising": Family(pi / 4.0, 2.0),
    "falling": Family(3.0 * pi / 4.0, 2.0),
    "close rising": Family(pi / 4.0, 1.1),
    "close falling": Family(3.0 * pi / 4.0, 1.1),
}
DOT = 0.18
"""Radius of a dot, mm."""
LINE = 0.13
"""Width of a hatch line, mm."""
