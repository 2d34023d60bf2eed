"""Does the base carry the mix between bearers, where it does not lie on a flat bench all over, and at its joints."""

from __future__ import annotations

from dataclasses import replace

from formwork.checks.check import Found, NotChecked, told
from formwork.molds.bearers import UNKNOWN, Bearers
from formwork.molds.load import PANEL_LIMIT, Load
from formwork.molds.strengths import grade_of_stick
from formwork.stock.records import StickStock
from formwork.strength.beams import bearing
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.panels import panel_verdicts
from formwork.strength.working import Unjudged, Verdict, given, step


def base_checks(mold: str, chosen: Bearers | Unjudged, load: Load) -> tuple[Found, ...]:
    """The base between two bearers as far apart as the instructions allow: what governs of bending, shear and bulge.

    Args:
        mold: name of the mold.
        chosen: the bearers it was designed for.
        load: the mix.
    """
    if isinstance(chosen, Unjudged):
        return (NotChecked(chosen.name, mold, chosen.why),)
    bay = replace(chosen.bay, pressure=load.weight(0.0))
    judged = panel_verdicts(chosen.section, bay, PANEL_LIMIT)
    missing = tuple(
        NotChecked(f"base between bearers: {one.name}", mold, one.why)
        for one in judged
        if isinstance(one, Unjudged)
    )
    known = [one for one in judged if isinstance(one, Verdict)]
    if not known:
        return missing
    worst = max(known, key=lambda one: one.utilisation)
    head = load.weight_steps(0.0)
    return (
        told("base between bearers", mold, worst, "bearers closer together, or a flat bench", head),
        *missing,
    )


def joint_check(mold: str, batten: StickStock, chosen: Bearers | Unjudged, load: Load) -> Found:
    """The edge of a board of the base on its half of the batten under the joint, for one metre of it.

    Half of the bay beside the joint comes to that edge: a board of a joined base is a span of its own.

    Args:
        mold: name of the mold.
        batten: lying flat under the joint.
        chosen: the bearers; the spacing told in their stead where nothing is known of the base.
        load: the mix.
    """
    apart = UNKNOWN if isinstance(chosen, Unjudged) else chosen.spacing
    values = adjust(grade_of_stick(batten, batten.width), Section(batten.width, batten.thickness), Service())
    pressure = load.weight(0.0)
    force, face = pressure * apart / 2.0, batten.width / 2.0
    steps = (
        *load.weight_steps(0.0),
        given("s", apart * 1000.0, "mm", "from the batten to the next bearer at most"),
        step("F", "P / 1000 * s / 2 * L", force, "N", P=pressure / 1000.0, s=apart * 1000.0, L=1000.0),
        step("A", "b / 2 * L", face * 1e6, "mm2", b=batten.width * 1000.0, L=1000.0),
    )
    verdict = bearing(values, force, face)
    return told("base joints on their battens", mold, verdict, "a broader stick under the joints", steps)
