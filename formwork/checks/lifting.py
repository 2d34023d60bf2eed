"""Does the mix lift anything: cores by all they displace, sides by every face the mix pushes from below."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.checks.check import Check, Found, NotChecked, told
from formwork.molds.fastening import Fastening, against_lift
from formwork.molds.joints import CLEATS, CORNERS, DIVIDERS
from formwork.molds.panelled import Built
from formwork.molds.panels.lift import lifted
from formwork.strength.uplift import HoldDown, held_down
from formwork.strength.working import Force, step
from formwork.units import show

_NOTHING = 1.0


def lift_checks(built: Built) -> tuple[Found, ...]:
    """Every joint that keeps a core or the sides down, against the lift of the mix; equal ones are told once."""
    frame, load = built.lined.frame, built.lined.load
    found: list[Found] = []
    for fastening in built.fastenings:
        group = fastening.joint.group
        if group in ("", CLEATS, CORNERS, DIVIDERS):
            continue
        lift, dead = lifted(frame, load, built.mold.parts, group)
        if lift.force < _NOTHING:
            continue
        held = against_lift(frame, fastening)
        found.append(_held(built, lift, dead, fastening, held) if held else _unknown(built, lift, fastening))
    return _alike_once(found)


def _unknown(built: Built, lift: Force, fastening: Fastening) -> NotChecked:
    force = show.force(lift.force, built.lined.frame.units)
    why = (
        f"the mix lifts the {fastening.joint.group} with {force} across their "
        f'{fastening.item}s, of which no value is known; strap them down, or set base = "stands on"'
    )
    return NotChecked(f"{fastening.joint.group} held down", built.mold.name, why)


def _held(built: Built, lift: Force, dead: float, fastening: Fastening, each: Force) -> Check:
    joint = fastening.joint
    total = each.force * fastening.count
    one = each.steps[-1].symbol
    shared = step("R_f", f"n_f * {one}", total, "N", **{"n_f": fastening.count, one: each.force})
    verdict = held_down(
        f"{joint.group} held down, {joint.use}",
        lift.force,
        HoldDown(dead, total),
        (*lift.steps, *each.steps, shared),
    )
    remedy = f"more than {fastening.count} {fastening.item}s, or ballast on top"
    return told(verdict.name, built.mold.name, verdict, remedy)


def _alike_once(found: Sequence[Found]) -> tuple[Found, ...]:
    """Equal cores of a gang are told once for each of their joints, under the name of the first."""
    seen: dict[tuple[object, ...], Found] = {}
    for one in found:
        if isinstance(one, NotChecked):
            seen.setdefault((one.name,), one)
        else:
            use = one.name.split(", ", 1)[-1]
            seen.setdefault((use, round(one.demand, 6), round(one.capacity, 6)), one)
    return tuple(seen.values())
