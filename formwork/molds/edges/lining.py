"""The lining of a mold of edge forms: the strips round the piece, what each is cut from, and the piece as they form it.

Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos

from formwork.errors import GeometryError
from formwork.geometry.offsets import offset
from formwork.geometry.outlines import Outline, Point
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.regions import overlapping
from formwork.molds.asked import Asked
from formwork.molds.choice import usual_sheet
from formwork.molds.edges.choice import choose_skins
from formwork.molds.edges.edging import (
    Edge,
    Locate,
    Stretch,
    longest_cut,
    named,
    parted,
    stretches,
)
from formwork.molds.edges.kerfing import facets, kerfs, merged
from formwork.molds.edges.parts import (
    core_part,
    edge_strip,
    former_size,
    lean_of,
    stick_or_sheet,
    strip_parts,
)
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.project.records import PieceOrder, Shop
from formwork.record import record
from formwork.shapes.body import curved_volume
from formwork.shapes.piece import Curved, CurvedFormer, Piece, curved
from formwork.stock.records import SheetStock
from formwork.units import show
from formwork.units.show import UnitSystem


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
    piece = _in_facets(asked, outside, edges) if any(edge.kerfs for edge in edges) else asked.piece
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
        space_of(former),
        outline=formed,
        head=None,
        openings=(offset(formed, -size),),
        head_openings=(formed,),
    )
    return replace(former, body=body)


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


def space_of(former: CurvedFormer) -> Prism:
    """The prism that a former fills."""
    assert isinstance(former.body, Prism)
    return former.body
