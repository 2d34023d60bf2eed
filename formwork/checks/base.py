"""Does the base carry the mix between bearers, where it does not lie on a flat bench all over."""

from __future__ import annotations

from dataclasses import replace

from formwork.checks.check import Found, NotChecked, told
from formwork.molds.bearers import Bearers
from formwork.molds.load import PANEL_LIMIT, Load
from formwork.strength.panels import panel_verdicts
from formwork.strength.working import Unjudged, Verdict


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
    missing = [one for one in judged if isinstance(one, Unjudged)]
    if missing:
        return (NotChecked("base between bearers", mold, missing[0].why),)
    worst = max((one for one in judged if isinstance(one, Verdict)), key=lambda one: one.utilisation)
    head = load.weight_steps(0.0)
    return (told("base between bearers", mold, worst, "bearers closer together, or a flat bench", head),)
