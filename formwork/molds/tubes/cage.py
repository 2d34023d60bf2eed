"""The cage round a tube: what keeps it where it stands, down on its plate, and plumb.

A frame of four sticks on the plate holds the tube's foot in its place. Two uprights left and right of it carry a bar
over the brim, which keeps tube and core down. A tall tube has a second frame higher up, the collar, a third upright
in front, and two braces square to one another, each beside an upright, down to blocks on the ground.

Frame of reference: right is +x, front is -y; a is the tube's outside radius, t and w the sides of the stick. In m.
"""

from __future__ import annotations

from math import cos, pi, sin, tan

from formwork.errors import GeometryError
from formwork.geometry.cells import Cell, cell
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec
from formwork.molds.blank import blank
from formwork.molds.mold import Part, PartRole
from formwork.molds.tubes.lining import BASE, CAGE, block
from formwork.record import record
from formwork.stock.records import StickStock
from formwork.strength.props import SLENDEREST

SHARE = 0.7
"""Height of the braces' heads over that of the tube (common practice, no source)."""
LEAST_SHARE = 0.4
"""The least of it (ours)."""
SLOPE = pi / 4.0
"""Slope of the braces from the level, rad (common practice, no source)."""
LOW = 0.6
"""Up to this height a tube stands without braces, if it is no more than three diameters high (ours), m."""
SLIM = 3.0
MARGIN = 0.02
"""How far the plate stands out round the cage, m (ours)."""
_BLOCK = 0.3
_LEAST_BLOCK_PLACE = 0.05
X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
Z: Vec = (0.0, 0.0, 1.0)


@record
class Cage:
    """Where the sticks of a cage stand.

    Attributes:
        outer: radius of the tube's outside, m.
        height: of its brim, m.
        ground: how far the ground lies under the plate's face, m.
        stick: that it is made of.
        braced: it has collar and braces.
    """

    outer: float
    height: float
    ground: float
    stick: StickStock
    braced: bool

    @property
    def reach(self) -> float:
        """From the axis to the outside of the uprights, m."""
        return self.outer + 2.0 * self.stick.thickness

    @property
    def plate(self) -> float:
        """Half the side of the plate, m."""
        return self.reach + MARGIN

    @property
    def span(self) -> float:
        """Of the bar, between the middles of the uprights, m."""
        return 2.0 * self.outer + 3.0 * self.stick.thickness

    @property
    def head(self) -> float:
        """Height of the braces' heads, the middle of the collar, m: lower where the stick is too slender for more."""
        longest = SLENDEREST * self.stick.thickness * sin(SLOPE) - self.ground
        return max(LEAST_SHARE * self.height, min(SHARE * self.height, longest))

    @property
    def brace(self) -> float:
        """Length of a brace between its head and the ground, m."""
        return (self.head + self.ground) / sin(SLOPE)

    @property
    def foot(self) -> float:
        """From the axis to where a brace meets the ground, m."""
        return self.outer + 1.5 * self.stick.thickness + (self.head + self.ground) / tan(SLOPE)


def wants_braces(outer: float, height: float) -> bool:
    """A tube this high over this radius is held plumb by braces."""
    return height > LOW or height > SLIM * 2.0 * outer


def cage_parts(planes: Planes, cage: Cage) -> tuple[Part, ...]:
    """Every stick of a cage.

    Raises:
        GeometryError: where a brace has no room.
    """
    parts = [*_frame(planes, cage, 0.0, "foot frame", "cleat", BASE), *_uprights(planes, cage)]
    parts.append(_bar(planes, cage))
    if cage.braced:
        parts += _frame(planes, cage, cage.head - cage.stick.width / 2.0, "collar", "rail", CAGE)
        parts += [_brace(planes, cage, "right"), _brace(planes, cage, "front")]
        parts += [_foot_block(planes, cage, "right"), _foot_block(planes, cage, "front")]
    return tuple(parts)


def _frame(planes: Planes, cage: Cage, low: float, name: str, role: PartRole, group: str) -> list[Part]:
    """Four sticks on edge round the tube: left and right run past, front and back stand between them."""
    a, t, high = cage.outer, cage.stick.thickness, low + cage.stick.width
    long, short = a + t, a
    boxes: list[tuple[str, Vec, Vec, Vec]] = [
        ("right", (a, -long, low), (long, long, high), Y),
        ("left", (-long, -long, low), (-a, long, high), Y),
        ("front", (-short, -long, low), (short, -a, high), X),
        ("back", (-short, a, low), (short, long, high), X),
    ]
    return [
        _stick(planes, cage, (f"{name} {side}", role, group), block(planes, near, far, side), along)
        for side, near, far, along in boxes
    ]


def _uprights(planes: Planes, cage: Cage) -> list[Part]:
    """Left and right up to the top of the bar, beside it; in front up to the top of the collar."""
    a, t, w = cage.outer + cage.stick.thickness, cage.stick.thickness, cage.stick.width
    top = cage.height + w
    boxes: list[tuple[str, Vec, Vec]] = [
        ("right", (a, -w - t / 2.0, 0.0), (a + t, -t / 2.0, top)),
        ("left", (-a - t, -w - t / 2.0, 0.0), (-a, -t / 2.0, top)),
    ]
    if cage.braced:
        boxes.append(("front", (-w / 2.0, -a - t, 0.0), (w / 2.0, -a, cage.head + w / 2.0)))
    return [
        _stick(planes, cage, (f"upright {side}", "strut", CAGE), block(planes, low, high, side), Z)
        for side, low, high in boxes
    ]


def _bar(planes: Planes, cage: Cage) -> Part:
    t, w, reach = cage.stick.thickness, cage.stick.width, cage.reach
    body = block(
        planes,
        (-reach, -t / 2.0, cage.height),
        (reach, t / 2.0, cage.height + w),
        "hold-down bar",
    )
    return _stick(planes, cage, ("hold-down bar", "bar", CAGE), body, X)


def _outward(side: str) -> tuple[Vec, Vec]:
    """The level way a brace goes out from the tube, and the way across it towards the outside of its upright."""
    return (X, (0.0, -1.0, 0.0)) if side == "right" else ((0.0, -1.0, 0.0), X)


def _beside(cage: Cage, side: str) -> float:
    """From the axis, across a brace's way, to the face of the upright that it lies on, m."""
    t, w = cage.stick.thickness, cage.stick.width
    return w + t / 2.0 if side == "right" else w / 2.0


def _brace(planes: Planes, cage: Cage, side: str) -> Part:
    """Flat against its upright, its head cut plumb behind it, its foot cut level on the ground."""
    out, over = _outward(side)
    t, w = cage.stick.thickness, cage.stick.width
    normal: Vec = (out[0] * sin(SLOPE), out[1] * sin(SLOPE), cos(SLOPE))
    head = cage.outer + 1.5 * t
    middle = head * sin(SLOPE) + cage.head * cos(SLOPE)
    face = _beside(cage, side)
    halves = (
        HalfSpace(normal, middle + w / 2.0, "upper edge of brace"),
        HalfSpace(_back(normal), w / 2.0 - middle, "lower edge of brace"),
        HalfSpace(over, face + t, "side of brace"),
        HalfSpace(_back(over), -face, "side of brace"),
        HalfSpace(_back(out), -(cage.outer + t), "head of brace"),
        HalfSpace((0.0, 0.0, -1.0), cage.ground, "ground"),
    )
    body = cell(planes, halves, f"brace {side}")
    if body is None:
        raise GeometryError("there is no room for a brace beside the tube")
    down: Vec = (out[0] * cos(SLOPE), out[1] * cos(SLOPE), -sin(SLOPE))
    flat = planes.enter(halves[2])
    cut, placement = blank(planes, body, along=down, flat_on=flat)
    return Part(
        f"brace {side}",
        "strut",
        "stick",
        cage.stick.name,
        CAGE,
        (body,),
        cut,
        placement,
        work="cut its head plumb and its foot level, both at 45 degrees",
    )


def _foot_block(planes: Planes, cage: Cage, side: str) -> Part:
    """On the ground beside the foot of a brace, along its way."""
    out, over = _outward(side)
    t, w = cage.stick.thickness, cage.stick.width
    near = _beside(cage, side) + t
    start = max(cage.foot - w - _BLOCK / 2.0, cage.plate + _LEAST_BLOCK_PLACE)
    corners = [
        (out[0] * far + over[0] * aside, out[1] * far + over[1] * aside)
        for far, aside in ((start, near), (start + _BLOCK, near + t))
    ]
    (x0, x1), (y0, y1) = (sorted(values) for values in zip(*corners, strict=True))
    low, high = (x0, y0, -cage.ground), (x1, y1, -cage.ground + w)
    body = block(planes, low, high, f"brace block {side}")
    return _stick(planes, cage, (f"brace block {side}", "cleat", CAGE), body, X if side == "right" else Y)


def _back(way: Vec) -> Vec:
    return (-way[0], -way[1], -way[2])


def _stick(planes: Planes, cage: Cage, called: tuple[str, PartRole, str], body: Cell, along: Vec) -> Part:
    """A straight stick, its wide side drawn."""
    name, role, group = called
    cut, placement = blank(planes, body, along=along)
    return Part(name, role, "stick", cage.stick.name, group, (body,), cut, placement)
