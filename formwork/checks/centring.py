"""Does an arch's centre carry the stones: battens, ribs between their feet, feet on their ties, ties on wedges."""

from __future__ import annotations

from collections.abc import Iterator

from formwork.checks.check import Check, Found, NotChecked, told
from formwork.molds.arches.centring import batten_verdicts
from formwork.molds.strengths import grade_of_stick
from formwork.molds.structure import BuiltCentre
from formwork.strength.beams import bearing
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.sheet_ribs import SheetRib, rib_bending
from formwork.strength.working import Step, Unjudged, Verdict, given, step

SOLE = 0.1
"""Length of a tie that bears on its wedges, m (ours)."""
NOT_MADE = (
    ("abutments", "what the arch pushes its abutments with, and whether they stand it, is not computed"),
    ("uneven loading", "stones on one side alone are not computed: lay both sides evenly"),
)


def centre_checks(built: BuiltCentre) -> Iterator[Found]:
    """What is checked of a centre, then what is not."""
    weight = _weight(built)
    for verdict in batten_verdicts(built.stick, built.batten):
        yield told(f"battens: {verdict.name}", built.name, verdict, "more ribs, or a stouter stick", weight)
    yield _ribs(built, weight)
    yield _feet(built, weight)
    yield _soles(built, weight)
    for name, why in NOT_MADE:
        yield NotChecked(name, built.name, why)


def _weight(built: BuiltCentre) -> tuple[Step, ...]:
    return (
        given(
            "G", built.weight, "N", f"{built.centre.stones} stones as they leave the mold, joints left out"
        ),
        given("n_r", float(built.ribs), "", "ribs"),
    )


def _ribs(built: BuiltCentre, weight: tuple[Step, ...]) -> Found:
    if isinstance(built.section, Unjudged):
        return NotChecked("ribs", built.name, built.section.why)
    rib = SheetRib(built.section, built.sheet.thickness, built.through, built.depth)
    share = step("w", "G / (n_r * l)", built.rib_load / 1000.0, "N/mm", G=built.weight, n_r=float(built.ribs),
                 l=built.span * 1000.0)  # fmt: skip
    verdict = rib_bending(rib, built.rib_load, built.span)
    return told(
        f"ribs: {verdict.name}", built.name, verdict, "a thicker sheet, or more ribs", (*weight, share)
    )


def _foot(built: BuiltCentre) -> Step:
    return step("V", "G / (2 * n_r)", built.foot, "N", G=built.weight, n_r=float(built.ribs))


def _feet(built: BuiltCentre, weight: tuple[Step, ...]) -> Check | NotChecked:
    """The screws of one foot, across their axis."""
    held = built.feet.across
    if held is None:
        return NotChecked(
            "feet", built.name, f"no value is known for a {built.feet.item} like this across its axis"
        )
    count = built.feet.count / (2.0 * built.ribs)
    limit = count * held.force
    one = held.steps[-1].symbol
    steps = (
        *weight,
        *held.steps,
        step("R_f", f"n_s * {one}", limit, "N", **{"n_s": count, one: held.force}),
        _foot(built),
    )
    verdict = Verdict(
        "screws of a foot", built.foot, limit, "N", "statics; screws as said in the working", steps
    )
    return told("feet: screws of a foot", built.name, verdict, "more screws through the ties into the ribs")


def _soles(built: BuiltCentre, weight: tuple[Step, ...]) -> Check:
    """A tie on the wedges under one of its ends, across the grain."""
    section = Section(built.tie.thickness, built.tie.width)
    values = adjust(grade_of_stick(built.tie, built.tie.width), section, Service())
    verdict = bearing(values, built.foot, built.tie.thickness * SOLE)
    return told("ties on their wedges", built.name, verdict, "longer wedges", (*weight, _foot(built)))
