"""How long fewer sheets are looked for: in work, the same plan every time, with a stop for those in a hurry."""

from __future__ import annotations

from collections.abc import Callable

from formwork.record import record


def never() -> bool:
    """No end is asked for before the work is done."""
    return False


@record
class Search:
    """How long to look.

    Attributes:
        effort: work, as a multiple of the usual; from 1 on, more never gives a dearer plan.
        stopped: asked now and then whether to make do with the best plan so far.
    """

    effort: float = 1.0
    stopped: Callable[[], bool] = never


USUAL = Search()
"""What is done unless somebody asks for more."""
