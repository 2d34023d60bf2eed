"""What is decided of a dome's form before its parts are made: ribs, skin, sections, and where everything stands.

Ribs stand on ``count`` upright planes through the axis; a bay lies between each two, and everything in a bay is told
in the upright plane of its middle: distance u from the axis, and height z. Rib lines are meridians; the inner form's
ribs run inside the shell's inside by the thickness of the skin, the outer form's outside its outside.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil, cos, hypot, pi, sin, tan
from typing import Literal

from formwork.errors import GeometryError
from formwork.geometry.cells import NEAR, Cell, Polygon, cell
from formwork.geometry.meridians import Meridian, Sphere
from formwork.geometry.outlines import Leg, Point
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, cross, dot, sub
from formwork.record import record
from formwork.shapes.piece import Piece, Shell
from formwork.stock.records import SheetStock, StickStock
from formwork.units.show import UnitSystem

Side = Literal["inner", "outer"]
WEDGE_LENGTH = 0.2
WEDGE_SLOPE = 1.0 / 8.0
"""Slope of striking wedges, which do not slide by themselves (common practice)."""
_WEDGE = 0.0425
_ARCS = 60
"""Arcs to a whole meridian that is no circle."""


@record
class Section:
    """Bays that come off as one.

    Attributes:
        name: group of its parts.
        first: number of its first bay.
        bays: how many.
    """

    name: str
    first: int
    bays: int


@record
class DomeForm:
    """A dome's form as decided.

    Attributes:
        planes: the register of its cells.
        piece: what is cast.
        shell: its meridian, thickness and way of placing.
        outside: meridian of the shell's outside, between its own springing and oculus.
        fill: height of the fill plane, m.
        count: ribs all round.
        turn: direction of rib 0, rad.
        sheet: for ribs, rings, boards.
        skin: sheet that is bent.
        layers: of skin.
        stick: for soles, wedges, posts.
        strut: stick for purlins.
        depth: of the ribs, m.
        inner: sections of the inner form, its key section first.
        outer: sections of the outer form; none where there is no outer form.
        key: plies on each side of a key rib's middle.
        key_end: polar angle up to which key ribs reach; above it the form comes apart by being let down.
        drop: how far the floor lies below the springing, so that the form can be let down, m.
        headers: polar angles on the rib line at which alternate ribs end, the lowest first.
        hoops: polar angles at which purlins stand, the lowest first.
        splits: polar angles at which each gore is parted, the lowest first, a purlin behind each.
        top: radius at which ribs and skin end: of the oculus, or of the flat crown on its hub, m.
        passing: greatest width that passes an opening of the dome, m; no limit where there is none.
        units: how a person here reads a length.
        rods: tie rods that the person asks for; None: as many as hold.
        seam_bolts: in each seam of the outer form, likewise.
    """

    planes: Planes
    piece: Piece
    shell: Shell
    outside: Meridian
    fill: float
    count: int
    turn: float
    sheet: SheetStock
    skin: SheetStock
    layers: int
    stick: StickStock
    strut: StickStock
    depth: float
    inner: tuple[Section, ...]
    outer: tuple[Section, ...]
    key: int
    key_end: float
    drop: float
    headers: tuple[float, ...]
    hoops: tuple[float, ...]
    splits: tuple[float, ...]
    top: float
    passing: float
    units: UnitSystem
    rods: int | None = None
    seam_bolts: int | None = None

    @property
    def closed(self) -> bool:
        """There is no oculus: the crown is flat, on a hub."""
        return self.shell.oculus == 0.0

    @property
    def fluid(self) -> bool:
        """Fluid mix is placed between two forms."""
        return self.shell.placed == "fluid"

    @property
    def sides(self) -> tuple[Side, ...]:
        """The forms there are."""
        return ("inner", "outer") if self.fluid else ("inner",)

    @property
    def key_ribs(self) -> tuple[int, int]:
        """The ribs on both sides of the inner form's key section."""
        return 0, self.inner[0].bays

    @property
    def half(self) -> float:
        """Half the angle of a bay, rad."""
        return pi / self.count

    @property
    def ply(self) -> float:
        """Thickness of one ply of a rib, m."""
        return self.sheet.thickness

    @property
    def lining(self) -> float:
        """Thickness of the whole skin, m."""
        return self.layers * self.skin.thickness

    def face(self, side: Side) -> Meridian:
        """The meridian that the skin's face follows."""
        return self.shell.inside if side == "inner" else self.outside

    def rib_line(self, side: Side) -> Meridian:
        """The meridian of the ribs' edge that carries the skin."""
        by = -self.lining if side == "inner" else self.lining
        return self.face(side).moved(by)

    def sections(self, side: Side) -> tuple[Section, ...]:
        """The sections of one of the forms."""
        return self.inner if side == "inner" else self.outer

    def section_of(self, side: Side, bay: int) -> Section:
        """The section a bay belongs to."""
        number = bay % self.count
        return next(one for one in self.sections(side) if (number - one.first) % self.count < one.bays)

    def bearing(self, rib: float) -> float:
        """Direction of a rib's plane, or of the middle of a bay (number and a half), rad."""
        return self.turn + 2.0 * self.half * rib

    @property
    def foot(self) -> Point:
        """Inner edge of the springing, (r, z)."""
        return self.shell.inside.point(self.shell.inside.springing)

    @property
    def edge(self) -> Point:
        """Outer edge of the springing, (r, z)."""
        return self.outside.point(self.outside.springing)

    @property
    def seat(self) -> Point:
        """Unit vector along the springing, outward, (r, z)."""
        (r0, z0), (r1, z1) = self.foot, self.edge
        size = hypot(r1 - r0, z1 - z0)
        return (r1 - r0) / size, (z1 - z0) / size


@lru_cache(maxsize=512)
def arcs(line: Meridian, start: float, end: float) -> tuple[Leg, ...]:
    """A meridian as arcs from one polar angle to another, kept: every rib asks for the same ones.

    Where it is no circle they are short, so that the skin that lies on them follows the dome to a millionth of its
    volume.
    """
    if isinstance(line.curve, Sphere):
        return line.traced(start, end)
    count = max(1, ceil(abs(end - start) / line.springing * _ARCS - 1e-9))
    stops = [start + (end - start) * i / count for i in range(count)] + [end]
    return tuple(leg for a, b in pairwise(stops) for leg in line.traced(a, b))


def wedge_ends(stick: StickStock) -> tuple[float, float]:
    """Thickness of a striking wedge at its thin and at its thick end, as the stick gives it, m."""
    thick = min(_WEDGE, stick.width - 0.002)
    return thick - WEDGE_LENGTH * WEDGE_SLOPE, thick


def bay_cell(
    form: DomeForm,
    middle: float,
    section: Sequence[Point],
    low: tuple[float, float],
    high: tuple[float, float],
    what: str,
) -> Cell:
    """A body between two upright planes beside ribs, of one cross-section in the middle of its bay.

    Args:
        form: the form.
        middle: direction of the bay's middle, rad.
        section: convex polygon of (u, z), counter-clockwise.
        low: its clockwise end: half angle to the plane through the axis, and how far it stays back from it, m.
        high: its counter-clockwise end, alike.
        what: for messages.

    Raises:
        GeometryError: where nothing is left of it.
    """
    way = (cos(middle), sin(middle))
    sides = [_edge_plane(a, b, way) for a, b in zip(section, (*section[1:], section[0]), strict=True)]
    ends = [_end_plane(middle, sign, *where) for sign, where in ((-1.0, low), (1.0, high))]
    made = _straight_through(form.planes, section, way, sides, ends)
    made = made or cell(form.planes, (*sides, *ends), f"{form.piece.name}: {what}")
    if made is None:
        raise GeometryError(
            f"{form.piece.name}: there is no room for the {what}; take fewer ribs or thinner stock"
        )
    return made


def _end_plane(middle: float, sign: float, angle: float, back: float) -> HalfSpace:
    turned = middle + sign * angle
    return HalfSpace((-sign * sin(turned), sign * cos(turned), 0.0), -back, "side")


def _straight_through(
    planes: Planes,
    section: Sequence[Point],
    way: Point,
    sides: Sequence[HalfSpace],
    ends: Sequence[HalfSpace],
) -> Cell | None:
    """The body whose every edge along the bay runs from one end to the other; None where the ends meet before."""
    low, high = (_reached(section, way, end) for end in ends)
    if any(b - a < NEAR for a, b in zip(low, high, strict=True)):
        return None
    x, y = way
    first, last = (
        [(u * x - v * y, u * y + v * x, z) for (u, z), v in zip(section, reach, strict=True)]
        for reach in (low, high)
    )
    count = len(section)
    facets: dict[int, Polygon] = {}
    for i, side in enumerate(sides):
        j = (i + 1) % count
        facets[planes.enter(side)] = (last[i], first[i], first[j], last[j])
    facets[planes.enter(ends[0])] = tuple(first[::-1])
    facets[planes.enter(ends[1])] = tuple(last)
    return Cell(
        {ref: ring if _faces(ring, planes.normal(ref)) else ring[::-1] for ref, ring in facets.items()}
    )


def _reached(section: Sequence[Point], way: Point, end: HalfSpace) -> list[float]:
    """How far along the bay, level and square to its middle, each corner's edge meets an end."""
    nx, ny, _ = end.normal
    ahead, across = nx * way[0] + ny * way[1], ny * way[0] - nx * way[1]
    return [(end.offset - u * ahead) / across for u, _ in section]


def _faces(ring: Polygon, normal: Vec) -> bool:
    """A polygon runs counter-clockwise seen against a normal."""
    return dot(cross(sub(ring[1], ring[0]), sub(ring[2], ring[0])), normal) > 0.0


def _edge_plane(a: Point, b: Point, way: Point) -> HalfSpace:
    """The plane through an edge of a counter-clockwise section, its normal outward."""
    size = hypot(b[0] - a[0], b[1] - a[1])
    nu, nz = (b[1] - a[1]) / size, (a[0] - b[0]) / size
    normal: Vec = (nu * way[0], nu * way[1], nz)
    return HalfSpace(normal, dot(normal, (a[0] * way[0], a[0] * way[1], a[1])))


def squeezed(form: DomeForm, point: Point) -> Point:
    """A point of a rib's plane carried level along the facets to the middle of the bay beside it."""
    return point[0] * cos(form.half), point[1]


def setback(form: DomeForm, beside: float) -> float:
    """How far the facets lie inside a rib's plane's circle at a distance beside that plane, level, m."""
    return beside * tan(form.half)
