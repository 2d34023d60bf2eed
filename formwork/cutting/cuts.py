"""Cut one sheet as a person does: edges first, then the long rips, then each piece across.

Pieces that need the fence where it stands come next, so that it is moved as seldom as that order allows.

Sizes are in m again, the blanks' own: the fence is set to what the part measures, and rounding stays in the waste.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from formwork.cutting.fill import ALONG
from formwork.cutting.records import Cut, Offcut, Placed, SheetLayout
from formwork.cutting.tree import Blank, Region
from formwork.record import record
from formwork.stock.records import Saw, SheetStock

Along = Literal["length", "width"]
Edge = Literal["left", "right", "bottom", "top"]

_TOUCHES = 1e-6
"""What is thinner than this, m, is nothing: no cut is made for it."""


@record
class _Piece:
    """A piece on the bench: number, corner, extents, what it is cut into, from which strip on, at which depth."""

    number: int
    x: float
    y: float
    length: float
    width: float
    holds: Region | Blank | None
    next: int = 0
    depth: int = 0


@dataclass(slots=True)
class _Bench:
    """What has come off the saw so far."""

    kerf: float
    keep: tuple[float, float]
    made: int = 0
    cuts: list[Cut] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)
    offcuts: list[Offcut] = field(default_factory=list)
    waiting: list[_Piece] = field(default_factory=list)

    def number(self) -> int:
        """The next piece's number."""
        self.made += 1
        return self.made


def cut_sheet(
    stock: SheetStock, whole: Region, saw: Saw, keep: tuple[float, float], count: int = 1
) -> SheetLayout:
    """Cut a sheet into its strips, and those into blanks.

    Args:
        stock: the sheet.
        whole: what its trimmed rectangle is cut into.
        saw: kerf and trim, m.
        keep: longer and shorter side of the least offcut worth keeping, m.
        count: sheets cut alike.
    """
    bench = _Bench(saw.kerf, keep)
    sheet = _Piece(0, 0.0, 0.0, stock.length, stock.width, whole)
    trimmed = _trim(bench, sheet, saw.trim, *_reach(whole, saw.kerf))
    ready = _settled(trimmed)
    if bench.cuts and isinstance(ready.holds, Blank):
        bench.cuts[-1] = replace(bench.cuts[-1], parts=(ready.holds.label,))
    _lay(bench, ready)
    while bench.waiting:
        piece = _next(bench)
        bench.waiting.remove(piece)
        _cut(bench, piece)
    return SheetLayout(stock, count, tuple(bench.placed), tuple(bench.cuts), tuple(bench.offcuts))


def _reach(held: Region | Blank, kerf: float) -> tuple[float, float]:
    """How far blanks reach in x and y from the region's corner, m."""
    if isinstance(held, Blank):
        return held.length, held.width
    start = long = wide = 0.0
    for strip in held.strips:
        x, y = _reach(strip.holds, kerf)
        long, wide = (max(long, x), start + y) if held.way == ALONG else (start + x, max(wide, y))
        start += (strip.extent or 0.0) + kerf
    return long, wide


def _trim(bench: _Bench, sheet: _Piece, trim: float, long: float, wide: float) -> _Piece:
    """Cut the edges off: the lower and left always, the others where a blank reaches them; long rips first."""
    if trim <= _TOUCHES:
        return sheet
    sheet = _slice(bench, sheet, "length", "top", sheet.width - trim)
    if wide > sheet.width - trim - _TOUCHES:
        sheet = _slice(bench, sheet, "length", "bottom", sheet.width - trim)
    sheet = _slice(bench, sheet, "width", "right", sheet.length - trim)
    if long > sheet.length - trim - _TOUCHES:
        sheet = _slice(bench, sheet, "width", "left", sheet.length - trim)
    return sheet


def _slice(bench: _Bench, piece: _Piece, along: Along, edge: Edge, at: float) -> _Piece:
    """Cut a trim off and keep the side on the fence."""
    number = bench.number()
    bench.cuts.append(Cut(piece.number, along, at, edge, (), (number, -1)))
    if along == "length":
        y = piece.y + piece.width - at if edge == "top" else piece.y
        return replace(piece, number=number, y=y, width=at)
    x = piece.x + piece.length - at if edge == "right" else piece.x
    return replace(piece, number=number, x=x, length=at)


def _settled(piece: _Piece) -> _Piece:
    """The piece with what it really holds: a blank, a region that needs a cut, or nothing."""
    held, start = piece.holds, piece.next
    while isinstance(held, Region):
        if start == len(held.strips):
            return replace(piece, holds=None, next=0)
        strip = held.strips[start]
        extent = piece.width if held.way == ALONG else piece.length
        if strip.extent is not None and extent - strip.extent > _TOUCHES:
            return replace(piece, holds=held, next=start)
        held, start = strip.holds, 0
    return replace(piece, holds=held, next=0)


def _lay(bench: _Bench, piece: _Piece) -> None:
    """Put a settled piece where it belongs: to be cut on, done, kept, or waste."""
    match piece.holds:
        case Region():
            bench.waiting.append(piece)
        case Blank(label, length, width, turned):
            bench.placed.append(Placed(label, piece.x, piece.y, length, width, turned))
        case None if _worth_keeping(piece, bench.keep):
            bench.offcuts.append(Offcut(piece.x, piece.y, piece.length, piece.width))


def _next(bench: _Bench) -> _Piece:
    """The piece to cut next: the least cut so far, among those one that needs the fence where it stands."""
    depth = min(piece.depth for piece in bench.waiting)
    level = [piece for piece in bench.waiting if piece.depth == depth]
    if bench.cuts:
        last = (bench.cuts[-1].along, bench.cuts[-1].at)
        for piece in level:
            if _setting(piece) == last:
                return piece
    return level[0]


def _setting(piece: _Piece) -> tuple[Along, float]:
    """The next cut of a piece that holds a region: which way, and where the fence stands, m."""
    held = piece.holds
    assert isinstance(held, Region)
    extent = held.strips[piece.next].extent
    assert extent is not None
    return "length" if held.way == ALONG else "width", extent


def _cut(bench: _Bench, piece: _Piece) -> None:
    """One cut: the next strip comes off on the fence side, the rest goes on."""
    along, at = _setting(piece)
    near, far = _products(piece, at, along, bench.kerf)
    products = [_settled(one) if one else None for one in (near, far)]
    freed = tuple(one.holds.label for one in products if one and isinstance(one.holds, Blank))
    numbers = [bench.number() if one and _counts(one, bench.keep) else -1 for one in products]
    edge: Edge = "bottom" if along == "length" else "left"
    bench.cuts.append(Cut(piece.number, along, at, edge, freed, (numbers[0], numbers[1])))
    for one, number in zip(products, numbers, strict=True):
        if one:
            _lay(bench, replace(one, number=number))


def _products(piece: _Piece, at: float, along: Along, kerf: float) -> tuple[_Piece, _Piece | None]:
    """The strip on the fence, and what remains beyond the kerf, if anything does."""
    held = piece.holds
    assert isinstance(held, Region)
    strip = replace(piece, holds=held.strips[piece.next].holds, next=0, depth=piece.depth + 1)
    if along == "length":
        rest = piece.width - at - kerf
        near = replace(strip, width=at)
        far = replace(piece, y=piece.y + at + kerf, width=rest, next=piece.next + 1)
    else:
        rest = piece.length - at - kerf
        near = replace(strip, length=at)
        far = replace(piece, x=piece.x + at + kerf, length=rest, next=piece.next + 1)
    return near, far if rest > _TOUCHES else None


def _worth_keeping(piece: _Piece, keep: tuple[float, float]) -> bool:
    short, long = sorted((piece.length, piece.width))
    return long >= max(keep) - _TOUCHES and short >= min(keep) - _TOUCHES


def _counts(piece: _Piece, keep: tuple[float, float]) -> bool:
    """The piece gets a number: something is in it, or it is kept."""
    return piece.holds is not None or _worth_keeping(piece, keep)
