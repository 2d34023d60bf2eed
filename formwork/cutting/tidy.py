"""Lay the same blanks on the same sheets more kindly: one large offcut, and long rips before short cuts."""

from __future__ import annotations

from formwork.cutting.fill import ALONG, Filled, spots_of
from formwork.cutting.job import SheetJob, steps_down
from formwork.cutting.repack import Packer

_TRIES = 15
"""Refillings of one sheet in search of one that starts with long rips."""

_NEARLY = 0.9
"""Share of the largest offcut that long rips first are worth giving up the rest for."""


def one_offcut(
    job: SheetJob, packer: Packer, packed: list[Filled], keep: tuple[float, float], budget: int
) -> list[Filled]:
    """Fill the emptiest sheet again and again, and keep the filling with the largest single rest.

    Args:
        job: the job.
        packer: its packer.
        packed: a complete packing.
        keep: longer and shorter side of the least offcut worth keeping, m.
        budget: work to spend, fits.
    """
    if not packed:
        return packed
    place = min(range(len(packed)), key=lambda index: packed[index].area)
    best, size = packed[place], largest_rest(job, packed[place], keep)
    end = packer.work + budget
    while packer.work < end:
        again = packer.refill(best)
        if again and (rest := largest_rest(job, again, keep)) > size:
            best, size = again, rest
    return [*packed[:place], best, *packed[place + 1 :]]


def rips_first(
    job: SheetJob, packer: Packer, packed: list[Filled], keep: tuple[float, float], budget: int
) -> list[Filled]:
    """Where a sheet can as well be cut along its length first, do so: a long sheet is ripped more safely whole.

    Args:
        job: the job.
        packer: its packer.
        packed: a complete packing.
        keep: longer and shorter side of the least offcut worth keeping, m.
        budget: work to spend, fits.
    """
    end = packer.work + budget
    ripped: dict[Filled, Filled] = {}
    for one in dict.fromkeys(packed):
        least = _NEARLY * largest_rest(job, one, keep)
        for _ in range(_TRIES if one.first != ALONG else 0):
            again = packer.refill(one, ALONG) if packer.work < end else None
            if again and largest_rest(job, again, keep) >= least:
                ripped[one] = again
                break
    return [ripped.get(one, one) for one in packed]


def largest_rest(job: SheetJob, filled: Filled, keep: tuple[float, float]) -> int:
    """Area of the largest free rectangle worth keeping, steps squared.

    Args:
        job: the job.
        filled: one sheet.
        keep: longer and shorter side of the least offcut worth keeping, m.
    """
    sheet = job.sheets[filled.sheet]
    spots = spots_of(job.kinds, filled, (sheet.length, sheet.width), job.stages + 1)
    short, long = (steps_down(side) for side in sorted(keep))
    return max((x * y for x, y, *_ in spots if max(x, y) >= long and min(x, y) >= short), default=0)
