"""Which sheet each bent strip of a mold of edge forms is cut from, or that it is kerfed. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.errors import GeometryError, StockError
from formwork.molds.edges.edging import Locate, Stretch, hollow_radius
from formwork.molds.edges.kerfing import may_be_kerfed
from formwork.record import record
from formwork.stock.records import SheetStock
from formwork.strength.bending import Bend, published
from formwork.units import show


@record
class Skin:
    """A sheet to bend: which, which way round, how tightly, and who says so."""

    sheet: SheetStock
    upright: bool
    limit: float
    source: str

    @property
    def steel(self) -> bool:
        """It is of metal."""
        return self.sheet.material == "sheet steel"


def choose_skins(
    sheets: Sequence[SheetStock], named: str | None, bent: Sequence[Stretch], name: str, locate: Locate
) -> tuple[Skin | None, ...]:
    """The sheet that each bent strip is cut from: the thickest that bends tightly enough, one for all where one can be.

    Steel, which bends tighter than any wood, only where no wood does. A sheet that is named though it is too stiff to
    bend is kerfed, where it may be: then there is no skin.

    Raises:
        StockError: where the named sheet may not be bent at all, as far as anybody says.
        GeometryError: where an arc is tighter than any sheet bends, naming every such arc.
    """
    whole = [sheet for sheet in sheets if not sheet.offcut and named in (None, sheet.name)]
    known = sorted((skin for sheet in whole for skin in _ways(sheet)), key=_rank)
    if named is not None and all(may_be_kerfed(sheet) for sheet in whole):
        return tuple(next((skin for skin in known if _bends(skin, one)), None) for one in bent)
    if not known:
        raise StockError(
            f"{name}: mold.skin: nobody says how tightly {named or 'any sheet of the shop'} may be bent; "
            "enter its maker's or your own radius as bend_radius"
        )
    if not all(any(_bends(skin, one) for skin in known) for one in bent):
        raise GeometryError(_too_tight(known, bent, name, locate))
    wooden = [skin for skin in known if not skin.steel]
    easy = [one for one in bent if any(_bends(skin, one) for skin in wooden)]
    return tuple(_common(known, easy if one in easy else bent, one) for one in bent)


def _common(known: Sequence[Skin], some: Sequence[Stretch], one: Stretch) -> Skin:
    """The first skin that serves all of some stretches, else the first that serves one of them."""
    for_all = (skin for skin in known if all(_bends(skin, other) for other in some))
    return next(for_all, None) or next(skin for skin in known if _bends(skin, one))


def _bends(skin: Skin, stretch: Stretch) -> bool:
    return hollow_radius(stretch, skin.sheet.thickness) >= skin.limit


def _ways(sheet: SheetStock) -> list[Skin]:
    """The ways in which a sheet may be bent, the face grain running along the strip before it stands upright."""
    found = []
    for way in ("along", "across"):
        limit = published(sheet.material, sheet.thickness, way)
        if isinstance(limit, Bend):
            found.append(Skin(sheet, sheet.grain and way == "across", limit.radius, limit.source))
    if sheet.bend_radius is not None:
        found = [one for one in found if not one.upright and sheet.grain]
        found.append(Skin(sheet, sheet.grain, sheet.bend_radius, "bend_radius of the shop file"))
    return found


def _rank(skin: Skin) -> tuple[bool, float, bool, float, str]:
    return skin.steel, -round(skin.sheet.thickness, 4), skin.upright, -skin.sheet.length, skin.sheet.name


def _too_tight(known: Sequence[Skin], bent: Sequence[Stretch], name: str, locate: Locate) -> str:
    best = min(known, key=lambda skin: skin.limit)
    tight = [one for one in bent if not any(_bends(skin, one) for skin in known)]
    arcs = "; ".join(
        f"an arc of radius {show.both(one.tightest.arc().radius)} at {locate(one.tightest.arc().at(0.5))}"
        for one in tight
    )
    return (
        f"{name}: tighter than {best.sheet.name} bends ({show.both(best.limit)} on its hollow face): {arcs}; draw a "
        "wider arc there, name a sheet that bends tighter as mold.skin, or a thick one that is then kerfed; or let the "
        'mold be of sheets with the outline cut out: method = "stacked"'
    )
