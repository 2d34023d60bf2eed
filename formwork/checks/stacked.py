"""What is checked of a stacked mold: its rings as ties, their joints, ears and bolts, what the mix lifts, base, bars.

A ring under the pressure inside it is a tie bent round: every section carries T = p D / 2 for each m of height. Layers
are glued and screwed, but glue is not counted on: at a joint between two segments the tie is broken, and its pull goes
by screws into the layer below.
"""

from __future__ import annotations

from collections.abc import Iterator

from formwork.checks.base import base_checks
from formwork.checks.check import Found, NotChecked, told
from formwork.molds.fastening import Fastening
from formwork.molds.load import PANEL_LIMIT
from formwork.molds.stacked import Built
from formwork.molds.stacks.joints import EARS, LAYERS, WALLS, core_lift, parting_pull, wall_lift
from formwork.molds.stacks.rings import EAR, EAR_DEEP
from formwork.molds.stacks.stack import Core, Course
from formwork.molds.strengths import grade_of_stick, section_of
from formwork.strength.bars import BarLoad, bar_verdicts
from formwork.strength.customary import MM, MPA
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.panels import PanelSection
from formwork.strength.uplift import HoldDown, held_down
from formwork.strength.working import Force, Step, Unjudged, Verdict, given, step

AT_AN_ANGLE = 1.0 / 6.0
"""Share of the strength along the grain that plywood keeps over its whole thickness when pulled at 45 degrees to it.

Plywood Design Specification, from memory: a ring is pulled at every angle to the grain.
"""
ACROSS = 0.5
"""Share of its stiffness along the grain that plywood has in its own plane: every second ply lies across (ours)."""
_STIFFNESS = "statics of a beam on two supports, 5 p l^4 / 384 E I; every second ply not counted (ours)"
_NOTHING = 1.0
_STRENGTH = "statics; strength in bending taken as that in tension, a sixth of it at 45 deg to the grain (from memory)"


def checks(built: Built) -> tuple[Found, ...]:
    """What holds the mix, in the order in which a person would ask."""
    return (
        *_ring_checks(built),
        *_joint_checks(built),
        *_parting_checks(built),
        *_lift_checks(built),
        *_bar_checks(built),
        *base_checks(built.mold.name, built.bearers, built.lined.load),
    )


def _ring_checks(built: Built) -> tuple[Found, ...]:
    """The ring that is worst off, as a tie; with a straight side, as a tie that is bent between its ends too."""
    section = _section(built)
    if isinstance(section, Unjudged):
        return (NotChecked("rings", built.mold.name, section.why),)
    found = [_ring(built, section, course) for course in built.lined.stack.courses]
    worst = [max(found, key=lambda one: one.utilisation)]
    stiff = (section.e or 0.0) * ACROSS
    sides = [course for course in built.lined.stack.courses if course.straight > 0.0]
    bulges = [_bulge(built, stiff, course) for course in sides] if stiff else []
    if bulges:
        worst.append(max(bulges, key=lambda one: one.utilisation))
    remedy = "a stiffer sheet, or a mold of edge forms braced from outside"
    return tuple(told(one.name, built.mold.name, one, remedy) for one in worst)


def _section(built: Built) -> PanelSection | Unjudged:
    sheet = built.lined.stack.stocks.sheet
    return section_of(sheet, "along")


def _allowed(section: PanelSection) -> tuple[float, Step]:
    limit = section.fb * AT_AN_ANGLE
    return limit, step("f", "F_b * k", limit / MPA, "MPa", F_b=section.fb / MPA, k=AT_AN_ANGLE)


def _ring(built: Built, section: PanelSection, course: Course) -> Verdict:
    """Tension over the narrowest section, and bending of a straight side held at its ends."""
    p = built.lined.load.pressure(course.low)
    limit, allowed = _allowed(section)
    pull = p * course.half / course.width
    bend = 0.75 * p * course.straight**2 / course.width**2
    numbers = {"p": p / MPA, "D_r": 2.0 * course.half / MM, "w": course.width / MM, "l": course.straight / MM}
    steps = [
        given("p", p / MPA, "MPa", f"at the foot of the ring, {course.low / MM:.0f} mm above the base"),
        given("w", course.width / MM, "mm", "least width of the ring"),
        step("s_t", "p * D_r / 2 / w", pull / MPA, "MPa", **numbers),
    ]
    if course.straight:
        steps.append(step("s_b", "6 * p * l^2 / 8 / w^2", bend / MPA, "MPa", **numbers))
    steps += [allowed, step("s", "s_t + s_b", (pull + bend) / MPA, "MPa", s_t=pull / MPA, s_b=bend / MPA)]
    return Verdict("rings as ties", (pull + bend) / MPA, limit / MPA, "MPa", _STRENGTH, tuple(steps))


def _bulge(built: Built, stiff: float, course: Course) -> Verdict:
    """How far the middle of a straight side moves out: a beam on edge, as deep as the ring is wide."""
    p, span, width = built.lined.load.pressure(course.low), course.straight, course.width
    value = 5.0 * p * span**4 / (32.0 * stiff * width**3)
    allowed = PANEL_LIMIT.at(span)
    steps = (
        given("E", stiff / MPA, "MPa", f"of the sheet along its grain, times {ACROSS:g}"),
        step("D", "5 * p * l^4 / (32 * E * w^3)", value / MM, "mm", p=p / MPA, l=span / MM, E=stiff / MPA,
             w=width / MM),
        given("D_max", allowed / MM, "mm", "span/270"),
    )  # fmt: skip
    return Verdict("rings bulged by the mix", value / MM, allowed / MM, "mm", _STIFFNESS, steps)


def _joint_checks(built: Built) -> Iterator[Found]:
    """Screws that carry a ring's pull past a joint between two of its segments."""
    stack, load = built.lined.stack, built.lined.load
    fastening = _of(built, LAYERS)
    if stack.segments == 1 or fastening is None:
        return
    course = max(stack.courses[1:], key=lambda one: load.pressure(one.low) * one.half * (one.high - one.low))
    p, height = load.pressure(course.low), course.high - course.low
    pull = p * course.half * height
    each = max(1, fastening.count // max(1, fastening.joint.places) // 2)
    steps = (
        step("T", "p * D_r / 2 * t", pull, "N", p=p / MPA, D_r=2.0 * course.half / MM, t=height / MM),
        given("n", float(each), "", "screws in half a segment, glue not counted"),
    )
    across = fastening.across
    if across is None:
        why = f"the screws, {fastening.size}, are not long enough for any published value; glue carries the joints"
        yield NotChecked("joints of the rings", built.mold.name, why)
        return
    verdict = Verdict(
        "joints of the rings",
        pull,
        each * across.force,
        "N",
        "statics; screws across their axis (NDS yield modes)",
        (*steps, *across.steps, step("R", "n * Z", each * across.force, "N", n=each, Z=across.force)),
    )
    yield told(verdict.name, built.mold.name, verdict, "more screws in each segment, or fewer segments")


def _parting_checks(built: Built) -> Iterator[Found]:
    """Bolts through the ears: all of them together, and the one at the foot; the ears they pull at."""
    stack, load = built.lined.stack, built.lined.load
    bolts = _of(built, EARS)
    if bolts is None:
        return
    pull, row = parting_pull(stack, load), bolts.count // 2
    lowest = stack.courses[0]
    share = stack.courses[-1].high / row
    foot = load.pressure(0.0) * max(course.half for course in stack.courses) * share
    steps = (
        *pull.steps,
        *bolts.grip.steps,
        step("F_0", "p * D_r / 2 * s", foot, "N", p=load.pressure(0.0) / MPA,
             D_r=2.0 * max(course.half for course in stack.courses) / MM, s=share / MM),
        given("F_m", pull.force / row, "N", f"mean of {row} bolts in a row"),
    )  # fmt: skip
    verdict = Verdict(
        "bolts across the parting plane", max(foot, pull.force / row), bolts.grip.force, "N",
        "statics of half the mold: p * D / 2 on either side", steps,
    )  # fmt: skip
    yield told(verdict.name, built.mold.name, verdict, "more bolts, or larger washers")
    section = _section(built)
    if isinstance(section, Unjudged):
        yield NotChecked("ears", built.mold.name, section.why)
        return
    yield _ears(built, section, lowest)


def _ears(built: Built, section: PanelSection, course: Course) -> Found:
    """An ear bends between its bolt and the middle of the ring."""
    stack, load = built.lined.stack, built.lined.load
    wide = max(stack.courses, key=lambda one: load.pressure(one.low) * one.half)
    p, arm = load.pressure(wide.low), EAR / 2.0 + wide.width / 2.0
    stress = 6.0 * p * wide.half * arm / EAR_DEEP**2
    limit, allowed = _allowed(section)
    steps = (
        given("a", arm / MM, "mm", "from the bolt to the middle of the ring"),
        given("d", EAR_DEEP / MM, "mm", "depth of the ear"),
        step("s", "6 * p * D_r / 2 * a / d^2", stress / MPA, "MPa", p=p / MPA, D_r=2.0 * wide.half / MM, a=arm / MM,
             d=EAR_DEEP / MM),
        allowed,
    )  # fmt: skip
    verdict = Verdict("ears bent by their bolts", stress / MPA, limit / MPA, "MPa", _STRENGTH, steps)
    return told(verdict.name, built.mold.name, verdict, "a thicker sheet, or straps round the mold")


def _lift_checks(built: Built) -> Iterator[Found]:
    """Every joint that keeps the wall or a core down, against the lift of the mix."""
    stack, load, shop = built.lined.stack, built.lined.load, built.lined.shop
    lifts = {WALLS: wall_lift(stack, load, shop)}
    lifts |= {core.name: core_lift(stack, core, load, shop) for core in stack.cores}
    for fastening in built.fastenings:
        if fastening.joint.group in lifts:
            lift, dead = lifts[fastening.joint.group]
            if lift.force >= _NOTHING:
                yield _held(built, lift, dead, fastening)


def _held(built: Built, lift: Force, dead: float, fastening: Fastening) -> Found:
    total = fastening.grip.force * fastening.count
    steps = (
        *lift.steps,
        *fastening.grip.steps,
        step("R_f", "n_f * R", total, "N", n_f=fastening.count, R=fastening.grip.force),
    )
    name = f"{fastening.joint.group} held down, {fastening.joint.use}"
    verdict = held_down(name, lift.force, HoldDown(dead, total), steps)
    remedy = f"more than {fastening.count} {fastening.item}s, or ballast on top"
    return told(verdict.name, built.mold.name, verdict, remedy)


def _bar_checks(built: Built) -> Iterator[Found]:
    """Bending, shear and sag of the bars over a hung core."""
    for core in built.lined.stack.cores:
        if core.seat == "hung":
            yield from _bars(built, core)


def _bars(built: Built, core: Core) -> Iterator[Found]:
    stack, load = built.lined.stack, built.lined.load
    bars = [part for part in stack.parts if part.role == "bar" and part.group == core.name]
    lift, _ = core_lift(stack, core, load, built.lined.shop)
    share = lift.force / len(bars)
    stick, top = stack.stocks.stick, stack.courses[-1]
    section = Section(breadth=stick.width, depth=stick.thickness)
    values = adjust(grade_of_stick(stick, stick.width), section, Service())
    span = bars[0].blank.length - top.width
    place = max(0.0, span / 2.0 - core.top)
    steps = (*lift.steps, step("F", "U / n", share, "N", U=lift.force, n=len(bars)))
    for one in bar_verdicts(values, section, BarLoad(share, span, place, place), PANEL_LIMIT):
        yield told(f"core bars: {one.name}", built.mold.name, one, "a thicker stick for the bars", steps)


def _of(built: Built, group: str) -> Fastening | None:
    return next((one for one in built.fastenings if one.joint.group == group), None)
