"""The edged method: strips on edge round an outline, on a base; straight ones, and thin ones bent round its arcs.

Blocks behind the strips hold them; cores laid up from sheet keep holes free. Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos

from formwork.errors import GeometryError
from formwork.geometry.offsets import offset
from formwork.geometry.outlines import Outline, Point, area, perimeter
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.regions import overlapping
from formwork.molds.asked import Asked
from formwork.molds.backing import (
    SCREWS,
    Bite,
    Block,
    Timber,
    blocks,
    choose_timber,
    screw_for,
)
from formwork.molds.bearers import Bearers, bearers
from formwork.molds.choice import usual_sheet
from formwork.molds.edge_parts import (
    base_parts,
    core_part,
    edge_strip,
    extent,
    former_size,
    lean_of,
    stick_or_sheet,
    strip_parts,
    wetted_sides,
)
from formwork.molds.edge_stripping import off_the_piece, strips_off
from formwork.molds.edge_words import instructions
from formwork.molds.edging import (
    Edge,
    Locate,
    Stretch,
    choose_skins,
    joint,
    longest_cut,
    named,
    pairs,
    parted,
    stretches,
)
from formwork.molds.hardware import consumables, gathered, strip_pins
from formwork.molds.in_plan import InPlan, plan_cavity
from formwork.molds.kerfing import facets, kerfs, merged
from formwork.molds.load import Load
from formwork.molds.mold import Fixing, Hardware, Mold, Part
from formwork.molds.weighing import mass, part_volume
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.shapes.body import curved_volume
from formwork.shapes.piece import Curved, CurvedFormer, Piece, curved
from formwork.stock.records import SheetStock
from formwork.strength.customary import GRAVITY
from formwork.strength.fasteners import Holding, gravity, needed, screw, withdrawal
from formwork.strength.uplift import buoyancy, hold_down
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.show import UnitSystem

MARGIN = 0.02
"""How far the base reaches beyond what stands on it, m (common practice, no source)."""


@record
class Lined:
    """The strips, cores and edge strip, before anything holds them.

    Attributes:
        order: what is wanted.
        piece: as the strips form it.
        load: the mix, as the blocks must take it.
        shop: what it is built from.
        edges: the strips in order round the mold.
        lean: of the strips outward, going up.
        sheet: of the base and the straight strips.
        planes: register of the strips' faces.
        strips: the strips as parts, one for each edge.
        formers: cores and edge strip as parts.
        uses: fillings the mold is built for.
        owned: the shop has the mold already.
        units: how a person here reads a length.
        locate: says where a place of the mold lies on the good face.
    """

    order: PieceOrder
    piece: Piece
    load: Load
    shop: Shop
    edges: tuple[Edge, ...]
    lean: float
    sheet: SheetStock
    planes: Planes
    strips: tuple[Part, ...]
    formers: tuple[Part, ...]
    uses: int
    owned: bool
    units: UnitSystem
    locate: Locate

    @property
    def layers(self) -> int:
        """There are no dividers."""
        return 1

    @property
    def form(self) -> Curved:
        """What the piece is, as formed."""
        return curved(self.piece)

    @property
    def outside(self) -> Prism:
        """Its envelope."""
        body = self.form.outside
        assert isinstance(body, Prism)
        return body


@record
class Screwed:
    """A joint of a mold of edge forms: what it joins, its screw, how many in all, at how many places."""

    use: str
    bite: Bite
    count: int
    places: int
    comes_off: bool


@record
class Built:
    """A mold of edge forms, and what the checks must know of how it was designed.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        blocks: behind the strips.
        timber: that they are cut from.
        screws: of every joint, by what it holds: "base", "strip", "corner", "core".
        closing: what the parts enclose.
        bearers: what the base may lie on where the bench is not flat.
    """

    mold: Mold
    lined: Lined
    blocks: tuple[Block, ...]
    timber: Timber
    screws: dict[str, Screwed]
    closing: InPlan
    bearers: Bearers | Unjudged

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return self.closing.leaks


def lined(asked: Asked) -> Lined:
    """The strips round the piece, and what keeps its holes and its chamfer.

    Raises:
        GeometryError: where the piece is no outline, or an arc is tighter than any strip bends, saying where.
        StockError: where the shop has nothing to build it from.
    """
    order, shop, name = asked.order, asked.shop, asked.piece.name
    outside = _prism(asked.piece)
    locate = _locate(asked.piece, outside, asked.units)
    lean = lean_of(outside)
    if lean < -1e-9:
        raise GeometryError(f"{name}: its edges lean inward, going up: strips on edge would hold it locked")
    sheet = usual_sheet(shop, order.mold, asked.uses)
    edges = named(_edges(asked, outside, sheet, lean, locate))
    piece = _as_parted(asked, outside, edges)
    planes = Planes()
    strips = strip_parts(planes, edges, outside.height, lean, name, locate)
    _refuse_clash(strips, edges, name, locate)
    formers = tuple(_former_part(former, shop, sheet) for former in curved(piece).formers)
    return Lined(
        order, piece, asked.load, shop, edges, lean, sheet, planes, strips, formers, asked.uses, asked.owned,
        asked.units, locate,
    )  # fmt: skip


def _prism(piece: Piece) -> Prism:
    outside = curved(piece).outside
    if not isinstance(outside, Prism) or outside.axis[2] < 1.0 - 1e-9:
        raise GeometryError(
            f"{piece.name}: edge forms stand round an outline with a thickness; this piece is turned"
        )
    if piece.plugs or outside.openings:
        raise GeometryError(f"{piece.name}: edge forms take holes as cores, not as plugs")
    return outside


def _locate(piece: Piece, outside: Prism, units: UnitSystem) -> Locate:
    """Places as they were drawn: a piece that is turned over lies mirrored in its mold."""
    x0, y0, _ = outside.origin

    def say(place: Point) -> str:
        x = x0 - place[0] if piece.turned_over else place[0] - x0
        return f"x {show.length(x, units)}, y {show.length(place[1] - y0, units)}"

    return say


def _edges(asked: Asked, outside: Prism, sheet: SheetStock, lean: float, locate: Locate) -> tuple[Edge, ...]:
    """Every stretch with its stock, in parts where no stock is long enough."""
    options, shop, name = asked.order.mold, asked.shop, asked.piece.name
    found = stretches(outside)
    bent = [one for one in found if one.bent]
    stick = next((one for one in shop.sticks if one.name == options.stick), None)
    ripped = stick_or_sheet(stick, sheet, outside.height / cos(lean), name)
    skins = iter(choose_skins(shop.sheets, options.skin, bent, name, locate) if bent else ())
    edges: list[Edge] = []
    for one in found:
        if not one.bent:
            most = longest_cut(ripped, False, shop.saw.trim)
            edges += [Edge("", part, ripped, ripped.thickness) for part in parted(one, most)]
        elif (skin := next(skins)) is not None:
            most = longest_cut(skin.sheet, skin.upright, shop.saw.trim)
            edges += [
                Edge("", part, skin.sheet, skin.sheet.thickness, skin.upright, skin.limit, skin.source)
                for part in _ring_parted(one, most, len(found))
            ]
        else:
            thick = next(each for each in shop.sheets if each.name == options.skin)
            edges += _kerfed(asked, one, thick, lean, locate)
    return tuple(edges)


def _kerfed(asked: Asked, stretch: Stretch, sheet: SheetStock, lean: float, locate: Locate) -> list[Edge]:
    """Kerfed strips along a stretch, as the facets that they form.

    Raises:
        GeometryError: where the edge leans, or an arc is too tight for kerfs, saying where.
    """
    name, saw = asked.piece.name, asked.shop.saw
    if lean > 0.0:
        raise GeometryError(
            f"{name}: mold.skin: {sheet.name} is too stiff to bend round {locate(stretch.middle)}, and a kerfed strip "
            "stands square: leave the draft out, or name a sheet that bends"
        )
    made = []
    for part in parted(stretch, 0.8 * longest_cut(sheet, False, saw.trim)):
        arcs = merged(part.foot)
        try:
            found = tuple(kerfs(arc, sheet.thickness, saw.kerf) for arc in arcs)
        except GeometryError as tight:
            raise GeometryError(
                f"{name}: mold.skin: {sheet.name}: at {locate(part.middle)} {tight}; a wider arc, or a thinner sheet"
            ) from tight
        flats = tuple(leg for arc, one in zip(arcs, found, strict=True) for leg in facets(arc, one.count))
        made.append(Edge("", Stretch(flats, flats), sheet, sheet.thickness, kerfs=found))
    return made


def _ring_parted(stretch: Stretch, most: float, count: int) -> tuple[Stretch, ...]:
    """A stretch in parts; one that closes on itself is one strip whose ends meet, where the stock is long enough."""
    return parted(stretch, most if count > 1 or stretch.length > most else stretch.length)


def _as_parted(asked: Asked, outside: Prism, edges: Sequence[Edge]) -> Piece:
    """The piece as strips form it: in facets where they are kerfed; with corners where they meet on leaning arcs."""
    piece = asked.piece
    if any(edge.kerfs for edge in edges):
        return _in_facets(asked, outside, edges)
    if outside.head is None or outside.head.bulges == outside.outline.bulges:
        return piece
    legs_foot = [leg for edge in edges for leg in edge.stretch.foot]
    legs_head = [leg for edge in edges for leg in edge.stretch.head]
    x, y, _ = outside.origin
    foot, head = (
        Outline(tuple((leg.start[0] - x, leg.start[1] - y) for leg in some), tuple(leg.bulge for leg in some))
        for some in (legs_foot, legs_head)
    )
    made = replace(outside, outline=foot, head=head)
    formers = tuple(_strip_parted(former, outside, made) for former in curved(piece).formers)
    return replace(piece, form=Curved(made, formers, curved(piece).fill))


def _in_facets(asked: Asked, outside: Prism, edges: Sequence[Edge]) -> Piece:
    """The piece whose arcs are the facets of kerfed strips, its chamfer along them."""
    piece, (x, y, _) = asked.piece, outside.origin
    some = [leg for edge in edges for leg in edge.stretch.foot]
    formed = Outline(
        tuple((leg.start[0] - x, leg.start[1] - y) for leg in some), tuple(leg.bulge for leg in some)
    )
    formers = tuple(_along_facets(former, formed) for former in curved(piece).formers)
    form = Curved(replace(outside, outline=formed, head=None), formers, curved(piece).fill)
    nominal, volume = curved_volume(curved(piece)), curved_volume(form)
    off = max(one.off for edge in edges for one in edge.kerfs)
    more = f"{100.0 * (volume / nominal - 1.0):+.2f} %"
    note = (
        f"Kerfed edges form facets that stand up to {show.length(off, asked.units)} off the arc and print a line at "
        f"each kerf. Nominal volume {show.volume(nominal, asked.units)}; as formed {more}."
    )
    return replace(piece, form=form, notes=(*piece.notes, note))


def _along_facets(former: CurvedFormer, formed: Outline) -> CurvedFormer:
    if former.kind == "core":
        return former
    size = former_size(former)
    body = replace(
        _body(former), outline=formed, head=None, openings=(offset(formed, -size),), head_openings=(formed,)
    )
    return replace(former, body=body)


def _strip_parted(former: CurvedFormer, outside: Prism, made: Prism) -> CurvedFormer:
    """The edge strip along an outside that was parted."""
    body = former.body
    if not isinstance(body, Prism) or body.outline != outside.outline:
        return former
    head = made.at(body.height / made.height)
    return replace(former, body=replace(body, outline=made.outline, head=head))


def _former_part(former: CurvedFormer, shop: Shop, sheet: SheetStock) -> Part:
    if former.kind != "core":
        return edge_strip(former)
    body = former.body
    assert isinstance(body, Prism)
    alike = [one for one in shop.sheets if one.material == sheet.material and not one.offcut]
    return core_part(former, alike or [sheet], -lean_of(body))


def _refuse_clash(strips: Sequence[Part], edges: Sequence[Edge], name: str, locate: Locate) -> None:
    """Narrow notches may leave no room for two strips.

    Raises:
        GeometryError: where two strips would fill the same space.
    """
    for i, one in enumerate(strips):
        for j in range(i):
            for (a,), (b,) in ((one.prisms, strips[j].prisms),):
                met = overlapping(a.outline, b.outline) or overlapping(a.top, b.top)
                if met is not None:
                    raise GeometryError(
                        f"{name}: the {strips[j].name} and the {one.name} would need the same room at {locate(met)}; "
                        f"the place is too narrow for two strips of {show.both(edges[i].thickness)}: widen it, name a "
                        'thinner sheet, or method = "stacked"'
                    )


def brace(lined: Lined) -> Built:
    """The mold: strips and cores with the base and the blocks that hold them, and everything bought for it.

    Raises:
        StockError: where a joint finds no screw, or the blocks no stick.
    """
    timber = choose_timber(lined.shop.sticks, lined.order.mold.stick, lined.load.fill, lined.piece.name)
    found = blocks(lined.edges, timber, lined.load, lined.lean, lined.strips)
    behind = tuple(block.part for block in found)
    reach = extent((*lined.strips, *behind), MARGIN)
    base = base_parts(lined.sheet, reach, lined.shop.saw.trim, lined.piece.name)
    parts = (*base, *lined.formers, *lined.strips, *behind)
    holding = (*base, *lined.formers, *lined.strips)
    closing = plan_cavity(holding, lined.load.fill, lined.piece.pour_points)
    screws = {} if lined.owned else _screws(lined, found, timber)
    under = bearers(lined.sheet, lined.load, lined.units)
    words = instructions(lined, under, screws=bool(screws))
    made = _mold(lined, parts, closing, screws)
    return Built(replace(made, instructions=words), lined, found, timber, screws, closing, under)


def _mold(lined: Lined, parts: tuple[Part, ...], closing: InPlan, screws: dict[str, Screwed]) -> Mold:
    form, outside, lean = lined.form, lined.outside, lined.lean
    cores = [former for former in form.formers if former.kind == "core"]
    steps, locked = strips_off(lined.edges, lean)
    leans = [(core.name, -lean_of(_body(core))) for core in cores]
    holes = sum(area(_body(core).outline) for core in cores)
    wet = (
        area(outside.outline) - holes + wetted_sides(outside, lean)
        + sum(wetted_sides(_body(core), lean_of(_body(core))) for core in cores)
    )  # fmt: skip
    seam = (
        perimeter(outside.outline) + sum(perimeter(_body(core).outline) for core in cores)
        + len(lined.edges) * outside.height / cos(lean)
    )  # fmt: skip
    bought = () if lined.owned else _bought(lined, screws)
    return Mold(
        name=f"{lined.order.name} mold",
        method=lined.order.mold.method,
        piece=lined.piece,
        planes=lined.planes,
        parts=parts,
        hardware=(*bought, *consumables(wet, seam, lined.uses)),
        cavity=closing.volume,
        nominal=curved_volume(form),
        stripping=(*steps, *off_the_piece(leans, len(cores) < len(form.formers))),
        locked=locked,
        wetted=wet,
        seams=seam,
        uses=lined.uses,
        owned=lined.owned,
        copies=lined.order.molds,
        instructions=(),
        fixings=() if lined.owned else (*map(_fixing, screws.values()), *strip_pins(parts)),
        mass=mass(parts, lined.shop),
        under=mass([part for part in parts if part.role in ("base", "board")], lined.shop),
    )


def _body(former: CurvedFormer) -> Prism:
    assert isinstance(former.body, Prism)
    return former.body


def _screws(lined: Lined, found: Sequence[Block], timber: Timber) -> dict[str, Screwed]:
    """The screws of every joint: as many as the rule of the joint, more where the mix pulls more."""
    shop, name, base = lined.shop, lined.piece.name, lined.sheet.thickness
    count = SCREWS * len(found)
    up = screw_for(shop.hardware, base, timber.high, "base to blocks, from below", name)
    made = {"base": Screwed("base to blocks, from below", up, count, len(found), comes_off=True)}
    for thickness in sorted({edge.thickness for edge in lined.edges}):
        held = [block for block in found if lined.edges[block.edge].thickness == thickness]
        if held:
            use = f"strips of {show.length(thickness, lined.units)} to their blocks"
            bite = screw_for(shop.hardware, thickness, timber.deep, use, name)
            made[f"strip {thickness:.4f}"] = Screwed(
                use, bite, SCREWS * len(held), len(held), comes_off=False
            )
    laps = [_past(*pair) for pair in pairs(lined.edges) if joint(*pair) in ("lap", "lap back")]
    if laps:
        thick = laps[0].thickness
        bite = screw_for(shop.hardware, thick, 0.045, "strips to one another at corners", name)
        made["corner"] = Screwed(
            "strips to one another at corners", bite, 2 * len(laps), len(laps), comes_off=True
        )
    cores = [part for part in lined.formers if part.role == "board"]
    if cores:
        made["core"] = _core_screws(lined, cores)
    return made


def _past(before: Edge, after: Edge) -> Edge:
    """The strip that runs past at a lap."""
    return after if joint(before, after) == "lap back" else before


def _core_screws(lined: Lined, cores: Sequence[Part]) -> Screwed:
    """Screws up into every core: two, or what its buoyancy asks."""
    use = "base to cores, from below"
    bite = screw_for(lined.shop.hardware, lined.sheet.thickness, lined.load.fill, use, lined.piece.name)
    each = withdrawal(screw(bite.size), Holding(gravity("")), bite.into).value
    counts = [max(2, needed(core_pull(lined, core), each)) for core in cores]
    return Screwed(use, bite, max(counts) * len(cores), len(cores), comes_off=True)


def core_pull(lined: Lined, core: Part) -> float:
    """What the screws of a core must hold, N: its buoyancy, less its own weight."""
    lift = buoyancy(lined.load.density, part_volume(core))
    return hold_down(lift, GRAVITY * mass([core], lined.shop))


def _fixing(one: Screwed) -> Fixing:
    return Fixing(one.use, "screw", one.bite.size, one.count, one.places, one.comes_off)


def _bought(lined: Lined, screws: dict[str, Screwed]) -> tuple[Hardware, ...]:
    lines = [Hardware("screw", one.bite.size, float(one.count), "piece", one.use) for one in screws.values()]
    pins = strip_pins(lined.formers)
    lines += [Hardware(pin.item, pin.size, float(pin.count), "piece", pin.use) for pin in pins]
    for former in lined.form.formers:
        if former.kind == "strip":
            size = show.length(former_size(former), lined.units)
            long = perimeter(_body(former).outline)
            lines.append(
                Hardware("chamfer strip", f"{size} x {size}", long, "m", "round the foot of the strips")
            )
    return gathered(lines)
