"""What is checked of a tube mold: its wall, what the mix lifts, what a push leans on, and every joint between."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

from formwork.checks.check import Check, Found, NotChecked, told
from formwork.molds.strengths import grade_of_stick
from formwork.molds.tube import Built, cage_verdicts
from formwork.molds.tubes.joints import Held
from formwork.molds.tubes.lifts import PUSH
from formwork.strength.bands import hoop
from formwork.strength.customary import GRAVITY
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.stakes import DEEPEST, Stake, carried, depth_for, held_sideways
from formwork.strength.tube_wall import ORDINARY, allowed_head, wall_tension
from formwork.strength.uplift import SAFETY, HoldDown, ballast, held_down
from formwork.strength.working import Step, Unjudged, Verdict, given, step
from formwork.units import show

_WASHER = 0.05
STAKES = 2
"""Stakes behind each block of a brace, as the instructions have them."""
AIR = 1.25
"""Density of air, kg/m3."""
DRAG = 1.2
"""Of a round tube across the wind (from memory)."""
_ROD_HOLE = 0.009


def checks(built: Built) -> tuple[Found, ...]:
    """What holds the mix, in the order in which a person would ask."""
    return (
        *_measured(built),
        _maker(built),
        _wall(built),
        *_straps(built),
        *_held(built),
        *_cage(built),
        *_joints(built),
        _ground(built),
        *_stakes(built),
        *_not_made(built),
    )


def _head(built: Built) -> tuple[Step, ...]:
    return built.lined.asked.load.steps(0.0)


def _measured(built: Built) -> tuple[Found, ...]:
    """Sizes that are taken on trust: a check of them needs a tape, not a plan."""
    choice, name = built.lined.choice, built.mold.name
    found = []
    if not choice.tube.exact:
        found.append(
            NotChecked(
                "tube as measured",
                name,
                f"nobody measured {choice.tube.tube.name}; its label, {choice.tube.tube.nominal}, is no measure. "
                "Volume, mix and mass are exact only if it is as wide inside as the piece; 1 % in diameter is 2 % in "
                "volume. Measure it",
            )
        )
    if choice.core is not None and not choice.core.exact:
        found.append(
            NotChecked(
                "core tube as measured",
                name,
                f"nobody measured {choice.core.stock} outside; the hollow is as wide as it really is. Measure it",
            )
        )
    return tuple(found)


def _maker(built: Built) -> Found:
    """The pressure at the foot against what the maker of the tube allows."""
    tube, load = built.lined.choice.tube.tube, built.lined.asked.load
    mold = built.mold.name
    if built.lined.choice.off == "slit":
        return NotChecked(
            "pressure in the tube",
            mold,
            "what its maker allows holds for a whole tube, not for one that is slit",
        )
    limits: list[tuple[float, Step]] = []
    if tube.pressure is not None:
        limits.append(
            (tube.pressure, given("p_max", tube.pressure / 1000.0, "kPa", "the maker's, from the shop file"))
        )
    if tube.head is not None:
        allowed = allowed_head(tube.head)
        told_so = step(
            "p_max",
            "rho_c * g * h_c / 1000",
            allowed / 1000.0,
            "kPa",
            rho_c=ORDINARY,
            g=GRAVITY,
            h_c=tube.head,
        )
        limits.append((allowed, told_so))
    if not limits:
        why = f"the shop file does not say what the maker of {tube.name} allows; ask, and write head or pressure"
        return NotChecked("pressure in the tube", mold, why)
    limit, last = min(limits, key=lambda one: one[0])
    verdict = Verdict(
        "pressure in the tube",
        load.pressure(0.0) / 1000.0,
        limit / 1000.0,
        "kPa",
        "pressure of the mix at the foot; limit of the tube's maker",
        (*_head(built), last),
    )
    return told(verdict.name, mold, verdict, "another tube, a lighter mix, or a lift in its mold table")


def _wall(built: Built) -> Found:
    choice, load = built.lined.choice, built.lined.asked.load
    tube, mold = choice.tube.tube, built.mold.name
    if choice.off == "slit":
        return NotChecked(
            "tube wall in tension", mold, "a slit tube carries nothing round about; its straps do"
        )
    if tube.strength is None:
        why = f"nobody says what the wall of {tube.name} carries; a maker who does is entered as strength"
        return NotChecked("tube wall in tension", mold, why)
    verdict = wall_tension(
        load.pressure(0.0), choice.tube.inside / 2.0, tube.wall, tube.strength, _head(built)
    )
    return told(verdict.name, mold, verdict, "a tube with a thicker wall")


def _straps(built: Built) -> tuple[Found, ...]:
    straps, mold = built.straps, built.mold.name
    if straps is None:
        return ()
    load = built.lined.asked.load
    low, high = straps.worst
    judged = hoop(straps.strap, load.pressure(low), straps.radius, high - low)
    if isinstance(judged, Unjudged):
        why = "no strap of the shop has a rating and reaches round; buy them by the working load on the buy list"
        return (NotChecked("straps round the slit tube", mold, why),)
    return (told("straps round the slit tube", mold, judged, "more or stronger straps", load.steps(low)),)


def _held(built: Built) -> tuple[Found, ...]:
    """What keeps tube and core down: the bar by its screws, or the rod under the core's cap."""
    found: list[Found] = []
    by_use = {one.fastening.joint.use: one for one in built.joints}
    bar = by_use.get("hold-down bar to uprights")
    lifts, mold = built.lifts, built.mold.name
    if bar is not None and bar.one is not None:
        held = bar.fastening.count * bar.one.force
        steps = (
            *bar.one.steps,
            step("R_f", "m * R", held, "N", m=bar.fastening.count, R=bar.one.force),
            *lifts.at_bar.steps,
            *_as_lift(built),
        )
        verdict = held_down("tube held down", lifts.at_bar.force, HoldDown(lifts.bar_weight, held), steps)
        found.append(told(verdict.name, mold, verdict, "more or thicker screws in the hold-down bar"))
    if lifts.core is not None and not lifts.by_bar and built.joints:
        found.append(_rod(built, by_use.get("core cap to the disc under it, heads sunk and filled")))
    return tuple(found)


def _as_lift(built: Built) -> tuple[Step, ...]:
    """The lift that counts, where it is not the last line of its own working."""
    lifts = built.lifts
    if lifts.core is not None and lifts.by_bar:
        return ()
    return (step("U", "U_t", lifts.tube.force, "N", U_t=lifts.tube.force),)


def _rod(built: Built, cap: Held | None) -> Check:
    """A core that ends below the brim: the wood under the washer of its rod, and the screws of its cap."""
    lifts, cage = built.lifts, built.cage
    stick = cage.stick
    bearing = adjust(grade_of_stick(stick, stick.width), Section(stick.thickness, stick.width), Service()).fcp
    face = _WASHER**2 - pi / 4.0 * _ROD_HOLE**2
    under = bearing * face
    steps: tuple[Step, ...] = (
        given("A_w", face * 1e6, "mm2", "plate washer"),
        step("R_w", "F_cp * A_w", under, "N", F_cp=bearing / 1e6, A_w=face * 1e6),
    )
    held = under
    if cap is not None and cap.one is not None:
        screws = cap.fastening.count * cap.one.force
        held = min(under, screws)
        steps = (
            *steps,
            *cap.one.steps,
            step("R_s", "m * R", screws, "N", m=cap.fastening.count, R=cap.one.force),
            step("R_f", "min(R_w, R_s)", held, "N", R_w=under, R_s=screws),
        )
    core = lifts.core
    force, worked = (core.force, core.steps) if core else (0.0, ())
    verdict = held_down("core held down", force, HoldDown(lifts.core_weight, held), (*steps, *worked))
    return told(verdict.name, built.mold.name, verdict, "more screws in the core's cap, or a larger washer")


def _cage(built: Built) -> tuple[Check, ...]:
    """The bar over the brim and the braces; of the bar what governs."""
    verdicts = cage_verdicts(built.lined, built.cage)
    bar = max(verdicts[:3], key=lambda one: one.utilisation)
    braces = verdicts[3:]
    lift = built.lifts
    before = (
        *lift.at_bar.steps,
        step("F", "max(n * U - G, 0)", lift.bar, "N", n=SAFETY, U=lift.at_bar.force, G=lift.bar_weight),
    )
    mold = built.mold.name
    return (
        told(f"hold-down bar: {bar.name}", mold, bar, _stouter(built), before),
        *(told(one.name, mold, one, _stouter(built)) for one in braces),
    )


def _stouter(built: Built) -> str:
    """What to do where a stick of the cage, or the room on it, is too little."""
    if built.order.mold.stick is not None:
        return "leave mold.stick out, so that one which holds is chosen, or name a stouter one"
    return "a stouter [[stick]] in the shop file; have the bracing of a tube so high designed"


def _joints(built: Built) -> tuple[Found, ...]:
    """Every joint that is pulled, at the place that is worst off."""
    return tuple(_joint(built, one) for one in built.joints if one.pull > 1.0)


def _joint(built: Built, held: Held) -> Found:
    mold, joint = built.mold.name, held.fastening.joint
    one = held.one
    if one is None or held.fastening.item == "pin":
        why = f"no value is known for {held.fastening.item} {held.fastening.size} here; use longer screws"
        return NotChecked(joint.use, mold, why)
    limit = held.each * one.force
    steps = (
        *one.steps,
        step("R_n", "m * R", limit, "N", m=held.each, R=one.force),
        given("F", held.pull, "N", "at the place that is worst off"),
    )
    way = "NDS lateral values" if held.across else "NDS withdrawal values"
    verdict = Verdict(joint.use, held.pull, limit, "N", f"{way}; push and safety of our own choice", steps)
    return told(joint.use, mold, verdict, f"thicker or longer screws; {_stouter(built)}")


def _stakes(built: Built) -> tuple[Found, ...]:
    """The two stakes behind each block of a brace, as deep as they must go in the ground that the shop names."""
    thrust, shop, mold = built.lifts.thrust, built.lined.asked.shop, built.mold.name
    if thrust is None:
        return ()
    if shop.ground is None:
        why = (
            'what a stake holds depends on the ground: write ground = "sand", "clay" or "gravel" in the shop file; '
            "on a floor each block must be screwed for what the instructions say"
        )
        return (NotChecked("stakes behind the braces", mold, why),)
    stick, push = built.cage.stick, thrust.level / STAKES
    plain = Stake(stick.thickness, stick.width, DEEPEST, 0.0)
    depth = depth_for(push, plain, shop.ground) or DEEPEST
    verdict = held_sideways(push, replace(plain, depth=depth), shop.ground)
    name = f"{STAKES} stakes behind each brace, driven {show.length(depth, built.lined.asked.units)}"
    share = step("F_s", "F / m", push, "N", F=thrust.level, m=STAKES)
    return (
        told(
            name,
            mold,
            verdict,
            "more stakes, a broader stick, or a floor to screw to",
            (*thrust.steps, share),
        ),
    )


def _ground(built: Built) -> Found:
    """The filled mold on its plate, where the shop names the ground under it."""
    asked, mold = built.lined.asked, built.mold
    if asked.shop.ground is None:
        why = "the plate is taken to lie on firm ground or floor all over; the shop file may name the ground"
        return NotChecked("ground under the plate", mold.name, why)
    [plate] = [part for part in mold.parts if part.role == "base"]
    mass = mold.mass + mold.nominal * asked.load.density
    area = plate.blank.length * plate.blank.width
    weight = (
        given("m_f", mass, "kg", "mold and mix"),
        step("G_f", "m_f * g", mass * GRAVITY, "N", m_f=mass, g=GRAVITY),
    )
    verdict = carried(mass * GRAVITY, area, asked.shop.ground)
    return told(
        verdict.name, mold.name, verdict, "boards crosswise under the plate, or a bed of gravel", weight
    )


def _ballast(lift: float, built: Built) -> str:
    return show.mass(ballast(SAFETY * lift), built.lined.asked.units)


def _wind(built: Built) -> str:
    """The wind that pushes a tube over as hard as what it is braced for."""
    high, across = built.lined.choice.work.height, 2.0 * built.lined.choice.tube.outer
    speed = sqrt(2.0 * PUSH / (AIR * DRAG / 2.0 * across * high))
    return (
        f"no wind is asked for; the push at its head that it is braced for is as much as a wind of {3.6 * speed:.0f} "
        f"km/h ({speed / 0.44704:.0f} mph) blows over an empty tube with; do not leave one standing in a gale"
    )


def _not_made(built: Built) -> tuple[NotChecked, ...]:
    mold = built.mold.name
    found = []
    if built.lined.choice.off == "drawn":
        why = "a straight tube has no draft; whether it slides off depends on how smooth and how well oiled it is"
        found.append(NotChecked("tube drawn off", mold, why))
    if built.lifts.thrust is not None:
        why = (
            f"nothing published says what holds a block down; lay {_ballast(built.lifts.thrust.upright, built)} on "
            "each, or screw it to a floor"
        )
        found.append(NotChecked("blocks lifted", mold, why))
        found.append(NotChecked("wind", mold, _wind(built)))
    else:
        why = "no braces: it is low; screw its plate to the floor where it could be pushed over"
        found.append(NotChecked("pushed over", mold, why))
    return tuple(found)
