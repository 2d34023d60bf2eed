"""Do the corners hold: the pull of the panels on the fasteners at the foot of the corners."""

from __future__ import annotations

from formwork.checks.check import Check, Found, NotChecked, told
from formwork.molds.fastening import Fastening
from formwork.molds.joints import CLEATS, CORNERS
from formwork.molds.panelled import Built
from formwork.molds.panels.corner_pull import Pull, corner_pull, panel_tension
from formwork.molds.panels.hoops import hoop_strap, strap_pull
from formwork.molds.straps import as_strap
from formwork.strength.bands import rated
from formwork.strength.working import Verdict, step
from formwork.units import show

_SOURCE = "statics: half of a panel's load goes to each of its ends; capacities as said in the working"


def corner_checks(built: Built) -> tuple[Found, ...]:
    """One fastener of a corner, along and across its axis, at the pressure of the foot."""
    held = [one for one in built.fastenings if one.joint.group == CORNERS]
    if not held:
        return (_strapped(built),)
    pull = corner_pull(built.lined.frame, built.lined.load)
    fastening = held[0]
    found: list[Found] = [_one(built, pull, fastening, along=True)]
    if pull.across > 0.0 and fastening.across is None:
        why = f"no value was read for a {fastening.item} like this pushed across its axis"
        found.append(NotChecked("corner joints across", built.mold.name, why))
    elif pull.across > 0.0:
        found.append(_one(built, pull, fastening, along=False))
    return (*found, *(_cleat(built, one) for one in built.fastenings if one.joint.group == CLEATS))


def _cleat(built: Built, fastening: Fastening) -> Found:
    """The screws between a cleat and its own panel, pushed across their axis by the panel it holds."""
    name = f"cleats to panels: {fastening.item}s pushed across"
    if fastening.across is None:
        why = f"no value was read for a {fastening.item} like this pushed across its axis"
        return NotChecked(name, built.mold.name, why)
    pull = panel_tension(built.lined.frame, built.lined.load)
    each, height = fastening.count / fastening.joint.places, built.lined.load.fill
    demand = pull.across * height / each
    shared = step("F", "s * H / n", demand, "N", s=pull.across / 1000.0, H=height * 1000.0, n=each)
    held = fastening.across
    verdict = Verdict(name, demand, held.force, "N", _SOURCE, (*pull.steps, shared, *held.steps))
    return told(name, built.mold.name, verdict, f"more than {each:.0f} {fastening.item}s in each cleat")


def _strapped(built: Built) -> Found:
    """A mold of hoops: the shop's strap against its rating; what one must carry where the shop lists none."""
    frame, load = built.lined.frame, built.lined.load
    pull = strap_pull(frame, load, built.rails)
    strap = hoop_strap(frame, load, built.rails)
    if strap is not None:
        judged = rated(
            "straps round the hoops", as_strap(strap), pull.force, "statics of the corner", pull.steps
        )
        if isinstance(judged, Verdict):
            return told(judged.name, built.mold.name, judged, "a stronger strap, or two round each hoop")
        return NotChecked(judged.name, built.mold.name, judged.why)
    why = (
        "no value was read for screws that cross the mitre of a hoop slantwise; the strap round each hoop must carry "
        f"{show.force(pull.force, built.lined.frame.units)} by its label"
    )
    return NotChecked("corner joints", built.mold.name, why)


def _one(built: Built, pull: Pull, fastening: Fastening, along: bool) -> Check:
    corners = len(built.lined.frame.corners)
    each = fastening.count / corners
    height = built.lined.load.fill
    asked = pull.along if along else pull.across
    demand = asked * height / each
    held = fastening.grip if along or fastening.across is None else fastening.across
    symbol = "t" if along else "v"
    shared = step(
        "F", f"{symbol} * H / n", demand, "N", **{symbol: asked / 1000.0, "H": height * 1000.0, "n": each}
    )
    name = f"corners: {fastening.item}s {'pulled' if along else 'pushed across'}"
    verdict = Verdict(name, demand, held.force, "N", _SOURCE, (*pull.steps, shared, *held.steps))
    remedy = f"more than {each:.0f} {fastening.item}s at each corner"
    return told(name, built.mold.name, verdict, remedy)
