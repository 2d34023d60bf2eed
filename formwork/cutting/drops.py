"""What falls out of a round opening is sheet as well: parts that fit in it are cut from it, one within another."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from formwork.cutting.cut_list import CutLine
from formwork.cutting.rows import CLEARANCE, Lying, overhang
from formwork.geometry.outlines import Outline, Point, flattened, legs
from formwork.molds.mold import Blank
from formwork.record import record

_CHORD = 1e-4
"""Arcs are taken as chords that lie no further from them than this, m; the gap makes up for it."""
_ONE_CENTRE = 1e-5
"""Arcs whose centres and radii differ by less than this, m, are of one circle."""


@record
class Stack:
    """Parts that come out of one blank, each out of the opening of the one before.

    Attributes:
        lines: of the cut list, the outermost first.
        places: where each lies in the blank of the first.
        count: how many such blanks there are.
    """

    lines: tuple[CutLine, ...]
    places: tuple[Lying, ...]
    count: int

    @property
    def label(self) -> str:
        """What its blank is called: ``A2 with A11``."""
        return " with ".join(line.label for line in self.lines)


def stacks(lines: Sequence[CutLine], kerf: float) -> tuple[Stack, ...]:
    """Every part once: alone, or in the smallest opening that it fits, the largest parts first.

    Args:
        lines: of the cut list, for one kind of sheet.
        kerf: of the saw, m.
    """
    gap = kerf + CLEARANCE + 2.0 * _CHORD
    found: list[Stack] = []
    for line in sorted(lines, key=lambda one: (-_reach(one.part.blank), one.label)):
        left = line.quantity
        need = _reach(line.part.blank) + overhang(line.part.blank) + gap
        for host in sorted((one for one in found if _room(one) >= need), key=_room):
            taken = min(left, host.count)
            if taken:
                found.remove(host)
                left -= taken
                found += [one for one in (_less(host, taken), _with(host, line, taken)) if one.count]
        if left:
            found.append(Stack((line,), (Lying(0.0, 0.0, half_round=False),), left))
    return tuple(found)


def _less(host: Stack, taken: int) -> Stack:
    return Stack(host.lines, host.places, host.count - taken)


def _with(host: Stack, line: CutLine, count: int) -> Stack:
    """The part in the opening of the innermost one, middle on middle."""
    opening = _round_opening(host.lines[-1].part.blank)
    assert opening is not None
    (x, y), _ = opening
    at, blank = host.places[-1], line.part.blank
    place = Lying(at.x + x - blank.length / 2.0, at.y + y - blank.width / 2.0, half_round=False)
    return Stack((*host.lines, line), (*host.places, place), count)


def _room(host: Stack) -> float:
    """Radius of the opening that is left in a stack, m; 0 where none is."""
    opening = _round_opening(host.lines[-1].part.blank)
    return opening[1] if opening else 0.0


def _reach(blank: Blank) -> float:
    """From the middle of a part's box to its furthest point, m."""
    x, y = blank.length / 2.0, blank.width / 2.0
    return max(hypot(px - x, py - y) for px, py in flattened(blank.edge, _CHORD))


def _round_opening(blank: Blank) -> tuple[Point, float] | None:
    """Middle and radius of a blank's one opening, if it is round."""
    return as_circle(blank.openings[0]) if len(blank.openings) == 1 else None


def as_circle(outline: Outline) -> tuple[Point, float] | None:
    """Centre and radius of an outline that is a whole circle, m; None for any other."""
    if not all(outline.bulges):
        return None
    arcs = [leg.arc() for leg in legs(outline)]
    (x, y), radius = arcs[0].centre, arcs[0].radius
    off = max(max(hypot(arc.centre[0] - x, arc.centre[1] - y), abs(arc.radius - radius)) for arc in arcs)
    return ((x, y), radius) if off < _ONE_CENTRE else None
