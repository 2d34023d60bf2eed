"""Equal parts in a row in one blank: as near to one another as the saw allows, turned head to tail where better.

A part that straight through cuts do not make leaves waste beside its curve in a blank of its own, and so does a tapered
one beside its slant. In a row the curve of one lies in the hollow of the next, the head of one beside the foot of the
next. The row is one rectangle to the sheet; it is cut apart by hand along the curves and slants.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import tan

from formwork.cutting.curves import aslant, by_jigsaw
from formwork.cutting.pitch import least_shift
from formwork.geometry.outlines import Point, flattened
from formwork.molds.mold import Blank
from formwork.record import record

CLEARANCE = 0.003
"""Beside the kerf, between two parts of a row, m: what a hand-held saw strays (ours)."""
_CHORD = 1e-4
"""Arcs are taken as chords that lie no further from them than this, m; the gap makes up for it."""
_WORTH = 0.98
"""A row that takes more than this part of what its parts take one by one is not worth its trouble."""


@record
class Lying:
    """Where a part lies in the blank of its row: the lower left corner of its box, m, and whether half round."""

    x: float
    y: float
    half_round: bool


@record
class Nest:
    """So many equal parts in one blank.

    Attributes:
        length: of the blank, along the grain, m.
        width: across it, m.
        parts: where each lies.
    """

    length: float
    width: float
    parts: tuple[Lying, ...]


@record
class Row:
    """How equal parts stand in a row.

    Attributes:
        length: of one part's box, m.
        width: of it, m.
        upward: the row runs across the grain; else along it.
        steps: from the first part to the second, and from that to the third, m; then the same again.
        turned: every second part lies half round, head to tail.
    """

    length: float
    width: float
    upward: bool
    steps: tuple[float, float]
    turned: bool

    @property
    def pitch(self) -> float:
        """What each further part takes on the average, m."""
        return sum(self.steps) / 2.0

    def reach(self, number: int) -> float:
        """From the first part's corner to that of the last of so many, m."""
        pairs, odd = divmod(number - 1, 2)
        return pairs * sum(self.steps) + odd * self.steps[0]

    def nest(self, number: int) -> Nest:
        """The blank of so many parts."""
        starts = [self.reach(count) for count in range(1, number + 1)]
        if self.upward:
            lying = [(0.0, start) for start in starts]
            size = (self.length, self.width + starts[-1])
        else:
            lying = [(start, 0.0) for start in starts]
            size = (self.length + starts[-1], self.width)
        parts = (Lying(*at, self.turned and count % 2 == 1) for count, at in enumerate(lying))
        return Nest(*size, tuple(parts))


def rows(blank: Blank, kerf: float) -> tuple[Row, ...]:
    """The rows that save sheet over blanks one by one, for each way the better of plain and head to tail; best first.

    Args:
        blank: of the part.
        kerf: of the saw, m.
    """
    if not (by_jigsaw(blank.edge) or aslant(blank.edge)):
        return ()
    alone = (blank.length + kerf) * (blank.width + kerf)
    found = []
    for upward in (True, False):
        best = min(_of_way(blank, kerf, upward), key=lambda row: row.pitch)
        across = (blank.length if upward else blank.width) + kerf
        if best.pitch * across < _WORTH * alone:
            found.append((best.pitch * across, best))
    return tuple(row for _, row in sorted(found, key=lambda one: one[0]))


def overhang(blank: Blank) -> float:
    """How far the far face reaches past the outline at most, where an edge leans out, m."""
    return blank.thickness * tan(max(0.0, -min(blank.bevels, default=0.0)))


def _of_way(blank: Blank, kerf: float, upward: bool) -> Iterator[Row]:
    """All parts alike, then head to tail."""
    gap = kerf + CLEARANCE + 2.0 * (_CHORD + overhang(blank))
    corners = flattened(blank.edge, _CHORD)
    turned = [(blank.length - x, blank.width - y) for x, y in corners]
    one, other = (_swapped(corners), _swapped(turned)) if not upward else (corners, turned)
    alike = max(0.0, least_shift(one, one, gap))
    yield Row(blank.length, blank.width, upward, (alike, alike), turned=False)
    there = max(0.0, least_shift(one, other, gap))
    back = max(0.0, least_shift(other, one, gap), alike - there)
    yield Row(blank.length, blank.width, upward, (there, back), turned=True)


def _swapped(corners: Sequence[Point]) -> list[Point]:
    """Along for across, counter-clockwise again."""
    return [(y, x) for x, y in reversed(corners)]
