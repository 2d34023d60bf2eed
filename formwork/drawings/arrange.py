"""Views on a page: a grid of panes, the front view in line with the top view above or below and the side view beside.

A pane is one view with everything written round it. The largest scale of the series at which all panes fit the page
is taken; where none fits, a larger page.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from formwork.drawings.frames import Point
from formwork.drawings.page import (
    BLOCK,
    SCALES,
    SHEETS,
    Angle,
    Titles,
    drawing_area,
    frame,
    notes_block,
    title_block,
    title_fields,
)
from formwork.drawings.scene import Item, Scene, Sheet, Units, Window, bounds, is_outline, placed
from formwork.errors import GeometryError

GAP = 8.0
"""Least distance between panes, and from panes to the frame, mm."""


@dataclass(frozen=True, slots=True)
class Pane:
    """One view with its annotations.

    Attributes:
        name: of the view.
        column: 0 for what shares the front view's upright axis, 1 for what stands beside.
        row: 0 for what shares the front view's level axis, 1 for the row of the top view.
        items: in the view's own axes, m.
        aligned: it keeps its own axes in line with the front view's (else it is only centred in its place).
        paper: the items are in mm on paper, not to scale (a list).
    """

    name: str
    column: int
    row: int
    items: tuple[Item, ...]
    aligned: bool = True
    paper: bool = False


@dataclass(frozen=True, slots=True)
class _Placed:
    pane: Pane
    low: Point
    high: Point


Panes = Callable[[float], Sequence[Pane]]
"""From the n of 1:n to the panes drawn for it."""


@dataclass(frozen=True, slots=True)
class Bare:
    """A view before anything is written round it: its place in the grid, its length and height, m."""

    column: int
    row: int
    length: float
    height: float


def compose(
    name: str, titles: Titles, units: Units, angle: Angle | None, notes: Sequence[str], least: float,
    bare: Sequence[Bare], panes: Panes,
) -> Scene:  # fmt: skip
    """The smallest page on which the drawing is large enough, at the largest scale that fits it.

    Args:
        name: of the file.
        titles: for the title block.
        units: of the person.
        angle: projection; None where only one view is drawn.
        notes: lines beside the title block.
        least: what the longest side of the first pane must measure on paper for the smallest page to do, mm; where it
            gives less, the next one is taken if the drawing comes out larger there.
        bare: the views themselves; a scale that is too large for these alone is not tried.
        panes: the panes for a scale.

    Raises:
        GeometryError: if they fit no page at any scale.
    """
    drawn: dict[float, Sequence[Pane]] = {}
    best: tuple[float, Scene] | None = None
    for number, sheet in enumerate(SHEETS[units]):
        for scale in SCALES[1:]:
            if not _has_room(bare, scale, sheet, deep=not notes):
                continue
            if scale not in drawn:
                drawn[scale] = panes(scale)
            spots = _spots(drawn[scale], scale, sheet, angle, deep=not notes)
            if spots is None:
                continue
            size = _longest(drawn[scale][0], scale)
            if best is None or size > best[0] + 1e-6:
                best = (size, _scene(name, titles, units, angle, notes, sheet, scale, spots))
            break
        if best is not None and (best[0] >= least or number > 0):
            break
    if best is None:
        raise GeometryError(f"{name}: the drawing fits no page of the series, even at 1:{SCALES[-1]:g}")
    return best[1]


def _has_room(bare: Sequence[Bare], scale: float, sheet: Sheet, *, deep: bool) -> bool:
    (x0, y0), (x1, y1) = drawing_area(sheet)
    columns: dict[int, float] = {}
    rows: dict[int, float] = {}
    for view in bare:
        columns[view.column] = max(columns.get(view.column, 0.0), view.length)
        rows[view.row] = max(rows.get(view.row, 0.0), view.height)
    factor = 1000.0 / scale
    return factor * sum(columns.values()) + GAP * (len(columns) + 1) <= x1 - x0 and factor * sum(
        rows.values()
    ) + GAP * (len(rows) + 1) <= y1 - y0 + (BLOCK[1] if deep else 0.0)


def _longest(pane: Pane, scale: float) -> float:
    low, high = bounds([placed(item, 1000.0 / scale, (0.0, 0.0)) for item in pane.items if is_outline(item)])
    return max(high[0] - low[0], high[1] - low[1])


def _spots(
    panes: Sequence[Pane], scale: float, sheet: Sheet, angle: Angle | None, *, deep: bool
) -> list[tuple[_Placed, Point]] | None:
    """Where the origin of each pane lies on the page, mm; None where they do not fit.

    Args:
        panes: drawn for the scale.
        scale: n of 1:n.
        sheet: the paper.
        angle: projection.
        deep: nothing stands to the left of the title block, so the first column may come down to the frame.
    """
    boxed = [_boxed(pane, scale) for pane in panes]
    (x0, y0), (x1, y1) = drawing_area(sheet)
    columns = _bands(boxed, 0)
    across = _spread(columns, (x0, x1), sorted(columns))
    if across is None:
        return None
    rows = _bands(boxed, 1)
    order = sorted(rows) if angle == "third" else sorted(rows, reverse=True)
    if deep and across[0] + columns[0].high + GAP <= x1 - BLOCK[0]:
        rows[order[0]] = _lowered(rows[order[0]], [one for one in boxed if one.pane.row == order[0]])
    upward = _spread(rows, (y0, y1), order)
    if upward is None:
        return None
    return [(one, (_at(one, 0, columns, across), _at(one, 1, rows, upward))) for one in boxed]


def _lowered(band: _Band, panes: Sequence[_Placed]) -> _Band:
    """The lowest row, where panes of the first column reach down beside the title block.

    What the band says of its low end is then how far the others reach, and the first column less the block's height.
    """
    lows = []
    for one in panes:
        low = one.low[1]
        if _free(one, 1):
            low = band.middle - (one.high[1] - one.low[1]) / 2.0
        lows.append(low + BLOCK[1] if one.pane.column == 0 else low)
    return _Band(min(lows), band.high, band.middle)


def _boxed(pane: Pane, scale: float) -> _Placed:
    factor = 1.0 if pane.paper else 1000.0 / scale
    low, high = bounds([placed(item, factor, (0.0, 0.0)) for item in pane.items])
    return _Placed(pane, low, high)


def _free(one: _Placed, axis: int) -> bool:
    """Whether a pane is only centred along an axis: what is not in line with the front view there."""
    beside = one.pane.column if axis == 0 else one.pane.row
    return not one.pane.aligned or beside != 0


@dataclass(frozen=True, slots=True)
class _Band:
    """A column or a row of panes: how far it reaches from its origin, and where panes are centred in it, mm."""

    low: float
    high: float
    middle: float


def _bands(boxed: Sequence[_Placed], axis: int) -> dict[int, _Band]:
    """The columns (axis 0) or rows (axis 1) by number; panes that are only centred stand about the others' middle."""
    bands: dict[int, _Band] = {}
    for one in sorted(boxed, key=lambda o: _free(o, axis)):
        key = _number(one, axis)
        low, high = one.low[axis], one.high[axis]
        band = bands.get(key)
        if _free(one, axis):
            half, middle = (high - low) / 2.0, band.middle if band else 0.0
            low, high = middle - half, middle + half
        else:
            middle = (min(low, band.low if band else low) + max(high, band.high if band else high)) / 2.0
        bands[key] = _Band(
            min(low, band.low if band else low), max(high, band.high if band else high), middle
        )
    return bands


def _number(one: _Placed, axis: int) -> int:
    return one.pane.column if axis == 0 else one.pane.row


def _spread(
    bands: dict[int, _Band], within: tuple[float, float], order: Sequence[int]
) -> dict[int, float] | None:
    """The origins of bands set one after another with equal gaps; None where there is no room, mm."""
    spare = (
        within[1] - within[0] - sum(band.high - band.low for band in bands.values()) - GAP * (len(bands) + 1)
    )
    if spare < 0.0:
        return None
    share = spare / (len(order) + 1)
    origins: dict[int, float] = {}
    at = within[0]
    for key in order:
        at += GAP + share
        origins[key] = at - bands[key].low
        at += bands[key].high - bands[key].low
    return origins


def _at(one: _Placed, axis: int, bands: dict[int, _Band], origins: dict[int, float]) -> float:
    key = _number(one, axis)
    if not _free(one, axis):
        return origins[key]
    return origins[key] + bands[key].middle - (one.low[axis] + one.high[axis]) / 2.0


def _scene(
    name: str,
    titles: Titles,
    units: Units,
    angle: Angle | None,
    notes: Sequence[str],
    sheet: Sheet,
    scale: float,
    spots: Sequence[tuple[_Placed, Point]],
) -> Scene:
    """Everything on the page; the model's origin is the first pane's."""
    origin = spots[0][1]
    model: list[Item] = []
    paper: list[Item] = [
        *frame(sheet),
        *title_block(sheet, titles, scale, units, angle),
        *notes_block(sheet, notes),
    ]
    windows: list[Window] = []
    lists: list[Window] = []
    for one, at in spots:
        (lists if one.pane.paper else windows).append(_window(one, at))
        if one.pane.paper:
            paper.extend(placed(item, 1.0, at) for item in one.pane.items)
            continue
        by = ((at[0] - origin[0]) * scale / 1000.0, (at[1] - origin[1]) * scale / 1000.0)
        model.extend(placed(item, 1.0, by) for item in one.pane.items)
    return Scene(
        name,
        titles.title,
        units,
        sheet,
        scale,
        origin,
        tuple(model),
        tuple(paper),
        tuple(windows),
        tuple(lists),
        title_fields(titles, scale, units, angle),
    )


def _window(one: _Placed, at: Point) -> Window:
    """The rectangle of the page that a pane takes, with a little room round it."""
    margin = 1.5
    return Window(
        one.pane.name,
        (at[0] + one.low[0] - margin, at[1] + one.low[1] - margin),
        (at[0] + one.high[0] + margin, at[1] + one.high[1] + margin),
    )
