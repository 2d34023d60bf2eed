"""Layers of sheet that are laid up into a wall round a turned body, or into a core: where each lies, how it is cut.

A layer's edge is cut square, at the radius that leaves the layer's own volume as the profile has it; or bevelled, on
the straight line from where the profile enters the layer to where it leaves it, so that no step stands between two
layers. Where that line leans more than a saw tilts, the saw is tilted as far as it goes, and the layer again keeps its
volume. Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, ceil, copysign, sqrt
from typing import Literal

from formwork.geometry import sides
from formwork.geometry.outlines import Point
from formwork.geometry.sides import Side
from formwork.record import record

Edge = Literal["square", "bevelled"]
"""Saws tilt to 45 degrees (common practice, no source): by as much as the layer is thick."""
_UPRIGHT = 3e-4
_POINT = 2e-3
"""A layer in which the profile comes to a point is cut square: no hole narrower than this is sawn at a tilt, m."""
_WHOLE = 1e-5


@record
class Layer:
    """One layer of sheet.

    Attributes:
        low: height of its lower face.
        high: height of its upper face.
        foot: radius of its edge at the lower face.
        head: radius of its edge at the upper face.
    """

    low: float
    high: float
    foot: float
    head: float

    @property
    def thickness(self) -> float:
        """As it lies in the mold: the last one of a stack is planed."""
        return self.high - self.low

    @property
    def lean(self) -> float:
        """Angle of its edge from square, above 0 where it widens upward."""
        return atan2(self.head - self.foot, self.thickness)

    @property
    def least(self) -> float:
        """Least radius of its edge."""
        return min(self.foot, self.head)

    @property
    def greatest(self) -> float:
        """Greatest radius of its edge."""
        return max(self.foot, self.head)


def bands(low: float, high: float, thickness: float, *, downward: bool = False) -> tuple[Point, ...]:
    """Lower and upper face of each layer between two heights, the lowest first.

    Args:
        low: where the stack begins.
        high: where it ends.
        thickness: of the sheet; what is left over is taken by the last layer laid.
        downward: the stack is laid from above, so that the lowest layer is the last.
    """
    count = ceil((high - low) / thickness - _WHOLE)
    if downward:
        marks = [low, *(high - k * thickness for k in range(count - 1, -1, -1))]
    else:
        marks = [*(low + k * thickness for k in range(count)), high]
    return tuple(pairwise(marks))


def laid_up(side: Side, over: Sequence[Point], edge: Edge) -> tuple[Layer, ...]:
    """The layers that follow a side.

    Args:
        side: that they follow.
        over: lower and upper face of each.
        edge: how they are cut, where the profile lets them.
    """
    return tuple(_layer(side, low, high, edge) for low, high in over)


def _layer(side: Side, low: float, high: float, edge: Edge) -> Layer:
    foot, head, thick = side.above(low), side.below(high), high - low
    if min(foot, head) < _POINT:
        edge = "square"
    if edge == "bevelled" and _UPRIGHT < abs(head - foot) <= thick:
        return Layer(low, high, foot, head)
    square = mean_square(side, low, high)
    if edge == "bevelled" and abs(head - foot) > thick and square > thick * thick / 3.0:
        middle, half = sqrt(square - thick * thick / 12.0), copysign(thick / 2.0, head - foot)
        if min(foot, head) <= middle - abs(half) and middle + abs(half) <= max(foot, head):
            return Layer(low, high, middle - half, middle + half)
    return Layer(low, high, sqrt(square), sqrt(square))


def mean_square(side: Side, low: float, high: float) -> float:
    """Mean of the radius squared between two heights, m2: of a straight leg (a2 + a b + b2) / 3."""
    total = 0.0
    for (r0, z0), (r1, z1) in pairwise(side.fine(1e-7)):
        start, end = max(z0, low), min(z1, high)
        if end > start:
            a, b = (r0 + (r1 - r0) * (z - z0) / (z1 - z0) for z in (start, end))
            total += (end - start) * (a * a + a * b + b * b) / 3.0
    return total / (high - low)


def formed(stack: Sequence[Layer]) -> Side:
    """The side that a stack of layers really has."""
    points: list[Point] = []
    for layer in stack:
        for place in ((layer.foot, layer.low), (layer.head, layer.high)):
            if not points or abs(points[-1][0] - place[0]) > 1e-12 or abs(points[-1][1] - place[1]) > 1e-12:
                points.append(place)
    return Side(tuple(points), (0.0,) * (len(points) - 1))


def miss(side: Side, stack: Sequence[Layer]) -> tuple[float, Point]:
    """How far the side that a stack has lies from the one it follows, where it is worst, m, and that place."""
    return max(sides.apart(formed(stack), side), sides.apart(side, formed(stack)))


def heights_that_suit(height: float, thickness: float) -> tuple[float, float]:
    """The nearest heights, at most and at least this one, that whole layers give."""
    whole = max(1, int(height / thickness + _WHOLE))
    return whole * thickness, (whole + 1) * thickness


def planed(layer: Layer, thickness: float) -> bool:
    """Whether a layer is thinner than the sheet it is cut from."""
    return layer.thickness < thickness - _WHOLE
