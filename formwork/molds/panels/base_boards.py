"""The base of a panelled mold: one board, or several where one sheet is too small, joined over battens.

Boards lie side by side in rows and columns, their grain one way. Under every joint runs a batten to which both are
screwed, so that the joint cannot open or step; the mold then stands on bearers of the same thickness.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product
from math import ceil

from formwork.errors import StockError
from formwork.geometry.cells import box_of
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec
from formwork.molds.blank import blank
from formwork.molds.mold import Part
from formwork.molds.panels.lining import Frame, base_sides, body_of, stick_part
from formwork.record import record
from formwork.shapes.box import level

MOST = 16
"""More boards than this are no base (ours)."""
_X: Vec = (1.0, 0.0, 0.0)
_Y: Vec = (0.0, 1.0, 0.0)


@record
class Grid:
    """How a base is parted: places of the joints along x and along y, m, and which way the grain of its boards lies."""

    columns: tuple[float, ...]
    rows: tuple[float, ...]
    grain: Vec

    @property
    def joined(self) -> bool:
        """It is more than one board."""
        return bool(self.columns or self.rows)


def base(frame: Frame, outside: Sequence[Part]) -> tuple[Part, ...]:
    """The boards of the base and the battens under their joints.

    Args:
        frame: the mold.
        outside: what stands on it.

    Raises:
        StockError: where more boards would be needed than make sense.
    """
    sides = base_sides(frame, outside)
    whole = body_of(frame, (*sides, *_faces(frame)), "base")
    low, high = box_of([whole])
    grid = _grid(frame, (low[0], high[0]), (low[1], high[1]))
    if not grid.joined:
        return (_board(frame, "base", sides, None),)
    xs = (low[0], *grid.columns, high[0])
    ys = (low[1], *grid.rows, high[1])
    cells = product(pairwise(xs), pairwise(ys))
    boards = (
        _board(frame, f"base {number}", (*sides, *_between(_X, x), *_between(_Y, y)), grid.grain)
        for number, (x, y) in enumerate(cells, start=1)
    )
    return (*boards, *_battens(frame, sides, grid, xs))


def _faces(frame: Frame) -> tuple[HalfSpace, HalfSpace]:
    return level("top of base", 0.0, up=True), level("underside of base", -frame.thickness, up=False)


def _board(frame: Frame, name: str, halves: tuple[HalfSpace, ...], grain: Vec | None) -> Part:
    top, under = _faces(frame)
    body = body_of(frame, (*halves, top, under), name)
    cut, placement = blank(frame.planes, body, along=grain, flat_on=frame.planes.enter(top))
    seen = abs(frame.planes.half(frame.planes.enter(top)).depth(placement.origin)) < 1e-7
    return Part(
        name=name,
        role="base",
        kind="panel",
        stock=frame.stocks.sheet.name,
        group="base",
        cells=(body,),
        blank=cut,
        placement=placement,
        good_face="outline" if seen else "far",
    )


def _between(way: Vec, ends: tuple[float, float]) -> tuple[HalfSpace, HalfSpace]:
    """What lies between two places along an axis; a joint's plane is one for both of its boards."""
    back: Vec = (-way[0], -way[1], 0.0)
    return HalfSpace(way, ends[1], "joint of the base"), HalfSpace(back, -ends[0], "joint of the base")


def _grid(frame: Frame, x: tuple[float, float], y: tuple[float, float]) -> Grid:
    """As few boards as the sheet gives, all of one size."""
    sheet, name = frame.stocks.sheet, frame.piece.name
    long, wide = sheet.length - 2.0 * frame.stocks.trim, sheet.width - 2.0 * frame.stocks.trim
    ways = [
        (_count(x, along), _count(y, across), grain)
        for along, across, grain in ((long, wide, _X), (wide, long, _Y))
    ]
    columns, rows, grain = min(ways, key=lambda way: way[0] * way[1])
    if columns * rows > MOST:
        raise StockError(f"{name}: its base takes more than {MOST} boards of {sheet.name}")
    return Grid(_joints(x, columns), _joints(y, rows), grain)


def _count(ends: tuple[float, float], most: float) -> int:
    return max(1, ceil((ends[1] - ends[0]) / most - 1e-9))


def _joints(ends: tuple[float, float], count: int) -> tuple[float, ...]:
    return tuple(ends[0] + (ends[1] - ends[0]) * k / count for k in range(1, count))


def _battens(
    frame: Frame, sides: tuple[HalfSpace, ...], grid: Grid, xs: tuple[float, ...]
) -> tuple[Part, ...]:
    """A stick laid flat under every joint; those across run between those along."""
    half = frame.stocks.stick.width / 2.0
    made = [
        _batten(frame, sides, number, _between(_X, (place - half, place + half)), _Y)
        for number, place in enumerate(grid.columns, start=1)
    ]
    for place in grid.rows:
        for left, right in pairwise(xs):
            ends = (left + (half if left != xs[0] else 0.0), right - (half if right != xs[-1] else 0.0))
            across = (*_between(_Y, (place - half, place + half)), *_between(_X, ends))
            made.append(_batten(frame, sides, len(made) + 1, across, _X))
    return tuple(made)


def _batten(
    frame: Frame, sides: tuple[HalfSpace, ...], number: int, where: tuple[HalfSpace, ...], along: Vec
) -> Part:
    stick = frame.stocks.stick
    top = level("underside of base", -frame.thickness, up=True)
    foot = level("underside of battens", -frame.thickness - stick.thickness, up=False)
    name = f"base batten {number}"
    body = body_of(frame, (*sides, *where, top, foot), name)
    return stick_part(frame, stick, name, "batten", "base", body, along, top)


def battens(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The battens under the joints of a base."""
    return tuple(part for part in parts if part.role == "batten" and part.group == "base")


def joint_length(parts: Sequence[Part]) -> float:
    """Length of all joints of a base, m."""
    return sum(part.blank.length for part in battens(parts))
