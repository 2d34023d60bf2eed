"""Sheets: where each blank falls on which sheet, cut by cut, and how far the plan is from the best possible."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Literal

from formwork.cutting.bounds import Least, least_cost
from formwork.cutting.cuts import cut_sheet
from formwork.cutting.fill import ACROSS, ALONG, Filled
from formwork.cutting.job import SheetJob, Show, in_mm, sheet_job
from formwork.cutting.long_search import search_long
from formwork.cutting.records import Bound, SheetLayout, SheetPart, SheetPlan
from formwork.cutting.repack import Packer
from formwork.cutting.search import Search, never
from formwork.cutting.tidy import one_offcut, rips_first
from formwork.cutting.tree import region
from formwork.errors import StockError
from formwork.stock.records import Saw, SheetStock

KEEP = (0.3, 0.15)
"""Longer and shorter side of the least offcut worth keeping, m. Common practice, no source."""

_SEARCH, _SEARCH_PART = 300_000, 3_000
"""Quick work spent on fewer sheets where the bound is not reached: for a job, and more for each of its first parts."""

_EXACT = 0.3
"""Share of that for plans whose last turn of the saw leaves nothing to trim, which are tried first."""

_MANY = 500
"""Beyond so many parts the first packing is content with fewer tries."""

_FEW = 60
"""So many parts are few: the quick search mostly does for them."""

_TURNS, _TURNS_FEW = 15, 5
"""Turns of the long search that are usual, with many parts and with few; effort beyond the usual adds to both."""

_FULL, _FULL_FEW = 0.965, 0.9
"""Where one sheet less would have to be filled to more than this, the quick search is all that is usual: of many jobs
of 200 to 500 parts, and of those of 60 at most, none was cut that closely."""

_TRIES, _TRIES_MANY = 8, 3
"""Fillings of each sheet in the first packing, of which the best counts."""

_GATHER, _TIDY = 40_000, 20_000
"""Most work spent on bringing the waste together, and on each way of laying the same sheets out more kindly."""


def nest(
    parts: Sequence[SheetPart],
    stock: Sequence[SheetStock],
    saw: Saw,
    stages: int = 3,
    *,
    first: Literal["length", "width"] | None = None,
    keep: tuple[float, float] = KEEP,
    effort: float = 1.0,
    show: Show = in_mm,
    stopped: Callable[[], bool] = never,
    known: float | None = None,
) -> SheetPlan:
    """Place all blanks on sheets, straight through cuts only, at the lowest cost found.

    Cost is the price of the sheets; where the price of any sheet but an offcut is missing, it is their number. An
    offcut on hand without a price costs nothing. Among plans of equal cost one that uses up less sheet is taken,
    then one that leaves the waste together, in one large offcut.

    Args:
        parts: the blanks, m.
        stock: sheets that serve for all of them, of one or several sizes, m.
        saw: kerf and trim, m; every edge of a sheet that a blank lies on is trimmed, offcuts as well.
        stages: how often at most the cuts may change direction, the first cuts counted; 2 or more. Not counted are
            the trims of the sheet's edges, and a last cut that trims one blank to its size.
        first: direction of the first cuts; None: whichever serves better, along the length where both do.
        keep: longer and shorter side of the least offcut worth keeping, m.
        effort: work spent on the search, as a multiple of the usual.
        show: how messages write a length (m).
        stopped: asked now and then whether to make do with the best plan so far.
        known: a cost that no plan can go below; None: it is worked out.

    Raises:
        RangeError: a size, a quantity or the saw makes no sense.
        StockError: a part is larger than every sheet, or the sheets on hand are too few.
    """
    job = sheet_job(parts, stock, saw, stages, show)
    packer = Packer(job.kinds, job.sheets, stages, {"length": ALONG, "width": ACROSS, None: None}[first], 20)
    asked = _Asked(stopped)
    packed, least = _search(job, packer, Search(effort, asked), known)
    _check_enough(job, packed, show)
    layouts = _listed(job, _tidied(job, packer, packed, keep, effort, first is None), keep)
    return SheetPlan(layouts, _bound(job, packer.worth(packed).cost, least, asked.ended))


class _Asked:
    """Asks whether to end, and remembers that it was to."""

    def __init__(self, stopped: Callable[[], bool]) -> None:
        self._stopped, self.ended = stopped, False

    def __call__(self) -> bool:
        self.ended = self.ended or self._stopped()
        return self.ended


def _search(job: SheetJob, packer: Packer, search: Search, known: float | None) -> tuple[list[Filled], Least]:
    """Pack, bound, and go on until both meet or the work is spent."""
    limits = [sheet.limit for sheet in job.sheets]
    many = sum(job.kinds.wanted)
    tries = _TRIES if many <= _MANY else _TRIES_MANY
    packed = packer.pack(list(job.kinds.wanted), limits, tries, float("inf")) or []
    cost = packer.worth(packed).cost
    least = least_cost(job.kinds, job.sheets, cost) if known is None else Least(min(known, cost), "given")
    packed = _improved(packer, packed, limits, least.cost, search)
    return packer.gather(packed, limits, int(min(search.effort, 1.0) * _GATHER)), least


def _improved(
    packer: Packer, packed: list[Filled], limits: list[int], target: float, search: Search
) -> list[Filled]:
    """Search quickly, without a last trim and with it, then long, until the target is met or the work is spent.

    More effort goes on where less would have stopped.
    """
    many, effort = sum(packer.kinds.wanted), search.effort
    work = min(effort, 1.0) * (_SEARCH + _SEARCH_PART * min(many, _FEW))
    packed = packer.improve(packed, limits, target, int(_EXACT * work))
    packer.trims = True
    packed = packer.improve(packed, limits, target, int(work) - int(_EXACT * work))
    turns = int(min(effort, 1.0) * _usual_turns(packer, packed) + max(0.0, effort - 1.0) * _TURNS)
    if turns > 0 and packer.worth(packed).cost > target + 1e-9:
        return search_long(packer, packed, limits, target, turns, search.stopped)
    return packed


def _usual_turns(packer: Packer, packed: list[Filled]) -> int:
    """Turns of the long search; none where the sheets without the smallest of them could hardly hold the blanks."""
    few = sum(packer.kinds.wanted) <= _FEW
    sizes = [packer.sheets[one.sheet].length * packer.sheets[one.sheet].width for one in packed]
    room = (_FULL_FEW if few else _FULL) * (sum(sizes) - min(sizes, default=0))
    if sum(one.area for one in packed) > room:
        return 0
    return _TURNS_FEW if few else _TURNS


def _check_enough(job: SheetJob, packed: list[Filled], show: Show) -> None:
    """Refuse a plan that needs sheets the shop does not have, and say what is missing.

    Raises:
        StockError: naming the sheets and the parts that found no room.
    """
    lacking = [one for one in packed if job.sheets[one.sheet].missing]
    if not lacking:
        return
    parts: dict[str, int] = {}
    sheets: dict[str, int] = {}
    for one in lacking:
        stock = job.stock[one.sheet]
        size = f"{stock.name} ({show(stock.length)} x {show(stock.width)})"
        sheets[size] = sheets.get(size, 0) + 1
        for step in one.steps:
            label = job.parts[step.kind].label
            parts[label] = parts.get(label, 0) + 1
    left = ", ".join(f"{count} x {label}" for label, count in parts.items())
    more = " and ".join(f"{count} more of {name}" for name, count in sheets.items())
    raise StockError(
        f"the stock of {job.stock[0].name} runs out: {left} found no room on the sheets at hand; {more} would do"
    )


def _tidied(
    job: SheetJob, packer: Packer, packed: list[Filled], keep: tuple[float, float], effort: float, free: bool
) -> list[Filled]:
    """One large offcut, and long rips first where the person left that free."""
    budget = int(min(effort, 1.0) * _TIDY)
    packed = one_offcut(job, packer, packed, keep, budget)
    return rips_first(job, packer, packed, keep, budget) if free else packed


def _listed(job: SheetJob, packed: list[Filled], keep: tuple[float, float]) -> tuple[SheetLayout, ...]:
    """Every layout once with its count, the most frequent first."""
    counts: dict[SheetLayout, int] = {}
    for one in packed:
        layout = cut_sheet(job.stock[one.sheet], region(one, job.parts), job.saw, keep)
        counts[layout] = counts.get(layout, 0) + 1
    listed = [replace(layout, count=count) for layout, count in counts.items()]
    return tuple(sorted(listed, key=lambda layout: (layout.stock.offcut is False, -layout.count)))


def _bound(job: SheetJob, used: float, least: Least, stopped: bool) -> Bound:
    name = job.stock[0].name if job.stock else ""
    proven = least.cost >= used - 1e-9
    return Bound(name, used, used if proven else least.cost, proven, least.method, stopped and not proven)
