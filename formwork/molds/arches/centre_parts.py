"""The parts of an arch's centre, placed in space: ribs in two layers, a tie across the feet of each, battens over them.

Frame of reference: x along the span, y through the wall from its front, z up; z = 0 at the underside of the ties, the
middle of the arch at x = 0.
"""

from __future__ import annotations

from math import cos, pi, sin, sqrt

from formwork.errors import GeometryError
from formwork.geometry.cells import cell
from formwork.geometry.outlines import box, ring_sector, shifted
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec, add, scale
from formwork.molds.blank import blank
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.record import record
from formwork.shapes.piece import Centre
from formwork.stock.records import SheetStock, StickStock
from formwork.strength.beams import Run
from formwork.strength.panels import PanelSection
from formwork.strength.working import Unjudged

_LEAST_REACH = 0.05


@record
class CentrePlan:
    """What is decided before anything is placed; lengths in m, angles in rad."""

    sheet: SheetStock
    stick: StickStock
    section: PanelSection | Unjudged
    tie: StickStock
    ribs: int
    depth: float
    segments: int
    radius: float
    beside: float
    turn: float
    batten: Run

    @property
    def ply(self) -> float:
        """Thickness of a rib's layer, m."""
        return self.sheet.thickness

    @property
    def middle(self) -> float:
        """Height of the arch's own centre: below the ties, so that the ribs' outer corners stand level with them."""
        return -self.radius * cos(self.turn / 2.0)


def rib_parts(found: CentrePlan, centre: Centre, number: int) -> list[Part]:
    """Both layers of one rib, the second with its joints in the middle of the first one's segments."""
    count = found.segments
    each = found.turn / count
    front = [(-found.turn / 2.0 + k * each, each) for k in range(count)]
    back = front if count == 1 else [
        (-found.turn / 2.0, each / 2.0),
        *((-found.turn / 2.0 + (k + 0.5) * each, each) for k in range(count - 1)),
        (found.turn / 2.0 - each / 2.0, each / 2.0),
    ]  # fmt: skip
    y = _front_of(found, centre, number)
    rows = (("front", front, y), ("back", back, y + found.ply))
    return [
        _segment(found, f"rib {number + 1} {word} layer, segment {k + 1}", start, turn, depth)
        for word, segments, depth in rows
        for k, (start, turn) in enumerate(segments)
    ]


def _front_of(found: CentrePlan, centre: Centre, number: int) -> float:
    """Where the front face of a rib stands, m: outer ones flush with the arch's faces, the others evenly between."""
    wide = 2.0 * found.ply
    if found.ribs == 1:
        return (centre.breadth - wide) / 2.0
    return number * (centre.breadth - wide) / (found.ribs - 1)


def _segment(found: CentrePlan, name: str, start: float, turn: float, front: float) -> Part:
    """A segment of a rib's layer; ``start`` and the turn run from the left, measured from the crown."""
    inner, outer = found.radius - found.depth, found.radius
    flat = ring_sector(inner, outer, pi / 2.0 - turn / 2.0, turn)
    (x0, y0), (x1, y1) = box(flat)
    edge = shifted(flat, (-x0, -y0))
    lean = start + turn / 2.0
    along: Vec = (cos(lean), 0.0, -sin(lean))
    across: Vec = (sin(lean), 0.0, cos(lean))
    centre: Vec = (0.0, front + found.ply, found.middle)
    origin = add(centre, add(scale(along, x0), scale(across, y0)))
    return Part(
        name=name,
        role="rib",
        kind="panel",
        stock=found.sheet.name,
        group="centre",
        cells=(),
        blank=Blank(x1 - x0, y1 - y0, found.ply, edge.points, (0.0,) * 4, bulges=edge.bulges),
        placement=Placement(origin, along, across, (0.0, -1.0, 0.0)),
        prisms=(Prism(edge, found.ply, origin, along, across),),
    )


def tie_part(planes: Planes, found: CentrePlan, centre: Centre, number: int) -> Part:
    """A stick on edge across the feet of a rib, on the face that looks into the wall, its ends inside the rib's curve.

    Raises:
        GeometryError: where the arch is flatter than the stick is wide.
    """
    high, thick = found.tie.width, found.tie.thickness
    reach = sqrt(max(found.radius**2 - (high - found.middle) ** 2, 0.0))
    if reach <= _LEAST_REACH:
        raise GeometryError(
            f"{centre.name}: the arch is so flat that ties of {found.tie.name} stand above its crown; name a narrower "
            "stick, or set centre = false"
        )
    front = _front_of(found, centre, number)
    behind_it = 2 * number < found.ribs
    near = front + 2.0 * found.ply if behind_it else front - thick
    return _stick(
        planes,
        f"tie {number + 1}",
        found.tie,
        "tie",
        (1.0, 0.0, 0.0),
        _block((-reach, near, 0.0), (reach, near + thick, high)),
    )


def _block(low: Vec, high: Vec) -> tuple[HalfSpace, ...]:
    ways: tuple[Vec, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return tuple(
        side for way in ways for side in (behind(way, high, "end"), behind(scale(way, -1.0), low, "end"))
    )


def batten_parts(planes: Planes, found: CentrePlan, centre: Centre) -> list[Part]:
    """A pair of battens, or a single one, under each stone."""
    sides = (-found.beside, found.beside) if found.beside else (0.0,)
    middles = [(k - (centre.stones - 1) / 2.0) * centre.turn for k in range(centre.stones)]
    leans = [middle + beside for middle in middles for beside in sides]
    return [
        _stick(planes, f"batten {number}", found.stick, "batten", (0.0, 1.0, 0.0),
               _batten_sides(found, centre, lean))
        for number, lean in enumerate(leans, start=1)
    ]  # fmt: skip


def _batten_sides(found: CentrePlan, centre: Centre, lean: float) -> tuple[HalfSpace, ...]:
    out: Vec = (sin(lean), 0.0, cos(lean))
    on: Vec = (cos(lean), 0.0, -sin(lean))
    middle: Vec = (0.0, 0.0, found.middle)
    foot = add(middle, scale(out, found.radius))
    head = add(middle, scale(out, found.radius + found.stick.thickness))
    half = found.stick.width / 2.0
    return (
        behind(out, head, "top"),
        behind(scale(out, -1.0), foot, "underside"),
        behind(on, add(head, scale(on, half)), "edge"),
        behind(scale(on, -1.0), add(head, scale(on, -half)), "edge"),
        behind((0.0, -1.0, 0.0), (0.0, 0.0, 0.0), "front end"),
        behind((0.0, 1.0, 0.0), (0.0, centre.breadth, 0.0), "back end"),
    )


def _stick(
    planes: Planes, name: str, stick: StickStock, role: PartRole, along: Vec, halves: tuple[HalfSpace, ...]
) -> Part:
    body = cell(planes, halves, name)
    if body is None:
        raise GeometryError(f"the {name} of the centre has no room")
    cut, placement = blank(planes, body, along=along)
    return Part(
        name=name,
        role=role,
        kind="stick",
        stock=stick.name,
        group="centre",
        cells=(body,),
        blank=cut,
        placement=placement,
    )
