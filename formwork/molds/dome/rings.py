"""What a dome's form stands on and ends on: soles, wedges, the board under the shell, rings at the crown, the curb."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, cos, dist, hypot, sin

from formwork.geometry.outlines import Outline, Point, box, circle, polygon, shifted
from formwork.geometry.prisms import Prism
from formwork.molds.dome.form import WEDGE_LENGTH, DomeForm, Side, bay_cell, squeezed, wedge_ends
from formwork.molds.dome.gores import upper_end
from formwork.molds.dome.pieces import board_part, stick_part
from formwork.molds.mold import Blank, Part, Placement

_OUTSIDE = 0.06
_RING = 0.1
BASE, WEDGES, CURB = "base ring", "striking wedges", "oculus curb"


def soles(form: DomeForm) -> Iterator[Part]:
    """Sticks under the feet of the inner ribs, from rib to rib."""
    line = form.rib_line("inner")
    middle = cos(form.half) * (line.r(line.at_height(0.0)) - form.depth / 2.0)
    half, low = form.stick.width / 2.0, -form.stick.thickness
    section = ((middle - half, low), (middle + half, low), (middle + half, 0.0), (middle - half, 0.0))
    for bay in range(form.count):
        way = form.bearing(bay + 0.5)
        back = tuple(
            form.ply * form.key if rib % form.count in form.key_ribs else 0.0 for rib in (bay, bay + 1)
        )
        name = f"sole bay {bay + 1}"
        body = bay_cell(form, way, section, (form.half, back[0]), (form.half, back[1]), name)
        yield stick_part(
            form, name, form.section_of("inner", bay).name, body, (-sin(way), cos(way), 0.0), "rail"
        )


def wedges(form: DomeForm) -> Iterator[Part]:
    """A pair of folding wedges under every rib's foot: driven back, they ease the whole form before it is struck."""
    line = form.rib_line("inner")
    middle = line.r(line.at_height(0.0)) - form.depth / 2.0
    near, far = middle - WEDGE_LENGTH / 2.0, middle + WEDGE_LENGTH / 2.0
    top = -form.stick.thickness
    ends = wedge_ends(form.stick)
    floor = top - sum(ends)
    thin, thick = floor + ends[0], floor + ends[1]
    lower = ((near, floor), (far, floor), (far, thin), (near, thick))
    upper = ((near, thick), (far, thin), (far, top), (near, top))
    wide = -form.stick.thickness / 2.0
    for rib in range(form.count):
        for what, section in (("lower", lower), ("upper", upper)):
            name = f"{what} wedge {rib + 1}"
            body = bay_cell(form, form.bearing(rib), section, (0.0, wide), (0.0, wide), name)
            way = form.bearing(rib)
            yield stick_part(
                form,
                name,
                WEDGES,
                body,
                (cos(way), sin(way), 0.0),
                "cleat",
                beside=(-sin(way), cos(way), 0.0),
            )
        if form.drop + floor > 0.01:
            yield _packing(form, rib, middle, floor)


def _packing(form: DomeForm, rib: int, middle: float, head: float) -> Part:
    """A post under a pair of wedges, taken away to let a section down."""
    half, name = form.stick.thickness / 2.0, f"packing {rib + 1}"
    section = (
        (middle - half, -form.drop),
        (middle + half, -form.drop),
        (middle + half, head),
        (middle - half, head),
    )
    body = bay_cell(form, form.bearing(rib), section, (0.0, -half), (0.0, -half), name)
    return stick_part(form, name, WEDGES, body, (0.0, 0.0, 1.0), "cleat")


def base(form: DomeForm) -> Iterator[Part]:
    """The board on which the shell stands, in one piece a bay, and the posts that raise it to let the form down."""
    section = _base_section(form)
    for bay in range(form.count):
        way, name = form.bearing(bay + 0.5), f"base board {bay + 1}"
        body = bay_cell(form, way, section, (form.half, 0.0), (form.half, 0.0), name)
        yield board_part(form, name, "base", BASE, body, (-sin(way), cos(way), 0.0))
    yield from _posts(form, section)


def _base_section(form: DomeForm) -> tuple[Point, ...]:
    """From the shell's inner edge outward; its inner side lies on the skirt of the inner skin."""
    (r, z), turn = form.foot, form.shell.inside.springing
    (sr, sz), far = form.seat, _reach(form)
    inner, outer = squeezed(form, (r, z)), squeezed(form, (r + far * sr, z + far * sz))
    size = dist(inner, outer)
    du, dz = (outer[0] - inner[0]) / size, (outer[1] - inner[1]) / size
    skirt = squeezed(form, (cos(turn), -sin(turn)))
    run = form.ply / abs(skirt[0] * dz - skirt[1] * du)
    under = (inner[0] + run * skirt[0], inner[1] + run * skirt[1])
    beyond = (outer[0] + form.ply * dz, outer[1] - form.ply * du)
    return under, beyond, outer, inner


def _reach(form: DomeForm) -> float:
    """From the shell's inner edge to the outer edge of the board it stands on, m."""
    (r0, z0), (r1, z1) = form.foot, form.edge
    across = hypot(r1 - r0, z1 - z0)
    return across + _OUTSIDE + (1.2 * (form.lining + form.depth) if form.fluid else 0.0)


def _posts(form: DomeForm, section: tuple[Point, ...]) -> Iterator[Part]:
    """Two short posts under the middle of every board, near its inner and its outer edge."""
    (u0, z0), (u1, z1) = section[0], section[1]
    slope, floor, half = (z1 - z0) / (u1 - u0), -form.drop, form.stick.thickness / 2.0
    for bay in range(form.count):
        way = form.bearing(bay + 0.5)
        for what, u in (("inner", u0 + 1.5 * half), ("outer", u1 - 1.5 * half)):
            heads = [z0 + slope * (v - u0) for v in (u - half, u + half)]
            body = bay_cell(
                form,
                way,
                ((u - half, floor), (u + half, floor), (u + half, heads[1]), (u - half, heads[0])),
                (0.0, -half),
                (0.0, -half),
                f"{what} post {bay + 1}",
            )
            yield stick_part(form, f"{what} post {bay + 1}", BASE, body, (0.0, 0.0, 1.0), "cleat")


def crown(form: DomeForm, side: Side) -> Iterator[Part]:
    """What the ribs end on: a hub under a flat crown, or a ring inside the curb of the oculus."""
    group = f"{side} crown {'hub' if form.closed else 'ring'}"
    face, line = form.face(side), form.rib_line(side)
    edge = line.moved(-form.depth if side == "inner" else form.depth)
    near, far = line.z(line.at_radius(form.top)), edge.z(edge.at_radius(form.top))
    if form.closed:
        cap = face.z(upper_end(form, side))
        yield _cap(form, side, group, cap)
        near = cap - form.ply if side == "inner" else cap + form.ply
    plies = max(2, ceil(abs(near - far) / form.ply - 1e-9))
    outline, opening = ring_outline(form)
    for layer in range(plies):
        low = near - (layer + 1) * form.ply if side == "inner" else near + layer * form.ply
        yield _disc(form, f"{group} layer {layer + 1}", group, outline, opening, low)


def ring_outline(form: DomeForm) -> tuple[Outline, tuple[Outline, ...]]:
    """Outline of the crown's ring or hub in plan, and what is cut out of its middle."""
    if form.closed:
        return circle((0.0, 0.0), form.top * cos(form.half)), ()
    outer = form.top - form.ply / cos(form.half)
    inside = outer * cos(form.half) - _RING
    return _regular(form, outer), (circle((0.0, 0.0), inside),) if inside > 0.05 else ()


def _regular(form: DomeForm, radius: float) -> Outline:
    """The regular polygon whose corners lie on the planes of the ribs."""
    return polygon(
        tuple((radius * cos(form.bearing(i)), radius * sin(form.bearing(i))) for i in range(form.count))
    )


def _cap(form: DomeForm, side: Side, group: str, level: float) -> Part:
    """The flat crown inside the ribs' ends, which the mix touches."""
    low = level - form.ply if side == "inner" else level
    return _disc(form, f"{side} crown cap", group, _regular(form, form.top), (), low, facing=side == "inner")


def _disc(
    form: DomeForm,
    name: str,
    group: str,
    outline: Outline,
    openings: tuple[Outline, ...],
    low: float,
    *,
    facing: bool = True,
) -> Part:
    (x0, y0), (x1, y1) = box(outline)
    laid = shifted(outline, (-x0, -y0))
    cut = Blank(
        x1 - x0,
        y1 - y0,
        form.ply,
        laid.points,
        (0.0,) * len(laid.points),
        bulges=laid.bulges,
        openings=tuple(shifted(one, (-x0, -y0)) for one in openings),
    )
    top = low + form.ply
    return Part(
        name=name,
        role="ring",
        kind="panel",
        stock=form.sheet.name,
        group=group,
        cells=(),
        blank=cut,
        placement=Placement((x0, y0, top), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)),
        good_face="outline" if facing else "far",
        prisms=(Prism(outline, form.ply, (0.0, 0.0, low), openings=openings),),
    )


def curb(form: DomeForm) -> Iterator[Part]:
    """The boards round an oculus, one a bay, from below the inner ring to above the shell."""
    if form.closed:
        return
    low, high = curb_ends(form)
    far = form.top * cos(form.half)
    section = ((far - form.ply, low), (far, low), (far, high), (far - form.ply, high))
    for bay in range(form.count):
        way, name = form.bearing(bay + 0.5), f"curb board {bay + 1}"
        body = bay_cell(form, way, section, (form.half, 0.0), (form.half, 0.0), name)
        yield board_part(form, name, "board", CURB, body, (-sin(way), cos(way), 0.0), outward=way)


def curb_ends(form: DomeForm) -> tuple[float, float]:
    """Lower and upper end of the curb's boards, m."""
    line = form.rib_line("inner")
    edge = line.moved(-form.depth)
    low = min(line.z(line.at_radius(form.top)), edge.z(edge.at_radius(form.top)))
    if not form.fluid:
        return low, form.outside.z(form.outside.oculus)
    over = form.rib_line("outer").moved(form.depth)
    return low, over.z(over.at_radius(form.top))
