"""The whole program on one page: from a project to a plan, stage by stage.

A Plan is one frozen result that every output reads; nothing downstream computes a figure of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from formwork.cautions import cautions
from formwork.checks.all import mold_checks, parted, structure_checks
from formwork.checks.check import Check, NotChecked
from formwork.checks.handling import piece_volume, stripped_mass
from formwork.cutting.buy_list import BuyLine, embedded, hardware, mix_goods, sheets_and_sticks
from formwork.cutting.cut_list import CutLine, cut_list
from formwork.cutting.layouts import Layouts, Yard, lay_out
from formwork.cutting.records import Bound, SheetLayout, StickLayout
from formwork.cutting.search import USUAL, Search
from formwork.cutting.whole_job import WholeJob, whole_job
from formwork.errors import GeometryError, RangeError, StockError
from formwork.mix.design import mix_for
from formwork.mix.foam_check import foam_check
from formwork.mix.pour_records import FoamCheck, PieceLift, PieceToPour, Pour
from formwork.mix.pours import pours
from formwork.mix.records import Mix
from formwork.molds.asked import BuiltMold, fillings
from formwork.molds.design import brace, line
from formwork.molds.mold import Mold
from formwork.molds.structure import BuiltCentre, BuiltFrame, Structure
from formwork.project.records import PieceOrder, Project, Shop
from formwork.record import record
from formwork.units import show

if TYPE_CHECKING:
    from formwork.pour.measure import CupReading

_Result = TypeVar("_Result")

_OF_THE_SAW = ("saw kerf", "trim off a stick")
"""How lines of what is assumed begin that matter to pipe."""

__all__ = ["BuyLine", "CutLine", "PieceSummary", "Plan", "plan"]


@record
class PieceSummary:
    """One kind of piece, with what it weighs.

    Attributes:
        order: the project's order for it.
        volume: concrete in one piece, m3 (embedded things taken out).
        wet_mass: of one piece as poured, kg, embedded things included.
        dry_mass: oven-dry, kg, embedded things included.
        stripped_mass: when the mold comes off, taken as the wet mass: little water has left by then, kg.
        pours: fillings of its molds needed for all of them.
        cavities: how many one mold gives in one filling.
        lifts: that it is filled in, each set before the next goes on; a single one where it is filled in one go.
    """

    order: PieceOrder
    volume: float
    wet_mass: float
    dry_mass: float
    stripped_mass: float
    pours: int
    cavities: int = 1
    lifts: tuple[PieceLift, ...] = ()


@record
class Plan:
    """Everything a project comes to; a project of frames alone has no pieces, molds, mix and pours."""

    project: Project
    pieces: tuple[PieceSummary, ...]
    molds: tuple[Mold, ...]
    cut_list: tuple[CutLine, ...]
    checks: tuple[Check, ...]
    not_checked: tuple[NotChecked, ...]
    sheets: tuple[SheetLayout, ...]
    sticks: tuple[StickLayout, ...]
    bounds: tuple[Bound, ...]
    mix: Mix | None
    pours: tuple[Pour, ...]
    buy: tuple[BuyLine, ...]
    cautions: tuple[str, ...]
    frames: tuple[BuiltFrame, ...] = ()
    centres: tuple[BuiltCentre, ...] = ()
    foam_check: FoamCheck | None = None
    job: WholeJob | None = None
    cup: CupReading | None = None

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was taken from the built-in defaults, of pipe, tube, mold and mix only where there is some."""
        shop = self.project.shop
        own = shop.assumed if self.molds else (line for line in shop.assumed if line.startswith(_OF_THE_SAW))
        tubes = any(part.role == "tube" for mold in self.molds for part in mold.parts)
        return (
            *own,
            *(shop.pipes_assumed if self.frames else ()),
            *(shop.tubes_assumed if tubes else ()),
        )


def plan(project: Project, search: Search = USUAL) -> Plan:
    """Everything the project comes to.

    Args:
        project: as read.
        search: how long to look for fewer sheets.

    Raises:
        GeometryError: where a piece or its mold cannot exist.
        StockError: where no stock fits.
        RangeError: where no mix or no batch can be made as asked.
    """
    shop = project.shop
    mix = mix_for(project.mix, shop.cement, shop.foam) if project.mix else None
    lined = [one for order in project.orders for one in _at(order, line, order, shop, mix, project.units)]
    built = [_at(one.order, brace, one) for one in lined if not isinstance(one, Structure)]
    structures = tuple(one for one in lined if isinstance(one, Structure))
    found = [told for one in built for told in _at(one.order, mold_checks, one)]
    made, not_checked = parted((*found, *(told for one in structures for told in structure_checks(one))))
    checks = _mended(made, built, project, mix)
    molds = tuple(one.mold for one in built)
    wanted = [(one.mold, one.order.cast) for one in built]
    lines = cut_list(wanted, structures)
    layouts = lay_out(lines, _yard(project, built, structures, search))
    pieces = tuple(_summary(one, mix) for one in built) if mix else ()
    kinds = [_to_pour(piece, one.mold, mix) for piece, one in zip(pieces, built, strict=True)] if mix else []
    pour = partial(_pours, project, mix) if mix else _no_pours
    poured = pour(kinds)
    frames = tuple(one for one in structures if isinstance(one, BuiltFrame))
    mix_bought = _buy_mix(project, poured, mix)
    return Plan(
        project=project,
        pieces=pieces,
        molds=molds,
        cut_list=lines,
        checks=checks,
        not_checked=not_checked,
        sheets=layouts.sheets,
        sticks=layouts.sticks,
        bounds=layouts.bounds,
        mix=mix,
        pours=poured,
        buy=(*_buy(project, wanted, structures, layouts), *mix_bought),
        cautions=cautions(
            mix,
            shop.mixer,
            molds,
            frames=bool(frames),
        ),
        frames=frames,
        centres=tuple(one for one in structures if isinstance(one, BuiltCentre)),
        foam_check=foam_check(mix, shop.foam, project.units) if mix and poured else None,
        cup=_cup(mix, shop) if mix and poured else None,
        job=whole_job(
            poured,
            kinds,
            pour,
            shop,
            [(one.mold, one.order) for one in built],
            (lines, layouts),
            mix_bought,
            project.units,
        ),
    )


def _mended(
    made: tuple[Check, ...], built: Sequence[BuiltMold], project: Project, mix: Mix | None
) -> tuple[Check, ...]:
    """The checks, those that fail with what would make them pass."""
    if all(one.ok for one in made):
        return made
    from formwork.checks.mending import mended  # noqa: PLC0415 - only where a check fails

    return mended(made, built, project.orders, project.shop, mix, project.units)


def _at(order: PieceOrder, stage: Callable[..., _Result], *given: object) -> _Result:
    """What a stage makes of an order; what it refuses is said with the order's place in its file."""
    try:
        return stage(*given)
    except (GeometryError, StockError, RangeError) as refused:
        if not order.where:
            raise
        raise type(refused)(f"{order.where}: {refused}") from refused


def _yard(
    project: Project, built: Sequence[BuiltMold], structures: Sequence[Structure], search: Search
) -> Yard:
    shop = project.shop
    where = {one.mold.name: one.order.where for one in built}
    where |= {one.name: one.order.where for one in structures}
    return Yard(
        shop.sheets,
        (*shop.sticks, *shop.pipes, *(tube.stick for tube in shop.tubes)),
        shop.saw,
        partial(show.length, units=project.units),
        where,
        search,
    )


def _summary(built: BuiltMold, mix: Mix) -> PieceSummary:
    piece = built.mold.piece
    volume, wet = piece_volume(built.mold), stripped_mass(built.mold, mix)
    return PieceSummary(
        order=built.order,
        volume=volume,
        wet_mass=wet,
        dry_mass=volume * mix.dry_density + sum(thing.mass for thing in piece.embedded),
        stripped_mass=wet,
        pours=fillings(built.order, piece.cavities),
        cavities=piece.cavities,
        lifts=_in_lifts(built.mold),
    )


def _in_lifts(mold: Mold) -> tuple[PieceLift, ...]:
    """The lifts of a mold, with what each takes."""
    every = (*mold.lift_tops, mold.piece.form.fill)
    if len(every) == 1:
        return (PieceLift(every[0], 1.0),)
    from formwork.shapes.filled import shares  # noqa: PLC0415 - only a mold that is filled in lifts needs it

    return tuple(PieceLift(*each) for each in zip(every, shares(mold.piece, every), strict=True))


def _to_pour(piece: PieceSummary, mold: Mold, mix: Mix) -> PieceToPour:
    order = piece.order
    least = mold.piece.form.fill / mix.vibrated.rise if mix.vibrated else 0.0
    return PieceToPour(order.name, order.cast, order.molds, piece.cavities, piece.volume, least, piece.lifts)


def _cup(mix: Mix, shop: Shop) -> CupReading | None:
    """What the shop's weighing cup reads when the mix is right; None where the shop names no cup."""
    if shop.cup is None:
        return None
    from formwork.pour.reading import reading_wanted  # noqa: PLC0415 - only where there is a cup

    return reading_wanted(shop.cup, mix.wet_density)


def _no_pours(_: Sequence[PieceToPour]) -> tuple[Pour, ...]:
    """Where there is no mix nothing is poured."""
    return ()


def _pours(project: Project, mix: Mix, orders: Sequence[PieceToPour]) -> tuple[Pour, ...]:
    rules = project.batches
    return pours(
        orders,
        mix,
        project.shop.mixer,
        project.shop.foam,
        split=rules.split,
        overfill=rules.overfill,
        loss=rules.loss,
        leftover_molds=project.shop.leftover_molds,
        times=project.shop.times,
    )


def _buy(
    project: Project,
    wanted: Sequence[tuple[Mold, int]],
    structures: Sequence[Structure],
    layouts: Layouts,
) -> tuple[BuyLine, ...]:
    shop = project.shop
    length = partial(show.length, units=project.units)
    return (
        *sheets_and_sticks(layouts, length),
        *hardware((*(mold for mold, _ in wanted), *structures), shop.hardware, project.units),
        *embedded(wanted, length),
    )


def _buy_mix(project: Project, poured: Sequence[Pour], mix: Mix | None) -> tuple[BuyLine, ...]:
    shop = project.shop
    if mix is None or not poured:
        return ()
    return mix_goods(poured, mix, shop.cement, shop.foam, shop.hardware, project.units)
