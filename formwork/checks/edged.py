"""What is checked of edge forms: the strips between their blocks, what holds an edge out and down, how strips bend.

A wet edge that gives way lets the whole filling run out under it: the push of the mix on the length of edge that a
block holds must find its way into the base through that block's screws, sideways and by what tips it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from formwork.checks.base import base_checks
from formwork.checks.check import Found, NotChecked, told
from formwork.errors import RangeError
from formwork.molds.edged import Built, Screwed
from formwork.molds.edges.backing import SCREWS, Bite, line_load, strip_section
from formwork.molds.edges.edging import Edge, hollow_radius
from formwork.molds.edges.kerfing import WEB
from formwork.molds.edges.screws import core_lift
from formwork.molds.load import PANEL_LIMIT, Load
from formwork.molds.strengths import grade_of_stick, gravity_of, section_of
from formwork.molds.weighing import mass, part_volume
from formwork.record import record
from formwork.stock.records import SheetStock
from formwork.strength.beams import Run, beam_verdicts
from formwork.strength.bending import Tension, tension
from formwork.strength.customary import GRAVITY
from formwork.strength.dowels import Joint, lateral
from formwork.strength.fasteners import Holding, gravity, screw, withdrawal
from formwork.strength.lumber import Service, adjust
from formwork.strength.panels import Bay, panel_verdicts
from formwork.strength.uplift import SAFETY, HoldDown, held_down
from formwork.strength.working import Judged, Step, Unjudged, Verdict, given, step

_STATICS = "statics"


def checks(built: Built) -> tuple[Found, ...]:
    """What holds the mix, in the order in which a person would ask."""
    return (
        *strip_checks(built),
        *bending_checks(built),
        *kerf_checks(built),
        *skin_checks(built),
        *edge_checks(built),
        *core_checks(built),
        *base_checks(built.mold.name, built.bearers, built.lined.load),
    )


@record
class Bays:
    """How a strip is held: its blocks' middles are so far apart at most, and one holds so much edge at most, m."""

    edge: Edge
    apart: float
    share: float


def bays(built: Built) -> tuple[Bays, ...]:
    """Every strip with the way its blocks hold it; one without blocks hangs between its neighbours."""
    found = []
    for index, edge in enumerate(built.lined.edges):
        own = [block.part.prisms[0].box() for block in built.blocks if block.edge == index]
        places = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in own]
        steps = [hypot(q[0] - p[0], q[1] - p[1]) for p, q in pairwise(places)]
        length = edge.stretch.length
        if not places:
            found.append(Bays(edge, length, length))
            continue
        ends = (_from_end(edge, places[0], 0), _from_end(edge, places[-1], -1))
        apart = max([*steps, *(2.0 * end for end in ends)])
        halves = [ends[0], *(s / 2.0 for s in steps for _ in (0, 1)), ends[1]]
        shares = [halves[2 * k] + halves[2 * k + 1] for k in range(len(places))]
        found.append(Bays(edge, apart, max(shares)))
    return tuple(found)


def _from_end(edge: Edge, place: tuple[float, float], which: int) -> float:
    leg = edge.stretch.foot[which]
    x, y = leg.start if which == 0 else leg.end
    return hypot(place[0] - x, place[1] - y)


def strip_checks(built: Built) -> tuple[Found, ...]:
    """Straight strips as beams between their blocks, the worst one told."""
    straight = [one for one in bays(built) if not one.edge.stretch.bent]
    if not straight:
        return ()
    worst = max(straight, key=lambda one: one.apart)
    found = _beam(built, worst)
    name, remedy = "straight strips", "blocks closer together (a thicker sheet or stick carries further)"
    missing = next((one for one in found if isinstance(one, Unjudged)), None)
    if missing is not None:
        return (NotChecked(name, built.mold.name, missing.why),)
    verdict = max((one for one in found if isinstance(one, Verdict)), key=lambda one: one.utilisation)
    said = given("l", worst.apart * 1000.0, "mm", f"between blocks of the {worst.edge.name}")
    return (told(f"{name}, {verdict.name}", built.mold.name, verdict, remedy, (said,)),)


def _beam(built: Built, worst: Bays) -> tuple[Judged, ...]:
    """Bending, shear and bulge of a strip: the sheet as a panel at the foot's pressure, a stick under its push."""
    load, edge = built.lined.load, worst.edge
    if isinstance(edge.stock, SheetStock):
        section = section_of(edge.stock, "across" if edge.stock.grain else "along")
        if isinstance(section, Unjudged):
            return (section,)
        return panel_verdicts(section, Bay(load.pressure(0.0), worst.apart), PANEL_LIMIT)
    strip = strip_section(edge, load.fill, built.lined.lean)
    values = adjust(grade_of_stick(edge.stock, strip.width), strip, Service())
    return beam_verdicts(values, strip, Run(line_load(load), worst.apart), PANEL_LIMIT)


def bending_checks(built: Built) -> tuple[Found, ...]:
    """The tightest bent strip against the radius its stock bends to."""
    bent = [edge for edge in built.lined.edges if edge.stretch.bent and not edge.kerfs]
    if not bent:
        return ()
    edge = min(bent, key=lambda one: hollow_radius(one.stretch, one.thickness))
    radius = hollow_radius(edge.stretch, edge.thickness)
    steps = (
        given("R", radius * 1000.0, "mm", f"least radius of the hollow face of the {edge.name}"),
        given("R_min", edge.limit * 1000.0, "mm", f"{edge.stock.name}, {edge.source}"),
        step("q", "R_min / R", edge.limit / radius, "", R_min=edge.limit * 1000.0, R=radius * 1000.0),
        given("q_max", 1.0, "", "no tighter than that"),
    )
    verdict = Verdict("bending of strips", edge.limit / radius, 1.0, "of its bend", edge.source, steps)
    return (
        told("strips bend round", built.mold.name, verdict, "a wider arc, or a sheet that bends tighter"),
    )


def kerf_checks(built: Built) -> tuple[Found, ...]:
    """The web that the deepest kerf leaves: deep enough to close, not so deep that the strip parts."""
    every = [(one, edge) for edge in built.lined.edges for one in edge.kerfs]
    if not every:
        return ()
    one, edge = min(every, key=lambda pair: pair[0].web)
    steps = (
        given("A", abs(one.sweep), "rad", f"angle of the arc of the {edge.name}"),
        given("n", float(one.count), "kerfs"),
        step("a", "A / n", one.turn, "rad", A=abs(one.sweep), n=one.count),
        given("k", one.width * 1000.0, "mm", "kerf of the saw"),
        step(
            "d",
            "k / (2 * sin(a / 2) / cos(a / 2))",
            one.depth * 1000.0,
            "mm",
            k=one.width * 1000.0,
            a=one.turn,
        ),
        given("t", one.thickness * 1000.0, "mm", edge.stock.name),
        step(
            "d_max", "t - w", (one.thickness - WEB) * 1000.0, "mm", t=one.thickness * 1000.0, w=WEB * 1000.0
        ),
    )
    source = "plane geometry; a web of 3 mm is common practice, no source"
    verdict = Verdict("kerfs", one.depth * 1000.0, (one.thickness - WEB) * 1000.0, "mm", source, steps)
    return (
        told(
            "kerfs close and leave a web",
            built.mold.name,
            verdict,
            "a thicker sheet, a broader saw blade, or a sheet that bends",
        ),
    )


def skin_checks(built: Built) -> tuple[Found, ...]:
    """The pull along a bent strip that the mix presses outward, and what of bent strips nobody can say."""
    bent = [edge for edge in built.lined.edges if edge.stretch.bent]
    if not bent:
        return ()
    why = (
        "no source gives the stiffness of a thin or kerfed strip across its bend; its blocks stand 150 mm apart by "
        "common practice and it leans on every one of them"
    )
    found: list[Found] = [NotChecked("bent strips between blocks", built.mold.name, why)]
    out = [edge for edge in bent if any(leg.bulge > 0.0 for leg in edge.stretch.foot)]
    if out:
        found.append(_pulled(built, max(out, key=_widest)))
    return tuple(found)


def _widest(edge: Edge) -> float:
    return max(leg.arc().radius for leg in edge.stretch.foot if leg.bulge > 0.0)


def _pulled(built: Built, edge: Edge) -> Found:
    allowed = tension(edge.stock.material)
    own = edge.stock.tension if isinstance(edge.stock, SheetStock) else None
    if own is not None:
        allowed = Tension(own, "tension of the shop file")
    if isinstance(allowed, Unjudged):
        return NotChecked("bent strips pulled", built.mold.name, allowed.why)
    pressure, radius, thick = built.lined.load.pressure(0.0), _widest(edge), edge.thickness
    stress = pressure * radius / thick
    steps = (
        given("p", pressure / 1e6, "MPa", "pressure at the foot"),
        given("R", radius * 1000.0, "mm", f"greatest radius of the {edge.name}"),
        step("f_t", "p * R / t", stress / 1e6, "MPa", p=pressure / 1e6, R=radius * 1000.0, t=thick * 1000.0),
        given("F_t", allowed.stress / 1e6, "MPa", allowed.source),
    )
    verdict = Verdict("pull along strips", stress / 1e6, allowed.stress / 1e6, "MPa", allowed.source, steps)
    return told("bent strips pulled", built.mold.name, verdict, "a thicker sheet to bend")


def edge_checks(built: Built) -> tuple[Found, ...]:
    """The wet edge: what pushes a block out, tips it and lifts it, against the screws that hold it to the base.

    The mold of the shop has its screws already, of which nothing is known.
    """
    joint = built.screws.get("base")
    if joint is None:
        why = "the shop has this mold, and its file does not say how its blocks are screwed"
        return (NotChecked("wet edge held out", built.mold.name, why),)
    worst = max(bays(built), key=lambda one: one.share)
    return tuple(_edge_found(built, worst, joint))


def _edge_found(built: Built, worst: Bays, joint: Screwed) -> Iterator[Found]:
    push, steps = _push(built, worst)
    wood = gravity_of(built.timber.stick)
    sideways = _sideways(joint.bite, wood)
    if sideways is None:
        why = f"the point of a screw {joint.bite.size} is too short in the block for the formula; list a longer one"
        yield NotChecked("wet edge held out", built.mold.name, why)
    else:
        value, found = sideways
        shared = step("F_1", "F / n", push / SCREWS, "N", F=push, n=SCREWS)
        verdict = Verdict(
            "wet edge", push / SCREWS, value, "N", f"{_STATICS}; NDS yield modes", (*found, shared)
        )
        yield told(
            "wet edge held out", built.mold.name, verdict, "blocks closer together, or longer screws", steps
        )
    yield _tipped(built, worst, joint, wood)
    yield from _strip_held_down(built, worst)


def _push(built: Built, worst: Bays) -> tuple[float, tuple[Step, ...]]:
    """What the mix pushes one block out with, N."""
    load = built.lined.load
    pressure, high, deep = load.pressure(0.0), load.fill, load.depth_of_fall
    force = load.push(0.0, high) * worst.share
    return force, (
        *load.steps(0.0),
        given("h_e", high * 1000.0, "mm", "height of the edge"),
        given("h_f", deep * 1000.0, "mm", "of it, over which the pressure falls to nothing"),
        given("s", worst.share * 1000.0, "mm", f"length of the {worst.edge.name} that one block holds"),
        step("F", "P / 1000 * (h_e - h_f / 2) * s", force, "N",
             P=pressure / 1e3, h_e=high * 1000.0, h_f=deep * 1000.0, s=worst.share * 1000.0),
    )  # fmt: skip


def _sideways(bite: Bite, wood: float) -> tuple[float, tuple[Step, ...]] | None:
    try:
        found = lateral(screw(bite.size), Joint(bite.through, bite.into, wood, wood))
    except RangeError:
        return None
    return found.value, found.steps


def _tipped(built: Built, worst: Bays, joint: Screwed, wood: float) -> Found:
    """The push acts as high as its middle and tips the block about its outer foot; its screws hold it half way in."""
    push, steps = _push(built, worst)
    load, deep = built.lined.load, built.timber.deep
    arm, high, fall = load.arm, load.fill, load.depth_of_fall
    lift, more = _under(built, worst)
    pull = push * arm / (deep / 2.0) + SAFETY * lift
    hold = withdrawal(screw(joint.bite.size), Holding(wood), joint.bite.into)
    tipping = (
        *more,
        given("d", deep * 1000.0, "mm", "depth of the block"),
        step("e", "(h_e^2 / 2 - h_e * h_f / 2 + h_f^2 / 6) / (h_e - h_f / 2)", arm * 1000.0, "mm",
             h_e=high * 1000.0, h_f=fall * 1000.0),
        step("T", "F * e / (d / 2) + k * U", pull, "N",
             F=push, e=arm * 1000.0, d=deep * 1000.0, k=SAFETY, U=lift),
        *hold.steps,
        step("T_1", "T / n", pull / SCREWS, "N", T=pull, n=SCREWS),
    )  # fmt: skip
    verdict = Verdict("blocks", pull / SCREWS, hold.value, "N", f"{_STATICS}; {hold.source}", tipping)
    return told(
        "blocks held down",
        built.mold.name,
        verdict,
        "blocks closer together or deeper, or longer screws",
        steps,
    )


def _under(built: Built, worst: Bays) -> tuple[float, tuple[Step, ...]]:
    """Mix that creeps under the foot of a strip lifts it, N for one block."""
    load, thick = built.lined.load, worst.edge.thickness
    pressure, symbol = load.head(0.0), _head_symbol(load)
    lift = pressure * thick * worst.share
    return lift, (
        given("t", thick * 1000.0, "mm", "thickness of the strip, mix taken to creep under it"),
        step(
            "U", f"{symbol} / 1000 * t * s", lift, "N",
            **{symbol: pressure / 1e3}, t=thick * 1000.0, s=worst.share * 1000.0,
        ),
    )  # fmt: skip


def _head_symbol(load: Load) -> str:
    """How the working calls the liquid head, which concrete that stiffens does not press the sides with."""
    return "P" if load.placing is None else "P_h"


def _strip_held_down(built: Built, worst: Bays) -> Iterator[Found]:
    """The screws through a strip into its blocks keep it down on the base."""
    joint = built.screws.get(f"strip {worst.edge.thickness:.4f}")
    if joint is None:
        return
    load, (lift, steps) = built.lined.load, _under(built, worst)
    held = _sideways(joint.bite, gravity_of(built.timber.stick))
    if held is None:
        why = f"a screw {joint.bite.size} is too short for the formula; list a longer one"
        yield NotChecked("strips held down", built.mold.name, why)
        return
    length = given("s", worst.share * 1000.0, "mm", f"length of the {worst.edge.name} that one block holds")
    value, found = held
    total = step("R_f", "n_f * Z", SCREWS * value, "N", n_f=SCREWS, Z=value)
    verdict = held_down(
        "strips held down",
        lift,
        HoldDown(0.0, SCREWS * value),
        (*load.head_steps(0.0, _head_symbol(load)), length, *steps, *found, total),
    )
    yield told(verdict.name, built.mold.name, verdict, "more blocks, or longer screws through the strips")


def core_checks(built: Built) -> tuple[Found, ...]:
    """The core that floats hardest for its screws."""
    joint = built.screws.get("core")
    cores = [part for part in built.lined.formers if part.role == "board"]
    if joint is None or not cores:
        return ()
    core = max(cores, key=part_volume)
    each = withdrawal(screw(joint.bite.size), Holding(gravity("")), joint.bite.into)
    count = joint.count // joint.places
    lift = core_lift(built.lined, core)
    shared = step("R_f", "n_f * R", count * each.value, "N", n_f=count, R=each.value)
    steps = (*lift.steps, *each.steps, shared)
    weight = GRAVITY * mass([core], built.lined.shop)
    verdict = held_down("core held down", lift.force, HoldDown(weight, count * each.value), steps)
    return (
        told(f"{core.name} held down", built.mold.name, verdict, "more screws into it, or ballast on top"),
    )
