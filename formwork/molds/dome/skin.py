"""The skin of a dome's form: which sheet bends to the meridian, in how many layers, and how many ribs it asks for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import acos, asin, ceil, cos, inf, pi

from formwork.errors import GeometryError, StockError
from formwork.geometry.meridians import Meridian
from formwork.geometry.ribs import rib_count
from formwork.molds.asked import Asked
from formwork.molds.load import PANEL_LIMIT, Load
from formwork.molds.strengths import skin_of
from formwork.record import record
from formwork.shapes.piece import Shell
from formwork.stock.records import SheetStock
from formwork.strength.bending import published
from formwork.strength.customary import GRAVITY
from formwork.strength.spanning import max_span
from formwork.strength.working import Unjudged
from formwork.units import show

WIDEST_BAY = 0.6
"""Greatest distance between ribs whatever the skin carries, m (common practice, no source)."""
_BOW = 0.25
"""Share of the shell's thickness by which the middle of a flat facet may lie inside the dome (ours)."""
_MOST_LAYERS = 4
_LAYER_COST = 6
"""How many ribs one more layer of skin may save before it is worth it (ours)."""
_FEWEST = 12
_MOST = 160


@record
class SkinChoice:
    """A sheet to bend, in how many layers, and how far apart its ribs may stand (m; None where nobody says)."""

    sheet: SheetStock
    layers: int
    spacing: float | None


def skin_pressure(shell: Shell, load: Load) -> float:
    """Greatest pressure on the inner form's skin, Pa: the head of a fluid mix, or the weight of a stiff shell."""
    return load.weight(0.0) if shell.placed == "fluid" else load.density * GRAVITY * shell.thickness


def outside_of(shell: Shell) -> Meridian:
    """The meridian of a shell's outside, between its own springing and oculus."""
    outside = shell.inside.moved(shell.thickness)
    foot = outside.springing if shell.radial else outside.at_height(0.0)
    top = outside.at_radius(shell.oculus) if shell.oculus > 0.0 else 0.0
    return replace(outside, springing=foot, oculus=top)


def skin_for(asked: Asked, shell: Shell, pressure: float, widest: float) -> SkinChoice:
    """The sheet and layers that need the least of ribs and layers together.

    Raises:
        StockError: where no sheet of the shop bends so tightly, or the one that is named does not.
    """
    named = asked.order.mold.skin
    whole = [sheet for sheet in asked.shop.sheets if not sheet.offcut]
    if named is not None:
        return _named(asked, shell, [one for one in whole if one.name == named], pressure, widest)
    found = [
        choice
        for sheet in whole
        if bends(sheet, shell)
        for choice in _layered(sheet, pressure, widest, asked.order.mold.skin_layers)
        if choice.spacing is not None
    ]
    if not found:
        raise StockError(
            f"{asked.piece.name}: no sheet of the shop bends to {show.both(tightest(shell))} radius and has a known "
            "strength; add thin plywood to the shop file, or name one with skin in the piece's mold table"
        )
    return min(found, key=lambda one: (_effort(one, shell, widest), one.sheet.name))


def _named(
    asked: Asked, shell: Shell, found: Sequence[SheetStock], pressure: float, widest: float
) -> SkinChoice:
    name = asked.order.mold.skin
    if not found:
        names = ", ".join(sorted({one.name for one in asked.shop.sheets}))
        raise StockError(f"{asked.piece.name}: mold.skin: got '{name}', want one of {names}")
    sheet = found[0]
    if not bends(sheet, shell):
        raise StockError(
            f"{asked.piece.name}: mold.skin: '{name}' is not known to bend to {show.both(tightest(shell))} radius"
            f"{_limit(sheet)}; want a thinner sheet, or enter bend_radius in the shop file"
        )
    return min(
        _layered(sheet, pressure, widest, asked.order.mold.skin_layers),
        key=lambda one: _effort(one, shell, widest),
    )


def _limit(sheet: SheetStock) -> str:
    limit = least_radius(sheet)
    return "" if limit is None else f" (its least is {show.both(limit)})"


def tightest(shell: Shell) -> float:
    """Radius to which the skin is bent where that is tightest, m; ribs at 16 planes or more are taken."""
    inside = shell.inside
    turns = [inside.oculus + (inside.springing - inside.oculus) * i / 8.0 for i in range(9)]
    return min(inside.bend(turn) for turn in turns) * cos(pi / 16.0) ** 2


def least_radius(sheet: SheetStock) -> float | None:
    """Least radius to which a sheet bends the easy way, m; None where nobody says."""
    if sheet.bend_radius is not None:
        return sheet.bend_radius
    found = published(sheet.material, sheet.thickness, "across")
    return None if isinstance(found, Unjudged) else found.radius


def bends(sheet: SheetStock, shell: Shell) -> bool:
    """A sheet bends to the shell's meridian."""
    limit = least_radius(sheet)
    return limit is not None and limit <= tightest(shell) + 1e-9


def _layered(sheet: SheetStock, pressure: float, widest: float, asked: int | None) -> list[SkinChoice]:
    """The sheet in one layer and in more, or in as many as are asked for, with the spacing of ribs each carries."""
    found = []
    for layers in range(1, _MOST_LAYERS + 1) if asked is None else (asked,):
        section = skin_of(sheet, layers)
        if isinstance(section, Unjudged):
            return [SkinChoice(sheet, layers, None)]
        span = max_span(section, pressure, 1, PANEL_LIMIT, 0.0).least
        found.append(SkinChoice(sheet, layers, min(span, WIDEST_BAY, widest)))
    return found


def _effort(choice: SkinChoice, shell: Shell, widest: float) -> float:
    return ribs_for(choice, shell, widest) + _LAYER_COST * choice.layers


def ribs_for(choice: SkinChoice, shell: Shell, widest: float, passing: float = inf) -> int:
    """Ribs that the skin asks for, that keep its facets near the round, and its gores fit to pass the openings."""
    by_bow = pi / acos(max(0.0, 1.0 - _BOW * shell.thickness / widest))
    by_span = rib_count(widest, choice.spacing or WIDEST_BAY)
    by_way = pi / asin(min(1.0, passing / (2.0 * widest)))
    return max(_FEWEST, by_span, 4 * ceil(max(by_bow, by_way) / 4.0 - 1e-9))


def refuse_count(name: str, count: int) -> None:
    """Refuse a number of ribs that does not halve, or that nobody would build.

    Raises:
        GeometryError: with what would do.
    """
    if count % 4 or not _FEWEST <= count <= _MOST:
        raise GeometryError(
            f"{name}: ribs: got {count}, want a multiple of 4 from {_FEWEST} to {_MOST}, so that every other rib can "
            "end at a header; fewer come of a stronger skin, a thinner shell or a lighter mix"
        )
