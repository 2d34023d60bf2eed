"""Does the mold come off: every group by a free way, and enough draft on the cores that the concrete grips."""

from __future__ import annotations

from math import degrees, radians

from formwork.checks.check import Check
from formwork.molds.asked import BuiltMold
from formwork.molds.mold import Strip
from formwork.strength.working import given

LEAST_DRAFT = radians(2.0)
"""Least draft of a core that is drawn in one piece (common practice, no source); below it the core must be split."""


def stripping_check(built: BuiltMold) -> Check:
    """Every group of parts leaves by a way along which nothing stands in it."""
    mold = built.mold
    locked = len(mold.locked)
    steps = tuple(
        f"{number}. {step.group}: {step.note}" for number, step in enumerate(mold.stripping, start=1)
    )
    return Check(
        name="comes off in order",
        mold=mold.name,
        demand=float(locked),
        capacity=0.0,
        unit="locked groups",
        ok=locked == 0,
        source="each group swept along its way through the space of the piece and of what still stands",
        working=(*steps, *(why for _, why in mold.locked)),
        remedy="; ".join(why for _, why in mold.locked),
    )


def draft_checks(built: BuiltMold) -> tuple[Check, ...]:
    """The draft of each core on the way it leaves; equal cores are told once."""
    cores = {former.name for former in built.mold.piece.form.formers if former.kind == "core"}
    drawn = [step for step in built.mold.stripping if step.group in cores]
    if not drawn:
        return ()
    return (_draft(built, min(drawn, key=lambda step: (step.draft, step.group))),)


def _draft(built: BuiltMold, step: Strip) -> Check:
    return Check(
        name="draft of core",
        mold=built.mold.name,
        demand=degrees(LEAST_DRAFT),
        capacity=degrees(step.draft),
        unit="deg",
        ok=step.draft >= LEAST_DRAFT - 1e-9,
        source="common practice, no source; 1:12 and more is easy (precast practice, from memory)",
        working=(
            str(
                given(
                    "a", degrees(step.draft), "deg", f"least over the faces of the {step.group}; {step.note}"
                )
            ),
            str(given("a_min", degrees(LEAST_DRAFT), "deg", "for a core drawn in one piece")),
        ),
        remedy="more core_draft, or a core split in two halves with a wedge between them",
    )
