"""What stands between and under the ribs of a dome's form: purlins, soles, wedges, the board under the shell, rings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, cos, dist, hypot, sin

from formwork.geometry.cells import Cell, area
from formwork.geometry.gores import offset_line
from formwork.geometry.outlines import Outline, Point, box, circle, polygon, shifted
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec, dot
from formwork.molds.blank import blank
from formwork.molds.dome_form import WEDGE_LENGTH, DomeForm, Side, bay_cell, squeezed, wedge_ends
from formwork.molds.dome_ribs import ending, half_thickness
from formwork.molds.gores import Chain, behind, chain, upper_end
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.stock.records import StickStock
from formwork.units import show

_OUTSIDE = 0.06
_RING = 0.1
_SHIM = 0.0005
_GAP = 0.005
_SHARE = 0.9
BASE, SOLE, WEDGES, CURB = "base ring", "soles", "striking wedges", "oculus curb"


def purlins(form: DomeForm, side: Side) -> Iterator[Part]:
    """Level sticks between ribs, their ends bevelled, behind the skin."""
    skin = chain(form, side)
    for number, polar in enumerate(form.hoops, start=1):
        for bay, span in _bays(form, polar):
            yield _purlin(form, side, skin, polar, (bay, span), f"{side} purlin {number} bay {bay + 1}")


def _bays(form: DomeForm, polar: float) -> Iterator[tuple[int, int]]:
    """The bays at a level, with how many of them lie between two ribs that reach above it."""
    standing = [rib for rib in range(form.count) if _stands(form, rib, polar)]
    for rib, after in zip(standing, (*standing[1:], standing[0] + form.count), strict=True):
        yield rib, after - rib


def _stands(form: DomeForm, rib: int, polar: float) -> bool:
    top = ending(form, rib)
    return top is None or polar > top + 1e-9


def _purlin(form: DomeForm, side: Side, skin: Chain, polar: float, place: tuple[int, int], name: str) -> Part:
    bay, span = place
    half, way = span * form.half, form.bearing(bay + span / 2.0)
    section = _section(form, side, skin, _seat_of(form, side, polar), span)
    ends = ((half, _thick(form, side, bay, polar)), (half, _thick(form, side, bay + span, polar)))
    body = bay_cell(form, way, section, *ends, name)
    group = form.section_of(side, bay).name
    return _stick(form, name, group, body, (-sin(way), cos(way), 0.0), "ring", form.strut)


def _seat_of(form: DomeForm, side: Side, polar: float) -> float:
    """Polar angle of a purlin's middle: a header's stands above the ends of the ribs that it stops."""
    if polar not in form.headers:
        return polar
    return polar - (form.strut.width / 2.0 + _GAP) / form.rib_line(side).bend(polar)


def _thick(form: DomeForm, side: Side, rib: int, polar: float) -> float:
    return half_thickness(form, rib, polar) if side == "inner" else form.ply


def _section(form: DomeForm, side: Side, skin: Chain, polar: float, span: int) -> tuple[Point, ...]:
    """Cross-section of a purlin in the middle between its ribs: its broad side just clears the back of the skin.

    Outside the dome the skin stands out furthest on the planes of ribs that have ended.
    """
    line, broad, deep = form.rib_line(side), form.strut.width, form.strut.thickness
    reach = (broad / 2.0 + _GAP) / line.bend(polar)
    sign = -1.0 if side == "inner" else 1.0
    nr, nz = line.normal(polar)
    r, z = line.point(polar)
    fold = 1.0 if side == "outer" and span > 1 else cos(span * form.half)
    u = r * fold
    back = [(x / cos(form.half) * fold, y) for x, y in behind(skin, polar + reach, polar - reach)]
    clear = max(sign * ((x - u) * nr + (y - z) * nz) for x, y in back) + _SHIM
    u, z = u + sign * clear * nr, z + sign * clear * nz
    tu, tz = -nz, nr
    a = (u - tu * broad / 2.0, z - tz * broad / 2.0)
    b = (u + tu * broad / 2.0, z + tz * broad / 2.0)
    c = (b[0] + sign * deep * nr, b[1] + sign * deep * nz)
    d = (a[0] + sign * deep * nr, a[1] + sign * deep * nz)
    return (a, b, c, d) if side == "inner" else (a, d, c, b)


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
        yield _stick(form, name, form.section_of("inner", bay).name, body, (-sin(way), cos(way), 0.0), "rail")


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
            yield _stick(
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
    return _stick(form, name, WEDGES, body, (0.0, 0.0, 1.0), "cleat")


def base(form: DomeForm) -> Iterator[Part]:
    """The board on which the shell stands, in one piece a bay, and the posts that raise it to let the form down."""
    section = _base_section(form)
    for bay in range(form.count):
        way, name = form.bearing(bay + 0.5), f"base board {bay + 1}"
        body = bay_cell(form, way, section, (form.half, 0.0), (form.half, 0.0), name)
        yield _board(form, name, "base", BASE, body, (-sin(way), cos(way), 0.0))
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
            yield _stick(form, f"{what} post {bay + 1}", BASE, body, (0.0, 0.0, 1.0), "cleat")


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
        yield _board(form, name, "board", CURB, body, (-sin(way), cos(way), 0.0), outward=way)


def curb_ends(form: DomeForm) -> tuple[float, float]:
    """Lower and upper end of the curb's boards, m."""
    line = form.rib_line("inner")
    edge = line.moved(-form.depth)
    low = min(line.z(line.at_radius(form.top)), edge.z(edge.at_radius(form.top)))
    if not form.fluid:
        return low, form.outside.z(form.outside.oculus)
    over = form.rib_line("outer").moved(form.depth)
    return low, over.z(over.at_radius(form.top))


def straps(form: DomeForm) -> Iterator[Part]:
    """Behind the joint of two gores above a rib that ends at a header: a strip of skin, its grain across the joint."""
    for side in form.sides if form.headers else ():
        line, skin = form.rib_line(side), chain(form, side)
        for rib in range(form.count):
            low, high = ending(form, rib), line.at_radius(form.top)
            if low is None:
                continue
            stops = [one for one in form.hoops if high < one < low - 1e-9]
            ends = [low, *stops, high]
            for number, (a, b) in enumerate(pairwise(ends), start=1):
                clear = (form.strut.width / 2.0 + 2.0 * _GAP) / line.bend((a + b) / 2.0)
                start = a - (2.0 * clear if a in form.headers else clear)
                stop = b + clear if b in stops else b
                if start - stop > clear:
                    yield _strap(
                        form, side, skin, (rib, start, stop), f"{side} strap {rib + 1} length {number}"
                    )


def _strap(form: DomeForm, side: Side, skin: Chain, place: tuple[int, float, float], name: str) -> Part:
    """A length of strap between two purlins; it is bent with the skin when it is screwed on."""
    rib, low, high = place
    line = form.rib_line(side)
    wide = min(16.0 * form.lining, _SHARE * 2.0 * line.r(high) * sin(form.half))
    front = behind(skin, low, high)
    back = offset_line(tuple(front), form.lining if side == "inner" else -form.lining)
    cells = []
    for bay, ends in (
        (rib - 1, ((-form.half, -wide / 2.0), (form.half, 0.0))),
        (rib, ((form.half, 0.0), (-form.half, -wide / 2.0))),
    ):
        for i in range(len(front) - 1):
            corners = (front[i], front[i + 1], back[i + 1], back[i])
            section = corners if side == "inner" else corners[::-1]
            cells.append(bay_cell(form, form.bearing(bay + 0.5), section, *ends, name))
    length = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(front))
    outline = ((0.0, 0.0), (wide, 0.0), (wide, length), (0.0, length))
    (r, z), (c, s) = line.point(low), (cos(form.bearing(rib)), sin(form.bearing(rib)))
    up = (-cos(low), sin(low))
    return Part(
        name=name,
        role="skin",
        kind="panel",
        stock=form.skin.name,
        group=form.section_of(side, rib).name,
        cells=tuple(cells),
        blank=Blank(wide, length, form.skin.thickness, outline, (0.0,) * 4),
        placement=Placement(
            (r * c + wide / 2.0 * s, r * s - wide / 2.0 * c, z),
            (-s, c, 0.0),
            (up[0] * c, up[0] * s, up[1]),
            (-up[1] * c, -up[1] * s, up[0]),
        ),
        layers=form.layers,
        work="glue and screw it behind the joint of the two gores, on the fold",
    )


def _stick(
    form: DomeForm,
    name: str,
    group: str,
    body: Cell,
    along: Vec,
    role: PartRole,
    stick: StickStock | None = None,
    beside: Vec | None = None,
) -> Part:
    cut, placement = blank(form.planes, body, along=along, flat_on=_flat_side(form, body, along, beside))
    return Part(
        name=name,
        role=role,
        kind="stick",
        stock=(stick or form.stick).name,
        group=group,
        cells=(body,),
        blank=cut,
        placement=placement,
        work=_bevel_words(form, cut) if role == "ring" else "",
    )


def _flat_side(form: DomeForm, body: Cell, along: Vec, beside: Vec | None) -> int:
    """The side of a stick that its outline shows: that square to a direction, else that which has its long points."""

    def rank(reference: int) -> tuple[bool, float, float]:
        normal = form.planes.normal(reference)
        reach = [dot(along, p) for p in body.facets[reference]]
        wanted = abs(dot(normal, along)) < 1e-9 if beside is None else dot(normal, beside) > 1.0 - 1e-9
        return wanted, round(max(reach) - min(reach), 9), area(body.facets[reference])

    return max(body.facets, key=rank)


def _bevel_words(form: DomeForm, cut: Blank) -> str:
    return f"both ends bevelled by {show.angle(form.half)} in plan, long points {show.length(cut.length, form.units)}"


def _board(
    form: DomeForm,
    name: str,
    role: PartRole,
    group: str,
    body: Cell,
    along: Vec,
    *,
    outward: float | None = None,
) -> Part:
    """A board of the ribs' sheet, its good face up or towards the mix."""
    flat = None
    best = 0.0
    for reference in body.facets:
        normal = form.planes.normal(reference)
        level = normal[2] if outward is None else normal[0] * cos(outward) + normal[1] * sin(outward)
        if level > best:
            flat, best = reference, level
    cut, placement = blank(form.planes, body, along=along, flat_on=flat)
    return Part(
        name=name,
        role=role,
        kind="panel",
        stock=form.sheet.name,
        group=group,
        cells=(body,),
        blank=cut,
        placement=placement,
        good_face="outline",
    )
