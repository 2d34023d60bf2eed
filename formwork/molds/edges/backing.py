"""Blocks behind the strips of a mold of edge forms: they stand on the base and hold the strips out, in and down.

A block is a length of stick along the back of its strip, screwed to the base from below; the strip is screwed to it.
Where the strip leans the block's face leans with it. All lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, sin, sqrt, tan

from formwork.errors import StockError
from formwork.geometry.crossings import direction, point_at
from formwork.geometry.offsets import alongside, right, turn
from formwork.geometry.outlines import Leg, Outline, Point, polygon
from formwork.geometry.prisms import Prism
from formwork.geometry.regions import overlapping
from formwork.geometry.vectors import Vec
from formwork.molds.edges.edging import Edge, joint, meeting
from formwork.molds.edges.kerfing import merged
from formwork.molds.load import PANEL_LIMIT, Load, panel_span
from formwork.molds.mold import Blank, Part, Placement
from formwork.molds.strengths import grade_of_stick, section_of
from formwork.record import record
from formwork.stock.records import HardwareStock, SheetStock, StickStock
from formwork.strength.beams import beam_span
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.parse import read

LONG = 0.08
"""Length of a block along its strip, m (common practice, no source)."""
FARTHEST = 0.6
"""Greatest distance between two blocks, whatever the strip carries, m (common practice, no source)."""
BENT = 0.15
"""Distance between the blocks of a bent strip, whose stiffness across its bend no source gives, m (common practice)."""
CLEAR = 0.005
"""Room between a block and what stands beside it, m."""
SCREWS = 2
"""Screws up through the base into each block, and through the strip into it."""
_STOUT = 0.034
_SKIN = 0.002
_LEAST_BITE = 0.010


@record
class Timber:
    """The stick that blocks are cut from, as it lies: how high it stands, how deep it reaches out behind the strip."""

    stick: StickStock
    high: float
    deep: float


@record
class Block:
    """One block: which strip it holds, and as the part that is cut."""

    edge: int
    part: Part


def choose_timber(sticks: Sequence[StickStock], named: str | None, fill: float, name: str) -> Timber:
    """The stick of the blocks: the named one where it serves, else the stoutest square one no higher than the edge.

    Raises:
        StockError: where every stick stands higher than the edge.
    """
    ways = [
        (stick.name != named, abs(a - b), -a, stick.name, Timber(stick, a, b))
        for stick in sticks
        for a, b in {(stick.thickness, stick.width), (stick.width, stick.thickness)}
        if a <= fill - _SKIN and max(a, b) <= 0.1
    ]
    if not ways:
        raise StockError(
            f"{name}: no stick of the shop lies lower than the edge, {show.both(fill)}, for the blocks behind it; add "
            "a thinner one as [[stick]]"
        )
    stout = [way for way in ways if min(way[4].high, way[4].deep) >= _STOUT] or ways
    return min(stout, key=lambda way: way[:4])[4]


def spacing(edge: Edge, load: Load, fill: float, lean: float) -> float:
    """How far apart the blocks of a strip may stand, m: the strip is a beam between them under the foot's pressure."""
    if edge.stretch.bent:
        return BENT
    if isinstance(edge.stock, SheetStock):
        section = section_of(edge.stock, "across" if edge.stock.grain else "along")
        if isinstance(section, Unjudged):
            return 2.0 * BENT
        span = panel_span(section, load.pressure(0.0), LONG)
        return min(FARTHEST, span or FARTHEST)
    strip = strip_section(edge, fill, lean)
    values = adjust(grade_of_stick(edge.stock, strip.width), strip, Service())
    return min(FARTHEST, beam_span(values, strip, line_load(load), 1, PANEL_LIMIT).least)


def strip_section(edge: Edge, fill: float, lean: float) -> Section:
    """A straight strip of stick, bent outward by the mix."""
    return Section(fill / cos(lean), edge.thickness)


def line_load(load: Load) -> float:
    """Push of the mix on a metre of strip, N/m: all of its pressure from the base to the fill plane."""
    return load.push(0.0, load.fill)


def blocks(
    edges: Sequence[Edge],
    timber: Timber,
    load: Load,
    lean: float,
    standing: Sequence[Part],
    apart: float | None = None,
) -> tuple[Block, ...]:
    """The blocks of every strip; one that would stand where another part does is left out.

    Args:
        edges: the strips.
        timber: that blocks are cut from.
        load: the mix.
        lean: of the strips.
        standing: the strips as parts.
        apart: greatest distance of two blocks that the person asks for; None: as far as the strip carries.
    """
    taken = [space for part in standing for space in part.prisms]
    made: list[Block] = []
    for index, edge in enumerate(edges):
        backs = [_back(edges, index, head, lean) for head in (False, True)]
        far = apart or spacing(edge, load, load.fill, lean)
        for leg_of, share in _places(edges, index, backs[0], far, timber):
            body = _body(backs[0][leg_of], 0.5 if edge.kerfs else share, timber, lean, _hollow(edge))
            if any(overlapping(body.outline, other.outline) for other in taken):
                continue
            taken.append(body)
            made.append(Block(index, _part(body, timber, lean, f"block {len(made) + 1}", edge.name)))
    return tuple(made)


def _back(edges: Sequence[Edge], index: int, head: bool, lean: float) -> tuple[Leg, ...]:
    """The back of a strip as legs, from its start to its end."""
    edge = edges[index]
    start = meeting(edges[index - 1], edge, head, lean)[1]
    end = meeting(edge, edges[(index + 1) % len(edges)], head, lean)[0]
    if not edge.stretch.bent:
        return (Leg(start[1], end[1], 0.0),)
    some = edge.stretch.head if head else edge.stretch.foot
    return alongside(merged(some, edge.stretch.foot), edge.thickness / cos(lean), start[1], end[1])


def _places(
    edges: Sequence[Edge], index: int, back: Sequence[Leg], apart: float, timber: Timber
) -> list[tuple[int, float]]:
    """Where blocks stand along a back: the number of its leg, and the share of that leg.

    One stands at each end, away from an inner corner by the room that the neighbour's blocks take, the others evenly
    between them.
    """
    whole = sum(leg.length for leg in back)
    first = _kept(edges, index - 1, index, timber)
    last = _kept(edges, index, (index + 1) % len(edges), timber)
    low, high = first + LONG / 2.0, whole - last - LONG / 2.0
    if high < low:
        marks = [whole / 2.0]
    else:
        bays = max(1, ceil((high - low) / apart - 1e-9)) if high - low > LONG + CLEAR else 0
        marks = [low + (high - low) * k / bays for k in range(bays + 1)] if bays else [(low + high) / 2.0]
    return [_at(back, mark) for mark in marks]


def _kept(edges: Sequence[Edge], before: int, after: int, timber: Timber) -> float:
    """What the end of a strip leaves free of blocks, m."""
    one, other = edges[before], edges[after]
    angle = turn(one.stretch.foot[-1], other.stretch.foot[0])
    if joint(one, other) == "butt":
        return CLEAR / 2.0
    if angle > 0.0:
        return CLEAR
    return timber.deep / max(0.3, sin(min(abs(angle), 1.5708))) + CLEAR


def _at(back: Sequence[Leg], mark: float) -> tuple[int, float]:
    for number, leg in enumerate(back):
        if mark <= leg.length or number == len(back) - 1:
            return number, min(1.0, mark / leg.length)
        mark -= leg.length
    raise AssertionError(mark)


def _hollow(edge: Edge) -> tuple[float, float]:
    """Radius of the hollow back of a kerfed strip, and how far its corners stand off it, m; 0 where it has none."""
    inward = [one for one in edge.kerfs if not one.towards_mix]
    if not inward:
        return 0.0, 0.0
    tight = min(inward, key=lambda one: one.radius)
    return tight.radius - edge.thickness, tight.off


def _body(leg: Leg, share: float, timber: Timber, lean: float, hollow: tuple[float, float]) -> Prism:
    """A block against a back: it touches a straight one all along, a round one where it can."""
    at = point_at(leg, share)
    u = _direction(leg, share)
    n = right(u)
    radius, more = (leg.arc().radius, 0.0) if leg.bulge < 0.0 else hollow
    off = _sagitta(radius) + more if radius else 0.0
    foot = _quad(at, u, n, off, timber.deep)
    if lean == 0.0:
        return Prism(foot, timber.high)
    leant = _quad(at, u, n, off + timber.high * tan(lean), timber.deep - timber.high * tan(lean))
    return Prism(foot, timber.high, head=leant)


def _sagitta(radius: float) -> float:
    """How far a block's face stands off the middle of a hollow back that its ends touch."""
    half = min(LONG / 2.0, 0.9 * radius)
    return radius - sqrt(radius * radius - half * half)


def _direction(leg: Leg, share: float) -> Point:
    if leg.bulge == 0.0:
        return direction(leg)
    arc = leg.arc()
    x, y = arc.at(share)
    sense = 1.0 if leg.bulge > 0.0 else -1.0
    return (-sense * (y - arc.centre[1]) / arc.radius, sense * (x - arc.centre[0]) / arc.radius)


def _quad(at: Point, u: Point, n: Point, off: float, deep: float) -> Outline:
    """A rectangle along u, from ``off`` behind a point to ``deep`` further out."""
    corners = ((-1.0, off + deep), (1.0, off + deep), (1.0, off), (-1.0, off))
    return polygon(
        [
            (at[0] + s * LONG / 2.0 * u[0] + d * n[0], at[1] + s * LONG / 2.0 * u[1] + d * n[1])
            for s, d in corners
        ]
    )


def _part(body: Prism, timber: Timber, lean: float, name: str, group: str) -> Part:
    """A block as it is cut: along the stick, its foot down; the edge that bears on a leaning strip is bevelled."""
    outer_start, outer_end, *_ = body.outline.points
    u: Vec = ((outer_end[0] - outer_start[0]) / LONG, (outer_end[1] - outer_start[1]) / LONG, 0.0)
    inward: Vec = (-u[1], u[0], 0.0)
    outline = ((0.0, 0.0), (LONG, 0.0), (LONG, timber.deep), (0.0, timber.deep))
    start = body.outline.points[3]
    return Part(
        name=name,
        role="cleat",
        kind="stick",
        stock=timber.stick.name,
        group=group,
        cells=(),
        blank=Blank(LONG, timber.deep, timber.high, outline, (lean, 0.0, 0.0, 0.0)),
        placement=Placement((*start, 0.0), u, (-inward[0], -inward[1], 0.0), (0.0, 0.0, 1.0)),
        prisms=(body,),
    )


@record
class Bite:
    """A screw by what is printed on its box, what it passes through and how deep its thread holds, m."""

    size: str
    through: float
    into: float


def screw_for(hardware: Sequence[HardwareStock], through: float, into: float, use: str, name: str) -> Bite:
    """The longest screw that does not come out of what it joins.

    Args:
        hardware: of the shop.
        through: what its head holds, m.
        into: what its point holds in, m.
        use: what it joins, for messages.
        name: of the piece, for messages.

    Raises:
        StockError: where the shop lists none.
    """
    sizes = [one.size for one in hardware if one.item == "screw" and " x " in one.size]
    known = [(read(size.split(" x ", 1)[1], "length", None), size) for size in sizes]
    inside = [one for one in known if through + _LEAST_BITE <= one[0] <= through + into - _SKIN + 1e-9]
    if not inside:
        raise StockError(
            f"{name}: {use}: the shop lists no screw from {show.both(through + _LEAST_BITE)} to "
            f"{show.both(through + into - _SKIN)} long; add one as [[hardware]] to the shop file"
        )
    length, size = max(inside)
    return Bite(size, through, min(length - through, into))
