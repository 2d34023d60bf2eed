"""What is checked of a wrapped mold: skins, seams, straps, the core's cap and bars, what the mix lifts, the base."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from formwork.checks.base import base_checks
from formwork.checks.check import Found, NotChecked, told
from formwork.molds.fastening import Fastening
from formwork.molds.load import PANEL_LIMIT, Load
from formwork.molds.straps import as_strap
from formwork.molds.strengths import section_of
from formwork.molds.wrapped import WrappedMold
from formwork.molds.wraps.bent_strength import bent_of
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.joints import SEAM, SHELLS_DOWN, bar_judged, bar_load
from formwork.molds.wraps.lifts import core_lift, held_groups, shells_lift, weight
from formwork.molds.wraps.round_core import RIB, RoundCore
from formwork.molds.wraps.skin_holds import batten_values, strip_of
from formwork.molds.wraps.skins import tension_of
from formwork.molds.wraps.wrapping import slender
from formwork.record import record
from formwork.strength.bands import hoop
from formwork.strength.beams import Run, beam_verdicts
from formwork.strength.bending import hoop_stress
from formwork.strength.outside_pressure import Shell, buckling
from formwork.strength.panels import Bay, panel_verdicts
from formwork.strength.uplift import HoldDown, held_down
from formwork.strength.working import Judged, Step, Unjudged, Verdict, step
from formwork.units import show

_NOTHING = 1.0


@record
class _Bay:
    """What lies between two rings: of which side, from where to where, m."""

    side: Cone
    low: float
    high: float

    @property
    def span(self) -> float:
        """From ring to ring."""
        return self.high - self.low

    @property
    def radius(self) -> float:
        """Greatest radius of the piece there."""
        return max(self.side.radius(self.low), self.side.radius(self.high))


def checks(built: WrappedMold) -> tuple[Found, ...]:
    """What holds the mix, in the order in which a person would ask."""
    return (
        *_skin(built),
        *_straps(built),
        *_core_skin(built),
        *_cap(built),
        *_bars(built),
        *_lifts(built),
        *base_checks(built.mold.name, built.under, built.lined.asked.load),
        *_standing(built),
    )


def _bays(built: WrappedMold) -> list[_Bay]:
    """Between the rings; a side with a single ring has what stands out beyond it, which counts double."""
    found = []
    for side, some in zip(built.lined.sides, built.heights, strict=True):
        found += [_Bay(side, low, high) for low, high in pairwise(some)]
    return found


def _skin(built: WrappedMold) -> Iterator[Found]:
    """The skin by its tension, where that is known, with its seams; else as a strip from ring to ring."""
    lined, load = built.lined, built.lined.asked.load
    foot, radius = lined.sides[0].foot[1], max(max(s.foot[0], s.head[0]) for s in lined.sides)
    pressure = load.pressure(foot)
    stress = tension_of(lined.shell.skin.sheet)
    section = strip_of(lined.shell.skin)
    by_tension = lined.shell.holds.by_tension(pressure, radius)
    if not isinstance(stress, Unjudged) and (by_tension or isinstance(section, Unjudged)):
        verdict = hoop_stress(stress, pressure, radius, lined.shell.skin.sheet.thickness)
        yield _told(built, "outer skin", verdict, load.steps(foot), "a thicker skin")
        yield from _seams(built, pressure, radius, load.steps(foot))
        yield from _battens(built, load)
        return
    if isinstance(section, Unjudged):
        what = lined.shell.skin.sheet.material
        why = f"nothing published says what a bent skin of {what} carries; enter the tension its maker allows"
        yield NotChecked("outer skin", built.mold.name, f"{_pressed(built, pressure)}: {why}")
        return
    rows = [
        (bay, panel_verdicts(section, Bay(load.pressure(bay.low), bay.span), PANEL_LIMIT))
        for bay in _bays(built)
    ]
    yield from _worst(
        built, "outer skin between rings", rows, load, "a thicker skin, or one that carries tension"
    )


def _pressed(built: WrappedMold, pressure: float) -> str:
    return f"the mix presses with {show.pressure(pressure, built.lined.asked.units)} at the foot"


def _seams(built: WrappedMold, pressure: float, radius: float, head: Sequence[Step]) -> Iterator[Found]:
    """One screw at the edge of a skin, at the pressure of the foot."""
    holds = built.lined.shell.holds
    hold = holds.screw.hold
    if isinstance(hold, Unjudged):
        yield NotChecked(
            "skin seams",
            built.mold.name,
            f"{hold.why}; the skin pulls there with {show.force(pressure * radius, built.lined.asked.units)} on each "
            "metre of seam at the foot",
        )
        return
    pitch, rows = holds.pitch(pressure, radius), holds.rows(pressure, radius)
    force = pressure * radius * pitch / rows
    shared = step(
        "F", "p * r * s / n_r", force, "N", p=pressure / 1e6, r=radius * 1000.0, s=pitch * 1000.0, n_r=rows
    )
    verdict = Verdict(
        "screws sideways",
        force,
        hold.force,
        "N",
        "hoop tension, statics; NDS yield modes",
        (shared, *hold.steps),
    )
    yield _told(built, "skin seams", verdict, head, "a thicker skin, or one of sheet steel")


def _battens(built: WrappedMold, load: Load) -> Iterator[Found]:
    """The seam batten that is worst off: a stick from ring to ring that the skin pulls along the round."""
    values, section = batten_values(built.lined.shell.batten)
    rows: list[tuple[_Bay, tuple[Judged, ...]]] = [
        (bay, beam_verdicts(values, section, Run(load.pressure(bay.low) * bay.radius, bay.span), PANEL_LIMIT))
        for bay in _bays(built)
    ]
    yield from _worst(built, "seam battens", rows, load, "a stouter stick")


def _worst(
    built: WrappedMold,
    name: str,
    rows: Sequence[tuple[_Bay, tuple[Judged, ...]]],
    load: Load,
    remedy: str,
) -> Iterator[Found]:
    """For each limit, the bay in which it is worst."""
    for kind in zip(*(verdicts for _, verdicts in rows), strict=True):
        missing = [one for one in kind if isinstance(one, Unjudged)]
        if missing:
            yield NotChecked(f"{name}: {missing[0].name}", built.mold.name, missing[0].why)
            continue
        judged = [(bay, one) for (bay, _), one in zip(rows, kind, strict=True) if isinstance(one, Verdict)]
        bay, verdict = max(judged, key=lambda pair: pair[1].utilisation)
        yield _told(built, name, verdict, load.steps(bay.low), remedy)


def _straps(built: WrappedMold) -> Iterator[Found]:
    """The strap of the ring that is worst off."""
    lined = built.lined
    load = lined.asked.load
    rows = [
        (side, low, served, pull)
        for side, some in zip(lined.sides, built.heights, strict=True)
        for low, served, pull in lined.shell.pulls(side, some, load)
    ]
    side, low, served, pull = max(rows, key=lambda row: row[3])
    if lined.shell.strap is None:
        asked = show.force(pull, lined.asked.units)
        why = (
            f"the shop lists no strap that reaches round; one round each ring must carry {asked} by its label"
        )
        yield NotChecked("ring straps", built.mold.name, why)
        return
    radius = max(side.radius(low), side.radius(low + served))
    judged = hoop(as_strap(lined.shell.strap), load.pressure(low), radius, served)
    yield _judged(built, "ring straps", judged, load.steps(low), "a stronger strap, or two round each ring")


def _core_skin(built: WrappedMold) -> Iterator[Found]:
    """The core's skin from rib to rib: as an upright strip, and as a ring that must not buckle inward."""
    core = built.lined.core
    if core is None:
        return
    yield from _core_strip(built, core)
    yield _core_buckling(built, core)


def _core_strip(built: WrappedMold, core: RoundCore) -> Iterator[Found]:
    """A strip of the skin in the bay that is worst off."""
    load, section = built.lined.asked.load, strip_of(core.skin)
    low, high = max(_between_ribs(core), key=lambda pair: load.pressure(pair[0]) * (pair[1] - pair[0]) ** 2)
    if isinstance(section, Unjudged):
        pressure = show.pressure(load.pressure(low), built.lined.asked.units)
        apart = show.length(high - low, built.lined.asked.units)
        yield NotChecked(
            "core skin",
            built.mold.name,
            f"nothing published says how a strip of bent {core.skin.sheet.material} so thin bears the mix between two "
            f"ribs: it presses with {pressure} at its foot, and the ribs stand {apart} apart; pack the core with sand "
            "or boards where in doubt",
        )
        return
    for verdict in panel_verdicts(section, Bay(load.pressure(low), high - low), PANEL_LIMIT):
        yield _judged(
            built, "core skin between ribs", verdict, load.steps(low), "a thicker skin for the core"
        )


def _between_ribs(core: RoundCore) -> list[tuple[float, float]]:
    """From the middle of each rib to that of the next, heights in m."""
    thick = core.sheet.thickness
    return [(low + thick / 2.0, high + thick / 2.0) for low, high in pairwise(core.ribs)]


def _core_buckling(built: WrappedMold, core: RoundCore) -> Found:
    """The bay between two ribs in which the mix outside comes nearest to buckling the skin."""
    load, sheet = built.lined.asked.load, core.skin.sheet
    bent = bent_of(sheet, grain_round=core.skin.way == "along")
    if isinstance(bent, Unjudged):
        return NotChecked("core skin: buckling between ribs", built.mold.name, bent.why)
    found = []
    for low, high in _between_ribs(core):
        radius = max(core.inside.radius(low), core.inside.radius(high)) + sheet.thickness / 2.0
        shell = Shell(bent.bend, bent.stretch, radius, high - low, bent.source)
        found.append((buckling(shell, load.pressure(low)), low))
    verdict, low = max(found, key=lambda pair: pair[0].utilisation)
    return _told(
        built, "core skin", verdict, load.steps(low), "another rib in the core, or a thicker skin for it"
    )


def _cap(built: WrappedMold) -> Iterator[Found]:
    """The cap as a strip over the opening of the rib behind it."""
    core, load = built.lined.core, built.lined.asked.load
    if core is None:
        return
    foot = core.cap[0]
    span = 2.0 * max(0.0, core.inside.radius(core.cap[1] if core.hung else foot) - RIB)
    section = section_of(core.sheet, "along")
    if isinstance(section, Unjudged):
        yield NotChecked("core caps", built.mold.name, section.why)
        return
    if span <= core.sheet.thickness:
        return
    pressure = load.head(foot) if core.hung else load.weight(foot)
    head = load.head_steps(foot) if core.hung else load.weight_steps(foot)
    bay = Bay(pressure, span, support=core.sheet.thickness)
    for verdict in panel_verdicts(section, bay, PANEL_LIMIT):
        yield _judged(built, "core caps", verdict, head, "a thicker sheet for the cap")


def _bars(built: WrappedMold) -> Iterator[Found]:
    """Bending, shear and sag of a bar over a hung core, under its lift with the factor of the hold-down."""
    load = bar_load(built.lined)
    bar = next((part for part in built.mold.parts if part.role == "bar"), None)
    if load is None or bar is None:
        return
    stick = next(one for one in built.lined.asked.shop.sticks if one.name == bar.stock)
    lift = core_lift(built.lined)
    shared = step("F", "1.5 * U_c / 2", load.force, "N", U_c=lift.force)
    for verdict in bar_judged(load, stick):
        yield _told(built, "core bars", verdict, (*lift.steps, shared), "a stouter stick for the bars")


def _lifts(built: WrappedMold) -> Iterator[Found]:
    """Every joint that keeps the core or the shells down, against the lift of the mix."""
    lined, parts = built.lined, built.mold.parts
    for one in built.fastenings:
        group = one.joint.group
        if group in ("", SEAM):
            continue
        shells = group == SHELLS_DOWN
        lift = shells_lift(lined) if shells else core_lift(lined)
        if lift.force < _NOTHING:
            continue
        groups = held_groups(lined) if shells or lined.core is None else lined.core.groups
        yield _held(built, one, lift.force, lift.steps, weight(lined, parts, groups))


def _held(built: WrappedMold, one: Fastening, lift: float, steps: tuple[Step, ...], dead: float) -> Found:
    total = one.grip.force * one.count
    shared = step("R_f", "n_f * R", total, "N", n_f=one.count, R=one.grip.force)
    verdict = held_down(
        f"{one.joint.group} held down, {one.joint.use}",
        lift,
        HoldDown(dead, total),
        (*steps, *one.grip.steps, shared),
    )
    return told(
        verdict.name, built.mold.name, verdict, f"more than {one.count} {one.item}s, or ballast on top"
    )


def _standing(built: WrappedMold) -> Iterator[Found]:
    """A slender mold must be propped; the props depend on what they are fastened to."""
    if slender(built.lined):
        why = (
            "it is slender and must be propped plumb at its upper ring from three sides; props are not computed, for "
            "they depend on what they are fastened to"
        )
        yield NotChecked("standing plumb", built.mold.name, why)


def _judged(built: WrappedMold, name: str, judged: Judged, head: Iterable[Step], remedy: str) -> Found:
    if isinstance(judged, Unjudged):
        return NotChecked(f"{name}: {judged.name}", built.mold.name, judged.why)
    return _told(built, name, judged, head, remedy)


def _told(built: WrappedMold, name: str, verdict: Verdict, head: Iterable[Step], remedy: str) -> Found:
    return told(f"{name}: {verdict.name}", built.mold.name, verdict, remedy, head)
