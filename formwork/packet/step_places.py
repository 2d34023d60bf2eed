"""The steps of putting a mold together as places of the front page, and which of them a part is used in."""

from __future__ import annotations

from collections.abc import Collection

from formwork.molds.mold import Mold
from formwork.plan import Plan


def anchor(mold: int, step: int) -> str:
    """The place of a step on the front page; molds and steps are counted from 1.

    >>> anchor(2, 4)
    'mold-2-step-4'
    """
    return f"mold-{mold}-step-{step}"


def anchors(plan: Plan, mold: Mold) -> tuple[str, ...]:
    """For each line of a mold's instructions its place; empty for lines that are no step."""
    number = plan.molds.index(mold) + 1
    steps = {f"Step {k}. {step.text}": anchor(number, k) for k, step in enumerate(mold.steps, start=1)}
    return tuple(steps.get(line, "") for line in mold.instructions)


def used_in(mold: Mold, names: Collection[str]) -> tuple[int, ...]:
    """The steps that take any of some parts, at the bench and into the mold, counted from 1."""
    return tuple(
        number for number, step in enumerate(mold.steps, start=1) if any(name in names for name in step.parts)
    )
