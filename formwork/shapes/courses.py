"""A dome divided into courses of flat-faced wedge blocks: beds, joints, block planes, and which rings share a mold.

A straight arm, the trammel, draws the profile. On a sphere it turns about the centre, which is the apex of every block
before the joint is taken off. On a pointed dome its pivot stands beyond the axis, on the far side from the block, so
that the arm is longer than the equator's radius. Polar angles are the arm's angles from plumb: 90 degrees at the
equator. All lengths in m, angles in rad.

Numeric proof, no print: a block's planes, its volume and its corner angles are held in the tests against corner points
on the surfaces that the arm draws.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import asin, atan, atan2, ceil, cos, hypot, pi, sin, sqrt, tan
from typing import Literal

from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, add, dot, scale, sub
from formwork.record import record

FEWEST_BLOCKS = 8
"""A ring of fewer blocks is no ring but a plug: its blocks are too far from the sphere. Our own choice."""
_LEAST_TAPER = 0.5
"""A block narrower above than this share of its lower edge breaks at the point. Our own choice."""
_ROUNDING = 1e-9

Flaw = Literal["few", "pointed", "flat"]
"""Too few blocks to follow the dome; upper edges too short; blocks so long for their height that the lower bed, which
follows the ring, leans in over the inner face, which does not."""


@record
class Shell:
    """The surfaces that the blocks' corners lie on.

    Attributes:
        inside: length of the arm to the inner corners, m.
        outside: length of the arm to the outer corners, m.
        beyond: how far beyond the axis the arm's pivot stands, m; 0 on a sphere.
    """

    inside: float
    outside: float
    beyond: float = 0.0

    @property
    def crown(self) -> float:
        """Polar angle at which the inside meets the axis, rad."""
        return self.at(0.0)

    def radius(self, polar: float) -> float:
        """Distance of the inside from the axis, m."""
        return self.inside * sin(polar) - self.beyond

    def at(self, radius: float) -> float:
        """Polar angle at which the inside is ``radius`` (m) from the axis, rad."""
        return asin((radius + self.beyond) / self.inside)

    def level(self, polar: float) -> float:
        """Height of the inside above the equator, m."""
        return self.inside * cos(polar)


@record
class Course:
    """One ring of blocks.

    Attributes:
        number: counted from the springing, the lowest 1.
        lower: polar angle of its lower bed joint, rad.
        upper: polar angle of its upper bed joint, rad.
        blocks: how many make the ring.
    """

    number: int
    lower: float
    upper: float
    blocks: int

    @property
    def half(self) -> float:
        """Half the angle a block takes in plan, rad."""
        return pi / self.blocks

    @property
    def slope(self) -> float:
        """Slope of the lower bed joint from level, falling inward, rad: also the trammel's angle there."""
        return pi / 2.0 - self.lower


@record
class Wedge:
    """One block, lying on its inner face: x along the course, y up the slope, z outward.

    Attributes:
        lower, right, upper, left: its joint faces, half a joint inside the middles of the joints.
        thickness: between inner and outer face, m.
    """

    lower: HalfSpace
    right: HalfSpace
    upper: HalfSpace
    left: HalfSpace
    thickness: float

    @property
    def sides(self) -> tuple[HalfSpace, ...]:
        """The joint faces, counter-clockwise seen from outside the dome."""
        return self.lower, self.right, self.upper, self.left

    def corner(self, bed: HalfSpace, side: HalfSpace, height: float) -> Vec:
        """Where a bed and a side meet, ``height`` (m) above the inner face."""
        (a, b, c), (d, e, f) = bed.normal, side.normal
        p, q = bed.offset - c * height, side.offset - f * height
        size = a * e - b * d
        return ((p * e - q * b) / size, (a * q - d * p) / size, height)

    def width(self, bed: HalfSpace, height: float) -> float:
        """Length of a bed's edge, m."""
        return self.corner(bed, self.right, height)[0] - self.corner(bed, self.left, height)[0]

    def reach(self, bed: HalfSpace, height: float) -> float:
        """Where a bed stands along y, m."""
        return self.corner(bed, self.right, height)[1]

    def height(self, height: float) -> float:
        """Distance between the beds along the slope, m, ``height`` (m) above the inner face."""
        return self.reach(self.upper, height) - self.reach(self.lower, height)


@record
class Group:
    """Rings whose blocks come out of one mold.

    Attributes:
        cast: the course whose block is cast.
        rings: every course laid from it, the lowest first.
    """

    cast: Course
    rings: tuple[Course, ...]

    @property
    def blocks(self) -> int:
        """Blocks in all the rings."""
        return sum(ring.blocks for ring in self.rings)


def divide(springing: float, closing: float, step: float) -> tuple[float, ...]:
    """Polar angles of the bed joints, the springing first: equal steps as near to the wanted one as fit, rad.

    Args:
        springing: where the courses start.
        closing: where they end: 0 at the crown.
        step: wanted angle of a course with its joint.

    >>> [round(bed, 3) for bed in divide(1.5, 0.3, 0.5)]
    [1.5, 0.9, 0.3]
    """
    count = max(1, round((springing - closing) / step))
    return tuple(springing + (closing - springing) * i / count for i in range(count + 1))


def blocks_round(shell: Shell, lower: float, module: float) -> int:
    """Blocks in a ring: the fewest that are no longer, joint included, than ``module`` along its lower edge.

    Args:
        shell: the surfaces.
        lower: polar angle of the lower bed, rad.
        module: length of a block with its joint, m.
    """
    return ceil(2.0 * pi * shell.radius(lower) / module - _ROUNDING)


def rings(beds: Sequence[float], shell: Shell, module: float) -> tuple[Course, ...]:
    """A ring between each two beds, the lowest first, whether or not it can be built.

    Args:
        beds: polar angles of the bed joints, the springing first, rad.
        shell: the surfaces.
        module: length of a block with its joint, m.
    """
    return tuple(
        Course(number, lower, upper, blocks_round(shell, lower, module))
        for number, (lower, upper) in enumerate(pairwise(beds), start=1)
    )


def flaw(ring: Course, shell: Shell) -> Flaw | None:
    """What makes a ring one that cannot be built of sound blocks; None where it can.

    Args:
        ring: the ring.
        shell: the surfaces.
    """
    if ring.blocks < FEWEST_BLOCKS:
        return "few"
    if shell.radius(ring.upper) < _LEAST_TAPER * shell.radius(ring.lower):
        return "pointed"
    return None if wedge(ring, shell, 0.0).lower.normal[2] < -_ROUNDING else "flat"


def wedge(course: Course, shell: Shell, joint: float) -> Wedge:
    """The block of a course: corners on the two surfaces, half a joint taken off each joint face.

    Args:
        course: the ring.
        shell: the surfaces its corners lie on.
        joint: thickness of the joints, m.
    """
    low, high = (_middle(shell, polar, course.half) for polar in (course.lower, course.upper))
    run = hypot(high[0] - low[0], high[2] - low[2])
    up: Vec = ((high[0] - low[0]) / run, 0.0, (high[2] - low[2]) / run)
    out: Vec = (up[2], 0.0, -up[0])
    a, origin = course.half, scale(add(low, high), 0.5)
    apex: Vec = (-shell.beyond * cos(a), 0.0, 0.0)

    def face(name: str, normal: Vec, through: Vec = (0.0, 0.0, 0.0)) -> HalfSpace:
        turned = (normal[1], dot(normal, up), dot(normal, out))
        return HalfSpace(turned, dot(normal, sub(through, origin)) - joint / 2.0, name)

    return Wedge(
        face("lower bed", _square_to(sub(low, apex), down=True), apex),
        face("right", (-sin(a), cos(a), 0.0)),
        face("upper bed", _square_to(sub(high, apex), down=False), apex),
        face("left", (-sin(a), -cos(a), 0.0)),
        dot(out, sub(origin, apex)) * (shell.outside / shell.inside - 1.0),
    )


def _middle(shell: Shell, polar: float, half: float) -> Vec:
    """The middle of the straight edge between two inner corners, at azimuth 0."""
    return (shell.radius(polar) * cos(half), 0.0, shell.level(polar))


def _square_to(bed: Vec, down: bool) -> Vec:
    """Normal of the plane along ``bed`` and a level tangent; looking down the slope or up it."""
    size = hypot(bed[0], bed[2])
    x, z = bed[0] / size, bed[2] / size
    return (z, 0.0, -x) if down else (-z, 0.0, x)


def flat_slope(polar: float, half: float) -> float:
    """Slope of a block's own flat bed along its middle, rad: a little more than that of the ring's bed joint.

    >>> from math import degrees, radians
    >>> round(degrees(flat_slope(radians(60.0), radians(9.0))), 3)
    30.308
    """
    return atan2(cos(polar), sin(polar) * cos(half))


def bow(shell: Shell, polar: float, half: float) -> float:
    """How far the middle of a block's straight edge lies inside the curve that its ends touch, m."""
    return shell.inside - hypot(shell.radius(polar) * cos(half) + shell.beyond, shell.level(polar))


def bed_joint(below: Course, ring: Course, shell: Shell, joint: float) -> tuple[float, float]:
    """Least and most thickness of the bed joint between two rings of flat blocks, m.

    Flat beds meet the ring's bed joint at their corners only. Where a corner stands over the middle of a block below
    the joint is thinnest, where a middle stands over a corner thickest, both at the outer face. Below 0 the blocks
    clash there and the ring must be laid that much higher. The corners' own side joints, left out here, give a
    little more room.

    Args:
        below: the ring it is laid on.
        ring: the ring.
        shell: the surfaces.
        joint: thickness where corner meets corner, m.
    """
    swing = (shell.outside * sin(ring.lower) - shell.beyond) * cos(ring.lower)
    return joint - swing * (1.0 - cos(below.half)), joint + swing * (1.0 - cos(ring.half))


def plug_tilt(last: Course) -> float:
    """Lean of the faces of a plug that fills what the last ring leaves open, from upright, rad."""
    return atan(tan(last.upper) * cos(last.half))


def plug_volume(last: Course, shell: Shell, play: float) -> float:
    """Volume of a flat-faced plug between level planes through the last ring's upper corners, m3.

    Args:
        last: the ring it closes.
        shell: the surfaces.
        play: how far its sides stand inside the middle of the joint, m; negative where the mix fills half the ring's
            own joint.
    """
    inner, outer = (last.blocks * tan(last.half) * out * out for out in plug_reach(last, shell, play))
    thick = (shell.outside - shell.inside) * cos(last.upper)
    return thick / 3.0 * (inner + outer + sqrt(inner * outer))


def plug_reach(last: Course, shell: Shell, play: float) -> tuple[float, float]:
    """How far the sides of a plug stand from the axis at its inner and its outer face, m; see ``plug_volume``."""
    back = play / cos(plug_tilt(last))
    inner, outer = (
        (arm * sin(last.upper) - shell.beyond) * cos(last.half) for arm in (shell.inside, shell.outside)
    )
    return inner - back, outer - back


def grouped(courses: Sequence[Course], shell: Shell, joint: float, tolerance: float) -> tuple[Group, ...]:
    """Rings that share a mold: the block that serves most rings first, until every ring has one.

    A block serves a ring where, against the ring's own block, each of its side joints opens by no more than the
    tolerance and none closes, and no bed joint changes by more than the tolerance or half the joint. Each ring keeps
    its own number of blocks.

    Args:
        courses: the rings.
        shell: the surfaces.
        joint: thickness of the joints, m.
        tolerance: how much wider than that a joint may come out, m.
    """
    bed = min(tolerance, joint / 2.0)
    sizes = [_sizes(wedge(course, shell, joint)) for course in courses]
    served = [
        frozenset(i for i, ring in enumerate(sizes) if _serves(cast, ring, tolerance, bed)) for cast in sizes
    ]
    left, found = set(range(len(courses))), []
    while left:
        best = max(sorted(left), key=lambda i: len(served[i] & left))
        taken = served[best] & left
        found.append(Group(courses[best], tuple(courses[i] for i in sorted(taken))))
        left -= taken
    return tuple(sorted(found, key=lambda group: group.rings[0].number))


_Sizes = tuple[tuple[float, ...], tuple[float, ...]]


def _sizes(block: Wedge) -> _Sizes:
    return _widths(block), _stance(block)


def _serves(cast: _Sizes, ring: _Sizes, side: float, bed: float) -> bool:
    gaps = [own - laid for own, laid in zip(ring[0], cast[0], strict=True)]
    changes = [abs(own - laid) for own, laid in zip(ring[1], cast[1], strict=True)]
    return min(gaps) >= -_ROUNDING and max(gaps) <= side + _ROUNDING and max(changes) <= bed + _ROUNDING


def openings(cast: Wedge, ring: Wedge) -> tuple[float, float]:
    """How much the side joints of a ring open where another ring's block is laid in it: least and most, m."""
    gaps = [own - laid for own, laid in zip(_widths(ring), _widths(cast), strict=True)]
    return min(gaps), max(gaps)


def _widths(block: Wedge) -> tuple[float, ...]:
    return tuple(
        block.width(bed, height) for bed in (block.lower, block.upper) for height in (0.0, block.thickness)
    )


def _stance(block: Wedge) -> tuple[float, ...]:
    """Height of the inner face, and how far each bed stands out over it at the outer face."""
    top = block.thickness
    return (
        block.height(0.0),
        *(block.reach(bed, top) - block.reach(bed, 0.0) for bed in (block.lower, block.upper)),
    )
