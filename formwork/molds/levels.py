"""Heights of what goes round a mold: as many as the person asks for, or where the person puts them.

Rails, rings and straps stand closer together below, where the mix presses more. What the person leaves out the program
chooses (see ``load``). Lengths in m.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import floor

from formwork.errors import GeometryError
from formwork.record import record
from formwork.units import show
from formwork.units.show import UnitSystem

_SAME = 1e-9
_HALVINGS = 60


@record
class Levels:
    """What a person asks for of the things that stand one above the other.

    Attributes:
        what: they are called, one of them ("rail").
        count: how many; None where it is left out.
        heights: of those between the lowest and the highest; None where they are left out.
        name: of the piece, for messages.
        units: how a person here reads a length.
    """

    what: str
    count: int | None
    heights: tuple[float, ...] | None
    name: str
    units: UnitSystem

    @property
    def asked(self) -> bool:
        """The program does not choose."""
        return self.count is not None or self.heights is not None


def asked_for(
    levels: Levels, low: float, high: float, breadth: float, span: Callable[[float], float]
) -> tuple[float, ...]:
    """Where they stand, the lowest first, the lowest and the highest among them.

    Args:
        levels: what the person asks for, number or heights.
        low: the lowest.
        high: the highest; a single one stands where two would touch.
        breadth: of one of them: none may touch another.
        span: the greatest bay from a height up, in proportion to which bays are drawn.

    Raises:
        GeometryError: where there is no room for as many, or not where they are asked for.
    """
    if levels.heights is not None:
        return _at_heights(levels, levels.heights, low, high, breadth)
    count, most = levels.count or 1, most_of(low, high, breadth)
    least = min(2, most)
    if not least <= count <= most:
        raise GeometryError(
            f"{levels.name}: mold.{levels.what}s: got {count}, want {_from_to(least, most)}: one at either end, and "
            f"each takes {show.length(breadth, levels.units)}"
        )
    return in_proportion(low, high, breadth, count, span)


def _from_to(least: int, most: int) -> str:
    return f"{least} to {most}" if most > least else f"{most}"


def most_of(low: float, high: float, breadth: float) -> int:
    """How many find room from the lowest to the highest, side by side."""
    return 1 if high - low < breadth else 1 + floor((high - low) / breadth + 1e-6)


def _at_heights(
    levels: Levels, heights: tuple[float, ...], low: float, high: float, breadth: float
) -> tuple[float, ...]:
    """The heights between the lowest and the highest.

    Raises:
        GeometryError: where two would touch.
    """
    ends = (low, high) if high - low >= breadth else (low,)
    found = (low, *heights, *ends[1:])
    for lower, upper in pairwise(found):
        if upper - lower < breadth - 1e-6:
            wrong = upper if upper in heights else lower
            at = show.length(wrong, levels.units)
            said = ", ".join(show.length(end, levels.units) for end in ends)
            raise GeometryError(
                f"{levels.name}: mold.{levels.what}_heights: got {at}, want heights from the lowest up, at least "
                f"{show.length(breadth, levels.units)} from one another and from the {levels.what}s at the ends "
                f"({said}), which stand there in any case"
            )
    return found


def in_proportion(
    low: float, high: float, breadth: float, count: int, span: Callable[[float], float]
) -> tuple[float, ...]:
    """So many heights from the lowest to the highest, every bay the same share of what it may span.

    Args:
        low: the lowest.
        high: the highest.
        breadth: no bay is less.
        count: how many, the lowest and the highest among them.
        span: the greatest bay from a height up.
    """
    if count == 1 or high - low < breadth:
        return (low,)

    def walk(share: float) -> list[float]:
        found = [low]
        for _ in range(count - 1):
            bay = share * min(span(min(found[-1], high)), high - low)
            found.append(found[-1] + max(bay, breadth))
        return found

    least, most = 0.0, 1.0
    while walk(most)[-1] < high and most < 1e12:
        most *= 2.0
    for _ in range(_HALVINGS):
        middle = (least + most) / 2.0
        if walk(middle)[-1] < high:
            least = middle
        else:
            most = middle
        if most - least < _SAME * most:
            break
    return (*walk(most)[:-1], high)


def fewest(
    low: float,
    high: float,
    breadth: float,
    spans: Sequence[Callable[[float], float]],
    holds: Callable[[tuple[float, ...]], bool],
    least: int,
) -> tuple[float, ...] | None:
    """The fewest heights that hold, drawn in proportion; None where not even side by side they do.

    Args:
        low: the lowest.
        high: the highest.
        breadth: of one of them.
        spans: the greatest bay from a height up, by one rule or another.
        holds: whether some heights do.
        least: of them, where there is room.
    """
    most = most_of(low, high, breadth)
    for count in range(min(least, most), most + 1) if least <= max(2, most) else ():
        for span in spans:
            found = in_proportion(low, high, breadth, count, span)
            if holds(found):
                return found
    return None
