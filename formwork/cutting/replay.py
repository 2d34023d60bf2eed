"""One sheet before the judge: as rectangles, and as cuts replayed one by one. Nothing here knows how plans are made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import inf
from typing import NoReturn

from formwork.cutting.records import Cut, Offcut, Placed, SheetLayout
from formwork.errors import InternalError
from formwork.record import record
from formwork.stock.records import Saw

TOLERANCE = 1e-5
"""What a plan may be off by, m: a hundredth of a millimetre, far below what a saw holds."""


@record
class Box:
    """A rectangle, its lower left and upper right corner, m."""

    left: float
    bottom: float
    right: float
    top: float

    def spans(self, way: str) -> tuple[float, float]:
        """From where to where it lies across the cuts of this way."""
        return (self.bottom, self.top) if way == "length" else (self.left, self.right)

    def narrowed(self, way: str, start: float, end: float) -> Box:
        """The part of it between two cuts of this way."""
        if way == "length":
            return replace(self, bottom=start, top=end)
        return replace(self, left=start, right=end)

    def holds(self, other: Box) -> bool:
        """The other lies in it."""
        return (
            self.left - TOLERANCE <= other.left
            and other.right <= self.right + TOLERANCE
            and self.bottom - TOLERANCE <= other.bottom
            and other.top <= self.top + TOLERANCE
        )

    def matches(self, other: Box) -> bool:
        """Both are the same rectangle."""
        return self.holds(other) and other.holds(self)


def fault(where: str, what: str) -> NoReturn:
    """Report a fault of the program.

    Raises:
        InternalError: always.
    """
    raise InternalError(f"{where}: {what} (a fault of this program, not of your project)")


def box_of(placed: Placed | Offcut) -> Box:
    """Where a blank or an offcut lies."""
    return Box(placed.x, placed.y, placed.x + placed.length, placed.y + placed.width)


def trimmed(layout: SheetLayout, saw: Saw) -> Box:
    """The sheet without its edges."""
    return Box(saw.trim, saw.trim, layout.stock.length - saw.trim, layout.stock.width - saw.trim)


def judge_apart(where: str, layout: SheetLayout, saw: Saw) -> None:
    """Any two blanks are a kerf apart, one way or the other."""
    boxes = sorted(((box_of(one), one.label) for one in layout.placed), key=lambda pair: pair[0].left)
    for index, (box, label) in enumerate(boxes):
        for other, name in boxes[index + 1 :]:
            if other.left >= box.right + saw.kerf - TOLERANCE:
                break
            below, above = sorted((box, other), key=lambda one: one.bottom)
            if above.bottom < below.top + saw.kerf - TOLERANCE:
                fault(where, f"{label} and {name} overlap or leave no room for the saw")


def judge_stages(where: str, layout: SheetLayout, saw: Saw, stages: int) -> None:
    """The blanks can be cut free by straight through cuts in the turns allowed, and a last trim of one to size."""
    boxes = [box_of(one) for one in layout.placed]
    clear = trimmed(layout, saw)
    turns = min(_turns(boxes, clear, way, saw.kerf) for way in ("length", "width"))
    if turns > stages:
        fault(where, f"needs {'cuts that stop short' if turns == inf else f'{turns:g} turns of the saw'}")


def _turns(boxes: list[Box], region: Box, way: str, kerf: float, stuck: bool = False) -> float:
    """Fewest turns that free the boxes when the region is first cut this way; without end if none do.

    All cuts that can be made one way are made at once: further cuts the same way never cost a turn. A box by itself
    that is as long or as wide as the region is only trimmed.
    """
    if len(boxes) == 1 and _trimmed_free(boxes[0], region):
        return 0.0
    groups = _groups(boxes, way, kerf)
    start, end = region.spans(way)
    tight = len(groups) == 1 and all(
        abs(a - b) <= TOLERANCE for a, b in zip(_span(groups[0], way), (start, end), strict=True)
    )
    other = "width" if way == "length" else "length"
    if tight and stuck:
        return 0.0 if len(boxes) == 1 else inf
    if not boxes:
        return 0.0
    rest = max(
        _turns(group, region.narrowed(way, *_span(group, way)), other, kerf, tight) for group in groups
    )
    return rest if tight else rest + 1.0


def _trimmed_free(box: Box, region: Box) -> bool:
    """One cut, or none, brings the region to the size of the box: they have three edges in common."""
    off = (box.left - region.left, region.right - box.right, box.bottom - region.bottom, region.top - box.top)
    return sum(abs(one) > TOLERANCE for one in off) <= 1


def _groups(boxes: list[Box], way: str, kerf: float) -> list[list[Box]]:
    """Boxes that no cut of this way separates, together."""
    groups: list[list[Box]] = []
    reach = -inf
    for box in sorted(boxes, key=lambda one: one.spans(way)):
        start, end = box.spans(way)
        if groups and start < reach + kerf - TOLERANCE:
            groups[-1].append(box)
        else:
            groups.append([box])
        reach = max(reach, end)
    return groups


def _span(boxes: list[Box], way: str) -> tuple[float, float]:
    spans = [box.spans(way) for box in boxes]
    return min(start for start, _ in spans), max(end for _, end in spans)


@record
class _Held:
    """A piece on the bench while the cuts are replayed: where it lies, the way it was last cut, turns so far."""

    box: Box
    way: str = ""
    turns: int = 0


def judge_cuts(where: str, layout: SheetLayout, saw: Saw, stages: int) -> None:
    """Replay the cuts: they must end in exactly the parts and offcuts shown."""
    sheet = Box(0.0, 0.0, layout.stock.length, layout.stock.width)
    held = {0: _Held(sheet)}
    made = 0
    for number, cut in enumerate(layout.cuts, start=1):
        at = f"{where}, cut {number}"
        piece = held.pop(cut.piece, None)
        if piece is None:
            fault(at, f"there is no piece {cut.piece} to cut")
        products = _sawn(at, piece, cut, saw)
        trims = -1 in cut.gives and _in_margin(products[cut.gives.index(-1)].box, sheet, saw)
        for product, name in zip(products, cut.gives, strict=True):
            if name == -1:
                _judge_waste(at, product.box, layout)
                continue
            made += 1
            if name != made:
                fault(at, f"gives piece {name} where piece {made} is next")
            held[name] = replace(product, way=piece.way, turns=piece.turns) if trims else product
            if held[name].turns > stages + _only_trims(piece.box, layout):
                fault(at, f"takes turn {held[name].turns} of the saw where {stages} are allowed")
        _judge_freed(at, cut, products, layout)
    _judge_left(where, [piece.box for piece in held.values()], layout)


def _sawn(at: str, piece: _Held, cut: Cut, saw: Saw) -> tuple[_Held, _Held]:
    """The two sides of a cut, near side of the fence first."""
    edges = ("bottom", "top") if cut.along == "length" else ("left", "right")
    if cut.from_edge not in edges:
        fault(at, f"the fence cannot lie on the {cut.from_edge} edge")
    start, end = piece.box.spans(cut.along)
    if not 0.0 < cut.at < end - start:
        fault(at, "the fence stands outside the piece")
    if cut.from_edge == edges[0]:
        near, far = (start, start + cut.at), (min(end, start + cut.at + saw.kerf), end)
    else:
        near, far = (end - cut.at, end), (start, max(start, end - cut.at - saw.kerf))
    turns = piece.turns + (piece.way != cut.along)
    return (
        _Held(piece.box.narrowed(cut.along, *near), cut.along, turns),
        _Held(piece.box.narrowed(cut.along, *far), cut.along, turns),
    )


def _only_trims(box: Box, layout: SheetLayout) -> bool:
    """The piece holds one blank, which a last cut may trim to its size."""
    return sum(box.holds(box_of(one)) for one in layout.placed) == 1


def _in_margin(box: Box, sheet: Box, saw: Saw) -> bool:
    """All of it lies within the trim of one edge."""
    reach = saw.trim + TOLERANCE
    return (
        box.right <= sheet.left + reach
        or box.left >= sheet.right - reach
        or box.top <= sheet.bottom + reach
        or box.bottom >= sheet.top - reach
    )


def _shown(layout: SheetLayout) -> list[Placed | Offcut]:
    return [*layout.placed, *layout.offcuts]


def _judge_waste(at: str, box: Box, layout: SheetLayout) -> None:
    for shown in _shown(layout):
        if box.holds(box_of(shown)):
            fault(at, "throws away a part or an offcut")


def _judge_freed(at: str, cut: Cut, products: Iterable[_Held], layout: SheetLayout) -> None:
    freed = [one.label for held in products for one in layout.placed if box_of(one).matches(held.box)]
    if sorted(freed) != sorted(cut.parts):
        fault(at, f"frees {', '.join(freed) or 'nothing'}, not {', '.join(cut.parts) or 'nothing'}")


def _judge_left(where: str, pieces: list[Box], layout: SheetLayout) -> None:
    """What lies on the bench in the end is what the layout shows, each once."""
    for shown in _shown(layout):
        found = next((box for box in pieces if box.matches(box_of(shown))), None)
        if found is None:
            fault(where, f"its cuts never free {shown.label if isinstance(shown, Placed) else 'an offcut'}")
        pieces.remove(found)
    if pieces and layout.cuts:
        fault(where, "its cuts leave a piece that is neither part nor offcut")
