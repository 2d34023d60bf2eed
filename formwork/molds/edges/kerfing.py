"""Thick strips that bend because they are sawn part through across their hollow side: kerfs that close at the radius.

A kerf of width k and depth d closes when the strip has turned by 2 atan(k / 2 d) at it. So an arc takes as many kerfs
as its angle holds of the turn of the deepest kerf that leaves a web, and each is sawn just so deep that all of them
close: d = k / (2 tan(turn / 2)). Between kerfs the strip stays flat: the piece gets facets that touch the arc at their
middles, with a line between each two. Where the hollow side is the one towards the mix the kerfs print as lines; on an
inner arc they are on the back.

Source: plane geometry; the least web and the least flat are common practice without a source. Lengths in m, angles rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan, cos, pi, sin, tan

from formwork.errors import GeometryError
from formwork.geometry.crossings import same_carrier
from formwork.geometry.outlines import Leg, Point
from formwork.record import record
from formwork.stock.records import SheetStock
from formwork.units import show

WEB = 0.003
"""Least wood left under a kerf, m (common practice, no source)."""
THINNEST = 0.009
"""A thinner sheet is not kerfed, m (common practice, no source)."""
FLAT = 2.0
"""Least flat between two kerfs, in kerfs (common practice, no source)."""
_WOOD = ("plywood", "overlaid plywood", "birch plywood", "MDF", "melamine board")


@record
class Kerfs:
    """The kerfs of one arc of a strip.

    Attributes:
        radius: of the arc, on the face towards the mix.
        sweep: angle of the arc, above 0 where it bows away from the piece's middle.
        thickness: of the strip.
        width: of a kerf.
        count: of kerfs.
    """

    radius: float
    sweep: float
    thickness: float
    width: float
    count: int

    @property
    def towards_mix(self) -> bool:
        """The hollow side, which is sawn, is the one towards the mix."""
        return self.sweep > 0.0

    @property
    def turn(self) -> float:
        """Angle at each kerf."""
        return abs(self.sweep) / self.count

    @property
    def depth(self) -> float:
        """So deep that the kerf closes as the strip has turned."""
        return self.width / (2.0 * tan(self.turn / 2.0))

    @property
    def web(self) -> float:
        """Wood left under a kerf."""
        return self.thickness - self.depth

    @property
    def facet(self) -> float:
        """Length of the flats on the face towards the mix; those at the ends are half as long."""
        return 2.0 * self.radius * tan(self.turn / 2.0)

    @property
    def pitch(self) -> float:
        """From kerf to kerf on the flat strip, middle to middle, along the face that is sawn."""
        if self.towards_mix:
            return self.facet + self.width
        return self.facet

    @property
    def off(self) -> float:
        """How far the corners between facets stand off the arc."""
        return self.radius / cos(self.turn / 2.0) - self.radius

    @property
    def flat_length(self) -> float:
        """Length of the flat strip along the arc."""
        return self.count * self.pitch


def may_be_kerfed(sheet: SheetStock) -> bool:
    """Whether a sheet is thick enough and of a kind that is kerfed."""
    return sheet.thickness >= THINNEST and sheet.material in _WOOD


def kerfs(arc: Leg, thickness: float, width: float) -> Kerfs:
    """The kerfs that bend a strip round an arc.

    Args:
        arc: on the face towards the mix.
        thickness: of the strip, m.
        width: of the saw's kerf, m.

    Raises:
        GeometryError: where the flats between kerfs would be too narrow to hold.
    """
    least = 2.0 * atan(width / (2.0 * (thickness - WEB)))
    found = Kerfs(arc.arc().radius, arc.sweep, thickness, width, max(1, int(abs(arc.sweep) / least + 1e-9)))
    hollow = found.radius - (0.0 if found.towards_mix else thickness)
    flat = 2.0 * hollow * tan(found.turn / 2.0)
    if flat < FLAT * width:
        raise GeometryError(
            f"an arc of radius {show.both(found.radius)} leaves flats of {show.both(max(0.0, flat))} between kerfs of "
            f"{show.both(width)}"
        )
    return found


def merged(some: Sequence[Leg], like: Sequence[Leg] | None = None) -> tuple[Leg, ...]:
    """Legs that run on along one circle as one arc each, of no more than a half turn.

    Args:
        some: legs in order.
        like: legs of which those that belong together tell which of the others do; the legs themselves if left out.
    """
    found: list[Leg] = []
    for group in _together(some if like is None else like):
        first, last = some[group[0]], some[group[-1]]
        sweep = sum(some[i].sweep for i in group)
        found.append(first if len(group) == 1 else Leg(first.start, last.end, tan(sweep / 4.0)))
    return tuple(found)


def _together(some: Sequence[Leg]) -> list[list[int]]:
    """Numbers of the legs that run on along one circle."""
    groups: list[list[int]] = []
    for i, leg in enumerate(some):
        before = groups[-1] if groups else []
        turned = sum(some[k].sweep for k in before) + leg.sweep
        alike = bool(before and leg.bulge and some[before[-1]].bulge) and same_carrier(some[before[-1]], leg)
        if alike and abs(turned) < pi + 1e-6:
            before.append(i)
        else:
            groups.append([i])
    return groups


def facets(arc: Leg, count: int) -> tuple[Leg, ...]:
    """The flats of an arc with so many kerfs: they leave and arrive the way the arc does, a corner at each kerf."""
    circle = arc.arc()
    turn = circle.sweep / count
    away = circle.radius / cos(turn / 2.0)
    corners: list[Point] = [arc.start]
    for k in range(count):
        angle = circle.start + turn * (k + 0.5)
        corners.append((circle.centre[0] + away * cos(angle), circle.centre[1] + away * sin(angle)))
    corners.append(arc.end)
    return tuple(Leg(a, b, 0.0) for a, b in pairwise(corners))


def in_words(some: Sequence[Kerfs]) -> str:
    """How a strip is kerfed, for the bench."""
    side = "the face towards the mix" if some[0].towards_mix else "its back"
    lines = [
        f"{one.count} kerfs {show.both(one.depth)} deep, {show.both(one.pitch)} from middle to middle, the first and "
        f"the last {show.both(one.pitch / 2.0)} from the ends of their arc"
        for one in some
    ]
    return f"kerf it across {side}: {'; then '.join(lines)}; bend it until every kerf closes, glue in them"
