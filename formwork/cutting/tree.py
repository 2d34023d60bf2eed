"""From the recipe of a filled sheet to the strips it is cut into: nested, in a steady order, largest first.

A region is cut one way into strips, side by side; each strip is a blank, or a region that is cut the other way.
What is left beyond the last strip is free. The order of strips within a region may be chosen, so they are sorted:
equal fence settings come one after the other, and equal sheets look equal.
"""

from __future__ import annotations

from formwork.cutting.fill import ALONG, Filled, Step
from formwork.cutting.records import SheetPart
from formwork.record import record


@record
class Blank:
    """A blank as it lies on the sheet: label, extents in x and y (m), turned."""

    label: str
    length: float
    width: float
    turned: bool


@record
class Strip:
    """One strip of a region: its extent across the cuts (m; None: all that remains), and what it holds."""

    extent: float | None
    holds: Blank | Region


@record
class Region:
    """A rectangle cut one way into strips; what remains after the last is free."""

    way: int
    strips: tuple[Strip, ...]


def region(filled: Filled, parts: tuple[SheetPart, ...]) -> Region:
    """The strips of a filled sheet.

    Args:
        filled: the recipe.
        parts: the kinds of blank its steps refer to.
    """
    by_spot = {step.spot: (number, step) for number, step in enumerate(filled.steps)}
    return Region(filled.first, _sorted(_strips(0, filled.first, by_spot, parts, False)))


def _strips(
    spot: int, way: int, by_spot: dict[int, tuple[int, Step]], parts: tuple[SheetPart, ...], turned: bool
) -> list[Strip]:
    """Strips of a free rectangle cut this way; ``turned`` where its first step was told to cut the other way."""
    strips: list[Strip] = []
    while spot in by_spot:
        number, step = by_spot[spot]
        if step.flipped and not turned:
            other = 1 - way
            return [*strips, Strip(None, Region(other, _sorted(_strips(spot, other, by_spot, parts, True))))]
        turned = False
        blank = _blank(parts[step.kind], step.turned)
        beside, beyond = 2 * number + 1, 2 * number + 2
        along, across = (blank.width, blank.length) if way == ALONG else (blank.length, blank.width)
        inner = [
            Strip(across, blank),
            *_strips(beyond, 1 - way, by_spot, parts, False),
        ]
        strips.append(Strip(along, Region(1 - way, _sorted(inner))))
        spot = beside
    return strips


def _blank(part: SheetPart, turned: bool) -> Blank:
    if turned:
        return Blank(part.label, part.width, part.length, True)
    return Blank(part.label, part.length, part.width, False)


def _sorted(strips: list[Strip]) -> tuple[Strip, ...]:
    """Widest first, equal ones together; the strip that takes all that remains is last."""
    return tuple(sorted(strips, key=_rank))


def _rank(strip: Strip) -> tuple[bool, float, str]:
    return (strip.extent is None, -(strip.extent or 0.0), repr(strip.holds))
