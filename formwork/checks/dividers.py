"""Do a gang's dividers hold with one cavity full and the next one empty: the sheet, and the screws at its ends."""

from __future__ import annotations

from formwork.checks.check import Found, NotChecked, told
from formwork.molds.fastening import Fastening
from formwork.molds.joints import DIVIDERS
from formwork.molds.panelled import Built
from formwork.molds.panels.dividers import divider_push, divider_verdicts, dividers
from formwork.strength.working import Judged, Unjudged, Verdict, given, step

_NAME = "dividers, one side empty"
_ASK = "fill the cavities together, a third at a time; to hold otherwise"
_SOURCE = "statics: half of a divider's load goes to each of its ends; capacities as said in the working"


def divider_checks(built: Built) -> tuple[Found, ...]:
    """Each limit of the sheet where a divider is worst off, then the screws at its ends; nothing without dividers."""
    frame, load = built.lined.frame, built.lined.load
    rows = [divider_verdicts(frame, load, part) for part in dividers(built.mold.parts)]
    if not rows:
        return ()
    return (*(_worst(built, kind) for kind in zip(*rows, strict=True)), *_ends(built))


def _worst(built: Built, kind: tuple[Judged, ...]) -> Found:
    missing = [one for one in kind if isinstance(one, Unjudged)]
    if missing:
        return NotChecked(f"{_NAME}: {missing[0].name}", built.mold.name, missing[0].why)
    verdict = max((one for one in kind if isinstance(one, Verdict)), key=lambda one: one.utilisation)
    load = built.lined.load
    layers = dividers(built.mold.parts)[0].layers
    shared = given("n_l", float(layers), "", "layers, each with its share of the pressure")
    before = (*load.steps(0.0), shared)
    remedy = f"{_ASK}, a thicker sheet or one piece to a mold"
    return told(f"{_NAME}: {verdict.name}", built.mold.name, verdict, remedy, before)


def _ends(built: Built) -> tuple[Found, ...]:
    return tuple(_screws(built, one) for one in built.fastenings if one.joint.group == DIVIDERS)


def _screws(built: Built, fastening: Fastening) -> Found:
    name = f"{_NAME}: {fastening.item}s at its ends"
    across = fastening.across
    if across is None:
        why = f"no value was read for a {fastening.item} like this pushed across its axis in the edge of a sheet"
        return NotChecked(name, built.mold.name, why)
    load = built.lined.load
    push = divider_push(load, built.mold.parts)
    each = fastening.count / (2 * len(dividers(built.mold.parts)))
    demand = push.across * load.fill / each
    shared = step("F", "v * H / n", demand, "N", v=push.across / 1000.0, H=load.fill * 1000.0, n=each)
    verdict = Verdict(name, demand, across.force, "N", _SOURCE, (*push.steps, shared, *across.steps))
    remedy = f"{_ASK}, more than {each:.0f} {fastening.item}s at each end"
    return told(name, built.mold.name, verdict, remedy)
