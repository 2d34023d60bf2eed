"""From what is told of putting a mold together to its steps: each with the parts it puts in their place.

A part is put together with others at the bench at most once, and set in the mold exactly once: by the first step that
takes it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from formwork.molds.mold import AssemblyStep, Part
from formwork.record import record

Takes = Callable[[Part], bool]


def nothing(_: Part) -> bool:
    """Of a step that puts nothing in place: it seals, measures, oils."""
    return False


@record
class Told:
    """A step as it is told.

    Attributes:
        text: what to do.
        takes: which parts it puts in their place.
        bench: it is done once, at the bench; the others at every filling.
    """

    text: str
    takes: Takes = nothing
    bench: bool = False


def steps_of(told: Iterable[Told], parts: Sequence[Part]) -> tuple[AssemblyStep, ...]:
    """The steps in their order, each with the names of its parts.

    Args:
        told: in order, those at the bench first.
        parts: of the mold.
    """
    left = {bench: list(parts) for bench in (True, False)}
    steps = []
    for one in told:
        taken = [part for part in left[one.bench] if one.takes(part)]
        left[one.bench] = [part for part in left[one.bench] if not one.takes(part)]
        steps.append(AssemblyStep(one.text, tuple(part.name for part in taken), one.bench))
    return tuple(steps)


def numbered(steps: Iterable[AssemblyStep]) -> tuple[str, ...]:
    """The steps as lines to read.

    >>> numbered([AssemblyStep("Lay the base level."), AssemblyStep("Stand the sides on it.")])
    ('Step 1. Lay the base level.', 'Step 2. Stand the sides on it.')
    """
    return tuple(f"Step {number}. {step.text}" for number, step in enumerate(steps, start=1))


def of_group(*groups: str) -> Takes:
    """Takes the parts that come off together."""
    return lambda part: part.group in groups


def of_role(*roles: str) -> Takes:
    """Takes the parts that do the same in the mold."""
    return lambda part: part.role in roles


def all_of(*wanted: Takes) -> Takes:
    """Takes what each of several takes."""
    return lambda part: all(one(part) for one in wanted)


def any_of(*wanted: Takes) -> Takes:
    """Takes what one of several takes."""
    return lambda part: any(one(part) for one in wanted)
